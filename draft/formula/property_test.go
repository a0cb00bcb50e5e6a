package formula

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// drawAt draws a point within size mm of the origin, now and then on a grid.
func drawAt(t *rapid.T, size float64, label string) Value {
	x := rapid.Float64Range(-1, 1).Draw(t, label+" x")
	y := rapid.Float64Range(-1, 1).Draw(t, label+" y")
	if rapid.IntRange(0, 3).Draw(t, label+" on a grid") == 0 {
		x, y = math.Round(x*4)/4, math.Round(y*4)/4
	}
	return pointAt(x*size, y*size)
}

// drawSize draws a size in mm, from a doll's sleeve to a cloak.
func drawSize(t *rapid.T) float64 {
	return math.Pow(10, rapid.Float64Range(1, 3.5).Draw(t, "size"))
}

// drawCurve draws a curve of one to three stretches.
func drawCurve(t *rapid.T, size float64) Value {
	var args []any
	for range rapid.IntRange(1, 3).Draw(t, "stretches") {
		p, q := drawAt(t, size, "start"), drawAt(t, size, "end")
		if rapid.Bool().Draw(t, "straight") {
			v, _ := lineOf([]any{p, q})
			args = append(args, v)
			continue
		}
		v, _ := hookOf([]any{p, drawAt(t, size, "corner"), q, rapid.Float64Range(0, 1).Draw(t, "fullness")})
		args = append(args, v)
	}
	if len(args) == 1 {
		return args[0]
	}
	v, _ := pathOf(args)
	return v
}

// asked works a formula out whose names are drawn. ok is false where the function
// says that it cannot.
func asked(t *rapid.T, source string, v Values) (Value, bool) {
	s := NewScope()
	for name, x := range v {
		if err := s.Add(name, KindOf(x)); err != nil {
			t.Fatal(err)
		}
	}
	f, err := Compile(source, s)
	if err != nil {
		t.Fatal(err)
	}
	x, err := f.Value(v)
	return x, err == nil
}

// measured is the length of a curve by a rule of our own: the speed integrated by
// adaptive Simpson steps.
func measured(c geom.Path) float64 {
	sum := 0.0
	for _, s := range c {
		speed := func(t float64) float64 { return s.Deriv(t).Len() }
		for k := range 8 {
			a, b := float64(k)/8, float64(k+1)/8
			sum += simpson(speed, a, b, speed(a), speed((a+b)/2), speed(b), 1e-13*c[0].P0.Dist(c[len(c)-1].P3), 40)
		}
	}
	return sum
}

// simpson integrates f over a panel whose ends and middle are known.
func simpson(f func(float64) float64, a, b, fa, fm, fb, tol float64, depth int) float64 {
	m := (a + b) / 2
	fl, fr := f((a+m)/2), f((m+b)/2)
	whole := (b - a) / 6 * (fa + 4*fm + fb)
	halves := (b - a) / 12 * (fa + 4*fl + 2*fm + 4*fr + fb)
	if depth == 0 || math.Abs(halves-whole) <= 15*tol {
		return halves + (halves-whole)/15
	}
	return simpson(f, a, m, fa, fl, fm, tol/2, depth-1) + simpson(f, m, b, fm, fr, fb, tol/2, depth-1)
}

// TestPartsMakeTheWhole: a curve cut at two places has three parts that are as long
// as was asked and touch.
func TestPartsMakeTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		c := drawCurve(t, size)
		long := curve(c).Length()
		if long < 1e-3*size {
			t.Skip("hardly a curve")
		}
		d := Length{long * rapid.Float64Range(0, 1).Draw(t, "share")}
		v := Values{"c": c, "d": d}
		a, _ := asked(t, "part(c, 0*mm, d)", v)
		b, _ := asked(t, "part(c, d, length(c))", v)
		back, _ := asked(t, "part(c, d, 0*mm)", v)
		p, q := curve(a), curve(b)
		if math.Abs(p.Length()-d.MM) > 1e-9*long || math.Abs(p.Length()+q.Length()-long) > 2e-9*long {
			t.Errorf("the parts are %v and %v long, the whole %v, the first should be %v", p.Length(), q.Length(), long, d.MM)
		}
		if !p.End().Near(q.Start(), 1e-9*long) || p.Start() != curve(c).Start() || !q.End().Near(curve(c).End(), 1e-12*size) {
			t.Errorf("the parts %v and %v of %v do not touch", p, q, c)
		}
		if !curve(back).Start().Near(p.End(), 1e-12*size) || curve(back).End() != p.Start() {
			t.Error("a part that is asked for backwards does not run backwards")
		}
		on, _ := asked(t, "on(c, d)", v)
		if !pt(on).Near(p.End(), 1e-9*long) {
			t.Errorf("on gives %v, and the part ends at %v", on, p.End())
		}
	})
}

