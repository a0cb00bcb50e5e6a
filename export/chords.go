package export

import (
	"hemlet/export/dxf"
	"hemlet/geom"
)

// chordTolerance is how far, in mm, chords stray from the curves that DXF of
// release 12 does not have, and chordSagitta how far before they are moved to keep
// the area: moved, an inner corner lies at most 4/3 of the sagitta outside.
const (
	chordTolerance = 0.005
	chordSagitta   = 0.0035
)

// corners returns the path as chords within chordTolerance, without the last point
// of a closed one. Nodes and extrema are among the corners. Chords between points of
// a curve cut off a sliver each, by which a round piece loses 1e-5 of its area only
// at some 900 corners; so the corners in between are moved out until each stretch
// bounds the very area of its curve.
func corners(p geom.Path) []dxf.Point {
	var out []dxf.Point
	add := func(q geom.Point) {
		if q := at(q); len(out) == 0 || out[len(out)-1] != q {
			out = append(out, q)
		}
	}
	add(p.Start())
	for _, s := range p {
		from := 0.0
		for _, t := range append(s.Extrema(), 1) {
			for _, q := range equalArea(s.Between(from, t)) {
				add(q)
			}
			from = t
		}
	}
	if n := len(out) - 1; p.Closed() && n > 0 && out[0] == out[n] {
		out = out[:n]
	}
	return out
}

// equalArea returns the chord ends of a stretch without extrema inside, after its
// start, that bound the same area as the stretch.
func equalArea(s geom.Segment) []geom.Point {
	pts := s.AppendFlat([]geom.Point{s.P0}, chordSagitta)
	if s.Straight || len(pts) < 2 {
		return pts[1:]
	}
	if len(pts) == 2 {
		pts = []geom.Point{s.P0, s.At(0.5), s.P3}
	}
	want := geom.Path{s}.Area()
	// The area is quadratic in the move, and nearly linear: two steps reach rounding.
	for range 2 {
		sum := 0.0
		for i := 1; i < len(pts)-1; i++ {
			sum += pts[i+1].Dist(pts[i-1]) / 2
		}
		if sum == 0 {
			break
		}
		move := (want - fanArea(pts)) / sum
		moved := append([]geom.Point(nil), pts...)
		for i := 1; i < len(pts)-1; i++ {
			// Area counts counter-clockwise: out is to the right of travel.
			out := pts[i+1].Sub(pts[i-1]).Unit().Left().Mul(-1)
			moved[i] = pts[i].Add(out.Mul(move))
		}
		pts = moved
	}
	return pts[1:]
}

// fanArea is the area between a chain of chords and the line that closes it.
func fanArea(pts []geom.Point) float64 {
	sum := 0.0
	for i := 2; i < len(pts); i++ {
		sum += pts[i-1].Sub(pts[0]).Cross(pts[i].Sub(pts[0]))
	}
	return sum / 2
}
