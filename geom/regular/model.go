package regular

import (
	"errors"
	"math"

	"hemlet/geom"
)

// edge is a run of segments from one corner to the next.
type edge struct {
	from, to   int // corners
	path       geom.Path
	straight   bool
	head, tail int // index of the unknown shift of the first and last handle; -1 for none
}

// chord returns the vector between the ends of the edge.
func (e *edge) chord() geom.Point { return e.path.End().Sub(e.path.Start()) }

// model is an outline as a function of unknowns: the places of its corners, and the shifts
// of the handles at them. An edge follows its two corners as a whole, turned and scaled
// with the line between them, so that smooth joins inside stay smooth; its first and last
// handle may move besides. All of this is linear in the unknowns.
type model struct {
	closed  bool
	shift   geom.Point // of the origin, so that sums do not lose digits far out
	rotated int        // by how many segments the path was started later
	corners []geom.Point
	meant   []bool // for each corner: the outline has it as a corner
	edges   []edge
	size    float64   // mm, about that across, however it is turned
	start   []float64 // the unknowns of the outline as it is
}

// Errors of Apply for outlines that nothing can be made of.
var (
	errEmpty     = errors.New("an outline needs at least one edge with length")
	errNotFinite = errors.New("the outline has a coordinate that is not a length")
)

// newModel reads an outline.
func newModel(o Outline) (*model, error) {
	if len(o.Path) == 0 {
		return nil, errEmpty
	}
	box := geom.EmptyRect()
	for _, s := range o.Path {
		for _, p := range [4]geom.Point{s.P0, s.P1, s.P2, s.P3} {
			if !p.Finite() || math.Abs(p.X) > mostCoordinate || math.Abs(p.Y) > mostCoordinate {
				return nil, errNotFinite
			}
			box = box.Include(p)
		}
	}
	m := &model{closed: o.Path.Closed(), shift: box.Center(), size: across(o.Path)}
	if !(m.size > leastSize) {
		return nil, errEmpty
	}
	path := o.Path.Transform(geom.Translation(m.shift.Mul(-1)))
	corner := m.cornersOf(o)
	meant := func(i int) bool { i = (i + m.rotated) % len(path); return i < len(o.Corner) && o.Corner[i] }
	if m.closed {
		for !corner[m.rotated] {
			m.rotated++
		}
		path = append(append(geom.Path{}, path[m.rotated:]...), path[:m.rotated]...)
		corner = append(append([]bool{}, corner[m.rotated:]...), corner[:m.rotated]...)
	}
	m.split(path, corner, meant)
	m.unknowns()
	return m, nil
}

// across returns twice the largest distance of a control point from their middle.
func across(p geom.Path) float64 {
	var mid geom.Point
	for _, s := range p {
		mid = mid.Add(s.P0.Add(s.P1).Add(s.P2).Add(s.P3).Mul(0.25 / float64(len(p))))
	}
	far := 0.0
	for _, s := range p {
		far = max(far, s.P0.Dist(mid), s.P1.Dist(mid), s.P2.Dist(mid), s.P3.Dist(mid))
	}
	return 2 * far
}

const (
	// mostCoordinate is the largest coordinate in mm of a document.
	mostCoordinate = 1e5
	// leastSize is the least size in mm of an outline: below it nothing can be sewn.
	leastSize = 1e-3
)

// cornersOf says for each segment whether it starts at a corner; without any, all do.
func (m *model) cornersOf(o Outline) []bool {
	corner := make([]bool, len(o.Path))
	some := false
	for i := range corner {
		corner[i] = i < len(o.Corner) && o.Corner[i]
		some = some || corner[i]
	}
	if !m.closed {
		corner[0] = true
		return corner
	}
	if !some {
		for i := range corner {
			corner[i] = true
		}
	}
	return corner
}

// split cuts the path, which starts at a corner, into edges.
func (m *model) split(path geom.Path, corner []bool, meant func(segment int) bool) {
	for i, s := range path {
		if corner[i] {
			m.corners = append(m.corners, s.P0)
			m.meant = append(m.meant, meant(i))
			m.edges = append(m.edges, edge{from: len(m.corners) - 1})
		}
		e := &m.edges[len(m.edges)-1]
		e.path = append(e.path, s)
	}
	if !m.closed {
		m.corners = append(m.corners, path.End())
		m.meant = append(m.meant, true)
	}
	for i := range m.edges {
		e := &m.edges[i]
		e.to = (e.from + 1) % len(m.corners)
		e.straight = len(e.path) == 1 && e.path[0].Straight
	}
}

// unknowns numbers the unknowns and sets them to what the outline is.
func (m *model) unknowns() {
	m.start = m.start[:0]
	for _, p := range m.corners {
		m.start = append(m.start, p.X, p.Y)
	}
	for i := range m.edges {
		e := &m.edges[i]
		e.head, e.tail = -1, -1
		if s := e.path[0]; !s.Straight && s.P1 != s.P0 {
			e.head = len(m.start)
			m.start = append(m.start, 0, 0)
		}
		if s := e.path[len(e.path)-1]; !s.Straight && s.P2 != s.P3 {
			e.tail = len(m.start)
			m.start = append(m.start, 0, 0)
		}
	}
}

