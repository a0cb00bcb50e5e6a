package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A circle that rolls along a line draws a cycloid with its mark:
// x = r (θ - sin θ), y = r (1 - cos θ) (Galileo's curve, any handbook). The circle is
// made of 16 cubics, with handles 4/3 tan(θ/4) r, and so within 1e-7 r of one.
func TestRollingCircleDrawsCycloid(t *testing.T) {
	const r = 10
	line := NewRun(Path{Line(Pt(0, 0), Pt(100, 0))})
	// The circle above the line, from its lowest point: to roll to +x it
	// touches the line with its counter-clockwise side.
	var wheel Path
	const step = 2 * math.Pi / 16
	for i := range 16 {
		u, v := direct(float64(i)*step-math.Pi/2).Mul(r), direct(float64(i+1)*step-math.Pi/2).Mul(r)
		k := 4. / 3 * math.Tan(step/4)
		hub := Pt(0, r)
		wheel = append(wheel, Cubic(hub.Add(u), hub.Add(u).Add(u.Left().Mul(k)), hub.Add(v).Sub(v.Left().Mul(k)), hub.Add(v)))
	}
	w := Walk{A: line, B: NewRun(wheel), Ratio: 1}
	if err := w.Check(); err != nil {
		t.Fatal(err)
	}
	for i := range 61 {
		d := float64(i)
		c, ok := w.Lay(d, false)
		if !ok {
			t.Fatal("no position")
		}
		th := d / r
		want := Pt(r*(th-math.Sin(th)), r*(1-math.Cos(th)))
		if got := c.Map.Apply(Pt(0, 0)); !got.Near(want, 2e-4) {
			t.Errorf("at %g: mark at %v, cycloid %v", d, got, want)
		}
		if hub := c.Map.Apply(Pt(0, r)); !hub.Near(Pt(d, r), 2e-4) {
			t.Errorf("at %g: hub at %v", d, hub)
		}
		if math.Abs(c.RestA-(100-d)) > 1e-9 || math.Abs(c.RestB-(w.B.Length()-d)) > 1e-9 {
			t.Errorf("at %g: rests %g %g", d, c.RestA, c.RestB)
		}
	}
}

// A run walked along itself lies on itself; its mirror image, turned over, too.
func TestWalkAlongItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawPlainSize(t)
		p := Path{drawPlain(t, size)}
		next := drawPlain(t, size)
		p = append(p, next.Transform(Translation(p[0].P3.Sub(next.P0))))
		p[1].P0 = p[0].P3
		a := NewRun(p)
		if a.Length() < 1e-3*size {
			return
		}
		move := Rotation(rapid.Float64Range(-4, 4).Draw(t, "turn"), Pt(1, 2)).Then(Translation(Pt(30, -50)))
		mirror := rapid.Bool().Draw(t, "mirror")
		if mirror {
			move = Scaling(-1, 1).Then(move)
		}
		w := Walk{A: a, B: NewRun(p.Transform(move)), Ratio: 1}
		d := rapid.Float64Range(0, 1).Draw(t, "share") * a.Length()
		at, _ := a.After(d)
		if p[at.Seg].Deriv(at.T).Len() < 0.05*size {
			return // beside a cusp the direction is as uncertain as the place
		}
		c, ok := w.Lay(d, mirror)
		if !ok {
			t.Fatalf("no position at %g on %v", d, p)
		}
		back := move.Then(c.Map)
		for _, q := range []Point{p.Start(), p.End(), p[0].P3} {
			if !back.Apply(q).Near(q, 1e-5*size) {
				t.Fatalf("at %g of %g: %v comes back to %v", d, a.Length(), q, back.Apply(q))
			}
		}
		if det := c.Map.Det(); math.Abs(math.Abs(det)-1) > 1e-12 || (det < 0) != mirror {
			t.Fatalf("the map is not rigid: %v", c.Map)
		}
	})
}

