package tracing

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/trace"
)

// What is taken for the grain line (common practice, no source: it is drawn as a long
// straight line within the piece, along the grain, mostly with heads like an arrow's).
const (
	// grainBend is by what share of its length a grain line may leave the straight.
	grainBend = 0.01
	// grainShare is the least share of the piece's extent in its direction that a grain line
	// without heads is long, arrowShare that of one with them.
	grainShare, arrowShare = 1.0 / 5, 1.0 / 10
	// grainLean is how far in radians, 10 degrees, one without heads may lean: a sheet lies
	// askew on the scanner, and a line that leans more may be any.
	grainLean = math.Pi / 18
	// headShare is the longest line of a head, as a share of the grain line.
	headShare = 1.0 / 4
	// headLeast and headMost are the angles in radians, of 8 and 65 degrees, between a line
	// of a head and the grain line, headReach how many pens from its end it may begin: where
	// strokes meet at a sharp angle their ink runs together before.
	headLeast, headMost = 8 * math.Pi / 180, 65 * math.Pi / 180
	headReach           = 3.0
)

// grainOf returns the index of the line inside an outline that looks like its grain line,
// and the indices of the lines that are its heads. It is the only straight line that has the
// two lines of a head at an end of it; without any, the only one that stands free within the
// outline, is long and runs up the picture. Where there are none or several, nothing is
// said: index is below 0.
func grainOf(o trace.Outline) (index int, heads []int) {
	index = -1
	arrows, plain := 0, 0
	for i, in := range o.Inner {
		a, b, ok := straight(in.Path)
		if !ok {
			continue
		}
		of := headsOf(o, i, a, b)
		share := a.Dist(b) / extent(o.Path, b.Sub(a).Unit())
		switch {
		case of.arrow && share >= arrowShare:
			if arrows++; arrows == 1 {
				index, heads = i, of.lines
			}
		case arrows == 0 && share >= grainShare && upright(a, b) && free(o, a) && free(o, b):
			if plain++; plain == 1 {
				index, heads = i, of.lines
			}
		}
	}
	if arrows > 1 || arrows == 0 && plain != 1 {
		return -1, nil
	}
	return index, heads
}

// straight reports whether a line is straight, and its ends.
func straight(p geom.Path) (a, b geom.Point, ok bool) {
	if len(p) == 0 || p.Closed() {
		return a, b, false
	}
	a, b = p.Start(), p.End()
	most := grainBend * a.Dist(b)
	chord := geom.Line(a, b)
	for _, q := range p.Flatten(math.Max(most/4, math.SmallestNonzeroFloat64)) {
		if _, d := chord.Nearest(q); d > most {
			return a, b, false
		}
	}
	return a, b, most > 0
}

// upright reports whether a line runs up or down the picture.
func upright(a, b geom.Point) bool {
	d := b.Sub(a)
	return math.Abs(d.X) <= math.Tan(grainLean)*math.Abs(d.Y)
}

// free reports whether a place inside lies off the outline.
func free(o trace.Outline, p geom.Point) bool {
	_, d := o.Path.Nearest(p)
	return d > o.Pen+tickReach
}

// extent returns how long a path is from end to end in the direction of a unit vector.
func extent(p geom.Path, u geom.Point) float64 {
	least, most := math.Inf(1), math.Inf(-1)
	for _, s := range p {
		for _, q := range [...]geom.Point{s.P0, s.At(0.25), s.At(0.5), s.At(0.75)} {
			least, most = math.Min(least, q.Dot(u)), math.Max(most, q.Dot(u))
		}
	}
	return most - least
}

// arrowHeads are the lines of the heads of an arrow.
type arrowHeads struct {
	lines []int
	// arrow says that at one end at least there is one at either side.
	arrow bool
}

// headsOf returns the lines inside that are heads of line i from a to b.
func headsOf(o trace.Outline, i int, a, b geom.Point) arrowHeads {
	var h arrowHeads
	for _, end := range [2][2]geom.Point{{a, b}, {b, a}} {
		tip, back := end[0], end[1].Sub(end[0])
		var left, right bool
		for k, in := range o.Inner {
			if k == i || len(in.Path) == 0 || in.Path.Closed() || in.Path.Length() > headShare*back.Len() {
				continue
			}
			p, q := in.Path.Start(), in.Path.End()
			if q.Dist(tip) < p.Dist(tip) {
				p, q = q, p
			}
			if p.Dist(tip) > headReach*o.Pen+tickReach {
				continue
			}
			along := q.Sub(p)
			turn := math.Atan2(back.Cross(along), back.Dot(along))
			if by := math.Abs(turn); by < headLeast || by > headMost {
				continue
			}
			h.lines = append(h.lines, k)
			left, right = left || turn > 0, right || turn < 0
		}
		h.arrow = h.arrow || left && right
	}
	return h
}
