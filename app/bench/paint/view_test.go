package paint

import (
	"image"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

func drawView(t *rapid.T) View {
	f := rapid.Float64Range
	v := NewView(rapid.IntRange(50, 3000).Draw(t, "w"), rapid.IntRange(50, 2000).Draw(t, "h"), f(0.5, 3).Draw(t, "dpr"))
	return v.ZoomAt(geom.Pt(f(0, 500).Draw(t, "zx"), f(0, 500).Draw(t, "zy")), f(0.01, 50).Draw(t, "zoom")).Pan(f(-1e4, 1e4).Draw(t, "dx"), f(-1e4, 1e4).Draw(t, "dy"))
}

func TestViewThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, p := drawView(t), drawPoint(t, -5000, 5000)
		if q := v.ToMM(v.ToPx(p)); !q.Near(p, 1e-6) {
			t.Fatalf("%v came back as %v", p, q)
		}
		if got := v.Affine().Apply(p); !got.Near(v.ToPx(p), 1e-6) {
			t.Fatalf("the map says %v, ToPx %v", got, v.ToPx(p))
		}
		if up := v.ToPx(p.Add(geom.Pt(0, 1))); !(up.Y < v.ToPx(p).Y) {
			t.Fatal("y does not point up")
		}
	})
}

// What lies under the pointer stays there while zooming, up to the bounds too.
func TestZoomAtKeepsThePoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, px := drawView(t), drawPoint(t, 0, 2000)
		w := v.ZoomAt(px, rapid.Float64Range(1e-4, 1e4).Draw(t, "factor"))
		if !w.ToPx(v.ToMM(px)).Near(px, 1e-4) {
			t.Fatalf("%v moved to %v", px, w.ToPx(v.ToMM(px)))
		}
		if u := w.Scale / w.DPR; u < minScale*(1-1e-12) || u > maxScale*(1+1e-12) {
			t.Fatalf("scale %v", u)
		}
	})
}

func TestFitShowsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		r := geom.RectOf(drawPoint(t, -900, 900), drawPoint(t, -900, 900))
		w := v.Fit(r, 8)
		seen := w.Visible()
		if w.Scale > minScale*w.DPR*1.001 && (!seen.Grow(1e-6).Contains(r.Min) || !seen.Grow(1e-6).Contains(r.Max)) {
			t.Fatalf("%v is not within %v", r, seen)
		}
		if !w.ToPx(r.Center()).Near(geom.Pt(float64(v.W)/2, float64(v.H)/2), 1e-6) {
			t.Fatal("not in the middle")
		}
	})
}

func TestFitOddBoxes(t *testing.T) {
	v := NewView(800, 600, 1)
	if got := v.Fit(geom.EmptyRect(), 10); got != v {
		t.Errorf("empty: %+v", got)
	}
	if got := v.Fit(geom.RectOf(geom.Pt(5, 5)), 10); got.Scale != maxScale && got.Scale != v.Scale {
		t.Errorf("a point: scale %v", got.Scale)
	}
	if got := v.Fit(extent, 1000); !(got.Scale > 0) {
		t.Errorf("margin larger than the view: scale %v", got.Scale)
	}
}

func TestResizedKeepsTheMiddle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawView(t)
		w := v.Resized(rapid.IntRange(1, 3000).Draw(t, "w2"), rapid.IntRange(1, 3000).Draw(t, "h2"), rapid.Float64Range(0.5, 3).Draw(t, "dpr2"))
		if math.Abs(w.Percent()-v.Percent()) > 1e-9*v.Percent() {
			t.Fatalf("%v %% became %v %%", v.Percent(), w.Percent())
		}
		if a, b := v.Visible().Center(), w.Visible().Center(); !a.Near(b, 1e-6) {
			t.Fatalf("the middle went from %v to %v", a, b)
		}
	})
}

func TestTrueSize(t *testing.T) {
	v := NewView(800, 600, 2)
	if got := v.Percent(); math.Abs(got-100) > 1e-9 {
		t.Errorf("%v %%", got)
	}
	// One inch is 96 units, by the definition of the CSS pixel (CSS Values and
	// Units Level 3, section 5.2).
	if got := v.MM(96); math.Abs(got-25.4) > 1e-9 {
		t.Errorf("96 units are %v mm", got)
	}
	if got := v.UnitsToMM(400, 300).Sub(v.UnitsToMM(304, 300)); math.Abs(got.X-25.4) > 1e-9 {
		t.Errorf("96 units apart: %v", got)
	}
}

// Views and scenes that cannot be painted leave the picture alone, and the sound
// part of a scene is painted whatever lies beside it.
func TestOddInput(t *testing.T) {
	p := newPainter(t)
	good := NewView(40, 30, 1)
	img := image.NewRGBA(good.bounds())
	nan := math.NaN()
	for name, v := range map[string]View{
		"no size": {W: 0, H: 30, DPR: 1, Scale: 1}, "no scale": {W: 40, H: 30, DPR: 1},
		"NaN": {W: 40, H: 30, DPR: 1, Scale: 1, X: nan}, "inf": {W: 40, H: 30, DPR: 1, Scale: math.Inf(1)},
	} {
		p.Paint(img, v, &light, &Scene{Grid: Metric})
		if img.RGBAAt(1, 1).A != 0 {
			t.Errorf("%s was painted", name)
		}
		if got, _ := NewLayers(p).Frame(v, &light, &Scene{}, nil); got != nil {
			t.Errorf("%s: a frame", name)
		}
	}
	far := geom.Polygon(geom.Pt(-1e9, -1e9), geom.Pt(1e9, -1e9), geom.Pt(0, 1e9))
	bad := geom.Polygon(geom.Pt(0, 0), geom.Pt(nan, 3), geom.Pt(3, 3))
	point := geom.Path{geom.Line(geom.Pt(1, 1), geom.Pt(1, 1))}
	s := &Scene{Items: []*Item{
		{Marks: []Mark{Shape{}, Shape{Path: bad, Fill: Of(Ink), Line: cutLine}, Shape{Path: point, Fill: Of(Ink), Line: cutLine}}},
		{Marks: []Mark{Text{At: geom.Pt(nan, 0), Text: "x", Size: 12, Colour: Of(Ink)}, Dot{At: geom.Pt(nan, 0), Colour: Of(Ink)},
			Arrow{Line: cutLine}, Bracket{Line: cutLine}, Tick{Line: cutLine, Count: 2}, Badge{At: geom.Pt(0, math.Inf(1)), Colour: Of(Ink)}}},
		{Place: geom.Affine{A: nan}, Marks: []Mark{Shape{Path: far, Fill: Of(Ink)}}},
		{Marks: []Mark{Shape{Path: far, Fill: Of(Moss), Line: Line{Colour: Of(Ink), Width: 2, Dash: Dash{5, 5}}}}},
	}}
	p.Paint(img, good, &light, s)
	if got := nrgbaAt(img, 20, 10); got != light[Moss] {
		t.Errorf("middle %v, want moss", got)
	}
}
