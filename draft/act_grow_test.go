package draft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// do runs an act whose arguments are given as on a command line.
func do(t fataler, p *Project, act Named, args ...string) Outcome {
	t.Helper()
	out, err := act.DoText(p, argsOf(args))
	if err != nil {
		t.Fatalf("%s %v: %v", act.Info().Name, args, err)
	}
	if err := Validate(out.Project); err != nil {
		t.Fatalf("%s %v: %v", act.Info().Name, args, err)
	}
	return out
}

func argsOf(args []string) map[string]string {
	texts := make(map[string]string)
	for _, a := range args {
		k, v, _ := strings.Cut(a, "=")
		texts[k] = v
	}
	return texts
}

// foldedBack reports whether everything of grown beyond the line through a and b, folded
// over that line, lies on the piece as it was: the oracle is a sheet of paper, a mirror
// image and a test of points.
func foldedBack(was, grown geom.Path, a, b geom.Point, slack float64) error {
	mirror, _ := geom.Reflection(a, b)
	along := b.Sub(a).Unit()
	for _, s := range grown {
		for k := range 16 {
			q := s.At(float64(k) / 16)
			if along.Cross(q.Sub(a)) >= -slack { // on the piece's own side: it runs counter-clockwise
				continue
			}
			back := mirror.Apply(q)
			if _, d := was.Nearest(back); d > slack && !was.Contains(back) {
				return fmt.Errorf("the place %v, folded back, lies %v mm beside the piece at %v", q, d, back)
			}
		}
	}
	return nil
}

// A hem grown on any straight edge lies on the piece when it is folded back, is as deep
// as was asked, and leaves the neighbours as they were.
func TestGrownHemFoldsBackOntoThePiece(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(30, 200).Draw(t, "width")
		h := rapid.Float64Range(40, 200).Draw(t, "height")
		left, right := rapid.Float64Range(-12, 12).Draw(t, "left"), rapid.Float64Range(-12, 12).Draw(t, "right")
		bulge := rapid.Float64Range(-5, 5).Draw(t, "bulge")
		depth := rapid.Float64Range(1, 20).Draw(t, "depth")
		a := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w+right, h), geom.Pt(left, h))
		a.Edges[1].Nodes[0].Out, a.Edges[2].Nodes[0].In = geom.Pt(bulge, h/3), geom.Pt(bulge, -h/3)
		p := projectOf(a)
		out := do(t, p, GrowEdge, "edges=a.e0", "way=hem", fmt.Sprintf("depth=%.6fmm", depth))
		q := out.Project.Pieces[0]
		if err := foldedBack(a.DrawnPath(), q.DrawnPath(), geom.Pt(0, 0), geom.Pt(w, 0), 1e-4); err != nil {
			t.Fatal(err)
		}
		if low := q.DrawnPath().Bounds().Min.Y; math.Abs(low+depth) > 1e-5 {
			t.Fatalf("it is %v deep, want %v", -low, depth)
		}
		// What is folded back covers the strip of that depth above the edge.
		strip := stripArea(a.DrawnPath(), depth)
		if grown := q.DrawnPath().Area() - a.DrawnPath().Area(); math.Abs(grown-strip) > 1e-3*strip {
			t.Fatalf("%v mm² have grown, want %v", grown, strip)
		}
		for _, e := range []ID{"a.e1", "a.e2", "a.e3"} {
			_, i := a.Edge(e)
			_, k := q.Edge(e)
			if math.Abs(a.EdgeLength(i)-q.EdgeLength(k)) > 1e-5 {
				t.Fatalf("edge %s was %v long and is %v", e, a.EdgeLength(i), q.EdgeLength(k))
			}
		}
		if len(q.Lines) != 1 || q.Lines[0].Path().Length() != w && math.Abs(q.Lines[0].Path().Length()-w) > 1e-5 {
			t.Fatalf("the fold: %+v", q.Lines)
		}
	})
}

// stripArea returns the area of an outline between the levels 0 and depth, by Simpson's
// rule over the widths that scanning it gives.
func stripArea(outline geom.Path, depth float64) float64 {
	const n = 200
	box := outline.Bounds()
	width := func(y float64) float64 {
		y = min(max(y, 1e-4*depth), depth*(1-1e-4))
		met := outline.Intersections(geom.Path{geom.Line(geom.Pt(box.Min.X-10, y), geom.Pt(box.Max.X+10, y))})
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, m := range met {
			lo, hi = min(lo, m.P.X), max(hi, m.P.X)
		}
		return hi - lo
	}
	sum := 0.0
	for i := 0; i <= n; i++ {
		f := 2.
		switch {
		case i == 0 || i == n:
			f = 1
		case i%2 == 1:
			f = 4
		}
		sum += f * width(depth*float64(i)/n)
	}
	return sum * depth / n / 3
}

