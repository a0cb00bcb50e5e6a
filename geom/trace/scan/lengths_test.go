package scan

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

func TestScaleOf(t *testing.T) {
	// One length: 300 dots an inch by definition.
	s, err := ScaleOf([]Known{{geom.Pt(10, 10), geom.Pt(310, 10), 25.4}})
	if err != nil || math.Abs(s.MM-25.4/300) > 1e-15 || s.RMS != 0 || s.Uneven {
		t.Errorf("one length: %+v, %v", s, err)
	}
	// Two of 100 px along one line, 10 and 11 mm: k = (100*10+100*11)/(2*100²) = 0.105,
	// each off by 0.5 mm, and with one taken up by the scale rms = √(2*0.25/1).
	s, err = ScaleOf([]Known{{geom.Pt(0, 0), geom.Pt(100, 0), 10}, {geom.Pt(0, 5), geom.Pt(100, 5), 11}})
	if err != nil || math.Abs(s.MM-.105) > 1e-15 || math.Abs(s.RMS-math.Sqrt(.5)) > 1e-12 || s.Uneven || math.Abs(s.Each[1]+.5) > 1e-12 {
		t.Errorf("two lengths: %+v, %v", s, err)
	}
	// 0.4 % longer up than across is told, 0.2 % is not.
	for up, uneven := range map[float64]bool{1.004: true, 1.002: false, .996: true} {
		s, err = ScaleOf([]Known{{geom.Pt(0, 0), geom.Pt(1000, 0), 100}, {geom.Pt(0, 0), geom.Pt(0, 1000), 100 * up}})
		if err != nil || s.Uneven != uneven {
			t.Errorf("up %g: %+v, %v", up, s, err)
		}
		if uneven && (math.Abs(s.Across-.1) > 1e-12 || math.Abs(s.Up-.1*up) > 1e-12) {
			t.Errorf("up %g: across %g, up %g", up, s.Across, s.Up)
		}
	}
	for name, k := range map[string]Known{
		"no length":    {geom.Pt(0, 0), geom.Pt(100, 0), 0},
		"negative":     {geom.Pt(0, 0), geom.Pt(100, 0), -5},
		"not a number": {geom.Pt(0, 0), geom.Pt(100, 0), math.NaN()},
		"too long":     {geom.Pt(0, 0), geom.Pt(100, 0), math.Inf(1)},
		"one place":    {geom.Pt(5, 5), geom.Pt(5, 5), 10},
		"no place":     {geom.Pt(math.NaN(), 5), geom.Pt(5, 5), 10},
		"far away":     {geom.Pt(math.Inf(1), 5), geom.Pt(5, 5), 10},
		"farther":      {geom.Pt(1e200, 5), geom.Pt(5, 5), 10},
	} {
		if _, err := ScaleOf([]Known{k}); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	if _, err := ScaleOf(nil); err == nil {
		t.Error("no length is taken")
	}
}

// Lengths measured on a stretched picture in any directions tell its stretch.
func TestScaleOfStretchProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(.01, 1).Draw(t, "x")
		y := x * rapid.SampledFrom([]float64{.95, .99, 1.01, 1.04}).Draw(t, "y")
		first := rapid.Float64Range(0, math.Pi).Draw(t, "first")
		var ks []Known
		for _, a := range []float64{0, 1.2, 2.1} {
			v := geom.Pt(math.Cos(first+a), math.Sin(first+a)).Mul(rapid.Float64Range(50, 5000).Draw(t, "long"))
			ks = append(ks, Known{geom.Pt(7, 9), geom.Pt(7, 9).Add(v), math.Hypot(v.X*x, v.Y*y)})
		}
		s, err := ScaleOf(ks)
		if err != nil || !s.Uneven || math.Abs(s.Across-x) > 1e-9*x || math.Abs(s.Up-y) > 1e-9*y {
			t.Fatalf("%g by %g: %+v, %v", x, y, s, err)
		}
		for _, k := range ks {
			if d := math.Hypot((k.To.X-k.From.X)*s.Across, (k.To.Y-k.From.Y)*s.Up); math.Abs(d-k.Length) > 1e-9*k.Length {
				t.Fatalf("a length of %g mm became %g", k.Length, d)
			}
		}
	})
}
