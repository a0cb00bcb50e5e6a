package warp

import (
	"math"

	"hemlet/geom"
)

// scaled returns where a place is when its shape was scaled first.
func (f *field) scaled(p geom.Point) geom.Point {
	if f.scale == 1 {
		return p // bit for bit
	}
	return f.anchor.Add(p.Sub(f.anchor).Mul(f.scale))
}

// to returns where a place went.
func (f *field) to(p geom.Point) geom.Point {
	var list [24]term
	q := f.scaled(p).Add(f.shift)
	for _, t := range f.at(list[:0], p) {
		q = q.Add(f.c[t.k].Mul(t.b))
	}
	return q
}

// derivative returns the derivative of where a place went by x and by y.
func (f *field) derivative(p geom.Point) (x, y geom.Point) {
	var list [24]term
	x, y = geom.Pt(f.scale, 0), geom.Pt(0, f.scale)
	for _, t := range f.at(list[:0], p) {
		x = x.Add(f.c[t.k].Mul(t.gx))
		y = y.Add(f.c[t.k].Mul(t.gy))
	}
	return x, y
}

// turned returns what became of a small vector at a place.
func (f *field) turned(p, v geom.Point) geom.Point {
	x, y := f.derivative(p)
	return x.Mul(v.X).Add(y.Mul(v.Y))
}

// Map returns where a point inside of a shape went, both in mm; shape is an index of the
// problem's.
func (r *Result) Map(shape int, at geom.Point) geom.Point { return r.fields[shape].to(at) }

// Strain returns how the cloth was changed at a point, in mm, of a shape as it was; shape is
// an index of the problem's.
func (r *Result) Strain(shape int, at geom.Point) Strain {
	f := &r.fields[shape]
	a, b := f.turned(at, f.grain), f.turned(at, f.grain.Left())
	return Strain{Along: a.Len(), Across: b.Len(), Shear: math.Pi/2 - math.Atan2(a.Cross(b), a.Dot(b))}
}
