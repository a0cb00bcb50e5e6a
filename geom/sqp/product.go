package sqp

import "hemlet/geom"

// Vector is a place or a vector as a linear function of the coordinates of one block, as V
// has it, which is the vector's own type.
type Vector[V any] interface {
	// At returns it at the coordinates of its block.
	At(x []float64) geom.Point
	// Pull adds the derivative of a value by the coordinates, given that by the vector.
	Pull(g []float64, by geom.Point)
	// Bend adds the second derivatives of vᵀ m w by the coordinates, where v is the vector
	// itself: those by v and then w, and by w and then v.
	Bend(h Square, w V, m Matrix)
}

// Matrix is that of a bilinear form uᵀ m v of two vectors of the plane.
type Matrix struct{ XX, XY, YX, YY float64 }

// Cross is the matrix of the form that is u.Cross(v).
var Cross = Matrix{XY: 1, YX: -1}

// Times returns m v.
func (m Matrix) Times(v geom.Point) geom.Point {
	return geom.Pt(m.XX*v.X+m.XY*v.Y, m.YX*v.X+m.YY*v.Y)
}

// Mul returns the matrix k times as large.
func (m Matrix) Mul(k float64) Matrix { return Matrix{k * m.XX, k * m.XY, k * m.YX, k * m.YY} }

// Transposed returns the matrix of the form with u and v exchanged.
func (m Matrix) Transposed() Matrix { return Matrix{m.XX, m.YX, m.XY, m.YY} }

// Product is the rule uᵀ k v = c of two vectors of one block: that they keep an angle, that
// a point lies on a line, that a curve keeps turning the same way.
type Product[V Vector[V]] struct {
	Block, N int // N coordinates
	U, V     V
	K        Matrix
	C        float64
}

func (r *Product[V]) Value(x [][]float64) float64 {
	return r.U.At(x[r.Block]).Dot(r.K.Times(r.V.At(x[r.Block]))) - r.C
}

func (r *Product[V]) Slope(x [][]float64, g *Gradient) {
	into := g.Of(r.Block, r.N)
	r.U.Pull(into, r.K.Times(r.V.At(x[r.Block])))
	r.V.Pull(into, r.K.Transposed().Times(r.U.At(x[r.Block])))
}

func (r *Product[V]) Curve(_ [][]float64, k float64, h []Square) {
	r.U.Bend(h[r.Block], r.V, r.K.Mul(k))
}

// Along is the part of a vector along a direction, less a bound: a rule that is linear.
type Along[V Vector[V]] struct {
	Block, N int // N coordinates
	V        V
	Dir      geom.Point // a unit vector
	Least    float64    // mm
}

func (r *Along[V]) Value(x [][]float64) float64 { return r.V.At(x[r.Block]).Dot(r.Dir) - r.Least }

func (r *Along[V]) Slope(_ [][]float64, g *Gradient) { r.V.Pull(g.Of(r.Block, r.N), r.Dir) }

func (r *Along[V]) Curve([][]float64, float64, []Square) {}

// Across returns k times the second derivative of the length of v by v. A length below least
// counts as that: near zero it has no bounds. All are in mm, and k has no unit.
func Across(v geom.Point, k, least float64) Matrix {
	u := v.Unit()
	by := k / max(v.Len(), least, tiny)
	return Matrix{1 - u.X*u.X, -u.X * u.Y, -u.X * u.Y, 1 - u.Y*u.Y}.Mul(by)
}
