package warp

import (
	"math"

	"hemlet/geom"
)

const (
	// cells is the number of cells of the lattice along the longer side of a shape's box,
	// and leastCells that along the shorter one at least.
	cells, leastCells = 8, 7
	// margin is the share of the box by which the lattice is larger on each side.
	margin = 0.02
)

// field is the movement of one shape: over a lattice of bicubic B-splines, with a function
// for each dart that lets its two sides part.
type field struct {
	origin geom.Point    // of the frame, a corner of the lattice
	axis   [2]geom.Point // unit directions of the frame
	cell   [2]float64    // mm
	count  [2]int        // cells
	size   float64       // the root of the box's area: the length that bending is told in
	darts  []opening
	slots  []slot // for each function the unknowns of its vector
	n      int    // unknowns

	// What was found: a place p goes to anchor + scale (p - anchor) + shift + Σ B(p) c.
	scale         float64
	anchor, shift geom.Point
	c             []geom.Point
	grain         geom.Point
}

// slot says how the vector of a function comes from the unknowns: the columns of a matrix,
// one for each of its dim unknowns from first on.
type slot struct {
	first, dim int
	column     [2]geom.Point
}

// shape function: value, gradient and second derivatives at a place.
type term struct {
	k          int
	b          float64
	gx, gy     float64
	xx, xy, yy float64
}

// newField lays the lattice over a shape, along an axis.
func newField(outline geom.Path, along geom.Point, symmetric *[2]geom.Point) *field {
	u := along.Unit()
	f := &field{axis: [2]geom.Point{u, u.Left()}, scale: 1}
	lo := [2]float64{math.Inf(1), math.Inf(1)}
	hi := [2]float64{math.Inf(-1), math.Inf(-1)}
	turned := outline.Transform(geom.Affine{A: u.X, B: -u.Y, C: u.Y, D: u.X})
	box := turned.Bounds()
	lo[0], hi[0], lo[1], hi[1] = box.Min.X, box.Max.X, box.Min.Y, box.Max.Y
	if symmetric != nil {
		mid := symmetric[0].Dot(f.axis[1])
		half := math.Max(hi[1]-mid, mid-lo[1])
		lo[1], hi[1] = mid-half, mid+half
	}
	long := math.Max(hi[0]-lo[0], hi[1]-lo[1])
	for i := range lo {
		// A box without height still gets cells of some height.
		side := math.Max(hi[i]-lo[i], leastSide*long)
		mid := (hi[i] + lo[i]) / 2
		side *= 1 + 2*margin
		lo[i] = mid - side/2
		f.count[i] = leastCells
		if side >= long {
			f.count[i] = cells
		}
		f.cell[i] = side / float64(f.count[i])
	}
	f.origin = f.axis[0].Mul(lo[0]).Add(f.axis[1].Mul(lo[1]))
	f.size = math.Sqrt(f.cell[0] * float64(f.count[0]) * f.cell[1] * float64(f.count[1]))
	return f
}

// leastSide is the share of a box's longer side that the shorter one counts as at least.
const leastSide = 0.1

// functions returns the number of functions: of the lattice, then of the darts.
func (f *field) functions() int { return f.lattice() + len(f.darts) }

func (f *field) lattice() int { return (f.count[0] + 3) * (f.count[1] + 3) }

// spline returns the four cubic B-splines over a cell at t in it, with derivatives by t
// (de Boor 1978, chapter IX).
func spline(t float64) (b, d, dd [4]float64) {
	u := 1 - t
	b = [4]float64{u * u * u / 6, (3*t*t*t - 6*t*t + 4) / 6, (3*u*u*u - 6*u*u + 4) / 6, t * t * t / 6}
	d = [4]float64{-u * u / 2, (3*t*t - 4*t) / 2, -(3*u*u - 4*u) / 2, t * t / 2}
	dd = [4]float64{u, 3*t - 2, 3*u - 2, t}
	return b, d, dd
}

// at returns the functions that are not zero at p, appended to dst.
func (f *field) at(dst []term, p geom.Point) []term {
	d := p.Sub(f.origin)
	var first [2]int
	var b, db, ddb [2][4]float64
	for i := range first {
		t := d.Dot(f.axis[i]) / f.cell[i]
		first[i] = int(math.Max(0, math.Min(math.Floor(t), float64(f.count[i]-1))))
		b[i], db[i], ddb[i] = spline(t - float64(first[i]))
	}
	u, v := f.axis[0], f.axis[1]
	for i := range 4 {
		for j := range 4 {
			g, h := db[0][i]*b[1][j]/f.cell[0], b[0][i]*db[1][j]/f.cell[1]
			gg := ddb[0][i] * b[1][j] / (f.cell[0] * f.cell[0])
			gh := db[0][i] * db[1][j] / (f.cell[0] * f.cell[1])
			hh := b[0][i] * ddb[1][j] / (f.cell[1] * f.cell[1])
			dst = append(dst, term{
				k: (first[0]+i)*(f.count[1]+3) + first[1] + j, b: b[0][i] * b[1][j],
				gx: g*u.X + h*v.X, gy: g*u.Y + h*v.Y,
				xx: gg*u.X*u.X + 2*gh*u.X*v.X + hh*v.X*v.X,
				xy: gg*u.X*u.Y + gh*(u.X*v.Y+u.Y*v.X) + hh*v.X*v.Y,
				yy: gg*u.Y*u.Y + 2*gh*u.Y*v.Y + hh*v.Y*v.Y,
			})
		}
	}
	for i := range f.darts {
		w := f.darts[i].at(p)
		w.k = f.lattice() + i
		dst = append(dst, w)
	}
	return dst
}

