package formula

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hemlet/geom"
)

// examples are formulas over sample and what they give, worked out by hand.
var examples = []struct {
	source string
	want   Value
}{
	// What is beyond the end by less than the grid is the end, however short the curve.
	{"on(line(at(0*mm, 0*mm), at(9*mm, 0*mm)), 9*mm + 5e-7*mm)", pointAt(9, 0)}, {"on(line(at(0*mm, 0*mm), at(9*mm, 0*mm)), -5e-7*mm)", pointAt(0, 0)},

	{"abs(-3)", 3.}, {"abs(-l)", Length{8}}, {"abs(-w)", Angle{1.5}},
	{"min(n, m)", 0.5}, {"min(k, l, 9*mm)", Length{8}}, {"min(w, v)", Angle{0.25}}, {"min(5, 4, 3, 2, 1, 0, -1, -2, -3, -4, -5, -6)", -6.},
	{"max(n, m)", 3.}, {"max(l, k, 9*mm)", Length{20}}, {"max(w, v)", Angle{1.5}},
	{"clamp(n, 0, 1)", 1.}, {"clamp(l, 10*mm, k)", Length{10}}, {"clamp(l, 1*mm, k)", Length{8}}, {"clamp(w, v, 1*degree)", Angle{0.25}},
	{"clamp(5, 8, 2)", 8.},
	{"round(n, 2)", 4.}, {"round(-5, 2)", -6.}, {"round(l, 3*mm)", Length{9}}, {"round(7.4*degree, 5*degree)", Angle{5 * math.Pi / 180}},
	{"sqrt(9)", 3.}, {"sqrt(a * 10)", Length{40}}, {"sqrt(0)", 0.},
	{"hyp(3*mm, 4*mm)", Length{5}}, {"hyp(-5*mm, 12*mm)", Length{13}},
	{"leg(5*mm, 3*mm)", Length{4}}, {"leg(13*mm, -12*mm)", Length{5}}, {"leg(k, k)", Length{0}}, {"leg(k, k * (1 + 1e-12))", Length{0}},
	{"sin(30*degree)", 0.5}, {"cos(60*degree)", 0.5}, {"tan(45*degree)", 1.},
	{"asin(0.5)", Angle{math.Pi / 6}}, {"acos(0.5)", Angle{math.Pi / 3}}, {"atan(1)", Angle{math.Pi / 4}}, {"asin(1 + 1e-12)", Angle{math.Pi / 2}}, {"acos(-1 - 1e-12)", Angle{math.Pi}},
	{"slope(1*mm, 1*mm)", Angle{math.Pi / 4}}, {"slope(-1*mm, 0*mm)", Angle{-math.Pi / 2}}, {"slope(0*mm, -1*mm)", Angle{math.Pi}},

	{"at(l, k)", pointAt(8, 20)},
	{"right(p, l)", pointAt(11, 4)}, {"left(p, l)", pointAt(-5, 4)}, {"above(p, l)", pointAt(3, 12)}, {"below(p, l)", pointAt(3, -4)},
	{"toward(at(0*mm, 0*mm), p, 10*mm)", pointAt(6, 8)}, {"toward(p, q, -25*mm)", pointAt(-4, -20)}, {"toward(p, p, 0*mm)", pointAt(3, 4)},
	{"between(p, q, 0)", pointAt(3, 4)}, {"between(p, q, 1)", pointAt(10, 28)}, {"between(p, q, 0.5)", pointAt(6.5, 16)}, {"between(p, q, -1)", pointAt(-4, -20)},
	{"polar(p, 90*degree, l)", pointAt(3, 12)}, {"polar(p, 180*degree, 3*mm)", pointAt(0, 4)},
	{"aside(at(0*mm, 0*mm), at(9*mm, 0*mm), 2*mm)", pointAt(0, 2)}, {"aside(at(0*mm, 0*mm), at(0*mm, 9*mm), 2*mm)", pointAt(-2, 0)}, {"aside(p, p, 0*mm)", pointAt(3, 4)},
	{"meet(at(0*mm, 0*mm), at(1*mm, 1*mm), at(0*mm, 4*mm), at(4*mm, 0*mm))", pointAt(2, 2)},
	{"meet(at(0*mm, 0*mm), at(1*mm, 0*mm), at(7*mm, 1*mm), at(7*mm, 2*mm))", pointAt(7, 0)},
	{"foot(at(5*mm, 5*mm), at(-1*mm, 0*mm), at(9*mm, 0*mm))", pointAt(5, 0)}, {"foot(at(0*mm, 2*mm), at(0*mm, 0*mm), at(1*mm, 1*mm))", pointAt(1, 1)},
	{"mirror(at(5*mm, 5*mm), at(0*mm, 1*mm), at(9*mm, 1*mm))", pointAt(5, -3)}, {"mirror(at(3*mm, 0*mm), at(0*mm, 0*mm), at(1*mm, 1*mm))", pointAt(0, 3)},
	{"turn(at(5*mm, 1*mm), at(2*mm, 1*mm), 90*degree)", pointAt(2, 4)},
	{"compass(at(0*mm, 0*mm), 5*mm, at(6*mm, 0*mm), 5*mm)", pointAt(3, 4)}, {"compass(at(6*mm, 0*mm), 5*mm, at(0*mm, 0*mm), 5*mm)", pointAt(3, -4)},
	{"compass(at(0*mm, 0*mm), 2*mm, at(5*mm, 0*mm), 3*mm)", pointAt(2, 0)}, {"compass(at(0*mm, 0*mm), 5*mm, at(2*mm, 0*mm), 3*mm)", pointAt(5, 0)},

	{"across(p)", Length{3}}, {"height(p)", Length{4}}, {"dist(p, q)", Length{25}}, {"dist(p, p)", Length{0}},
	{"angle(p, above(p, l))", Angle{math.Pi / 2}}, {"angle(p, below(p, l))", Angle{-math.Pi / 2}}, {"angle(p, left(p, l))", Angle{math.Pi}},

	{"line(p, q)", Curve{geom.Path{geom.Line(geom.Pt(3, 4), geom.Pt(10, 28))}}},
	{"hook(at(0*mm, 0*mm), at(10*mm, 0*mm), at(10*mm, 20*mm), 0.25)",
		oneStretch(geom.Cubic(geom.Pt(0, 0), geom.Pt(2.5, 0), geom.Pt(10, 15), geom.Pt(10, 20)))},
	{"bend(at(0*mm, 0*mm), 90*degree, at(9*mm, 3*mm), 180*degree, 2*mm, 1*mm)",
		oneStretch(geom.Cubic(geom.Pt(0, 0), geom.Pt(0, 2), geom.Pt(10, 3), geom.Pt(9, 3)))},
	{"through(p, q)", Curve{geom.Path{geom.Line(geom.Pt(3, 4), geom.Pt(10, 28))}}},
	// The chords are 10 long each and turn by 90 degrees: the tangent between runs at 45.
	{"through(at(0*mm, 0*mm), at(10*mm, 0*mm), at(10*mm, 10*mm))", Curve{geom.Path{
		geom.Cubic(geom.Pt(0, 0), geom.Pt(10./3, 0), geom.Pt(10-10/(3*math.Sqrt2), -10/(3*math.Sqrt2)), geom.Pt(10, 0)),
		geom.Cubic(geom.Pt(10, 0), geom.Pt(10+10/(3*math.Sqrt2), 10/(3*math.Sqrt2)), geom.Pt(10, 20./3), geom.Pt(10, 10)),
	}}},
	{"path(p, q)", Curve{geom.Path{geom.Line(geom.Pt(3, 4), geom.Pt(10, 28))}}},
	{"path(p, p)", Curve{geom.Path{geom.Line(geom.Pt(3, 4), geom.Pt(3, 4))}}},
	{"path(c, at(30*mm, 40*mm), right(end(c), l))", Curve{geom.Path{
		geom.Line(geom.Pt(0, 0), geom.Pt(30, 40)), geom.Line(geom.Pt(30, 40), geom.Pt(38, 40)),
	}}},
	{"path(c, moved(c, 30*mm, 40*mm))", Curve{geom.Path{
		geom.Line(geom.Pt(0, 0), geom.Pt(30, 40)), geom.Line(geom.Pt(30, 40), geom.Pt(60, 80)),
	}}},
	// Down to a waist and out again: upright at the waist.
	{"flow(at(20*mm, 60*mm), at(10*mm, 30*mm), at(25*mm, 0*mm))", Curve{geom.Path{
		geom.Cubic(geom.Pt(20, 60), geom.Pt(20-10.0/3, 50), geom.Pt(10, 40), geom.Pt(10, 30)),
		geom.Cubic(geom.Pt(10, 30), geom.Pt(10, 20), geom.Pt(20, 10), geom.Pt(25, 0)),
	}}},
	// A level line of the length that the radius leaves is straight.
	{"sweep(at(0*mm, 0*mm), 30*mm, at(30*mm, 50*mm), 50*mm)", oneStretch(geom.Cubic(geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(20, 0), geom.Pt(30, 0)))},
	{"sweep(at(7*mm, 9*mm), 30*mm, at(-23*mm, 59*mm), 50*mm)", oneStretch(geom.Cubic(geom.Pt(7, 9), geom.Pt(-3, 9), geom.Pt(-13, 9), geom.Pt(-23, 9)))},
	{"part(c, 10*mm, 25*mm)", Curve{geom.Path{geom.Line(geom.Pt(6, 8), geom.Pt(15, 20))}}},
	{"length(part(path(p, q, p), 5*mm, 45*mm))", Length{40}}, {"length(part(path(p, q, p), 45*mm, 5*mm))", Length{40}}, {"length(part(path(p, q, p), 0*mm, 50*mm))", Length{50}},
	{"end(part(path(p, q, p), 45*mm, 5*mm))", pointAt(4.4, 8.8)}, {"length(trimmed(path(p, q, p), 60*mm))", Length{60}},
	{"part(c, 25*mm, 10*mm)", Curve{geom.Path{geom.Line(geom.Pt(15, 20), geom.Pt(6, 8))}}},
	{"part(c, 10*mm, 10*mm)", Curve{geom.Path{geom.Line(geom.Pt(6, 8), geom.Pt(6, 8))}}},
	{"trimmed(c, 10*mm)", Curve{geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(6, 8))}}},
	{"trimmed(c, 100*mm)", Curve{geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(60, 80))}}},
	{"trimmed(c, 50*mm)", Curve{geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(30, 40))}}},
	{"reverse(c)", Curve{geom.Path{geom.Line(geom.Pt(30, 40), geom.Pt(0, 0))}}},
	{"mirrored(c, at(0*mm, 0*mm), at(0*mm, 1*mm))", Curve{geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(-30, 40))}}},
	{"turned(c, at(0*mm, 0*mm), 90*degree)", Curve{geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(-40, 30))}}},
	{"moved(c, 1*mm, 2*mm)", Curve{geom.Path{geom.Line(geom.Pt(1, 2), geom.Pt(31, 42))}}},

	{"length(c)", Length{50}}, {"start(c)", pointAt(0, 0)}, {"end(c)", pointAt(30, 40)},
	{"on(c, 25*mm)", pointAt(15, 20)}, {"on(c, 0*mm)", pointAt(0, 0)}, {"on(c, 50*mm * (1 + 1e-12))", pointAt(30, 40)},
	{"heading(c, 25*mm)", Angle{math.Atan2(4, 3)}}, {"heading(d, 0*mm)", Angle{0}}, {"heading(d, length(d))", Angle{math.Pi / 2}},
	{"crossing(c, at(0*mm, 20*mm), at(1*mm, 20*mm))", pointAt(15, 20)}, {"crossing(c, at(30*mm, 0*mm), at(30*mm, -1*mm))", pointAt(30, 40)},
	{"given(l) ? 1 : 2", 2.},
}

