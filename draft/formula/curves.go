package formula

import (
	"hemlet/geom"
)

// curveFunctions are the functions that draw curves and change them.
var curveFunctions = inGroup("Curves", []function{
	{name: "line", args: args("p:point q:point"), gives: oneCurve, run: lineOf,
		says: "The straight line from p to q."},
	{name: "hook", args: args("p:point corner:point q:point fullness:number"), gives: oneCurve, run: hookOf,
		says: "One curve that leaves p towards the corner and comes to q from it; the higher the fullness, from 0 to 1, the closer it keeps to the corner: 0.5523 is near a quarter of an ellipse."},
	{name: "bend", args: args("p:point a1:angle q:point a2:angle d1:length d2:length"), gives: oneCurve, run: bendOf,
		says: "One curve that leaves p in the direction a1 and comes to q in the direction a2; the longer d1 and d2, the longer it keeps to these directions."},
	{name: "through", args: args("p1:point p2:point"), more: true, gives: oneCurve, run: throughOf,
		says: "A smooth curve through the points in their order."},
	{name: "flow", args: args("p1:point p2:point"), more: true, gives: oneCurve, run: flowOf,
		says: "A smooth line down or up through the points that keeps between each two neighbours across: it swings neither wider nor narrower than both. For side seams."},
	{name: "path", args: args("c1:curve/point c2:curve/point"), more: true, gives: oneCurve, run: pathOf,
		says: "Curves and points joined end to start, straight where they do not touch."},
	{name: "sweep", args: args("c:point long:length u:point radius:length"), gives: oneCurve, run: sweepOf,
		says: "A level line that is exactly so long: it leaves c level, to the side on which u lies, and ends square to the line that comes down to it from u, at the distance radius from u."},
	{name: "sweep_room", args: args("c:point long:length u:point least:length"), gives: []Kind{LengthKind}, run: sweepRoomOf,
		says: "The least radius, from least on, at which sweep has a level line so long from c, to a thousandth; take a little more."},
	{name: "sweep_true", args: args("c:point long:length side:length p1:point"), more: true, gives: oneCurve, run: sweepTrueOf,
		says: "A level line like that of sweep from the last of the points, at such a distance that the line of flow through the points and its end is as long as side: so two pieces get side seams of one length."},
	{name: "sweep_leaning", args: args("c:point long:length side:length lean:angle p1:point"), more: true, gives: oneCurve, run: sweepLeaningOf,
		says: "The same, but turned up at its end from square by the angle lean: where the other piece leans as much the other way, both run on smoothly over the seam. Where no line leans so far it leans by a half of that, a quarter or not at all."},
	{name: "part", args: args("c:curve d1:length d2:length"), gives: oneCurve, run: partOf,
		says: "The stretch of a curve between two distances along it; backwards where d2 is the smaller."},
	{name: "trimmed", args: args("c:curve long:length"), gives: oneCurve, run: trimmedOf,
		says: "The curve, cut off or lengthened straight at its end so that it is exactly so long."},
	{name: "reverse", args: args("c:curve"), gives: oneCurve, run: reverseOf,
		says: "The curve, run from its end to its start."},
	{name: "mirrored", args: args("c:curve a:point b:point"), gives: oneCurve, run: mirroredOf,
		says: "The mirror image of the curve in the line through a and b."},
	{name: "turned", args: args("c:curve about:point a:angle"), gives: oneCurve, run: turnedOf,
		says: "The curve, turned about a point by the angle a."},
	{name: "moved", args: args("c:curve dx:length dy:length"), gives: oneCurve, run: movedOf,
		says: "The curve, moved dx to the right and dy up."},
})

var oneCurve = []Kind{CurveKind}

func curve(v any) geom.Path { return v.(Curve).Path }

func lineOf(a []any) (Value, error) { return oneStretch(geom.Line(pt(a[0]), pt(a[1]))), nil }

// oneStretch returns the curve of one line or cubic.
func oneStretch(s geom.Segment) Curve { return Curve{geom.Path{s}} }

// hookOf draws with the share of the way to the corner at which the tangents'
// handles end. 0.5523 is 4(√2-1)/3, with which the middle of the cubic lies on the
// ellipse.
func hookOf(a []any) (Value, error) {
	p, corner, q, f := pt(a[0]), pt(a[1]), pt(a[2]), a[3].(Number)
	if !(f >= 0 && f <= 1) {
		return nil, failf("the fullness of hook lies between 0 and 1, and this is %.4g", f)
	}
	return oneStretch(geom.Cubic(p, p.Lerp(corner, f), q.Lerp(corner, f), q)), nil
}

func bendOf(a []any) (Value, error) {
	p, q, d1, d2 := pt(a[0]), pt(a[2]), mm(a[4]), mm(a[5])
	if d1 < 0 || d2 < 0 {
		return nil, failf("d1 and d2 of bend must not be below 0, and here is %s", sayMM(min(d1, d2)))
	}
	out, in := heading(a[1].(Angle).Rad), heading(a[3].(Angle).Rad)
	return oneStretch(geom.Cubic(p, p.Add(out.Mul(d1)), q.Sub(in.Mul(d2)), q)), nil
}

func reverseOf(a []any) (Value, error) { return Curve{curve(a[0]).Reverse()}, nil }

func mirroredOf(a []any) (Value, error) {
	m, err := reflection(a[1], a[2])
	return Curve{curve(a[0]).Transform(m)}, err
}

func turnedOf(a []any) (Value, error) {
	return Curve{curve(a[0]).Transform(geom.Rotation(a[2].(Angle).Rad, pt(a[1])))}, nil
}

func movedOf(a []any) (Value, error) {
	return Curve{curve(a[0]).Transform(geom.Translation(geom.Pt(mm(a[1]), mm(a[2]))))}, nil
}
