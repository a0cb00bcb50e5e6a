package draft

import (
	"errors"
	"fmt"
	"slices"
)

// groupCutting is the heading of the acts of the cutting table.
const groupCutting = "Cutting table"

// TraceCopyArgs are the arguments of TraceCopy.
type TraceCopyArgs struct {
	Piece    *PieceRef `arg:"piece" says:"the piece; it need not be named where a line or places on it are"`
	Line     *LineRef  `arg:"line" says:"a line inside the piece that bounds the part to trace; without it, all of the piece"`
	From     *PlaceRef `arg:"from" says:"or the place on an edge from which the part is bounded straight"`
	To       *PlaceRef `arg:"to" says:"to this place"`
	Side     CutSide   `arg:"side" says:"on which side of that line the part lies, as one walks along it" default:"left"`
	Linked   bool      `arg:"linked" says:"whether the copy follows the piece" default:"yes"`
	Mirrored bool      `arg:"mirrored" says:"whether it is turned over" default:"no"`
	Name     string    `arg:"name,optional" says:"its name; without it, one after that of the piece"`
}

// TraceCopy traces a copy off a piece, or off a part of it, as a pattern maker does with
// carbon paper before changing anything: linked, so that it follows, or free.
var TraceCopy = register(Info{
	Name: "trace-copy", Title: "Trace off a copy", Group: groupCutting,
	Says: "Traces a copy off a piece or a part of it, turned over or not; a linked one follows the piece from then on.",
}, traceCopy)

func traceCopy(p *Project, a TraceCopyArgs) (Outcome, error) {
	parent, err := a.parent()
	if err != nil {
		return Outcome{}, err
	}
	how, err := p.tracingFor(parent, a)
	if err != nil {
		return Outcome{}, err
	}
	out, piece, err := p.link(parent, how)
	if err != nil {
		return Outcome{}, err
	}
	if !a.Linked {
		if how.whole() {
			piece.Spans = p.Piece(parent).tracedSpans(piece, how.mirrored)
		}
		out.release(piece)
	}
	return out, nil
}

// parent returns the piece that the arguments name.
func (a TraceCopyArgs) parent() (ID, error) {
	switch {
	case a.Piece != nil:
		return ID(*a.Piece), nil
	case a.Line != nil:
		return a.Line.Piece, nil
	case a.From != nil:
		return a.From.Piece, nil
	}
	return "", errors.New("no piece is named")
}

// tracingFor returns how the arguments want a copy of the parent made.
func (p *Project) tracingFor(parent ID, a TraceCopyArgs) (tracing, error) {
	name, err := cleanName(a.Name)
	how := tracing{name: name, mirrored: a.Mirrored, side: a.Side}
	switch {
	case err != nil:
		return how, err
	case a.Line != nil && (a.From != nil || a.To != nil), (a.From == nil) != (a.To == nil):
		return how, errors.New("a part is bounded by a line inside the piece, or by two places on its edges")
	case a.Line != nil:
		if a.Line.Piece != parent {
			return how, errors.New("the line lies on another piece")
		}
		how.line = a.Line.Line
	case a.From != nil:
		piece, from, to, err := p.twoPlaces(*a.From, *a.To)
		if err != nil {
			return how, err
		}
		if piece.ID != parent {
			return how, errors.New("the two places lie on another piece")
		}
		how.from, how.to = piece.shareOn(from), piece.shareOn(to)
	}
	return how, nil
}

// tracedSpans returns the spans of a piece as those of a copy of all of it.
func (p *Piece) tracedSpans(made *Piece, mirrored bool) []Span {
	ids := newLinkIDs(made.ID)
	list := slices.Clone(p.Spans)
	of := func(ids linkIDs, list []ID) []ID {
		var out []ID
		for _, id := range list {
			out = append(out, ids.of(id))
		}
		return out
	}
	for i := range list {
		s := &list[i]
		s.ID, s.Edges, s.Lines = ids.of(s.ID), of(ids, s.Edges), of(ids, s.Lines)
		if s.From != "" {
			s.From, s.To = ids.of(s.From), ids.of(s.To)
		}
		if mirrored {
			slices.Reverse(s.Edges)
		}
	}
	return list
}

// link makes a piece of a parent, and the link that it follows by. The piece lies
// beside what lies on the bench. It may be written to until the act returns.
func (p *Project) link(parent ID, how recipe) (Outcome, *Piece, error) {
	from := p.Piece(parent)
	if from == nil {
		return Outcome{}, nil, fmt.Errorf("piece %s %w", parent, errGone)
	}
	ids := p.newIDs()
	d := &Derivation{ID: ids.make(kindDerivation), Kind: pieceKind, Inputs: []ID{from.ID}, Settings: how.settings(), Roles: []string{how.role()}}
	by := linkFor(d, from)
	if by.err != nil {
		return Outcome{}, nil, by.err
	}
	made, err := by.generate(how.role(), d.ID, ids.make(kindPiece))
	if err != nil {
		return Outcome{}, nil, err
	}
	made = made.clone() // what was generated is kept in Derived
	made.Cloth, made.Origin, made.Place = from.Cloth, from.Origin, from.Place
	var room benchRoom
	for _, piece := range p.Pieces {
		room.take(piece)
	}
	room.settle(made)
	out := Outcome{Project: p.shallow(), Made: made.ID, subject: made.label(), generated: true}
	out.Project.NextID = ids.next
	out.Project.Derivations = append(slices.Clip(p.Derivations), d)
	out.Project.Pieces = append(slices.Clip(p.Pieces), made)
	return out, made, nil
}

// release takes the link of a piece that the act has made away again: the piece is free.
func (o *Outcome) release(made *Piece) {
	p := o.Project
	p.Derivations = slices.DeleteFunc(slices.Clone(p.Derivations), func(d *Derivation) bool { return d.ID == made.Derived.Derivation })
	ids := p.newIDs()
	id := made.ID
	made.Derived = nil
	made.renew(ids)
	made.ID = id
	p.NextID = ids.next
}