// TestExamples works the examples out, and sees that no function is without a test.
func TestExamples(t *testing.T) {
	seen := map[string]bool{}
	calls := regexp.MustCompile(`["( ]([a-z_]+)\(`)
	for _, c := range examples {
		if got := worked(t, c.source, sample); !alike(got, c.want) {
			t.Errorf("%s is %v, want %v", c.source, got, c.want)
		}
	}
	tests, err := filepath.Glob("*_test.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range tests {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, call := range calls.FindAllStringSubmatch(string(text), -1) {
			seen[call[1]] = true
		}
	}
	for _, f := range Functions() {
		if !seen[f.Name] {
			t.Errorf("%s has no test", f.Name)
		}
	}
}

// TestFunctionsThatCannot: what has no value says so in one sentence.
func TestFunctionsThatCannot(t *testing.T) {
	for source, says := range map[string]string{
		"round(l, 0*mm)":                       "step of round must be above 0",
		"round(l, -l)":                         "step of round must be above 0",
		"sqrt(-n)":                             "no square root",
		"sqrt(-a)":                             "no square root",
		"leg(l, k)":                            "the long side of leg is 8 mm, and 20 mm is longer",
		"tan(90*degree)":                       "no tangent",
		"tan(-90*degree)":                      "no tangent",
		"asin(n)":                              "no angle has the sine 3",
		"acos(-1.5)":                           "no angle has the cosine -1.5",
		"slope(0*mm, 0*mm)":                    "no direction",
		"toward(p, p, l)":                      "the two points are the same",
		"aside(p, p, l)":                       "the two points are the same",
		"angle(p, p)":                          "the two points are the same",
		"meet(p, p, p, q)":                     "the two points are the same",
		"meet(p, q, p, p)":                     "the two points are the same",
		"foot(p, q, q)":                        "the two points are the same",
		"mirror(p, q, q)":                      "the two points are the same",
		"mirrored(c, q, q)":                    "the two points are the same",
		"crossing(c, q, q)":                    "the two points are the same",
		"compass(p,l,p,l)":                     "the two points are the same",
		"compass(p,-l,q,k)":                    "the radius -8 mm",
		"compass(p,l,q,8*mm)":                  "they lie 9 mm apart",
		"compass(p,50*mm,q,5*mm)":              "one lies inside the other, 20 mm from it",
		"compass(p,5*mm,q,50*mm)":              "one lies inside the other, 20 mm from it",
		"meet(p, q, right(p, l), right(q, l))": "run side by side",
		"hook(p, q, at(l, l), 1.5)":            "between 0 and 1",
		"hook(p, q, at(l, l), -0.1)":           "between 0 and 1",
		"bend(p, w, q, v, -l, l)":              "must not be below 0",
		"bend(p, w, q, v, l, -l)":              "must not be below 0",
		"part(c, -l, k)":                       "-8 mm along the curve lies before its start",
		"part(c, l, 51*mm)":                    "the curve is 50 mm long, and 51 mm along it",
		"on(c, 50.001*mm)":                     "beyond its end",
		"on(c, -0.001*mm)":                     "before its start",
		"heading(c, 51*mm)":                    "beyond its end",
		"heading(line(p, p), 0*mm)":            "one point and has no direction",
		"trimmed(line(p, p), l)":               "one point and has no direction",
		"trimmed(c, 0*mm)":                     "cannot be trimmed to 0 mm",
		"trimmed(c, -l)":                       "cannot be trimmed to -8 mm",
		"crossing(c, at(0*mm, 41*mm), at(1*mm, 41*mm))":        "does not meet this line",
		"sweep(p, 0*mm, q, l)":                                 "cannot be 0 mm long",
		"sweep(p, l, q, 0*mm)":                                 "radius of sweep must be above 0",
		"sweep(at(0*mm,0*mm), 900*mm, at(30*mm,50*mm), 50*mm)": "cannot be 900 mm long and end square at 50 mm from u",
	} {
		e := failure(t, source, sample)
		if !strings.Contains(e.Says, says) {
			t.Errorf("%s: %q, want %q", source, e.Says, says)
		}
		oneSentence(t, source, e.Says)
	}
}

