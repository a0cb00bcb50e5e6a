package export

import "testing"

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
