package warp

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"hemlet/geom"
)

// oracle finds the compromise of a bodice in another way: its unknowns are the places and
// handles of all nodes themselves, without a field; lengths are summed by Simpson's rule
// over de Casteljau's construction, derivatives are differences, what is hard is a residual
// a thousand times as heavy, and all goes into one dense least-squares problem that
// Levenberg's and Marquardt's method solves.
type oracle struct {
	p *Problem
	x []float64 // for each node of each shape: place, in, out
}

func newOracle(p *Problem) *oracle {
	o := &oracle{p: p}
	for _, s := range p.Shapes {
		for _, n := range s.Nodes {
			o.x = append(o.x, n.At.X, n.At.Y, n.In.X, n.In.Y, n.Out.X, n.Out.Y)
		}
	}
	return o
}

func (o *oracle) node(shape, i int) (at, in, out geom.Point) {
	for k := range shape {
		i += len(o.p.Shapes[k].Nodes)
	}
	v := o.x[6*i:]
	return pt(v[0], v[1]), pt(v[2], v[3]), pt(v[4], v[5])
}

// at returns a place of a stretch, by repeated division.
func (o *oracle) at(shape, stretch int, t float64) geom.Point {
	s := o.p.Shapes[shape]
	a, _, out := o.node(shape, stretch)
	b, in, _ := o.node(shape, s.next(stretch))
	c := []geom.Point{a, a.Add(out), b.Add(in), b}
	if s.stretch(0, stretch).Straight {
		c = []geom.Point{a, b}
	}
	for len(c) > 1 {
		for i := range c[1:] {
			c[i] = c[i].Lerp(c[i+1], t)
		}
		c = c[:len(c)-1]
	}
	return c[0]
}

// length sums the speed, which is told from places close by.
func (o *oracle) length(t Term) float64 {
	from, to := t.part()
	const n, h = 40, 1e-4
	sum := 0.0
	for i := range n + 1 {
		at := from + (to-from)*float64(i)/n
		speed := o.at(t.Shape, t.Stretch, at+h).Dist(o.at(t.Shape, t.Stretch, at-h)) / (2 * h)
		switch w := 2.; {
		case i == 0 || i == n:
			sum += speed
		case i%2 == 1:
			w = 4
			fallthrough
		default:
			sum += w * speed
		}
	}
	return sum * (to - from) / (3 * n) * t.Factor
}

func (o *oracle) sum(terms []Term, chords []Chord) float64 {
	sum := 0.0
	for _, t := range terms {
		sum += o.length(t)
	}
	for _, c := range chords {
		a, b := c.A.On, c.B.On
		d := o.at(b.Shape, b.Stretch, b.T).Sub(o.at(a.Shape, a.Stretch, a.T))
		if c.Along == (geom.Point{}) {
			sum += c.Factor * d.Len()
		} else {
			sum += c.Factor * d.Dot(c.Along)
		}
	}
	return sum
}

// residuals are those of the spans and darts, then of what is hard, then of little change.
func (o *oracle) residuals(start []float64) []float64 {
	var r []float64
	for _, s := range o.p.Spans {
		r = append(r, math.Sqrt(orOne(s.Weight))*(o.sum(s.Terms, s.Chords)-s.Want))
	}
	for _, d := range o.p.Darts {
		a, _, _ := o.node(d.Shape, d.Stretch)
		b, _, _ := o.node(d.Shape, d.Stretch+1)
		r = append(r, a.Dist(b)-d.Want)
	}
	const hard, little = 1e3, 1e-3
	for _, s := range o.p.Seams {
		r = append(r, hard*(o.sum(s.Terms, nil)-s.Want))
	}
	for _, rail := range o.p.Rails {
		for _, i := range rail.Nodes { // all folds of the bodice lie at x = 0
			at, in, out := o.node(rail.Shape, i)
			r = append(r, hard*at.X, hard*in.Y, hard*out.Y)
		}
	}
	for i, v := range o.x {
		r = append(r, little*(v-start[i]))
	}
	return r
}

// solve takes damped steps until they are small.
func (o *oracle) solve() {
	start := append([]float64(nil), o.x...)
	n, damp := len(o.x), 1e-3
	cost := func(r []float64) float64 { return dot(r, r) }
	r := o.residuals(start)
	for range 60 {
		j := mat.NewDense(len(r), n, nil)
		const h = 1e-4
		for c := range n {
			v := o.x[c]
			o.x[c] = v + h
			up := o.residuals(start)
			o.x[c] = v - h
			down := o.residuals(start)
			o.x[c] = v
			for i := range r {
				j.Set(i, c, (up[i]-down[i])/(2*h))
			}
		}
		var a mat.Dense
		var g, step mat.VecDense
		a.Mul(j.T(), j)
		g.MulVec(j.T(), mat.NewVecDense(len(r), r))
		for i := range n {
			a.Set(i, i, a.At(i, i)+damp*1e-6)
		}
		if step.SolveVec(&a, &g) != nil && step.Len() == 0 {
			return
		}
		old := append([]float64(nil), o.x...)
		for i := range n {
			o.x[i] -= step.AtVec(i)
		}
		next := o.residuals(start)
		if cost(next) > cost(r) {
			o.x = old
			damp *= 10
			continue
		}
		done := mat.Norm(&step, 2) < 1e-7
		if r, damp = next, damp/3; done {
			return
		}
	}
}

// TestContradictions: where targets cannot all be met, what each misses is what the
// independent solution finds: the least weighted sum of squares.
func TestContradictions(t *testing.T) {
	_, e := halfBodice(0)
	for name, spoil := range map[string]func(p *Problem){
		"a seam's two sides": func(p *Problem) {
			p.Spans = append(p.Spans, Span{Terms: terms(1, e[shoulder], e[shoulder+1], 1), Want: p.Spans[shoulderLength].Want - 9, Weight: 2})
		},
		"parts and their sum": func(p *Problem) {
			p.Spans = append(p.Spans,
				Span{Terms: terms(0, e[waistIn], e[waistIn]+1, 1), Want: 92},
				Span{Terms: terms(0, e[waistOut], e[waistOut]+1, 1), Want: 104, Weight: 5},
				Span{Terms: append(terms(1, e[waistIn], e[waistIn]+1, 1), terms(1, e[waistOut], e[waistOut]+1, 1)...), Want: 203})
		},
		"a line and its height": func(p *Problem) {
			p.Spans = append(p.Spans, Span{Terms: terms(1, e[fold], e[fold]+2, 1), Want: 350})
			p.Spans[chest].Want *= 1.03
			on := func(stretch int) Spot { return Spot{On: &Place{1, 0, stretch, 0}} }
			p.Spans = append(p.Spans, Span{Chords: []Chord{{A: on(0), B: on(e[fold]), Factor: 1}}, Want: 338, Weight: 3})
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := newBodice()
			spoil(p)
			r := solved(t, p)
			o := newOracle(p)
			o.solve()
			worst := 0.0
			for i, s := range p.Spans {
				want := o.sum(s.Terms, s.Chords) - s.Want
				worst = max(worst, math.Abs(want))
				if d := r.SpanOff[i] - want; math.Abs(d) > 0.01 {
					t.Errorf("span %d misses %g mm, by the other way %g mm", i, r.SpanOff[i], want)
				}
			}
			if worst < 1 {
				t.Errorf("nothing contradicts: %g mm are missed at most", worst)
			}
			for i, off := range r.SeamOff {
				if math.Abs(off) > 1e-4 {
					t.Errorf("seam %d is off by %g mm", i, off)
				}
			}
		})
	}
}
