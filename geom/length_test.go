package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// panelLength is arc length by another way: the plain composite 5-point rule
// on n panels (no halving, no estimate), from the control polygon's form.
func panelLength(s Segment, t0, t1 float64, n int) float64 {
	sum := 0.0
	h := (t1 - t0) / float64(n)
	for i := range n {
		for _, g := range gauss5 {
			sum += g.w * s.Deriv(t0+h*(float64(i)+(1+g.x)/2)).Len()
		}
	}
	return sum * h / 2
}

// parabola returns y = x²/(2p) from x = a to x = b as a cubic.
func parabola(p, a, b float64) Segment {
	// Quadratic control point: where the tangents at both ends meet.
	q0, q1, q2 := Pt(a, a*a/(2*p)), Pt((a+b)/2, a*b/(2*p)), Pt(b, b*b/(2*p))
	return Cubic(q0, q0.Lerp(q1, 2./3), q2.Lerp(q1, 2./3), q2)
}

// parabolaLength is the closed form of the arc length of y = x²/(2p) from 0 to x
// (any calculus text): x √(p²+x²) / (2p) + (p/2) asinh(x/p).
func parabolaLength(p, x float64) float64 {
	return x*math.Hypot(p, x)/(2*p) + p/2*math.Asinh(x/p)
}

func TestLengthOfParabola(t *testing.T) {
	for _, p := range []float64{1e-3, 0.1, 1, 7, 50, 1e4} {
		for _, ab := range [][2]float64{{0, 1}, {-3, 5}, {0, 100}, {-40, 40}, {2, 2.001}, {-1e5, 1e5}} {
			s := parabola(p, ab[0], ab[1])
			want := parabolaLength(p, ab[1]) - parabolaLength(p, ab[0])
			if got := s.Length(); !(math.Abs(got-want) <= 1e-9*want+1e-15*s.size()) {
				t.Errorf("p %g from %g to %g: length %.15g, closed form %.15g", p, ab[0], ab[1], got, want)
			}
			for _, u := range []float64{0.1, 0.5, 0.77} {
				x := ab[0] + (ab[1]-ab[0])*u // x is linear in the parameter
				want := parabolaLength(p, x) - parabolaLength(p, ab[0])
				if got := s.LengthTo(u); !(math.Abs(got-want) <= 1e-9*s.Length()) {
					t.Errorf("p %g to %g: length %.15g, closed form %.15g", p, x, got, want)
				}
			}
		}
	}
}

// The exact length of this outline, 354.886798803186, was computed elsewhere by
// 16-point quadrature on many panels (measured findings on geometry libraries).
func TestLengthOfKnownOutline(t *testing.T) {
	p := Path{
		Cubic(Pt(0, 0), Pt(0, 50), Pt(50, 100), Pt(100, 100)),
		Line(Pt(100, 100), Pt(100, 0)),
		Line(Pt(100, 0), Pt(0, 0)),
	}
	if got := p.Length(); math.Abs(got-354.886798803186) > 1e-10 {
		t.Errorf("length %.12f", got)
	}
}

// A cubic whose handles lie on its chord has the length of its walk on the line:
// with a turn at every extremum. Here x = 3u(1-u)²a + 3u²(1-u)b + u³.
func TestLengthOnALine(t *testing.T) {
	dir := Pt(3, 4).Mul(0.2)
	for _, h := range [][2]float64{{-1, 2}, {2, -1}, {0, 0}, {1, 1}, {3, 3}, {1. / 3, 2. / 3}, {1, 0}} {
		s := Cubic(Point{}, dir.Mul(h[0]), dir.Mul(h[1]), dir)
		want, last := 0.0, 0.0
		r, n := quadraticRoots(1-3*h[1]+3*h[0], 2*(h[1]-2*h[0]), h[0])
		for _, u := range append(r[:n:n], 1) {
			if u > 0 && u <= 1 {
				x := s.At(u).Dot(dir)
				want += math.Abs(x - last)
				last = x
			}
		}
		if got := s.Length(); math.Abs(got-want) > 1e-9*want {
			t.Errorf("handles at %v: length %.15g want %.15g", h, got, want)
		}
	}
}

