package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// mouth is where a dart lies on the outline.
type mouth struct {
	// edge and node are the indices of the edge and of the mouth's first node in it;
	// the second follows.
	edge, node int
	from, to   geom.Point
	// along is how far from the start of the edge the mouth closes, in mm.
	along float64
}

// mouthAt returns where the dart lies, false where its mouth is not on the outline.
func (p *Piece) mouthAt(d *Dart) (mouth, bool) {
	from, i, k := p.Node(d.From)
	if from == nil || p.nodeAt(i, k+1).ID != d.To {
		return mouth{}, false
	}
	m := mouth{edge: i, node: k, from: from.At, to: p.nodeAt(i, k+1).At}
	nodes := p.EdgeNodes(i)
	for j := 1; j <= k; j++ {
		if p.dartAt(nodes[j-1].ID, nodes[j].ID) == nil {
			m.along += segment(nodes[j-1], nodes[j]).Length()
		}
	}
	return m, true
}

// width returns the width of the mouth in mm.
func (m mouth) width() float64 { return m.from.Dist(m.to) }

// middle returns the point halfway between the mouth points.
func (m mouth) middle() geom.Point { return m.from.Lerp(m.to, 0.5) }

// square returns the unit direction square to the mouth, into the piece.
func (m mouth) square() geom.Point { return m.to.Sub(m.from).Unit().Left() }

// openMouth makes the stretch of edge i from a to b, in mm from its start, the mouth of
// a dart, and returns the nodes at its ends: those that lie there, or new ones with the
// given ids. What lies between is gone.
func (p *Piece) openMouth(i int, a, b float64, from, to ID) (ID, ID, error) {
	if b-a < shortestStretch {
		return "", "", errors.New("a mouth that narrow takes nothing in")
	}
	if a < shortestStretch || b > p.EdgeLength(i)-shortestStretch {
		return "", "", fmt.Errorf("the mouth would reach beyond the end of edge %s; a dart opens inside an edge", p.Edges[i].label())
	}
	// The place farther along first: what is put in at b leaves a where it is.
	to, err := p.inner(i, b, to)
	if err == nil {
		from, err = p.inner(i, a, from)
	}
	if err != nil {
		return "", "", err
	}
	e := &p.Edges[i]
	k, l := e.index(from), e.index(to)
	if k >= l { // one point lies near enough to both places
		return "", "", errors.New("a mouth that narrow takes nothing in")
	}
	for _, n := range e.Nodes[k+1 : l] {
		if err := p.isFree(n.ID); err != nil {
			return "", "", err
		}
	}
	e.Nodes = append(e.Nodes[:k+1:k+1], e.Nodes[l:]...)
	u, v := &e.Nodes[k], &e.Nodes[k+1]
	u.Out, v.In, u.Smooth, v.Smooth = geom.Point{}, geom.Point{}, false, false
	return from, to, nil
}

// inner returns the node inside edge i, along mm from its start: a free one that lies
// there, or a new one with the id.
func (p *Piece) inner(i int, along float64, id ID) (ID, error) {
	k, t := p.locate(i, along)
	from, to := p.nodeAt(i, k), p.nodeAt(i, k+1)
	here := segment(*from, *to).At(t)
	for _, j := range [2]int{k, k + 1} {
		n := p.nodeAt(i, j)
		if n.At.Dist(here) >= shortestStretch {
			continue
		}
		if j == 0 || j == len(p.Edges[i].Nodes) {
			return "", errors.New("this is a corner; a dart opens inside an edge")
		}
		if d := p.mouthOf(n.ID); d != nil {
			return "", inTheWay{dart: d, opens: true}
		}
		return n.ID, nil
	}
	return id, p.insert(i, k, t, id)
}

// index returns where in the edge the node is, or -1.
func (e *Edge) index(id ID) int {
	for k := range e.Nodes {
		if e.Nodes[k].ID == id {
			return k
		}
	}
	return -1
}

// smoothTurn is how far, in radians, the edge on either side of a mouth may turn away
// from the line across it and the line still be drawn as one curve with it.
const smoothTurn = math.Pi / 3

// closeMouth takes the dart away; the edge goes on across its mouth, as a curve where
// that joins the two sides smoothly.
func (p *Piece) closeMouth(d *Dart) error {
	m, ok := p.mouthAt(d)
	if !ok {
		return fmt.Errorf("the mouth of %s is not on the outline", d.called())
	}
	gone := d.ID
	kept := p.Darts[:0]
	for _, other := range p.Darts {
		if other.ID != gone {
			kept = append(kept, other)
		}
	}
	p.Darts = kept
	p.bridgeGap(m.edge, m.node)
	p.dropFlat(m.edge, m.node+1)
	p.dropFlat(m.edge, m.node)
	return nil
}

// bridgeGap draws the stretch that follows node k of edge i as it continues what lies
// before and after it, where those do not turn away from it too far; else straight.
func (p *Piece) bridgeGap(i, k int) {
	n := len(p.Edges[i].Nodes)
	a, b := p.nodeAt(i, k), p.nodeAt(i, k+1)
	a.Out, b.In = geom.Point{}, geom.Point{}
	if k == 0 || k+1 == n { // at a corner nothing goes on
		return
	}
	before, after := segment(*p.nodeAt(i, k-1), *a), segment(*b, *p.nodeAt(i, k+2))
	across := b.At.Sub(a.At)
	u, v, c := before.Tangent(1), after.Tangent(0), across.Unit()
	turned := func(x, y geom.Point) float64 { return math.Abs(math.Atan2(x.Cross(y), x.Dot(y))) }
	if max(turned(u, c), turned(c, v)) > smoothTurn {
		return
	}
	if max(turned(u, c), turned(c, v)) > straightSlack {
		third := across.Len() / 3
		a.Out, b.In = u.Mul(third), v.Mul(-third)
	}
	a.Smooth, b.Smooth = true, true
}

