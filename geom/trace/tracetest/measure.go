package tracetest

import (
	"math"
	"slices"

	"hemlet/geom"
)

// Off says how far two paths lie from each other, in mm. Distances are taken at samples
// a tenth of a millimetre apart.
type Off struct {
	Median  float64 // of the distances of the found path from the true one
	P95     float64 // of the same
	Bias    float64 // median of the signed distances, above 0 where the found path lies outside
	Largest float64 // in either direction
	At      geom.Point
}

// spacing is the step, in mm, of the samples of Measure.
const spacing = 0.1

// Measure compares a found closed path with the true one, which runs counter-clockwise.
func Measure(found, truth geom.Path) Off {
	o, _, _ := MeasureApart(found, truth, nil, 0)
	return o
}

// MeasureApart compares as Measure does, but what lies within room mm of the given places
// counts for a largest deviation of its own, which it returns with the distances of all
// samples of the found path, sorted.
func MeasureApart(found, truth geom.Path, places []geom.Point, room float64) (o Off, apart float64, ds []float64) {
	a, b := samples(found), samples(truth)
	count := func(p geom.Point, d float64) {
		for _, c := range places {
			if p.Dist(c) <= room {
				apart = math.Max(apart, d)
				return
			}
		}
		if d > o.Largest {
			o.Largest, o.At = d, p
		}
	}
	ds, signed := make([]float64, len(a)), make([]float64, len(a))
	near := newNearness(b)
	for i, p := range a {
		d, left := near.to(p)
		ds[i], signed[i] = d, d
		if left {
			signed[i] = -d
		}
		count(p, d)
	}
	back := newNearness(a)
	for _, p := range b {
		d, _ := back.to(p)
		count(p, d)
	}
	slices.Sort(ds)
	slices.Sort(signed)
	o.Median, o.P95, o.Bias = Rank(ds, .5), Rank(ds, .95), Rank(signed, .5)
	return o, apart, ds
}

// Rank returns the value at a share of the sorted values; NaN of none.
func Rank(sorted []float64, share float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	return sorted[min(len(sorted)-1, int(share*float64(len(sorted))))]
}

// samples returns points along a closed path, about spacing apart, with all nodes.
func samples(p geom.Path) []geom.Point {
	var pts []geom.Point
	for _, s := range p {
		n := max(2, int(math.Ceil(s.Length()/spacing)))
		for k := range n {
			pts = append(pts, s.At(float64(k)/float64(n)))
		}
	}
	return pts
}

// nearness finds the nearest place of a closed polygon, by a grid of cells.
type nearness struct {
	pts   []geom.Point
	cells map[[2]int][]int32 // the edges that touch a cell, by their first point
	reach int                // cells from end to end
}

// cell is the size of a cell in mm.
const cell = 1.0

func newNearness(pts []geom.Point) *nearness {
	n := &nearness{pts: pts, cells: map[[2]int][]int32{}}
	box := geom.EmptyRect()
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		box = box.Include(a)
		r := geom.RectOf(a, b)
		x0, y0, x1, y1 := cellOf(r.Min.X), cellOf(r.Min.Y), cellOf(r.Max.X), cellOf(r.Max.Y)
		for x := x0; x <= x1; x++ {
			for y := y0; y <= y1; y++ {
				n.cells[[2]int{x, y}] = append(n.cells[[2]int{x, y}], int32(i))
			}
		}
	}
	n.reach = cellOf(math.Max(box.W(), box.H())) + 2
	return n
}

func cellOf(x float64) int { return int(math.Floor(x / cell)) }

// to returns the distance of p, and whether it lies to the left of the nearest edge.
func (n *nearness) to(p geom.Point) (float64, bool) {
	best, left := math.Inf(1), false
	cx, cy := cellOf(p.X), cellOf(p.Y)
	// Rings of cells outward; one beyond the first hit may hold a nearer edge.
	for ring := 0; ; ring++ {
		for x := cx - ring; x <= cx+ring; x++ {
			for y := cy - ring; y <= cy+ring; y++ {
				if x != cx-ring && x != cx+ring && y != cy-ring && y != cy+ring {
					continue
				}
				for _, i := range n.cells[[2]int{x, y}] {
					a, b := n.pts[i], n.pts[(int(i)+1)%len(n.pts)]
					u := b.Sub(a)
					t := math.Max(0, math.Min(1, p.Sub(a).Dot(u)/math.Max(u.Dot(u), 1e-30)))
					if d := p.Dist(a.Lerp(b, t)); d < best {
						best, left = d, u.Cross(p.Sub(a)) > 0
					}
				}
			}
		}
		if best <= float64(ring)*cell || ring > n.reach+1000 {
			return best, left
		}
	}
}

// Found says which corners were found.
type Found struct {
	True   int // corners of the truth of at least the given turn
	Missed int // of those, such as have no found corner within the reach
	False  int // found corners with no joint of the truth that turns at all within the reach
}

// leastKink is the turn, in radians, from which a true joint counts as one at which a
// found corner is not false: 1 degree.
const leastKink = math.Pi / 180

// CornersFound compares the places of found corners with the true ones. A corner is found
// if one was told within reach mm of it, and each found corner serves for one true one.
func CornersFound(found []geom.Point, truth geom.Path, least, reach float64) Found {
	var f Found
	used := make([]bool, len(found))
	nearest := func(at geom.Point) int {
		best, d := -1, reach
		for i, p := range found {
			if !used[i] && p.Dist(at) <= d {
				best, d = i, p.Dist(at)
			}
		}
		return best
	}
	var soft []geom.Point
	for _, c := range CornersOf(truth, leastKink) {
		if math.Abs(c.Turn) < least {
			soft = append(soft, c.At)
			continue
		}
		f.True++
		if i := nearest(c.At); i >= 0 {
			used[i] = true
		} else {
			f.Missed++
		}
	}
	for _, at := range soft {
		if i := nearest(at); i >= 0 {
			used[i] = true
		}
	}
	for _, u := range used {
		if !u {
			f.False++
		}
	}
	return f
}
