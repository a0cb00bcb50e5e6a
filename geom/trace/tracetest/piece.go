package tracetest

import (
	"math"

	"hemlet/geom"
)

// Piece is a pattern piece that is known exactly.
type Piece struct {
	Name    string
	Outline geom.Path   // closed, counter-clockwise, in mm
	Inner   []geom.Path // lines drawn inside: grain line, dart legs, ticks at the edge
}

// Corner is a joint at which an outline turns.
type Corner struct {
	At   geom.Point
	Turn float64 // radians, above 0 to the left
}

// Corners returns the joints of the outline that turn by least radians or more.
func (p Piece) Corners(least float64) []Corner { return CornersOf(p.Outline, least) }

// CornersOf returns the joints of a closed path that turn by least radians or more.
func CornersOf(p geom.Path, least float64) []Corner {
	var cs []Corner
	for i, s := range p {
		before := p[(i+len(p)-1)%len(p)]
		u, v := before.Tangent(1), s.Tangent(0)
		if turn := math.Atan2(u.Cross(v), u.Dot(v)); math.Abs(turn) >= least {
			cs = append(cs, Corner{s.P0, turn})
		}
	}
	return cs
}

// Transform returns the piece moved by m, which must not mirror.
func (p Piece) Transform(m geom.Affine) Piece {
	q := Piece{Name: p.Name, Outline: p.Outline.Transform(m)}
	for _, in := range p.Inner {
		q.Inner = append(q.Inner, in.Transform(m))
	}
	return q
}

// Bounds returns the smallest upright rectangle round the pieces.
func Bounds(pieces ...Piece) geom.Rect {
	r := geom.EmptyRect()
	for _, p := range pieces {
		b := p.Outline.Bounds()
		r = r.Union(b)
	}
	return r
}
