package draft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// backOf returns a bodice and its back piece, with a point on the bench in its middle.
func backOf(t fataler) (*Project, *Piece, string) {
	p := bodiceFor(t)
	back := roleOf(p, "back")
	at := back.Place.Affine().Apply(back.DrawnPath().Bounds().Center())
	return p, back, fmt.Sprintf("at=%gmm,%gmm", at.X, at.Y)
}

// A round hole with a facing: the line is cut inside the stitching line by what is turned
// in, and the facing is a ring whose two lines are as far apart as it is wide, as circles
// are.
func TestTailHole(t *testing.T) {
	p, back, at := backOf(t)
	out := mustDo(t, p, "cut-out", "piece=Back", at, "width=16mm", "height=16mm", "facing=7mm", "name=tail")
	made := madeBy(t, out)
	q := out.Project.Piece(back.ID)
	var hole, cut *Line
	for i := range q.Lines {
		switch q.Lines[i].Kind {
		case CutoutLine:
			cut = &q.Lines[i]
		case PlacementLine:
			if q.Lines[i].Name == "tail" {
				hole = &q.Lines[i]
			}
		case ReinforcePoint:
			t.Error("a round hole has no corners to reinforce")
		}
	}
	if hole == nil || cut == nil || !cut.Closed || !hole.Closed {
		t.Fatalf("lines %+v", q.Lines)
	}
	area := func(r float64) float64 { return math.Pi * r * r }
	turnIn := 16. / 2 / 3
	for _, c := range []struct {
		what string
		got  float64
		r    float64
	}{
		{"the hole", hole.Path().Area(), 8}, {"the cut", math.Abs(cut.Path().Area()), 8 - turnIn},
		{"the facing", made.DrawnPath().Area(), 15},
	} {
		if math.Abs(c.got-area(c.r)) > 0.004*area(c.r) {
			t.Errorf("%s has %g mm2, a circle of %g mm %g", c.what, c.got, c.r, area(c.r))
		}
	}
	least, most := distances(made.DrawnPath(), hole.Path(), 0)
	if math.Abs(least-7) > 0.011 || math.Abs(most-7) > 0.011 {
		t.Errorf("the facing is %g to %g wide", least, most)
	}
	if len(made.Lines) != 2 || made.Cut.Way != back.Cut.Way {
		t.Errorf("the facing: %+v, %s", made.Lines, made.Cut)
	}
	// The hole is moved: its facing goes with it.
	moved := mustDo(t, out.Project, "cut-out", "line=Back.tail", "facing=0mm").Project
	if moved.Piece(back.ID).Line(hole.ID).Kind != CutoutLine {
		t.Error("a line that becomes an opening without a facing is not cut out")
	}
}

func TestEarHolesWithCorners(t *testing.T) {
	p, back, at := backOf(t)
	for shape, sharp := range map[string]int{"oval": 0, "rectangle": 4, "drop": 1} {
		out := mustDo(t, p, "cut-out", "piece=Back", at, "shape="+shape, "width=12mm", "height=18mm")
		n, clips := 0, 0
		for _, l := range out.Project.Piece(back.ID).Lines {
			switch {
			case l.Kind == ReinforcePoint:
				n++
			case l.Kind == SlitLine && strings.HasPrefix(l.Name, "opening clip"):
				clips++
			}
		}
		if n != sharp || clips != sharp {
			t.Errorf("%s: %d corners are reinforced and %d clipped into, want %d", shape, n, clips, sharp)
		}
		bare := mustDo(t, p, "cut-out", "piece=Back", at, "shape="+shape, "facing=0mm")
		if len(bare.Project.Pieces) != len(p.Pieces) {
			t.Errorf("%s without a facing has one", shape)
		}
	}
	for _, bad := range [][]string{
		{"piece=Back", "at=-900mm,0mm"}, {"piece=Back"}, {"edge=Back.shoulder@50%", "width=900mm"}, {at}, {"piece=Back", at, "width=0.01mm"},
	} {
		if _, err := CutOut.DoText(p, pairs(bad)); err == nil {
			t.Errorf("%v is not refused", bad)
		}
	}
}

