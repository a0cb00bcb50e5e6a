package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// Whatever length is asked for, the edge has it, its other end stays, and what is left
// of a shortened edge lies on the old one.
func TestSetEdgeLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		piece := bentPiece(t)
		i := rapid.IntRange(0, 3).Draw(t, "edge")
		end := EdgeEnd(rapid.IntRange(0, 1).Draw(t, "end"))
		old := piece.EdgePath(i)
		was := piece.EdgeLength(i)
		want := Length(was * rapid.Float64Range(0.05, 2.5).Draw(t, "share"))
		out, err := SetEdgeLength.Do(projectOf(piece), SetEdgeLengthArgs{Edge: EdgeRef{piece.ID, piece.Edges[i].ID}, Length: &want, Moves: &end})
		if err != nil {
			t.Fatal(err)
		}
		q := out.Project.Pieces[0]
		if got := q.EdgeLength(i); math.Abs(got-float64(want)) > 1e-5 {
			t.Fatalf("it is %.7f long, want %.7f", got, want)
		}
		path := q.EdgePath(i)
		stays, was0 := path.Start(), old.Start()
		if end == EdgeStart {
			stays, was0 = path.End(), old.End()
		}
		if stays.Dist(was0) > 2e-6 {
			t.Fatalf("the end that stays went from %v to %v", was0, stays)
		}
		if float64(want) < was {
			if d := farthest(path, old, 0); d > 1e-4 {
				t.Fatalf("the shorter edge lies %g mm off the old one", d)
			}
		}
		if len(q.Edges) != 4 || q.Edges[i].ID != piece.Edges[i].ID {
			t.Fatal("the edge is another")
		}
	})
}

// A quarter circle of 100 mm that is run on by a tenth goes on about its circle.
func TestRunOnInItsOwnCurve(t *testing.T) {
	const k = 0.5522847498307936
	p := polygonPiece("a", 0, geom.Pt(100, 0), geom.Pt(0, 100), geom.Pt(-50, -50))
	p.Edges[0].Nodes[0].Out, p.Edges[1].Nodes[0].In = geom.Pt(0, 100*k), geom.Pt(100*k, 0)
	want := Length(p.EdgeLength(0) * 1.1)
	out, err := SetEdgeLength.Do(projectOf(p), SetEdgeLengthArgs{Edge: EdgeRef{"a", "a.e0"}, Length: &want})
	if err != nil {
		t.Fatal(err)
	}
	end := out.Project.Pieces[0].Edges[1].Nodes[0].At
	if d := end.Len(); math.Abs(d-100) > 0.2 {
		t.Errorf("it ends %.3f mm from the middle", d)
	}
	if deg := end.Angle() * 180 / math.Pi; math.Abs(deg-99) > 0.2 {
		t.Errorf("it ends at %.3f degrees", deg)
	}
}

func TestSetEdgeAngle(t *testing.T) {
	p := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60))
	p.Place = Placement{At: geom.Pt(30, 10), Turn: math.Pi / 2}
	// On the bench the first edge runs up; it is turned to 60 degrees and made 40 long.
	out, err := SetEdgeLength.DoText(projectOf(p), map[string]string{"edge": "a.e0", "length": "4cm", "angle": "60"})
	if err != nil {
		t.Fatal(err)
	}
	q := out.Project.Pieces[0]
	path := q.EdgePath(0).Transform(q.Place.Affine())
	want := geom.Pt(30, 10).Add(geom.Pt(20, 20*math.Sqrt(3)))
	if !path.End().Near(want, 2e-6) || !path.Start().Near(geom.Pt(30, 10), 2e-6) {
		t.Errorf("it runs from %v to %v, want to %v", path.Start(), path.End(), want)
	}
}

