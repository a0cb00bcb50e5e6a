package formula

import (
	"math"

	"hemlet/geom"
)

// pointFunctions are the functions that give points.
var pointFunctions = inGroup("Points", []function{
	{name: "at", args: args("x:length y:length"), gives: onePoint, run: atOf,
		says: "The point x to the right of the origin and y above it."},
	{name: "right", args: args("p:point d:length"), gives: onePoint, run: beside(1, 0),
		says: "The point d to the right of p."},
	{name: "left", args: args("p:point d:length"), gives: onePoint, run: beside(-1, 0),
		says: "The point d to the left of p."},
	{name: "above", args: args("p:point d:length"), gives: onePoint, run: beside(0, 1),
		says: "The point d above p."},
	{name: "below", args: args("p:point d:length"), gives: onePoint, run: beside(0, -1),
		says: "The point d below p."},
	{name: "toward", args: args("p:point q:point d:length"), gives: onePoint, run: towardOf,
		says: "The point that is reached from p by going d towards q."},
	{name: "between", args: args("p:point q:point share:number"), gives: onePoint, run: betweenOf,
		says: "The point at a share of the way from p to q: 0 is p, 1 is q."},
	{name: "polar", args: args("p:point a:angle d:length"), gives: onePoint, run: polarOf,
		says: "The point that is reached from p by going d in the direction a."},
	{name: "aside", args: args("p:point q:point d:length"), gives: onePoint, run: asideOf,
		says: "The point that lies d to the left of p for someone who looks from p to q."},
	{name: "meet", args: args("a:point b:point c:point d:point"), gives: onePoint, run: meetOf,
		says: "The point where the line through a and b crosses the line through c and d."},
	{name: "foot", args: args("p:point a:point b:point"), gives: onePoint, run: footOf,
		says: "The point of the line through a and b that is nearest to p."},
	{name: "mirror", args: args("p:point a:point b:point"), gives: onePoint, run: mirrorOf,
		says: "The mirror image of p in the line through a and b."},
	{name: "turn", args: args("p:point about:point a:angle"), gives: onePoint, run: turnOf,
		says: "The point p, turned about another point by the angle a."},
	{name: "compass", args: args("c1:point r1:length c2:point r2:length"), gives: onePoint, run: compassOf,
		says: "The point at the distance r1 from c1 and r2 from c2 that lies on the left for someone who looks from c1 to c2."},
})

var onePoint = []Kind{PointKind}

func pt(v any) geom.Point { return v.(Point).At }

// sayMM returns a length as an error says it.
func sayMM(x float64) string {
	return Figure(x, 3) + " mm"
}

func atOf(a []any) (Value, error) { return Point{geom.Pt(mm(a[0]), mm(a[1]))}, nil }

// beside returns the run of a function that steps along an axis.
func beside(x, y float64) run {
	return func(a []any) (Value, error) {
		p, d := pt(a[0]), mm(a[1])
		return Point{geom.Pt(p.X+x*d, p.Y+y*d)}, nil
	}
}

// onePlace is the distance in mm within which there is no direction from one point
// to the other: far below the 1e-6 mm to which coordinates are rounded, and far above
// what rounding makes of the same point found in two ways.
const onePlace = 1e-9

// direction returns the unit vector from p to q, or says that there is none.
func direction(p, q geom.Point) (geom.Point, error) {
	u := q.Sub(p).Unit()
	if p.Near(q, onePlace) {
		return u, fail("the two points are the same, so that there is no direction from one to the other")
	}
	return u, nil
}

func towardOf(a []any) (Value, error) {
	p, d := pt(a[0]), mm(a[2])
	if d == 0 {
		return a[0], nil
	}
	u, err := direction(p, pt(a[1]))
	return Point{p.Add(u.Mul(d))}, err
}

func betweenOf(a []any) (Value, error) { return Point{pt(a[0]).Lerp(pt(a[1]), a[2].(Number))}, nil }

func polarOf(a []any) (Value, error) {
	return Point{pt(a[0]).Add(heading(a[1].(Angle).Rad).Mul(mm(a[2])))}, nil
}

// heading returns the unit vector in the direction rad.
func heading(rad float64) geom.Point {
	s, c := math.Sincos(rad)
	return geom.Pt(c, s)
}

func asideOf(a []any) (Value, error) {
	p, d := pt(a[0]), mm(a[2])
	if d == 0 {
		return a[0], nil
	}
	u, err := direction(p, pt(a[1]))
	return Point{p.Add(u.Left().Mul(d))}, err
}

// parallel is the sine of the angle between two lines below which they count as
// parallel: their crossing would move by a thousand million times what a point of
// them moves.
const parallel = 1e-9

func meetOf(a []any) (Value, error) {
	p, r := pt(a[0]), pt(a[2])
	u, err := direction(p, pt(a[1]))
	if err != nil {
		return nil, err
	}
	v, err := direction(r, pt(a[3]))
	if err != nil {
		return nil, err
	}
	sine := u.Cross(v)
	if math.Abs(sine) < parallel {
		return nil, fail("the two lines run side by side and do not cross")
	}
	return Point{p.Add(u.Mul(r.Sub(p).Cross(v) / sine))}, nil
}

func footOf(a []any) (Value, error) {
	o := pt(a[1])
	u, err := direction(o, pt(a[2]))
	return Point{o.Add(u.Mul(pt(a[0]).Sub(o).Dot(u)))}, err
}

func mirrorOf(a []any) (Value, error) {
	m, err := reflection(a[1], a[2])
	return Point{m.Apply(pt(a[0]))}, err
}

// reflection returns the mirror image in the line through two points.
func reflection(p, q any) (geom.Affine, error) {
	if _, err := direction(pt(p), pt(q)); err != nil {
		return geom.Identity, err
	}
	m, _ := geom.Reflection(pt(p), pt(q))
	return m, nil
}

func turnOf(a []any) (Value, error) {
	about := pt(a[1])
	return Point{geom.Rotation(a[2].(Angle).Rad, about).Apply(pt(a[0]))}, nil
}

func compassOf(a []any) (Value, error) {
	c, r, e, s := pt(a[0]), mm(a[1]), pt(a[2]), mm(a[3])
	if r < 0 || s < 0 {
		return nil, failf("a circle cannot have the radius %s", sayMM(min(r, s)))
	}
	u, err := direction(c, e)
	if err != nil {
		return nil, err
	}
	d := c.Dist(e)
	slack := rounding * max(d, r, s)
	switch {
	case d > r+s+slack:
		return nil, failf("the two circles do not meet: they lie %s apart", sayMM(d-r-s))
	case math.Abs(r-s) > d+slack:
		return nil, failf("the two circles do not meet: one lies inside the other, %s from it", sayMM(math.Abs(r-s)-d))
	}
	along := (d + (r-s)/d*(r+s)) / 2
	return Point{c.Add(u.Mul(along)).Add(u.Left().Mul(triangleHeight(d, r, s)))}, nil
}

// triangleHeight returns the height over the side d of a triangle with the sides d, r
// and s, 0 where they do not quite close. Its area is that of Kahan ("Miscalculating
// area and angles of a needle-like triangle", 1986), which stays exact where circles
// nearly touch.
func triangleHeight(d, r, s float64) float64 {
	a, b, c := max(d, r, s), 0.0, min(d, r, s)
	b = max(min(d, r), min(max(d, r), s))
	square := (a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c))
	return math.Sqrt(max(square, 0)) / 2 / d
}
