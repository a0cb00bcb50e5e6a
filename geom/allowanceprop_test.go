package geom

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawPolygon draws a polygon that is star-shaped about the origin, so simple,
// with corners from sharp points to deep notches.
func drawPolygon(t *rapid.T, size float64) []Point {
	n := rapid.IntRange(3, 12).Draw(t, "n")
	var pts []Point
	for i := range n {
		a := (float64(i) + rapid.Float64Range(-0.45, 0.45).Draw(t, "turn")) / float64(n) * 2 * math.Pi
		r := size * rapid.Float64Range(0.15, 1).Draw(t, "radius")
		pts = append(pts, Pt(r*math.Cos(a), r*math.Sin(a)))
	}
	if Polygon(pts...).Area() < 0 { // a triangle beside the origin
		slices.Reverse(pts)
	}
	return pts
}

// drawBlob draws a smooth closed outline through the corners of a polygon.
func drawBlob(t *rapid.T, size float64) Path {
	pts := drawPolygon(t, size)
	n := len(pts)
	k := rapid.Float64Range(0.05, 0.25).Draw(t, "roundness")
	var p Path
	for i, a := range pts {
		b := pts[(i+1)%n]
		ta := b.Sub(pts[(i+n-1)%n]).Mul(k)
		tb := pts[(i+2)%n].Sub(a).Mul(k)
		p = append(p, Cubic(a, a.Add(ta), b.Sub(tb), b))
	}
	return p
}

// expected reports whether the error is one of those that an allowance may give
// for good reason.
func expected(err error) bool {
	var split *SplitError
	var gone *VanishedError
	return errors.As(err, &split) || errors.As(err, &gone)
}

func isCrossing(err error) bool {
	var o *OutlineError
	return errors.As(err, &o) && o.Why == "the outline crosses itself"
}

func TestCutLineOfBlobs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(1, 3).Draw(t, "log size"))
		p := drawBlob(t, size)
		w := size * rapid.Float64Range(-0.3, 0.6).Draw(t, "width")
		edges := []AllowanceEdge{{Path: p, Start: w, End: w}}
		cut, err := Allowance(edges)
		if isCrossing(err) || err != nil && w < 0 && expected(err) {
			return
		}
		if _, crosses := bruteCrossing(p, 1e-6); crosses {
			return // by less than the tolerance
		}
		if err != nil {
			t.Fatal(err)
		}
		if err := checkCut(cut, edges, w); err != nil {
			t.Fatalf("width %v: %v", w, err)
		}
	})
}

func TestCutLineOfPolygons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(1, 3).Draw(t, "log size"))
		pts := drawPolygon(t, size)
		w := size * rapid.Float64Range(-0.3, 0.6).Draw(t, "width")
		cut, err := Allowance(polygonEdges(pts, w))
		if err != nil && w < 0 && expected(err) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if err := checkCut(cut, polygonEdges(pts, w), w); err != nil {
			t.Fatalf("width %v: %v", w, err)
		}
	})
}

// TestCutLineOfMixedWidths checks polygons with a width of its own for each
// edge: the cut line is simple, and holds the outline and the whole strip beside
// each edge but for what a neighbour's line may cut off at its ends.
func TestCutLineOfMixedWidths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(1, 3).Draw(t, "log size"))
		pts := drawPolygon(t, size)
		var ws []float64
		widest := 0.0
		for range pts {
			w := size * rapid.SampledFrom([]float64{0, 0, 0.02, 0.05, 0.1, 0.3}).Draw(t, "width")
			ws = append(ws, w)
			widest = math.Max(widest, w)
		}
		edges := polygonEdges(pts, ws...)
		for i := range edges {
			edges[i].Corner = CornerRule(rapid.IntRange(0, 3).Draw(t, "rule"))
		}
		cut, err := Allowance(edges)
		if err != nil {
			t.Fatal(err)
		}
		if err := checkLoop(cut); err != nil {
			t.Fatalf("widths %v: %v", ws, err)
		}
		for i, s := range Polygon(pts...) {
			u := s.P3.Sub(s.P0).Unit()
			length := s.P0.Dist(s.P3)
			for k := range 20 {
				d := (float64(k) + 0.5) / 20 * length
				near := math.Min(d, length-d)
				for _, share := range []float64{0, 0.5, 0.999} {
					// A turned-back corner may take a little more than a mitre.
					if share > 0 && near < 1.5*MitreLimit*widest {
						continue
					}
					q := s.P0.Add(u.Mul(d)).Add(u.Left().Mul(-ws[i] * share))
					if !cut.Path.Contains(q) {
						if _, off := cut.Path.Nearest(q); off > ParallelTolerance {
							t.Fatalf("%v %v widths %v: edge %d at %v of its width, %v lies %.4f mm outside the cut line", pts, edges[i].Corner, ws, i, share, q, off)
						}
					}
				}
			}
		}
	})
}

