package scan

import (
	"context"
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// fieldOf samples a function of places in mm.
func fieldOf(w, h int, m geom.Homography, value func(geom.Point) float64) *Field {
	f := &Field{W: w, H: h, V: make([]uint16, w*h)}
	for j := range h {
		for i := range w {
			f.V[j*w+i] = uint16(math.Round(value(m.Apply(geom.Pt(float64(i)+.5, float64(j)+.5)))))
		}
	}
	return f
}

// waves is a smooth pattern with a period of 4 mm.
func waves(p geom.Point) float64 {
	return Paper * (.5 + .2*math.Sin(p.X*math.Pi/2) + .2*math.Cos(p.Y*math.Pi/2))
}

func TestMosaicKeepsValues(t *testing.T) {
	// Two sheets of 60 by 80 mm at 5 and 6 px/mm, turned, the second in perspective.
	a := geom.Affine{A: .2, D: -.2, E: 0, F: 80}.Projective()
	b := geom.Affine{A: 1. / 6, D: -1. / 6}.Projective().Then(geom.Rotation(.1, geom.Point{})).Then(geom.Translation(geom.Pt(45, 82)))
	b.G, b.H = 2e-5, -1e-5
	sheets := []Placed{{Field: fieldOf(300, 400, a, waves), Map: a}, {Field: fieldOf(360, 480, b, waves), Map: b}}
	f, m, err := Mosaic(context.Background(), sheets, 0)
	if err != nil {
		t.Fatal(err)
	}
	if s := 1 / m.ScaleAt(geom.Point{}); s < 6 || s > 6.3 {
		t.Errorf("%g px/mm is not the finest of the sheets", s)
	}
	back := [2]geom.Homography{}
	for i, s := range sheets {
		back[i], _ = s.Map.Invert()
	}
	covered := 0
	for j := range f.H {
		for i := range f.W {
			p := m.Apply(geom.Pt(float64(i)+.5, float64(j)+.5))
			deep := math.Inf(-1)
			for k, s := range sheets {
				q := back[k].Apply(p)
				deep = math.Max(deep, math.Min(math.Min(q.X, float64(s.Field.W)-q.X), math.Min(q.Y, float64(s.Field.H)-q.Y)))
			}
			v := float64(f.V[j*f.W+i])
			if deep > 3 {
				covered++
				if off := math.Abs(v-waves(p)) / Paper; off > .003 {
					t.Fatalf("at %v the mosaic is off by %.4f of paper", p, off)
				}
			}
			if deep < -1 && v != Unread {
				t.Fatalf("at %v beyond the sheets lies %g", p, v)
			}
		}
	}
	if covered < 150_000 {
		t.Errorf("only %d pixels are covered", covered)
	}
}

// A sheet in perspective counts wherever it lies, also where the origin of the bench would
// lie beyond its horizon.
func TestMosaicFarFromTheOrigin(t *testing.T) {
	lean := geom.Homography{A: .2, D: -.2, G: 5e-4}
	var read [2]int
	for i, by := range [2]geom.Point{{}, {X: -2000}} {
		m := lean.Then(geom.Translation(by))
		flat := geom.Affine{A: .2, D: -.2, E: by.X + 40}.Projective()
		sheets := []Placed{{Field: fieldOf(300, 400, m, waves), Map: m}, {Field: fieldOf(100, 400, flat, waves), Map: flat}}
		f, _, err := Mosaic(context.Background(), sheets, .2)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range f.V {
			if v != Unread {
				read[i]++
			}
		}
	}
	if read[0] < 90_000 || math.Abs(float64(read[1]-read[0])) > 0.01*float64(read[0]) {
		t.Errorf("%d pixels are read at the origin, %d far from it", read[0], read[1])
	}
}

// The seam of two sheets runs in the middle of what both show.
func TestMosaicSeam(t *testing.T) {
	m := geom.Affine{A: .1, D: -.1}.Projective()
	one := &Field{W: 400, H: 300, V: make([]uint16, 400*300)}
	two := &Field{W: 400, H: 300, V: make([]uint16, 400*300)}
	for i := range two.V {
		one.V[i], two.V[i] = 1000, 3000
	}
	// Both show 30 to 40 mm; the middle lies at 35.
	f, _, err := Mosaic(context.Background(), []Placed{{Field: one, Map: m}, {Field: two, Map: m.Then(geom.Translation(geom.Pt(30, 0)))}}, 0)
	if err != nil {
		t.Fatal(err)
	}
	if f.W != 700 || f.H != 300 {
		t.Fatalf("%d by %d", f.W, f.H)
	}
	row := f.V[150*700:]
	for x, want := range map[int]uint16{5: 1000, 339: 1000, 361: 3000, 690: 3000} {
		if row[x] != want {
			t.Errorf("at %d lies %d, not %d", x, row[x], want)
		}
	}
	if v := (int(row[349]) + int(row[350])) / 2; v < 1990 || v > 2010 {
		t.Errorf("in the middle lies %d", v)
	}
	// A part that does not count gives its place to the other sheet.
	f, _, err = Mosaic(context.Background(), []Placed{
		{Field: one, Map: m, Region: []geom.Point{{X: 0, Y: 0}, {X: 320, Y: 0}, {X: 320, Y: 300}, {X: 0, Y: 300}}},
		{Field: two, Map: m.Then(geom.Translation(geom.Pt(30, 0)))}}, 0)
	if err != nil || f.V[150*700+325] != 3000 {
		t.Errorf("beyond the part that counts lies %d, %v", f.V[150*700+325], err)
	}
}

// A fine sheet is averaged into a coarse mosaic.
func TestMosaicAverages(t *testing.T) {
	m := geom.Affine{A: .1, D: -.1}.Projective()
	f := &Field{W: 400, H: 400, V: make([]uint16, 400*400)}
	for i := range f.V {
		f.V[i] = uint16((i + i/400) % 2 * Paper) // a chess board
	}
	got, _, err := Mosaic(context.Background(), []Placed{{Field: f, Map: m}}, .4)
	if err != nil {
		t.Fatal(err)
	}
	if v := int(got.V[50*got.W+50]); v < Paper*45/100 || v > Paper*55/100 {
		t.Errorf("a chess board becomes %d", v)
	}
}

// What is not read of one sheet is read from another, or not at all.
func TestMosaicGaps(t *testing.T) {
	m := geom.Affine{A: .1, D: -.1}.Projective()
	one := &Field{W: 200, H: 200, V: make([]uint16, 200*200)}
	two := &Field{W: 100, H: 200, V: make([]uint16, 100*200)}
	for i := range one.V {
		one.V[i] = 1000
		if i/200 >= 80 && i/200 < 120 {
			one.V[i] = Unread
		}
	}
	for i := range two.V {
		two.V[i] = 3000
	}
	f, _, err := Mosaic(context.Background(), []Placed{{Field: one, Map: m}, {Field: two, Map: m}}, 0)
	if err != nil {
		t.Fatal(err)
	}
	for at, want := range map[[2]int]uint16{{50, 100}: 3000, {150, 100}: Unread, {150, 50}: 1000} {
		if v := f.V[at[1]*200+at[0]]; v != want {
			t.Errorf("at %v lies %d, not %d", at, v, want)
		}
	}
}

func TestMosaicRefuses(t *testing.T) {
	m := geom.Affine{A: .1, D: -.1}.Projective()
	f := &Field{W: 40, H: 30, V: make([]uint16, 40*30)}
	flat := m
	flat.G = -1. / 20
	for _, c := range []struct {
		name   string
		sheets []Placed
		mm     float64
		says   string
	}{
		{"none", nil, 0, "no sheet"},
		{"empty", []Placed{{Field: &Field{}, Map: m}}, 0, "sheet 1"},
		{"nil", []Placed{{Map: m}}, 0, "sheet 1"},
		{"no place", []Placed{{Field: f}}, 0, "no place"},
		{"behind the camera", []Placed{{Field: f, Map: flat}}, 0, "too flatly"},
		{"two corners", []Placed{{Field: f, Map: m, Region: make([]geom.Point, 2)}}, 0, "no area"},
		{"too fine", []Placed{{Field: f, Map: m}}, 1e-5, "cannot be made"},
		{"not a size", []Placed{{Field: f, Map: m}}, math.NaN(), "cannot be made"},
		{"far apart", []Placed{{Field: f, Map: m}, {Field: f, Map: m.Then(geom.Translation(geom.Pt(2000, 0)))}}, 0, "12000 by 12000"},
	} {
		if _, _, err := Mosaic(context.Background(), c.sheets, c.mm); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if f, _, err := Mosaic(ctx, []Placed{{Field: f, Map: m}}, 0); err == nil || f != nil {
		t.Errorf("a mosaic that is given up returns %v, %v", f, err)
	}
}

func BenchmarkMosaicTwoA3(b *testing.B) {
	m := geom.Affine{A: 25.4 / 300, D: -25.4 / 300}.Projective()
	f := &Field{W: 3508, H: 4961, V: make([]uint16, 3508*4961)}
	sheets := []Placed{{Field: f, Map: m}, {Field: f, Map: m.Then(geom.Rotation(.01, geom.Point{})).Then(geom.Translation(geom.Pt(280, 0)))}}
	for b.Loop() {
		if _, _, err := Mosaic(context.Background(), sheets, 0); err != nil {
			b.Fatal(err)
		}
	}
}
