package geom

import "math"

// Point is a place in the plane, or a vector, in millimetres.
type Point struct{ X, Y float64 }

// Pt returns the point (x, y).
func Pt(x, y float64) Point { return Point{x, y} }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul returns p scaled by k.
func (p Point) Mul(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot returns the inner product of p and q, in mm².
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the z component of p × q, in mm²: positive where q lies to the
// left of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Len returns the length of p in mm.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

// Dist returns the distance from p to q in mm.
func (p Point) Dist(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// Lerp returns the point at share t of the way from p to q.
func (p Point) Lerp(q Point, t float64) Point {
	return Point{p.X + (q.X-p.X)*t, p.Y + (q.Y-p.Y)*t}
}

// Left returns p turned a quarter turn counter-clockwise.
func (p Point) Left() Point { return Point{-p.Y, p.X} }

// Unit returns p scaled to length 1, or the zero vector if p is zero.
func (p Point) Unit() Point {
	n := p.Len()
	if n == 0 {
		return Point{}
	}
	return Point{p.X / n, p.Y / n}
}

// Angle returns the direction of p in (-π, π], 0 for the zero vector.
func (p Point) Angle() float64 { return math.Atan2(p.Y, p.X) }

// Near reports whether p and q are at most tol mm apart.
func (p Point) Near(q Point, tol float64) bool { return p.Dist(q) <= tol }

// Finite reports whether neither coordinate is NaN or infinite.
func (p Point) Finite() bool {
	return !math.IsNaN(p.X-p.X) && !math.IsNaN(p.Y-p.Y)
}
