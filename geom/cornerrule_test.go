package geom

import (
	"math"
	"testing"
)

// cornersOf returns the start points of the segments of a cut line.
func cornersOf(c CutLine) []Point {
	var pts []Point
	for _, s := range c.Path {
		pts = append(pts, s.P0)
	}
	return pts
}

// wantCorners tests that the cut line is the polygon through the points, from
// whichever of them it starts.
func wantCorners(t *testing.T, cut CutLine, want ...Point) {
	t.Helper()
	if err := checkLoop(cut); err != nil {
		t.Error(err)
		return
	}
	got := cornersOf(cut)
	if len(got) == len(want) {
		for shift := range got {
			same := true
			for i := range want {
				same = same && got[(i+shift)%len(got)].Near(want[i], 1e-9)
			}
			if same {
				return
			}
		}
	}
	t.Errorf("corners %v, want %v", got, want)
}

func mustCut(t *testing.T, edges []AllowanceEdge) CutLine {
	t.Helper()
	cut, err := Allowance(edges)
	if err != nil {
		t.Fatal(err)
	}
	return cut
}

func withRule(edges []AllowanceEdge, r CornerRule, hems ...int) []AllowanceEdge {
	for i := range edges {
		edges[i].Corner = r
	}
	for _, h := range hems {
		edges[h].Hem = true
	}
	return edges
}

func TestMitreOfDifferentWidths(t *testing.T) {
	wantCorners(t, mustCut(t, rectangle(100, 60, 5, 10, 0, 20)), Pt(-20, -5), Pt(110, -5), Pt(110, 60), Pt(-20, 60))
}

// At right angles all rules make the same corner.
func TestRulesAgreeAtRightAngles(t *testing.T) {
	for r := Mitre; r <= TurnedBack; r++ {
		cut := mustCut(t, withRule(rectangle(100, 60, 25, 10, 6, 10), r, 0))
		if a := cut.Path.Area(); math.Abs(a-120*91) > 1e-6 {
			t.Errorf("rule %d: area %v, want %v", r, a, 120*91)
		}
	}
}

// A mitre of equal widths w at an inner angle α has its point w/sin(α/2) from the
// corner; past 4 w it is cut off square at the distance w.
func TestMitreLimit(t *testing.T) {
	const w = 5.0
	for _, deg := range []float64{170, 120, 90, 60, 30, 29, 28, 20, 10, 2} {
		a := deg * math.Pi / 180
		tip := Pt(0, 0)
		pts := []Point{tip, Rotation(-a/2, tip).Apply(Pt(-200, 0)), Rotation(a/2, tip).Apply(Pt(-200, 0))}
		if Polygon(pts...).Area() < 0 {
			pts[1], pts[2] = pts[2], pts[1]
		}
		cut := mustCut(t, polygonEdges(pts, w))
		if err := checkLoop(cut); err != nil {
			t.Error(err)
		}
		far := 0.0
		for _, s := range cut.Path {
			far = math.Max(far, s.P0.X)
		}
		want := w / math.Sin(a/2)
		if want > MitreLimit*w {
			want = w
		}
		if math.Abs(far-want) > 1e-9 {
			t.Errorf("%v°: the cut line reaches %v mm beyond the corner, want %v", deg, far, want)
		}
	}
}

// trapezoid is a flared piece: hem of 120 mm at the bottom, sides at 3:8.
func trapezoid() []Point { return []Point{{0, 0}, {120, 0}, {90, 80}, {30, 80}} }

// A square corner has a point on the first seam's stitching line run on to the
// neighbour's cut line, and the end of the allowance at right angles there.
func TestSquareCorner(t *testing.T) {
	edges := polygonEdges(trapezoid(), 20, 8, 8, 8)
	edges[0].Corner = Square // the hem is sewn first at its start corner (0, 0)
	cut := mustCut(t, edges)
	// The left side's cut line lies 8 mm beside the line from (30, 80) to (0, 0),
	// and meets y = 0 at x = -8/sin of the side's slope.
	side := math.Hypot(30, 80)
	x := -8 * side / 80
	found := 0
	for i, s := range cut.Path {
		if cut.Corner[i] == 0 && s.P0.Near(Pt(x, 0), 1e-9) && s.P3.Near(Pt(x, -20), 1e-9) {
			found++
		}
	}
	if found != 1 {
		t.Errorf("no square end at x = %v: %v", x, cornersOf(cut))
	}
	if err := checkLoop(cut); err != nil {
		t.Error(err)
	}
}

func TestSquareBeforeMirrorsSquare(t *testing.T) {
	mirror := Scaling(-1, 1)
	for _, r := range []CornerRule{Square, SquareBefore} {
		a := mustCut(t, withRule(polygonEdges(trapezoid(), 20, 8, 5, 8), r))
		// Mirrored and run the other way, the edge that started ends.
		var edges []AllowanceEdge
		other := Square + SquareBefore - r
		for _, i := range []int{0, 3, 2, 1} {
			w := []float64{20, 8, 5, 8}[i]
			edges = append(edges, AllowanceEdge{Path: Polygon(trapezoid()...)[i : i+1].Transform(mirror).Reverse(), Start: w, End: w, Corner: other})
		}
		b := mustCut(t, edges)
		if d := a.Path.Area() - b.Path.Area(); math.Abs(d) > 1e-9 {
			t.Errorf("rule %d: areas differ by %v", r, d)
		}
	}
}

