package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// Whatever affine change an outline undergoes, what lies on it undergoes too; on the line
// between two points it stays at its share, however they move.
func TestMarksGoWithTheOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "points")
		var pts []geom.Point
		for i := range n {
			a := 2 * math.Pi * (float64(i) + rapid.Float64Range(0, 0.8).Draw(t, "turn")) / float64(n)
			r := rapid.Float64Range(20, 90).Draw(t, "radius")
			pts = append(pts, geom.Pt(r*math.Cos(a), r*math.Sin(a)))
		}
		p := polygonPiece("p", 5, pts...)
		f := func(label string) float64 { return rapid.Float64Range(-1, 1).Draw(t, label) }
		m := geom.Affine{A: 1 + f("a")/2, B: f("b") / 2, C: f("c") / 2, D: 1 + f("d")/2, E: 40 * f("e"), F: 40 * f("f")}
		q := p.clone()
		for i := range q.Edges {
			q.Edges[i].Nodes[0].At = m.Apply(q.Edges[i].Nodes[0].At)
		}
		w := movedFrom(p, q)
		x := geom.Pt(100*f("x"), 100*f("y"))
		if p.DrawnPath().Contains(x) {
			if got, want := x.Add(w.wayAt(x)), m.Apply(x); got.Dist(want) > 1e-5 {
				t.Fatalf("%v goes to %v, want %v", x, got, want)
			}
		}
		// One point moves alone: on the two lines that meet there the way is in proportion.
		q = p.clone()
		by := geom.Pt(10*f("across"), 10*f("up"))
		q.Edges[1].Nodes[0].At = q.Edges[1].Nodes[0].At.Add(by)
		w = movedFrom(p, q)
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		on := pts[0].Lerp(pts[1], share)
		if got := w.wayAt(on); got.Dist(by.Mul(share)) > 1e-4 {
			t.Fatalf("at share %v the way is %v, want %v", share, got, by.Mul(share))
		}
	})
}

func TestMarksStayExactlyWhereNothingMoves(t *testing.T) {
	p := square("a", 80, 5)
	l := Line{ID: "l1", Nodes: []Node{{ID: "n1", At: geom.Pt(12.3, 4.5), Out: geom.Pt(3, 1)}, {ID: "n2", At: geom.Pt(40, 44), In: geom.Pt(-1, 2)}}}
	got := movedFrom(p, p.clone()).line(l)
	for i := range l.Nodes {
		if got.Nodes[i] != l.Nodes[i] {
			t.Errorf("%+v became %+v", l.Nodes[i], got.Nodes[i])
		}
	}
}

// The fold of a hem that has grown on a piece of a block stays where the hem begins when
// the body changes.
func TestFoldsGoWithTheBlock(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	followed := 0
	for _, piece := range p.Pieces {
		for i := range piece.Edges {
			out, err := GrowEdge.DoText(p, map[string]string{"edges": `"` + string(piece.ID) + `"."` + string(piece.Edges[i].ID) + `"`, "depth": "5mm"})
			if err != nil || out.Project.Piece(piece.ID).Derived == nil {
				continue
			}
			from, to := piece.Edges[i].Nodes[0].ID, piece.Edges[(i+1)%len(piece.Edges)].Nodes[0].ID
			after := do(t, out.Project, SetMeasure, "wearer=Quill", "name=bust_girth", "value=245mm")
			if len(after.Says) > 0 && strings.Contains(after.Says[0], "could not") {
				continue
			}
			q := after.Project.Piece(piece.ID)
			fold := q.Lines[len(q.Lines)-1]
			path := fold.Path()
			for _, c := range []struct {
				at geom.Point
				id ID
			}{{path.Start(), from}, {path.End(), to}} {
				n, _, _ := q.Node(c.id)
				if n == nil || q.FoldEdge() >= 0 && n.At.Dist(c.at) > 1 { // at a fold the corner moves out with the hem
					continue
				}
				followed++
				if n.At.Dist(c.at) > 1e-5 {
					t.Errorf("%s, edge %s: its fold ends at %v, and the hem at %v", piece.Name, piece.Edges[i].Name, c.at, n.At)
				}
			}
		}
	}
	if followed == 0 {
		t.Error("nothing followed")
	}
}
