package block

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"hemlet/draft/body"
)

// hostile is a block whose steps make one curve of several hundred stretches, and then
// work n formulas out, each the sum of as many terms as fit.
func hostile(n int, term string) string {
	var b strings.Builder
	b.WriteString("format = 1\nname = \"hostile\"\ntitle = \"Hostile\"\nsays = \"Takes as long as it can.\"\n")
	step := func(name, is string) { fmt.Fprintf(&b, "[[steps]]\nname = %q\nis = %q\n", name, is) }
	step("o", "at(0*mm, 0*mm)")
	step("x", "at(0.01*waist_girth, 0*mm)")
	step("u", "at(5*mm, 4*mm)")
	step("few", "through(o, x, u, at(0.5*mm, 9*mm), at(7*mm, -8*mm), at(0.9*mm, 0.7*mm), at(6*mm, 6*mm), o, x, u, at(4*mm, 2*mm), o)")
	step("some", "path("+strings.Repeat("few, ", 9)+"few)")
	step("many", "path("+strings.Repeat("some, ", 7)+"some)")
	terms := min(900/(len(term)+3), 60)
	for i := range n {
		step(fmt.Sprintf("s%d", i), strings.Repeat(term+" + ", terms)+term)
	}
	return b.String()
}

// Whatever is repeated in a block of formulas that are all allowed, the draft ends
// where it becomes too much.
func TestHostileFormulasEnd(t *testing.T) {
	for _, term := range []string{
		"0.01*length(many)",
		"across(on(many, waist_girth))",
		"across(end(part(many, 1*mm, waist_girth)))",
		"across(crossing(many, o, at(waist_girth, 4*mm)))",
		"0.01*length(path(many, o))",
		"sweep_room(o, waist_girth, at(50*mm, 400*mm), 1*mm)",
		"length(sweep_true(o, 0.3*waist_girth, 30*mm, at(80*mm, 40*mm)))",
		"sweep_room(at(0*mm, 0*mm), 900*mm, at(50*mm, 400*mm), 1*mm)",
	} {
		_, err := parse(t, hostile(40, term)).Draft(body.Given{"waist_girth": 300}, nil)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Says, "more work than any garment") || e.Line == 0 || !strings.HasPrefix(e.Key, "steps.s") {
			t.Errorf("%s: %.300v", term, err)
		}
	}
}

// Nor do pieces grow without end, or take what formulas may not.
func TestHostilePiecesEnd(t *testing.T) {
	curves := hostile(0, "")
	piece := "[[pieces]]\nrole = \"p\"\n"
	edge := func(name, path string) string {
		return fmt.Sprintf("[[pieces.edges]]\nname = %q\npath = [%s]\n", name, path)
	}
	marks := func(n int, kind, keys string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "[[pieces.%s]]\nname = \"m%d\"\n%s\n", kind, i, keys)
		}
		return b.String()
	}
	round := edge("round", `"o", "at(90*mm, 0*mm)", "at(90*mm, 90*mm)", "at(0*mm, 90*mm)"`)
	scribble := edge("round", `"at(-90*mm, -90*mm)", "at(90*mm, -90*mm)", "at(90*mm, 90*mm)", "many", "many"`)
	for name, c := range map[string]struct{ text, says string }{
		"an outline":           {piece + edge("round", strings.Repeat(`"many", `, 12)), "more than 10000 points"},
		"lines":                {piece + round + marks(12, "lines", `path = ["many"]`), "more than 10000 points"},
		"notches":              {piece + scribble + marks(200, "notches", "edge = \"round\"\nat = \"o\""), "more work than any garment"},
		"the wrong way round":  {piece + edge("round", `"many", "many", "at(0*mm, 90*mm)", "at(900*mm, 900*mm)", "at(90*mm, 0*mm)"`), "runs clockwise"},
		"many formulas at one": {piece + round + marks(200, "spans", "measure = \"waist_girth\"\nedges = [\"round\"]\nshare = \"length(many)/length(path(many, o))\""), "more work than any garment"},
	} {
		_, err := parse(t, curves+c.text).Draft(body.Given{"waist_girth": 300}, nil)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Says, c.says) {
			t.Errorf("%s: %.300v", name, err)
		}
	}
}

// Seams are looked through once, however often they sew the same long edge.
func TestHostileSeamsEnd(t *testing.T) {
	var b strings.Builder
	b.WriteString(hostile(0, ""))
	b.WriteString("[[pieces]]\nrole = \"p\"\n[[pieces.edges]]\nname = \"e\"\npath = [\"at(-90*mm, -90*mm)\", \"at(90*mm, -90*mm)\"" + strings.Repeat(`, "many", "at(90*mm, 90*mm)"`, 8) + "]\n")
	b.WriteString("[[pieces.edges]]\nname = \"f\"\npath = [\"at(-90*mm, 90*mm)\"]\n")
	for i := range 200 {
		fmt.Fprintf(&b, "[[pieces.notches]]\nname = \"n%d\"\nedge = \"f\"\nat = %d\n", i, i%2)
		fmt.Fprintf(&b, "[[pieces.darts]]\nname = \"d%d\"\nedge = \"e\"\nfrom = \"o\"\nto = \"o\"\napex = \"o\"\n", i)
	}
	run := strings.Repeat(`"p.e",`, maxUses/2) + strings.Repeat(`"p.f",`, maxUses/2)
	for i := range maxSeams {
		fmt.Fprintf(&b, "[[seams]]\nname = \"s%d\"\na = [%s]\nb = [%s]\n", i, run, run)
	}
	s, err := parse(t, b.String()).Draft(body.Given{"waist_girth": 300}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Seams) != maxSeams || len(s.Told) > 2*mostLeaps {
		t.Errorf("%d seams, %d told", len(s.Seams), len(s.Told))
	}
}

// An estimate is tried for every body, again and again, and so is plain arithmetic.
func TestHostileEstimatesAreRefused(t *testing.T) {
	text := with(t, `needed = true`, `estimate = "length(sweep_true(at(0*mm, 0*mm), bust_girth, 700*mm, at(50*mm, 400*mm)))"`)
	if _, err := Parse("square.toml", []byte(text)); err == nil || !strings.Contains(err.Error(), "square.toml line 8: measures.waist_girth.estimate: ") || !strings.Contains(err.Error(), "too long for an estimate") {
		t.Error(err)
	}
	longest := "bust_girth" + strings.Repeat(" + hip_girth", (1000-len("bust_girth"))/len(" + hip_girth"))
	if _, err := Parse("square.toml", []byte(with(t, `needed = true`, `estimate = "`+longest+`"`))); err != nil {
		t.Error(err)
	}
}
