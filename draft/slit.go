package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// The rules of scale for slits, in mm (common practice, no source).
const (
	// slitPoint is the width to which the allowance of a slit tapers at its point, and
	// how far before the stitching the slit ends.
	slitPoint = 1
	// slitLap is by how much the allowances of the two sides of a slit overlap, at least:
	// what is cut is one slit, and no sliver between them.
	slitLap = 0.02
	// netSlit is half the width at which a slit opens that has no allowance.
	netSlit = 0.5
)

// slit is a slit that was made from an edge of a piece into it.
type slit struct {
	// up is the edge from the mouth to the point, down the one back; before and after
	// are the parts of the edge that was slit.
	up, down, before, after ID
	// share is where on the old edge the slit is.
	share float64
	// half and depth are as in the plan.
	half, depth float64
	lin         Lineage
}

// slitPlan says where a slit goes.
type slitPlan struct {
	at    outlinePlace
	depth float64
	// to is the point of the slit in the piece's own mm, nil for one square to the edge.
	to *geom.Point
	// width is the allowance along the slit in mm.
	width float64
	// half, where above 0, is half the width in mm at which the stitching opens, along
	// the edge.
	half float64
}

// slitOpen makes a slit in a piece that may be written to. The stitching runs from the
// edge to the point and back; it opens by the two allowances, which are cut from the
// piece itself along the middle, and which taper to slitPoint at the point. The slit and
// its point are marked.
func (p *Piece) slitOpen(plan slitPlan, unit Unit, ids *idSource) (slit, error) {
	i := plan.at.edge
	e := p.Edges[i]
	length := p.EdgeLength(i)
	half := plan.half
	if half <= 0 {
		half = halfSlit(plan, e.widthAt(shareAlong(plan.at.along, length)))
	}
	from, to := plan.at.along-half, plan.at.along+half
	switch {
	case e.Kind == FoldEdge:
		return slit{}, fmt.Errorf("edge %s is a fold and is not cut into", e.label())
	case !(plan.depth > 2*plan.width && plan.depth <= MaxCoordinate):
		return slit{}, fmt.Errorf("a slit with an allowance of %s is deeper than %s", unit.Format(plan.width), unit.Format(2*plan.width))
	case from < placeReach*2 || to > length-2*placeReach:
		return slit{}, fmt.Errorf("a slit takes %s of the edge, and there is less between it and the end of edge %s; set it farther in, or make its allowance narrower", unit.Format(2*half), e.label())
	}
	middle := p.slitPlace(plan.at)
	tip := middle.at.Sub(middle.out.Mul(plan.depth))
	if plan.to != nil {
		tip = *plan.to
	}
	first, err := p.nodeFor(outlinePlace{i, from}, ids)
	if err != nil {
		return slit{}, err
	}
	second, err := p.nodeFor(outlinePlace{i, to}, ids)
	if err != nil {
		return slit{}, err
	}
	for _, id := range [...]ID{first, second} {
		if d := p.mouthOf(id); d != nil {
			return slit{}, fmt.Errorf("%s opens where the slit would; set the slit beside it", d.called())
		}
	}
	_, _, k := p.Node(second)
	p.split(i, k, ids)
	_, _, k = p.Node(first)
	if k == 0 {
		return slit{}, errors.New("the slit would begin at a corner; set it farther in")
	}
	p.split(i, k, ids)
	s, err := p.putSlit(i, e, tip, plan.width, ids)
	if err != nil {
		return slit{}, err
	}
	s.share, s.half, s.depth = plan.at.along/length, half, plan.depth
	s.lin = Lineage{e.ID: {
		{Edge: s.before, Old0: 0, Old1: from / length, New0: 0, New1: 1},
		{Edge: s.before, Old0: from / length, Old1: to / length, New0: 1, New1: 1}, // what the slit takes
		{Edge: s.after, Old0: to / length, Old1: 1, New0: 0, New1: 1},
	}}
	p.markSlit(middle, tip, e.widthAt(s.share), ids)
	if p.DrawnPath().Simple() != nil {
		return slit{}, errors.New("the slit would cross the outline; make it shorter, or set it elsewhere")
	}
	return s, nil
}

// halfSlit returns half the width in mm at which the stitching of a slit opens at an edge
// with an allowance of its own, below which the taper goes on: as much as the allowance
// along the slit, less what lets the two overlap down to the cut line.
func halfSlit(plan slitPlan, below float64) float64 {
	if plan.width <= 0 {
		return netSlit
	}
	// From the point, at share 1, to the cut line, at -on, the allowances overlap by
	// lap + (slitPoint - lap)·share, less what is lost as the stitching slants by
	// width / depth and the allowance is measured square to it.
	on, slant := below/plan.depth, plan.width/plan.depth
	lap := slitLap + slitPoint*on/(1+on) + plan.width*slant*slant*(1+on)
	return plan.width - min(lap, plan.width/4)
}

// slitFoot is a place on an edge with the unit direction out of the piece.
type slitFoot struct{ at, out geom.Point }

func (p *Piece) slitPlace(at outlinePlace) slitFoot {
	path := p.EdgePath(at.edge)
	k, t := p.locate(at.edge, at.along)
	place := geom.Place{Seg: k, T: t}
	return slitFoot{path.At(place), path.Tangent(place).Left().Mul(-1)}
}

