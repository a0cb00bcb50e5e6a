package store

import (
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hemlet/draft"
)

func TestDecodeWearer(t *testing.T) {
	w, unit, err := DecodeWearer([]byte(`
name = "Quill"
unit = "cm"              # of the bare numbers below
estimated = ["hip_girth"]

[[levels]]
name = "belly"
height_mm = 140

[measures]
bust_girth = 23.1
waist_girth = "238mm"
hip_girth = 24
"spines, longest" = "1 1/2in"
back_waist_length = "8.4"
`))
	if err != nil {
		t.Fatal(err)
	}
	want := &draft.Wearer{
		Name: "Quill",
		Measures: []draft.Measure{
			{Name: "bust_girth", Value: 231}, {Name: "waist_girth", Value: 238}, {Name: "hip_girth", Value: 240, Estimated: true},
			{Name: "spines, longest", Value: 38.1}, {Name: "back_waist_length", Value: 84},
		},
		Levels: []draft.Level{{Name: "belly", Height: 140}},
	}
	near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
	if d := cmp.Diff(want, w, near); d != "" || unit != draft.Centimetre {
		t.Errorf("unit %v, and:\n%s", unit, d)
	}
}

func TestDecodeWearerRefuses(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"\x00", "no text"},
		{"name = ", "line 1: "},
		{"units = \"cm\"\n[measures]\na = 1\n", `the key "units" is not known`},
		{"unit = \"ell\"\n", `line 1: unit: unit "ell" is not known`},
		{"name = \"Q\"\n[measures]\nbust_girth = 231\n", `line 3: measures.bust_girth: the file does not say the unit`},
		{"[measures]\nbust_girth = \"231\"\n", "231 has no unit"},
		{"unit = \"mm\"\n[measures]\na = nan\n", "is no measure"},
		{"unit = \"mm\"\n[measures]\na = inf\n", "is no measure"},
		{"unit = \"mm\"\n[measures]\na = 0\n", "line 3: measures.a: 0 mm is no measure"},
		{"unit = \"cm\"\n[measures]\na = -3\n", "-30 mm is no measure"},
		{"unit = \"cm\"\n[measures]\na = 10001\n", "is no measure"},
		{"unit = \"cm\"\n[measures]\na = true\n", "a number, or text with a unit is wanted, and true or false"},
		{"unit = \"cm\"\n[measures]\na = [1]\n", "and a list stands there"},
		{"unit = \"cm\"\n[measures]\na.b = 1\n", `line 2: measures.a: the key "a" is not known here`},
		{"unit = \"cm\"\n[measures]\na = 1\na = 2\n", "already been defined"},
		{"measures = 3\n", "a table is wanted"},
		{"estimated = [\"x\"]\n", `it names "x"`},
		{"a = " + strings.Repeat("[", 1000), "nested"},
		{strings.Repeat("#", maxWearerBytes+1), "larger than 1 MiB"},
	} {
		w, _, err := DecodeWearer([]byte(c.text))
		var bad *FileError
		if !errors.As(err, &bad) || w != nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%.60q: got %v, %v; want %q", c.text, w, err, c.says)
		}
	}
}

func TestLoadWearerReadsWhatSaveWearerWrites(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.toml")
	rapid.Check(t, func(t *rapid.T) {
		w := &draft.Wearer{Name: rapid.String().Draw(t, "name")}
		for _, name := range rapid.SliceOfNDistinct(rapid.String(), 0, 4, rapid.ID[string]).Draw(t, "names") {
			if name == "" {
				continue
			}
			w.Measures = append(w.Measures, draft.Measure{
				Name: name, Value: rapid.Float64Range(0.001, 99_999).Draw(t, "value"), Estimated: rapid.Bool().Draw(t, "estimated"),
			})
		}
		if rapid.Bool().Draw(t, "parts") {
			w.Parts = []draft.BodyPart{{Name: "spines", Girth: 12.5, ComesOff: true}}
			w.Under = []draft.Worn{{Name: "shirt", Thickness: 0.3}}
		}
		if err := SaveWearer(path, w); err != nil {
			t.Fatal(err)
		}
		got, unit, err := LoadWearer(path)
		if err != nil || unit != draft.Millimetre {
			t.Fatalf("unit %v, %v in\n%s", unit, err, EncodeWearer(w))
		}
		if d := cmp.Diff(w, got); d != "" {
			t.Fatal(d)
		}
	})
}

func FuzzDecodeWearer(f *testing.F) {
	f.Add([]byte("name = \"Quill\"\nunit = \"mm\"\n[measures]\nbust_girth = 231\nbelly = \"1/2in\"\n"))
	f.Add([]byte("estimated = ['a']\nmeasures = {a = '1e3mm'}\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		w, _, err := DecodeWearer(text)
		if err != nil {
			return
		}
		again, _, err := DecodeWearer(EncodeWearer(w))
		if err != nil {
			t.Fatalf("what was written cannot be read: %v", err)
		}
		if d := cmp.Diff(w, again); d != "" {
			t.Fatal(d)
		}
	})
}