// A casing on a hem that is turned under once more: two folds, each of which lies flat.
func TestDoubleTurnedCasingFoldsTwice(t *testing.T) {
	a := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(70, 90), geom.Pt(12, 90))
	out := do(t, projectOf(a), GrowEdge, "edges=a.e0", "way=casing", "depth=12mm", "turn=4mm")
	q := out.Project.Pieces[0]
	once := do(t, projectOf(a), GrowEdge, "edges=a.e0", "way=casing", "depth=12mm").Project.Pieces[0]
	if err := foldedBack(a.DrawnPath(), once.DrawnPath(), geom.Pt(0, 0), geom.Pt(80, 0), 1e-6); err != nil {
		t.Error(err)
	}
	if err := foldedBack(once.DrawnPath(), q.DrawnPath(), geom.Pt(0, -12), geom.Pt(80, -12), 1e-6); err != nil {
		t.Error(err)
	}
	if got := q.DrawnPath().Bounds().Min.Y; math.Abs(got+16) > 1e-6 {
		t.Errorf("it is %v deep, want 16", -got)
	}
	names := ""
	for _, l := range q.Lines {
		names += l.Name + ";"
	}
	if names != "fold;casing stitching;fold 2;" {
		t.Errorf("lines %s", names)
	}
	// Its ends are the sides mirrored: with slopes of -1/9 and 2/15 the edge at the
	// bottom of the first turn is as long as the piece is 12 mm up.
	_, i := once.Edge("a.e0")
	if want := 80 - 12*10./90 - 12*12./90; math.Abs(once.EdgeLength(i)-want) > 1e-5 {
		t.Errorf("the outer edge is %v, want %v", once.EdgeLength(i), want)
	}
	if e := once.Edges[i]; e.Kind != RawEdge || e.Allowance != (Allowance{}) {
		t.Errorf("the outer edge: %+v", e)
	}
	if len(findingsAbout(NewSlots().Check(projectOf(q)), "/outline")) != 0 {
		t.Error("it has no cut line")
	}
}

// A button stand on a front: the stand runs straight on, and its facing, folded back
// over its edge, lies on stand and front, neckline included.
func TestButtonStandFoldsBackWithItsNeckline(t *testing.T) {
	front := polygonPiece("front", 6, geom.Pt(0, 0), geom.Pt(50, 0), geom.Pt(50, 70), geom.Pt(20, 90), geom.Pt(0, 78))
	front.Edges[3].Nodes[0].Out, front.Edges[4].Nodes[0].In = geom.Pt(-4, -10), geom.Pt(10, 0)
	front.Edges[4].Name = "centre front"
	out := do(t, projectOf(front), GrowEdge, "edges=front.centre front", "way=button stand", "depth=6mm", "fasten=buttons", "size=5mm", "count=4")
	q := out.Project.Pieces[0]
	// The same with no facing, by hand: an extension.
	stand := do(t, projectOf(front), GrowEdge, "edges=front.centre front", "way=extension", "depth=6mm").Project.Pieces[0]
	if area := stand.DrawnPath().Area() - front.DrawnPath().Area(); math.Abs(area-6*78) > 1e-4 {
		t.Errorf("the stand has %v mm², want %v", area, 6*78)
	}
	if err := foldedBack(stand.DrawnPath(), q.DrawnPath(), geom.Pt(-6, 78), geom.Pt(-6, 0), 1e-4); err != nil {
		t.Error(err)
	}
	if low := q.DrawnPath().Bounds().Min.X; math.Abs(low+18) > 1e-4 {
		t.Errorf("it reaches to %v, want -18", low)
	}
	row := q.Line(q.Lines[1].ID)
	if row.Row == nil || row.Row.Count != 4 || len(row.Fastenings()) != 4 {
		t.Fatalf("%+v", q.Lines)
	}
	for _, f := range row.Fastenings() {
		if math.Abs(f.At.X) > 1e-6 {
			t.Errorf("a button lies at %v, want it on the centre front", f.At)
		}
	}
}

// A hem on a piece that is cut on the fold: the fold goes on, straight.
func TestHemGrowsAtAFold(t *testing.T) {
	half := halfPiece(6)
	fold := half.FoldEdge()
	n := len(half.Edges)
	hem := half.Edges[(fold+1)%n].ID
	before := half.EdgeLength(fold)
	out := do(t, projectOf(half), GrowEdge, "edges="+string(half.ID)+"."+string(hem), "depth=5mm")
	q := out.Project.Pieces[0]
	if q.FoldEdge() < 0 || math.Abs(q.EdgeLength(q.FoldEdge())-before-5) > 1e-5 {
		t.Errorf("the fold was %v and is %v", before, q.EdgeLength(q.FoldEdge()))
	}
	if _, err := LayFlat(q); err != nil {
		t.Error(err)
	}
}

