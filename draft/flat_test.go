package draft

import (
	"errors"
	"math"
	"testing"

	"hemlet/geom"
)

// halfPiece is the right half of a 100 by 60 rectangle with its fold at x = 0.
func halfPiece(allowance float64) *Piece {
	p := polygonPiece("half", allowance, geom.Pt(0, 0), geom.Pt(50, 0), geom.Pt(50, 60), geom.Pt(0, 60))
	p.Edges[3].Kind = FoldEdge
	p.Cut = CutRule{Way: CutOnFold, Count: 1}
	return p
}

func TestUnfoldedRectangleHasTheAreaOfTheWhole(t *testing.T) {
	flat, err := LayFlat(halfPiece(5))
	if err != nil {
		t.Fatal(err)
	}
	if got := flat.Stitch.Area(); math.Abs(got-100*60) > 1e-9 {
		t.Errorf("stitching line encloses %g mm², want 6000", got)
	}
	// Mitred all round: 110 by 70.
	if got := flat.Cut.Area(); math.Abs(got-110*70) > 1e-6 {
		t.Errorf("cut line encloses %g mm², want 7700", got)
	}
	if len(flat.Edges) != 6 {
		t.Errorf("%d edges, want three near and three far", len(flat.Edges))
	}
	for i, e := range flat.Edges {
		if e.Edge.Kind == FoldEdge {
			t.Errorf("edge %d of the unfolded piece is the fold", i)
		}
		if want := Half(i / 3); e.Half != want {
			t.Errorf("edge %d lies in the %v half, want %v", i, e.Half, want)
		}
	}
}

func TestUnfoldingMirrorsAllowancesWithTheirEdges(t *testing.T) {
	p := halfPiece(0)
	p.Edges[1].Allowance = Allowance{Start: 4, End: 10} // the side seam, tapering upward
	flat, err := LayFlat(p)
	if err != nil {
		t.Fatal(err)
	}
	box := flat.Cut.Bounds()
	if math.Abs(box.Min.X+60) > 0.01 || math.Abs(box.Max.X-60) > 0.01 {
		t.Errorf("the cut line runs from %g to %g across, want 60 either way", box.Min.X, box.Max.X)
	}
	// Mirror symmetry, sampled.
	mirrored := flat.Cut.Transform(geom.Scaling(-1, 1))
	for _, q := range mirrored.Flatten(0.01) {
		if _, d := flat.Cut.Nearest(q); d > 0.02 {
			t.Fatalf("the two halves differ by %g mm at %v", d, q)
		}
	}
}

func TestCutOnFoldWithoutFoldSaysSo(t *testing.T) {
	p := halfPiece(5)
	p.Edges[3].Kind = SeamEdge
	if _, err := LayFlat(p); !errors.Is(err, ErrNoFold) {
		t.Errorf("error %v, want ErrNoFold", err)
	}
}

// A dart of 20 mm in the top of a rectangle: the sewn edge measures 80 without
// it, and its cap must end level with the edge once folded. For a straight edge
// square to the dart's middle line, folding shows that the peak of the cap lies
// above the mouth by what the legs rise over half the intake: mirroring the edge
// about a leg at angle a from the middle line turns it by 2a.
func TestDartCap(t *testing.T) {
	const depth, half = 30., 10.
	p := polygonPiece("dart", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60))
	p.Edges[2].Nodes = append(p.Edges[2].Nodes,
		Node{ID: "a", At: geom.Pt(50+half, 60)}, Node{ID: "b", At: geom.Pt(50-half, 60)})
	p.Darts = []Dart{{ID: "d", Name: "waist", Edge: p.Edges[2].ID, From: "a", To: "b", Apex: geom.Pt(50, 60-depth)}}
	if got := p.EdgeLength(2); math.Abs(got-80) > 1e-9 {
		t.Errorf("the edge measures %g mm, want 80 without the dart's mouth", got)
	}
	for _, press := range []Press{PressToStart, PressToEnd, PressOpen} {
		p.Darts[0].Press = press
		flat, err := LayFlat(p)
		if err != nil {
			t.Fatalf("%v: %v", press, err)
		}
		// The image of the edge leaves the mouth at twice the leg's angle from
		// the edge's far side, and meets the middle line after half the intake.
		a := math.Atan2(half, depth)
		want := 60 + half*math.Tan(2*a)
		if got := flat.Stitch.Bounds().Max.Y; math.Abs(got-want) > 1e-6 {
			t.Errorf("%v: the cap peaks at %g, want %g", press, got, want)
		}
		if got := flat.Edges[2].Length(); math.Abs(got-80) > 1e-9 {
			t.Errorf("%v: the flat edge measures %g mm, want 80", press, got)
		}
	}
}
