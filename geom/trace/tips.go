package trace

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/trace/fit"
	"hemlet/geom/trace/follow"
)

// Where the legs of a narrow dart come closer than a pen's width, a drawing shows one
// stroke in their stead: the outline then seems to turn where they run together, and a
// line to lead on from there to the tip. What is such a stroke and no mark is told by its
// length: of legs at an angle a it is as long as half a pen over the sine of half of a.
const (
	tipTurn  = 5 * math.Pi / 6 // 150 degrees: the outline turns by that at least
	tipReach = 2.5             // pens: how far from its turn the line may start
	tipShort = 0.4             // least share of the length of such a stroke
	tipLong  = 1.8             // most
	tipArm   = 3.0             // mm: the stretch by which the legs' directions are read
	tipAside = math.Pi / 18    // 10 degrees: how far it may lie off the middle of the legs
)

// marks returns the lines inside a drawn shape that are marks, and the tips of darts to
// which the others lead. Pen is in mm.
func (j job) marks(sh follow.Shape, pen float64) ([]follow.Line, []fit.Tip) {
	if len(sh.Inner) == 0 {
		return nil, nil
	}
	inner := make([][]geom.Point, len(sh.Inner))
	for i, l := range sh.Inner {
		inner[i] = j.ink(l)
	}
	known, mark := tips(j.ink(sh.Outline), inner, pen)
	var lines []follow.Line
	for i, l := range sh.Inner {
		if mark[i] {
			lines = append(lines, l)
		}
	}
	return lines, known
}

// tips parts the lines inside a drawn outline into those that are marks and those that
// lead to the tips of darts. The outline and the lines are in mm; all points of the
// outline that are as near as a pen to the start of such a line are one.
func tips(outline []geom.Point, inner [][]geom.Point, pen float64) (known []fit.Tip, mark []bool) {
	mark = make([]bool, len(inner))
	for i, line := range inner {
		mark[i] = true
		if pen <= 0 || len(line) < 2 || line[0] == line[len(line)-1] {
			continue
		}
		for _, l := range [2][]geom.Point{line, reversed(line)} {
			if at, ok := dartTip(outline, l, pen); ok {
				known, mark[i] = append(known, fit.Tip{At: at, P: l[len(l)-1]}), false
				break
			}
		}
	}
	return known, mark
}

func reversed(pts []geom.Point) []geom.Point {
	out := make([]geom.Point, len(pts))
	for i, p := range pts {
		out[len(pts)-1-i] = p
	}
	return out
}

// dartTip tells whether the line leads from the outline to the tip of a dart, and from
// which point of the outline. The outline repeats its first point.
func dartTip(outline, line []geom.Point, pen float64) (int, bool) {
	n := len(outline) - 1
	at := 0
	for i, p := range outline[:n] {
		if p.Dist(line[0]) < outline[at].Dist(line[0]) {
			at = i
		}
	}
	if outline[at].Dist(line[0]) > tipReach*pen {
		return 0, false
	}
	// The legs, from two pens' width off the turn on; a jump is where they were extended
	// to meet.
	point := func(i int) geom.Point { return outline[(i%n+n)%n] }
	leg := func(side int) geom.Point {
		walked, from := 0.0, outline[at]
		for k := 1; k < n/2; k++ {
			q := point(at + side*k)
			step := q.Dist(point(at + side*(k-1)))
			if walked += step; step > pen {
				walked = 0
			}
			if walked < 2*pen {
				from = q
			} else if walked > 2*pen+tipArm {
				return q.Sub(from).Unit()
			}
		}
		return geom.Point{}
	}
	back, fore := leg(-1), leg(1)
	angle := math.Acos(math.Max(-1, math.Min(1, back.Dot(fore))))
	if back == (geom.Point{}) || fore == (geom.Point{}) || math.Pi-angle < tipTurn {
		return 0, false
	}
	tip := line[len(line)-1]
	axis := tip.Sub(line[0])
	middle := back.Add(fore).Mul(-1)
	if math.Abs(math.Atan2(middle.Cross(axis), middle.Dot(axis))) > tipAside {
		return 0, false
	}

	want := pen / 2 / math.Sin(angle/2)
	// The turn itself is the point next to the tip.
	const beside = 5
	turn := at
	for i := at - beside; i <= at+beside; i++ {
		if point(i).Dist(tip) < outline[turn].Dist(tip) {
			turn = (i%n + n) % n
		}
	}
	return turn, axis.Len() > tipShort*want && axis.Len() < tipLong*want
}
