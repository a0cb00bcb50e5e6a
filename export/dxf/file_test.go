package dxf

import (
	"bytes"
	"strings"
	"testing"
)

func TestASCII(t *testing.T) {
	for in, want := range map[string]string{
		"Sleeve":        "Sleeve",
		"Ärmel, Größe":  "Armel, Grosse",
		"façon naïve":   "facon naive",
		"rök":           "rok",
		"½ in":          "1/2 in",
		"袖":             "\\U+8896",
		"a\nb\tc\x00":   "a b c",
		"10 × 20 – “x”": "10 x 20 - \"x\"",
		"🦔":             "?",
	} {
		if got := ASCII(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

func TestBlockNames(t *testing.T) {
	f := New()
	for _, c := range [][2]string{
		{"Front", "FRONT"}, {"front", "FRONT-2"}, {"Left / right!", "LEFT_RIGHT"}, {"", "PIECE"}, {"!!", "PIECE-2"},
		{strings.Repeat("ab", 20), strings.Repeat("AB", 15) + "A"},
		{strings.Repeat("ab", 21), strings.Repeat("AB", 14) + "A-2"},
	} {
		if got := f.Block(c[0]).Name(); got != c[1] {
			t.Errorf("%q becomes %q, want %q", c[0], got, c[1])
		}
	}
}

func TestNumbersAreReals(t *testing.T) {
	for in, want := range map[float64]string{0: "0.0", -0.0000001: "0.0", 12: "12.0", 1.25: "1.25", 1e6: "1000000.0", -3.0000004: "-3.0"} {
		if got := number(in); got != want {
			t.Errorf("%g is written %s, want %s", in, got, want)
		}
	}
}

// TestHeaderStatesExtents: the box in the header holds what was drawn, blocks
// included.
func TestHeaderStatesExtents(t *testing.T) {
	f := New(Layer{"CUT", 1})
	f.Block("a").Polyline("CUT", true, Point{-5, 2}, Point{10, 2}, Point{10, 30})
	f.Model.Line("CUT", Point{0, 0}, Point{1, 40})
	var b bytes.Buffer
	if _, err := f.WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"$EXTMIN\n 10\n-5.0\n 20\n0.0\n", "$EXTMAX\n 10\n10.0\n 20\n40.0\n", "$ACADVER\n  1\nAC1009\n"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the header does not hold %q:\n%.600s", want, b.String())
		}
	}
}
