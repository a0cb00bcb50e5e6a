package formula

import (
	"slices"
	"strings"
	"testing"
)

func TestScope(t *testing.T) {
	s := NewScope()
	for _, name := range []string{"bust_girth", "A", "cb2", "frontNeck", "x_", strings.Repeat("a", maxName)} {
		if err := s.Add(name, LengthKind); err != nil {
			t.Error(err)
		}
		if k, ok := s.Kind(name); !ok || k != LengthKind {
			t.Errorf("%s is %v, %v", name, k, ok)
		}
	}
	for name, says := range map[string]string{
		"": "cannot be a name", "2a": "cannot be a name", "_a": "cannot be a name", "a-b": "cannot be a name", "a b": "write a_b",
		"ä": "cannot be a name", "given x": "write given_x", strings.Repeat("a", maxName+1): "cannot be a name",
		"and": "word", "not": "word", "let": "word", "true": "word", "in": "word", "nil": "word",
		"mm": "constant", "degree": "constant", "pi": "constant",
		"toward": "function", "sweep": "function", "given": "function",
		"A": "taken",
	} {
		if err := s.Add(name, NumberKind); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", name, err, says)
		}
	}
	if n := s.Names(); n[0] != "bust_girth" || len(n) != 6 {
		t.Errorf("the names are %v", n)
	}
	if _, ok := s.Kind("nothing"); ok {
		t.Error("a name that was never added has a kind")
	}
}

// TestReadsIfTaken: what stands behind the question whether a measure was taken needs no
// estimate of it, unless it stands elsewhere too.
func TestReadsIfTaken(t *testing.T) {
	for source, want := range map[string]string{
		"k":                                     "",
		"given(k) ? k : l":                      "k",
		"given(k) ? k + l : l":                  "k",
		"given(k) ? l : k":                      "",
		"not given(k) ? l : k":                  "k",
		"(given(k) ? k : l) + k":                "",
		"k + (given(k) ? k : l)":                "",
		"given(k) and given(l) ? k + l : 1*mm":  "k l",
		"given(k) or given(l) ? k + l : 1*mm":   "",
		"not given(k) or not given(l) ? m : n":  "",
		"given(k) and k > 3*mm":                 "k",
		"not given(k) or k > 3*mm":              "k",
		"given(k) ? (given(l) ? k + l : k) : l": "k",
	} {
		if got := strings.Join(compiled(t, source, sample).ReadsIfTaken(), " "); got != want {
			t.Errorf("%s: %q, want %q", source, got, want)
		}
	}
}

func TestReadsAndAsks(t *testing.T) {
	for source, want := range map[string][2]string{
		"1*mm":                            {"", ""},
		"k + l + k":                       {"k l", ""},
		"given(k) ? l : k":                {"l k", "k"},
		"given(k) and given(l)":           {"", "k l"},
		"given(k) ? given(k) ? n : m : n": {"n m", "k"},
		"toward(p, q, abs(l))":            {"p q l", ""},
		"c":                               {"c", ""},
	} {
		f := compiled(t, source, sample)
		if got := strings.Join(f.Reads(), " "); got != want[0] {
			t.Errorf("%s reads %q, want %q", source, got, want[0])
		}
		if got := strings.Join(f.Asks(), " "); got != want[1] {
			t.Errorf("%s asks %q, want %q", source, got, want[1])
		}
		if f.Source() != source {
			t.Errorf("%s says that it is %s", source, f.Source())
		}
	}
}

func TestGiven(t *testing.T) {
	v := Values{"l": Length{8}, "k": Length{20}, GivenKey("l"): true, GivenKey("k"): false}
	for source, want := range map[string]bool{"given(l)": true, "given(k)": false, "given(l) and not given(k)": true} {
		if got := worked(t, source, v); got != want {
			t.Errorf("%s is %v", source, got)
		}
	}
	f := compiled(t, "given(l)", v)
	for _, none := range []Values{nil, {}, {GivenKey("l"): 3.}} {
		if got, err := f.Value(none); err != nil || got != false {
			t.Errorf("without an answer given(l) is %v, %v", got, err)
		}
	}
	// An answer may be asked for a measure that has no value of its own.
	s := NewScope()
	s.AddGiven("hip_girth")
	if _, err := Compile("given(hip_girth)", s); err != nil {
		t.Error(err)
	}
	if _, err := Compile("hip_girth", s); err == nil {
		t.Error("a measure that is only asked about can be read")
	}
}

// TestScopeGrows: a formula keeps its meaning while its scope grows.
func TestScopeGrows(t *testing.T) {
	s := NewScope()
	f, err := Compile("2*mm", s)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Add("l", LengthKind); err != nil {
		t.Fatal(err)
	}
	g, err := Compile("l", s)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := f.Value(nil)
	b, _ := g.Value(Values{"l": Length{3}})
	if a != (Length{2}) || b != (Length{3}) || slices.Contains(f.Reads(), "l") {
		t.Error(a, b)
	}
}
