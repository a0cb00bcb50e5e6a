package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// want is an expected meeting: a point and a kind.
type want struct {
	p    Point
	kind MeetingKind
}

func checkMeetings(t *testing.T, name string, a, b Segment, wants []want) {
	t.Helper()
	for _, swap := range []bool{false, true} {
		x, y := a, b
		if swap {
			x, y = b, a
		}
		got := x.Intersections(y)
		if len(got) != len(wants) {
			t.Errorf("%s: %d meetings %+v, want %v", name, len(got), got, wants)
			return
		}
	match:
		for _, w := range wants {
			for _, g := range got {
				if g.Kind == w.kind && (g.P.Near(w.p, 1e-6) || g.Kind == Overlaps && x.At(g.T2).Near(w.p, 1e-6)) {
					continue match
				}
			}
			t.Errorf("%s: no meeting %v in %+v", name, w, got)
		}
	}
}

func TestIntersectionsKnown(t *testing.T) {
	arch := Cubic(Pt(0, 0), Pt(0, 40), Pt(60, 40), Pt(60, 0)) // top at (30, 30)
	for _, c := range []struct {
		name string
		a, b Segment
		want []want
	}{
		{"lines crossing", Line(Pt(0, 0), Pt(10, 10)), Line(Pt(0, 10), Pt(10, 0)), []want{{Pt(5, 5), Crosses}}},
		{"lines apart", Line(Pt(0, 0), Pt(10, 10)), Line(Pt(0, 10), Pt(4, 6)), nil},
		{"lines sharing an end", Line(Pt(0, 0), Pt(10, 10)), Line(Pt(10, 10), Pt(10, 0)), []want{{Pt(10, 10), Touches}}},
		{"a line ending on another", Line(Pt(0, 0), Pt(10, 0)), Line(Pt(3, 0), Pt(5, 9)), []want{{Pt(3, 0), Touches}}},
		{"ending on it to rounding", Line(Pt(0, 0), Pt(10, 0)), Line(Pt(3, 5e-7), Pt(5, 9)), []want{{Pt(3, 0), Touches}}},
		{"ending short of it", Line(Pt(0, 0), Pt(10, 0)), Line(Pt(3, 5e-6), Pt(5, 9)), nil},
		{"lines parallel", Line(Pt(0, 0), Pt(10, 0)), Line(Pt(0, 1e-5), Pt(10, 1e-5)), nil},
		{"lines end to end", Line(Pt(0, 0), Pt(10, 0)), Line(Pt(10, 0), Pt(30, 0)), []want{{Pt(10, 0), Touches}}},
		{"lines in line, apart", Line(Pt(0, 0), Pt(10, 0)), Line(Pt(11, 0), Pt(30, 0)), nil},
		{"lines overlapping", Line(Pt(0, 0), Pt(10, 0)), Line(Pt(7, 0), Pt(30, 0)), []want{{Pt(10, 0), Overlaps}}},
		{"lines overlapping against", Line(Pt(0, 0), Pt(10, 7)), Line(Pt(10, 7), Pt(0, 0)), []want{{Pt(10, 7), Overlaps}}},
		{"nearly parallel lines", Line(Pt(0, 0), Pt(100, 0)), Line(Pt(0, -1e-4), Pt(100, 1e-4)), []want{{Pt(50, 0), Crosses}}},
		{"line through an arch", arch, Line(Pt(30, -10), Pt(30, 50)), []want{{Pt(30, 30), Crosses}}},
		{"line along the top", arch, Line(Pt(0, 30), Pt(60, 30)), []want{{Pt(30, 30), Touches}}},
		{"line just over the top", arch, Line(Pt(0, 30.00001), Pt(60, 30.00001)), nil},
		{"line along the feet", arch, Line(Pt(-10, 0), Pt(70, 0)), []want{{Pt(0, 0), Touches}, {Pt(60, 0), Touches}}},
		{"line ending on an arch", arch, Line(Pt(30, 30), Pt(30, 60)), []want{{Pt(30, 30), Touches}}},
		{"arch and itself", arch, arch, []want{{Pt(60, 0), Overlaps}}},
		{"arch and itself backwards", arch, arch.Reverse(), []want{{Pt(60, 0), Overlaps}}},
		{"parts of one arch", arch.Between(0, 0.6), arch.Between(0.4, 1), []want{{arch.At(0.6), Overlaps}}},
		{"parts of one arch against", arch.Between(0.3, 0.7), arch.Reverse(), []want{{arch.At(0.7), Overlaps}}},
		{"parts that join", arch.Between(0, 0.5), arch.Between(0.5, 1), []want{{Pt(30, 30), Touches}}},
		{"arches back to back", arch, Cubic(Pt(0, 60), Pt(0, 20), Pt(60, 20), Pt(60, 60)), []want{{Pt(30, 30), Touches}}},
		{"inflection along a line", Cubic(Pt(0, 0), Pt(10, 0), Pt(20, 0), Pt(30, 10)).twice(), Line(Pt(-30, 0), Pt(30, 0)), []want{{Pt(0, 0), Crosses}}},
		{"point on a curve", arch, Line(Pt(30, 30), Pt(30, 30)), []want{{Pt(30, 30), Touches}}},
		{"point off a curve", arch, Line(Pt(30, 31), Pt(30, 31)), nil},
	} {
		checkMeetings(t, c.name, c.a, c.b, c.want)
	}
}