// A tail opening in the centre back: a bite out of the edge. The seam goes on over it and
// still holds, its two parts with their notches stay where they were, and the facings of
// left and right are sewn as the backs are.
func TestTailOpeningInTheCentreBack(t *testing.T) {
	p := bodiceFor(t)
	back := roleOf(p, "back")
	edge := ""
	for _, s := range p.Seams {
		if s.Name == "centre back" {
			edge = back.edgeLabel(s.A[0].Edge)
		}
	}
	_, i := back.Edge(p.Seam(seamCalled(t, p, "centre back")).A[0].Edge)
	length := back.EdgeLength(i)
	p = mustDo(t, p, "add-notch", "edge=Back."+edge, "at=10%").Project
	out := mustDo(t, p, "cut-out", "edge=Back."+edge+"@40%", "width=14mm", "height=6mm", "name=tail", "facing=8mm")
	if all := strings.Join(out.Says, " "); !strings.Contains(all, "cut out of the right and the left Back alike") {
		t.Errorf("it says %q", all)
	}
	made, q := madeBy(t, out), out.Project.Piece(back.ID)
	run := out.Project.Seam(seamCalled(t, out.Project, "centre back")).A
	sum := 0.0
	for _, u := range run {
		_, k := q.Edge(u.Edge)
		sum += q.EdgeLength(k)
	}
	if len(run) != 2 || math.Abs(sum-(length-14)) > 1e-3 {
		t.Errorf("the seam runs along %v, %g mm of %g", run, sum, length)
	}
	// Half an oval of 14 by 12 is gone.
	if gone, want := back.DrawnPath().Area()-q.DrawnPath().Area(), math.Pi*7*6/2; math.Abs(gone-want) > 0.02*want {
		t.Errorf("%g mm2 are gone, want %g", gone, want)
	}
	for _, n := range q.Notches {
		if _, k := q.Edge(n.Edge); k < 0 {
			t.Errorf("a notch lies on %s", n.Edge)
		}
	}
	if name := back.Edges[i].Name; !q.hasEdgeName(name) || !q.hasEdgeName(name+" 2") || q.hasEdgeName(name+" 3") {
		t.Errorf("the two parts of %s are not called that and that with a 2", name)
	}
	if made.Derived.Role != roleFacing {
		t.Fatal("no facing")
	}
	for _, name := range []string{"tail of Back to facing", "centre back facing"} {
		s := out.Project.Seam(seamCalled(t, out.Project, name))
		if st, err := NewSlots().SeamState(out.Project, s); err != nil || !st.Holds {
			t.Errorf("seam %s: %+v %v", name, st, err)
		}
	}
	for _, f := range NewSlots().Check(out.Project).Findings {
		if f.Level == Problem {
			t.Errorf("%s: %s", f.About, f.Says)
		}
	}
	// It follows the wearer, and so does its facing.
	next := mustDo(t, out.Project, "set-measure", "wearer=Quill", "name=belly_girth", "value=280mm").Project
	if f := NewSlots().Check(next); strings.Contains(f.about(back.ID)+f.about(made.ID), "follow") {
		t.Errorf("%s\n%s", f.about(back.ID), f.about(made.ID))
	}
	a, b := next.Piece(back.ID), next.Piece(made.ID)
	e, k := a.Edge(made.Edges[0].ID[len(made.ID)+1:])
	if e == nil || math.Abs(b.EdgeLength(0)-a.EdgeLength(k)) > 1e-5 {
		t.Error("the facing does not follow the opening")
	}
}

// Holes of any shape and size: the facing lies round them by its width.
func TestHoleFacingsAreRings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := rapid.SampledFrom([]OpeningShape{OvalOpening, RectangleOpening, DropOpening}).Draw(t, "shape")
		w, h := rapid.Float64Range(5, 80).Draw(t, "width"), rapid.Float64Range(5, 80).Draw(t, "height")
		width := toGrid(rapid.Float64Range(1, 40).Draw(t, "facing"))
		piece := polygonPiece("p", 6, geom.Pt(-200, -200), geom.Pt(200, -200), geom.Pt(200, 200), geom.Pt(-200, 200))
		p := projectOf(piece)
		at := Vector{}
		fw := Length(width)
		ref := PieceRef("p")
		out, err := CutOut.Do(p, CutOutArgs{Piece: &ref, At: &at, Shape: shape, Width: Length(w), Height: Length(h), Facing: &fw, Turn: Angle(rapid.Float64Range(-3, 3).Draw(t, "turn"))})
		if err != nil {
			t.Fatal(err)
		}
		if err := Validate(out.Project); err != nil {
			t.Fatal(err)
		}
		made := out.Project.Piece(out.Made)
		hole := out.Project.Piece("p").Lines[0].Path()
		if math.Abs(math.Abs(hole.Area())-math.Abs(must(shape.hole(w, h)).Area())) > 1e-4*hole.Length() {
			t.Fatal("the hole has another size")
		}
		// Places beside the hole lie on the ring's outer line; at a corner it has a mitre.
		outer := made.DrawnPath()
		if made.Derived.Role != roleOpening {
			t.Fatal("no facing")
		}
		mirror := hole.Transform(geom.Scaling(-1, 1)) // cut single: it is turned over
		least, most := distances(outer, mirror, 0)
		limit := width
		if shape != OvalOpening {
			limit = width * geom.MitreLimit
		}
		if least < width-0.011 || most > limit+0.011 {
			t.Fatalf("the facing is %g to %g wide, want %g", least, most, width)
		}
	})
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
