package formula

import (
	"strings"
	"testing"
)

// sample are two names of every kind.
var sample = Values{
	"n": Number(3), "m": Number(0.5),
	"l": Length{8}, "k": Length{20},
	"a": Area{160}, "b": Area{40},
	"w": Angle{1.5}, "v": Angle{0.25},
	"p": pointAt(3, 4), "q": pointAt(10, 28),
	"c": worth("line(at(0*mm, 0*mm), at(30*mm, 40*mm))"),
	"d": worth("hook(at(0*mm, 0*mm), at(50*mm, 0*mm), at(50*mm, 30*mm), 0.5)"),
}

// worth returns the value of a formula over constants.
func worth(source string) Value {
	f, err := Compile(source, NewScope())
	if err != nil {
		panic(err)
	}
	v, err := f.Value(nil)
	if err != nil {
		panic(err)
	}
	return v
}

// pairs are the names of sample by kind. Truth has no names; comparisons stand in.
var pairs = map[Kind][2]string{
	NumberKind: {"n", "m"}, LengthKind: {"l", "k"}, AreaKind: {"a", "b"}, AngleKind: {"w", "v"},
	PointKind: {"p", "q"}, CurveKind: {"c", "d"}, TruthKind: {"(1 < 2)", "(n < 2)"},
}

// dimension is what a kind is a power of: the table of operators is checked against
// the algebra of dimensions and not against itself.
type dimension struct{ length, angle int }

var dimensions = map[Kind]dimension{
	NumberKind: {}, LengthKind: {length: 1}, AreaKind: {length: 2}, AngleKind: {angle: 1},
}

// kindWith returns the kind of a dimension.
func kindWith(d dimension) (Kind, bool) {
	for k, e := range dimensions {
		if e == d {
			return k, true
		}
	}
	return 0, false
}

func TestEverySignBetweenEveryTwoKinds(t *testing.T) {
	for left, ln := range pairs {
		for right, rn := range pairs {
			for _, sign := range []string{"+", "-", "*", "/", "<", "<=", ">", ">=", "==", "!=", "and", "or"} {
				source := ln[0] + " " + sign + " " + rn[1]
				wantKind, want, ok := expected(left, right, sign, ln[0], rn[1])
				if !ok {
					e := failure(t, source, sample)
					if e.Column < 1 || e.Column > len(source) {
						t.Errorf("%s: the mistake lies at %d", source, e.Column)
					}
					if !strings.Contains(e.Says, left.String()) && !strings.Contains(e.Says, "comparison") {
						t.Errorf("%s: %q does not name %s", source, e.Says, left)
					}
					continue
				}
				if got := worked(t, source, sample); KindOf(got) != wantKind || !alike(got, want) {
					t.Errorf("%s is %v (%s), want %v (%s)", source, got, KindOf(got), want, wantKind)
				}
			}
		}
	}
}

// expected works a sign out by the algebra of dimensions.
func expected(left, right Kind, sign, l, r string) (Kind, Value, bool) {
	if sign == "and" || sign == "or" {
		// "1 < 2" holds, "n < 2" does not
		return TruthKind, Truth(sign == "or"), left == TruthKind && right == TruthKind
	}
	dl, okl := dimensions[left]
	dr, okr := dimensions[right]
	if !okl || !okr {
		return 0, nil, false
	}
	x, y := magnitude(sample[l]), magnitude(sample[r])
	switch sign {
	case "+":
		return left, quantity(left, x+y), left == right
	case "-":
		return left, quantity(left, x-y), left == right
	case "*":
		k, ok := kindWith(dimension{dl.length + dr.length, dl.angle + dr.angle})
		if dl.angle != 0 && dr.length != 0 || dl.length != 0 && dr.angle != 0 {
			ok = false
		}
		return k, quantity(k, x*y), ok
	case "/":
		k, ok := kindWith(dimension{dl.length - dr.length, dl.angle - dr.angle})
		return k, quantity(k, x/y), ok
	}
	holds := map[string]bool{"<": x < y, "<=": x <= y, ">": x > y, ">=": x >= y, "==": x == y, "!=": x != y}[sign]
	return TruthKind, Truth(holds), left == right
}