// twice returns the cubic that runs like s on its right half and, turned about
// s.P0, on its left.
func (s Segment) twice() Segment {
	x := s.P3.X
	return Cubic(Pt(-x, -s.P3.Y), Pt(-x/3, s.P3.Y), Pt(x/3, -s.P3.Y), Pt(x, s.P3.Y))
}

// The Chebyshev cubics y = T3(x) and x = T3(y) meet nine times, the most that
// Bézout's theorem allows for cubics: where T9(x) = x, at cos(2πk/8) and
// cos(2πk/10) (from T3(T3(x)) = T9(x) and T9(cos θ) = cos 9θ).
func TestNineCrossings(t *testing.T) {
	chebyshev := Cubic(Pt(-1, -1), Pt(-1./3, 5), Pt(1./3, -5), Pt(1, 1))
	a := chebyshev.Transform(Scaling(50, 50))
	b := a.Transform(Affine{B: 1, C: 1})
	got := a.Intersections(b)
	if len(got) != 9 {
		t.Fatalf("%d meetings", len(got))
	}
	for i, angle := range []float64{1, 4. / 5, 3. / 4, 3. / 5, 1. / 2, 2. / 5, 1. / 4, 1. / 5, 0} {
		if m := got[i]; math.Abs(m.P.X-50*math.Cos(angle*math.Pi)) > 1e-9 || (m.Kind == Crosses) != (i > 0 && i < 8) {
			t.Errorf("meeting %d: %+v, want x %.12g", i, m, 50*math.Cos(angle*math.Pi))
		}
	}
}

// The parabola y = x² meets the line y = m x + c at x = (m ± √(m² + 4c))/2.
func TestParabolaMeetsLine(t *testing.T) {
	s := parabola(0.5, -10, 10)
	for _, c := range []struct{ m, c float64 }{{0, 4}, {1, 1}, {-3, 0.5}, {5, -6}, {2, -0.999999}, {0.1, 1e-5}} {
		l := Line(Pt(-9, -9*c.m+c.c), Pt(9, 9*c.m+c.c))
		got := s.Intersections(l)
		root := math.Sqrt(c.m*c.m + 4*c.c)
		if len(got) != 2 {
			t.Errorf("%v: %+v", c, got)
			continue
		}
		for i, x := range []float64{(c.m - root) / 2, (c.m + root) / 2} {
			if math.Abs(got[i].P.X-x) > 1e-9 || math.Abs(got[i].T-(x+10)/20) > 1e-10 {
				t.Errorf("%v: x %.12g, want %.12g", c, got[i].P.X, x)
			}
		}
	}
	if got := s.Intersections(Line(Pt(-9, -19), Pt(9, 17))); len(got) != 1 || got[0].Kind != Touches || !got[0].P.Near(Pt(1, 1), 2e-3) {
		t.Errorf("tangent y = 2x - 1: %+v", got)
	}
}

