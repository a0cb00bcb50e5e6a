package wording

import (
	"strings"
	"testing"
)

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0 edges", 1: "1 edge", 2: "2 edges"} {
		if got := Count(n, "edge"); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

func TestSentence(t *testing.T) {
	for text, want := range map[string]string{"cape.toml line 3: name": "cape.toml line 3: name", "cape.toml: it is empty": "cape.toml: it is empty", "none. Draft again": "None. Draft again", "5.5 mm are too few": "5.5 mm are too few", "": "", "no cloth": "No cloth", "écru": "Écru", "Done": "Done", "4 mm": "4 mm"} {
		if got := Sentence(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestList(t *testing.T) {
	for _, want := range []string{"", "Front", "Front and Back", "Front, Back and Sleeve"} {
		words := strings.FieldsFunc(want, func(r rune) bool { return r == ',' || r == ' ' })
		var names []string
		for _, w := range words {
			if w != "and" {
				names = append(names, w)
			}
		}
		if got := List(names); got != want {
			t.Errorf("%q: %q, want %q", names, got, want)
		}
	}
}
