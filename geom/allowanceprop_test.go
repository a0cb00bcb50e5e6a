package geom

import (
	"errors"
	"math"
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
					if share > 0 && near < MitreLimit*widest {
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
