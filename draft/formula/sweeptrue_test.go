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
		holdsLengths(t, path, v)
	})
	if found < 5 {
		t.Errorf("only %d lines were found", found)
	}
}

// holdsLengths: the line is as long as was asked, and so is the side that flows through u
// and w to its end.
func holdsLengths(t *rapid.T, path geom.Path, v Values) {
	t.Helper()
	if got, want := measured(path), v["long"].(Length).MM; math.Abs(got-want) > 1e-8*want {
		t.Fatalf("the line is %v long, not %v", got, want)
	}
	through, err := flowOf([]any{v["u"], v["w"], Point{path.End()}})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := measured(curve(through)), v["side"].(Length).MM; math.Abs(got-want) > 1e-8*want {
		t.Fatalf("the side is %v long, not %v", got, want)
	}
}

// TestSweepLeaningHolds: the line ends turned up by the lean, or a half, a quarter or
// nothing of it, from square to the line that comes down from the last point; and both
// lengths are those that were asked. Without a lean it is that of sweep_true.
func TestSweepLeaningHolds(t *testing.T) {
	names := Values{"c": Point{}, "u": Point{}, "w": Point{}, "long": Length{1}, "side": Length{1}, "lean": Angle{}}
	line := compiled(t, "sweep_leaning(c, long, side, lean, u, w)", names)
	plain := compiled(t, "sweep_true(c, long, side, u, w)", names)
	found, whole := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		c, u := geom.Pt(0, 0), geom.Pt(draw("ux", 30, 200), draw("uy", 80, 200))
		w := geom.Pt(u.X+draw("dx", -20, 20), draw("wy", 20, 70))
		lean := draw("lean", -0.4, 0.4)
		v := Values{"c": Point{c}, "u": Point{u}, "w": Point{w}, "lean": Angle{lean},
			"long": Length{w.X + draw("more", -30, 30)}, "side": Length{u.Dist(w) + draw("rest", 15, 120)}}
		x, err := line.Value(v)
		if err != nil {
			if _, err := plain.Value(v); err == nil {
				t.Fatal("there is a line without a lean, and none with it")
			}
			return
		}
		found++
		path := curve(x)
		last := path[len(path)-1]
		across := path.End().Sub(w).Left() // square to the side, to the right
		turned := math.Remainder(last.P3.Sub(last.P2).Angle()-across.Angle(), 2*math.Pi)
		switch {
		case math.Abs(turned-lean) < 1e-9:
			whole++
		case math.Abs(turned-lean/2) > 1e-9 && math.Abs(turned-lean/4) > 1e-9 && math.Abs(turned) > 1e-9:
			t.Fatalf("the line is turned by %v, not %v", turned, lean)
		}
		holdsLengths(t, path, v)
	})
	if found < 5 || whole < found/2 {
		t.Errorf("%d lines were found, %d of them with their whole lean", found, whole)
	}
}
