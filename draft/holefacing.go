package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// roleOpening is the role of the facing of an opening inside a piece.
const roleOpening = "opening facing"

// holeFacing makes the facing of a hole: a ring round it, with the hole and all that is
// marked for it.
type holeFacing struct {
	name     string
	mirrored bool
	// line is the line along which the facing is sewn to the parent, closed; marks are the
	// lines and points that belong to it.
	line  ID
	marks []ID
	width float64
}

func (s *settingReader) holeFacing() holeFacing {
	o := holeFacing{
		name: s.text(settingName), mirrored: s.yes(settingMirrored), line: s.id(settingLine), marks: s.ids(settingMarks),
		width: s.length(settingWidth, 0),
	}
	if o.width < leastInset {
		s.fail(settingWidth, errors.New("the facing has no width"))
	}
	return o
}

func (holeFacing) role() string { return roleOpening }

func (o holeFacing) settings() []Setting {
	var l settingList
	l.text(settingMake, roleOpening)
	l.text(settingName, o.name)
	l.yes(settingMirrored, o.mirrored)
	l.text(settingLine, string(o.line))
	l.ids(settingMarks, o.marks)
	l.length(settingWidth, o.width)
	return l
}

func (o holeFacing) follow(Lineage) (recipe, bool) { return o, false }

func (o holeFacing) make(parent *Piece, ids linkIDs) (*Piece, error) {
	l := parent.Line(o.line)
	if l == nil {
		return nil, fmt.Errorf("the line %s of %s, round which it lies, %w", o.line, parent.label(), errGone)
	}
	ring := l.counterClockwise()
	outer, err := ring.ringAt(o.width)
	if err != nil {
		return nil, fmt.Errorf("line %s: %w", labelOf(l.Name, l.ID), err)
	}
	nodes := append(slices.Clone(ring.Nodes), ring.Nodes[0])
	for i := range nodes {
		nodes[i].ID = ids.extra(nodes[i].ID, "outer")
	}
	made, err := nodesOn(outer, nodes, -o.width, -o.width, ids.between)
	if err != nil {
		return nil, err
	}
	made[0].In = made[len(made)-1].In
	q := &Piece{
		Name: nameOr(o.name, fmt.Sprintf("%s %s facing", parent.label(), labelOf(l.Name, l.ID))), Garment: parent.Garment,
		Layer: parent.Layer, Cut: parent.Cut,
		Edges: []Edge{{ID: ids.extra(l.ID, "edge"), Name: "outer edge", Kind: RawEdge, Nodes: made[:len(made)-1]}},
	}
	if q.Cut.Way == CutOnFold {
		q.Cut.Way = CutPairs // the hole is there on both halves
	}
	for _, m := range parent.Lines {
		if m.ID == l.ID || slices.Contains(o.marks, m.ID) {
			q.Lines = append(q.Lines, ids.line(m))
		}
	}
	angle := upright
	if g := parent.Grain; g != nil {
		angle = g.To.Sub(g.From).Angle()
	}
	q.Grain = grainAlong(q.DrawnPath(), angle)
	if o.mirrored {
		q = turnedOver(q)
	}
	return q, nil
}

// counterClockwise returns a closed line as it is run counter-clockwise, from the same
// node on.
func (l *Line) counterClockwise() Line {
	out := *l
	out.Nodes = slices.Clone(l.Nodes)
	if l.Path().Area() >= 0 {
		return out
	}
	slices.Reverse(out.Nodes)
	for i := range out.Nodes {
		n := &out.Nodes[i]
		n.In, n.Out = n.Out, n.In
	}
	n := len(out.Nodes) - 1
	out.Nodes = append(out.Nodes[n:], out.Nodes[:n]...)
	return out
}

// ringAt returns the line round a closed one, run counter-clockwise, at a width outside
// it, or inside where that is below 0; it starts beside the first node.
func (l Line) ringAt(width float64) (geom.Path, error) {
	path := l.Path()
	if !l.Closed || len(path) == 0 {
		return nil, errors.New("it is not closed, and so has no inside")
	}
	cut, err := geom.Allowance([]geom.AllowanceEdge{{Path: path, Start: width, End: width}})
	if err != nil {
		return nil, err
	}
	first, least := 0, 0.0
	for i, s := range cut.Path {
		if d := s.P0.Dist(path[0].P0); i == 0 || d < least {
			first, least = i, d
		}
	}
	return append(slices.Clone(cut.Path[first:]), cut.Path[:first]...), nil
}
