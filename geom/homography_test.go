package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// someHomography draws a map like that of a camera over a table: the depth stays above
// 0.4 over the square of 100 about the origin.
func someHomography(t *rapid.T) Homography {
	num := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	turn := Rotation(num(-3, 3, "turn"), Point{}).Then(Scaling(num(0.2, 5, "across"), num(0.2, 5, "up")))
	turn = turn.Then(Rotation(num(-3, 3, "skew"), Point{})).Then(Translation(Pt(num(-200, 200, "x"), num(-200, 200, "y"))))
	h := turn.Projective()
	h.G, h.H = num(-0.003, 0.003, "g"), num(-0.003, 0.003, "h")
	return h
}

func somePlace(t *rapid.T) Point {
	return Pt(rapid.Float64Range(-100, 100).Draw(t, "px"), rapid.Float64Range(-100, 100).Draw(t, "py"))
}

func TestHomographyLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p := someHomography(t), somePlace(t)
		near := func(a, b Point, what string) {
			t.Helper()
			if a.Dist(b) > 1e-7*(1+a.Len()) {
				t.Fatalf("%s: %v, not %v", what, a, b)
			}
		}
		if back, ok := h.Invert(); ok {
			near(back.Apply(h.Apply(p)), p, "there and back")
		}
		m := Rotation(0.3, Pt(5, -2)).Then(Scaling(2, -3))
		near(h.Then(m).Apply(p), m.Apply(h.Apply(p)), "then")
		if g, ok := h.After(m); ok && math.Abs(h.Depth(m.Apply(p))) > 0.05 {
			near(g.Apply(p), h.Apply(m.Apply(p)), "after")
		}
		// The derivative against a difference.
		const step = 1e-4
		d := h.Apply(p.Add(Pt(step, 2*step))).Sub(h.Apply(p.Sub(Pt(step, 2*step)))).Mul(0.5 / step)
		if v := h.Near(p).ApplyVector(Pt(1, 2)); v.Dist(d) > 1e-4*(1+v.Len()) {
			t.Fatalf("derivative %v, by difference %v", v, d)
		}
		near(h.Near(p).Apply(p), h.Apply(p), "near")
	})
}

// Four pairs fix the map: what is fitted is the map that made the pairs, everywhere.
func TestFitHomographyOfFour(t *testing.T) {
	corners := []Point{Pt(-100, -90), Pt(95, -100), Pt(100, 97), Pt(-98, 100)}
	rapid.Check(t, func(t *rapid.T) {
		h, p := someHomography(t), somePlace(t)
		to := make([]Point, len(corners))
		for i, c := range corners {
			to[i] = h.Apply(c)
		}
		got, rms, err := FitHomography(corners, to)
		if err != nil {
			t.Fatal(err)
		}
		if want := h.Apply(p); rms > 1e-8*(1+want.Len()) || got.Apply(p).Dist(want) > 1e-7*(1+want.Len()) {
			t.Fatalf("%v goes to %v, not %v; rms %g", p, got.Apply(p), want, rms)
		}
	})
}

// The map that takes the unit square to a given quadrilateral has a closed form
// (Heckbert 1989, "Fundamentals of Texture Mapping and Image Warping", 2.2.3; the
// formula from memory, its values checked by the corners themselves).
func TestFitHomographyClosedForm(t *testing.T) {
	quad := [4]Point{Pt(10, 20), Pt(110, 35), Pt(95, 140), Pt(-5, 100)}
	s := quad[0].Sub(quad[1]).Add(quad[2]).Sub(quad[3])
	d1, d2 := quad[1].Sub(quad[2]), quad[3].Sub(quad[2])
	g, k := s.Cross(d2)/d1.Cross(d2), d1.Cross(s)/d1.Cross(d2)
	want := Homography{
		A: quad[1].X - quad[0].X + g*quad[1].X, B: quad[1].Y - quad[0].Y + g*quad[1].Y,
		C: quad[3].X - quad[0].X + k*quad[3].X, D: quad[3].Y - quad[0].Y + k*quad[3].Y,
		E: quad[0].X, F: quad[0].Y, G: g, H: k,
	}
	got, _, err := FitHomography([]Point{{}, Pt(1, 0), Pt(1, 1), Pt(0, 1)}, quad[:])
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []Point{{}, Pt(1, 0), Pt(1, 1), Pt(0, 1), Pt(0.5, 0.5), Pt(0.1, 0.8)} {
		if got.Apply(p).Dist(want.Apply(p)) > 1e-10 {
			t.Errorf("%v goes to %v, by the closed form to %v", p, got.Apply(p), want.Apply(p))
		}
	}
}

// Many pairs with errors: no small change of the fitted map lessens the distances.
func TestFitHomographyIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := someHomography(t)
		var from, to []Point
		for i := range 30 {
			from = append(from, Pt(float64(i%6)*35-90, float64(i/6)*40-80))
			off := Pt(rapid.Float64Range(-0.3, 0.3).Draw(t, "dx"), rapid.Float64Range(-0.3, 0.3).Draw(t, "dy"))
			to = append(to, h.Apply(from[i]).Add(off))
		}
		got, rms, err := FitHomography(from, to)
		if err != nil {
			t.Fatal(err)
		}
		if rms > 0.43 {
			t.Fatalf("rms %g of errors of 0.3", rms)
		}
		least := misses(got, from, to)
		for _, m := range []Affine{Translation(Pt(1e-3, 0)), Translation(Pt(0, 1e-3)), Rotation(1e-5, Point{}), Scaling(1+1e-5, 1)} {
			if misses(got.Then(m), from, to) < least*(1-1e-9) {
				t.Fatalf("%v after it lessens the distances", m)
			}
		}
	})
}

func TestFitHomographyRefuses(t *testing.T) {
	square := []Point{{}, Pt(1, 0), Pt(1, 1), Pt(0, 1)}
	for name, from := range map[string][]Point{
		"three":         square[:3],
		"in line":       {{}, Pt(1, 0), Pt(2, 0), Pt(3, 0)},
		"one":           {{}, {}, {}, {}},
		"three in line": {{}, Pt(1, 0), Pt(2, 0), Pt(0, 1)},
		"NaN":           {Pt(math.NaN(), 0), Pt(1, 0), Pt(1, 1), Pt(0, 1)},
	} {
		if h, _, err := FitHomography(from, square); err == nil {
			t.Errorf("%s: %v", name, h)
		}
	}
}

// What lies before the camera is found again from its image, and an image beyond the
// horizon has no source, wherever the origin lies.
func TestHomographySource(t *testing.T) {
	lean := Homography{A: 0.2, D: -0.2, G: 5e-4} // its horizon is the line x = 400
	for _, by := range []Point{{}, Pt(-2000, 0), Pt(2000, 900)} {
		h := lean.Then(Translation(by))
		back, ok := h.Invert()
		if !ok {
			t.Fatalf("moved by %v it has no inverse", by)
		}
		for _, p := range []Point{Pt(1, 1), Pt(300, 400), Pt(-900, 20), Pt(1e5, -3)} {
			if q, ok := h.Source(back, h.Apply(p)); !ok || q.Dist(p) > 1e-5*(1+p.Len()) {
				t.Errorf("moved by %v: %v comes from %v, %v", by, p, q, ok)
			}
		}
		if q, ok := h.Source(back, Pt(410, 0).Add(by)); ok {
			t.Errorf("moved by %v: a place beyond the horizon comes from %v", by, q)
		}
	}
}