func TestSetEdgeLengthKeepsTheFoldStraight(t *testing.T) {
	p := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60))
	name(p, "hem", "side", "top", "fold")
	p.Edges[3].Kind = FoldEdge
	out, err := SetEdgeLength.DoText(projectOf(p), map[string]string{"edge": "a.top", "length": "80mm"})
	if err != nil {
		t.Fatal(err)
	}
	q := out.Project.Pieces[0]
	if q.Edges[3].Nodes[0].At != geom.Pt(0, 60) || q.Edges[2].Nodes[0].At != geom.Pt(80, 60) {
		t.Error("the end at the fold has moved")
	}
	if _, err := SetEdgeLength.DoText(projectOf(p), map[string]string{"edge": "a.top", "length": "80mm", "moves": "end"}); err == nil || !strings.Contains(err.Error(), "fold") {
		t.Errorf("the end at the fold can be moved: %v", err)
	}
	// The fold itself gets longer along its own line.
	out, err = SetEdgeLength.DoText(projectOf(p), map[string]string{"edge": "a.fold", "length": "70mm"})
	if err != nil {
		t.Fatal(err)
	}
	if got := out.Project.Pieces[0].Edges[0].Nodes[0].At; got != geom.Pt(0, -10) {
		t.Errorf("the fold ends at %v", got)
	}
	for _, args := range []map[string]string{
		{"edge": "a.hem"}, {"edge": "a.hem", "length": "0mm"}, {"edge": "a.hem", "length": "-5mm"}, {"edge": "a.fold", "angle": "30"},
	} {
		if _, err := SetEdgeLength.DoText(projectOf(p), args); err == nil {
			t.Errorf("%v is done", args)
		}
	}
}

// A dart's mouth counts for no length, and the edge cannot end before it.
func TestSetEdgeLengthWithADart(t *testing.T) {
	p := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60))
	p.Edges[0].Nodes = append(p.Edges[0].Nodes, Node{ID: "m1", At: geom.Pt(40, 0)}, Node{ID: "m2", At: geom.Pt(50, 0)})
	p.Darts = []Dart{{ID: "d", Edge: "a.e0", From: "m1", To: "m2", Apex: geom.Pt(45, 30)}}
	out, err := SetEdgeLength.DoText(projectOf(p), map[string]string{"edge": "a.e0", "length": "70mm"})
	if err != nil {
		t.Fatal(err)
	}
	if got := out.Project.Pieces[0].Edges[1].Nodes[0].At; got != geom.Pt(80, 0) {
		t.Errorf("it ends at %v", got)
	}
	if _, err := SetEdgeLength.DoText(projectOf(p), map[string]string{"edge": "a.e0", "length": "30mm"}); err == nil {
		t.Error("the edge ends before its dart")
	}
}

// Squared off, the two edges meet at a right angle; the corner and the other edge stay.
func TestSquareEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		piece := bentPiece(t)
		i := rapid.IntRange(0, 3).Draw(t, "edge")
		at := EdgeEnd(rapid.IntRange(0, 1).Draw(t, "at"))
		out, err := SquareEdge.Do(projectOf(piece), SquareEdgeArgs{Edge: EdgeRef{piece.ID, piece.Edges[i].ID}, At: at})
		if err != nil {
			t.Skip(err)
		}
		q := out.Project.Pieces[0]
		here, beside := q.EdgePath(i), q.EdgePath((i+1)%4)
		u, v := here[len(here)-1].Tangent(1), beside[0].Tangent(0)
		if at == EdgeStart {
			beside = q.EdgePath((i + 3) % 4)
			u, v = here[0].Tangent(0), beside[len(beside)-1].Tangent(1)
		}
		if math.Abs(u.Dot(v)) > 1e-6 {
			t.Fatalf("they meet at %.6f degrees", math.Acos(u.Dot(v))*180/math.Pi)
		}
		for k := range 4 {
			if k != i && apart(q.EdgePath(k), piece.EdgePath(k)) > 1e-5 {
				t.Fatalf("edge %d has changed", k)
			}
		}
	})
}