// Pieces with their cloth left of their outlines lie side by side: A's to the left
// of the seam and B's, whose run goes against its outline, to the right.
func TestLaySideBySide(t *testing.T) {
	front := Polygon(Pt(0, 0), Pt(50, 0), Pt(50, 80), Pt(0, 80)) // side seam: edge 1, upward
	back := Polygon(Pt(0, 0), Pt(60, 0), Pt(60, 80), Pt(0, 80))  // side seam: edge 3, downward
	w := Walk{A: NewRun(front[1:2]), B: NewRun(back[3:4].Reverse()), Ratio: 1}
	c, ok := w.Lay(20, false)
	if !ok {
		t.Fatal("no position")
	}
	laid := back.Transform(c.Map)
	if b := laid.Bounds(); !b.Min.Near(Pt(50, 0), 1e-9) || !b.Max.Near(Pt(110, 80), 1e-9) {
		t.Errorf("back lies at %v", b)
	}
	c, _ = w.Lay(20, true)
	laid = back.Transform(c.Map)
	if b := laid.Bounds(); !b.Min.Near(Pt(-10, 0), 1e-9) || !b.Max.Near(Pt(50, 80), 1e-9) {
		t.Errorf("turned over, back lies at %v", b)
	}
}

func TestRunWithDart(t *testing.T) {
	r := NewRun(
		Path{Line(Pt(0, 0), Pt(30, 0))},
		Path{},
		Path{Line(Pt(40, 0), Pt(60, 0)), Line(Pt(60, 0), Pt(60, 0)), Line(Pt(60, 0), Pt(60, 10))},
		Path{},
	)
	if r.Length() != 60 || r.Paths() != 4 {
		t.Errorf("length %g, %d paths", r.Length(), r.Paths())
	}
	for _, c := range []struct {
		d         float64
		at, after RunPlace
		p, q      Point
	}{
		{-5, RunPlace{0, Place{0, 0}}, RunPlace{0, Place{0, 0}}, Pt(0, 0), Pt(0, 0)},
		{15, RunPlace{0, Place{0, 0.5}}, RunPlace{0, Place{0, 0.5}}, Pt(15, 0), Pt(15, 0)},
		{30, RunPlace{0, Place{0, 1}}, RunPlace{2, Place{0, 0}}, Pt(30, 0), Pt(40, 0)},
		{40, RunPlace{2, Place{0, 0.5}}, RunPlace{2, Place{0, 0.5}}, Pt(50, 0), Pt(50, 0)},
		{50, RunPlace{2, Place{0, 1}}, RunPlace{2, Place{2, 0}}, Pt(60, 0), Pt(60, 0)},
		{60, RunPlace{2, Place{2, 1}}, RunPlace{2, Place{2, 1}}, Pt(60, 10), Pt(60, 10)},
		{99, RunPlace{2, Place{2, 1}}, RunPlace{2, Place{2, 1}}, Pt(60, 10), Pt(60, 10)},
	} {
		at, ok := r.At(c.d)
		after, ok2 := r.After(c.d)
		if !ok || !ok2 || at != c.at || after != c.after || r.Point(at) != c.p || r.Point(after) != c.q {
			t.Errorf("at %g: %v %v, want %v %v", c.d, at, after, c.at, c.after)
		}
		if want := math.Max(0, math.Min(60, c.d)); math.Abs(r.To(at)-want) > 1e-12 || math.Abs(r.To(after)-want) > 1e-12 {
			t.Errorf("at %g: back at %g and %g", c.d, r.To(at), r.To(after))
		}
	}
	parts := r.Between(20, 45)
	if len(parts) != 2 || parts[0].End() != Pt(30, 0) || parts[1].Start() != Pt(40, 0) || parts[1].End() != Pt(55, 0) {
		t.Errorf("between 20 and 45: %v", parts)
	}
	parts = r.Between(45, 20)
	if len(parts) != 2 || parts[0].Start() != Pt(55, 0) || parts[1].End() != Pt(20, 0) {
		t.Errorf("between 45 and 20: %v", parts)
	}
	if at, _ := r.Reverse().At(10 + 20 + 10); r.Reverse().Point(at) != Pt(20, 0) {
		t.Errorf("backwards: %v", at)
	}
	if _, ok := NewRun().At(3); ok {
		t.Error("a place on no run")
	}
	if _, ok := NewRun(Path{}, Path{}).After(3); ok {
		t.Error("a place on an empty run")
	}
	if at, ok := NewRun(Path{}, Path{Line(Pt(1, 1), Pt(2, 1))}).At(0); !ok || at.Path != 1 {
		t.Errorf("start of a run that begins with an empty path: %v", at)
	}
}

