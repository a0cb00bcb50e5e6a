package export

import (
	"math"
	"testing"

	"hemlet/draft"
)

// strip is a rectangle of 100 by 40 mm whose lower edge has an allowance and
// notches.
func strip(width float64, notches ...draft.Notch) *draft.Piece {
	m := &maker{}
	p := &draft.Piece{ID: "p1", Name: "Strip", Cut: draft.CutRule{Count: 1}}
	p.Edges = []draft.Edge{
		m.edge("low", draft.SeamEdge, width, corner(0, 0)),
		m.edge("right", draft.SeamEdge, 6, corner(100, 0)),
		m.edge("top", draft.SeamEdge, 6, corner(100, 40)),
		m.edge("left", draft.SeamEdge, 6, corner(0, 40)),
	}
	for i := range notches {
		notches[i].Edge = "low"
	}
	p.Notches = notches
	return p
}

func flatOf(t *testing.T, p *draft.Piece) *draft.Flat {
	t.Helper()
	flat, err := draft.LayFlat(p)
	if err != nil {
		t.Fatal(err)
	}
	return flat
}

// TestNotchDepth holds notches to the rules of scale: at most half the allowance
// deep, 1 mm clear of the stitching, not cut in 4 mm or less (common practice, no
// source).
func TestNotchDepth(t *testing.T) {
	for _, c := range []struct {
		width, depth float64
		drawOnly     bool
	}{
		{20, 10, false}, {10, 5, false}, {6, 3, false}, {4.5, 2.25, false}, {4, 2, true}, {3, 1.5, true}, {2, 1, true},
	} {
		for _, shape := range []draft.NotchShape{draft.NotchSlit, draft.NotchV, draft.NotchT} {
			marks := notchMarks(flatOf(t, strip(c.width, draft.Notch{ID: "t1", At: 40, Shape: shape})))
			if len(marks) != 1 || marks[0].DrawOnly != c.drawOnly {
				t.Fatalf("allowance %g, %s: %+v", c.width, shape, marks)
			}
			box := marks[0].Bounds()
			near(t, "outer end", box.Min.Y, -c.width, 1e-6)
			near(t, "depth", box.Max.Y-box.Min.Y, c.depth, 1e-6)
			near(t, "place", box.Center().X, 40, 1e-6)
			if -box.Max.Y < draft.NotchClear-1e-9 {
				t.Errorf("allowance %g: the notch comes within %g mm of the stitching", c.width, -box.Max.Y)
			}
		}
	}
}

func TestNotchWithoutAllowanceIsDrawnInside(t *testing.T) {
	for _, width := range []float64{0, 1, 1.9} {
		marks := notchMarks(flatOf(t, strip(width, draft.Notch{ID: "t1", At: 40})))
		box := marks[0].Bounds()
		if !marks[0].DrawOnly || box.Min.Y < -1e-9 || box.Max.Y != chalkTick {
			t.Errorf("allowance %g: %+v", width, marks)
		}
	}
}

func TestNotchPlaces(t *testing.T) {
	for _, c := range []struct {
		notch draft.Notch
		x     []float64
	}{
		{draft.Notch{At: 25}, []float64{25}},
		{draft.Notch{At: 25, FromEnd: true}, []float64{75}},
		{draft.Notch{At: 0.3, Share: true}, []float64{30}},
		{draft.Notch{At: 0.3, Share: true, FromEnd: true}, []float64{70}},
		{draft.Notch{At: 50, Double: true}, []float64{48.5, 51.5}},
	} {
		marks := notchMarks(flatOf(t, strip(8, c.notch)))
		if len(marks) != 1 || len(marks[0].Chains) != len(c.x) {
			t.Fatalf("%+v: %+v", c.notch, marks)
		}
		for i, chain := range marks[0].Chains {
			near(t, "place", chain.Start().X, c.x[i], 1e-6)
		}
	}
	// Rounding to the grid may put the end a little beyond the edge.
	if marks := notchMarks(flatOf(t, strip(8, draft.Notch{At: 100.0000005}))); len(marks) != 1 {
		t.Error("a notch at the very end of its edge is lost")
	}
	if marks := notchMarks(flatOf(t, strip(8, draft.Notch{At: 140}))); len(marks) != 0 {
		t.Errorf("a notch beyond the end of its edge is drawn: %+v", marks)
	}
}

// TestNotchesUnfold: both halves of a piece on the fold bear the notch, mirror
// images of each other.
func TestNotchesUnfold(t *testing.T) {
	flat := flatOf(t, backPiece())
	marks := notchMarks(flat)
	if len(marks) != 4 {
		t.Fatalf("%d notches, want 4", len(marks))
	}
	for i := 0; i < len(marks); i += 2 {
		a, b := marks[i].Bounds(), marks[i+1].Bounds()
		near(t, "left end", b.Min.X, -a.Max.X, 1e-6)
		near(t, "height", b.Center().Y, a.Center().Y, 1e-6)
	}
}

// TestNotchSkipsDarts: the mouth of a dart counts for no length.
func TestNotchSkipsDarts(t *testing.T) {
	p := frontPiece()
	side := p.EdgeParts(1)
	d := side[0].Length() + 4
	p.Notches = []draft.Notch{{ID: "t1", Edge: "front.side", At: d}}
	marks := notchMarks(flatOf(t, p))
	want := side[1].At(side[1].Tape().At(4))
	_, off := marks[0].Chains[0].Nearest(want)
	width := 6.0
	if math.Abs(off-width/2) > 0.5 {
		t.Errorf("the notch ends %g mm from its place, want about %g", off, width/2)
	}
}
