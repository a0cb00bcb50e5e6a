package paint

import (
	"testing"

	"hemlet/geom"
)

// lines returns the pixel columns of a row without horizontal lines that are not
// bench.
func lines(t *testing.T, v View, g Grid) (cols []int) {
	img := render(t, v, &Scene{Grid: g})
	for y := range v.H {
		n := 0
		for x := range v.W {
			if nrgbaAt(img, x, y) != light[Bench] {
				n++
			}
		}
		if n < v.W {
			for x := range v.W {
				if nrgbaAt(img, x, y) != light[Bench] {
					cols = append(cols, x)
				}
			}
			return cols
		}
	}
	return nil
}

func TestGridSpacing(t *testing.T) {
	cases := []struct {
		name  string
		grid  Grid
		scale float64 // px per mm
		mm    float64 // of the finest lines
	}{
		{"10 mm", Metric, 3, 10}, {"1 mm", Metric, 12, 1}, {"50 mm only", Metric, 0.4, 50}, {"500 mm only", Metric, 0.05, 500},
		{"inch", Inches, 1, 25.4}, {"eighths", Inches, 8, 25.4 / 8}, {"six inches", Inches, 0.15, 6 * 25.4},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v := NewView(900, 50, 1).scaleAt(geom.Point{}, c.scale)
			v.X, v.Y = 0, 25
			if got := c.grid.Step(v); got != c.mm {
				t.Fatalf("step %v mm, want %v", got, c.mm)
			}
			cols := lines(t, v, c.grid)
			want := 0
			for k := 0; ; k++ {
				x := int(float64(k) * c.mm * c.scale)
				if x >= 900 {
					break
				}
				if k >= len(cols) || cols[k] != x {
					t.Fatalf("line %d is not at %d: %v", k, x, cols)
				}
				want++
			}
			if len(cols) != want {
				t.Errorf("%d lines, want %d", len(cols), want)
			}
		})
	}
}

func TestGridFadesIn(t *testing.T) {
	v := NewView(400, 50, 1)
	v.X, v.Y = 0, 25
	shade := func(scale float64) int {
		v.Scale = scale
		img := render(t, v, &Scene{Grid: Metric})
		return int(nrgbaAt(img, int(10*scale), 3).B)
	}
	bench, rule := int(light[Bench].B), int(light[Rule].B)
	a, b, c := shade(0.45), shade(0.8), shade(2)
	if a != bench || !(rule < b && b < bench) || c != rule {
		t.Errorf("10 mm lines at growing scale: %d, %d, %d; bench %d, rule %d", a, b, c, bench, rule)
	}
}

func TestGridStrongCrossesWeak(t *testing.T) {
	v := NewView(400, 300, 1).scaleAt(geom.Point{}, 3)
	v.X, v.Y = 0, 0
	img := render(t, v, &Scene{Grid: Metric})
	// Column 150 is at 50 mm, row 30 at 10 mm, row 150 at 50 mm.
	for _, c := range []struct {
		x, y int
		want Token
	}{{150, 30, RuleStrong}, {30, 150, RuleStrong}, {30, 30, Rule}, {30, 31, Rule}, {31, 31, Bench}, {150, 150, RuleStrong}} {
		if got := nrgbaAt(img, c.x, c.y); got != light[c.want] {
			t.Errorf("(%d, %d) is %v, want %v", c.x, c.y, got, light[c.want])
		}
	}
}

func TestSnap(t *testing.T) {
	v := NewView(400, 300, 1).scaleAt(geom.Point{}, 3)
	if got := Metric.Snap(v, geom.Pt(14, -26)); !got.Near(geom.Pt(10, -30), 1e-9) {
		t.Errorf("%v", got)
	}
	if got := NoGrid.Snap(v, geom.Pt(14, -26)); got != geom.Pt(14, -26) {
		t.Errorf("without a grid: %v", got)
	}
}

func TestGridWidthOnDensePixels(t *testing.T) {
	v := NewView(400, 60, 2).scaleAt(geom.Point{}, 6)
	v.X, v.Y = 100, 30
	cols := lines(t, v, Metric)
	if len(cols) < 4 || cols[1] != cols[0]+1 || cols[2] == cols[1]+1 {
		t.Errorf("columns %v", cols)
	}
}
