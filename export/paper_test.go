package export

import (
	"testing"

	"hemlet/draft"
)

func TestParsePaper(t *testing.T) {
	for text, want := range map[string][2]float64{
		"a4": {210, 297}, "A0": {841, 1189}, "Letter": {215.9, 279.4}, "a4 landscape": {297, 210},
		"500mm x 70cm": {500, 700}, "20in x 10in": {508, 254}, "roll 36in": {914.4, maxPaper},
	} {
		p, err := ParsePaper(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		near(t, text+" width", p.Width, want[0], 1e-9)
		near(t, text+" height", p.Height, want[1], 1e-9)
	}
	for _, text := range []string{"", "a9", "500 x 700", "roll", "roll wide", "x", "landscape"} {
		if p, err := ParsePaper(text); err == nil {
			t.Errorf("%q gave %+v", text, p)
		}
	}
}

// TestPaperWords: a size stands in the maker's unit, where that tells it truly.
func TestPaperWords(t *testing.T) {
	for _, c := range []struct {
		paper Paper
		unit  draft.Unit
		want  string
	}{
		{Papers()[0], draft.InchFraction, "A4"},
		{Papers()[0].Landscape(), draft.InchFraction, "A4 landscape"},
		{Roll(914.4), draft.InchFraction, "roll of 36 in"},
		{Roll(900), draft.InchFraction, "roll of 900 mm"},
		{CustomPaper(500, 700), draft.Centimetre, "50 cm x 70 cm"},
		{CustomPaper(215.9, 330.2).Landscape(), draft.InchFraction, "13 in x 8 1/2 in landscape"},
	} {
		if got := c.paper.words(c.unit); got != c.want {
			t.Errorf("%s in %s reads %q, want %q", c.paper.Name, c.unit, got, c.want)
		}
	}
}
