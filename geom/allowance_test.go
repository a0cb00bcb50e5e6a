package geom

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"
)

// outline is one of the garment outlines in the shared data.
type outline struct {
	Name  string
	Edges [][4][2]float64
}

func (o outline) edges(w float64) []AllowanceEdge {
	var out []AllowanceEdge
	for _, e := range o.Edges {
		c := Cubic(Pt(e[0][0], e[0][1]), Pt(e[1][0], e[1][1]), Pt(e[2][0], e[2][1]), Pt(e[3][0], e[3][1]))
		out = append(out, AllowanceEdge{Path: Path{c}, Start: w, End: w})
	}
	return out
}

func loadOutlines(tb testing.TB) []outline {
	data, err := os.ReadFile("../../shared/data/outlines.json")
	if err != nil {
		tb.Skip("the hundred garment outlines are not beside this checkout")
	}
	var all []outline
	if err := json.Unmarshal(data, &all); err != nil {
		tb.Fatal(err)
	}
	return all
}

func rectangle(w, h float64, widths ...float64) []AllowanceEdge {
	return polygonEdges([]Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, widths...)
}

func polygonEdges(pts []Point, widths ...float64) []AllowanceEdge {
	var out []AllowanceEdge
	for i, s := range Polygon(pts...) {
		w := widths[i%len(widths)]
		out = append(out, AllowanceEdge{Path: Path{s}, Start: w, End: w})
	}
	return out
}

func TestAllowanceRectangle(t *testing.T) {
	cut := mustCut(t, rectangle(100, 60, 10))
	wantCorners(t, cut, Pt(-10, -10), Pt(110, -10), Pt(110, 70), Pt(-10, 70))
	for i := range cut.Path {
		if cut.Join(i) {
			t.Errorf("segment %d is a join", i)
		}
	}
	wantCorners(t, mustCut(t, rectangle(100, 60, -10)), Pt(10, 10), Pt(90, 10), Pt(90, 50), Pt(10, 50))
}

func TestAllowanceKnowsItsEdges(t *testing.T) {
	cut := mustCut(t, rectangle(100, 60, 5, 10, 15, 20))
	for i, s := range cut.Path {
		w := []float64{5, 10, 15, 20}[cut.Source[i]]
		own := rectangle(100, 60, 0)[cut.Source[i]].Path[0]
		if d := own.Reverse().P0.Sub(own.P0).Unit().Left().Mul(-1).Dot(s.At(0.5).Sub(own.P0)); math.Abs(d-w) > 1e-9 {
			t.Errorf("segment %d of edge %d lies at %v, want %v", i, cut.Source[i], d, w)
		}
	}
}

// roundEdge is one closed edge of four cubics, without a corner.
func roundEdge(r, w float64) []AllowanceEdge {
	k := 0.5522847498307936 * r
	q := Cubic(Pt(r, 0), Pt(r, k), Pt(k, r), Pt(0, r))
	var p Path
	for i := range 4 {
		s := q.Transform(Rotation(float64(i)*math.Pi/2, Pt(0, 0)))
		if i > 0 {
			s.P0 = p[i-1].P3
		}
		p = append(p, s)
	}
	p[3].P3 = p[0].P0
	return []AllowanceEdge{{Path: p, Start: w, End: w}}
}

func TestAllowanceOfCircle(t *testing.T) {
	for _, r := range []float64{5, 30, 400} {
		for _, share := range []float64{-0.9, -0.5, -0.1, 0.1, 1, 3} {
			cut := mustCut(t, roundEdge(r, share*r))
			for _, s := range cut.Path {
				for _, u := range []float64{0, 0.3, 0.8} {
					if d := s.At(u).Len() - r*(1+share); math.Abs(d) > ParallelTolerance+2.8e-4*r {
						t.Errorf("radius %v, width %v: %v mm off", r, share*r, d)
					}
				}
			}
		}
		var gone *VanishedError
		if _, err := Allowance(roundEdge(r, -1.01*r)); !errors.As(err, &gone) {
			t.Errorf("radius %v, width %v: %v", r, -1.01*r, err)
		} else if math.Abs(gone.Largest-r) > 0.01*r {
			t.Errorf("at most %v of radius %v", gone.Largest, r)
		}
	}
}

