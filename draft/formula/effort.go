package formula

import "maps"

// What a part of a formula costs at most, in microseconds on one core of about 2 GHz,
// rounded up from what the worst of many random curves took. A formula comes from
// anybody's file: whoever works out thousands of them adds up their Effort and stops in
// good time.
const (
	// signEffort is that of a sign or of a function of figures and points.
	signEffort = 0.5
	// readEffort is that of reading a name, and again for each stretch of its curve.
	readEffort = 0.1
	// stretchEffort is that of a function of curves that none of dearer has, for each
	// stretch: it measures the curve and divides it.
	stretchEffort = 11
	// trueEffort is that of one search for a level line with a side of a length.
	trueEffort = 8000
)

// dearer are the functions that cost more than others: a flat part, and one for each
// stretch of the curves that they are given.
var dearer = map[string]struct{ flat, stretch float64 }{
	"through":       {4, 0},
	"flow":          {4, 0},
	"crossing":      {10, 55},
	"sweep":         {80, 0},
	"sweep_room":    {6500, 0},
	"sweep_true":    {trueEffort, 0},
	"sweep_leaning": {(leanHalvings + 1) * trueEffort, 0}, // with each lean, and without one
}

// bound is an upper bound that grows with the stretches of the curves that a formula
// reads: fixed, and so much for each stretch of a name.
type bound struct {
	fixed float64
	each  map[string]float64
}

// plus returns the sum of two bounds.
func (b bound) plus(c bound) bound {
	sum := bound{b.fixed + c.fixed, b.each}
	if len(c.each) > 0 {
		sum.each = maps.Clone(b.each)
		if sum.each == nil {
			sum.each = make(map[string]float64, len(c.each))
		}
		for name, x := range c.each {
			sum.each[name] += x
		}
	}
	return sum
}

// times returns the bound k times as large.
func (b bound) times(k float64) bound {
	product := bound{fixed: k * b.fixed}
	if len(b.each) > 0 && k != 0 {
		product.each = make(map[string]float64, len(b.each))
		for name, x := range b.each {
			product.each[name] = k * x
		}
	}
	return product
}

// value returns the bound for curves that are known. A name without a curve counts
// for nothing: the evaluation refuses it.
func (b bound) value(v Values) float64 {
	x := b.fixed
	for name, each := range b.each {
		if c, ok := v[name].(Curve); ok {
			x += each * float64(len(c.Path))
		}
	}
	return x
}

// callEffort returns what the call of a function costs, without its arguments, and
// of how many stretches the curve is that it gives: no function makes more than those
// that it is given and one for each argument, which joins or draws.
func callEffort(name string, gives Kind, args []part) (effort, stretches bound) {
	var given bound
	curves := gives == CurveKind
	for _, a := range args {
		given = given.plus(a.stretches)
		curves = curves || a.kind == CurveKind
	}
	cost, dear := dearer[name]
	if !dear {
		cost.flat = signEffort
		if curves {
			cost.stretch = stretchEffort
		}
	}
	effort = given.times(cost.stretch).plus(bound{fixed: cost.flat})
	if gives == CurveKind {
		stretches = given.plus(bound{fixed: float64(len(args))})
	}
	return effort, stretches
}

// Effort returns how long Value may take for these values, in microseconds on a
// slow machine: an upper bound that goes by the formula and by how many stretches the
// curves have that it reads. It is the same for the same values everywhere.
func (f *Formula) Effort(v Values) float64 { return f.effort.value(v) }
