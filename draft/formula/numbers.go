package formula

import "math"

// numberFunctions are the functions on numbers, lengths and angles.
var numberFunctions = inGroup("Numbers, lengths and angles", []function{
	{name: "abs", args: args("v:number/length/angle"), gives: scalars, run: absOf,
		says: "The value without its sign."},
	{name: "min", args: args("a:number/length/angle b:number/length/angle"), more: true, gives: scalars, run: minOf,
		says: "The least of the values."},
	{name: "max", args: args("a:number/length/angle b:number/length/angle"), more: true, gives: scalars, run: maxOf,
		says: "The greatest of the values."},
	{name: "clamp", args: args("v:number/length/angle least:number/length/angle most:number/length/angle"), gives: scalars, run: clampOf,
		says: "The value, held between least and most; where least is above most, least holds."},
	{name: "round", args: args("v:number/length/angle step:number/length/angle"), gives: scalars, run: roundOf,
		says: "The multiple of step that is nearest to the value, halves away from 0."},
	{name: "sqrt", args: args("v:number/area"), gives: []Kind{NumberKind, LengthKind}, run: sqrtOf,
		says: "The square root: of an area it is a length."},
	{name: "hyp", args: args("a:length b:length"), gives: []Kind{LengthKind}, run: hypOf,
		says: "The long side of a right-angled triangle with the short sides a and b."},
	{name: "leg", args: args("long:length a:length"), gives: []Kind{LengthKind}, run: legOf,
		says: "The other short side of a right-angled triangle with the long side and one short side."},
	{name: "sin", args: args("a:angle"), gives: []Kind{NumberKind}, run: sinOf, says: "The sine of the angle."},
	{name: "cos", args: args("a:angle"), gives: []Kind{NumberKind}, run: cosOf, says: "The cosine of the angle."},
	{name: "tan", args: args("a:angle"), gives: []Kind{NumberKind}, run: tanOf, says: "The tangent of the angle."},
	{name: "asin", args: args("x:number"), gives: []Kind{AngleKind}, run: asinOf, says: "The angle that has this sine, from -90 to 90 degrees."},
	{name: "acos", args: args("x:number"), gives: []Kind{AngleKind}, run: acosOf, says: "The angle that has this cosine, from 0 to 180 degrees."},
	{name: "atan", args: args("x:number"), gives: []Kind{AngleKind}, run: atanOf, says: "The angle that has this tangent, from -90 to 90 degrees."},
	{name: "slope", args: args("rise:length run:length"), gives: []Kind{AngleKind}, run: slopeOf,
		says: "The direction that rises by rise over run to the right."},
})

// scalars are the kinds that most of these functions give back as they got them.
var scalars = []Kind{NumberKind, LengthKind, AngleKind}

// inGroup sets the heading of functions.
func inGroup(group string, f []function) []function {
	for i := range f {
		f[i].group = group
	}
	return f
}

// like returns the value with the figure x and the kind of v.
func like(v any, x float64) Value { return quantity(KindOf(v), x) }

func mm(v any) float64 { return v.(Length).MM }

func absOf(a []any) (Value, error) { return like(a[0], math.Abs(magnitude(a[0]))), nil }

func minOf(a []any) (Value, error) {
	x := magnitude(a[0])
	for _, v := range a[1:] {
		x = min(x, magnitude(v))
	}
	return like(a[0], x), nil
}

func maxOf(a []any) (Value, error) {
	x := magnitude(a[0])
	for _, v := range a[1:] {
		x = max(x, magnitude(v))
	}
	return like(a[0], x), nil
}

func clampOf(a []any) (Value, error) {
	return like(a[0], max(min(magnitude(a[0]), magnitude(a[2])), magnitude(a[1]))), nil
}

func roundOf(a []any) (Value, error) {
	step := magnitude(a[1])
	if !(step > 0) {
		return nil, fail("the step of round must be above 0")
	}
	return like(a[0], math.Round(magnitude(a[0])/step)*step), nil
}

func sqrtOf(a []any) (Value, error) {
	x := magnitude(a[0])
	if x < 0 {
		return nil, fail("what is below 0 has no square root")
	}
	if KindOf(a[0]) == AreaKind {
		return Length{math.Sqrt(x)}, nil
	}
	return math.Sqrt(x), nil
}

func hypOf(a []any) (Value, error) { return Length{math.Hypot(mm(a[0]), mm(a[1]))}, nil }

func legOf(a []any) (Value, error) {
	long, short := math.Abs(mm(a[0])), math.Abs(mm(a[1]))
	if short > long*(1+rounding) {
		return nil, failf("the long side of leg is %s, and %s is longer", sayMM(long), sayMM(short))
	}
	return Length{math.Sqrt(max((long-short)*(long+short), 0))}, nil
}

// rounding is the share of a length within which two are taken to be the same: it
// is far below anything that can be sewn, and far above the rounding of a long
// chain of formulas.
const rounding = 1e-9

func sinOf(a []any) (Value, error) { return math.Sin(a[0].(Angle).Rad), nil }

func cosOf(a []any) (Value, error) { return math.Cos(a[0].(Angle).Rad), nil }

// flattest is the least cosine of an angle whose tangent is given, so that 90
// degrees, which no float64 can hold, has none.
const flattest = 1e-12

func tanOf(a []any) (Value, error) {
	s, c := math.Sincos(a[0].(Angle).Rad)
	if math.Abs(c) < flattest {
		return nil, fail("an angle of 90 degrees has no tangent")
	}
	return s / c, nil
}

func asinOf(a []any) (Value, error) {
	x, err := inUnit("sine", a[0].(Number))
	return Angle{math.Asin(x)}, err
}

func acosOf(a []any) (Value, error) {
	x, err := inUnit("cosine", a[0].(Number))
	return Angle{math.Acos(x)}, err
}

// inUnit holds x between -1 and 1 where it is beyond them by rounding, and refuses
// it where it is beyond them by more.
func inUnit(what string, x float64) (float64, error) {
	if math.Abs(x) > 1+rounding {
		return 0, failf("no angle has the %s %.4g; it lies between -1 and 1", what, x)
	}
	return max(-1, min(1, x)), nil
}

func atanOf(a []any) (Value, error) { return Angle{math.Atan(a[0].(Number))}, nil }

func slopeOf(a []any) (Value, error) {
	rise, run := mm(a[0]), mm(a[1])
	if rise == 0 && run == 0 {
		return nil, fail("a slope without rise and run has no direction")
	}
	return Angle{math.Atan2(rise, run)}, nil
}