// A semicubical cusp (t², t³)-shaped: B = (3v², 2v³)·k about v = 0 has the closed
// length ∫ 6k |v| √(1+v²) dv = 2k ((1+v²)^{3/2} - 1) on either side.
func TestLengthThroughCusp(t *testing.T) {
	for _, span := range [][2]float64{{-1, 1}, {-0.3, 2}, {-1e-3, 1}, {-1, 1e-7}, {0, 1}} {
		a, b := span[0], span[1]
		// The blossom of (3v², 2v³): symmetric in its three arguments.
		blossom := func(u, v, w float64) Point { return Pt(u*v+v*w+w*u, 2*u*v*w) }
		s := Cubic(blossom(a, a, a), blossom(a, a, b), blossom(a, b, b), blossom(b, b, b))
		side := func(v float64) float64 { return 2 * (math.Pow(1+v*v, 1.5) - 1) }
		want := side(a) + side(b)
		if got := s.Length(); math.Abs(got-want) > 1e-9*want {
			t.Errorf("from %g to %g: length %.15g, closed form %.15g", a, b, got, want)
		}
	}
}

func TestLengthAgainstPanels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawCubic(t, drawSize(t))
		// 20,000 panels leave about 1e-9 of the size where there is a cusp.
		want := panelLength(s, 0, 1, 20000)
		if got := s.Length(); math.Abs(got-want) > 1e-9*want+3e-9*s.size() {
			t.Fatalf("%v: length %.15g, by panels %.15g", s, got, want)
		}
	})
}

func TestLengthParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSegment(t, drawSize(t))
		u := rapid.Float64Range(0, 1).Draw(t, "split at")
		a, b := s.Split(u)
		whole := s.Length()
		if d := math.Abs(a.Length() + b.Length() - whole); d > 2e-9*whole+1e-14*s.size() {
			t.Fatalf("parts differ from the whole by %g of %g", d, whole)
		}
		if d := math.Abs(s.LengthTo(u) - a.Length()); d > 2e-9*whole+1e-14*s.size() {
			t.Fatalf("LengthTo(%g) differs from the part by %g", u, d)
		}
		if d := math.Abs(s.Reverse().Length() - whole); d > 1e-9*whole {
			t.Fatalf("reversed differs by %g", d)
		}
		if whole < s.P0.Dist(s.P3)*(1-1e-12)-1e-290 { // speeds below 1e-300 count as 0
			t.Fatal("shorter than its chord")
		}
	})
}

func TestAtLengthInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSegment(t, drawSize(t))
		whole := s.Length()
		d := rapid.Float64Range(-0.1, 1.1).Draw(t, "share") * whole
		u := s.AtLength(d)
		want := math.Min(math.Max(d, 0), whole)
		if u < 0 || u > 1 || math.Abs(s.LengthTo(u)-want) > 1e-9*whole {
			t.Fatalf("%v: AtLength(%g) = %g, where the length is %g of %g", s, d, u, s.LengthTo(u), whole)
		}
		if s.AtLength(0) != 0 || whole > 0 && s.AtLength(whole) != 1 {
			t.Fatal("ends are not exact")
		}
	})
}

func TestLengthOfWildNumbers(t *testing.T) {
	for _, s := range wild() {
		n := s.Length()
		for _, d := range []float64{0, 1, math.NaN(), math.Inf(1), -1} {
			if u := s.AtLength(d); !(u >= 0 && u <= 1) {
				t.Errorf("%v: AtLength(%g) = %g (length %g)", s, d, u, n)
			}
		}
		s.LengthTo(0.5)
	}
}

// The rules must be Gauss-Legendre: exact for even powers to 2n - 2 (odd ones
// vanish by symmetry), and no better.
func TestGaussRules(t *testing.T) {
	power := func(rule []node, k int) (sum float64) {
		for _, g := range rule {
			sum += 2 * g.w * math.Pow(g.x, float64(k))
		}
		return sum
	}
	for _, rule := range [][]node{gauss8[:], gauss16[:]} {
		n := 2 * len(rule)
		for k := 0; k <= 2*n-2; k += 2 {
			if d := power(rule, k) - 2/float64(k+1); math.Abs(d) > 2e-15 {
				t.Errorf("%d points, power %d: off by %g", n, k, d)
			}
		}
	}
	if d := power(gauss8[:], 16) - 2./17; math.Abs(d) < 1e-9 {
		t.Errorf("8 points, power 16: off by only %g", d)
	}
}
