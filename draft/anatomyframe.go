package draft

import (
	"math"

	"hemlet/geom"
)

// anatomyFrame is the outline of a piece as it would hang on the body: upright, and seen so
// that the middle of the body, where the piece has one, lies at its left.
type anatomyFrame struct {
	piece *Piece
	// up points towards the head in the piece's own millimetres; mirrored says that left
	// and right are changed round, and the edges with them.
	up       geom.Point
	mirrored bool
	// edges run counter-clockwise in the frame.
	edges []frameEdge
	// size is how wide and how high the outline is, in mm, and fills which share of that
	// box it has.
	size  geom.Point
	fills float64
	// looks keeps the looks of runs of edges, by first edge and count.
	looks map[[2]int]*edgeLook
}

// frameEdge is one edge in the frame.
type frameEdge struct {
	index  int // in the piece
	points []geom.Point
	// leaves and comes are the directions at its start and its end.
	leaves, comes geom.Point
	length        float64
}

// edgeLook is what one edge, or a row of edges taken for one, looks like in the frame.
type edgeLook struct {
	// start, end and mean are places as shares of width and height, from left and below.
	start, end, mean geom.Point
	// along is from start to end, in mm, length the length in mm.
	along  geom.Point
	length float64
	// bulge is the area between the stretch and its chord as a share of the square of the
	// chord: above 0 where it curves out of the piece, below where it cuts in.
	bulge float64
	// corner is the sharpest turn in radians between two of its edges, begins the turn at
	// its start.
	corner, begins float64
	// off is how far it leaves its chord, as a share of it.
	off float64
}

// frameSteps is in how many steps each stretch between two nodes is looked at.
const frameSteps = 8

// newAnatomyFrame lays a piece out upright.
func newAnatomyFrame(p *Piece, up geom.Point, mirrored bool, lengths []float64) *anatomyFrame {
	f := &anatomyFrame{piece: p, up: up, mirrored: mirrored, looks: make(map[[2]int]*edgeLook)}
	right := geom.Pt(up.Y, -up.X)
	if mirrored {
		right = right.Mul(-1)
	}
	lay := func(q geom.Point) geom.Point { return geom.Pt(q.Dot(right), q.Dot(up)) }
	n := len(p.Edges)
	legs := p.dartLegs(lengths)
	lo, hi := geom.Pt(math.Inf(1), math.Inf(1)), geom.Pt(math.Inf(-1), math.Inf(-1))
	for k := range n {
		i := k
		if mirrored {
			i = n - 1 - k
		}
		if legs[i] {
			continue
		}
		e := frameEdge{index: i, length: lengths[i]}
		path := p.EdgePath(i)
		if mirrored {
			path = path.Reverse()
		}
		for j, seg := range path {
			if j == 0 {
				e.points = append(e.points, lay(seg.P0))
			}
			steps := frameSteps
			if seg.Straight {
				steps = 1
			}
			for t := 1; t <= steps; t++ {
				e.points = append(e.points, lay(seg.At(float64(t)/float64(steps))))
			}
		}
		e.leaves, e.comes = lay(path[0].Tangent(0)), lay(path[len(path)-1].Tangent(1))
		for _, q := range e.points {
			lo = geom.Pt(math.Min(lo.X, q.X), math.Min(lo.Y, q.Y))
			hi = geom.Pt(math.Max(hi.X, q.X), math.Max(hi.Y, q.Y))
		}
		f.edges = append(f.edges, e)
	}
	f.size = hi.Sub(lo)
	if !(f.size.X > 0 && f.size.Y > 0) {
		return nil
	}
	area := 0.0
	for k := range f.edges {
		points := f.edges[k].points
		for j, q := range points {
			if points[j] = q.Sub(lo); j > 0 {
				area += points[j-1].Cross(points[j]) / 2
			}
		}
	}
	f.fills = area / (f.size.X * f.size.Y)
	return f
}

// look returns what count edges from the first one on look like together.
func (f *anatomyFrame) look(first, count int) *edgeLook {
	n := len(f.edges)
	first %= n
	key := [2]int{first, count}
	if l := f.looks[key]; l != nil {
		return l
	}
	l := &edgeLook{begins: f.turnAt(first)}
	var points []geom.Point
	var sum geom.Point
	weight := 0.0
	for k := range count {
		e := &f.edges[(first+k)%n]
		l.length += e.length
		if k > 0 {
			l.corner = math.Max(l.corner, math.Abs(f.turnAt((first+k)%n)))
		}
		for j := 1; j < len(e.points); j++ {
			d := e.points[j].Dist(e.points[j-1])
			sum = sum.Add(e.points[j].Lerp(e.points[j-1], 0.5).Mul(d))
			weight += d
		}
		points = append(points, e.points...)
	}
	a, b := points[0], points[len(points)-1]
	l.along = b.Sub(a)
	chord := math.Max(l.along.Len(), Grid)
	area := 0.0
	for j := 1; j < len(points); j++ {
		u, v := points[j-1].Sub(a), points[j].Sub(a)
		area += u.Cross(v) / 2
		l.off = math.Max(l.off, math.Abs(l.along.Cross(v))/(chord*chord))
	}
	l.bulge = area / (chord * chord)
	share := func(q geom.Point) geom.Point { return geom.Pt(q.X/f.size.X, q.Y/f.size.Y) }
	l.start, l.end = share(a), share(b)
	if weight > 0 {
		l.mean = share(sum.Mul(1 / weight))
	}
	f.looks[key] = l
	return l
}

// turnAt returns by how much in radians the outline turns at the start of an edge: to the
// left, as at the corners of a rectangle, above 0.
func (f *anatomyFrame) turnAt(k int) float64 {
	n := len(f.edges)
	u, v := f.edges[(k+n-1)%n].comes, f.edges[k].leaves
	return math.Atan2(u.Cross(v), u.Dot(v))
}

// level and upright say from 0 to 1 how level or how upright a stretch runs.
func (l *edgeLook) level() float64 {
	return math.Abs(l.along.X) / math.Max(l.along.Len(), Grid)
}

func (l *edgeLook) upright() float64 {
	return math.Abs(l.along.Y) / math.Max(l.along.Len(), Grid)
}

// about says from 0 to 1 how near a value is to where it is expected: a half at the
// distance that is given.
func about(x, at, within float64) float64 {
	d := (x - at) / within
	return 1 / (1 + d*d)
}

// rise goes from 0 to 1 as x goes from one value to the other.
func rise(x, from, to float64) float64 {
	return min(max((x-from)/(to-from), 0), 1)
}

// overall returns the mean of some qualities.
func overall(q ...float64) float64 {
	sum := 0.0
	for _, v := range q {
		sum += v
	}
	return sum / float64(len(q))
}

const (
	// legsAlike is by how much, as a share, the two legs of a dart may differ that is drawn
	// as edges, and tipTurn how sharply, in radians, the outline turns at its tip: 120
	// degrees.
	legsAlike = 0.04
	tipTurn   = 120 * math.Pi / 180
)

// dartLegs tells which edges are the legs of a dart that was drawn as a wedge cut into the
// outline.
func (p *Piece) dartLegs(lengths []float64) []bool {
	n := len(p.Edges)
	legs := make([]bool, n)
	for i := range n {
		j := (i + 1) % n
		if p.cornerAngle(j)-math.Pi >= tipTurn && n > 4 && math.Abs(lengths[i]-lengths[j]) <= legsAlike*lengths[i] {
			legs[i], legs[j] = true, true
		}
	}
	return legs
}
