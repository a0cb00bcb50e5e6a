package scan

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// inkBar is a drawn straight line of a width.
type inkBar struct {
	a, b geom.Point
	wide float64
}

// drawMarks draws dark bars and dots on light paper, blurred by about sigma 1 px.
func drawMarks(w, h int, bars []inkBar, noise float64) *Raster {
	r := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	pick := rand.New(rand.NewPCG(1, 9))
	for j := range h {
		for i := range w {
			p := geom.Pt(float64(i)+.5, float64(j)+.5)
			ink := 0.0
			for _, b := range bars {
				u, ap := b.b.Sub(b.a), p.Sub(b.a)
				t := 0.0
				if d := u.Dot(u); d > 0 {
					t = clamp(ap.Dot(u)/d, 0, 1)
				}
				ink = math.Max(ink, softStep(b.wide/2-p.Dist(b.a.Lerp(b.b, t)), 1))
			}
			r.Pix[j*w+i] = uint8(clamp(math.Round(240-200*ink+noise*pick.NormFloat64()), 0, 255))
		}
	}
	return r
}

func TestSnapMark(t *testing.T) {
	c := geom.Pt(101.37, 98.62)
	arm := func(angle, long, wide float64) inkBar {
		return inkBar{c, c.Add(geom.Pt(long*math.Cos(angle), long*math.Sin(angle))), wide}
	}
	cross := []inkBar{arm(.3, 40, 4), arm(.3+math.Pi/2, 40, 4), arm(.3+math.Pi, 40, 4), arm(.3-math.Pi/2, 40, 4)}
	for _, m := range []struct {
		name  string
		bars  []inkBar
		noise float64
		off   float64
	}{
		{"cross", cross, 0, .02},
		{"noisy cross", cross, 8, .15},
		{"thick cross", []inkBar{arm(0, 50, 9), arm(math.Pi/2, 50, 9), arm(math.Pi, 50, 9), arm(-math.Pi/2, 50, 9)}, 3, .1},
		{"small cross", []inkBar{arm(0, 9, 2), arm(math.Pi/2, 9, 2), arm(math.Pi, 9, 2), arm(-math.Pi/2, 9, 2)}, 2, .15},
		{"slanting cross", []inkBar{arm(0, 50, 4), arm(1, 50, 4), arm(math.Pi, 50, 4), arm(1+math.Pi, 50, 4)}, 3, .1},
		{"corner of lines", []inkBar{arm(.2, 90, 4), arm(.2+math.Pi/2, 90, 4)}, 3, .65},
		{"line ending on a line", []inkBar{arm(0, 90, 4), arm(math.Pi, 90, 4), arm(math.Pi/2, 90, 4)}, 3, .5},
		{"dot", []inkBar{{c, c, 12}}, 3, .1},
		{"large dot", []inkBar{{c, c, 26}}, 3, .1},
		{"small dot", []inkBar{{c, c, 4}}, 3, .15},
	} {
		t.Run(m.name, func(t *testing.T) {
			r := drawMarks(200, 200, m.bars, m.noise)
			for k := range 8 {
				near := c.Add(geom.Pt(9*math.Cos(float64(k)), 9*math.Sin(float64(k))))
				got, err := SnapMark(r, near, 20)
				if err != nil {
					t.Errorf("clicked at %v: %v", near, err)
				} else if d := got.Dist(c); d > m.off {
					t.Errorf("clicked at %v: off by %.3f px", near, d)
				}
			}
		})
	}
}

// On a picture that is shown small a click reaches far: what lies beside the mark within
// that reach, an outline or the edge of the sheet, does not draw it off.
func TestSnapMarkBesideOtherInk(t *testing.T) {
	c := geom.Pt(201.37, 198.62)
	arm := func(x, y float64) inkBar { return inkBar{c, c.Add(geom.Pt(x, y)), 5} }
	bars := []inkBar{
		arm(32, 0), arm(-32, 0), arm(0, 32), arm(0, -32),
		{geom.Pt(245, 0), geom.Pt(250, 400), 8}, {geom.Pt(0, 260), geom.Pt(247, 250), 6},
	}
	r := drawMarks(400, 400, bars, 3)
	for _, reach := range []float64{15, 30, 50, 80} {
		for k := range 6 {
			near := c.Add(geom.Pt(11*math.Cos(float64(k)), 11*math.Sin(float64(k))))
			if got, err := SnapMark(r, near, reach); err != nil || got.Dist(c) > .1 {
				t.Errorf("reach %g, clicked at %v: %v, off by %.3f px", reach, near, err, got.Dist(c))
			}
		}
	}
}

func TestSnapMarkRefuses(t *testing.T) {
	line := drawMarks(200, 200, []inkBar{{geom.Pt(-50, 80), geom.Pt(250, 120), 4}}, 0)
	bare := drawMarks(200, 200, nil, 3)
	for _, c := range []struct {
		name string
		r    *Raster
		at   geom.Point
		says string
	}{
		{"line", line, geom.Pt(100, 98), "only a line"},
		{"bare paper", bare, geom.Pt(100, 98), "no mark"},
		{"outside", bare, geom.Pt(100, -1), "outside"},
		{"nowhere", bare, geom.Pt(math.NaN(), 1), "outside"},
		{"empty", &Raster{}, geom.Pt(0, 0), "empty"},
		{"one pixel", &Raster{W: 1, H: 1, Pix: []uint8{0}}, geom.Pt(0, 0), "no mark"},
	} {
		if p, err := SnapMark(c.r, c.at, 20); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, %v", c.name, p, err)
		}
	}
}

// Whatever the picture and the click, there is a place near the click or an error.
func TestSnapMarkProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")
		r := &Raster{W: w, H: h, Pix: rapid.SliceOfN(rapid.Uint8(), w*h, w*h).Draw(t, "pix")}
		near := geom.Pt(rapid.Float64().Draw(t, "x"), rapid.Float64Range(-2, 42).Draw(t, "y"))
		reach := rapid.Float64().Draw(t, "reach")
		p, err := SnapMark(r, near, reach)
		if err == nil && !holds(w, h, p) {
			t.Fatalf("%v lies outside", p)
		}
	})
}

func BenchmarkSnapMark(b *testing.B) {
	c := geom.Pt(200, 200)
	r := drawMarks(400, 400, []inkBar{{geom.Pt(140, 200), geom.Pt(260, 200), 5}, {geom.Pt(200, 140), geom.Pt(200, 260), 5}}, 2)
	for b.Loop() {
		if _, err := SnapMark(r, c.Add(geom.Pt(12, -9)), 40); err != nil {
			b.Fatal(err)
		}
	}
}
