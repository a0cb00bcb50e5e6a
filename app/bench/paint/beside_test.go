package paint

import (
	"image"
	"math"
	"testing"

	"hemlet/geom"
)

// besides is a scene with a wave beside a curve, which is longer than what is seen, and
// a plain line beside a straight one.
func besides() *Scene {
	curve := geom.Path{geom.Cubic(geom.Pt(-400, -40), geom.Pt(-100, 160), geom.Pt(100, -160), geom.Pt(400, 40))}
	line := Line{Colour: Of(Ink), Width: 2}
	return &Scene{Items: []*Item{{Marks: []Mark{
		Beside{Path: curve, Inset: 7, Swing: 3, Wave: 9, Line: line},
		Beside{Path: geom.Path{geom.Line(geom.Pt(-60, -50), geom.Pt(60, -50))}, Inset: -10, Line: line},
		Beside{Path: curve, Inset: 20, Line: Line{Colour: Of(Ink), Width: 2, Dash: Dash{5, 3}}},
		Tick{At: geom.Pt(0, 20), Dir: geom.Pt(0, 1), Length: 20, Count: 2, Form: TickV, Line: line},
		Tick{At: geom.Pt(40, 20), Dir: geom.Pt(1, 1), Length: 20, Count: 1, Form: TickT, Line: line},
		Dot{At: geom.Pt(-40, 30), Kind: Ring, Colour: Of(Chalk)}, Dot{At: geom.Pt(-60, 30), Kind: Square, Colour: Of(Chalk)},
		Dot{At: geom.Pt(-80, 30), Kind: Wedge, Colour: Of(Chalk), Large: true}, Dot{At: geom.Pt(-20, 30), Kind: Cross, Colour: Of(Chalk)},
	}}}}
}

// What is painted again of a line beside a path is what was painted of it at first.
func TestPartsOfAWaveAreThoseOfTheWhole(t *testing.T) {
	v := NewView(300, 200, 1)
	v.Scale = 1.37
	want, got := image.NewRGBA(v.bounds()), image.NewRGBA(v.bounds())
	p := newPainter(t)
	p.Paint(want, v, &light, besides())
	for y := 0; y < 200; y += 37 {
		for x := 0; x < 300; x += 53 {
			r := image.Rect(x, y, x+53, y+37).Intersect(v.bounds())
			p.paint(got, nil, v, &light, besides(), nil, r)
		}
	}
	for i := range want.Pix {
		if got.Pix[i] != want.Pix[i] {
			t.Fatalf("pixel %d, %d differs", i/4%v.W, i/4/v.W)
		}
	}
}

// A line 10 units to the right of a level one lies 10 pixels below it; a wave stays
// within its swing, and reaches it.
func TestLinesBesidePaths(t *testing.T) {
	v := NewView(400, 200, 1)
	v.Scale = 1
	level := geom.Path{geom.Line(geom.Pt(-150, 0), geom.Pt(150, 0))}
	rows := func(b Beside) (first, last int) {
		img := image.NewRGBA(v.bounds())
		newPainter(t).Paint(img, v, &light, &Scene{Items: []*Item{{Marks: []Mark{b}}}})
		ground := img.RGBAAt(1, 1)
		first, last = -1, -1
		for y := range 200 {
			for x := 80; x < 320; x++ {
				if img.RGBAAt(x, y) != ground {
					if first < 0 {
						first = y
					}
					last = y
					break
				}
			}
		}
		return first, last
	}
	first, last := rows(Beside{Path: level, Inset: -10, Line: Line{Colour: Of(Ink), Width: 2}})
	if first != 109 || last != 110 {
		t.Errorf("the line lies in rows %d to %d, want 109 to 110", first, last)
	}
	first, last = rows(Beside{Path: level, Inset: 20, Swing: 6, Wave: 30, Line: Line{Colour: Of(Ink), Width: 2}})
	if math.Abs(float64(first)-73) > 1 || math.Abs(float64(last)-86) > 1 {
		t.Errorf("the wave lies in rows %d to %d, want 73 to 86", first, last)
	}
}

// A dashed line beside a path begins and ends with a dash, as many as its periods, and
// half of it is ink.
func TestDashedLineBesideAPath(t *testing.T) {
	v := NewView(400, 200, 1)
	v.Scale = 1
	img := image.NewRGBA(v.bounds())
	b := Beside{Path: geom.Path{geom.Line(geom.Pt(-150, 0), geom.Pt(150, 0))}, Inset: -10, Line: Line{Colour: Of(Ink), Width: 2, Dash: Dash{12, 8}}}
	newPainter(t).Paint(img, v, &light, &Scene{Items: []*Item{{Marks: []Mark{b}}}})
	ground := img.RGBAAt(1, 1)
	dashes, inked := 0, 0
	for x := 1; x < 400; x++ {
		on := img.RGBAAt(x, 109) != ground
		if on {
			inked++
		}
		if on && img.RGBAAt(x-1, 109) == ground {
			dashes++
		}
	}
	if dashes != 15 && dashes != 16 {
		t.Errorf("%d dashes on 300 units in periods of 20", dashes)
	}
	if math.Abs(float64(inked)-155) > 20 {
		t.Errorf("%d of 300 units are inked", inked)
	}
	if img.RGBAAt(51, 109) == ground || img.RGBAAt(348, 109) == ground {
		t.Error("it does not begin and end with a dash")
	}
}
