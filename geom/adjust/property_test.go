package adjust

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// drawn makes up a garment with seams from a drawn seed, some of its nodes held.
func drawn(t *rapid.T) *garment {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
	g := newGarment(r, rapid.IntRange(2, 5).Draw(t, "pieces"))
	g.sew(r, 1.1, rapid.Float64Range(0, 0.1).Draw(t, "off"))
	return g
}

func solve(t *rapid.T, p Problem) Result {
	res, err := Solve(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// sameBar is the share of the size within which two solutions that are to be the same are.
const sameBar = 1e-7

func same(t *rapid.T, what string, a, b []Shape, size float64) {
	for k := range a {
		for i, n := range a[k].Nodes {
			m := b[k].Nodes[i]
			if off := math.Max(n.At.Dist(m.At), math.Max(n.In.Dist(m.In), n.Out.Dist(m.Out))); off > sameBar*size {
				t.Fatalf("%s: node %d of shape %d is off by %g mm of %.0f", what, i, k, off, size)
			}
		}
	}
}

// mapped returns the problem with its shapes elsewhere, turned, and k times as large.
func mapped(p Problem, m geom.Affine, k float64) Problem {
	q := p
	q.Shapes = mappedShapes(p.Shapes, m)
	q.Wishes = append([]Wish(nil), p.Wishes...)
	for i := range q.Wishes {
		q.Wishes[i].Want *= k
	}
	return q
}

func mappedShapes(shapes []Shape, m geom.Affine) []Shape {
	var out []Shape
	for _, s := range shapes {
		nodes := append([]Node(nil), s.Nodes...)
		for i := range nodes {
			n := &nodes[i]
			n.At, n.In, n.Out = m.Apply(n.At), m.ApplyVector(n.In), m.ApplyVector(n.Out)
		}
		out = append(out, Shape{nodes})
	}
	return out
}

// TestTurnedMovedAndScaled: the same garment elsewhere, turned, mirrored, as a doll's or a
// giant's, comes out the same.
func TestTurnedMovedAndScaled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawn(t)
		here := solve(t, g.Problem)
		k := math.Exp(rapid.Float64Range(-2, 2).Draw(t, "scale"))
		m := geom.Scaling(k, k)
		if rapid.Bool().Draw(t, "mirror") {
			m = geom.Scaling(-k, k)
		}
		m = m.Then(geom.Rotation(rapid.Float64Range(-3, 3).Draw(t, "turn"), geom.Point{})).
			Then(geom.Translation(pt(rapid.Float64Range(-3000, 3000).Draw(t, "x"), rapid.Float64Range(-3000, 3000).Draw(t, "y"))))
		there := solve(t, mapped(g.Problem, m, k))
		size := newModel(&g.Problem).Size * k
		same(t, "elsewhere", mappedShapes(here.Shapes, m), there.Shapes, size)
	})
}

// TestDoneIsDone: what was met once is not changed again.
func TestDoneIsDone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawn(t)
		p := g.Problem
		p.Shapes = solve(t, p).Shapes
		again := solve(t, p)
		if again.Moved > 1e-9*newModel(&p).Size {
			t.Fatalf("moved by %g mm once more", again.Moved)
		}
	})
}

// TestHeldAndUntouched: with nodes and handles held at random, whatever can be met, the
// form is kept; shapes without a wish keep every bit.
func TestHeldAndUntouched(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawn(t)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "held"), 4))
		for k := range g.Shapes {
			for i := range g.Shapes[k].Nodes {
				n := &g.Shapes[k].Nodes[i]
				n.Fixed, n.Pinned = r.IntN(6) == 0, r.IntN(6) == 0
				n.FixedIn, n.FixedOut = r.IntN(8) == 0, r.IntN(8) == 0
			}
		}
		res := solve(t, g.Problem)
		checkForm(t, g.Problem, res)
		wished := map[int]bool{}
		for _, w := range g.Wishes {
			for _, term := range w.Terms {
				wished[term.Shape] = true
			}
		}
		for k, s := range g.Shapes {
			for i, n := range s.Nodes {
				if !wished[k] && res.Shapes[k].Nodes[i] != n {
					t.Fatalf("node %d of shape %d, about which nothing is wished, changed", i, k)
				}
			}
		}
	})
}

