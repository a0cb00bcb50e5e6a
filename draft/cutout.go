package draft

import (
	"errors"
	"math"

	"hemlet/geom"
)

// OpeningShape is the shape of an opening for a tail, an ear or a rod.
type OpeningShape int

const (
	OvalOpening OpeningShape = iota
	RectangleOpening
	DropOpening // pointed at its top, round below
)

var openingNames = names[OpeningShape]{"oval", "rectangle", "drop"}

func (s OpeningShape) String() string               { return openingNames.text(s) }
func (s OpeningShape) MarshalText() ([]byte, error) { return openingNames.marshal(s) }

// UnmarshalText reads one of oval, rectangle, drop.
func (s *OpeningShape) UnmarshalText(b []byte) error {
	return openingNames.unmarshal(s, b, "shape of an opening")
}

// hole returns the shape as a closed line, counter-clockwise, about the origin.
func (s OpeningShape) hole(width, height float64) (geom.Path, error) {
	a, b := geom.Pt(-width/2, -height/2), geom.Pt(width/2, height/2)
	switch s {
	case OvalOpening:
		return ShapePath(OvalShape, a, b, 0)
	case RectangleOpening:
		return ShapePath(RectangleShape, a, b, 0)
	}
	half := s.bite(width/2, height)
	for i := range half {
		half[i] = half[i].Transform(geom.Translation(geom.Pt(0, -height/2)))
	}
	flip := half.Transform(geom.Scaling(-1, 1)).Reverse()
	return append(half, flip...), nil
}

// bite returns half of the shape: from (0, 0) on its middle line, along its right side,
// to (0, height) on it again, half of the width to the right.
func (s OpeningShape) bite(half, height float64) geom.Path {
	const k = quarterHandle
	switch s {
	case RectangleOpening:
		return geom.Path{
			geom.Line(geom.Pt(0, 0), geom.Pt(half, 0)), geom.Line(geom.Pt(half, 0), geom.Pt(half, height)),
			geom.Line(geom.Pt(half, height), geom.Pt(0, height)),
		}
	case DropOpening:
		round := min(half, height/2)
		rest := height - round
		return geom.Path{
			geom.Cubic(geom.Pt(0, 0), geom.Pt(k*half, 0), geom.Pt(half, round*(1-k)), geom.Pt(half, round)),
			geom.Cubic(geom.Pt(half, round), geom.Pt(half, round+k*rest), geom.Pt(half/3, height-rest/4), geom.Pt(0, height)),
		}
	}
	r := height / 2
	return geom.Path{
		geom.Cubic(geom.Pt(0, 0), geom.Pt(k*half, 0), geom.Pt(half, r*(1-k)), geom.Pt(half, r)),
		geom.Cubic(geom.Pt(half, r), geom.Pt(half, r*(1+k)), geom.Pt(k*half, height), geom.Pt(0, height)),
	}
}

// sharpCorner is the turn, in radians, from which a corner of an opening has to be
// clipped into and is reinforced: 30 degrees.
const sharpCorner = math.Pi / 6

// corners returns the points at which a closed line turns sharply.
func corners(path geom.Path) []geom.Point {
	var out []geom.Point
	for i, s := range path {
		u, v := path[(i+len(path)-1)%len(path)].Tangent(1), s.Tangent(0)
		if math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) > sharpCorner {
			out = append(out, s.P0)
		}
	}
	return out
}

// The rules for openings: what is turned in is at most a third of half of the opening, so
// that cloth is left to turn; it is clipped to 1 mm before the stitching, or to a third of
// what is turned in; a facing is three allowances wide. (Common practice, no source.)
const (
	turnInShare  = 1. / 3
	clipClear    = 1 // mm
	facingWidths = 3
)

// openedBy adds to a piece what an opening along a closed line of it needs: with a
// facing, a line inside it along which the cloth is cut, and clips into its sharp corners;
// without, the line itself is cut. Sharp corners are reinforced. It returns the ids of
// what was added.
func (p *Piece) openedBy(line ID, turnIn float64, ids *idSource) ([]ID, error) {
	l := p.Line(line)
	path := l.counterClockwise().Path()
	var added []ID
	if turnIn <= 0 {
		l.Kind = CutoutLine
	} else {
		l.Kind = PlacementLine
		inner, turned, err := l.counterClockwise().turnedIn(turnIn)
		if err != nil {
			return nil, err
		}
		turnIn = turned
		name := labelOf(l.Name, "opening")
		cut := p.addInner(name+" cut", CutoutLine, inner, ids)
		cut.Closed = true
		added = append(added, cut.ID)
		for _, c := range corners(path) {
			at, _ := inner.Nearest(c)
			from := inner.At(at)
			clear := min(clipClear, turnIn/3)
			if length := from.Dist(c); length > 2*clear {
				clip := p.addInner(name+" clip", SlitLine, geom.Path{geom.Line(from, from.Lerp(c, 1-clear/length))}, ids)
				added = append(added, clip.ID)
			}
		}
	}
	for _, c := range corners(path) {
		point := Line{ID: ids.make(kindLine), Kind: ReinforcePoint, Nodes: []Node{{ID: ids.make(kindNode), At: c}}}
		p.Lines = append(p.Lines, point)
		added = append(added, point.ID)
	}
	return added, nil
}