// TestTrimmed: the curve has the length, and is the old one as far as that went.
func TestTrimmed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		c := drawCurve(t, size)
		long := curve(c).Length()
		if long < 1e-3*size {
			t.Skip("hardly a curve")
		}
		want := long * rapid.Float64Range(0.001, 3).Draw(t, "share")
		x, ok := asked(t, "trimmed(c, d)", Values{"c": c, "d": Length{want}})
		if !ok {
			t.Fatal("a curve cannot be trimmed")
		}
		got := curve(x)
		if math.Abs(got.Length()-want) > 1e-9*want {
			t.Errorf("it is %v long, want %v", got.Length(), want)
		}
		if got.Start() != curve(c).Start() {
			t.Error("it starts elsewhere")
		}
		if want <= long {
			return
		}
		before := curve(c).Tangent(geom.Place{Seg: len(curve(c)) - 1, T: 1})
		after := got.Tangent(geom.Place{Seg: len(got) - 1, T: 1})
		if before.Sub(after).Len() > 1e-6 {
			t.Errorf("it ended in the direction %v and is lengthened in the direction %v", before, after)
		}
	})
}

// TestCompass: the point has both distances and lies on the left; where the circles
// do not meet by the triangle inequality, there is none.
func TestCompass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		c1, c2 := drawAt(t, size, "first"), drawAt(t, size, "second")
		p, q := pt(c1), pt(c2)
		r1 := size * rapid.Float64Range(0, 2).Draw(t, "first radius")
		r2 := size * rapid.Float64Range(0, 2).Draw(t, "second radius")
		x, ok := asked(t, "compass(a, r, b, s)", Values{"a": c1, "r": Length{r1}, "b": c2, "s": Length{r2}})
		d := p.Dist(q)
		triangle := d > onePlace && d <= r1+r2 && r1 <= d+r2 && r2 <= d+r1
		if triangle && !ok {
			t.Fatalf("circles of %v and %v that are %v apart do not meet", r1, r2, d)
		}
		if !ok {
			return
		}
		got := pt(x)
		// Where the circles touch, the point is off by the root of the rounding.
		if math.Abs(got.Dist(p)-r1) > 3e-9*size || math.Abs(got.Dist(q)-r2) > 3e-9*size {
			t.Errorf("it lies %v and %v away, want %v and %v", got.Dist(p), got.Dist(q), r1, r2)
		}
		if q.Sub(p).Cross(got.Sub(p)) < -1e-12*size*size {
			t.Error("it lies on the right")
		}
	})
}

