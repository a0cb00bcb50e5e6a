package formula

import "fmt"

// figure says whether values of the kind are one figure with a unit, or none.
func (k Kind) figure() bool {
	return k == NumberKind || k == LengthKind || k == AreaKind || k == AngleKind
}

// kindPair is the kinds on the left and the right of a sign.
type kindPair struct{ left, right Kind }

// products says which kinds can be multiplied, and what that gives; the other order
// gives the same.
var products = map[kindPair]Kind{
	{NumberKind, NumberKind}: NumberKind,
	{LengthKind, NumberKind}: LengthKind,
	{AreaKind, NumberKind}:   AreaKind,
	{AngleKind, NumberKind}:  AngleKind,
	{LengthKind, LengthKind}: AreaKind,
}

// quotients says which kinds can be divided, and what that gives.
var quotients = map[kindPair]Kind{
	{NumberKind, NumberKind}: NumberKind,
	{LengthKind, NumberKind}: LengthKind,
	{AreaKind, NumberKind}:   AreaKind,
	{AngleKind, NumberKind}:  AngleKind,
	{LengthKind, LengthKind}: NumberKind,
	{AreaKind, LengthKind}:   LengthKind,
	{AreaKind, AreaKind}:     NumberKind,
	{AngleKind, AngleKind}:   NumberKind,
}

// operator returns the kind that a sign between two kinds gives and the name of the
// library's function that does it, or says why there is none.
func operator(sign string, a, b Kind) (gives Kind, name, says string) {
	switch sign {
	case "+", "-":
		if a == b && a.figure() {
			return a, sign + " " + a.String(), ""
		}
		return 0, "", sumSays(sign, a, b)
	case "*":
		k, ok := products[kindPair{a, b}]
		if !ok {
			k, ok = products[kindPair{b, a}]
		}
		if ok {
			return k, "* " + k.String(), ""
		}
		return 0, "", bothSay(a, b, "cannot be multiplied", "cannot be multiplied with each other")
	case "/":
		if k, ok := quotients[kindPair{a, b}]; ok {
			return k, "/ " + k.String(), ""
		}
		return 0, "", fmt.Sprintf("%s cannot be divided by %s", a.article(), b.article())
	case "<", "<=", ">", ">=", "==", "!=":
		if a == b && a.figure() {
			return TruthKind, sign, ""
		}
		return 0, "", comparisonSays(a, b)
	}
	return 0, "", "a formula holds no " + sign
}

// sumSays says why two kinds cannot be added or subtracted.
func sumSays(sign string, a, b Kind) string {
	what := "cannot be " + done(sign)
	if a == PointKind || b == PointKind {
		return bothSay(a, b, what, what) + "; use dist, across, height or right, left, above, below"
	}
	says := bothSay(a, b, what, what)
	if a != b && (a == NumberKind || b == NumberKind) && (a == LengthKind || b == LengthKind) {
		says += "; give the number a unit, such as 6*mm"
	}
	return says
}

func done(sign string) string {
	if sign == "+" {
		return "added"
	}
	return "subtracted"
}

// bothSay names two kinds and says what they cannot do; same is for two of one
// kind.
func bothSay(a, b Kind, what, same string) string {
	if a == b {
		return fmt.Sprintf("two values of the kind %s %s", a, same)
	}
	return fmt.Sprintf("%s and %s %s", a.article(), b.article(), what)
}

// comparisonSays says why two kinds cannot be compared.
func comparisonSays(a, b Kind) string {
	switch {
	case a == PointKind && b == PointKind:
		return "two points cannot be compared; compare their dist, or what is across or height of each"
	case a == CurveKind && b == CurveKind:
		return "two curves cannot be compared; compare their length"
	case a == TruthKind && b == TruthKind:
		return "two comparisons cannot be compared; join them with 'and' or 'or'"
	}
	says := bothSay(a, b, "cannot be compared", "cannot be compared")
	if a == NumberKind && b == LengthKind || a == LengthKind && b == NumberKind {
		says += "; give the number a unit, such as 6*mm"
	}
	return says
}

// operators are the functions behind the signs, by the names that operator gives.
var operators = func() map[string]run {
	t := map[string]run{
		"<":  compare(func(a, b float64) bool { return a < b }),
		"<=": compare(func(a, b float64) bool { return a <= b }),
		">":  compare(func(a, b float64) bool { return a > b }),
		">=": compare(func(a, b float64) bool { return a >= b }),
		"==": compare(func(a, b float64) bool { return a == b }),
		"!=": compare(func(a, b float64) bool { return a != b }),
	}
	for _, k := range []Kind{NumberKind, LengthKind, AreaKind, AngleKind} {
		t["-"+k.String()] = func(a []any) (Value, error) { return quantity(k, -magnitude(a[0])), nil }
		t["+ "+k.String()] = func(a []any) (Value, error) { return quantity(k, magnitude(a[0])+magnitude(a[1])), nil }
		t["- "+k.String()] = func(a []any) (Value, error) { return quantity(k, magnitude(a[0])-magnitude(a[1])), nil }
		t["* "+k.String()] = func(a []any) (Value, error) { return quantity(k, magnitude(a[0])*magnitude(a[1])), nil }
		t["/ "+k.String()] = func(a []any) (Value, error) {
			d := magnitude(a[1])
			if d == 0 {
				return nil, fail("this divides by 0")
			}
			return quantity(k, magnitude(a[0])/d), nil
		}
	}
	return t
}()

// compare returns the run of a comparison.
func compare(holds func(a, b float64) bool) run {
	return func(a []any) (Value, error) { return holds(magnitude(a[0]), magnitude(a[1])), nil }
}
