package formula

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// TestRefused: what is no part of the language is refused at its place, with a
// sentence that says what to write.
func TestRefused(t *testing.T) {
	for _, c := range []struct {
		source string
		column int
		says   string // a part of it
	}{
		{"", 0, "empty"},
		{" \n\t", 0, "empty"},
		{`"text"`, 1, "no texts"},
		{"'text'", 1, "no texts"},
		{"`text`", 1, "no texts"},
		{"b'text'", 2, "no texts"},
		{"l + 'mm'", 5, "no texts"},
		{"[l, k]", 1, "no lists"},
		{"l[0]", 2, "no lists"},
		{"l[1:2]", 2, "no lists"},
		{"{a: 1}", 1, "brackets are round"},
		{"if 1 < 2 { l } else { k }", 10, "brackets are round"},
		{"l | abs()", 3, "no |"},
		{"l || k", 3, "'or'"},
		{"1 < 2 && 2 < 3", 7, "'and'"},
		{"1 < 2 & 2 < 3", 7, "'and'"},
		{"!(1 < 2)", 1, "'not'"},
		{"l = k", 3, "=="},
		{"let x = l; x", 7, "=="},
		{"l; k", 2, "step of its own"},
		{"filter(l, # > 1)", 11, "no #"},
		{"map(l, .x)", 8, "point stands only"},
		{"all(1, 2)", 1, "no function all"},
		{"count(l)", 1, "no function count"},
		{"sum(l)", 1, "no function sum"},
		{"reduce(l, k)", 1, "no function reduce"},
		{"len(l)", 1, "no function len"},
		{"now()", 1, "no function now"},
		{"repeat(l, 3)", 1, "no function repeat"},
		{"::abs(l)", 1, "no ::"},
		{"5*millimetre", 3, "the units are mm, cm and inch"},
		{"3*metre", 3, "the units are mm, cm and inch"},
		{"0.25*in", 6, "written out, as in 0.25*inch"},
		{"0,25*l", 2, "with a point: write 0.25"},
		{"1..3", 2, "point stands only"},
		{"1 in 2", 3, "no in"},
		{"l not in k", 7, "no in"},
		{"l matches k", 3, "no matches"},
		{"l contains k", 3, "no contains"},
		{"l startsWith k", 3, "no startsWith"},
		{"l endsWith k", 3, "no endsWith"},
		{"l ?? k", 3, "one ?"},
		{"p?.x", 2, "between ? and :"},
		{"p.x", 2, "point stands only"},
		{"p.At.X", 2, "point stands only"},
		{"(p).x", 4, "point stands only"},
		{"1 < 2 ?: 3", 1, "between ? and :"},
		{"1 < 2 ? : 3", 1, "between ? and :"},
		{"l ** 2", 3, "no powers"},
		{"l ^ 2", 3, "no powers"},
		{"6 %", 3, "percentages"},
		{"l % k", 3, "percentages"},
		{"l // half", 3, "no comments"},
		{"l /* half */ + k", 3, "no comments"},
		{"l × 2", 3, "write *"},
		{"l ÷ 2", 3, "write /"},
		{"l − k", 3, "write -"},
		{"l ≤ k", 3, "write <="},
		{"30°", 3, "*degree"},
		{"π", 1, "write pi"},
		{"größe", 3, "no ö"},
		{"l + $env", 5, "no $"},
		{"l @ k", 3, "no @"},
		{"l \\ k", 3, "no \\"},
		{"l\x00", 2, "control characters"},
		{"l\xff", 2, "no text"},
		{"true", 1, "no need for true"},
		{"false", 1, "no need for true"},
		{"nil", 1, "no part of a formula"},
		{"l < k < l", 7, "two values at a time"},
		{"+l", 1, "nothing before this +"},
		{"l +", 3, "ends too early"},
		{"abs(l", 5, "ends too early"},
		{"l)", 2, "never opened"},
		{"(l))", 4, "never opened"},
		{"()", 2, ") cannot stand here"},
		{"l + * k", 5, "* cannot stand here"},
		{"2 mm", 3, "missing before mm"},
		{"2mm", 2, "a number and a name"},
		{"2 3", 3, "missing before 3"},
		{"l (k)", 1, "l is a name and no function"},
		{"2 (k)", 3, "before this bracket"},
		{"0,5 * l", 2, "decimals are written with a point"},
		{"l, k", 2, "list of arguments"},
		{"1e999", 0, "no number"},
		{"99999999999999999999", 0, "no number"},
		{"1e", 0, "no number"},
		{"given(l + k)", 1, "by its name"},
		{"given(l, k)", 1, "one measure"},
		{"given()", 1, "one measure"},
		{"given(n)", 7, "n is no measure"},
		{"given(nothing)", 7, "no name nothing"},
		{"given", 1, "write given(measure)"},
		{"abs", 1, "write abs(v)"},
		{"l ? 1 : 2", 1, "before ? stands a comparison, and this is a length"},
		{"1 < 2 ? l : n", 1, "a length and a number"},
		{"1 < 2 ? l", 9, "ends too early"},
		{"not l < k", 1, "put brackets round a comparison"},
		{"l + n", 3, "a length and a number cannot be added; give the number a unit"},
		{"l + a", 3, "a length and an area cannot be added"},
		{"n < l", 3, "a number and a length cannot be compared; give the number a unit"},
		{"q - p", 3, "subtracted; use dist"},
		{"p == q", 3, "compare their dist"},
		{"c == d", 3, "compare their length"},
		{"(1 < 2) == (2 < 3)", 9, "'and' or 'or'"},
		{"1 / l", 3, "a number cannot be divided by a length"},
		{"1 / 0", 3, "divides by 0"},
		{"l / (n - 3)", 3, "divides by 0"},
		{"n / (l / k - l / k)", 3, "divides by 0"},
		{"n * 1e300 * 1e300", 11, "beyond all bounds"},
		{"at(1e9*mm, l)", 7, "100 m"},
		{"right(p, n * 1e6*mm)", 17, "100 m"},
		{"right(right(p, 99*1000*mm), 99*1000*mm)", 1, "100 m"},
		{"100.001*1000*mm", 13, "100 m"},
	} {
		e := failure(t, c.source, sample)
		if c.column != 0 && e.Column != c.column || !strings.Contains(e.Says, c.says) {
			t.Errorf("%s: at %d %q, want at %d %q", c.source, e.Column, e.Says, c.column, c.says)
		}
		oneSentence(t, c.source, e.Says)
	}
}