// TestEveryArgumentIsChecked: for every function each argument in turn gets a value
// of each kind that it does not take, and the number of arguments is one too few and
// one too many.
func TestEveryArgumentIsChecked(t *testing.T) {
	for _, f := range Functions() {
		if f.Name == givenName {
			continue
		}
		right := make([]string, len(f.Args))
		for i, a := range f.Args {
			right[i] = pairs[a.Kinds[0]][i%2]
		}
		call := func(args []string) string { return f.Name + "(" + strings.Join(args, ", ") + ")" }
		if _, err := Compile(call(right), scopeOf(t, sample)); err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
		for i, a := range f.Args {
			for kind, names := range pairs {
				if kindAt(a.Kinds, kind) >= 0 {
					continue
				}
				wrong := append([]string(nil), right...)
				wrong[i] = names[0]
				e := failure(t, call(wrong), sample)
				at := strings.Index(call(wrong), "(") + 2
				for _, w := range wrong[:i] {
					at += len(w) + 2
				}
				if strings.HasPrefix(names[0], "(") {
					at++ // the comparison in the brackets
				}
				if e.Column != at || !strings.Contains(e.Says, a.Name+" of "+f.Name) || !strings.Contains(e.Says, kind.String()) {
					t.Errorf("%v, want it at %d", e, at)
				}
				oneSentence(t, call(wrong), e.Says)
			}
		}
		for _, n := range []int{0, len(right) - 1, len(right) + 1, maxArguments + 1} {
			if n == len(right)+1 && f.More {
				continue
			}
			args := make([]string, n)
			for i := range args {
				args[i] = right[min(i, len(right)-1)]
			}
			e := failure(t, call(args), sample)
			if !strings.Contains(e.Says, f.Name) || !strings.Contains(e.Says, "argument") {
				t.Errorf("%v does not speak of the number of arguments", e)
			}
			oneSentence(t, call(args), e.Says)
		}
	}
}

