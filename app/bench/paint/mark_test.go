package paint

import (
	"image"
	"testing"

	"hemlet/geom"
)

// one renders a single mark in the middle of a plain bench of 80 by 60 pixels.
func one(t testing.TB, m Mark) *image.RGBA {
	v := NewView(80, 60, 1).scaleAt(geom.Point{}, 1).Centre(geom.Point{})
	return render(t, v, &Scene{Items: []*Item{{Marks: []Mark{m}}}})
}

// inked returns the box of the pixels that are not bench.
func inked(img *image.RGBA) image.Rectangle {
	var r image.Rectangle
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y++ {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x++ {
			if nrgbaAt(img, x, y) != light[Bench] {
				r = r.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return r
}

// Nodes are crisp: their outer border falls between pixels wherever they stand.
func TestNodeIsCrisp(t *testing.T) {
	for _, dx := range []float64{0, 0.25, 0.5, 0.8} {
		img := one(t, Dot{At: geom.Pt(dx, dx), Colour: Of(Ink), Fill: Of(Node)})
		box := inked(img)
		if box.Dx() != int(nodeSide) || box.Dy() != int(nodeSide) {
			t.Fatalf("at %v: %v", dx, box)
		}
		for x := box.Min.X; x < box.Max.X; x++ {
			if got := nrgbaAt(img, x, box.Min.Y); got != light[Ink] {
				t.Errorf("at %v: border pixel %d is %v", dx, x, got)
			}
		}
	}
}

// The arrows of a bracket point at the fold, and the bar stands off it.
func TestBracketPointsAtTheFold(t *testing.T) {
	for _, right := range []bool{false, true} {
		img := one(t, Bracket{A: geom.Pt(0, -25), B: geom.Pt(0, 25), Right: right, Line: cutLine})
		box := inked(img)
		mid := 40
		bar, tip := box.Min.X, box.Max.X
		if right {
			bar, tip = box.Max.X, box.Min.X
		}
		if abs(tip-mid) > 2 {
			t.Errorf("right %v: the tips end at %d, the fold is at %d", right, tip, mid)
		}
		if d := abs(bar - mid); d < int(bracketGap) || d > int(bracketGap)+2 {
			t.Errorf("right %v: the bar stands %d off", right, d)
		}
	}
}

func abs(n int) int { return max(n, -n) }

// A mirrored place keeps a bracket on the side that it has in the document of the
// piece: outside stays outside.
func TestBracketMirrored(t *testing.T) {
	v := NewView(80, 60, 1).scaleAt(geom.Point{}, 1).Centre(geom.Point{})
	b := Bracket{A: geom.Pt(0, -25), B: geom.Pt(0, 25), Line: cutLine}
	plain := inked(render(t, v, &Scene{Items: []*Item{{Marks: []Mark{b}}}}))
	turned := inked(render(t, v, &Scene{Items: []*Item{{Place: geom.Scaling(-1, 1), Marks: []Mark{b}}}}))
	if plain.Max.X > 43 || turned.Min.X < 37 {
		t.Errorf("plain %v, mirrored %v", plain, turned)
	}
}

func TestTickCount(t *testing.T) {
	for n := 1; n <= 3; n++ {
		img := one(t, Tick{At: geom.Pt(0, 0), Dir: geom.Pt(0, 1), Length: 12, Count: n, Line: Line{Colour: Of(Ink), Width: 2}})
		strokes, in := 0, false
		for x := range 80 {
			on := nrgbaAt(img, x, 24) != light[Bench]
			if on && !in {
				strokes++
			}
			in = on
		}
		if strokes != n {
			t.Errorf("%d strokes, want %d", strokes, n)
		}
		if box := inked(img); box.Min.Y != 18 || box.Max.Y != 30 {
			t.Errorf("%d: from %d to %d", n, box.Min.Y, box.Max.Y)
		}
	}
}

func TestArrowHeads(t *testing.T) {
	single := one(t, Arrow{A: geom.Pt(-30, 0), B: geom.Pt(30, 0), Line: cutLine})
	double := one(t, Arrow{A: geom.Pt(-30, 0), B: geom.Pt(30, 0), Both: true, Line: cutLine})
	heads := func(img *image.RGBA) (left, right int) {
		for x := range 80 {
			for y := range 60 {
				if nrgbaAt(img, x, y) == light[Bench] || abs(y-30) < 3 {
					continue
				}
				if x < 40 {
					left++
				} else {
					right++
				}
			}
		}
		return left, right
	}
	if l, r := heads(single); l != 0 || r == 0 {
		t.Errorf("single: %d left, %d right", l, r)
	}
	if l, r := heads(double); l == 0 || r == 0 {
		t.Errorf("double: %d left, %d right", l, r)
	}
}

// On a line too short for two heads of full length they shrink and stay apart; on
// one shorter still there are none.
func TestArrowHeadsStayApart(t *testing.T) {
	for _, n := range []float64{4, 8, 14, 20, 26, 40} {
		img := one(t, Arrow{A: geom.Pt(-n/2, 0), B: geom.Pt(n/2, 0), Both: true, Line: Line{Colour: Of(Ink), Width: 1}})
		high := func(x int) int {
			r := inked(img.SubImage(image.Rect(x, 0, x+1, 60)).(*image.RGBA))
			return r.Dy()
		}
		// A line on a row of pixels, its smear to both sides included.
		const lineHigh = 3
		if got := high(40); got > lineHigh {
			t.Errorf("%v units: the heads meet in the middle, %d px high", n, got)
		}
		box := inked(img)
		if n*headOfTwo < leastHead && box.Dy() > lineHigh {
			t.Errorf("%v units: heads where there is no room for them: %v", n, box)
		}
		if n*headOfTwo >= leastHead && box.Dy() <= lineHigh {
			t.Errorf("%v units: no heads: %v", n, box)
		}
	}
}

// The four levels of findings are told apart without colour.
func TestBadgesDifferInShape(t *testing.T) {
	var seen [4]*image.RGBA
	for k := Problem; k <= Holds; k++ {
		img := one(t, Badge{Kind: k, Colour: Of(Ink), Fill: Of(Node)})
		for j := Problem; j < k; j++ {
			n := 0
			for i := 0; i < len(img.Pix); i += 4 {
				if abs(int(img.Pix[i])-int(seen[j].Pix[i])) > 60 {
					n++
				}
			}
			if n < 30 {
				t.Errorf("badges %d and %d differ in %d pixels only", j, k, n)
			}
		}
		seen[k] = img
	}
}

func TestColours(t *testing.T) {
	if got := light.ink(Faded(Ink, 0)).alpha; got != 0 {
		t.Errorf("invisible: alpha %d", got)
	}
	if got := light.ink(Faded(Ink, 0.5)).alpha; got != 127 && got != 128 {
		t.Errorf("half: alpha %d", got)
	}
	if got := light.ink(Colour{}).alpha; got != 0 {
		t.Errorf("none: alpha %d", got)
	}
	c := hex(0x123456)
	if got := light.ink(Custom(c)); got.rgba != packed(c) || got.alpha != 255 {
		t.Errorf("custom: %+v", got)
	}
}