// TestEuclid: propositions about lines and triangles.
func TestEuclid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		v := Values{"p": drawAt(t, size, "p"), "q": drawAt(t, size, "q"), "a": drawAt(t, size, "a"), "b": drawAt(t, size, "b")}
		a, b, p, q := pt(v["a"]), pt(v["b"]), pt(v["p"]), pt(v["q"])
		if a.Dist(b) < 1e-3*size || p.Dist(q) < 1e-3*size {
			t.Skip("no lines")
		}
		off := func(x, a, b geom.Point) float64 { return math.Abs(b.Sub(a).Unit().Cross(x.Sub(a))) }
		foot, _ := asked(t, "foot(p, a, b)", v)
		if off(pt(foot), a, b) > 1e-11*size || math.Abs(p.Sub(pt(foot)).Dot(b.Sub(a).Unit())) > 1e-11*size {
			t.Error("the foot does not lie on the line, or not square below the point")
		}
		image, _ := asked(t, "mirror(p, a, b)", v)
		if !pt(image).Lerp(p, 0.5).Near(pt(foot), 1e-10*size) {
			t.Error("the foot is not midway between a point and its image")
		}
		again, _ := asked(t, "mirror(mirror(p, a, b), a, b)", v)
		if !pt(again).Near(p, 1e-10*size) {
			t.Error("a point mirrored twice is another")
		}
		if sine := b.Sub(a).Unit().Cross(q.Sub(p).Unit()); math.Abs(sine) > 1e-3 {
			x, ok := asked(t, "meet(p, q, a, b)", v)
			if ok && (off(pt(x), a, b) > 1e-8*size || off(pt(x), p, q) > 1e-8*size) {
				t.Errorf("the lines meet %v and %v away from themselves", off(pt(x), a, b), off(pt(x), p, q))
			}
		}
		// Thales: the angle in a semicircle is right.
		thales, _ := asked(t, "turn(a, between(a, b, 0.5), angle(a, p))", v)
		if p.Dist(a) > 1e-3*size && math.Abs(pt(thales).Sub(a).Dot(pt(thales).Sub(b))) > 1e-10*size*size {
			t.Error("the angle in a semicircle is not right")
		}
		// Pythagoras.
		side, _ := asked(t, "hyp(across(b) - across(a), height(b) - height(a))", v)
		other, _ := asked(t, "leg(dist(a, b), across(b) - across(a))", v)
		if !near(mm(side), a.Dist(b)) || math.Abs(mm(other)-math.Abs(b.Y-a.Y)) > 1e-6*size {
			t.Error("Pythagoras does not hold")
		}
		step, _ := asked(t, "polar(a, angle(a, b), dist(a, b))", v)
		if !pt(step).Near(b, 1e-11*size) {
			t.Error("going by direction and distance does not arrive")
		}
		aside, _ := asked(t, "dist(aside(a, b, 3*mm), b) - hyp(dist(a, b), 3*mm)", v)
		if math.Abs(mm(aside)) > 1e-11*size {
			t.Error("aside is not square")
		}
	})
}

// TestThrough: the curve goes through every point, without a kink, and is the same
// whichever way the sheet lies.
func TestThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		v := Values{"o": drawAt(t, size, "about"), "w": Angle{rapid.Float64Range(-3, 3).Draw(t, "turn")}}
		source, turned := "through(", "through("
		var pts []geom.Point
		for i := range rapid.IntRange(2, maxArguments).Draw(t, "points") {
			name := string(rune('a' + i))
			if name >= "o" {
				name += "x"
			}
			// Not so near each other that turning decides whether they are one.
			p := pt(drawAt(t, 500, name))
			v[name] = pointAt(math.Round(p.X)*size/500, math.Round(p.Y)*size/500)
			if i > 0 && rapid.IntRange(0, 5).Draw(t, "same") == 0 {
				v[name] = Point{pts[i-1]}
			}
			pts = append(pts, pt(v[name]))
			if i > 0 {
				source, turned = source+", ", turned+", "
			}
			source += name
			turned += "turn(" + name + ", o, w)"
		}
		x, ok := asked(t, source+")", v)
		if !ok {
			t.Fatal("there is no curve through points")
		}
		c := curve(x)
		if len(c) != len(pts)-1 {
			t.Fatalf("%d stretches through %d points", len(c), len(pts))
		}
		var travel geom.Point
		for i, s := range c {
			if s.P0 != pts[i] || s.P3 != pts[i+1] {
				t.Errorf("stretch %d does not join its points", i)
			}
			if s.P0.Near(s.P3, touching) {
				continue
			}
			if travel != (geom.Point{}) && travel.Sub(s.Tangent(0)).Len() > 1e-9+1e-13*size/s.P0.Dist(s.P3) {
				t.Errorf("there is a kink of %v before stretch %d: %v", travel.Sub(s.Tangent(0)).Len(), i, c)
			}
			travel = s.Tangent(1)
		}
		y, _ := asked(t, turned+")", v)
		z, _ := asked(t, "turned("+source+"), o, w)", v)
		for i, s := range curve(y) {
			// A chord that turns straight back may bend to either side.
			if q := curve(z)[i]; !s.P1.Near(q.P1, 1e-9*size) && !straightBack(pts) {
				t.Errorf("stretch %d turns with the sheet to %v and not to %v", i, q.P1, s.P1)
			}
		}
	})
}

