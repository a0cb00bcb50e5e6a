package geom

import "math"

// Rect is an axis-parallel box in mm. The zero Rect is the single point (0, 0);
// EmptyRect holds nothing.
type Rect struct{ Min, Max Point }

// EmptyRect returns the box that holds no point and grows by Include.
func EmptyRect() Rect {
	inf := math.Inf(1)
	return Rect{Point{inf, inf}, Point{-inf, -inf}}
}

// RectOf returns the smallest box around the points, EmptyRect if there are none.
func RectOf(pts ...Point) Rect {
	r := EmptyRect()
	for _, p := range pts {
		r = r.Include(p)
	}
	return r
}

// Empty reports whether r holds no point.
func (r Rect) Empty() bool { return !(r.Min.X <= r.Max.X && r.Min.Y <= r.Max.Y) }

// Include returns r grown to hold p.
func (r Rect) Include(p Point) Rect {
	return Rect{
		Point{math.Min(r.Min.X, p.X), math.Min(r.Min.Y, p.Y)},
		Point{math.Max(r.Max.X, p.X), math.Max(r.Max.Y, p.Y)},
	}
}

// Union returns the smallest box that holds r and s.
func (r Rect) Union(s Rect) Rect {
	if s.Empty() {
		return r
	}
	if r.Empty() {
		return s
	}
	return r.Include(s.Min).Include(s.Max)
}

// Grow returns r with every side moved out by d mm (in where d is negative).
func (r Rect) Grow(d float64) Rect {
	return Rect{Point{r.Min.X - d, r.Min.Y - d}, Point{r.Max.X + d, r.Max.Y + d}}
}

// Overlaps reports whether r and s share a point; touching counts.
func (r Rect) Overlaps(s Rect) bool {
	return r.Min.X <= s.Max.X && s.Min.X <= r.Max.X && r.Min.Y <= s.Max.Y && s.Min.Y <= r.Max.Y
}

// Contains reports whether p lies in r or on its border.
func (r Rect) Contains(p Point) bool {
	return r.Min.X <= p.X && p.X <= r.Max.X && r.Min.Y <= p.Y && p.Y <= r.Max.Y
}

// W returns the width of r in mm.
func (r Rect) W() float64 { return r.Max.X - r.Min.X }

// H returns the height of r in mm.
func (r Rect) H() float64 { return r.Max.Y - r.Min.Y }

// Center returns the middle of r.
func (r Rect) Center() Point { return r.Min.Lerp(r.Max, 0.5) }