func TestClockwiseOutline(t *testing.T) {
	edges := rectangle(100, 60, 5, 10, 15, 20)
	edges[1].End = 12
	edges[2].Corner = Square
	var back []AllowanceEdge
	for i := len(edges) - 1; i >= 0; i-- {
		e := edges[i]
		// The corner at its start, as it now runs, was that of the edge after it.
		back = append(back, AllowanceEdge{Path: e.Path.Reverse(), Start: e.End, End: e.Start, Corner: edges[(i+1)%4].Corner.Swapped()})
	}
	a, b := mustCut(t, edges), mustCut(t, back)
	if math.Abs(a.Path.Area()-b.Path.Area()) > 1e-9 {
		t.Errorf("areas %v and %v", a.Path.Area(), b.Path.Area())
	}
	for i := range b.Path {
		w := 3 - b.Source[i]
		if _, d := edges[w].Path.Nearest(b.Path[i].At(0.5)); d > edges[w].Start+3 {
			t.Errorf("segment %d does not lie beside edge %d", i, b.Source[i])
		}
	}
}

// A width that tapers along the edge is measured at right angles, in proportion
// to the arc length.
func TestTaper(t *testing.T) {
	edge := AllowanceEdge{Path: Path{Cubic(Pt(0, 0), Pt(40, -20), Pt(60, 10), Pt(80, 0)), Cubic(Pt(80, 0), Pt(100, -10), Pt(110, -5), Pt(120, 0))}, Start: 20, End: 1}
	edges := append([]AllowanceEdge{edge}, polygonEdges([]Point{{120, 0}, {120, 80}, {0, 80}, {0, 0}}, 6)[:3]...)
	cut := mustCut(t, edges)
	if err := checkLoop(cut); err != nil {
		t.Fatal(err)
	}
	total := edge.Path.Length()
	own := Path{}
	for i, s := range cut.Path {
		if cut.Source[i] == 0 && !cut.Join(i) {
			own = append(own, s)
		}
	}
	tape := edge.Path.Tape()
	for k := 1; k < 50; k++ {
		d := total * float64(k) / 50
		at := tape.At(d)
		q := edge.Path.At(at).Sub(edge.Path.Tangent(at).Left().Mul(20 - 19*d/total))
		if _, e := own.Nearest(q); e > ParallelTolerance {
			t.Errorf("at %v mm the cut line is %v mm off", d, e)
		}
	}
}

// slotted is a piece with a slot 20 mm wide, 40 deep.
func slotted() []Point {
	return []Point{{0, 0}, {100, 0}, {100, 60}, {60, 60}, {60, 20}, {40, 20}, {40, 60}, {0, 60}}
}

// Allowances that meet in a slot close it, from the width at which they touch.
func TestAllowancesCollide(t *testing.T) {
	for _, w := range []float64{10, 10.0000001, 13, 60} {
		cut := mustCut(t, polygonEdges(slotted(), w))
		if err := checkLoop(cut); err != nil {
			t.Error(err)
		}
		if want := (100 + 2*w) * (60 + 2*w); math.Abs(cut.Path.Area()-want) > 1e-3 {
			t.Errorf("width %v: area %v, want %v", w, cut.Path.Area(), want)
		}
	}
	cut := mustCut(t, polygonEdges(slotted(), 9))
	if want := 118.0*78 - 2*40; math.Abs(cut.Path.Area()-want) > 1e-6 {
		t.Errorf("area %v, want %v", cut.Path.Area(), want)
	}
}