// straightBack says whether a chord turns back on the one before it.
func straightBack(p []geom.Point) bool {
	var last geom.Point
	for i := range len(p) - 1 {
		if p[i] == p[i+1] {
			continue
		}
		u := p[i+1].Sub(p[i]).Unit()
		if u.Dot(last) < 0 && math.Abs(u.Cross(last)) < 1e-6 {
			return true
		}
		last = u
	}
	return false
}

// TestCrossing: the point lies on the line and on the curve, and the curve does not
// cross the line before it.
func TestCrossing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		v := Values{"c": drawCurve(t, size), "a": drawAt(t, size, "a"), "b": drawAt(t, size, "b")}
		a, b := pt(v["a"]), pt(v["b"])
		if a.Dist(b) < 1e-3*size {
			t.Skip("no line")
		}
		x, ok := asked(t, "crossing(c, a, b)", v)
		side := func(p geom.Point) float64 { return b.Sub(a).Unit().Cross(p.Sub(a)) }
		c := curve(v["c"])
		const sure = 2e-6 // more than the 1e-6 within which a curve meets a line
		var found geom.Point
		if ok {
			found = pt(x)
			if _, off := c.Nearest(found); off > 1e-9*size || math.Abs(side(found)) > sure {
				t.Errorf("it lies %v from the curve and %v from the line", off, side(found))
			}
		}
		first := 0.0
		for _, s := range c {
			for k := range 50 {
				lo, hi := float64(k)/50, float64(k+1)/50
				if ok && s.Between(lo, hi).HandleBounds().Grow(1e-6).Contains(found) {
					return
				}
				if d := side(s.At(hi)); first == 0 && math.Abs(d) > sure {
					first = d
				} else if d*first < 0 && math.Abs(d) > sure {
					t.Fatalf("the curve crosses the line before %v", x)
				}
			}
		}
	})
}

// TestPath: curves and points are joined in their order, and what touches is not
// joined by a line.
func TestPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		c, p := drawCurve(t, size), drawAt(t, size, "p")
		x, ok := asked(t, "path(p, c, moved(c, across(end(c)) - across(start(c)), height(end(c)) - height(start(c))), p)", Values{"c": c, "p": p})
		if !ok {
			t.Skip("beyond the sheet")
		}
		got := curve(x)
		for i := 1; i < len(got); i++ {
			if got[i].P0 != got[i-1].P3 {
				t.Fatalf("stretch %d does not start where the one before ends", i)
			}
		}
		if got.Start() != pt(p) || !got.End().Near(pt(p), touching) {
			t.Error("it does not start and end at the point")
		}
		if n := 2*len(curve(c)) + 2; len(got) > n {
			t.Errorf("%d stretches, want %d", len(got), n)
		}
	})
}

// TestScaled: a formula of lengths gives the same at any scale.
func TestScaled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := math.Pow(10, rapid.Float64Range(-2, 1).Draw(t, "scale"))
		v := Values{"l": Length{rapid.Float64Range(50, 200).Draw(t, "l")}, "r": Length{rapid.Float64Range(100, 300).Draw(t, "r")}}
		for _, source := range []string{
			"length(hook(at(l, r), at(l, -r), at(-l, -r), 0.4))",
			"dist(compass(at(l, l), l + r, at(r, l), l + r), at(-l, r))",
			"across(on(through(at(l, r), at(r, r), at(r, -l), at(-l, -r)), l))",
			"height(end(sweep(at(l, l), l, at(l, l + r), r)))",
			"height(crossing(hook(at(l, r), at(l, -r), at(-l, -r), 0.4), at(0*mm, l), at(l, -r)))",
			"across(end(trimmed(bend(at(l, r), 90*degree, at(-l, l), 180*degree, r, l), 3 * l)))",
		} {
			big := Values{"l": Length{k * mm(v["l"])}, "r": Length{k * mm(v["r"])}}
			a, ok1 := asked(t, source, v)
			b, ok2 := asked(t, source, big)
			if ok1 != ok2 {
				t.Fatalf("%s: %v at one scale and %v at another", source, a, b)
			}
			if ok1 && math.Abs(mm(a)*k-mm(b)) > 1e-8*k*500 {
				t.Errorf("%s is %v, and %v at %v times the scale", source, mm(a), mm(b), k)
			}
		}
	})
}
