package block

import (
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
	"hemlet/draft/formula"
)

// toldOf returns what a text tells of a body with a waist of 400 mm.
func toldOf(t *testing.T, text string) []Told {
	t.Helper()
	b, err := Parse("square.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return draft(t, b, body.Given{"waist_girth": 400}, nil).Told
}

// notched returns the square with a notch on each side of its seam.
func notched(t *testing.T, hem, top string) string {
	return with(t, "[[seams]]", "[[pieces.notches]]\nedge = \"hem\"\n"+hem+"\n[[pieces.notches]]\nedge = \"top\"\n"+top+"\n[[seams]]")
}

// A seam that is sewn end to start is told where its notches or hems show it, and with
// what to write; one that is sewn as it should be, or of which nothing shows, is not.
func TestSeamsEndToStart(t *testing.T) {
	hemmed := strings.Replace(square, "name = \"side\"\npath", "name = \"side\"\nkind = \"hem\"\npath", 1)
	forward := func(text string) string { return strings.Replace(text, `"-front.top"`, `"front.top"`, 1) }
	for _, c := range []struct{ name, text, want string }{
		{"no notch", forward(square), ""},
		{"notches meet", notched(t, "at = 0.3", "at = 0.7"), ""},
		{"notches cross", forward(notched(t, "at = 0.3", "at = 0.7")), `The seam closing is sewn end to start: the notch “notch 1” lies at 30 % of one side and “notch 2” at 70 % of the other. In the block, put a - before “front.top” in b.`},
		{"notches cross with the -", notched(t, "name = \"hip\"\nat = 0.3", "name = \"hip too\"\nat = 0.7\nfrom_end = true"), `take away the - before “front.top” in b.`},
		{"notches neither meet nor cross", forward(notched(t, "at = 0.3", "at = 0.5")), ""},
		{"notches in the middle", forward(notched(t, "at = 0.5", "at = 0.5")), ""},
		{"hems meet", hemmed, ""},
		{"named notches of different places", strings.Replace(notched(t, "name = \"x\"\nat = 0.3", "name = \"y\"\nat = 0.69"), `"-front.top"`, `"front.top"`, 1), "put a - before"},
	} {
		told := toldOf(t, c.text)
		if c.want == "" {
			if len(told) > 0 {
				t.Errorf("%s: %+v", c.name, told)
			}
			continue
		}
		if len(told) != 1 || told[0].Level != "look again" || told[0].Name != "closing" || !strings.Contains(told[0].Says, c.want) {
			t.Errorf("%s: %+v", c.name, told)
		}
	}
}

// The side of the square is hemmed, so that the hem's end meets the top's start.
func TestSeamsHemToHem(t *testing.T) {
	hemmed := strings.Replace(square, "name = \"side\"\npath", "name = \"side\"\nkind = \"hem\"\npath", 1)
	told := toldOf(t, strings.Replace(hemmed, `"-front.top"`, `"front.top"`, 1))
	want := "The seam closing is sewn end to start: one side starts at a hem, and the other ends at one. In the block, put a - before “front.top” in b."
	if len(told) != 1 || told[0].Says != want {
		t.Errorf("%+v", told)
	}
}

// No block of the house is told for any body that a seam is turned, or curves leap; and
// where the last use of a plain seam with notches or hems is turned, that is.
func TestBuiltinsRunTheRightWay(t *testing.T) {
	turned := 0
	for _, b := range Builtin() {
		for i := range 60 {
			s, err := b.Draft(bodytest.Odd(rand.New(rand.NewPCG(uint64(i), 7))), nil)
			if err != nil {
				continue
			}
			for _, told := range s.Told {
				if strings.Contains(told.Says, "end to start") || strings.Contains(told.Says, "joined straight") {
					t.Errorf("%s, odd body %d: %s", b.Name, i, told.Says)
				}
			}
		}
		for k := range b.seams {
			if len(b.seams[k].b) != 1 {
				continue
			}
			mutant := *b
			mutant.seams = append([]seam(nil), b.seams...)
			run := append([]use(nil), b.seams[k].b...)
			run[0].reversed = !run[0].reversed
			mutant.seams[k].b = run
			for _, told := range draft(t, &mutant, bodytest.Odd(rand.New(rand.NewPCG(3, 7))), nil).Told {
				if told.Name == b.seams[k].name && strings.Contains(told.Says, "end to start") {
					turned++
				}
			}
		}
	}
	if turned == 0 {
		t.Error("no seam that was turned round was told")
	}
	t.Logf("%d turned seams were told", turned)
}

// Two curves that do not touch are told; a curve and points are not, nor are the curves
// at the two sides of a dart.
func TestCurvesThatLeap(t *testing.T) {
	const forgot = "name = \"top\"\npath = [\"line(c, between(c, d, 0.5))\", \"line(d, between(c, d, 0.5))\"]"
	told := toldOf(t, with(t, "name = \"top\"\npath = [\"c\", \"d\"]", forgot))
	if len(told) != 1 || told[0].Level != "note" || !strings.Contains(told[0].Says, "front: its edge top is joined straight over 55 mm, from the end of “line(c, between(c, d, 0.5))” to the start of “line(d, between(c, d, 0.5))”.") {
		t.Errorf("%+v", told)
	}
	missing := strings.Replace(square, "name = \"side\"\npath = [\"b\"]", "name = \"side\"\npath = [\"line(b, between(b, c, 0.4))\"]", 1)
	missing = strings.Replace(missing, "path = [\"c\", \"d\"]", "path = [\"line(c, d)\"]", 1)
	told = toldOf(t, missing)
	if len(told) != 1 || !strings.Contains(told[0].Says, "its edges side and top are joined straight over 66 mm") {
		t.Errorf("%+v", told)
	}
	const points = "name = \"top\"\npath = [\"line(c, between(c, d, 0.5))\", \"d\"]"
	if told := toldOf(t, with(t, "name = \"top\"\npath = [\"c\", \"d\"]", points)); len(told) > 0 {
		t.Errorf("%+v", told)
	}
	const dart = "name = \"top\"\npath = [\"line(c, between(c, d, 0.4))\", \"line(between(c, d, 0.6), d)\"]\n[[pieces.darts]]\nname = \"dart\"\nedge = \"top\"\nfrom = \"between(c, d, 0.4)\"\nto = \"between(c, d, 0.6)\"\napex = \"between(a, c, 0.5)\""
	if told := toldOf(t, with(t, "name = \"top\"\npath = [\"c\", \"d\"]", dart)); len(told) > 0 {
		t.Errorf("%+v", told)
	}
}

// Beside an error stands how far the draft came.
func TestDraftsAsFarAsItGoes(t *testing.T) {
	b, err := Parse("square.toml", []byte(with(t, `is = "above(b, side)"`, `is = "above(b, side/(ease/ease - 1))"`)))
	if err != nil {
		t.Fatal(err)
	}
	s, err := b.Draft(body.Given{"waist_girth": 400}, nil)
	var wrong *Error
	if !errors.As(err, &wrong) || wrong.Key != "steps.c" {
		t.Fatalf("%v", err)
	}
	if s == nil || len(s.Steps) != 3 || s.Steps[2].Name != "b" || s.Steps[0].Value != (formula.Length{MM: 110}) || len(s.Pieces) != 0 || len(s.Choices) != 1 {
		t.Errorf("%+v", s)
	}
}