func TestTakenOffInsideSplits(t *testing.T) {
	pts := []Point{{0, 0}, {100, 0}, {100, 40}, {60, 40}, {60, 20}, {40, 20}, {40, 40}, {0, 40}}
	var split *SplitError
	for _, w := range []float64{-10, -10.5, -15} {
		if _, err := Allowance(polygonEdges(pts, w)); !errors.As(err, &split) {
			t.Fatalf("%v: %v", w, err)
		}
		side := 40 + 2*w
		if len(split.Parts) != 2 || math.Abs(split.Parts[0].Area()-side*side) > 1e-3 || math.Abs(split.Parts[1].Area()-side*side) > 1e-3 {
			t.Errorf("%v: parts %v", w, split.Parts)
		}
	}
	if _, err := Allowance(polygonEdges(pts, -9.5)); err != nil {
		t.Error(err)
	}
	var gone *VanishedError
	if _, err := Allowance(polygonEdges(pts, -21)); !errors.As(err, &gone) || math.Abs(gone.Largest-20) > 0.1 {
		t.Errorf("%v", err)
	}
}

// An edge shorter than the allowance at a blunted corner and a notch narrower
// than it.
func TestEdgesShorterThanAllowance(t *testing.T) {
	pts := []Point{{0, 0}, {80, 0}, {84, 3}, {84, 60}, {50, 60}, {49, 57}, {47, 60}, {0, 60}}
	for _, w := range []float64{-12, -1, 0.5, 2, 12, 50} {
		edges := polygonEdges(pts, w)
		if err := checkCut(mustCut(t, edges), edges, w); err != nil {
			t.Errorf("%v: %v", w, err)
		}
	}
}

func TestBadOutlines(t *testing.T) {
	open := rectangle(100, 60, 5)[:3]
	gap := rectangle(100, 60, 5)
	gap[2].Path = Path{Line(Pt(100, 61), Pt(0, 60))}
	nan := rectangle(100, 60, 5)
	nan[1].Path = Path{Line(Pt(100, 0), Pt(100, math.NaN()))}
	wide := rectangle(100, 60, math.Inf(1))
	bow := polygonEdges([]Point{{0, 0}, {100, 60}, {100, 0}, {0, 80}}, 5)
	flat := polygonEdges([]Point{{0, 0}, {100, 0}, {50, 0}}, 5)
	for name, c := range map[string]struct {
		edges []AllowanceEdge
		edge  int
	}{
		"none": {nil, -1}, "empty edge": {[]AllowanceEdge{{}}, 0}, "open": {open, 2}, "gap": {gap, 2},
		"not a number": {nan, 1}, "endless": {wide, 0}, "flat": {flat, -1},
	} {
		var o *OutlineError
		if _, err := Allowance(c.edges); !errors.As(err, &o) || o.Edge != c.edge || o.Error() == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	var o *OutlineError
	if _, err := Allowance(bow); !errors.As(err, &o) || !o.At.Near(Pt(800./14, 480./14), 1) {
		t.Errorf("crossing: %v", err)
	}
}

// The input is never changed, and the same input gives the same result.
func TestAllowanceIsPure(t *testing.T) {
	edges := withRule(polygonEdges(slotted(), 7, 3, 0, 12), TurnedBack)
	before := pathOf(edges)
	a := mustCut(t, edges)
	b := mustCut(t, edges)
	for i, s := range pathOf(edges) {
		if s != before[i] {
			t.Errorf("segment %d changed", i)
		}
	}
	if len(a.Path) != len(b.Path) {
		t.Fatal("differs")
	}
	for i := range a.Path {
		if a.Path[i] != b.Path[i] {
			t.Errorf("segment %d differs", i)
		}
	}
}

func TestCutLinesOfGarments(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, o := range loadOutlines(t) {
		for _, w := range cutLineWidths {
			edges := o.edges(w)
			cut, err := Allowance(edges)
			if err != nil && w < 0 && expected(err) {
				continue
			}
			if err == nil {
				err = checkCut(cut, edges, w)
			}
			if err != nil {
				t.Errorf("%s at %v mm: %v", o.Name, w, err)
			}
		}
	}
}