// TestCutLineGrows: a wider allowance takes in a narrower one.
func TestCutLineGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawBlob(t, 200)
		last := 0.0
		for _, w := range []float64{-8, -2, 0, 3, 10, 40} {
			cut, err := Allowance([]AllowanceEdge{{Path: p, Start: w, End: w}})
			if err != nil {
				if w < 0 && expected(err) || isCrossing(err) {
					continue
				}
				t.Fatal(err)
			}
			if a := cut.Path.Area(); a < last {
				t.Fatalf("at %v mm the area falls from %v to %v", w, last, a)
			} else {
				last = a
			}
		}
	})
}

// TestCutLineMovesAlong: turning, moving, mirroring and scaling the outline does
// the same to the cut line.
func TestCutLineMovesAlong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := drawPolygon(t, 100)
		var ws []float64
		for range pts {
			ws = append(ws, rapid.SampledFrom([]float64{0, 2, 6, 15}).Draw(t, "width"))
		}
		edges := polygonEdges(pts, ws...)
		edges[0].Path = Path{Cubic(edges[0].Path[0].P0, edges[0].Path[0].P1, edges[0].Path[0].P2, edges[0].Path[0].P3)}
		for i := range edges {
			edges[i].Corner = CornerRule(rapid.IntRange(0, 3).Draw(t, "rule"))
		}
		k := math.Pow(10, rapid.Float64Range(-0.5, 0.5).Draw(t, "log scale"))
		m := Scaling(k, k).Then(Rotation(rapid.Float64Range(0, 6).Draw(t, "angle"), Pt(3, 4))).Then(Translation(Pt(rapid.Float64Range(-1e3, 1e3).Draw(t, "x"), -500)))
		if rapid.Bool().Draw(t, "mirror") {
			m = Scaling(-1, 1).Then(m)
		}
		moved := make([]AllowanceEdge, len(edges))
		for i, e := range edges {
			moved[i] = e
			moved[i].Path, moved[i].Start, moved[i].End = e.Path.Transform(m), e.Start*k, e.End*k
		}
		a, errA := Allowance(edges)
		b, errB := Allowance(moved)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		want := a.Path.Area() * k * k
		if got := b.Path.Area(); math.Abs(got-want) > 1e-3*ParallelTolerance*k*a.Path.Length()+1e-9*want {
			t.Fatalf("widths %v: area %v, want %v of %v by %v", ws, got, want, edges, m)
		}
	})
}

// TestCutLineOfAnything mixes lines and curves, kinks inside edges, tapers,
// widths taken off inside, all rules and coordinates on a grid, where lines
// coincide: whatever comes out must be a simple loop, and only widths below 0 may
// cut a piece apart.
func TestCutLineOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		edges := drawEdges(t)
		cut, err := Allowance(edges)
		lowest := 0.0
		for _, e := range edges {
			lowest = min(lowest, e.Start, e.End)
		}
		var o *OutlineError
		switch {
		case err == nil:
			if err := checkLoopWithin(cut, 2*ParallelTolerance); err != nil {
				t.Fatal(err)
			}
		case errors.As(err, &o) && (isCrossing(err) || o.Why == "the outline encloses no area"):
		case lowest < 0 && expected(err):
		default:
			t.Fatalf("%v: %v", err, edges)
		}
	})
}

func drawEdges(t *rapid.T) []AllowanceEdge {
	pts := drawPolygon(t, 100)
	if rapid.Bool().Draw(t, "grid") {
		for i, p := range pts {
			pts[i] = Pt(math.Round(p.X/10)*10, math.Round(p.Y/10)*10)
		}
	}
	widths := []float64{0, 2, 6, 15, 30}
	if rapid.IntRange(0, 3).Draw(t, "inside") == 0 {
		widths = append(widths, -1, -3, -8)
	}
	width := func(name string) float64 { return rapid.SampledFrom(widths).Draw(t, name) }
	var edges []AllowanceEdge
	for _, s := range Polygon(pts...) {
		if rapid.Bool().Draw(t, "curved") {
			v := s.P3.Sub(s.P0)
			bow := func() Point { return v.Left().Mul(rapid.Float64Range(-0.13, 0.13).Draw(t, "bow")) }
			s = Cubic(s.P0, s.P1.Add(bow()), s.P2.Add(bow()), s.P3)
		}
		if n := len(edges); n > 0 && rapid.IntRange(0, 3).Draw(t, "kink") == 0 {
			edges[n-1].Path = append(edges[n-1].Path, s)
			continue
		}
		e := AllowanceEdge{Path: Path{s}, Start: width("start"), Corner: CornerRule(rapid.IntRange(0, 3).Draw(t, "rule")), Hem: rapid.Bool().Draw(t, "hem")}
		e.End = e.Start
		if rapid.IntRange(0, 2).Draw(t, "taper") == 0 {
			e.End = width("end")
		}
		edges = append(edges, e)
	}
	return edges
}
