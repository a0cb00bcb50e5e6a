package draft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// sleeved is a front or back with a sleeve cut in one, its underarm in one edge e1 that
// bends: down the sleeve and down the side.
func sleeved(name string, way CutWay) *Piece {
	p := polygonPiece(name, 6, geom.Pt(0, 0), geom.Pt(50, 0), geom.Pt(130, 60), geom.Pt(130, 120), geom.Pt(0, 120))
	p.Edges[1].Nodes[0].Out, p.Edges[2].Nodes[0].In = geom.Pt(0, 40), geom.Pt(-40, 0)
	p.Cut = CutRule{Way: way, Count: 1}
	if way == CutOnFold {
		p.Edges[4].Kind, p.Edges[4].Allowance = FoldEdge, Allowance{}
	}
	return p
}

// A gusset let into an underarm seam of any pieces: every seam holds, the diamond's
// sides are those of the slits, its width is what was asked for.
func TestGussetsHoldWhateverIsSewn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ways := []CutWay{CutSingle, CutPairs, CutOnFold}
		a, b := sleeved("front", rapid.SampledFrom(ways).Draw(t, "front")), sleeved("back", rapid.SampledFrom(ways).Draw(t, "back"))
		use := ""
		switch b.Cut.Way {
		case CutPairs:
			use = rapid.SampledFrom([]string{"", "/left"}).Draw(t, "copy")
		case CutOnFold:
			use = rapid.SampledFrom([]string{"", "/far"}).Draw(t, "half")
		}
		p := do(t, projectOf(a, b), LinkSeam, "a=front.e1", "b=back.e1"+use, "name=underarm").Project
		at := rapid.Float64Range(35, 65).Draw(t, "at")
		args := []string{fmt.Sprintf("at=front.e1@%.5f%%", at), fmt.Sprintf("depth=%.5fmm", rapid.Float64Range(18, 40).Draw(t, "depth")), "allowance=5mm"}
		width := 0.0
		if rapid.Bool().Draw(t, "wide") {
			width = rapid.Float64Range(8, 30).Draw(t, "width")
			args = append(args, fmt.Sprintf("width=%.5fmm", width))
		}
		out := do(t, p, InsertGusset, args...)
		if err := UsesExist(out.Project); err != nil {
			t.Fatal(err)
		}
		r := NewSlots().Check(withCloth(out.Project))
		if len(r.Seams) != 6 {
			t.Fatalf("%d seams stand, want 6; says %v", len(r.Seams), out.Says)
		}
		for _, s := range r.Seams {
			if !s.Holds || math.Abs(s.Diff) > 1e-3 {
				t.Fatalf("seam %s: %v to %v", s.Seam.Name, s.A, s.B)
			}
		}
		for _, f := range r.Findings {
			if f.Level != Remark {
				t.Fatalf("%s: %s", f.About, f.Says)
			}
		}
		gusset := out.Project.Pieces[2]
		path := gusset.DrawnPath()
		if len(path) != 4 || path.Area() <= 0 || path.Simple() != nil {
			t.Fatalf("the gusset runs %v", path)
		}
		got := path[0].P0.Dist(path[1].P3)
		if width > 0 && math.Abs(got-width) > 1e-4 {
			t.Fatalf("it is %v wide, want %v", got, width)
		}
		if width == 0 { // square at the point, whatever the sides are: Pythagoras
			if want := math.Hypot(path[2].Length(), path[3].Length()); math.Abs(got-want) > 1e-4 {
				t.Fatalf("it is %v wide, want %v", got, want)
			}
		}
	})
}

func TestGussetOfOnePieceIsATriangle(t *testing.T) {
	a := polygonPiece("glove", 4, geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(40, 60), geom.Pt(0, 60))
	out := do(t, projectOf(a), InsertGusset, "at=glove.e0@50%", "depth=14mm", "width=10mm", "name=Fourchette")
	gusset := out.Project.Pieces[1]
	if gusset.Name != "Fourchette" || len(gusset.Edges) != 3 || math.Abs(gusset.EdgeLength(0)-10) > 1e-5 {
		t.Errorf("%+v", gusset)
	}
	seamsHold(t, withCloth(out.Project))
	small := do(t, projectOf(a), InsertGusset, "at=glove.e0@50%", "depth=9mm", "width=10mm")
	if !strings.Contains(strings.Join(small.Says, " "), "by hand") {
		t.Errorf("sides of 9 mm: says %v", small.Says)
	}
}

// A seam that is eased goes on as two that hold as it did: what was full stays full, and
// by as much.
func TestGussetInAnEasedSeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := sleeved("front", CutPairs), sleeved("back", CutPairs)
		extra := rapid.Float64Range(1, 6).Draw(t, "extra")
		b.Edges[2].Nodes[0].At.Y += extra
		b.Edges[3].Nodes[0].At.Y += extra
		la, lb := a.EdgeLength(1), b.EdgeLength(1)
		if lb-la < 0.1 {
			t.Skip("as long")
		}
		from := rapid.Float64Range(0, 0.7).Draw(t, "from")
		to := from + rapid.Float64Range(0.2, 1-from).Draw(t, "to")
		p := do(t, projectOf(a, b), LinkSeam, "a=front.e1", "b=back.e1", fmt.Sprintf("ratio=%.9f", lb/la),
			"fullness=ease", fmt.Sprintf("from=%.5f", from), fmt.Sprintf("to=%.5f", to)).Project
		on := rapid.SampledFrom([]string{"front", "back"}).Draw(t, "on")
		at := rapid.Float64Range(35, 65).Draw(t, "at")
		out := do(t, p, InsertGusset, fmt.Sprintf("at=%s.e1@%.5f%%", on, at), "depth=25mm", "allowance=5mm")
		excess := 0.0
		r := NewSlots().Check(withCloth(out.Project))
		for _, s := range r.Seams {
			if !s.Holds {
				t.Fatalf("seam %s: %v to %v at %v", s.Seam.Name, s.A, s.B, s.Want)
			}
			excess += math.Abs(s.A - s.B)
			if s.Seam.Ratio > 1 && !(s.Seam.From >= 0 && s.Seam.From < s.Seam.To && s.Seam.To <= 1) {
				t.Fatalf("the fullness lies from %v to %v", s.Seam.From, s.Seam.To)
			}
		}
		if len(r.Seams) != 6 {
			t.Fatalf("%d seams stand, want 6", len(r.Seams))
		}
		// What the slits take off both sides equally is taken off the fullness there.
		if excess > lb-la+1 {
			t.Fatalf("there are %v of fullness, there were %v", excess, lb-la)
		}
	})
}

func TestGussetRefusesWhatCannotBe(t *testing.T) {
	a, b := sleeved("front", CutPairs), sleeved("back", CutPairs)
	p := do(t, projectOf(a, b), LinkSeam, "a=front.e1", "b=back.e1").Project
	own := do(t, projectOf(a), LinkSeam, "a=front.e4", "b=front.e4/left").Project
	for _, c := range []struct {
		p          *Project
		args, says string
	}{
		{p, "at=front.e1@50%|depth=30mm|both=no", "is sewn in seam"},
		{p, "at=front.e2@50%|depth=30mm|both=yes", "sewn to nothing yet"},
		{own, "at=front.e4@50%|depth=30mm", "sewn to itself"},
		{p, "at=front.e2@50%|depth=20mm|width=60mm", "cannot be"},
	} {
		_, err := InsertGusset.DoText(c.p, argsOf(strings.Split(c.args, "|")))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.args, err, c.says)
		}
	}
}
