package draft

import (
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// dressPanel is a front of 100 by 300 mm in pairs with a dart from the shoulder and one
// from the hem, which point at each other.
func dressPanel(t fataler) *Project {
	p := polygonPiece("front", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 300), geom.Pt(0, 300))
	name(p, "hem", "side", "shoulder", "middle")
	p.Cut = CutRule{CutPairs, 1}
	back := polygonPiece("back", 6, geom.Pt(200, 0), geom.Pt(300, 0), geom.Pt(300, 300), geom.Pt(200, 300))
	name(back, "hem", "side", "shoulder", "middle")
	back.Cut = CutRule{CutPairs, 1}
	q := mustDo(t, projectOf(p, back), "add-dart", "edge=front.shoulder", "at=60mm", "intake=12mm", "length=90mm", "name=shoulder dart").Project
	q = mustDo(t, q, "add-dart", "edge=front.hem", "at=45mm", "intake=16mm", "length=120mm", "name=waist dart").Project
	q = mustDo(t, q, "link-seam", "a=front.shoulder", "b=back.shoulder", "name=shoulder").Project
	return mustDo(t, q, "add-notch", "edge=front.shoulder", "at=10mm from end").Project
}

// nearestNotch returns how far in mm the nearest notch of a piece lies from a point.
func nearestNotch(t fataler, p *Piece, at geom.Point) float64 {
	best := math.Inf(1)
	for _, n := range p.Notches {
		_, i := p.Edge(n.Edge)
		along, err := (EdgePlace{At: n.At, Share: n.Share, FromEnd: n.FromEnd}).along(p, i, Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		best = min(best, p.pointAt(outlinePlace{i, along}).Dist(at))
	}
	return best
}

// What lies in the gap of a dart that becomes a seam is no cloth: a line over the dart is
// two lines, one on each piece, and neither goes beyond the stitching line.
func TestLinesOverADartThatBecomesASeam(t *testing.T) {
	p := dressPanel(t)
	p = mustDo(t, p, "draw-line", "piece=front", "line=M 5 40 L 95 44", "name=hip").Project
	out := mustDo(t, p, "dart-to-seam", "dart=front.waist dart", "to=front.shoulder@80mm", "seam=princess")
	for _, q := range []*Piece{out.Project.Piece("front"), out.Project.Piece(out.Made)} {
		if len(q.Lines) != 1 || q.Lines[0].Name != "hip" {
			t.Fatalf("%s: lines %v", q.Name, q.Lines)
		}
		path, outline := q.Lines[0].Path(), q.DrawnPath()
		for _, share := range []float64{0.01, 0.5, 0.99} {
			if !outline.Contains(path.At(path.Tape().At(share * path.Length()))) {
				t.Errorf("%s: the line leaves the piece", q.Name)
			}
		}
		// Each of the edges has the name that it had: the number would only tell two of one
		// piece apart.
		for i := range q.Edges {
			if _, numbered := nameStem(q.Edges[i].Name); numbered {
				t.Errorf("%s has an edge %s", q.Name, q.Edges[i].Name)
			}
		}
	}
}

func TestDartIntoASeam(t *testing.T) {
	for _, args := range [][]string{{"into=front.waist dart"}, {"to=front.hem@80mm"}, {"to=front.side@50mm"}} {
		p := dressPanel(t)
		before := p.Piece("front")
		out := mustDo(t, p, "dart-to-seam", append([]string{"dart=front.shoulder dart", "seam=princess seam", "name=Side front"}, args...)...)
		if err := out.Project.usesExist(); err != nil {
			t.Fatal(err)
		}
		stays, goes := out.Project.Piece("front"), out.Project.Piece(out.Made)
		if goes == nil || goes.Name != "Side front" {
			t.Fatalf("made %s", out.Made)
		}
		area := sewnArea(stays) + sewnArea(goes)
		wantNear(t, "area", area, sewnArea(before), 1e-3)
		var seam, shoulder *Seam
		for _, s := range out.Project.Seams {
			switch s.Name {
			case "princess seam":
				seam = s
			case "shoulder":
				shoulder = s
			}
		}
		if seam == nil || shoulder == nil {
			t.Fatalf("%v: seams %v", args, out.Project.Seams)
		}
		slots := NewSlots()
		for _, s := range []*Seam{seam} {
			state, err := slots.SeamState(out.Project, s)
			if err != nil || !state.Holds || state.Diff > 1e-5 || state.A < 90 {
				t.Errorf("%v: seam %s: %+v, %v", args, s.Name, state, err)
			}
		}
		if !seam.BothSides || len(seam.A) != 1 || len(seam.B) != 1 {
			t.Errorf("%v: seam %+v", args, seam)
		}
		// The shoulder is sewn in two parts now, as long as it was without the dart.
		if len(shoulder.A) != 2 {
			t.Errorf("%v: the shoulder is %s", args, out.Project.RunText(shoulder.A))
		}
		wantNear(t, "shoulder", out.Project.runLength(shoulder.A), 88, 1e-5)
		// That of the shoulder, and one pair at the point of each dart.
		points := 1
		if strings.HasPrefix(args[0], "into") {
			points = 2
		}
		if n := len(stays.Notches) + len(goes.Notches); n != 1+2*points {
			t.Errorf("%v: %d notches", args, n)
		}
		for _, d := range before.Darts[:points] {
			for _, q := range []*Piece{stays, goes} {
				// The stitching lines of both pieces come to the dart's point, and have a notch there.
				if got := nearestNotch(t, q, d.Apex); got > 1e-4 {
					t.Errorf("%v: %s has no notch at the point of %s: %g mm off", args, q.Name, d.Name, got)
				}
			}
		}
		for _, q := range []*Piece{stays, goes} {
			if _, err := LayFlat(q); err != nil {
				t.Errorf("%v: %v", args, err)
			}
		}
		if strings.HasPrefix(args[0], "into") && len(stays.Darts)+len(goes.Darts) != 0 {
			t.Errorf("a dart is left")
		}
	}
	p := dressPanel(t)
	mustRefuse(t, p, "say where", "dart-to-seam", "dart=front.shoulder dart")
	mustRefuse(t, p, "another dart of the same piece", "dart-to-seam", "dart=front.shoulder dart", "into=front.shoulder dart")
	mustRefuse(t, p, "another piece", "dart-to-seam", "dart=front.shoulder dart", "to=back.hem@50%")
}