// oneSentence checks that what an error says is one sentence that can follow a
// colon, without the words of the expression library.
func oneSentence(t *testing.T, source, says string) {
	t.Helper()
	if says == "" || strings.HasSuffix(says, ".") || strings.Contains(says, "\n") || strings.Contains(says, ". ") {
		t.Errorf("%s: %q is not one plain sentence", source, says)
	}
	for _, word := range []string{"token", "float64", "interface", "nil", "EOF", "panic", "expr"} {
		if strings.Contains(says, word) && !strings.Contains(source, word) {
			t.Errorf("%s: %q speaks of %s", source, says, word)
		}
	}
}

func TestNearNames(t *testing.T) {
	v := Values{
		"bust_girth": Length{900}, "belly_girth": Length{800}, "waist_girth": Length{700}, "hip_girth": Length{950},
		"bust_point_distance": Length{180}, "upper_arm_girth": Length{280},
	}
	for source, want := range map[string]string{
		"bust_grith":  "near it is bust_girth",
		"bust_girth_": "near it is bust_girth",
		"bustgirth":   "near it is bust_girth",
		"Bust_Girth":  "near it is bust_girth",
		"girth":       "near it are belly_girth, bust_girth and hip_girth",
		"arm_girth":   "near it are upper_arm_girth",
		"inc":         "near it is inch",
		"xyz":         "the names here are",
		"tward(1)":    "near it is toward",
		"givn(1)":     "near it is given",
		"compas(1)":   "near it is compass",
	} {
		says := failure(t, source, v).Says
		if want == "near it are upper_arm_girth" {
			if !strings.Contains(says, "upper_arm_girth") {
				t.Errorf("%s: %q", source, says)
			}
			continue
		}
		if !strings.Contains(says, want) {
			t.Errorf("%s: %q, want %q", source, says, want)
		}
	}
	if says := failure(t, "xyz", nil).Says; !strings.Contains(says, "no names but constants") {
		t.Error(says)
	}
	if says := failure(t, "xyzzy(1)", nil).Says; says != "there is no function xyzzy" {
		t.Error(says)
	}
	many := Values{}
	for i := range 40 {
		many[fmt.Sprintf("measure_%d", i)] = Length{1}
	}
	if says := failure(t, "xyz", many).Says; strings.Contains(says, "measure_7") {
		t.Errorf("%q lists a whole long scope", says)
	}
}

