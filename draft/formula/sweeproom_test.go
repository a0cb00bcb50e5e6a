package formula

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// TestSweepRoom: at the radius there is a level line, and well below it there is
// none, unless it is the least that was asked for.
func TestSweepRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		v := Values{
			"d": Length{size * rapid.Float64Range(0.5, 1.5).Draw(t, "long")},
			"u": pointAt(size*rapid.Float64Range(0.8, 1.2).Draw(t, "out"), size*rapid.Float64Range(0.2, 0.6).Draw(t, "up")),
			"l": Length{size * rapid.Float64Range(0.1, 0.5).Draw(t, "least")},
		}
		x, ok := asked(t, "sweep_room(at(0*mm, 0*mm), d, u, l)", v)
		if !ok {
			t.Fatalf("no level line of %v at all", v["d"])
		}
		v["r"] = x
		if _, ok := asked(t, "sweep(at(0*mm, 0*mm), d, u, r)", v); !ok {
			t.Errorf("there is no level line at %v", x)
		}
		_, ok = asked(t, "sweep(at(0*mm, 0*mm), d, u, 0.995*r)", v)
		switch {
		case mm(x) < mm(v["l"]):
			t.Errorf("%v is less than the least", x)
		case ok && mm(x) != mm(v["l"]):
			t.Errorf("%v is more than is needed", x)
		}
	})
}

// TestSweepTrue: a straight side that is as long as the level line leaves it.
func TestSweepTrue(t *testing.T) {
	flat := oneStretch(geom.Cubic(geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(20, 0), geom.Pt(30, 0)))
	for _, source := range []string{
		"sweep_true(at(0*mm, 0*mm), 30*mm, 50*mm, at(30*mm, 50*mm))",
		"sweep_true(at(0*mm, 0*mm), 30*mm, 90*mm, at(30*mm, 90*mm), at(30*mm, 50*mm))",
	} {
		for i, s := range path(t, source, nil) {
			for k, p := range [4]geom.Point{s.P0, s.P1, s.P2, s.P3} {
				if want := geom.Pt(float64(10*k), 0); !p.Near(want, 1e-9) || i > 0 || s.Straight != flat.Path[0].Straight {
					t.Errorf("%s has the point %v, want %v", source, p, want)
				}
			}
		}
	}
	// A side with a waist: both lengths hold.
	v := Values{"s": Length{420}, "p": pointAt(250, 400), "q": pointAt(235, 190)}
	line := path(t, "sweep_true(at(0*mm, 0*mm), 262*mm, s, p, q)", v)
	v["e"] = Point{line.End()}
	if got := measured(line); math.Abs(got-262) > 1e-9*262 {
		t.Errorf("the line is %v long", got)
	}
	if got := length(t, "length(flow(p, q, e))", v); math.Abs(got-420) > 1e-9*420 {
		t.Errorf("the side is %v long", got)
	}
}
