package formula

import "hemlet/geom"

// placeFunctions are the functions that measure points.
var placeFunctions = inGroup("Measuring points", []function{
	{name: "across", args: args("p:point"), gives: oneLength, run: acrossOf,
		says: "How far p lies to the right of the origin."},
	{name: "height", args: args("p:point"), gives: oneLength, run: heightOf,
		says: "How far p lies above the origin."},
	{name: "dist", args: args("p:point q:point"), gives: oneLength, run: distOf,
		says: "How far apart p and q are, straight."},
	{name: "angle", args: args("p:point q:point"), gives: []Kind{AngleKind}, run: angleOf,
		says: "The direction from p to q: 0 is to the right, 90 degrees is up."},
})

var oneLength = []Kind{LengthKind}

func acrossOf(a []any) (Value, error) { return Length{pt(a[0]).X}, nil }

func heightOf(a []any) (Value, error) { return Length{pt(a[0]).Y}, nil }

func distOf(a []any) (Value, error) { return Length{pt(a[0]).Dist(pt(a[1]))}, nil }

func angleOf(a []any) (Value, error) {
	u, err := direction(pt(a[0]), pt(a[1]))
	return Angle{geom.Point.Angle(u)}, err
}
