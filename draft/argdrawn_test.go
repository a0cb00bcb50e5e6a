package draft

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// The examples without a source are read off the grammar of SVG 2, section 9.3.9; the
// ones with a comma, a run of figures and a repeated command are those of its text.
func TestParseDrawn(t *testing.T) {
	for text, want := range map[string]geom.Path{
		"M0 0L40 0":                            {geom.Line(geom.Pt(0, 0), geom.Pt(40, 0))},
		"M 100,200 C 100,100 250,100 250,200":  {geom.Cubic(geom.Pt(100, 200), geom.Pt(100, 100), geom.Pt(250, 100), geom.Pt(250, 200))},
		"m10 20 5-5":                           {geom.Line(geom.Pt(10, 20), geom.Pt(15, 15))},
		"M10 20 5-5":                           {geom.Line(geom.Pt(10, 20), geom.Pt(5, -5))},
		"M0,0 h10 v5 H2 V1":                    {geom.Line(geom.Pt(0, 0), geom.Pt(10, 0)), geom.Line(geom.Pt(10, 0), geom.Pt(10, 5)), geom.Line(geom.Pt(10, 5), geom.Pt(2, 5)), geom.Line(geom.Pt(2, 5), geom.Pt(2, 1))},
		"M.5.5l1e1 0":                          {geom.Line(geom.Pt(0.5, 0.5), geom.Pt(10.5, 0.5))},
		"M0 0c0 10 10 10 10 0 0-10 10-10 10 0": {geom.Cubic(geom.Pt(0, 0), geom.Pt(0, 10), geom.Pt(10, 10), geom.Pt(10, 0)), geom.Cubic(geom.Pt(10, 0), geom.Pt(10, -10), geom.Pt(20, -10), geom.Pt(20, 0))},
		"M0 0L10 0 10 10z":                     {geom.Line(geom.Pt(0, 0), geom.Pt(10, 0)), geom.Line(geom.Pt(10, 0), geom.Pt(10, 10)), geom.Line(geom.Pt(10, 10), geom.Pt(0, 0))},
		"M0 0L10 0 10 10 0 0Z":                 {geom.Line(geom.Pt(0, 0), geom.Pt(10, 0)), geom.Line(geom.Pt(10, 0), geom.Pt(10, 10)), geom.Line(geom.Pt(10, 10), geom.Pt(0, 0))},
	} {
		got, err := ParseDrawn(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if len(got) != len(want) {
			t.Errorf("%s: %v, want %v", text, got, want)
			continue
		}
		for i := range want {
			if got[i] != want[i] {
				t.Errorf("%s: stretch %d is %v, want %v", text, i, got[i], want[i])
			}
		}
	}
}

func TestParseDrawnRefuses(t *testing.T) {
	for text, at := range map[string]int{
		"": 0, "M0 0": 0, "L1 1": 0, "M0 0L1": 6, "M0 0L1,": 7, "M0 0 Q1 1 2 2": 5, "M0 0L5 5M1 1": 8,
		"M0 0L5 5ZL1 1": 9, "M0 0L1e400 0": 5, "M0 0L100001 0": 5, "M0 0C1 1 2 2": 12, "M0 0L5mm 0": 6, "M0 0 A1 1 0 0 0 2 2": 5,
		"MM0 0": 1,
	} {
		_, err := ParseDrawn(text)
		var wrong *TextError
		if !errors.As(err, &wrong) {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if wrong.At != at {
			t.Errorf("%q: the trouble is at %d, want %d (%v)", text, wrong.At, at, err)
		}
	}
}

// What is written is read as it was, to the grid.
func TestDrawnComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		point := func() geom.Point {
			v := func(l string) float64 { return toGrid(rapid.Float64Range(-1e5, 1e5).Draw(t, l)) }
			return geom.Pt(v("x"), v("y"))
		}
		var path geom.Path
		start := point()
		pen := start
		for range rapid.IntRange(1, 6).Draw(t, "stretches") {
			to := point()
			if rapid.Bool().Draw(t, "curve") {
				path = append(path, geom.Cubic(pen, point(), point(), to))
			} else {
				path = append(path, geom.Line(pen, to))
			}
			pen = to
		}
		if rapid.Bool().Draw(t, "closed") && pen.Dist(start) > outlineGap {
			path = append(path, geom.Line(pen, start))
		}
		got, err := ParseDrawn(FormatDrawn(path))
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != len(path) {
			t.Fatalf("%s has %d stretches, not %d", FormatDrawn(path), len(got), len(path))
		}
		for i := range path {
			if got[i] != path[i] {
				t.Fatalf("stretch %d of %s: %v, want %v", i, FormatDrawn(path), got[i], path[i])
			}
		}
	})
}

func FuzzParseDrawn(f *testing.F) {
	for _, s := range []string{"M0 0L40 0", "m1-2c3,4 5,6 7,8z", "M.5.5h1e1V-2Z", "M0 0 L", "M1e309 0", "MZ", "M0 0C1 1 2 2 3 3 4 4 5 5 6 6Z"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		path, err := ParseDrawn(text)
		if err != nil {
			return
		}
		if len(path) == 0 {
			t.Fatal("neither a line nor an error")
		}
		for i, s := range path {
			for _, p := range []geom.Point{s.P0, s.P1, s.P2, s.P3} {
				if !(math.Abs(p.X) <= MaxCoordinate && math.Abs(p.Y) <= MaxCoordinate) {
					t.Fatalf("%q: a point at %v", text, p)
				}
			}
			if i > 0 && s.P0 != path[i-1].P3 {
				t.Fatalf("%q has a gap", text)
			}
		}
		again, err := ParseDrawn(FormatDrawn(path))
		if err != nil {
			t.Fatalf("%q is written as %q, which is not read: %v", text, FormatDrawn(path), err)
		}
		if len(again) > len(path) {
			t.Fatalf("%q comes back with more stretches", text)
		}
	})
}
