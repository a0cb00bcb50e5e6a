package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func drawAffine(t *rapid.T) Affine {
	f := rapid.Float64Range(-3, 3)
	return Affine{f.Draw(t, "a"), f.Draw(t, "b"), f.Draw(t, "c"), f.Draw(t, "d"), 100 * f.Draw(t, "e"), 100 * f.Draw(t, "f")}
}

func TestAffineComposesAndInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, n := drawAffine(t), drawAffine(t)
		p := drawPoint(t, 100, "p")
		if got, want := m.Then(n).Apply(p), n.Apply(m.Apply(p)); !got.Near(want, 1e-10) {
			t.Fatalf("composed %v, one after the other %v", got, want)
		}
		if d := m.Then(n).Det() - m.Det()*n.Det(); math.Abs(d) > 1e-11 {
			t.Fatalf("determinants differ by %g", d)
		}
		if v := m.ApplyVector(p); !v.Near(m.Apply(p).Sub(m.Apply(Point{})), 1e-10) {
			t.Fatalf("vector %v", v)
		}
		if math.Abs(m.Det()) < 0.01 {
			return
		}
		inv, ok := m.Invert()
		if !ok || !inv.Apply(m.Apply(p)).Near(p, 1e-8) {
			t.Fatalf("%v: %v comes back to %v", m, p, inv.Apply(m.Apply(p)))
		}
	})
}

func TestAffineKinds(t *testing.T) {
	if got := Rotation(math.Pi/2, Pt(1, 1)).Apply(Pt(2, 1)); !got.Near(Pt(1, 2), 1e-15) {
		t.Errorf("a quarter turn takes (2, 1) about (1, 1) to %v", got)
	}
	m, ok := Reflection(Pt(0, 0), Pt(1, 1))
	if !ok || !m.Apply(Pt(3, 5)).Near(Pt(5, 3), 1e-14) || math.Abs(m.Det()+1) > 1e-15 {
		t.Errorf("mirrored about y = x: %v", m.Apply(Pt(3, 5)))
	}
	m, ok = Reflection(Pt(10, 0), Pt(10, 7))
	if !ok || !m.Apply(Pt(3, 5)).Near(Pt(17, 5), 1e-14) {
		t.Errorf("mirrored about x = 10: %v", m.Apply(Pt(3, 5)))
	}
	if _, ok := Reflection(Pt(1, 1), Pt(1, 1)); ok {
		t.Error("a point is no mirror")
	}
	if Identity.Apply(Pt(3, 4)) != Pt(3, 4) || Translation(Pt(1, 2)).Apply(Pt(3, 4)) != Pt(4, 6) || Scaling(2, -1).Apply(Pt(3, 4)) != Pt(6, -4) {
		t.Error("the plain maps")
	}
	for _, bad := range []Affine{{}, {A: 1, B: 2, C: 2, D: 4}, {A: math.NaN(), D: 1}, {A: math.Inf(1), D: 1}} {
		if _, ok := bad.Invert(); ok {
			t.Errorf("%v has an inverse", bad)
		}
	}
}

func TestRect(t *testing.T) {
	r := RectOf(Pt(3, 1), Pt(-1, 5))
	if r != (Rect{Pt(-1, 1), Pt(3, 5)}) || r.W() != 4 || r.H() != 4 || r.Center() != Pt(1, 3) || r.Empty() {
		t.Errorf("%v", r)
	}
	e := EmptyRect()
	if !e.Empty() || !RectOf().Empty() || r.Union(e) != r || e.Union(r) != r || e.Overlaps(r) || e.Contains(Pt(0, 0)) {
		t.Error("the empty box holds something")
	}
	if (Rect{}).Empty() || !(Rect{}).Contains(Pt(0, 0)) {
		t.Error("the zero box does not hold its point")
	}
	if g := r.Grow(1); g != (Rect{Pt(-2, 0), Pt(4, 6)}) || !r.Grow(-3).Empty() {
		t.Errorf("grown %v", g)
	}
	if !r.Overlaps(Rect{Pt(3, 5), Pt(9, 9)}) || r.Overlaps(Rect{Pt(3.1, 5), Pt(9, 9)}) {
		t.Error("touching boxes overlap, others do not")
	}
	for q, want := range map[Point]float64{Pt(0, 2): 0, Pt(3, 5): 0, Pt(6, 9): 5, Pt(-3, 2): 2, Pt(0, 0): 1} {
		if d := r.distance(q); d != want {
			t.Errorf("%v is %g off, want %g", q, d, want)
		}
	}
}