func TestWalkRatios(t *testing.T) {
	line := func(l float64) Run { return NewRun(Path{Line(Pt(0, 0), Pt(l, 0))}) }
	for _, c := range []struct {
		w      Walk
		a, b   float64
		excess float64
	}{
		{Walk{A: line(100), B: line(100), Ratio: 1}, 40, 40, 0},
		{Walk{A: line(100), B: line(101), Ratio: 1}, 40, 40, 1},
		{Walk{A: line(100), B: line(150), Ratio: 1.5}, 40, 60, 0},
		{Walk{A: line(100), B: line(103), Ratio: 1.03, From: 20, To: 80}, 10, 10, 0},
		{Walk{A: line(100), B: line(103), Ratio: 1.03, From: 20, To: 80}, 50, 51.5, 0},
		{Walk{A: line(100), B: line(103), Ratio: 1.03, From: 20, To: 80}, 90, 93, 0},
		{Walk{A: line(100), B: line(80), Ratio: 0.8, From: 0, To: 50}, 25, 15, 0},
	} {
		if err := c.w.Check(); err != nil {
			t.Errorf("%+v: %v", c, err)
		}
		if b := c.w.ToB(c.a); math.Abs(b-c.b) > 1e-12 {
			t.Errorf("%g -> %g, want %g", c.a, b, c.b)
		}
		if a := c.w.ToA(c.b); math.Abs(a-c.a) > 1e-12 {
			t.Errorf("%g <- %g, want %g", a, c.b, c.a)
		}
		if e := c.w.Excess(); math.Abs(e-c.excess) > 1e-12 {
			t.Errorf("excess %g, want %g", e, c.excess)
		}
		if end := c.w.ToB(100); math.Abs(end-c.w.Wanted()) > 1e-12 {
			t.Errorf("the end goes to %g, wanted %g", end, c.w.Wanted())
		}
	}
	nan := math.NaN()
	for i, w := range []Walk{
		{A: line(0), B: line(10), Ratio: 1}, {A: line(10), B: NewRun(), Ratio: 1}, {A: line(10), B: line(10)},
		{A: line(10), B: line(10), Ratio: nan}, {A: line(10), B: line(10), Ratio: math.Inf(1)}, {A: line(nan), B: line(10), Ratio: 1},
		{A: line(10), B: line(10), Ratio: 1, From: 5, To: 3}, {A: line(10), B: line(10), Ratio: 1, From: 5, To: 11},
		{A: line(10), B: line(10), Ratio: 0.5, From: 4, To: 6},
	} {
		if w.Check() == nil {
			t.Errorf("walk %d passes", i)
		}
		w.Lay(5, false)
		w.Lay(nan, true)
	}
}

// ToA undoes ToB, and both rise.
func TestWalkInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := math.Pow(10, rapid.Float64Range(0, 4).Draw(t, "log length"))
		w := Walk{A: NewRun(Path{Line(Pt(0, 0), Pt(l, 0))}), B: NewRun(Path{Line(Pt(0, 0), Pt(l, 0))}), Ratio: rapid.Float64Range(0.3, 3).Draw(t, "ratio")}
		if rapid.Bool().Draw(t, "stretch") {
			w.From = l * rapid.Float64Range(0, 0.4).Draw(t, "from")
			w.To = l * rapid.Float64Range(0.6, 1).Draw(t, "to")
		}
		if w.Check() != nil {
			return
		}
		a := l * rapid.Float64Range(-0.1, 1.1).Draw(t, "a")
		if back := w.ToA(w.ToB(a)); math.Abs(back-a) > 1e-9*l {
			t.Fatalf("%g comes back as %g", a, back)
		}
		if w.ToB(a+0.01*l) <= w.ToB(a) {
			t.Fatal("does not rise")
		}
	})
}
