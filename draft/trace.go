package draft

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"hemlet/geom"
)

// roleCopy is the role of a piece that is traced off another.
const roleCopy = "copy"

// CutSide is a side of a line, as one walks along it.
type CutSide int

const (
	LeftOfCut CutSide = iota
	RightOfCut
)

var cutSideNames = names[CutSide]{"left", "right"}

func (s CutSide) String() string               { return cutSideNames.text(s) }
func (s CutSide) MarshalText() ([]byte, error) { return cutSideNames.marshal(s) }

// UnmarshalText reads left or right.
func (s *CutSide) UnmarshalText(b []byte) error {
	return cutSideNames.unmarshal(s, b, "side of a line")
}

// tracing makes a copy of the parent, or of the part of it on one side of a line.
type tracing struct {
	name     string
	mirrored bool
	// line is a line inside the parent that bounds the part; or it is bounded by the
	// straight line from one place of the outline to another. Without both it is all.
	line     ID
	from, to edgeShare
	side     CutSide
}

func (s *settingReader) tracing() tracing {
	t := tracing{
		name: s.text(settingName), mirrored: s.yes(settingMirrored),
		line: s.id(settingLine), from: s.place(settingFrom), to: s.place(settingTo),
	}
	if side := s.text(settingSide); side != "" {
		if err := t.side.UnmarshalText([]byte(side)); err != nil {
			s.fail(settingSide, err)
		}
	}
	if (t.from.edge == "") != (t.to.edge == "") || t.from.edge != "" && t.line != "" {
		s.fail(settingFrom, errors.New("a part is bounded by a line inside the piece, or from one place of its outline to another"))
	}
	return t
}

func (tracing) role() string { return roleCopy }

func (t tracing) whole() bool { return t.line == "" && t.from.edge == "" }

func (t tracing) settings() []Setting {
	var l settingList
	l.text(settingMake, roleCopy)
	l.text(settingName, t.name)
	l.yes(settingMirrored, t.mirrored)
	if t.whole() {
		return l
	}
	l.text(settingLine, string(t.line))
	if t.line == "" {
		l.text(settingFrom, t.from.text())
		l.text(settingTo, t.to.text())
	}
	l.text(settingSide, t.side.String())
	return l
}

func (t tracing) follow(lin Lineage) (recipe, bool) {
	from, a := t.from.follow(lin)
	to, b := t.to.follow(lin)
	t.from, t.to = from, to
	return t, a || b
}

func (t tracing) make(parent *Piece, ids linkIDs) (*Piece, error) {
	what, p := " copy", parent
	if !t.whole() {
		var err error
		if p, err = t.part(parent); err != nil {
			return nil, err
		}
		what = " part"
	}
	q := traced(p, ids)
	q.Name = nameOr(t.name, parent.label()+what)
	if t.mirrored {
		q = turnedOver(q)
	}
	return q, nil
}

// partIDs is the number of the first id that a cut gives out: far beyond those of any
// project, to tell them apart.
const partIDs = 1 << 40

// part returns the part of the parent on one side of the line. What it has of the parent
// bears the ids of that; what the cut has made bears ids that are the same every time.
func (t tracing) part(parent *Piece) (*Piece, error) {
	a, b, line, err := t.cut(parent)
	if err != nil {
		return nil, err
	}
	p := parent
	if t.line != "" {
		p = parent.withoutLine(t.line) // it becomes the edge
	}
	// The left half keeps the ids of its corners.
	if t.side == RightOfCut {
		a, b, line = b, a, line.Reverse()
	}
	half, _, err := p.sever(a, b, line, "cut", &idSource{partIDs})
	if err != nil {
		return nil, err
	}
	if half.piece.folds() > 1 {
		return nil, errFoldTwice
	}
	q := half.piece
	q.Cut.Way = p.Cut.Way
	if q.Cut.Way == CutOnFold && q.folds() == 0 {
		q.Cut.Way = CutPairs
	}
	half.nameAlike(parent.ID)
	return q, nil
}