// TestKindsThatGoTogether: a function of several kinds takes one of them at a time
// and gives the same.
func TestKindsThatGoTogether(t *testing.T) {
	for _, source := range []string{"min(l, n)", "max(n, n, w)", "clamp(l, n, k)", "clamp(l, k, n)", "round(l, n)", "round(w, l)"} {
		if e := failure(t, source, sample); !strings.Contains(e.Says, "of one kind") {
			t.Errorf("%s: %s", source, e.Says)
		}
	}
	for _, f := range Functions() {
		for i, gives := range f.Gives {
			if len(f.Gives) == 1 {
				break
			}
			args := make([]string, len(f.Args))
			for j, a := range f.Args {
				args[j] = pairs[a.Kinds[i]][0]
			}
			c := compiled(t, f.Name+"("+strings.Join(args, ", ")+")", sample)
			if c.Kind() != gives {
				t.Errorf("%s gives %s, want %s", c.Source(), c.Kind(), gives)
			}
		}
	}
}

// TestFunctionList: what a guide prints is whole.
func TestFunctionList(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range Functions() {
		if seen[f.Name] || f.Name == "" || f.Group == "" || len(f.Gives) == 0 || len(f.Args) == 0 || !strings.HasSuffix(f.Says, ".") {
			t.Errorf("%+v is not whole", f)
		}
		seen[f.Name] = true
		if !strings.HasPrefix(f.Call(), f.Name+"("+f.Args[0].Name) {
			t.Errorf("%s is written %s", f.Name, f.Call())
		}
		for _, a := range f.Args {
			if len(a.Kinds) != 1 && len(a.Kinds) != len(f.Gives) && len(f.Gives) > 1 {
				t.Errorf("%s of %s has %d kinds, and the function gives %d", a.Name, f.Name, len(a.Kinds), len(f.Gives))
			}
		}
	}
	if len(functions)+1 != len(seen) {
		t.Errorf("%d functions are listed of %d", len(seen), len(functions)+1)
	}
	for name, v := range Constants() {
		if got := worked(t, name, nil); got != v {
			t.Errorf("%s is %v, want %v", name, got, v)
		}
	}
}

func TestKinds(t *testing.T) {
	for k, want := range map[Kind]string{
		NumberKind: "a number", LengthKind: "a length", AreaKind: "an area", AngleKind: "an angle",
		TruthKind: "a yes or no", PointKind: "a point", CurveKind: "a curve",
	} {
		if k.article() != want {
			t.Errorf("%s, want %s", k.article(), want)
		}
	}
	for _, v := range []any{3, "x", nil, Values{}} {
		if k, ok := kindOf(v); ok {
			t.Errorf("%v has the kind %s", v, k)
		}
	}
	defer func() {
		if fmt.Sprint(recover()) == "<nil>" {
			t.Error("KindOf takes a text")
		}
	}()
	KindOf("text")
}