// putSlit puts the two sides of a slit in the place of the middle one of three edges that
// edge i was divided into.
func (p *Piece) putSlit(i int, old Edge, tip geom.Point, width float64, ids *idSource) (slit, error) {
	middle := p.Edges[i+1]
	for _, d := range p.Darts {
		if d.Edge == middle.ID {
			return slit{}, fmt.Errorf("%s opens where the slit would; set the slit beside it", d.called())
		}
	}
	mouth := middle.Nodes[0]
	mouth.Out, mouth.Smooth = geom.Point{}, false
	end := &p.Edges[(i+2)%len(p.Edges)]
	end.Nodes[0].In, end.Nodes[0].Smooth = geom.Point{}, false
	p.endSpansAt(mouth.ID, middle.Nodes[1:])
	point := min(width, slitPoint)
	up := Edge{ID: ids.make(kindEdge), Allowance: Allowance{Start: width, End: point}, Nodes: []Node{mouth}}
	down := Edge{ID: ids.make(kindEdge), Allowance: Allowance{Start: point, End: width}, Nodes: []Node{{ID: ids.make(kindNode), At: tip}}}
	// The name of the middle part is free again.
	p.Edges[i+1].Name = ""
	p.nameApart((i+2)%len(p.Edges), old.Name)
	up.Name = unusedName("slit", p.hasEdgeName)
	p.Edges[i+1] = up
	down.Name = unusedName("slit", p.hasEdgeName)
	edges := append(append([]Edge(nil), p.Edges[:i+2]...), down)
	p.Edges = append(edges, p.Edges[i+2:]...)
	return slit{up: up.ID, down: down.ID, before: p.Edges[i].ID, after: p.Edges[i+3].ID}, nil
}

// endSpansAt lets the spans that run from or to points that are gone run from or to another
// one beside them; one of which nothing is left goes.
func (p *Piece) endSpansAt(node ID, gone []Node) {
	for k := range p.Spans {
		for _, n := range gone {
			if p.Spans[k].From == n.ID {
				p.Spans[k].From = node
			}
			if p.Spans[k].To == n.ID {
				p.Spans[k].To = node
			}
		}
	}
	p.Spans = slices.DeleteFunc(p.Spans, func(s Span) bool { return s.From != "" && s.From == s.To })
}

// freeSpans lets the lengths that run over the mouth of the slit be shown alone: what is let
// in is a part of that measure now, and lies on another piece.
func (o *Outcome) freeSpans(p *Piece, s slit) {
	for k := range p.Spans {
		span := &p.Spans[k]
		over := slices.ContainsFunc(span.Edges, func(id ID) bool { return len(s.lin[id]) > 0 })
		if !over || span.Measure == "" {
			continue
		}
		span.Measure, span.Share, span.Ease = "", 0, 0
		o.say("The length %s runs over the slit; it is shown, but no longer held against a measure, since what is let in is a part of it.", labelOf(span.Name, span.ID))
	}
}

// markSlit marks where the slit is cut, from the cut line to just before its point, and
// the point, which is sewn over twice.
func (p *Piece) markSlit(from slitFoot, tip geom.Point, width float64, ids *idSource) {
	way := tip.Sub(from.at)
	short := min(slitPoint, way.Len()/4)
	line := geom.Path{geom.Line(from.at, tip.Sub(way.Unit().Mul(short)))}
	if width > Grid {
		line = append(geom.Path{geom.Line(from.at.Add(from.out.Mul(width)), from.at)}, line...)
	}
	p.addInner("slit", SlitLine, withoutStops(line), ids)
	p.Lines = append(p.Lines, Line{
		ID: ids.make(kindLine), Name: unusedName("end of the slit", p.hasLineName), Kind: ReinforcePoint,
		Nodes: []Node{{ID: ids.make(kindNode), At: tip}},
	})
}

// narrowTurn is the angle in radians, 60 degrees, below which two neighbouring edges that
// turn back on each other are the two sides of a slit: one that is just deeper than its
// two allowances are wide opens by 53 degrees.
const narrowTurn = math.Pi / 3

// SlitSide reports whether edge i is one side of a slit: it meets a neighbour at a point
// that lies inside the piece, turning back on it.
func (p *Piece) SlitSide(i int) bool {
	n := len(p.Edges)
	for _, k := range [...]int{i, (i + 1) % n} { // the corner at which edge k starts
		in, out := p.EdgePath((k+n-1)%n), p.EdgePath(k)
		if len(in) == 0 || len(out) == 0 {
			continue
		}
		u, v := in[len(in)-1].Tangent(1), out[0].Tangent(0)
		if u.Cross(v) < 0 && u.Dot(v) < -math.Cos(narrowTurn) {
			return true
		}
	}
	return false
}

// slitWidth returns the allowance along a slit: what was asked for, or that of the
// piece's seams.
func (p *Piece) slitWidth(asked *Length) (float64, error) {
	if asked == nil {
		return p.seamWidth(), nil
	}
	if !(*asked >= 0 && *asked <= MaxCoordinate) {
		return 0, errors.New("an allowance is 0 or more")
	}
	return float64(*asked), nil
}

// innerPoint returns the point of a slit in the piece's own millimetres, nil where none
// is given.
func (p *Piece) innerPoint(to *Vector) (*geom.Point, error) {
	if to == nil {
		return nil, nil
	}
	at, err := p.placeInside(geom.Point(*to))
	return &at, err
}
