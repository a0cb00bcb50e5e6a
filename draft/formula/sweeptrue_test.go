package formula

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// TestSweepTrueHolds: whatever line comes back has the length that was asked, and the line
// of flow through the points and its end has the length of the side.
func TestSweepTrueHolds(t *testing.T) {
	names := Values{"c": Point{}, "u": Point{}, "w": Point{}, "long": Length{1}, "side": Length{1}}
	line := compiled(t, "sweep_true(c, long, side, u, w)", names)
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		c := geom.Pt(0, 0)
		u := geom.Pt(draw("ux", 30, 200), draw("uy", 80, 200))
		w := geom.Pt(u.X+draw("dx", -20, 20), draw("wy", 20, 70))
		v := Values{"c": Point{c}, "u": Point{u}, "w": Point{w},
			"long": Length{draw("long", 30, 260)}, "side": Length{u.Dist(w) + draw("rest", 15, 120)}}
		x, err := line.Value(v)
		if err != nil {
			return
		}
		found++
		path := curve(x)
		if got, want := measured(path), v["long"].(Length).MM; math.Abs(got-want) > 1e-8*want {
			t.Fatalf("the line is %v long, not %v", got, want)
		}
		through, err := flowOf([]any{Point{u}, Point{w}, Point{path.End()}})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := measured(curve(through)), v["side"].(Length).MM; math.Abs(got-want) > 1e-8*want {
			t.Fatalf("the side is %v long, not %v", got, want)
		}
	})
	if found < 5 {
		t.Errorf("only %d lines were found", found)
	}
}