// TestEditDistance: against figures worked out by hand.
func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"a", "", 1}, {"", "abc", 3}, {"kitten", "sitting", 3}, {"ab", "ba", 1}, {"grith", "girth", 1}, {"waist", "waist", 0},
	} {
		if got := editDistance(c.a, c.b); got != c.want {
			t.Errorf("%q to %q is %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestLimits(t *testing.T) {
	long := "1" + strings.Repeat(" ", maxSource)
	if says := failure(t, long, nil).Says; !strings.Contains(says, "longer than 1000 bytes") {
		t.Error(says)
	}
	if got := worked(t, "1"+strings.Repeat(" ", maxSource-1), nil); got != 1. {
		t.Error(got)
	}
	open := strings.Repeat("(", maxOpen+1) + "1" + strings.Repeat(")", maxOpen+1)
	if e := failure(t, open, nil); !strings.Contains(e.Says, "brackets are open") || e.Column != maxOpen+1 {
		t.Error(e)
	}
	if got := worked(t, open[1:len(open)-1], nil); got != 1. {
		t.Error(got)
	}
	parts := "1" + strings.Repeat("+1", 300)
	if says := failure(t, parts, nil).Says; !strings.Contains(says, "400 parts") {
		t.Error(says)
	}
	if got := worked(t, "1"+strings.Repeat("+1", 150), nil); got != 151. {
		t.Error(got)
	}
}

// TestHostile: formulas made to take long or to nest deep are answered at once.
func TestHostile(t *testing.T) {
	chain := "1"
	for len(chain) < 900 {
		chain = "1<(" + chain + ")<3?1:2"
	}
	elvis := "1<2"
	for len(elvis) < 900 {
		elvis = "(" + elvis + ")?:(1<2)"
	}
	nested := "l"
	for range 38 {
		nested = "abs(" + nested + ")"
	}
	var sources []string
	for _, s := range []string{"-", "not ", "(", ")", "?", ":", "1?", "1?1:", "abs(", "+", "[", "{", "'", "//", "a.", "1<", "given(", ",", "1,", "::", "..", "#"} {
		sources = append(sources, strings.Repeat(s, 900/len(s)), strings.Repeat(s, 900/len(s))+"1")
	}
	start := time.Now()
	for _, s := range append(sources, chain, elvis) {
		failure(t, s, sample)
	}
	worked(t, nested, sample)
	if d := time.Since(start); d > 5*time.Second {
		t.Errorf("%d hostile formulas took %v", len(sources), d)
	}
}

// TestValuesThatDoNotFit: a formula is safe with whatever the values hold.
func TestValuesThatDoNotFit(t *testing.T) {
	s := scopeOf(t, sample)
	for _, source := range []string{"l", "l + k", "right(p, l)", "length(c)", "l > k"} {
		f, err := Compile(source, s)
		if err != nil {
			t.Fatal(err)
		}
		name := f.Reads()[0]
		for _, wrong := range []Value{
			nil, "text", 3, Number(3), Truth(true), struct{}{}, &Length{3}, Length{math.NaN()}, Length{math.Inf(1)},
			Point{At: pointAt(math.Inf(1), 0).(Point).At}, Point{At: pointAt(0, 2e5).(Point).At}, Curve{},
		} {
			v := Values{}
			for k, x := range sample {
				v[k] = x
			}
			v[name] = wrong
			_, err := f.Value(v)
			var e *Error
			if !errors.As(err, &e) || !strings.Contains(e.Says, name) {
				t.Errorf("%s with %s = %v: %v", source, name, wrong, err)
				continue
			}
			oneSentence(t, source, e.Says)
		}
		if _, err := f.Value(nil); err == nil {
			t.Errorf("%s is worked out without values", source)
		}
	}
}