// dropFlat takes node k of edge i away where the line runs straight on through it and
// nothing hangs on it.
func (p *Piece) dropFlat(i, k int) {
	if k <= 0 || k >= len(p.Edges[i].Nodes) {
		return
	}
	a, n, b := p.nodeAt(i, k-1), p.nodeAt(i, k), p.nodeAt(i, k+1)
	u, v := n.At.Sub(a.At).Unit(), b.At.Sub(n.At).Unit()
	if !segment(*a, *n).Straight || !segment(*n, *b).Straight || math.Abs(u.Cross(v)) > straightSlack || u.Dot(v) < 0 {
		return
	}
	if p.isFree(n.ID) != nil {
		return
	}
	e := &p.Edges[i]
	e.Nodes = append(e.Nodes[:k:k], e.Nodes[k+1:]...)
}

// widened is the lineage of an edge that gained a stretch: what lay up to at mm stands
// up to from, what lay beyond stands from to on. All are shares of a length.
func widened(edge ID, at, from, to float64) Lineage {
	at, from, to = clampShare(at), clampShare(from), clampShare(to)
	return Lineage{edge: {
		{Edge: edge, Old0: 0, Old1: at, New0: 0, New1: from},
		{Edge: edge, Old0: at, Old1: at, New0: from, New1: to},
		{Edge: edge, Old0: at, Old1: 1, New0: to, New1: 1},
	}}
}

// narrowed is the lineage of an edge that lost the stretch from a share to another;
// what lay there stands at the one place that is left of it.
func narrowed(edge ID, from, to, at float64) Lineage {
	from, to, at = clampShare(from), clampShare(to), clampShare(at)
	return Lineage{edge: {
		{Edge: edge, Old0: 0, Old1: from, New0: 0, New1: at},
		{Edge: edge, Old0: from, Old1: to, New0: at, New1: at},
		{Edge: edge, Old0: to, Old1: 1, New0: at, New1: 1},
	}}
}

// equalLegs makes the legs of a dart equally long, each by half of what they differ, by
// moving the mouth points along them, and returns how far they moved in mm.
func (p *Piece) equalLegs(d *Dart) float64 {
	m, ok := p.mouthAt(d)
	if !ok || d.Fold != Wedge {
		return 0
	}
	a, b := m.from.Dist(d.Apex), m.to.Dist(d.Apex)
	by := (b - a) / 2
	if math.Abs(by) < Grid || a == 0 || b == 0 {
		return 0
	}
	p.nodeAt(m.edge, m.node).At = d.Apex.Lerp(m.from, (a+by)/a)
	p.nodeAt(m.edge, m.node+1).At = d.Apex.Lerp(m.to, (b-by)/b)
	p.alignBeside(map[ID]bool{d.From: true, d.To: true})
	return math.Abs(by)
}

// sightSlack is how near, in mm, to its ends a straight line may touch the outline and
// still count as running inside: less than the width of a pencil line.
const sightSlack = 0.05

// inTheWay is what lies between two places of a piece: a dart, or an edge.
type inTheWay struct {
	dart *Dart
	edge *Edge
	// opens says that the dart's mouth lies on one of the places.
	opens bool
}

func (w inTheWay) Error() string {
	switch {
	case w.opens:
		return w.dart.called() + " opens here already"
	case w.dart != nil:
		return "the straight line there runs across " + w.dart.called()
	}
	return "the straight line there leaves the piece over edge " + w.edge.label()
}

// seesInside reports whether the straight line from a point of the outline to one
// inside runs inside the piece and across no dart but the one named.
func (p *Piece) seesInside(from, to geom.Point, but ID) error {
	line := geom.Path{geom.Line(from, to)}
	for i := range p.Edges {
		for _, m := range line.Intersections(p.EdgePath(i)) {
			at := line.At(m.A)
			if at.Dist(from) > sightSlack && at.Dist(to) > sightSlack {
				return inTheWay{edge: &p.Edges[i]}
			}
		}
	}
	if !p.DrawnPath().Contains(from.Lerp(to, 0.5)) {
		return errors.New("the straight line there runs outside the piece")
	}
	for i := range p.Darts {
		d := &p.Darts[i]
		m, ok := p.mouthAt(d)
		if !ok || d.ID == but {
			continue
		}
		wedge := geom.Path{geom.Line(m.from, d.Apex), geom.Line(d.Apex, m.to)}
		for _, x := range line.Intersections(wedge) {
			at := line.At(x.A)
			if at.Dist(from) > sightSlack && at.Dist(to) > sightSlack {
				return inTheWay{dart: d}
			}
		}
	}
	return nil
}

// soundAfter reports an outline that an act has made cross itself or turn inside out.
func (p *Piece) soundAfter(before *Piece) error {
	path := p.DrawnPath()
	box := path.Bounds()
	if !(path.Area() > areaSlack*math.Max(box.W(), box.H())) {
		return errors.New("its outline would enclose nothing")
	}
	if path.Simple() != nil && before.DrawnPath().Simple() == nil {
		return errors.New("the piece would overlap itself")
	}
	return nil
}
