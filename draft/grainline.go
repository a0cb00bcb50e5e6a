package draft

import (
	"math"

	"hemlet/geom"
)

const (
	// grainShare is how much of the cloth along its line a grain line covers: long
	// enough to lay a ruler to, clear of the edges.
	grainShare = 0.6
	// grainAside is how far the line stands from the middle of the piece, as a
	// share of the piece's width, so that the label has the middle.
	grainAside = 0.18
)

// upright is the direction of the grain of a piece that does not say its own, as
// printed patterns have it. (Common practice, no source.)
const upright = math.Pi / 2

// grainAlong returns a grain line in a direction given in radians: beside the
// middle of the outline where there is cloth all along it, else in the middle; nil
// where the outline encloses nothing.
func grainAlong(outline geom.Path, angle float64) *Grain {
	turn := geom.Rotation(upright-angle, geom.Point{})
	back, _ := turn.Invert()
	turned := outline.Transform(turn)
	box := turned.Bounds()
	for _, aside := range []float64{grainAside, -grainAside, 0} {
		x := box.Center().X + aside*box.W()
		lo, hi, ok := longestUpright(turned, x, box)
		if !ok {
			continue
		}
		middle, half := (lo+hi)/2, grainShare*(hi-lo)/2
		return &Grain{back.Apply(geom.Pt(x, middle-half)), back.Apply(geom.Pt(x, middle+half))}
	}
	return nil
}

// longestUpright returns the ends of the longest stretch of the vertical line at x
// that lies inside the outline.
func longestUpright(outline geom.Path, x float64, box geom.Rect) (lo, hi float64, ok bool) {
	line := geom.Line(geom.Pt(x, box.Min.Y-1), geom.Pt(x, box.Max.Y+1))
	var ys []float64
	for _, s := range outline {
		for _, m := range s.Intersections(line) {
			ys = append(ys, m.P.Y)
		}
	}
	for i, a := range ys {
		for _, b := range ys[i+1:] {
			y0, y1 := math.Min(a, b), math.Max(a, b)
			if y1-y0 > hi-lo && unbroken(ys, y0, y1) && outline.Contains(geom.Pt(x, (y0+y1)/2)) {
				lo, hi, ok = y0, y1, true
			}
		}
	}
	return lo, hi, ok
}

// unbroken reports whether none of the ys lies between y0 and y1.
func unbroken(ys []float64, y0, y1 float64) bool {
	const slack = 1e-6 // mm: a corner is met once by each of its two segments
	for _, y := range ys {
		if y > y0+slack && y < y1-slack {
			return false
		}
	}
	return true
}
