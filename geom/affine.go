package geom

import "math"

// Affine is the map x' = A x + C y + E, y' = B x + D y + F, in the order in
// which SVG writes matrix(a b c d e f). The zero Affine collapses the plane;
// Identity changes nothing.
type Affine struct{ A, B, C, D, E, F float64 }

// Identity is the map that changes nothing.
var Identity = Affine{A: 1, D: 1}

// Translation returns the map that moves by v mm.
func Translation(v Point) Affine { return Affine{1, 0, 0, 1, v.X, v.Y} }

// Scaling returns the map that scales by sx across and sy up about the origin.
func Scaling(sx, sy float64) Affine { return Affine{A: sx, D: sy} }

// Rotation returns the turn by angle radians counter-clockwise about c.
func Rotation(angle float64, c Point) Affine {
	s, k := math.Sincos(angle)
	return Affine{k, s, -s, k, c.X - k*c.X + s*c.Y, c.Y - s*c.X - k*c.Y}
}

// Reflection returns the mirror image about the line through a and b, or false
// if a and b are the same point.
func Reflection(a, b Point) (Affine, bool) {
	u := b.Sub(a).Unit()
	if u == (Point{}) {
		return Identity, false
	}
	c, s := u.X*u.X-u.Y*u.Y, 2*u.X*u.Y
	return Affine{c, s, s, -c, a.X - c*a.X - s*a.Y, a.Y - s*a.X + c*a.Y}, true
}

// Apply returns the image of p.
func (m Affine) Apply(p Point) Point {
	return Point{m.A*p.X + m.C*p.Y + m.E, m.B*p.X + m.D*p.Y + m.F}
}

// ApplyVector returns the image of the vector v, without the translation.
func (m Affine) ApplyVector(v Point) Point {
	return Point{m.A*v.X + m.C*v.Y, m.B*v.X + m.D*v.Y}
}

// Then returns the map that applies m first and n after it.
func (m Affine) Then(n Affine) Affine {
	return Affine{
		n.A*m.A + n.C*m.B, n.B*m.A + n.D*m.B,
		n.A*m.C + n.C*m.D, n.B*m.C + n.D*m.D,
		n.A*m.E + n.C*m.F + n.E, n.B*m.E + n.D*m.F + n.F,
	}
}

// Det returns the factor by which m scales areas; negative where it mirrors.
func (m Affine) Det() float64 { return m.A*m.D - m.B*m.C }

// Invert returns the map that undoes m, or false if m collapses the plane.
func (m Affine) Invert() (Affine, bool) {
	d := m.Det()
	if d == 0 || math.IsNaN(d) || math.IsInf(d, 0) {
		return Identity, false
	}
	return Affine{
		m.D / d, -m.B / d, -m.C / d, m.A / d,
		(m.C*m.F - m.D*m.E) / d, (m.B*m.E - m.A*m.F) / d,
	}, true
}
