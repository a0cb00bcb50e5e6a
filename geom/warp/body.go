package warp

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

// body is a shape with its field, as coordinates that rules read: those of its nodes and
// handles' ends, and of whatever else rules are about.
//
// The coordinates are x = base + L y. The unknowns y are such that half their square is the
// energy: with the energy UᵀU and the movement M c of the coordinates, the columns of L
// come from the QR factorisation of U⁻ᵀMᵀ, since no movement of least energy has a part
// that no coordinate sees.
type body struct {
	shape  *Shape
	f      *field
	points []carried
	known  map[pointKey]int
	linear []linearRule
	stiff  stiffness

	base []float64
	way  blas64.General // L
	back *mat.Dense     // from y to the field's unknowns
	rest []float64      // y where the unknowns are zero
	free *mat.Dense     // from the unknowns to y; nil: the same
}

// carried is a point that the field carries along: the end of the vector by from at, as
// the derivative of the field at that place turns it.
type carried struct{ at, by geom.Point }

type pointKey struct {
	kind    int
	path, i int
}

// Kinds of points.
const (
	nodePoint = iota
	firstHandle
	secondHandle
	freePoint
)

// mix is a sum of points times factors.
type mix []share

type share struct {
	point int
	by    float64
}

// At returns the sum at the coordinates x of its shape.
func (v mix) At(x []float64) geom.Point {
	var p geom.Point
	for _, s := range v {
		p.X += s.by * x[2*s.point]
		p.Y += s.by * x[2*s.point+1]
	}
	return p
}

// minus returns v - w.
func (v mix) minus(w mix) mix {
	out := append(mix(nil), v...)
	for _, s := range w {
		out = append(out, share{s.point, -s.by})
	}
	return out
}

// linearRule is a sum of points whose part along a direction changes by that much.
type linearRule struct {
	v   mix
	dir geom.Point
	by  float64
}

func (b *body) point(key pointKey, c carried) int {
	if i, ok := b.known[key]; ok {
		return i
	}
	b.points = append(b.points, c)
	b.known[key] = len(b.points) - 1
	return len(b.points) - 1
}

// control returns the four control points of a stretch, of which a line has the first and
// the last.
func (b *body) control(path, i int) [4]int {
	seg := b.shape.stretch(path, i)
	next := i + 1
	if path == 0 {
		next = b.shape.next(i)
	} else if p := b.shape.Inner[path-1]; next == len(p) && p.Closed() {
		next = 0
	}
	c := [4]int{
		b.point(pointKey{nodePoint, path, i}, carried{at: seg.P0}), -1, -1,
		b.point(pointKey{nodePoint, path, next}, carried{at: seg.P3}),
	}
	if !seg.Straight {
		c[1] = b.point(pointKey{firstHandle, path, i}, carried{seg.P0, seg.P1.Sub(seg.P0)})
		c[2] = b.point(pointKey{secondHandle, path, i}, carried{seg.P3, seg.P2.Sub(seg.P3)})
	}
	return c
}

// node returns node i of the outline.
func (b *body) node(i int) mix { return mix{{b.control(0, i)[0], 1}} }

// head and tail return the vectors in which stretch i leaves its first node and comes to
// its last.
func (b *body) head(i int) mix {
	c := b.control(0, i)
	if c[1] < 0 {
		return mix{{c[3], 1}, {c[0], -1}}
	}
	return mix{{c[1], 1}, {c[0], -1}}
}

func (b *body) tail(i int) mix {
	c := b.control(0, i)
	if c[2] < 0 {
		return mix{{c[3], 1}, {c[0], -1}}
	}
	return mix{{c[3], 1}, {c[2], -1}}
}

// spot returns a spot as a sum of points.
func (b *body) spot(s Spot) mix {
	if s.On == nil {
		return mix{{b.point(pointKey{freePoint, 0, len(b.points)}, carried{at: s.At}), 1}}
	}
	c := b.control(s.On.Path, s.On.Stretch)
	w := curved(s.On.T)
	if c[1] < 0 {
		w = lined(s.On.T)
	}
	var out mix
	for i, k := range c {
		if k >= 0 {
			out = append(out, share{k, w[i]})
		}
	}
	return out
}

// settle works out base, way and back from the points and the linear rules.
func (b *body) settle() error {
	outline := b.shape.Outline()
	k := energyOf(b.f, b.inside(outline), b.stiff)
	h := b.movement() // Mᵀ: n by m
	if b.stiff.curves {
		b.keepCurves(k, h)
	}
	var chol mat.Cholesky
	if !chol.Factorize(k) {
		return errEnergy
	}
	u := chol.RawU().(*mat.TriDense).RawTriangular()
	n, m := b.f.n, 2*len(b.points)
	blas64.Trsm(blas.Left, blas.Trans, 1, u, h)
	var q mat.Dense
	if m < n {
		var qr mat.QR
		qr.Factorize(mat.NewDense(n, m, h.Data))
		var r, whole mat.Dense
		qr.RTo(&r)
		qr.QTo(&whole)
		q.CloneFrom(whole.Slice(0, n, 0, m))
		b.way = transposed(r.Slice(0, m, 0, m))
	} else {
		b.way = transposed(mat.NewDense(n, m, h.Data))
		q.CloneFrom(mat.NewDiagDense(n, ones(n)))
	}
	blas64.Trsm(blas.Left, blas.NoTrans, 1, u, q.RawMatrix())
	b.back = &q
	b.base = make([]float64, m)
	for i, c := range b.points {
		p := b.f.scaled(c.at).Add(c.by.Mul(b.f.scale))
		b.base[2*i], b.base[2*i+1] = p.X, p.Y
	}
	b.hold()
	return nil
}

