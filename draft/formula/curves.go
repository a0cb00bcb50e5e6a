package formula

import "hemlet/geom"

// curveFunctions are the functions that give curves.
var curveFunctions = inGroup("Curves", []function{
	{name: "line", args: args("p:point q:point"), gives: oneCurve, run: lineOf,
		says: "The straight line from p to q."},
})

var oneCurve = []Kind{CurveKind}

func lineOf(a []any) (Value, error) {
	return Curve{geom.Path{geom.Line(pt(a[0]), pt(a[1]))}}, nil
}
