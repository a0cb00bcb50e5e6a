package adjust

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// nasty draws shapes that no pattern maker draws: nodes on one another, handles of every
// length, outlines that cross themselves, with rows, rails, ties and wishes at random.
func nasty(t *rapid.T) Problem {
	var p Problem
	coordinate := rapid.OneOf(rapid.SampledFrom([]float64{0, 1, 10, 10 + 1e-9, 50}), rapid.Float64Range(-80, 80))
	point := func(what string) geom.Point {
		return pt(coordinate.Draw(t, what+" x"), coordinate.Draw(t, what+" y"))
	}
	for range rapid.IntRange(1, 3).Draw(t, "shapes") {
		var s Shape
		for range rapid.IntRange(2, 7).Draw(t, "nodes") {
			n := Node{At: point("at"), Smooth: rapid.Bool().Draw(t, "smooth")}
			if rapid.Bool().Draw(t, "curved") {
				n.In, n.Out = point("in"), point("out")
			}
			switch rapid.IntRange(0, 5).Draw(t, "held") {
			case 0:
				n.Fixed = true
			case 1:
				n.Pinned = true
			case 2:
				n.FixedIn = true
			}
			s.Nodes = append(s.Nodes, n)
		}
		p.Shapes = append(p.Shapes, s)
	}
	shape := func() (int, *rapid.Generator[int]) {
		k := rapid.IntRange(0, len(p.Shapes)-1).Draw(t, "shape")
		return k, rapid.IntRange(0, len(p.Shapes[k].Nodes)-1)
	}
	for range rapid.IntRange(0, 2).Draw(t, "rows") {
		k, node := shape()
		p.Rows = append(p.Rows, Row{k, rapid.SliceOfN(node, 0, 4).Draw(t, "row")})
	}
	for range rapid.IntRange(0, 2).Draw(t, "rails") {
		k, node := shape()
		p.Rails = append(p.Rails, Rail{Shape: k, Node: node.Draw(t, "rail"), Along: pt(1, coordinate.Draw(t, "slope"))})
	}
	for range rapid.IntRange(0, 1).Draw(t, "ties") {
		k, node := shape()
		p.Ties = append(p.Ties, Tie{k, rapid.SliceOfN(node, 0, 3).Draw(t, "tie")})
	}
	for range rapid.IntRange(0, 4).Draw(t, "wishes") {
		w := Wish{Want: rapid.Float64Range(-20, 300).Draw(t, "want"), Weight: rapid.SampledFrom([]float64{0, 1, 1e-3, 100}).Draw(t, "weight")}
		for range rapid.IntRange(0, 4).Draw(t, "terms") {
			k, stretch := shape()
			w.Terms = append(w.Terms, Term{k, stretch.Draw(t, "stretch"), rapid.SampledFrom([]float64{1, -1, 2, 0, -1.5}).Draw(t, "factor")})
		}
		p.Wishes = append(p.Wishes, w)
	}
	return p
}

// TestNastyShapes: whatever is drawn, what comes out are lengths, and what is held stays.
func TestNastyShapes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := nasty(t)
		res, err := Solve(context.Background(), p)
		if err != nil {
			t.Skipf("no solution: %v", err)
		}
		for k, s := range p.Shapes {
			for i, n := range s.Nodes {
				m := res.Shapes[k].Nodes[i]
				if !m.At.Finite() || !m.In.Finite() || !m.Out.Finite() {
					t.Fatalf("node %d of shape %d is nowhere: %v", i, k, m)
				}
				if n.Fixed && m != n || n.Pinned && m.At != n.At || n.FixedIn && m.In != n.In {
					t.Fatalf("node %d of shape %d is held and changed", i, k)
				}
			}
		}
	})
}
