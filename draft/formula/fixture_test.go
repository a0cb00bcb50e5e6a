package formula

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// scopeOf returns a scope with the names of the values, and whether each length was
// given can be asked.
func scopeOf(t testing.TB, v Values) *Scope {
	t.Helper()
	s := NewScope()
	for name, x := range v {
		if strings.HasPrefix(name, "given ") {
			continue
		}
		if err := s.Add(name, KindOf(x)); err != nil {
			t.Fatal(err)
		}
		if KindOf(x) == LengthKind {
			s.AddGiven(name)
		}
	}
	return s
}

// compiled compiles a formula that must be right.
func compiled(t testing.TB, source string, v Values) *Formula {
	t.Helper()
	f, err := Compile(source, scopeOf(t, v))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// worked works a formula out that must be right.
func worked(t testing.TB, source string, v Values) Value {
	t.Helper()
	f := compiled(t, source, v)
	x, err := f.Value(v)
	if err != nil {
		t.Fatal(err)
	}
	if k := KindOf(x); k != f.Kind() {
		t.Fatalf("%s gives %s and promised %s", source, k, f.Kind())
	}
	return x
}

func length(t testing.TB, source string, v Values) float64 {
	t.Helper()
	return worked(t, source, v).(Length).MM
}

func point(t testing.TB, source string, v Values) geom.Point {
	t.Helper()
	return worked(t, source, v).(Point).At
}

func path(t testing.TB, source string, v Values) geom.Path {
	t.Helper()
	return worked(t, source, v).(Curve).Path
}

// failure returns what is wrong with a formula, when it is read or worked out.
func failure(t testing.TB, source string, v Values) *Error {
	t.Helper()
	f, err := Compile(source, scopeOf(t, v))
	if err == nil {
		_, err = f.Value(v)
	}
	var e *Error
	switch {
	case err == nil:
		t.Fatalf("%s is not refused", source)
	case !errors.As(err, &e):
		t.Fatalf("%s: %T is no *Error", source, err)
	case e.Source != source:
		t.Fatalf("the error of %q is about %q", source, e.Source)
	}
	return e
}

func pointAt(x, y float64) Value { return Point{geom.Pt(x, y)} }

// near says whether two figures agree to a share of 1e-12, or to 1e-12 near 0.
func near(a, b float64) bool {
	return math.Abs(a-b) <= 1e-12*max(1, math.Abs(a), math.Abs(b))
}

// alike says whether two values agree as near does.
func alike(a, b Value) bool {
	if KindOf(a) != KindOf(b) {
		return false
	}
	switch a := a.(type) {
	case Truth:
		return a == b.(Truth)
	case Point:
		return alikePoints(a.At, b.(Point).At)
	case Curve:
		c := b.(Curve)
		if len(a.Path) != len(c.Path) {
			return false
		}
		for i, s := range a.Path {
			q := c.Path[i]
			if s.Straight != q.Straight || !alikePoints(s.P0, q.P0) || !alikePoints(s.P1, q.P1) || !alikePoints(s.P2, q.P2) || !alikePoints(s.P3, q.P3) {
				return false
			}
		}
		return true
	}
	return near(magnitude(a), magnitude(b))
}

func alikePoints(a, b geom.Point) bool { return near(a.X, b.X) && near(a.Y, b.Y) }
