package adjust

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// metBar is the bar for wishes that can be met, in mm: a hundredth of what the package
// promises.
const metBar = 1e-6

// jointBar is how much in radians a joint may turn: a hundredth of a degree would be seen.
const jointBar = 1e-6

// checkForm checks what Solve promises whatever is wished: fixed things bit for bit, lines
// straight, rows straight within 1e-3 mm, joints smooth, curves turning the way they
// turned, and outlines that do not cross themselves.
func checkForm(t rapid.TB, p Problem, res Result) {
	t.Helper()
	for k, s := range p.Shapes {
		got := res.Shapes[k]
		for i, n := range s.Nodes {
			m := got.Nodes[i]
			if (n.Fixed || n.Pinned) && m.At != n.At {
				t.Errorf("shape %d: node %d is held and moved from %v to %v", k, i, n.At, m.At)
			}
			if (n.Fixed || n.FixedIn || n.In == geom.Point{}) && m.In != n.In || (n.Fixed || n.FixedOut || n.Out == geom.Point{}) && m.Out != n.Out {
				t.Errorf("shape %d: a handle of node %d is held and changed", k, i)
			}
			if n.Smooth && n.In != (geom.Point{}) && n.Out != (geom.Point{}) {
				was := math.Atan2(n.In.Mul(-1).Cross(n.Out), n.In.Mul(-1).Dot(n.Out))
				is := math.Atan2(m.In.Mul(-1).Cross(m.Out), m.In.Mul(-1).Dot(m.Out))
				if math.Abs(was-is) > jointBar {
					t.Errorf("shape %d: the joint at node %d turned by %g", k, i, is-was)
				}
			}
			checkTurns(t, k, i, s.path(i), got.path(i))
		}
		if s.Path().Simple() == nil {
			if err := got.Path().Simple(); err != nil {
				t.Errorf("shape %d: %v", k, err)
			}
		}
	}
	for _, r := range p.Rows {
		nodes := res.Shapes[r.Shape].Nodes
		a, b := nodes[r.Nodes[0]].At, nodes[r.Nodes[len(r.Nodes)-1]].At
		for _, i := range r.Nodes {
			if off := b.Sub(a).Unit().Cross(nodes[i].At.Sub(a)); math.Abs(off) > 1e-3 {
				t.Errorf("row on shape %d: node %d is off its line by %g mm", r.Shape, i, off)
			}
		}
	}
}

// checkTurns checks that the control polygon of a stretch turns the way it did.
func checkTurns(t rapid.TB, shape, i int, was, is geom.Segment) {
	t.Helper()
	if was.Straight {
		if !is.Straight {
			t.Errorf("shape %d: the straight stretch %d is a curve now", shape, i)
		}
		return
	}
	sines := func(s geom.Segment) [2]float64 {
		a, b, c := s.P1.Sub(s.P0).Unit(), s.P2.Sub(s.P1).Unit(), s.P3.Sub(s.P2).Unit()
		return [2]float64{a.Cross(b), b.Cross(c)}
	}
	a, b := sines(was), sines(is)
	for k := range a {
		if math.Abs(a[k]) > leastTurn && a[k]*b[k] <= 0 {
			t.Errorf("shape %d: stretch %d turned the other way: %g became %g", shape, i, a[k], b[k])
		}
	}
}

// TestGarmentsAreMet: random garments of up to 12 pieces whose seams can be met, each a
// few per cent off.
func TestGarmentsAreMet(t *testing.T) {
	for seed := range 120 {
		g := newGarment(rand.New(rand.NewPCG(uint64(seed), 1)), 2+seed%11)
		g.sew(rand.New(rand.NewPCG(uint64(seed), 2)), 1.08, 0.05)
		res, err := Solve(context.Background(), g.Problem)
		if err != nil {
			t.Fatalf("garment %d: %v", seed, err)
		}
		if !res.Feasible {
			t.Errorf("garment %d is said not to be possible", seed)
		}
		for i, w := range g.Wishes {
			sum := -w.Want
			for _, term := range w.Terms {
				sum += term.Factor * chords(res.Shapes[term.Shape].path(term.Stretch))
			}
			if math.Abs(sum) > metBar || math.Abs(sum-res.Off[i]) > metBar {
				t.Errorf("garment %d: seam %d is off by %g mm, told as %g", seed, i, sum, res.Off[i])
			}
		}
		checkForm(t, g.Problem, res)
		if t.Failed() {
			t.Fatalf("garment %d", seed)
		}
	}
}

// chords returns the length of a stretch from chords alone: the sums of 256 and of 512,
// extrapolated (Richardson), which leaves some 1e-9 of it.
func chords(s geom.Segment) float64 {
	sum := func(n int) float64 {
		length, last := 0.0, s.At(0)
		for k := 1; k <= n; k++ {
			at := s.At(float64(k) / float64(n))
			length += at.Dist(last)
			last = at
		}
		return length
	}
	return (4*sum(512) - sum(256)) / 3
}
