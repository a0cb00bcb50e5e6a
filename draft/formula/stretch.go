package formula

import (
	"math"

	"hemlet/geom"
)

// alongFunctions are the functions that ask along a curve.
var alongFunctions = inGroup("Measuring curves", []function{
	{name: "length", args: args("c:curve"), gives: oneLength, run: lengthOf,
		says: "How long the curve is."},
	{name: "start", args: args("c:curve"), gives: onePoint, run: startOf,
		says: "The point at which the curve starts."},
	{name: "end", args: args("c:curve"), gives: onePoint, run: endOf,
		says: "The point at which the curve ends."},
	{name: "on", args: args("c:curve d:length"), gives: onePoint, run: onOf,
		says: "The point of the curve at the distance d along it."},
	{name: "heading", args: args("c:curve d:length"), gives: []Kind{AngleKind}, run: headingOf,
		says: "The direction in which the curve runs at the distance d along it."},
	{name: "crossing", args: args("c:curve a:point b:point"), gives: onePoint, run: crossingOf,
		says: "The first point in which the curve meets the line through a and b, which goes on beyond both."},
})

func lengthOf(a []any) (Value, error) { return Length{curve(a[0]).Length()}, nil }

func startOf(a []any) (Value, error) { return Point{curve(a[0]).Start()}, nil }

func endOf(a []any) (Value, error) { return Point{curve(a[0]).End()}, nil }

// within holds a distance along a curve within it where rounding took it out, and
// refuses it where it lies farther out.
func within(t geom.Tape, d float64) (float64, error) {
	long := t.Length()
	slack := max(touching, rounding*long)
	switch {
	case d < -slack:
		return 0, failf("%s along the curve lies before its start", sayMM(d))
	case d > long+slack:
		return 0, failf("the curve is %s long, and %s along it lies beyond its end", sayMM(long), sayMM(d))
	}
	return max(0, min(long, d)), nil
}

func onOf(a []any) (Value, error) {
	t := curve(a[0]).Tape()
	d, err := within(t, mm(a[1]))
	if err != nil {
		return nil, err
	}
	return Point{t.Path().At(t.At(d))}, nil
}

func headingOf(a []any) (Value, error) {
	t := curve(a[0]).Tape()
	d, err := within(t, mm(a[1]))
	if err != nil {
		return nil, err
	}
	u := t.Path().Tangent(t.At(d))
	if u == (geom.Point{}) {
		return nil, fail("this curve is one point and has no direction")
	}
	return Angle{u.Angle()}, nil
}

func partOf(a []any) (Value, error) {
	t := curve(a[0]).Tape()
	d1, err := within(t, mm(a[1]))
	if err != nil {
		return nil, err
	}
	d2, err := within(t, mm(a[2]))
	if err != nil {
		return nil, err
	}
	c := stretchOf(t, min(d1, d2), max(d1, d2))
	switch {
	case len(c) == 0:
		p := t.Path().At(t.At(d1))
		return oneStretch(geom.Line(p, p)), nil
	case d1 > d2:
		c = c.Reverse()
	}
	return Curve{c}, nil
}

// stretchOf returns the stretch from d1 to d2, which lie within the curve in that
// order; nil where nothing lies between. A curve that comes back to its start has an
// end all the same, unlike for geom.Tape.Between.
func stretchOf(t geom.Tape, d1, d2 float64) geom.Path {
	from, to := t.At(d1), t.At(d2)
	if d2 >= t.Length() {
		to = geom.Place{Seg: len(t.Path()) - 1, T: 1}
	}
	if from.T == 1 && from.Seg < to.Seg {
		from = geom.Place{Seg: from.Seg + 1}
	}
	return t.Path().Part(from, to)
}

func trimmedOf(a []any) (Value, error) {
	t, want := curve(a[0]).Tape(), mm(a[1])
	if !(want > 0) {
		return nil, failf("a curve cannot be trimmed to %s", sayMM(want))
	}
	long := t.Length()
	switch {
	case want == long:
		return a[0], nil
	case want < long:
		return Curve{stretchOf(t, 0, want)}, nil
	}
	return lengthened(t.Path(), want-long)
}

// lengthened returns the curve with a straight stretch at its end; where it ends in
// a line, that is made longer.
func lengthened(c geom.Path, by float64) (Value, error) {
	last := len(c) - 1
	u := c.Tangent(geom.Place{Seg: last, T: 1})
	if u == (geom.Point{}) {
		return nil, fail("this curve is one point and has no direction in which to lengthen it")
	}
	end := c.End().Add(u.Mul(by))
	longer := append(make(geom.Path, 0, len(c)+1), c...)
	if s := c[last]; s.Straight && s.P0 != s.P3 {
		longer[last] = geom.Line(s.P0, end)
		return Curve{longer}, nil
	}
	return Curve{append(longer, geom.Line(c.End(), end))}, nil
}

func crossingOf(a []any) (Value, error) {
	c, p := curve(a[0]), pt(a[1])
	u, err := direction(p, pt(a[2]))
	if err != nil {
		return nil, err
	}
	from, to := math.Inf(1), math.Inf(-1)
	for _, s := range c {
		for _, q := range [4]geom.Point{s.P0, s.P1, s.P2, s.P3} {
			x := q.Sub(p).Dot(u)
			from, to = min(from, x), max(to, x)
		}
	}
	from, to = from-1, to+1 // past the curve, by a length that is never lost to rounding
	met := c.Intersections(geom.Path{geom.Line(p.Add(u.Mul(from)), p.Add(u.Mul(to)))})
	if len(met) == 0 {
		return nil, fail("the curve does not meet this line")
	}
	return Point{c.At(met[0].A)}, nil
}