// TestSameWithMoreNodes: nodes let into the edges change nothing of what comes out but
// what they free: the finer outline has at least as good a way, and the same lengths.
func TestSameWithMoreNodes(t *testing.T) {
	coarse := front().want(frontSide, 2).want(frontArmhole, 0)
	fine := front().want(frontSide, 2).want(frontArmhole, 0)
	fine.refine(2)
	for i, w := range fine.Wishes {
		var terms []Term
		for _, term := range w.Terms {
			terms = append(terms, Term{0, 2 * term.Stretch, 1}, Term{0, 2*term.Stretch + 1, 1})
		}
		fine.Wishes[i].Terms = terms
	}
	fine.Rails[1].Node = 2
	a, b := coarse.solved(t), fine.solved(t)
	met(t, a)
	met(t, b)
	za, zb := costOf(coarse.Problem, a), costOf(fine.Problem, b)
	if zb > za*(1+1e-6) || zb < 0.8*za {
		t.Errorf("the change costs %.4f with few nodes and %.4f with many", za, zb)
	}
	for i, n := range a.Shapes[0].Nodes {
		if m := b.Shapes[0].Nodes[2*i]; n.At.Dist(m.At) > 0.1 {
			t.Errorf("node %d at %v with few nodes, %v with many", i, n.At, m.At)
		}
	}
}

// costOf returns the change that a result costs.
func costOf(p Problem, res Result) float64 {
	m := newModel(&p)
	sum := 0.0
	for k, o := range m.outlines {
		z := make([]float64, o.n)
		for i, n := range res.Shapes[k].Nodes {
			for _, v := range []struct {
				s  slot
				at geom.Point
			}{{o.at[i], n.At}, {o.in[i], n.In}, {o.out[i], n.Out}} {
				switch d := v.at.Sub(v.s.base); v.s.dim {
				case 1:
					z[v.s.v] = d.Dot(v.s.axis)
				case 2:
					z[v.s.v], z[v.s.v+1] = d.X, d.Y
				}
			}
		}
		y := make([]float64, o.n)
		m.Blocks[k].Metric.Times(z, y)
		for i := range y {
			sum += y[i] * z[i] / 2
		}
	}
	return sum
}

// TestSenseless: problems that make no sense are refused with what and where.
func TestSenseless(t *testing.T) {
	good := func() Problem { return front().want(frontSide, 1).Problem }
	for name, spoil := range map[string]func(p *Problem){
		"a node that is not a number": func(p *Problem) { p.Shapes[0].Nodes[2].At.X = math.NaN() },
		"a handle beyond all size":    func(p *Problem) { p.Shapes[0].Nodes[2].Out.X = 1e6 },
		"one node":                    func(p *Problem) { p.Shapes[0].Nodes = p.Shapes[0].Nodes[:1] },
		"a row off the shape":         func(p *Problem) { p.Rows = []Row{{0, []int{1, 2, 99}}} },
		"a row off the shapes":        func(p *Problem) { p.Rows = []Row{{3, []int{1, 2}}} },
		"a rail off the shape":        func(p *Problem) { p.Rails[0].Node = -1 },
		"a rail without direction":    func(p *Problem) { p.Rails[0].Along = geom.Point{} },
		"a tie off the shape":         func(p *Problem) { p.Ties = []Tie{{0, []int{7}}} },
		"a stretch that is not there": func(p *Problem) { p.Wishes[0].Terms[0].Stretch = 7 },
		"a factor without end":        func(p *Problem) { p.Wishes[0].Terms[0].Factor = math.Inf(1) },
		"a wish without measure":      func(p *Problem) { p.Wishes[0].Want = math.NaN() },
		"a weight below nothing":      func(p *Problem) { p.Wishes[0].Weight = -1 },
	} {
		p := good()
		spoil(&p)
		if _, err := Solve(context.Background(), p); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	if _, err := Solve(context.Background(), Problem{}); err != nil {
		t.Errorf("nothing at all: %v", err)
	}
}

// TestCancelled: a context that is done ends the work with its error.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Solve(ctx, front().want(frontSide, 1).Problem); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
