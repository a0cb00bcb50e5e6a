package intake

import (
	"math"

	"hemlet/geom"
)

// cornerTurn is the change of direction, in radians, from which a node is a
// corner: 12°. Below it lie joins that were meant smooth and drawn by eye or
// rounded (a handle of 0.5 mm kept to 0.01 mm is off by 1°, two such handles and
// a hasty hand by a few more); above it lie the flattest corners at which an
// edge ends that someone sews, about 15° where a side seam breaks at the waist.
// Common practice, no source.
const cornerTurn = 12 * math.Pi / 180

// A polyline that stands for a curve turns at every vertex. These tell it from a
// shape with corners.
const (
	// sampledTurn is the largest turn, in radians, at a vertex of a sampled curve:
	// 35°, a circle of ten chords. More is a corner whatever stands beside it.
	sampledTurn = 35 * math.Pi / 180
	// sampledRun is how many vertices in a row must bend to the same side.
	sampledRun = 4
	// sampledShare is the longest chord of a sampled curve as a share of the
	// outline's length: a regular shape of up to 13 sides keeps its corners.
	sampledShare = 1. / 14
	// sampledStep is the share of a vertex's turn that a neighbour must have too,
	// its sign included. Where a straight line runs into evenly spaced chords the
	// first vertex turns by half of the next.
	sampledStep = 0.4
)

// cornersOf marks the segments of a closed path that start at a corner, by the
// file's own marks, which may be nil, or by the turns. With everyVertex no
// polyline is taken for a curve.
func cornersOf(path geom.Path, marks *cornerMarks, everyVertex bool) []bool {
	marked := make([]bool, len(path))
	if marks.mark(path, marked) && marks.only {
		return marked
	}
	turns := turnsOf(path)
	curve := make([]bool, len(path))
	if !everyVertex {
		curve = sampled(path, turns)
	}
	corner := make([]bool, len(path))
	for i, t := range turns {
		corner[i] = marked[i] || math.Abs(t) >= cornerTurn && !curve[i]
	}
	return corner
}

// markTolerance is how far, in mm, a point that marks a corner may lie from it.
const markTolerance = 0.01

// cornerMarks are the places that a file marks as corners.
type cornerMarks struct {
	at map[[2]int64]bool
	// only says that the file marks its other points as well, so that no other
	// node is a corner.
	only bool
}

func newCornerMarks(points []geom.Point, only bool) *cornerMarks {
	m := &cornerMarks{make(map[[2]int64]bool, len(points)), only}
	for _, p := range points {
		m.at[cell(p, markTolerance)] = true
	}
	return m
}

// mark marks the nodes at the corners, and reports whether there are any.
func (m *cornerMarks) mark(path geom.Path, corner []bool) (any bool) {
	if m == nil {
		return false
	}
	for i, s := range path {
		c := cell(s.P0, markTolerance)
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				corner[i] = corner[i] || m.at[[2]int64{c[0] + dx, c[1] + dy}]
			}
		}
		any = any || corner[i]
	}
	return any
}

func cell(p geom.Point, size float64) [2]int64 {
	return [2]int64{int64(math.Floor(p.X / size)), int64(math.Floor(p.Y / size))}
}

// turnsOf returns the turn at the start of each segment in radians, positive to
// the left.
func turnsOf(path geom.Path) []float64 {
	turns := make([]float64, len(path))
	for i, s := range path {
		in := path[(i+len(path)-1)%len(path)].Tangent(1)
		out := s.Tangent(0)
		turns[i] = math.Atan2(in.Cross(out), in.Dot(out))
	}
	return turns
}

// sampled marks the vertices that belong to a curve given as chords.
func sampled(path geom.Path, turns []float64) []bool {
	n := len(path)
	longest := 0.0
	for _, s := range path {
		longest += s.Length() * sampledShare
	}
	bend := make([]bool, n)
	for i := range path {
		before := path[(i+n-1)%n]
		bend[i] = before.Straight && path[i].Straight &&
			before.P0.Dist(before.P3) <= longest && path[i].P0.Dist(path[i].P3) <= longest &&
			math.Abs(turns[i]) <= sampledTurn && evenly(turns[(i+n-1)%n], turns[i], turns[(i+1)%n])
	}
	curve := make([]bool, n)
	for i := range bend {
		if bend[i] && runLength(bend, turns, i) >= sampledRun {
			curve[i] = true
		}
	}
	return curve
}

// evenly reports whether a vertex's turn is matched by one of its neighbours.
func evenly(before, turn, after float64) bool {
	if turn < 0 {
		before, turn, after = -before, -turn, -after
	}
	return max(before, after) >= sampledStep*turn && max(before, after) <= sampledTurn
}

// runLength counts the vertices around i that bend to the same side, up to
// sampledRun each way.
func runLength(bend []bool, turns []float64, i int) int {
	n := len(bend)
	count := 1
	for _, step := range [2]int{1, n - 1} {
		j := i
		for range min(sampledRun, n-1) {
			j = (j + step) % n
			if !bend[j] || turns[j]*turns[i] < 0 {
				break
			}
			count++
		}
	}
	return min(count, n)
}