// polyCrossings returns the crossings of two dense chains, in the parameters of
// their segments: a slow way that shares nothing with the arcs.
func polyCrossings(a, b Segment, n int) (ts, us []float64) {
	pa, pb := make([]Point, n+1), make([]Point, n+1)
	for i := range n + 1 {
		pa[i], pb[i] = a.At(float64(i)/float64(n)), b.At(float64(i)/float64(n))
	}
	for i := range n {
		ra := RectOf(pa[i], pa[i+1])
		for j := range n {
			if !ra.Overlaps(RectOf(pb[j], pb[j+1])) {
				continue
			}
			da, db, g := pa[i+1].Sub(pa[i]), pb[j+1].Sub(pb[j]), pb[j].Sub(pa[i])
			det := da.Cross(db)
			t, u := g.Cross(db)/det, g.Cross(da)/det
			if t >= 0 && t < 1 && u >= 0 && u < 1 {
				ts, us = append(ts, (float64(i)+t)/float64(n)), append(us, (float64(j)+u)/float64(n))
			}
		}
	}
	return ts, us
}

// No crossing of the dense chains is missed, and no meeting is made up.
func TestIntersectionsAgainstChains(t *testing.T) {
	const n = 300
	rapid.Check(t, func(t *rapid.T) {
		size := drawPlainSize(t)
		a, b := drawPlain(t, size), drawPlain(t, size)
		got := a.Intersections(b)
		checkTrue(t, a, b, got)
		back := b.Intersections(a)
		checkTrue(t, b, a, back)
		if n, k := clearCrossings(a, b, got), clearCrossings(b, a, back); n != k {
			t.Fatalf("%v %v: %d crossings, swapped %d: %+v %+v", a, b, n, k, got, back)
		}
		ts, us := polyCrossings(a, b, n)
	next:
		for i := range ts {
			p, q := a.At(ts[i]), b.At(us[i])
			if sin := a.Tangent(ts[i]).Cross(b.Tangent(us[i])); math.Abs(sin) < 0.2 || p.Dist(q) > 0.01*size {
				continue // too flat for chords to tell
			}
			if a.Deriv(ts[i]).Len() < 0.1*size || b.Deriv(us[i]).Len() < 0.1*size {
				continue // beside a cusp
			}
			for _, m := range got {
				if math.Abs(m.T-ts[i]) < 0.02 && math.Abs(m.U-us[i]) < 0.02 || m.Kind == Overlaps {
					continue next
				}
			}
			t.Fatalf("%v %v: crossing at %g %g (%v) missing in %+v", a, b, ts[i], us[i], p, got)
		}
	})
}

// clearCrossings counts the crossings at an angle that rounding cannot hide.
func clearCrossings(a, b Segment, got []Meeting) (n int) {
	for _, m := range got {
		if m.Kind == Crosses && math.Abs(a.Tangent(m.T).Cross(b.Tangent(m.U))) > 0.01 {
			n++
		}
	}
	return n
}

func checkTrue(t *rapid.T, a, b Segment, got []Meeting) {
	tol := 2.1 * meetTol(a, b)
	for i, m := range got {
		if d := a.At(m.T).Dist(b.At(m.U)); d > tol || !a.At(m.T).Near(m.P, tol) {
			t.Fatalf("%v %v: meeting %+v is %g apart", a, b, m, d)
		}
		if m.Kind == Overlaps {
			if d := a.At(m.T2).Dist(b.At(m.U2)); d > tol {
				t.Fatalf("%v %v: overlap %+v ends %g apart", a, b, m, d)
			}
			if _, d := b.Nearest(a.At((m.T + m.T2) / 2)); d > tol {
				t.Fatalf("%v %v: overlap %+v is %g apart inside", a, b, m, d)
			}
		}
		if i > 0 && got[i-1].T > m.T {
			t.Fatalf("not in order: %+v", got)
		}
	}
}

// Curves made to meet at a point, at any angle, do.
func TestIntersectionsFindMadeOnes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawPlainSize(t)
		a, b := drawPlain(t, size), drawPlain(t, size)
		ta, ub := rapid.Float64Range(0, 1).Draw(t, "t"), rapid.Float64Range(0, 1).Draw(t, "u")
		if rapid.Bool().Draw(t, "tangent") {
			angle := a.Tangent(ta).Angle() - b.Tangent(ub).Angle()
			b = b.Transform(Rotation(angle, Point{}))
		}
		b = b.Transform(Translation(a.At(ta).Sub(b.At(ub))))
		got := a.Intersections(b)
		checkTrue(t, a, b, got)
		p := a.At(ta)
		for _, m := range got {
			if m.P.Near(p, 1e-6+1e-9*size) || m.Kind == Overlaps {
				return
			}
			// A contact that is within tolerance for a stretch is reported at
			// its nearest point.
			if stays(a, b, m.T, ta) {
				return
			}
		}
		t.Fatalf("%v %v: meeting at %g, %g (%v) missing in %+v", a, b, ta, ub, p, got)
	})
}