// cut returns where the parent is cut.
func (t tracing) cut(parent *Piece) (a, b outlinePlace, line geom.Path, err error) {
	if t.line != "" {
		l := parent.Line(t.line)
		if l == nil {
			return a, b, nil, fmt.Errorf("the line %s of %s, which bounds it, %w", t.line, parent.label(), errGone)
		}
		return parent.across(l, Millimetre)
	}
	if a, err = t.from.on(parent); err != nil {
		return a, b, nil, err
	}
	if b, err = t.to.on(parent); err != nil {
		return a, b, nil, err
	}
	return a, b, geom.Path{geom.Line(parent.pointAt(a), parent.pointAt(b))}, nil
}

// on returns the place on the outline of a piece.
func (e edgeShare) on(p *Piece) (outlinePlace, error) {
	_, i := p.Edge(e.edge)
	if i < 0 {
		return outlinePlace{}, fmt.Errorf("edge %s of %s, at which it is bounded, %w", e.edge, p.label(), errGone)
	}
	return outlinePlace{i, e.share * p.EdgeLength(i)}, nil
}

// shareOn returns a place of an outline as a share of its edge.
func (p *Piece) shareOn(at outlinePlace) edgeShare {
	length := p.EdgeLength(at.edge)
	if length == 0 {
		return edgeShare{p.Edges[at.edge].ID, 0}
	}
	return edgeShare{p.Edges[at.edge].ID, min(max(at.along/length, 0), 1)}
}

// nameAlike gives what a cut has made ids that are the same every time it is cut: a part
// of an edge bears the id of the edge, the cut and all else that of the piece and what it
// is.
func (h *half) nameAlike(piece ID) {
	q := h.piece
	named := make(map[ID]ID)
	taken := make(map[ID]bool)
	name := func(id, as ID) {
		for n := 2; taken[as]; n++ {
			as = linkIDs{blockIDs{as}}.between(as, n)
		}
		named[id], taken[as] = as, true
	}
	olds := slices.Sorted(maps.Keys(h.lin))
	for _, old := range olds {
		for _, heir := range h.lin[old] {
			if old != heir.Edge {
				name(heir.Edge, old)
			}
		}
	}
	name(q.Edges[h.cut].ID, piece+"~cut")
	fresh := func(id *ID, what ID) {
		if n, ok := id.number(); ok && n >= partIDs {
			if _, known := named[*id]; !known {
				name(*id, what)
			}
		}
		if as, ok := named[*id]; ok {
			*id = as
		}
	}
	nodes := func(list []Node, what ID) {
		for i := range list {
			fresh(&list[i].ID, what)
		}
	}
	fresh(&q.Edges[h.cut].Nodes[0].ID, piece+"~from")
	fresh(&q.Edges[(h.cut+1)%len(q.Edges)].Nodes[0].ID, piece+"~to")
	for i := range q.Edges {
		nodes(q.Edges[i].Nodes, piece+"~cut~point")
		fresh(&q.Edges[i].ID, piece+"~edge")
	}
	for i := range q.Lines {
		fresh(&q.Lines[i].ID, piece+"~line")
		nodes(q.Lines[i].Nodes, piece+"~line~point")
	}
	for i := range q.Darts {
		d := &q.Darts[i]
		fresh(&d.ID, piece+"~dart")
		fresh(&d.Edge, piece+"~edge")
	}
	for i := range q.Notches {
		fresh(&q.Notches[i].ID, piece+"~notch")
		fresh(&q.Notches[i].Edge, piece+"~edge")
	}
	for i := range q.Stretches {
		fresh(&q.Stretches[i].ID, piece+"~stretch")
		fresh(&q.Stretches[i].Edge, piece+"~edge")
	}
	q.Spans = nil // see traced
}

func nameOr(name, without string) string {
	if name == "" {
		return without
	}
	return name
}
