package geom

import (
	"fmt"
	"math"
)

// checkCut tests a cut line of constant width against the definition, by
// sampling: it is closed, counter-clockwise and simple; what is no join lies at
// the distance |w| of the outline; nothing lies nearer. It shares no code with
// the making of the cut line but the curves themselves.
func checkCut(cut CutLine, edges []AllowanceEdge, w float64) error {
	outline := pathOf(edges)
	if err := checkLoop(cut); err != nil {
		return err
	}
	const tol = ParallelTolerance
	for i, s := range cut.Path {
		n := 24
		for k := 0; k < n; k++ {
			p := s.At((float64(k) + 0.5) / float64(n))
			_, d := outline.Nearest(p)
			if d < math.Abs(w)-tol {
				return fmt.Errorf("segment %d (edge %d, corner %d) at %v: %.4f mm from the outline", i, cut.Source[i], cut.Corner[i], p, d)
			}
			if math.Abs(w) > 2*tol && outline.Contains(p) != (w < 0) {
				return fmt.Errorf("segment %d at %v: on the wrong side", i, p)
			}
			if cut.Join(i) {
				continue
			}
			// A straight cut line may run on past the end of its edge.
			place, d := edges[cut.Source[i]].Path.Nearest(p)
			if d > math.Abs(w)+tol && !(s.Straight && (place.T < 1e-9 || place.T > 1-1e-9)) {
				return fmt.Errorf("segment %d at %v: %.4f mm from its edge %d", i, p, d, cut.Source[i])
			}
		}
	}
	for _, s := range outline {
		for k := 0; k < 24; k++ {
			if _, d := cut.Path.Nearest(s.At(float64(k) / 24)); d < math.Abs(w)-tol {
				return fmt.Errorf("the outline at %v is %.4f mm from the cut line", s.At(float64(k)/24), d)
			}
		}
	}
	return nil
}

// checkLoop tests that a cut line is closed, counter-clockwise and simple.
func checkLoop(cut CutLine) error { return checkLoopWithin(cut, 1e-6) }

// checkLoopWithin lets the line cross itself by up to eps mm.
func checkLoopWithin(cut CutLine, eps float64) error {
	if len(cut.Path) == 0 || len(cut.Source) != len(cut.Path) || len(cut.Corner) != len(cut.Path) {
		return fmt.Errorf("%d segments, %d sources, %d corners", len(cut.Path), len(cut.Source), len(cut.Corner))
	}
	for i, s := range cut.Path {
		if !s.P0.Finite() || !s.P1.Finite() || !s.P2.Finite() || !s.P3.Finite() {
			return fmt.Errorf("segment %d is not finite: %v", i, s)
		}
		if next := cut.Path[(i+1)%len(cut.Path)]; s.P3 != next.P0 {
			return fmt.Errorf("segment %d ends at %v, the next starts at %v", i, s.P3, next.P0)
		}
	}
	if a := cut.Path.Area(); a <= 0 {
		return fmt.Errorf("area %v", a)
	}
	if p, ok := bruteCrossing(cut.Path, eps); ok {
		return fmt.Errorf("crosses itself at %v", p)
	}
	return nil
}

// bruteCrossing compares every chord of a fine polyline with every other; what
// crosses by less than eps mm does not count.
func bruteCrossing(path Path, eps float64) (Point, bool) {
	b := path.Bounds()
	pts := path.Flatten(math.Min(0.002, (b.W()+b.H())*1e-5))
	n := len(pts) - 1
	for i := 0; i < n; i++ {
		a, b := pts[i], pts[i+1]
		lx, hx, ly, hy := math.Min(a.X, b.X), math.Max(a.X, b.X), math.Min(a.Y, b.Y), math.Max(a.Y, b.Y)
		for j := i + 2; j < n; j++ {
			c, d := pts[j], pts[j+1]
			if c.X < lx && d.X < lx || c.X > hx && d.X > hx || c.Y < ly && d.Y < ly || c.Y > hy && d.Y > hy {
				continue
			}
			if i == 0 && j == n-1 {
				continue
			}
			side := func(p, q, r Point) float64 { return q.Sub(p).Cross(r.Sub(p)) / q.Dist(p) }
			s1, s2, s3, s4 := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
			if (s1 > eps && s2 < -eps || s1 < -eps && s2 > eps) && (s3 > eps && s4 < -eps || s3 < -eps && s4 > eps) {
				return a, true
			}
		}
	}
	return Point{}, false
}

func pathOf(edges []AllowanceEdge) Path {
	var p Path
	for _, e := range edges {
		p = append(p, e.Path...)
	}
	return p
}
