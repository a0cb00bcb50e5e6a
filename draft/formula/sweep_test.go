package formula

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// levelOf is the cubic of a level line by its definition, for the end in the
// direction f from straight below u.
func levelOf(c, u geom.Point, radius, f float64) geom.Segment {
	side := 1.0
	if u.X < c.X {
		side = -1
	}
	end := geom.Pt(u.X+side*radius*math.Sin(f), u.Y-radius*math.Cos(f))
	third := c.Dist(end) / 3
	along := geom.Pt(side*math.Cos(f), math.Sin(f))
	return geom.Cubic(c, geom.Pt(c.X+side*third, c.Y), end.Sub(along.Mul(third)), end)
}

// TestSweep: the line leaves level, has the length, and ends square to the line from
// u, at the radius. The end is never turned up less than the one from which the
// length was made.
func TestSweep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		c := pt(drawAt(t, size, "c"))
		side := 1.0
		if rapid.Bool().Draw(t, "left") {
			side = -1
		}
		u := geom.Pt(c.X+side*size*rapid.Float64Range(0, 1).Draw(t, "out"), c.Y+size*rapid.Float64Range(-0.2, 1.5).Draw(t, "up"))
		radius := size * rapid.Float64Range(0.05, 2).Draw(t, "radius")
		made := rapid.Float64Range(-80, 84).Draw(t, "degrees") * math.Pi / 180
		long := measured(geom.Path{levelOf(c, u, radius, made)})
		if long < 1e-3*size {
			t.Skip("hardly a line")
		}
		v := Values{"c": Point{c}, "u": Point{u}, "r": Length{radius}, "d": Length{long}}
		x, ok := asked(t, "sweep(c, d, u, r)", v)
		longest := measured(geom.Path{levelOf(c, u, radius, steepest)})
		if ok != (long <= longest) && math.Abs(long-longest) > 1e-8*long {
			t.Fatalf("a line of %v, where the steepest is %v: %v", long, longest, x)
		}
		if !ok {
			return
		}
		s := curve(x)[0]
		if len(curve(x)) != 1 || s.Straight || s.P0 != c {
			t.Fatalf("%v is not one cubic from c", x)
		}
		if got := measured(curve(x)); math.Abs(got-long) > 1e-9*long {
			t.Errorf("it is %v long, want %v", got, long)
		}
		if d := s.P3.Dist(u); math.Abs(d-radius) > 1e-12*(size+radius+u.Len()) {
			t.Errorf("it ends %v from u, want %v", d, radius)
		}
		if slant := s.Tangent(1).Dot(s.P3.Sub(u).Unit()); math.Abs(slant) > 1e-9 {
			t.Errorf("it ends %v out of square", slant)
		}
		if leaves := s.Tangent(0); math.Abs(leaves.Y) > 1e-12 || leaves.X*sideOf(c, u) <= 0 {
			t.Errorf("it leaves in the direction %v", leaves)
		}
		f := math.Atan2(sideOf(c, u)*(s.P3.X-u.X), u.Y-s.P3.Y)
		if f < made-1e-4 { // where the line is shortest, its length hardly tells f
			t.Errorf("the end is turned up by %v, and %v would do", f, made)
		}
	})
}

func sideOf(c, u geom.Point) float64 {
	if u.X < c.X {
		return -1
	}
	return 1
}

// TestSweepRoundACentre: with u straight above c at the radius, the level line is
// nearly the arc of a circle about u, whose length is radius times angle.
func TestSweepRoundACentre(t *testing.T) {
	for _, degrees := range []float64{0.1, 1, 5, 10, 20, 30, 45} {
		f := degrees * math.Pi / 180
		v := Values{"w": Angle{f}, "r": Length{240}}
		end := point(t, "end(sweep(at(0*mm, 0*mm), r * (w / (180*degree / pi)), at(0*mm, r), r))", v)
		got := math.Atan2(end.X, 240-end.Y)
		// A third of the chord is the handle of an arc up to f²/8 of itself, so that
		// the length is off by a share that falls with the fourth power.
		if tol := 0.02 * math.Pow(f, 4); math.Abs(got-f) > f*tol+1e-12 {
			t.Errorf("an arc of %v degrees ends at %v", degrees, got*180/math.Pi)
		}
	}
}

// TestSweepMovesSmoothly: as the body grows, the end of the line moves along without
// a jump, and a longer line ends farther up.
func TestSweepMovesSmoothly(t *testing.T) {
	v := Values{"u": pointAt(90, 0), "r": Length{330}, "c": pointAt(0, -335), "d": Length{0}}
	f := compiled(t, "sweep(c, d, u, r)", v)
	var last geom.Point
	for d := 150.0; d <= 500; d += 0.5 {
		v["d"] = Length{d}
		x, err := f.Value(v)
		if err != nil {
			t.Fatalf("a line of %v: %v", d, err)
		}
		end := curve(x).End()
		if d > 150 {
			if step := end.Dist(last); step > 0.8 {
				t.Errorf("at %v the end jumps by %v", d, step)
			}
			if end.X < last.X {
				t.Errorf("at %v the end moves back", d)
			}
		}
		last = end
	}
}

// TestSweepReach: beyond the longest line and under the shortest there is none, and
// the error says which is nearest.
func TestSweepReach(t *testing.T) {
	c, u := geom.Pt(0, 0), geom.Pt(100, 80)
	longest := measured(geom.Path{levelOf(c, u, 60, steepest)})
	shortest := math.Inf(1)
	for i := -850; i <= 850; i++ {
		shortest = min(shortest, measured(geom.Path{levelOf(c, u, 60, float64(i)*math.Pi/1800)}))
	}
	for _, d := range []struct {
		long float64
		ok   bool
	}{{longest * 1.001, false}, {longest * 0.9999, true}, {shortest * 1.001, true}, {shortest * 0.99, false}} {
		v := Values{"d": Length{d.long}}
		f := compiled(t, "sweep(at(0*mm,0*mm), d, at(100*mm,80*mm), 60*mm)", v)
		if _, err := f.Value(v); (err == nil) != d.ok {
			t.Errorf("a line of %v (from %v to %v): %v", d.long, shortest, longest, err)
		}
	}
}
