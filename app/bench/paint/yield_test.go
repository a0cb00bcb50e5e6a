package paint

import (
	"image"
	"testing"

	"hemlet/geom"
)

// standing makes an item ready at a scale and returns where its texts that yield stand.
func standing(t *testing.T, scale float64, marks ...Mark) map[int]Text {
	t.Helper()
	p, pal := newPainter(t), testPalette()
	v := NewView(400, 300, 1).scaleAt(geom.Point{}, scale).Centre(geom.Point{})
	p.frames[0].begin(v, &pal, image.Rect(0, 0, 400, 300))
	p.frames[0].item(&Item{Marks: marks})
	return p.frames[0].yield.of
}

func TestTextsYield(t *testing.T) {
	name := Text{At: geom.Pt(0, 0), Text: "Cuff", Size: 15, Anchor: Middle, Colour: Of(Ink)}
	letter := Text{At: geom.Pt(10, 0), Text: "H", Size: 11, Anchor: Middle, Colour: Of(Chalk), Yield: 1}
	word := Text{At: geom.Pt(10, 4), Text: "cut 2", Size: 11, Anchor: Middle, Colour: Of(Faint), Yield: 2}
	over := word
	over.At = letter.At
	far := letter
	far.Else = &Spot{At: geom.Pt(10, 40), DY: 20}
	for _, c := range []struct {
		name  string
		scale float64
		marks []Mark
		want  map[int]bool
	}{
		{"near by", 6, []Mark{letter, word, name}, map[int]bool{0: true, 1: true}},
		{"the letter comes first", 6, []Mark{over, letter, name}, map[int]bool{1: true}},
		{"at the name", 1, []Mark{letter, name}, map[int]bool{}},
		{"two of a kind", 4, []Mark{letter, letter, name}, map[int]bool{0: true}},
		{"another place", 1, []Mark{far, name}, map[int]bool{0: true}},
	} {
		of := standing(t, c.scale, c.marks...)
		for i := range c.marks {
			if _, ok := of[i]; ok != c.want[i] {
				t.Errorf("%s: text %d stands: %v", c.name, i, ok)
			}
		}
	}
	if of := standing(t, 1, far, name); of[0].At != far.Else.At || of[0].DY != 20 {
		t.Errorf("it stands at %v", of[0].At)
	}
	// Clear of an arrow if it can be, else over it.
	arrow := Arrow{A: geom.Pt(10, -20), B: geom.Pt(10, 20), Line: Line{Colour: Of(Ink), Width: 1}}
	if of := standing(t, 4, far, arrow); of[0].At != far.Else.At {
		t.Error("a letter stands on an arrow with room beside")
	}
	if of := standing(t, 4, letter, arrow); len(of) != 1 {
		t.Error("a letter that has no other place is left out for an arrow")
	}
}

func TestCrosses(t *testing.T) {
	box := geom.Rect{Min: geom.Pt(0, 0), Max: geom.Pt(10, 10)}
	for _, c := range []struct {
		a, b geom.Point
		want bool
	}{
		{geom.Pt(5, -5), geom.Pt(5, 15), true}, {geom.Pt(-5, 5), geom.Pt(15, 5), true}, {geom.Pt(-5, -5), geom.Pt(15, 15), true},
		{geom.Pt(2, 2), geom.Pt(3, 3), true}, {geom.Pt(12, -5), geom.Pt(12, 15), false}, {geom.Pt(-9, 5), geom.Pt(-1, 5), false},
		{geom.Pt(-8, 0), geom.Pt(0, 18), false}, {geom.Pt(5, 12), geom.Pt(5, 20), false}, {geom.Pt(4, 4), geom.Pt(4, 4), true},
	} {
		if got := crosses(box, c.a, c.b); got != c.want {
			t.Errorf("from %v to %v: %v", c.a, c.b, got)
		}
	}
}
