package figure

import (
	"math"

	"hemlet/geom"
)

// station is one place along a band: how far along, how far its middle lies to the
// left of the axis, and half its width there, above 0.
type station struct{ s, c, w float64 }

// slopes returns the slopes of a smooth curve through the points (s, v), s rising,
// that nowhere rises or falls where its points do not: the slope of the parabola
// through three neighbours, 0 where the middle one is the highest or lowest, and at
// most three times that of the chords beside it (Fritsch and Carlson, "Monotone
// piecewise cubic interpolation", 1980). At the ends it runs level.
func slopes(s, v []float64) []float64 {
	m := make([]float64, len(s))
	for i := 1; i < len(s)-1; i++ {
		h0, h1 := s[i]-s[i-1], s[i+1]-s[i]
		d0, d1 := (v[i]-v[i-1])/h0, (v[i+1]-v[i])/h1
		if d0*d1 <= 0 {
			continue
		}
		steepest := 3 * min(math.Abs(d0), math.Abs(d1))
		m[i] = within((h1*d0+h0*d1)/(h0+h1), -steepest, steepest)
	}
	return m
}

// graph returns the smooth curve through the points (s, v) as a path in which s runs
// along x.
func graph(s, v, m []float64) geom.Path {
	var p geom.Path
	for i := 1; i < len(s); i++ {
		h := (s[i] - s[i-1]) / 3
		p = append(p, geom.Cubic(
			geom.Pt(s[i-1], v[i-1]), geom.Pt(s[i-1]+h, v[i-1]+h*m[i-1]),
			geom.Pt(s[i]-h, v[i]-h*m[i]), geom.Pt(s[i], v[i])))
	}
	return p
}

// edges returns the right and the left edge of the band through the stations, both
// running the way of the axis, which is the x axis. As the middle and the half width
// are interpolated each by itself, the edges never meet.
func edges(st []station) (right, left geom.Path) {
	s, c, w := make([]float64, len(st)), make([]float64, len(st)), make([]float64, len(st))
	for i, x := range st {
		s[i], c[i], w[i] = x.s, x.c, x.w
	}
	mc, mw := slopes(s, c), slopes(s, w)
	side := func(sign float64) geom.Path {
		v, m := make([]float64, len(s)), make([]float64, len(s))
		for i := range s {
			v[i], m[i] = c[i]+sign*w[i], mc[i]+sign*mw[i]
		}
		return graph(s, v, m)
	}
	return side(-1), side(1)
}

// round is the handle of a quarter of an ellipse as a share of its half axis.
const round = 0.5523

// quarter returns a quarter of an ellipse from a to b that leaves a along the way to
// the corner and reaches b from there.
func quarter(a, corner, b geom.Point) geom.Segment {
	return geom.Cubic(a, a.Lerp(corner, round), b.Lerp(corner, round), b)
}

// rounded returns half an ellipse from a to b that reaches out by the vector.
func rounded(a, b, out geom.Point) geom.Path {
	top := a.Lerp(b, 0.5).Add(out)
	return geom.Path{quarter(a, a.Add(out), top), quarter(top, b.Add(out), b)}
}

// band returns the closed outline of the stations along the x axis, counter-clockwise,
// with ends that are rounded by start and end mm.
func band(st []station, start, end float64) geom.Path {
	right, left := edges(st)
	p := append(geom.Path{}, right...)
	p = append(p, rounded(right.End(), left.End(), geom.Pt(end, 0))...)
	p = append(p, left.Reverse()...)
	return append(p, rounded(left.Start(), right.Start(), geom.Pt(-start, 0))...)
}

// along returns the map that lays the x axis from a point into a direction.
func along(from geom.Point, angle float64) geom.Affine {
	return geom.Rotation(angle, geom.Pt(0, 0)).Then(geom.Translation(from))
}

// up returns the map that lays the x axis upwards over the point; what lies to the
// left of the axis lies at smaller x.
func up(at geom.Point) geom.Affine { return geom.Affine{B: 1, C: -1, E: at.X, F: at.Y} }

// bent returns the outline of a band whose axis leaves a point into a direction and
// turns by a total angle over its length. Half its width must be less than the radius
// of the turn. Joints stay smooth: every handle is turned by the map's derivative.
func bent(from geom.Point, heading, turn float64, st []station, start, end float64) geom.Path {
	b := bend{from: from, heading: heading, k: turn / st[len(st)-1].s}
	straight := band(st, start, end)
	out := make(geom.Path, 0, len(straight))
	for _, s := range straight {
		a, z := b.at(s.P0), b.at(s.P3)
		out = append(out, geom.Cubic(a, a.Add(b.turned(s.P0, s.P1.Sub(s.P0))), z.Add(b.turned(s.P3, s.P2.Sub(s.P3))), z))
	}
	return out
}

// bend lays the x axis along an arc that leaves a point into a direction with the
// curvature k in 1/mm.
type bend struct {
	from       geom.Point
	heading, k float64
}

func (b bend) way(s float64) geom.Point {
	sin, cos := math.Sincos(b.heading + b.k*s)
	return geom.Pt(cos, sin)
}

// at returns where the point comes to lie.
func (b bend) at(p geom.Point) geom.Point {
	axis := geom.Pt(p.X*math.Cos(b.heading), p.X*math.Sin(b.heading))
	if math.Abs(b.k*p.X) > 1e-6 { // else straight, to rounding
		s0, c0 := math.Sincos(b.heading)
		s1, c1 := math.Sincos(b.heading + b.k*p.X)
		axis = geom.Pt((s1-s0)/b.k, (c0-c1)/b.k)
	}
	return b.from.Add(axis).Add(b.way(p.X).Left().Mul(p.Y))
}

// turned returns what the vector v at the point p becomes.
func (b bend) turned(p, v geom.Point) geom.Point {
	way := b.way(p.X)
	return way.Mul(v.X * (1 - b.k*p.Y)).Add(way.Left().Mul(v.Y))
}

// joined closes the gaps of rounding between the segments of a chain.
func joined(p geom.Path) geom.Path {
	for i := 1; i < len(p); i++ {
		p[i].P0 = p[i-1].P3
	}
	return p
}
