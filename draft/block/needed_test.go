package block

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"hemlet/draft/body"
)

// A measure that is needed has to be taken, at least as its front and its back; that
// it could be estimated is no help.
func TestNeededIsNotEstimated(t *testing.T) {
	b, err := Named("bodice")
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		given   body.Given
		missing []string
	}{
		{body.Given{"bust_girth": 231, "waist_girth": 238, "back_waist_length": 84}, nil},
		{body.Given{"bust_arc_front": 121, "bust_arc_back": 110, "waist_girth": 238, "back_waist_length": 84}, nil},
		{body.Given{"waist_girth": 238}, []string{"bust_girth", "back_waist_length"}},
		{body.Given{"stature": 360, "bust_girth": 231, "hip_girth": 228}, []string{"waist_girth", "back_waist_length"}},
		{body.Given{"bust_arc_front": 121, "waist_girth": 238, "back_waist_length": 84}, []string{"bust_girth"}},
	} {
		_, err := b.Draft(tc.given, nil)
		var missing *MissingError
		switch {
		case len(tc.missing) == 0 && err != nil:
			t.Errorf("%v: %v", tc.given, err)
		case len(tc.missing) > 0 && (!errors.As(err, &missing) || !slices.Equal(missing.Measures, tc.missing)):
			t.Errorf("%v: %v; want %v to be missing", tc.given, err, tc.missing)
		}
	}
}

// A block's own estimate that reads like the sum of a front and a back is no measure
// where these were estimated themselves; where they were taken it is one, also for
// formulas that ask.
func TestASumOfEstimatesIsNotTaken(t *testing.T) {
	b := parse(t, with(t, "needed = true", "needed = true\nestimate = \"waist_arc_front + waist_arc_back\"\n\n[[checks]]\nname = \"asked\"\nholds = \"given(waist_girth)\"\nsays = \"No.\""))
	var missing *MissingError
	if _, err := b.Draft(body.Given{"bust_girth": 231}, nil); !errors.As(err, &missing) {
		t.Errorf("estimated arcs count as taken: %v", err)
	}
	for _, g := range []body.Given{{"waist_arc_front": 120, "waist_arc_back": 118}, {"waist_girth": 238}} {
		s, err := b.Draft(g, nil)
		if err != nil {
			t.Errorf("%v: %v", g, err)
			continue
		}
		if used := s.Measures[0]; used.Value != 238 || used.Summed != used.Estimated || len(s.Told) != 0 {
			t.Errorf("%v: %+v, told %v", g, used, s.Told)
		}
	}
}

// A measure that is only asked about is idle while it was not taken, however the formula
// reads it behind the question; one that is read elsewhere, or that a span stands for, is
// not.
func TestMeasuresOnlyAskedAboutAreIdle(t *testing.T) {
	asks := with(t, "[[steps]]\nname = \"a\"", "[[steps]]\nname = \"slit\"\nis = \"given(tail_girth) ? 0.6*tail_girth : 0*mm\"\n\n[[steps]]\nname = \"a\"")
	asks = strings.Replace(asks, "[[choices]]", "[[measures]]\nname = \"tail_girth\"\n\n[[choices]]", 1)
	reads := strings.Replace(asks, `is = "at(0*mm, 0*mm)"`, `is = "at(0*tail_girth, 0*mm)"`, 1)
	spans := strings.Replace(asks, "[[seams]]", "[[pieces.spans]]\nname = \"tail\"\nmeasure = \"tail_girth\"\nedges = [\"hem\"]\n[[seams]]", 1)
	for _, c := range []struct {
		name, text string
		given      body.Given
		want       bool
	}{
		{"asked", asks, body.Given{"waist_girth": 400, "hip_girth": 420, "bust_girth": 410, "stature": 900}, true},
		{"asked and taken", asks, body.Given{"waist_girth": 400, "hip_girth": 420, "tail_girth": 40}, false},
		{"read", reads, body.Given{"waist_girth": 400, "hip_girth": 420, "bust_girth": 410, "stature": 900}, false},
		{"spanned", spans, body.Given{"waist_girth": 400, "hip_girth": 420, "bust_girth": 410, "stature": 900}, false},
	} {
		b, err := Parse("", []byte(c.text))
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, m := range draft(t, b, c.given, nil).Measures {
			if m.Name == "tail_girth" {
				found = true
				if m.Idle != c.want {
					t.Errorf("%s: %+v", c.name, m)
				}
			}
		}
		if !found {
			t.Errorf("%s: the measure is not among those used", c.name)
		}
	}
}
