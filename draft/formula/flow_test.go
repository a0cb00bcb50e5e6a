package formula

import (
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// TestFlowKeepsBetween: between two points the line is nowhere wider or narrower than
// at both, and it goes down all the way.
func TestFlowKeepsBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := make([]any, rapid.IntRange(2, 6).Draw(t, "points"))
		y := 500.0
		for i := range points {
			y -= rapid.Float64Range(0.1, 100).Draw(t, "down")
			points[i] = Point{geom.Pt(rapid.Float64Range(-200, 200).Draw(t, "x"), y)}
		}
		v, err := flowOf(points)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range curve(v) {
			a, b := s.P0, s.P3
			last := a.Y
			for k := 1; k <= 64; k++ {
				q := s.At(float64(k) / 64)
				if q.X < min(a.X, b.X)-1e-9 || q.X > max(a.X, b.X)+1e-9 {
					t.Fatalf("stretch %d from %v to %v comes to %v", i, a, b, q)
				}
				if q.Y > last {
					t.Fatalf("stretch %d goes up at %v", i, q)
				}
				last = q.Y
			}
		}
	})
}

func TestFlowRefuses(t *testing.T) {
	if _, err := flowOf([]any{Point{geom.Pt(0, 9)}, Point{geom.Pt(1, 5)}, Point{geom.Pt(2, 6)}}); err == nil {
		t.Error("a line that goes down and up again flows")
	}
	if _, err := flowOf([]any{Point{geom.Pt(0, 9)}, Point{geom.Pt(1, 9)}}); err == nil {
		t.Error("a level line flows")
	}
}
