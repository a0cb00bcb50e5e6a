package draft

import (
	"math"
	"strings"
	"testing"
)

func TestParseWorn(t *testing.T) {
	for text, want := range map[string]Worn{
		"3mm":                 {"", 3},
		"shirt=0.5mm":         {"shirt", 0.5},
		" quilted vest = 1in": {"quilted vest", 25.4},
		`"a=b; c"=2mm`:        {"a=b; c", 2},
		"=2mm":                {"", 2},
		"nothing=0mm":         {"nothing", 0},
	} {
		if got, err := parseWorn(text); err != nil || got != want {
			t.Errorf("%q is read as %+v, %v, want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "shirt", "shirt=", "shirt=3", "shirt=-1mm", "shirt=1e9mm", "a\nb=1mm", "shirt=NaNmm"} {
		if got, err := parseWorn(text); err == nil {
			t.Errorf("%q is read as %+v", text, got)
		}
	}
}

// Whatever is written, a layer is read that a file can hold, or none.
func FuzzParseWorn(f *testing.F) {
	for _, text := range []string{"3mm", "shirt=0.5mm", `"a=b"=2mm`, "=", `"=1mm`, "shirt=1/4in"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		u, err := parseWorn(text)
		if err != nil {
			return
		}
		if !(u.Thickness >= 0 && u.Thickness <= MaxCoordinate) || math.Abs(u.Thickness-toGrid(u.Thickness)) > 0 || strings.ContainsAny(u.Name, "\n\t") {
			t.Errorf("%q is read as %+v", text, u)
		}
		if again, err := u.kept(); err != nil || again != u {
			t.Errorf("%q: kept once more it is %+v, %v", text, again, err)
		}
	})
}