// tie gives each function its unknowns; those that are each other's images in the axis get
// the same ones.
func (f *field) tie(mirror *[2]geom.Point) {
	n := f.functions()
	f.slots = make([]slot, n)
	whole := [2]geom.Point{geom.Pt(1, 0), geom.Pt(0, 1)}
	if mirror == nil {
		for k := range f.slots {
			f.slots[k] = slot{2 * k, 2, whole}
		}
		f.n = 2 * n
		return
	}
	u := mirror[1].Sub(mirror[0]).Unit()
	image := func(p geom.Point) geom.Point { return u.Mul(2 * p.Dot(u)).Sub(p) }
	for k := range f.slots {
		twin, sign := f.twin(k, *mirror, image)
		switch {
		case twin == k:
			way := u
			if sign < 0 {
				way = u.Left()
			}
			f.slots[k] = slot{f.n, 1, [2]geom.Point{way}}
			f.n++
		case twin < 0 || twin > k:
			f.slots[k] = slot{f.n, 2, whole}
			f.n += 2
		default:
			c := f.slots[twin].column
			f.slots[k] = slot{f.slots[twin].first, 2, [2]geom.Point{image(c[0]).Mul(sign), image(c[1]).Mul(sign)}}
		}
	}
}

// twin returns the function that is the image of function k, and -1 for the sign where it
// has the other sign; below 0 if there is none.
func (f *field) twin(k int, axis [2]geom.Point, image func(geom.Point) geom.Point) (int, float64) {
	if k < f.lattice() {
		row := f.count[1] + 3
		return k/row*row + row - 1 - k%row, 1
	}
	d := &f.darts[k-f.lattice()]
	at := axis[0].Add(image(d.apex.Sub(axis[0])))
	for i := range f.darts {
		e := &f.darts[i]
		if e.apex.Dist(at) < sameApex*d.length && e.back.Dist(image(d.back)) < sameApex {
			return f.lattice() + i, -1
		}
	}
	return -1, 1
}

// sameApex is the share of a dart's length within which two darts are images.
const sameApex = 0.02

// opening is the function of a dart: about +1/2 on one side of its mouth, -1/2 on the
// other, and smooth everywhere but across the mouth.
//
// In the polar coordinates about the apex, with the angle θ from the direction that points
// away from the mouth, it is f(r) sin(θ/2), the first term with which the two sides of a
// crack part (Westergaard 1939; as an added function of a Galerkin method: Moës, Dolbow
// and Belytschko 1999), with f = ρ²/(1+ρ²), ρ = r over the dart's length, in place of √r:
// a dart has no stress at its point.
type opening struct {
	apex, back geom.Point // back is a unit vector
	length     float64    // mm, from the apex to the mouth
	a, b       geom.Point // the ends of the mouth
}

// newOpening returns the function of a dart with that mouth, and false where the apex lies
// on it.
func newOpening(apex, a, b geom.Point) (opening, bool) {
	in := apex.Sub(a.Lerp(b, 0.5))
	return opening{apex, in.Unit(), in.Len(), a, b}, in.Len() > leastLength
}

// holds reports whether a place lies in the dart.
func (o *opening) holds(p geom.Point) bool {
	s := o.b.Sub(o.a).Cross(o.apex.Sub(o.a))
	for _, side := range [3][2]geom.Point{{o.a, o.b}, {o.b, o.apex}, {o.apex, o.a}} {
		if side[1].Sub(side[0]).Cross(p.Sub(side[0]))*s < 0 {
			return false
		}
	}
	return true
}

func (o *opening) at(p geom.Point) term {
	d := p.Sub(o.apex)
	x, y := d.Dot(o.back), d.Cross(o.back)
	r := math.Hypot(x, y)
	if r < tiny*o.length {
		return term{}
	}
	theta := math.Atan2(y, x)
	s, c := math.Sincos(theta / 2)
	rho := r / o.length
	q := 1 / (1 + rho*rho)
	f := rho * rho * q
	df := 2 * rho * q * q / o.length
	ddf := (2 - 6*rho*rho) * q * q * q / (o.length * o.length)
	// In polar coordinates, then turned; y grows to the right of back.
	gr, gt := df*s, f*c/(2*r)
	rr, rt, tt := ddf*s, (df/r-f/(r*r))*c/2, df*s/r-f*s/(4*r*r)
	er := d.Mul(1 / r)
	et := er.Left().Mul(-1)
	return term{
		b: f * s, gx: gr*er.X + gt*et.X, gy: gr*er.Y + gt*et.Y,
		xx: rr*er.X*er.X + 2*rt*er.X*et.X + tt*et.X*et.X,
		xy: rr*er.X*er.Y + rt*(er.X*et.Y+er.Y*et.X) + tt*et.X*et.Y,
		yy: rr*er.Y*er.Y + 2*rt*er.Y*et.Y + tt*et.Y*et.Y,
	}
}

// tiny is a share of a length below which nothing is divided by it.
const tiny = 1e-9
