package tomltext

import (
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

// tally counts the parts of keys.
type tally struct{ keys int }

func (t *tally) Heading(parts []string, _ bool, _ int) error { t.keys += len(parts); return nil }
func (t *tally) Key(parts []string, _ int) error             { t.keys += len(parts); return nil }
func (t *tally) Down(byte, int) error                        { return nil }
func (t *tally) Up()                                         {}
func (t *tally) Item(int) error                              { return nil }
func (t *tally) Value([]byte, int)                           {}

// depthOf returns how deep tables and lists lie inside each other in a decoded tree.
func depthOf(v any) int {
	deepest := 0
	switch v := v.(type) {
	case map[string]any:
		for _, x := range v {
			deepest = max(deepest, depthOf(x))
		}
	case []any:
		for _, x := range v {
			deepest = max(deepest, depthOf(x))
		}
	case []map[string]any:
		for _, x := range v {
			deepest = max(deepest, depthOf(x))
		}
		return deepest + 1 // the table in the list and the list are one heading
	default:
		return 0
	}
	return deepest + 1
}

// What passes the scan is no deeper than the scan allows, whatever the decoder
// makes of it: the scan cannot be talked out of counting.
func FuzzScan(f *testing.F) {
	for _, s := range []string{
		"a = [[[1]]]", "a = '''''''", "a = \"\"\"\"\"\"\"\"", "a = \"\\\"[[[\"", "a = '[['\nb = {c = [{}]}",
		"[a.b]\nc.d = 1", "a = [ # ]\n1]", "a = \"\"\"\\\n\"\"\" # [[", "a = 1 # x\r\nb = 2", "'a'.\"b\" = 1",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if Scan(text, &tally{}) != nil {
			return
		}
		var tree map[string]any
		if _, err := toml.Decode(string(text), &tree); err != nil {
			return
		}
		if d := depthOf(tree); d > 3*MaxDepth {
			t.Fatalf("the scan let a depth of %d through", d)
		}
	})
}

func TestScanKnowsStringsAndComments(t *testing.T) {
	for text, keys := range map[string]int{
		"a = 1":                             1,
		"a = '''''''\nb = 2":                2,
		"a = ''''''\nb = 2":                 2,
		"a = '''''''''\nb = 2":              -1,
		"a = '''''x'''''\nb = 2":            2,
		"a = \"\"\"x\\\"\"\"\"\nb = 2":      2,
		"a = \"\\\\\"\nb = '\\'":            2,
		"a = \"\"\"\n[b]\nc = 1\n\"\"\"":    1,
		"# a = 1\nb = '#'#c = 1":            1,
		"a = [1, # ]\n2]\nb = {c = 1}":      3,
		"a = {b = {c = '}'}}\n[d.e]\nf = 1": 6,
		"a = 1 b = 2":                       -1,
		"a = 'x":                            -1,
		"a = ]":                             -1,
		"[a\nb = 1":                         -1,
	} {
		c := &tally{}
		err := Scan([]byte(text), c)
		if keys < 0 != (err != nil) || err == nil && c.keys != keys {
			t.Errorf("%q: %d keys, %v; want %d", text, c.keys, err, keys)
		}
	}
}

func TestLineOf(t *testing.T) {
	text := []byte("name = 1\n[[a]]\n[[a]]\n  [[a.b]]\n  c = [1,\n    2,\n    {d = 3},\n  ]\n")
	for path, want := range map[string]int{
		"": 0, "name": 1, "a[0]": 2, "a[1]": 3, "a[1].b[0]": 4, "a[1].b[0].c": 5,
		"a[1].b[0].c[1]": 6, "a[1].b[0].c[2].d": 7, "a[1].b[0].x": 4, "x": 0,
	} {
		if got := LineOf(text, path); got != want {
			t.Errorf("%s is at line %d, not %d", path, got, want)
		}
	}
}

// Headings, dotted keys, lists and inline tables count together.
func TestScanCountsEveryKindOfNesting(t *testing.T) {
	dots := func(n int) string { return strings.Repeat("a.", n-1) + "a" }
	lists := func(n int) string { return strings.Repeat("[", n) + "1" + strings.Repeat("]", n) }
	tables := func(n int) string { return strings.Repeat("{a = ", n) + "1" + strings.Repeat("}", n) }
	for _, c := range []struct {
		text string
		deep bool
	}{
		{"a = " + lists(MaxDepth-1), false},
		{"a = " + lists(MaxDepth), true},
		{"a = " + tables(MaxDepth-1), false},
		{"a = " + tables(MaxDepth), true},
		{dots(MaxDepth) + " = 1", false},
		{dots(MaxDepth+1) + " = 1", true},
		{"[" + dots(MaxDepth+1) + "]", true},
		{"[" + dots(40) + "]\n" + dots(20) + " = 1", false},
		{"[" + dots(40) + "]\n" + dots(30) + " = 1", true},
		{dots(40) + " = " + lists(20), false},
		{dots(40) + " = " + lists(30), true},
		{dots(40) + " = {" + dots(20) + " = 1}", false},
		{dots(40) + " = {" + dots(30) + " = 1}", true},
		{"[" + dots(20) + "]\na = [{" + dots(20) + " = " + lists(30) + "}]", true},
	} {
		if err := Scan([]byte(c.text), &tally{}); (err != nil) != c.deep {
			t.Errorf("%.60s: %v", c.text, err)
		}
	}
}