func ones(n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = 1
	}
	return v
}

func transposed(a mat.Matrix) blas64.General {
	return mat.DenseCopyOf(a.T()).RawMatrix()
}

// movement returns the matrix that says how the unknowns of the field move the points, a
// row for each unknown.
func (b *body) movement() blas64.General {
	m := 2 * len(b.points)
	h := blas64.General{Rows: b.f.n, Cols: m, Stride: m, Data: make([]float64, b.f.n*m)}
	var terms []term
	for i, c := range b.points {
		terms = b.f.at(terms[:0], c.at)
		for _, t := range terms {
			w := t.b + t.gx*c.by.X + t.gy*c.by.Y
			s := &b.f.slots[t.k]
			for j := range s.dim {
				row := h.Data[(s.first+j)*m:]
				row[2*i] += w * s.column[j].X
				row[2*i+1] += w * s.column[j].Y
			}
		}
	}
	return h
}

// inside returns whether a place is cloth: within the outline, and not in a dart.
func (b *body) inside(outline geom.Path) func(geom.Point) bool {
	return func(p geom.Point) bool {
		if !outline.Contains(p) {
			return false
		}
		for i := range b.f.darts {
			if b.f.darts[i].holds(p) {
				return false
			}
		}
		return true
	}
}

// sameRule is the share of a linear rule that is left of it, beside others, below which it
// says nothing new.
const sameRule = 1e-7

// hold takes the linear rules in: what they rule out is no longer among the unknowns.
func (b *body) hold() {
	n := b.way.Cols
	b.rest = make([]float64, n)
	var kept [][]float64
	for _, r := range b.linear {
		row := make([]float64, n)
		for _, s := range r.v {
			for j := range row {
				row[j] += s.by * (r.dir.X*b.way.Data[2*s.point*n+j] + r.dir.Y*b.way.Data[(2*s.point+1)*n+j])
			}
		}
		by, whole := r.by, norm(row)
		for range 2 { // twice is enough (Giraud and others 2005)
			for _, q := range kept {
				d := dot(row, q)
				by -= d * dot(b.rest, q)
				for j := range row {
					row[j] -= d * q[j]
				}
			}
		}
		left := norm(row)
		if !(left > sameRule*whole) {
			continue
		}
		for j := range row {
			row[j] /= left
			b.rest[j] += by / left * row[j]
		}
		kept = append(kept, row)
	}
	if len(kept) == 0 {
		return
	}
	b.base = b.moved(b.rest)
	a := mat.NewDense(n, len(kept), nil)
	for c, q := range kept {
		a.SetCol(c, q)
	}
	var qr mat.QR
	qr.Factorize(a)
	var whole, way mat.Dense
	qr.QTo(&whole)
	if len(kept) == n {
		b.free, b.way = &mat.Dense{}, blas64.General{Rows: b.way.Rows}
		return
	}
	b.free = mat.DenseCopyOf(whole.Slice(0, n, len(kept), n))
	way.Mul(mat.NewDense(b.way.Rows, n, b.way.Data), b.free)
	b.way = way.RawMatrix()
}

// moved returns the coordinates at y.
func (b *body) moved(y []float64) []float64 {
	x := append([]float64(nil), b.base...)
	n := b.way.Cols
	for i := range x {
		x[i] += dot(b.way.Data[i*n:(i+1)*n], y)
	}
	return x
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

func norm(a []float64) float64 { return math.Sqrt(dot(a, a)) }

// block returns what the solver takes.
func (b *body) block() sqp.Block {
	n := b.way.Cols
	one := sqp.NewSquare(n)
	for i := range n {
		one.A[i*n+i] = 1
	}
	return sqp.Block{Metric: one, Way: b.way, Base: b.base}
}

// take gives the field the movement at the unknowns z.
func (b *body) take(z []float64) {
	y := append([]float64(nil), b.rest...)
	switch {
	case b.free == nil:
		for i, v := range z {
			y[i] += v
		}
	case len(z) > 0:
		var more mat.VecDense
		more.MulVec(b.free, mat.NewVecDense(len(z), z))
		for i := range y {
			y[i] += more.AtVec(i)
		}
	}
	var w mat.VecDense
	w.MulVec(b.back, mat.NewVecDense(len(y), y))
	b.f.c = make([]geom.Point, len(b.f.slots))
	for k, s := range b.f.slots {
		for j := range s.dim {
			b.f.c[k] = b.f.c[k].Add(s.column[j].Mul(w.AtVec(s.first + j)))
		}
	}
}
