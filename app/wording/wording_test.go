package wording

import "testing"

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0 edges", 1: "1 edge", 2: "2 edges"} {
		if got := Count(n, "edge"); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

func TestSentence(t *testing.T) {
	for text, want := range map[string]string{"": "", "no cloth": "No cloth", "écru": "Écru", "Done": "Done", "4 mm": "4 mm"} {
		if got := Sentence(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