// stays reports whether a is within tolerance of b all the way from t0 to t1.
func stays(a, b Segment, t0, t1 float64) bool {
	for i := range 33 {
		if _, d := b.Nearest(a.At(t0 + (t1-t0)*float64(i)/32)); d > 2*meetTol(a, b) {
			return false
		}
	}
	return true
}

func TestSelfIntersection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawCubic(t, drawSize(t))
		a, b, ok := s.SelfIntersection()
		if !ok {
			return
		}
		if !(0 <= a && a < b && b <= 1) || !s.At(a).Near(s.At(b), 1e-6+1e-9*s.size()) {
			t.Fatalf("%v: %g %g, %g apart", s, a, b, s.At(a).Dist(s.At(b)))
		}
	})
	for _, c := range []struct {
		s  Segment
		ok bool
	}{
		{Cubic(Pt(0, 0), Pt(120, 90), Pt(-20, 90), Pt(100, 0)), true},
		{Cubic(Pt(0, 0), Pt(100, 90), Pt(-100, 90), Pt(0, 0)), true}, // ends meet
		{Cubic(Pt(0, 0), Pt(40, 0), Pt(70, 30), Pt(75, 80)), false},
		{Cubic(Pt(3, -2), Pt(-1, 2), Pt(-1, -2), Pt(3, 2)), false}, // cusp
		{Cubic(Pt(0, 0), Pt(10, 10), Pt(-3, -3), Pt(6, 6)), false}, // folded
		{parabola(0.5, -3, 3), false},
		{Line(Pt(0, 0), Pt(1, 1)), false},
	} {
		if a, b, ok := c.s.SelfIntersection(); ok != c.ok {
			t.Errorf("%v: %g %g %v", c.s, a, b, ok)
		}
	}
	// By symmetry the loop of the first crosses at x = 50.
	s := Cubic(Pt(0, 0), Pt(120, 90), Pt(-20, 90), Pt(100, 0))
	if a, b, _ := s.SelfIntersection(); math.Abs(s.At(a).X-50) > 1e-12 || math.Abs(a+b-1) > 1e-12 {
		t.Errorf("loop at %g %g", a, b)
	}
}

func TestFolded(t *testing.T) {
	for _, c := range []struct {
		s  Segment
		ok bool
	}{
		{Cubic(Pt(0, 0), Pt(20, 20), Pt(-10, -10), Pt(10, 10)), true},
		{Cubic(Pt(0, 0), Pt(20, 20), Pt(20, 20), Pt(0, 0)), true},
		{Cubic(Pt(0, 0), Pt(3, 3), Pt(6, 6), Pt(10, 10)), false},
		{Cubic(Pt(0, 0), Pt(0, 0), Pt(10, 10), Pt(10, 10)), false},
		{Cubic(Pt(0, 0), Pt(10, 10), Pt(0, 0), Pt(10, 10)), false}, // rests in the middle
		{Cubic(Pt(0, 0), Pt(-10, 0), Pt(5, 0), Pt(10, 0)), true},
		{Cubic(Pt(0, 0), Pt(-10, 0), Pt(5, 0.01), Pt(10, 0)), false},
		{Cubic(Pt(1, 1), Pt(1, 1), Pt(1, 1), Pt(1, 1)), false},
	} {
		if u, ok := c.s.Folded(); ok != c.ok {
			t.Errorf("%v: %g %v", c.s, u, ok)
		}
	}
}

func TestIntersectionsOfWildNumbers(t *testing.T) {
	for _, a := range wild() {
		for _, b := range append(wild(), Cubic(Pt(0, 0), Pt(10, 20), Pt(30, -20), Pt(40, 0))) {
			a.Intersections(b)
		}
		a.SelfIntersection()
		a.Folded()
	}
}
