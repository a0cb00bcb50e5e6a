package adjust

import (
	"context"
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

// oracle solves a problem by another way than Solve: with unknowns in which the form cannot
// but be kept (joints as an angle and the logarithms of two lengths, rows as shares of the
// line between their ends), everything in one dense matrix, derivatives as differences,
// lengths by Simpson's rule, the metric from sampled movement, and Levenberg and
// Marquardt's method (Nocedal and Wright 2006, section 10.3) on a stack of residuals
// with ever harder wishes. What must not fall below a bound pays for falling below it.
type oracle struct {
	p     Problem
	start []float64
	owner []int                             // the shape of each unknown
	set   []func(q []float64, into []Shape) // what the unknowns do, in order
	gram  [][]*mat.TriDense                 // for each stretch, the root of its metric
}

func newOracle(p Problem) *oracle {
	o := &oracle{p: p}
	for k, s := range p.Shapes {
		inRow := map[int]bool{}
		for _, r := range p.Rows {
			if r.Shape == k {
				for _, i := range r.Nodes[1 : len(r.Nodes)-1] {
					inRow[i] = true
				}
			}
		}
		for i, n := range s.Nodes {
			if !n.Fixed && !n.Pinned && !inRow[i] {
				o.place(k, i)
			}
			if !n.Fixed {
				o.handles(k, i)
			}
		}
		o.gram = append(o.gram, sampledMetric(s, inRow))
	}
	for _, r := range p.Rows {
		o.row(r)
	}
	return o
}

// unknown adds unknowns of a shape and returns the index of the first.
func (o *oracle) unknown(shape int, start ...float64) int {
	o.start = append(o.start, start...)
	for range start {
		o.owner = append(o.owner, shape)
	}
	return len(o.start) - len(start)
}

func (o *oracle) place(k, i int) {
	at := o.p.Shapes[k].Nodes[i].At
	for _, r := range o.p.Rails {
		if r.Shape == k && r.Node == i {
			v := o.unknown(k, 0)
			u := r.Along.Unit()
			o.set = append(o.set, func(q []float64, into []Shape) { into[k].Nodes[i].At = at.Add(u.Mul(q[v])) })
			return
		}
	}
	v := o.unknown(k, at.X, at.Y)
	o.set = append(o.set, func(q []float64, into []Shape) { into[k].Nodes[i].At = geom.Pt(q[v], q[v+1]) })
}

func (o *oracle) handles(k, i int) {
	n := o.p.Shapes[k].Nodes[i]
	polar := func(a, l float64) geom.Point { return geom.Pt(math.Cos(a), math.Sin(a)).Mul(math.Exp(l)) }
	railed := false
	for _, r := range o.p.Rails {
		railed = railed || r.Shape == k && r.Node == i
	}
	in, out := n.In != (geom.Point{}), n.Out != (geom.Point{})
	angleIn, angleOut := n.In.Angle(), n.Out.Angle()
	turnIn, turnOut := -1, -1
	if !railed {
		switch {
		case n.Smooth && in && out:
			turnIn = o.unknown(k, 0)
			turnOut = turnIn
		default:
			turnIn, turnOut = o.unknown(k, 0), o.unknown(k, 0)
		}
	}
	turned := func(q []float64, v int) float64 {
		if v < 0 {
			return 0
		}
		return q[v]
	}
	if in {
		v := o.unknown(k, math.Log(n.In.Len()))
		o.set = append(o.set, func(q []float64, into []Shape) { into[k].Nodes[i].In = polar(angleIn+turned(q, turnIn), q[v]) })
	}
	if out {
		v := o.unknown(k, math.Log(n.Out.Len()))
		o.set = append(o.set, func(q []float64, into []Shape) { into[k].Nodes[i].Out = polar(angleOut+turned(q, turnOut), q[v]) })
	}
}

func (o *oracle) row(r Row) {
	nodes := o.p.Shapes[r.Shape].Nodes
	first, last := r.Nodes[0], r.Nodes[len(r.Nodes)-1]
	a, b := nodes[first].At, nodes[last].At
	for _, i := range r.Nodes[1 : len(r.Nodes)-1] {
		if nodes[i].Fixed || nodes[i].Pinned {
			continue
		}
		v := o.unknown(r.Shape, nodes[i].At.Sub(a).Dot(b.Sub(a))/b.Sub(a).Dot(b.Sub(a)))
		o.set = append(o.set, func(q []float64, into []Shape) {
			n := into[r.Shape].Nodes
			n[i].At = n[first].At.Lerp(n[last].At, q[v])
		})
	}
}

// shapes returns the shapes at the unknowns q.
func (o *oracle) shapes(q []float64) []Shape {
	out := make([]Shape, len(o.p.Shapes))
	for i, s := range o.p.Shapes {
		out[i] = Shape{append([]Node(nil), s.Nodes...)}
	}
	for _, set := range o.set {
		set(q, out)
	}
	return out
}

// sampledMetric returns for each stretch a matrix whose product with the movement of the
// four control points, x and y apart, has the square that the package's comment defines,
// from the movement at many places.
func sampledMetric(s Shape, inRow map[int]bool) []*mat.TriDense {
	const places = 600
	n := len(s.Nodes)
	length := make([]float64, n)
	total := 0.0
	for i := range length {
		length[i] = simpson(s.path(i))
		total += length[i]
	}
	var out []*mat.TriDense
	for i := range length {
		// The edge: back and forth to the next nodes at which it does not run on.
		edge := length[i]
		for k := i; s.Nodes[k].Smooth || inRow[k]; {
			k = s.prev(k)
			edge += length[k]
		}
		for k := s.next(i); s.Nodes[k].Smooth || inRow[k]; k = s.next(k) {
			edge += length[k]
		}
		edge = math.Max(edge, total/8)
		g := mat.NewSymDense(4, nil)
		seg := s.path(i)
		for k := range places {
			t := (float64(k) + 0.5) / places
			v := seg.Deriv(t).Len()
			// Speed's own derivative as a difference.
			const h = 1e-5
			slope := (seg.Deriv(t+h).Len() - seg.Deriv(t-h).Len()) / (2 * h)
			f := [4]float64{(1 - t) * (1 - t) * (1 - t), 3 * t * (1 - t) * (1 - t), 3 * t * t * (1 - t), t * t * t}
			f1 := [4]float64{-3 + 6*t - 3*t*t, 3 - 12*t + 9*t*t, 6*t - 9*t*t, 3 * t * t}
			f2 := [4]float64{6 - 6*t, -12 + 18*t, 6 - 18*t, 6 * t}
			if seg.Straight {
				// A line moves as a line: its thirds are no unknowns.
				f, f1, f2 = [4]float64{1 - t, 0, 0, t}, [4]float64{-1, 0, 0, 1}, [4]float64{}
			}
			for a := range 4 {
				for b := a; b < 4; b++ {
					move := f[a] * f[b]
					turn := f1[a] * f1[b] / (v * v)
					bend := (f2[a] - f1[a]*slope/v) * (f2[b] - f1[b]*slope/v) / (v * v * v * v)
					l := edge / math.Pi
					g.SetSym(a, b, g.At(a, b)+(move+l*l*turn+l*l*l*l*bend)*v/places)
				}
			}
		}
		if seg.Straight {
			g.SetSym(1, 1, 1)
			g.SetSym(2, 2, 1)
		}
		var c mat.Cholesky
		if !c.Factorize(g) {
			panic("the sampled metric is not positive")
		}
		u := mat.NewTriDense(4, mat.Upper, nil)
		c.UTo(u)
		if seg.Straight {
			u.SetTri(1, 1, 0)
			u.SetTri(2, 2, 0)
		}
		out = append(out, u)
	}
	return out
}

// simpson returns the length of a stretch by Simpson's rule over 24 panels.
func simpson(s geom.Segment) float64 {
	const panels = 24
	sum := 0.0
	for k := 0; k <= 2*panels; k++ {
		w := 2.0
		switch {
		case k == 0 || k == 2*panels:
			w = 1
		case k%2 == 1:
			w = 4
		}
		sum += w * s.Deriv(float64(k)/(2*panels)).Len()
	}
	return sum / (6 * panels)
}

// residuals returns the stack: the movement, the bounds, and the wishes over the root of
// soft. Only what the shape `only` has in it is worked out, all if it is negative; the rest
// is taken from the lengths given, and left zero.
func (o *oracle) residuals(q []float64, soft float64, only int, lengths [][]float64) []float64 {
	var out []float64
	now := o.shapes(q)
	for k, s := range o.p.Shapes {
		if only >= 0 && k != only {
			out = append(out, make([]float64, 13*len(s.Nodes))...)
			continue
		}
		lengths[k] = make([]float64, len(s.Nodes))
		for i := range s.Nodes {
			a, b := s.path(i), now[k].path(i)
			lengths[k][i] = simpson(b)
			d := [4]geom.Point{b.P0.Sub(a.P0), b.P1.Sub(a.P1), b.P2.Sub(a.P2), b.P3.Sub(a.P3)}
			u := o.gram[k][i]
			for row := range 4 {
				var sum geom.Point
				for c := row; c < 4; c++ {
					sum = sum.Add(d[c].Mul(u.At(row, c)))
				}
				out = append(out, sum.X, sum.Y)
			}
			for _, v := range below(a, b) {
				out = append(out, math.Min(0, v)*math.Sqrt(boundPrice/soft))
			}
		}
	}
	for _, w := range o.p.Wishes {
		sum := -w.Want
		for _, t := range w.Terms {
			sum += t.Factor * lengths[t.Shape][t.Stretch]
		}
		out = append(out, sum*math.Sqrt(w.weight()/soft))
	}
	return out
}

// whole returns the whole stack.
func (o *oracle) whole(q []float64, soft float64) []float64 {
	return o.residuals(q, soft, -1, make([][]float64, len(o.p.Shapes)))
}

// boundPrice is how much more a millimetre below a bound counts than one of a wish.
const boundPrice = 1e3

// below returns by how much in mm a stretch is above its bounds: the line between its ends
// and its handles along their old directions, and the turns of its control polygon.
func below(was, is geom.Segment) [5]float64 {
	along := func(a, b geom.Point, share float64) float64 { return (b.Dot(a) - share*a.Dot(a)) / a.Len() }
	turn := func(a, b, c, d geom.Point) float64 {
		sin := a.Cross(b)
		if math.Abs(sin) < 1e-3*a.Len()*b.Len() {
			return 0
		}
		return (c.Cross(d)*math.Copysign(1, sin) - 0.01*math.Abs(sin)) / math.Max(a.Len(), b.Len())
	}
	chord := along(was.P3.Sub(was.P0), is.P3.Sub(is.P0), 0.05)
	if was.Straight {
		return [5]float64{chord}
	}
	a, b := [3]geom.Point{was.P1.Sub(was.P0), was.P2.Sub(was.P1), was.P3.Sub(was.P2)}, [3]geom.Point{is.P1.Sub(is.P0), is.P2.Sub(is.P1), is.P3.Sub(is.P2)}
	return [5]float64{chord, along(a[0], b[0], 0.1), along(a[2], b[2], 0.1), turn(a[0], a[1], b[0], b[1]), turn(a[1], a[2], b[1], b[2])}
}

// solve returns the shapes and what is missed, with a millimetre that is missed costing
// the root of one over soft.
func (o *oracle) solve(soft float64) ([]Shape, []float64) {
	q := append([]float64(nil), o.start...)
	for _, softer := range [...]float64{1e4, 1e2, 1} {
		o.descend(q, softer*soft)
	}
	shapes := o.shapes(q)
	var off []float64
	for _, w := range o.p.Wishes {
		sum := -w.Want
		for _, t := range w.Terms {
			sum += t.Factor * simpson(shapes[t.Shape].path(t.Stretch))
		}
		off = append(off, sum)
	}
	return shapes, off
}

// descend goes downhill from q until no step leads farther down.
func (o *oracle) descend(q []float64, soft float64) {
	damp := 1e-8
	at := o.whole(q, soft)
	norm := func(v []float64) float64 { return mat.Norm(mat.NewVecDense(len(v), v), 2) }
	for range 150 {
		j := o.jacobian(q, soft, len(at))
		scale := make([]float64, len(q))
		for c := range q {
			scale[c] = mat.Norm(j.ColView(c), 2)
		}
		better := false
		for range 12 {
			m, n := j.Dims()
			a := mat.NewDense(m+n, n, nil)
			a.Slice(0, m, 0, n).(*mat.Dense).Copy(j)
			for c := range n {
				a.Set(m+c, c, math.Sqrt(damp)*math.Max(scale[c], 1e-9))
			}
			right := mat.NewVecDense(m+n, nil)
			for i, v := range at {
				right.SetVec(i, -v)
			}
			var qr mat.QR
			qr.Factorize(a)
			var p mat.VecDense
			if qr.SolveVecTo(&p, false, right) != nil {
				damp = damp*10 + 1e-12
				continue
			}
			next := make([]float64, n)
			for i := range next {
				next[i] = q[i] + p.AtVec(i)
			}
			there := o.whole(next, soft)
			if norm(there) < norm(at) {
				gain := norm(at) - norm(there)
				copy(q, next)
				better = gain > 1e-10*norm(at)
				at = there
				damp /= 10
				break
			}
			damp = damp*10 + 1e-12
		}
		if !better {
			return
		}
	}
}

func (o *oracle) jacobian(q []float64, soft float64, m int) *mat.Dense {
	j := mat.NewDense(m, len(q), nil)
	kept := make([][]float64, len(o.p.Shapes))
	o.residuals(q, soft, -1, kept)
	for c := range q {
		old := q[c]
		h := 1e-6 * math.Max(1, math.Abs(old))
		q[c] = old + h
		up := o.residuals(q, soft, o.owner[c], slices.Clone(kept))
		q[c] = old - h
		down := o.residuals(q, soft, o.owner[c], slices.Clone(kept))
		q[c] = old
		for i := range up {
			j.Set(i, c, (up[i]-down[i])/(2*h))
		}
	}
	return j
}

// contradict adds wishes to a garment that cannot all be met: lengths for edges that are
// sewn to others, with weights, and nodes that are held.
func (g *garment) contradict(r *rand.Rand) {
	for i := range g.edges {
		if e := g.edges[i]; e.sewn && r.IntN(2) == 0 {
			g.Wishes = append(g.Wishes, Wish{Terms: g.terms(i, 1), Want: e.length * (1 + 0.06*(r.Float64()-0.5)), Weight: []float64{0, 1, 4, 0.25}[r.IntN(4)]})
		}
	}
	for k := range g.Shapes {
		for i := range g.Shapes[k].Nodes {
			n := &g.Shapes[k].Nodes[i]
			if g.inRow(k, i) {
				continue // the oracle has it follow the ends of its row
			}
			switch r.IntN(8) {
			case 0:
				n.Fixed = true
			case 1, 2:
				n.Pinned = true
			}
		}
	}
}

// inRow reports whether a node lies inside a row.
func (g *garment) inRow(shape, node int) bool {
	for _, r := range g.Rows {
		if r.Shape == shape && slices.Contains(r.Nodes[1:len(r.Nodes)-1], node) {
			return true
		}
	}
	return false
}

// cost returns what both solvers make least, and by how much a bound is broken at most.
func (o *oracle) cost(shapes []Shape, soft float64) (cost, broken float64) {
	for k, s := range o.p.Shapes {
		for i := range s.Nodes {
			a, b := s.path(i), shapes[k].path(i)
			d := [4]geom.Point{b.P0.Sub(a.P0), b.P1.Sub(a.P1), b.P2.Sub(a.P2), b.P3.Sub(a.P3)}
			u := o.gram[k][i]
			for row := range 4 {
				var sum geom.Point
				for c := row; c < 4; c++ {
					sum = sum.Add(d[c].Mul(u.At(row, c)))
				}
				cost += sum.Dot(sum)
			}
			for _, v := range below(a, b) {
				broken = math.Max(broken, -v)
			}
		}
	}
	for _, w := range o.p.Wishes {
		sum := -w.Want
		for _, t := range w.Terms {
			sum += t.Factor * simpson(shapes[t.Shape].path(t.Stretch))
		}
		cost += w.weight() * sum * sum / soft
	}
	return cost, broken
}

const (
	// oracleOff is the distance in mm within which both solvers miss each wish alike: a
	// tenth of what counts as met.
	oracleOff = 1e-3
	// oracleAt is the share of the size within which both put every node and handle: a
	// compromise is flat, and the oracle's derivatives are differences.
	oracleAt = 5e-3
	// oracleCost is the share of the cost by which Solve may be dearer than the oracle,
	// and oracleCostMet that where it meets the wishes harder than the oracle can.
	oracleCost, oracleCostMet = 1e-9, 2e-3
	// oracleStuck is the share of the cost by which the oracle is dearer if it has got
	// stuck short of the least one, as it does at bounds.
	oracleStuck = 2e-6
)

// TestAgainstDenseOracle: garments whose wishes contradict one another come out as a dense
// solver of another kind has them, in what is missed and in where everything lies, and
// never dearer.
func TestAgainstDenseOracle(t *testing.T) {
	alike, contradicted := 0, 0
	for seed := 7; seed < 7+*oracleGarments; seed++ {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		g := newGarment(r, 2)
		g.sew(r, 1.08, 0.04)
		g.contradict(r)
		res, err := Solve(context.Background(), g.Problem)
		if err != nil {
			t.Fatalf("garment %d: %v", seed, err)
		}
		checkForm(t, g.Problem, res)
		m := newModel(&g.Problem)
		soft, dearer := sqp.Softest, oracleCost
		if res.Feasible {
			dearer = oracleCostMet
		}
		soft *= m.MeanGive()
		o := newOracle(g.Problem)
		shapes, off := o.solve(soft)
		mine, _ := o.cost(res.Shapes, soft)
		its, broken := o.cost(shapes, soft)
		worst, far := differ(res, shapes, off)
		t.Logf("garment %2d: %2d wishes, missed %.3f mm, moved %.2f: cost %.9g and %.9g, off differs by %.1e mm, places by %.1e of %.0f mm",
			seed, len(off), newModel(&g.Problem).missedBy(res.Off), res.Moved, mine, its, worst, far, m.Size)
		switch {
		case mine > its*(1+dearer) && broken < 1e-9:
			t.Errorf("garment %d costs %.12g, and the oracle found %.12g", seed, mine, its)
		case its > mine*(1+oracleStuck):
			continue
		case worst > oracleOff || far > oracleAt*m.Size:
			t.Errorf("garment %d: off differs by %g mm, places by %g mm of %.0f", seed, worst, far, m.Size)
		}
		alike++
		if !res.Feasible {
			contradicted++
		}
	}
	if 2*alike < *oracleGarments || contradicted == 0 {
		t.Errorf("only %d of %d garments could be compared, %d of them with contradictions", alike, *oracleGarments, contradicted)
	}
}

// differ returns by how much two solutions differ: in what is missed, and in places.
func differ(res Result, shapes []Shape, off []float64) (worst, far float64) {
	for i := range off {
		worst = math.Max(worst, math.Abs(off[i]-res.Off[i]))
	}
	for k, s := range shapes {
		for i, n := range s.Nodes {
			m := res.Shapes[k].Nodes[i]
			far = math.Max(far, math.Max(n.At.Dist(m.At), math.Max(n.In.Dist(m.In), n.Out.Dist(m.Out))))
		}
	}
	return worst, far
}

// oracleGarments is the number of garments that the dense solver is asked about; it takes
// about a second for each.
var oracleGarments = flag.Int("garments", 3, "how many garments the dense solver checks")

func (m *model) missedBy(off []float64) float64 {
	sum := 0.0
	for i, v := range off {
		sum += m.p.Wishes[i].weight() * v * v
	}
	return math.Sqrt(sum)
}
