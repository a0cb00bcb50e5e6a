package geom

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// ratPoly is a polynomial with exact rational coefficients.
type ratPoly []*big.Rat

func (p ratPoly) mul(q ratPoly) ratPoly {
	r := make(ratPoly, len(p)+len(q)-1)
	for i := range r {
		r[i] = new(big.Rat)
	}
	for i, a := range p {
		for j, b := range q {
			r[i+j].Add(r[i+j], new(big.Rat).Mul(a, b))
		}
	}
	return r
}

func (p ratPoly) deriv() ratPoly {
	r := ratPoly{new(big.Rat)}
	for i := 1; i < len(p); i++ {
		c := new(big.Rat).Mul(p[i], big.NewRat(int64(i), 1))
		if i == 1 {
			r[0] = c
			continue
		}
		r = append(r, c)
	}
	return r
}

// integral is the integral over 0 to 1.
func (p ratPoly) integral() *big.Rat {
	sum := new(big.Rat)
	for i, c := range p {
		sum.Add(sum, new(big.Rat).Mul(c, big.NewRat(1, int64(i+1))))
	}
	return sum
}

// ratCubic is the exact power form of one coordinate of a cubic.
func ratCubic(a, b, c, d float64) ratPoly {
	sum := func(k ...int64) *big.Rat {
		r := new(big.Rat)
		for i, v := range []float64{a, b, c, d} {
			r.Add(r, new(big.Rat).Mul(new(big.Rat).SetFloat64(v), big.NewRat(k[i], 1)))
		}
		return r
	}
	return ratPoly{sum(1, 0, 0, 0), sum(-3, 3, 0, 0), sum(3, -6, 3, 0), sum(-1, 3, -3, 1)}
}

// exactArea returns ∮ x dy and the moments ∮ ½x² dy and -∮ ½y² dx in exact
// rational arithmetic: Green's theorem by other forms than the code has.
func exactArea(p Path) (area, mx, my float64) {
	a, x, y := new(big.Rat), new(big.Rat), new(big.Rat)
	for _, s := range p {
		px := ratCubic(s.P0.X, s.P1.X, s.P2.X, s.P3.X)
		py := ratCubic(s.P0.Y, s.P1.Y, s.P2.Y, s.P3.Y)
		if s.Straight {
			lin := func(u, v float64) ratPoly {
				r := new(big.Rat).SetFloat64(u)
				return ratPoly{r, new(big.Rat).Sub(new(big.Rat).SetFloat64(v), r)}
			}
			px, py = lin(s.P0.X, s.P3.X), lin(s.P0.Y, s.P3.Y)
		}
		half := ratPoly{big.NewRat(1, 2)}
		a.Add(a, px.mul(py.deriv()).integral())
		x.Add(x, px.mul(px).mul(py.deriv()).mul(half).integral())
		y.Sub(y, py.mul(py).mul(px.deriv()).mul(half).integral())
	}
	area, _ = a.Float64()
	mx, _ = x.Float64()
	my, _ = y.Float64()
	return area, mx, my
}

// drawLoop draws a closed path of 1 to 5 segments about a centre.
func drawLoop(t *rapid.T) Path {
	size := drawSize(t)
	n := rapid.IntRange(1, 5).Draw(t, "segments")
	shift := drawPoint(t, size, "centre")
	p := make(Path, n)
	for i := range p {
		p[i] = drawSegment(t, size).Transform(Translation(shift))
	}
	for i := range p {
		next := p[(i+1)%n].P0
		if p[i].Straight {
			p[i] = Line(p[i].P0, next)
		} else {
			p[i].P3 = next
		}
	}
	return p
}

func TestAreaIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawLoop(t)
		size := 0.0
		for _, s := range p {
			size = math.Max(size, math.Max(s.size(), s.P0.Len()))
		}
		area, mx, my := exactArea(p)
		if got := p.Area(); math.Abs(got-area) > 1e-13*size*size {
			t.Fatalf("%v: area %.17g, exactly %.17g", p, got, area)
		}
		if got := p.Reverse().Area(); math.Abs(got+area) > 1e-13*size*size {
			t.Fatalf("reversed: area %.17g, exactly %.17g", got, -area)
		}
		c, ok := p.Centroid()
		if math.Abs(area) <= 1e-6*size*size {
			return
		}
		want := Pt(mx/area, my/area)
		if !ok || !c.Near(want, 1e-6*size) {
			t.Fatalf("%v: centroid %v, exactly %v", p, c, want)
		}
	})
}

// Closed forms: a box, a triangle, half a parabola (Archimedes: two thirds of
// the box), the circle of four cubics with handle share k: each quarter covers
// ½ + 3k/5 - 3k²/20 of r² (the Green integral by hand).
func TestAreaClosedForms(t *testing.T) {
	box := Polygon(Pt(1000, 1000), Pt(1004, 1000), Pt(1004, 1003), Pt(1000, 1003))
	if c, ok := box.Centroid(); box.Area() != 12 || !ok || !c.Near(Pt(1002, 1001.5), 1e-12) {
		t.Errorf("box: %g, centre %v", box.Area(), c)
	}
	tri := Polygon(Pt(0, 0), Pt(0, 3), Pt(6, 0))
	if c, ok := tri.Centroid(); tri.Area() != -9 || !ok || !c.Near(Pt(2, 1), 1e-12) {
		t.Errorf("triangle: %g, centre %v", tri.Area(), c)
	}
	cap := Path{parabola(0.5, -2, 2)} // y = x², closed by y = 4
	if c, ok := cap.Centroid(); math.Abs(cap.Area()-32./3) > 1e-12 || !ok || !c.Near(Pt(0, 2.4), 1e-12) {
		t.Errorf("parabola: %g, centre %v", cap.Area(), c)
	}
	k := 4. / 3 * (math.Sqrt2 - 1)
	want := 4 * (0.5 + 3*k/5 - 3*k*k/20) * 25
	round := circle(Pt(-7, 3), 5)
	if c, ok := round.Centroid(); math.Abs(round.Area()-want) > 1e-11 || !ok || !c.Near(Pt(-7, 3), 1e-12) {
		t.Errorf("circle: %g want %g, centre %v", round.Area(), want, c)
	}
	if math.Abs(want-25*math.Pi) > 3e-4*25*math.Pi {
		t.Errorf("closed form %g is no circle", want)
	}
}

func TestCentroidOfNothing(t *testing.T) {
	back := Path{Line(Pt(0, 0), Pt(5, 5)), Line(Pt(5, 5), Pt(0, 0))}
	for _, p := range []Path{{}, back, {Line(Pt(1, 1), Pt(1, 1))}} {
		if c, ok := p.Centroid(); ok {
			t.Errorf("%v has centroid %v", p, c)
		}
	}
	for _, s := range wild() {
		Path{s}.Area()
		Path{s}.Centroid()
	}
}