// A turned-back hem, folded along its stitching line, lies exactly within the cut
// lines of its neighbours: the corners of its allowance mirror onto them. At an
// inner angle a the end of a hem of depth h is h/sin(a) long.
func TestTurnedBackHemLiesFlat(t *testing.T) {
	for _, pts := range [][]Point{trapezoid(), {{30, 0}, {90, 0}, {120, 80}, {0, 80}}} {
		edges := polygonEdges(pts, 20, 8, 8, 8)
		edges[0].Corner, edges[1].Corner = TurnedBack, TurnedBack
		cut := mustCut(t, edges)
		if err := checkLoop(cut); err != nil {
			t.Error(err)
		}
		plain := mustCut(t, polygonEdges(pts, 20, 8, 8, 8))
		fold, ends := Scaling(1, -1), 0
		for i, s := range cut.Path {
			if !cut.Join(i) {
				continue
			}
			ends++
			if cut.Source[i] != 0 {
				t.Errorf("the end of the hem belongs to edge %d", cut.Source[i])
			}
			slope := pts[2].Sub(pts[1]).Unit()
			if got, want := s.P0.Dist(s.P3), 20/math.Abs(slope.Y); math.Abs(got-want) > 1e-9 {
				t.Errorf("the end of the hem is %v mm long, want %v", got, want)
			}
			for _, p := range []Point{s.P0, s.At(0.5), s.P3} {
				if _, d := plain.Path.Nearest(fold.Apply(p)); d > 1e-6 {
					t.Errorf("%v folds to %v mm beside the neighbour's cut line", p, d)
				}
			}
		}
		if ends != 2 {
			t.Errorf("%d ends", ends)
		}
	}
}

// A curved neighbour is mirrored as a curve.
func TestTurnedBackBesideCurve(t *testing.T) {
	edges := []AllowanceEdge{
		{Path: Path{Line(Pt(0, 0), Pt(120, 0))}, Start: 25, End: 25, Corner: TurnedBack, Hem: true},
		{Path: Path{Cubic(Pt(120, 0), Pt(110, 15), Pt(90, 40), Pt(95, 80))}, Start: 8, End: 8, Corner: TurnedBack},
		{Path: Path{Line(Pt(95, 80), Pt(30, 80))}, Start: 8, End: 8},
		{Path: Path{Cubic(Pt(30, 80), Pt(30, 40), Pt(20, 10), Pt(0, 0))}, Start: 8, End: 8},
	}
	cut := mustCut(t, edges)
	if err := checkLoop(cut); err != nil {
		t.Fatal(err)
	}
	curves := 0
	for i, s := range cut.Path {
		if !cut.Join(i) || s.P0.Y > 1e-9 && s.P3.Y > 1e-9 {
			continue
		}
		if !s.Straight {
			curves++
		}
		for k := range 9 {
			p := s.At((float64(k) + 0.5) / 9)
			if p.Y > -1e-9 {
				continue
			}
			if _, d := cut.Path.Nearest(Pt(p.X, -p.Y)); d > 1e-6 {
				t.Errorf("%v folds to %v mm beside the neighbour's cut line", p, d)
			}
		}
	}
	if curves != 2 {
		t.Errorf("%d mirrored curves, want 2", curves)
	}
}

// Beside an edge without allowance the cut line runs out along that edge's line.
func TestBesideRawEdge(t *testing.T) {
	wantCorners(t, mustCut(t, polygonEdges([]Point{{0, 0}, {100, 0}, {100, 40}, {40, 40}, {40, 100}, {0, 100}}, 10, 5, 12, 0, 0, 3)),
		Pt(-3, -10), Pt(105, -10), Pt(105, 52), Pt(40, 52), Pt(40, 100), Pt(-3, 100))
}

// Edges that run on smoothly with different widths meet in a step.
func TestStepBetweenWidths(t *testing.T) {
	pts := []Point{{0, 0}, {50, 0}, {100, 0}, {100, 60}, {0, 60}}
	wantCorners(t, mustCut(t, polygonEdges(pts, 10, 0, 5, 5, 5)),
		Pt(-5, -10), Pt(50, -10), Pt(50, 0), Pt(105, 0), Pt(105, 65), Pt(-5, 65))
}

// A dart's cap is a kink inside an edge and is mitred like a corner.
func TestDartCap(t *testing.T) {
	edges := rectangle(120, 100, 10)
	edges[2].Path = Path{Line(Pt(120, 100), Pt(70, 100)), Line(Pt(70, 100), Pt(60, 110)), Line(Pt(60, 110), Pt(50, 100)), Line(Pt(50, 100), Pt(0, 100))}
	k := 10 * math.Tan(math.Pi/8)
	wantCorners(t, mustCut(t, edges), Pt(-10, -10), Pt(130, -10), Pt(130, 110),
		Pt(70+k, 110), Pt(60, 110+10*math.Sqrt2), Pt(50-k, 110), Pt(-10, 110))
}