func TestComparisonsOfEqualValues(t *testing.T) {
	for source, want := range map[string]bool{
		"l < l": false, "l <= l": true, "l > l": false, "l >= l": true, "l == l": true, "l != l": false,
		"l == 0.8*cm": true, "k != 2*cm": false,
	} {
		if got := worked(t, source, sample); got != want {
			t.Errorf("%s is %v", source, got)
		}
	}
}

func TestSignsBefore(t *testing.T) {
	for kind, names := range pairs {
		minus, not := "-"+names[0], "not "+names[0]
		if kind.figure() {
			if got := worked(t, minus, sample); !alike(got, quantity(kind, -magnitude(sample[names[0]]))) {
				t.Errorf("%s is %v", minus, got)
			}
		} else if e := failure(t, minus, sample); !strings.Contains(e.Says, kind.String()) {
			t.Errorf("%s: %s", minus, e.Says)
		}
		if kind == TruthKind {
			if got := worked(t, not, sample); got != false {
				t.Errorf("%s is %v", not, got)
			}
		} else if e := failure(t, not, sample); !strings.Contains(e.Says, kind.String()) {
			t.Errorf("%s: %s", not, e.Says)
		}
	}
}

// TestPrecedence: the usual order of arithmetic, and 'and' before 'or'.
func TestPrecedence(t *testing.T) {
	for source, want := range map[string]Value{
		"2 + 3 * 4":                       14.,
		"(2 + 3) * 4":                     20.,
		"2 - 3 - 4":                       -5.,
		"24 / 4 / 2":                      3.,
		"-2 * 3":                          -6.,
		"2 * -3":                          -6.,
		"1 < 2 or 1 < 2 and 2 < 1":        true,
		"not (1 < 2) or 1 < 2":            true,
		"1 < 2 ? 3 : 2 < 1 ? 4 : 5":       3.,
		"2 < 1 ? 3 : 2 < 1 ? 4 : 5":       5.,
		"(n > 2 ? l : k) + 1*mm":          Length{9},
		"n > 2 and l < k ? p : q":         pointAt(3, 4),
		".5 * k":                          Length{10},
		"1e1 * l":                         Length{80},
		"\tl\n+\r\n l ":                   Length{16},
		"3 * mm + 2 * cm + 1 * inch":      Length{48.4},
		"180 * degree / pi":               Angle{1},
		"l / 1 * mm / mm":                 Length{8},
		"a / l + k":                       Length{40},
		"sqrt(a * 10) + sqrt(l * l)":      Length{48},
		"(n)":                             3.,
		"1 == 1 ? at(l, k) : at(k, l)":    pointAt(8, 20),
		"2 < 1 or l < k and not (k <= l)": true,
	} {
		if got := worked(t, source, sample); !alike(got, want) {
			t.Errorf("%s is %v, want %v", source, got, want)
		}
	}
}

// TestOnlyTheBranchThatIsTakenIsWorkedOut: a condition guards against what could
// not be worked out.
func TestOnlyTheBranchThatIsTakenIsWorkedOut(t *testing.T) {
	zero := Values{"z": Length{0}, "l": Length{8}}
	for source, want := range map[string]Value{
		"z == 0*mm ? 0 : l / z":            0.,
		"1 < 2 ? 1 : 1 / 0":                1.,
		"z == 0*mm or l / z > 1":           true,
		"not (z == 0*mm) and l / z > 1":    false,
		"2 < 1 and sqrt(-1) > 0":           false,
		"l > 1*mm ? l : leg(1*mm, 2*mm)":   Length{8},
		"z > 0*mm ? at(1e9*mm, z).x : 3.0": nil,
	} {
		if want == nil {
			failure(t, source, zero)
			continue
		}
		if got := worked(t, source, zero); !alike(got, want) {
			t.Errorf("%s is %v, want %v", source, got, want)
		}
	}
}