// The side seam of two pieces goes on over the ends of their hems, and holds.
func TestSeamsGoOnOverGrownHems(t *testing.T) {
	a := polygonPiece("front", 6, geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(70, 90), geom.Pt(0, 90))
	b := polygonPiece("back", 6, geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(80, 90), geom.Pt(10, 90))
	p := do(t, projectOf(a, b), LinkSeam, "a=front.e1", "b=back.e3").Project
	p = do(t, p, GrowEdge, "edges=front.e0;back.e0", "depth=10mm").Project
	s := p.Seams[0]
	if len(s.A) != 2 || len(s.B) != 2 {
		t.Fatalf("%+v", s)
	}
	if st, err := NewSlots().SeamState(p, s); err != nil || !st.Holds || math.Abs(st.A-math.Hypot(10, 90)*100/90) > 1e-5 {
		t.Errorf("%+v, %v", st, err)
	}
	// Where only one of them has a hem, the seam stays as it is.
	p = do(t, projectOf(a, b), LinkSeam, "a=front.e1", "b=back.e3").Project
	if p = do(t, p, GrowEdge, "edges=front.e0", "depth=10mm").Project; len(p.Seams[0].A) != 1 {
		t.Errorf("%+v", p.Seams[0])
	}
}

// A round hem of depth d is longer than where it lies by twice the depth times the
// angle.
func TestRoundHemsTellHowMuchIsToBeEased(t *testing.T) {
	out := do(t, projectOf(quarterPiece(100, 6)), GrowEdge, "edges=q.e1", "depth=15mm")
	want := Millimetre.Format(2 * 15 * math.Pi / 2)
	if len(out.Says) != 1 || !strings.Contains(out.Says[0], want) {
		t.Errorf("says %v, want %s", out.Says, want)
	}
	q := out.Project.Pieces[0]
	_, i := q.Edge("q.e1")
	if got, want := q.EdgeLength(i), 115*math.Pi/2; math.Abs(got-want) > 0.05 {
		t.Errorf("the new edge is %v, want %v", got, want)
	}
}

func TestGrowRefusesWhatCannotBe(t *testing.T) {
	a := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(60, 20), geom.Pt(0, 20))
	b := square("b", 80, 5)
	p := projectOf(a, b)
	p.Seams = []*Seam{seamBetween(a, b, 0, 1)}
	for _, c := range []struct{ args, says string }{
		{"edges=a.e0|depth=10mm", "sewn in seam"}, {"edges=a.e2|depth=30mm", "deep behind edge e2"}, {"edges=a.e1|depth=0mm", "no depth"},
		{"edges=a.e1|depth=-3mm", "no depth"}, {"edges=a.e1|fasten=snaps", "nothing is fastened"}, {"edges=a.e1|turn=-1mm", "wider than nothing"},
	} {
		_, err := GrowEdge.DoText(p, argsOf(strings.Split(c.args, "|")))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.args, err, c.says)
		}
	}
}

// A vest whose hem has grown follows its wearer, or is freed and says so.
func TestGrownPiecesFollowTheirBlock(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	for _, piece := range p.Pieces {
		for i := range piece.Edges {
			args := map[string]string{"edges": `"` + string(piece.ID) + `"."` + string(piece.Edges[i].ID) + `"`, "depth": "5mm"}
			out, err := GrowEdge.DoText(p, args)
			if err != nil {
				continue
			}
			q := out.Project.Piece(piece.ID)
			if q.Derived == nil {
				if !strings.Contains(strings.Join(out.Says, " "), "no longer follows") {
					t.Errorf("%v: freed, says %v", args, out.Says)
				}
				continue
			}
			after := do(t, out.Project, SetMeasure, "wearer=Quill", "name=bust_girth", "value=245mm")
			got, plain := after.Project.Piece(piece.ID), do(t, p, SetMeasure, "wearer=Quill", "name=bust_girth", "value=245mm").Project.Piece(piece.ID)
			if grown := got.DrawnPath().Area() - plain.DrawnPath().Area(); grown < 4*plain.EdgeLength(i) || grown > 6.5*plain.EdgeLength(i) {
				t.Errorf("%v: after the bust has grown, %v mm² lie on an edge of %v mm; says %v", args, grown, plain.EdgeLength(i), after.Says)
			}
		}
	}
}
