package formula

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawFormula draws the formula of a curve: functions of curves in one another.
func drawFormula(t *rapid.T, depth int) string {
	if depth == 0 {
		return rapid.SampledFrom([]string{"c", "d", "line(p, q)", "through(p, q, at(k, l), p)"}).Draw(t, "leaf")
	}
	inner := func() string { return drawFormula(t, depth-1) }
	switch rapid.IntRange(0, 6).Draw(t, "function") {
	case 0:
		return "path(" + inner() + ", " + inner() + ", p)"
	case 1:
		return "reverse(" + inner() + ")"
	case 2:
		return "moved(" + inner() + ", l, k)"
	case 3:
		return "trimmed(" + inner() + ", l)"
	case 4:
		return "trimmed(" + inner() + ", 1000*mm)"
	case 5:
		return "part(" + inner() + ", 0*mm, 1*mm)"
	}
	return "(l > k ? " + inner() + " : " + inner() + ")"
}

// The effort of measuring a curve is never below what its stretches cost, however the
// formula made it.
func TestEffortIsABound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		v := Values{
			"c": drawCurve(t, size), "d": drawCurve(t, size), "p": drawAt(t, size, "p"), "q": drawAt(t, size, "q"),
			"l": Length{8}, "k": Length{20},
		}
		s := NewScope()
		for name, x := range v {
			if err := s.Add(name, KindOf(x)); err != nil {
				t.Fatal(err)
			}
		}
		source := drawFormula(t, rapid.IntRange(0, 4).Draw(t, "depth"))
		if len(source) > maxSource-len("length()") || strings.Count(source, "(") > maxNodes/8 {
			t.Skip("too long")
		}
		f, err := Compile(source, s)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := Compile("length("+source+")", s)
		if err != nil {
			t.Fatal(err)
		}
		x, err := f.Value(v)
		if err != nil {
			t.Skip("it cannot be worked out")
		}
		least := stretchEffort * float64(len(x.(Curve).Path))
		if got := whole.Effort(v) - f.Effort(v); got < least && whole.constant == nil {
			t.Fatalf("%s: measuring %d stretches is said to cost %v, not %v", source, len(x.(Curve).Path), got, least)
		}
	})
}

// A line that leans is searched again with less of a lean where there is none: all of these
// searches count.
func TestEffortOfEverySearch(t *testing.T) {
	names := Values{"c": Point{}, "u": Point{}, "w": Point{}, "long": Length{1}, "side": Length{1}, "lean": Angle{}}
	one := compiled(t, "sweep_true(c, long, side, u, w)", names).Effort(names)
	if got, least := compiled(t, "sweep_leaning(c, long, side, lean, u, w)", names).Effort(names), (1+leanHalvings)*one; got < 0.99*least {
		t.Errorf("a line that leans is said to cost %g, and its searches cost %g", got, least)
	}
}

func TestEffortGrowsWithTheCurve(t *testing.T) {
	short := Values{"c": worth("line(at(0*mm, 0*mm), at(9*mm, 0*mm))")}
	long := Values{"c": worth("through(at(0*mm, 0*mm), at(9*mm, 0*mm), at(9*mm, 9*mm), at(0*mm, 9*mm), at(0*mm, 4*mm))")}
	f := compiled(t, "length(c) + length(reverse(c))", short)
	if a, b := f.Effort(short), f.Effort(long); b < 3*a {
		t.Errorf("effort %v of a line, %v of four curves", a, b)
	}
	if got := f.Effort(nil); got <= 0 {
		t.Errorf("effort %v without values", got)
	}
}

// What takes long is not worked out when it is read, where nobody counts it: a mistake
// in it is told when it is worked out.
func TestWhatTakesLongIsNotWorkedOutWhenRead(t *testing.T) {
	for source, early := range map[string]bool{
		"length(line(at(0*mm, 0*mm), at(9*mm, 0*mm)))":                                 true,
		"sweep_room(at(0*mm, 0*mm), 90*mm, at(50*mm, 40*mm), 1*mm)":                    false,
		"length(sweep_true(at(0*mm, 0*mm), 90*mm, 30*mm, at(80*mm, 40*mm))) + 1*mm":    false,
		strings.Repeat("length(line(at(0*mm, 0*mm), at(9*mm, 0*mm))) + ", 15) + "1*mm": false,
	} {
		f := compiled(t, source, nil)
		if (f.constant != nil) != early {
			t.Errorf("%s: worked out when read: %v", source, !early)
		}
		if _, err := f.Value(nil); err != nil {
			t.Errorf("%s: %v", source, err)
		}
	}
}