// leastTurnIn is the width in mm below which nothing can be turned in, by whatever means.
const leastTurnIn = 0.25

// turnedIn returns the line at a width inside a closed one, or at the half of it, or the
// half of that, where the line is too narrow, and the width.
func (l Line) turnedIn(width float64) (geom.Path, float64, error) {
	for ; width >= leastTurnIn; width /= 2 {
		if inner, err := l.ringAt(-width); err == nil {
			return inner, width, nil
		}
	}
	return nil, 0, errors.New("the opening is too narrow for anything to be turned in; make it larger, or leave the facing away")
}

// bitten returns the lineage of an edge out of which a bite was taken: what lay before
// its middle goes to the first part, what lay after it to the second. The bite itself is
// sewn to nothing.
func bitten(edge, first, second ID, from, to float64) Lineage {
	middle := (from + to) / 2
	return Lineage{edge: {
		{Edge: first, Old0: 0, Old1: from, New0: 0, New1: 1},
		{Edge: first, Old0: from, Old1: middle, New0: 1, New1: 1},
		{Edge: second, Old0: middle, Old1: to, New0: 0, New1: 0},
		{Edge: second, Old0: to, Old1: 1, New0: 0, New1: 1},
	}}
}

// takeBite cuts a bite of a width along edge i, about a place on it, and of a depth into
// the piece. It returns the index of the edge of the bite.
func (p *Piece) takeBite(at outlinePlace, shape OpeningShape, width, depth float64, ids *idSource) (int, Lineage, error) {
	old := p.Edges[at.edge]
	length := p.EdgeLength(at.edge)
	from, to := at.along-width/2, at.along+width/2
	if from < placeReach || to > length-placeReach {
		return 0, nil, errors.New("the opening reaches beyond an end of the edge; make it smaller, or move it along")
	}
	for _, d := range p.Darts {
		if d.Edge == old.ID {
			return 0, nil, errors.New("a dart opens on this edge; cut the opening into another, or sew the dart as a seam first")
		}
	}
	middle := p.pointAt(at)
	path := p.EdgePath(at.edge)
	inward := path.Tangent(path.AtLength(at.along)).Left()
	var nodes [2]ID
	for n, along := range [2]float64{to, from} { // the later first: the earlier place stays
		id, err := p.nodeFor(outlinePlace{at.edge, along}, ids)
		if err != nil {
			return 0, nil, err
		}
		nodes[1-n] = id
	}
	for _, id := range nodes {
		_, i, k := p.Node(id)
		if k > 0 {
			p.split(i, k, ids)
		}
	}
	_, i, _ := p.Node(nodes[0])
	_, j, _ := p.Node(nodes[1])
	if j != i+1 || i == 0 {
		return 0, nil, errors.New("the opening does not lie within the edge; move it along")
	}
	a, b := p.Edges[i].Nodes[0].At, p.Edges[j].Nodes[0].At
	line := shape.biteBetween(a, b, middle, inward, depth)
	p.putBite(i, line, ids)
	p.Edges[j].Corner = Mitre
	// The bite gets a name of its own; that of the edge is free for what is left of it.
	p.Edges[i].Name = ""
	p.nameApart(j, old.Name)
	return i, bitten(old.ID, p.Edges[i-1].ID, p.Edges[j].ID, from/length, to/length), nil
}

// biteBetween returns the line of a bite from a to b, as deep as asked for inward of the
// middle of the edge.
func (s OpeningShape) biteBetween(a, b, middle, inward geom.Point, depth float64) geom.Path {
	chord := b.Sub(a)
	tip := middle.Add(inward.Mul(depth))
	at := func(p geom.Point) geom.Point { // (share of the depth, share of the chord)
		return a.Add(chord.Mul(p.Y)).Add(tip.Sub(a.Lerp(b, 0.5)).Mul(p.X))
	}
	if s == DropOpening { // pointed inward
		return geom.Path{geom.Line(a, tip), geom.Line(tip, b)}
	}
	line := s.bite(1, 1)
	for i := range line {
		g := &line[i]
		g.P0, g.P1, g.P2, g.P3 = at(g.P0), at(g.P1), at(g.P2), at(g.P3)
		if g.Straight {
			*g = geom.Line(g.P0, g.P3)
		}
	}
	line[0].P0, line[len(line)-1].P3 = a, b
	return line
}

// putBite lets edge i run along a line.
func (p *Piece) putBite(i int, line geom.Path, ids *idSource) {
	e := &p.Edges[i]
	nodes := openNodesOf(line, ids)
	next := p.nodeAt(i, len(e.Nodes))
	nodes[0].ID, nodes[0].In, nodes[0].Smooth = e.Nodes[0].ID, e.Nodes[0].In, false
	next.In, next.Smooth = nodes[len(nodes)-1].In, false
	e.Nodes = nodes[:len(nodes)-1]
	e.Corner = Mitre
}