// point returns the point or vector of two unknowns.
func point(z []float64, i int) geom.Point { return geom.Pt(z[i], z[i+1]) }

// at returns an edge at the unknowns z.
func (m *model) at(i int, z []float64) geom.Path {
	e := &m.edges[i]
	a, b := point(z, 2*e.from), point(z, 2*e.to)
	if e.straight {
		return geom.Path{geom.Line(a, b)}
	}
	carry := e.carrier(a, b)
	out := make(geom.Path, len(e.path))
	for j, s := range e.path {
		if s.Straight {
			out[j] = geom.Line(carry(s.P0), carry(s.P3))
		} else {
			out[j] = geom.Cubic(carry(s.P0), carry(s.P1), carry(s.P2), carry(s.P3))
		}
	}
	last := len(out) - 1
	if e.head >= 0 {
		out[0].P1 = out[0].P1.Add(point(z, e.head))
	}
	if e.tail >= 0 {
		out[last].P2 = out[last].P2.Add(point(z, e.tail))
	}
	// The ends are those of the neighbours to the last digit.
	out[0] = moved(out[0], a, out[0].P3)
	out[last] = moved(out[last], out[last].P0, b)
	return out
}

// moved returns the segment with other ends.
func moved(s geom.Segment, a, b geom.Point) geom.Segment {
	if s.Straight {
		return geom.Line(a, b)
	}
	s.P0, s.P3 = a, b
	return s
}

// loopShare is the share of its length below which the line between the ends of an edge
// does not tell how it is turned.
const loopShare = 0.1

// carrier returns the map of the edge's points when its ends come to lie at a and b.
func (e *edge) carrier(a, b geom.Point) func(geom.Point) geom.Point {
	p, d := e.path.Start(), e.chord()
	n := d.Dot(d)
	if n < loopShare*loopShare*e.reach()*e.reach() {
		by := a.Sub(p).Lerp(b.Sub(e.path.End()), 0.5)
		return func(q geom.Point) geom.Point { return q.Add(by) }
	}
	// The quotient of the chords as complex numbers: turn and scale.
	to := b.Sub(a)
	re, im := to.Dot(d)/n, d.Cross(to)/n
	return func(q geom.Point) geom.Point {
		v := q.Sub(p)
		return geom.Pt(a.X+re*v.X-im*v.Y, a.Y+im*v.X+re*v.Y)
	}
}

// reach returns the diagonal of the box of the edge's control points.
func (e *edge) reach() float64 {
	box := geom.EmptyRect()
	for _, s := range e.path {
		box = box.Union(s.HandleBounds())
	}
	return math.Hypot(box.W(), box.H())
}

// vars returns the unknowns that edge i depends on.
func (m *model) vars(i int) []int {
	e := &m.edges[i]
	v := []int{2 * e.from, 2*e.from + 1, 2 * e.to, 2*e.to + 1}
	if e.head >= 0 && !e.straight {
		v = append(v, e.head, e.head+1)
	}
	if e.tail >= 0 && !e.straight {
		v = append(v, e.tail, e.tail+1)
	}
	return v
}

// outline puts the edges together at the unknowns z. smooth are the corners that are none
// any more.
func (m *model) outline(z []float64, smooth map[int]bool) Outline {
	var o Outline
	for i := range m.edges {
		for j, s := range m.at(i, z) {
			o.Path = append(o.Path, s)
			o.Corner = append(o.Corner, j == 0 && m.meant[m.edges[i].from] && !smooth[m.edges[i].from])
		}
	}
	for i := range o.Path {
		s := o.Path[i].Transform(geom.Translation(m.shift))
		if i > 0 {
			s = moved(s, o.Path[i-1].P3, s.P3)
		}
		o.Path[i] = s
	}
	if m.closed {
		last := len(o.Path) - 1
		o.Path[last] = moved(o.Path[last], o.Path[last].P0, o.Path[0].P0)
	}
	return o
}

// straighten makes an edge one straight line.
func (m *model) straighten(i int) {
	e := &m.edges[i]
	e.path = geom.Path{geom.Line(e.path.Start(), e.path.End())}
	e.straight, e.head, e.tail = true, -1, -1
}

// clone returns a copy whose edges can be changed.
func (m *model) clone() *model {
	c := *m
	c.edges = append([]edge{}, m.edges...)
	c.start = append([]float64{}, m.start...)
	return &c
}

// before returns the edge that ends at corner c, or -1, and after the one that starts.
func (m *model) before(c int) int {
	if c > 0 {
		return c - 1
	}
	if m.closed {
		return len(m.edges) - 1
	}
	return -1
}

func (m *model) after(c int) int {
	if c < len(m.edges) {
		return c
	}
	return -1
}
