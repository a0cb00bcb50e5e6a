package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// SplitPieceArgs are the arguments of SplitPiece.
type SplitPieceArgs struct {
	From *PlaceRef `arg:"from" says:"the place on an edge at which the cut begins"`
	To   *PlaceRef `arg:"to" says:"the place on an edge at which it ends"`
	Line *LineRef  `arg:"line" says:"or a line inside the piece along which it is cut"`
	// Course nil means straight from place to place.
	Course *Drawn `arg:"course" says:"how the cut runs from the one place to the other: a line that is laid between them, turned and as large as it takes; without it, straight"`
	Name   string `arg:"name,optional" says:"the name of the new piece; without it, that of the piece with a number"`
	Seam   string `arg:"seam,optional" says:"what the edges of the cut and their seam are called; without it, the line's name, or cut"`
	// Allowance nil means as wide as the seams of the piece.
	Allowance *Length `arg:"allowance" says:"how wide the edges of the cut are cut; without it, as wide as the piece's widest seam"`
	Notches   int     `arg:"notches" says:"how many pairs of notches mark the cut, so that it is sewn together as it was" default:"0"`
}

// maxCutNotches bounds the notches of one cut.
const maxCutNotches = 20

// SplitPiece cuts a piece in two, straight between two places or along a line inside it.
// The half with the fold, else the larger, stays the piece that it was; the other is a new
// piece beside it. The cut is recorded as a seam. A half without a fold of a piece that was
// cut on the fold is cut in pairs. What was sewn goes on being sewn.
var SplitPiece = register(Info{
	Name: "split-piece", Title: "Split", Group: groupCutting,
	Says: "Cuts a piece in two, straight between two places or along a line inside it, and records the cut as a seam.",
}, splitPiece)

// pieceCut is where a piece is to be cut.
type pieceCut struct {
	piece *Piece
	a, b  outlinePlace
	line  geom.Path
	name  string
}

func splitPiece(p *Project, a SplitPieceArgs) (Outcome, error) {
	if a.Notches < 0 || a.Notches > maxCutNotches {
		return Outcome{}, fmt.Errorf("a cut has 0 to %d pairs of notches, not %d", maxCutNotches, a.Notches)
	}
	cut, err := p.cutFor(a)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	left, right, err := cut.piece.sever(cut.a, cut.b, cut.line, cut.name, ids)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", cut.piece.label(), err)
	}
	if a.Allowance != nil {
		width := float64(*a.Allowance)
		if !(width >= 0 && width <= MaxCoordinate) {
			return Outcome{}, fmt.Errorf("an allowance of %s is none", p.Unit.Format(width))
		}
		left.piece.Edges[left.cut].Allowance = Even(width)
		right.piece.Edges[right.cut].Allowance = Even(width)
	}
	left.notchCut(a.Notches, false, ids)
	right.notchCut(a.Notches, true, ids)
	return p.splitInto(cut.piece, left, right, a.Name, cut.name, Lineage{}, ids)
}

// splitInto makes two pieces of the halves of whole and sews them along their cuts: the one
// on the fold, else the larger, stays the piece that it was. lin leads from the edges of
// whole to those that were cut.
func (p *Project) splitInto(whole *Piece, left, right half, name, seam string, lin Lineage, ids *idSource) (Outcome, error) {
	if left.piece.folds() > 1 || right.piece.folds() > 1 {
		return Outcome{}, fmt.Errorf("%s: %w", whole.label(), errFoldTwice)
	}
	name, err := p.newPieceName(name, whole.label())
	if err != nil {
		return Outcome{}, err
	}
	stays, goes := left, right
	if staysRight(left, right) {
		stays, goes = right, left
	}
	goes.becomes(ids.make(kindPiece), name)
	out := Outcome{subject: whole.label(), Made: goes.piece.ID, unit: p.Unit}
	out.settleCut(whole, stays.piece)
	out.settleCut(whole, goes.piece)
	out.tellLost(whole, stays.piece, goes.piece)
	out.Lineage = lin.then(stays.lin.unite(goes.handedOver()))
	out.Project = p.withHalves(stays.piece, goes.piece)
	out.layBeside(stays, goes)
	out.Project.sew(ids, drawnRun(stays.piece.ID, stays.piece.Edges[stays.cut].ID),
		drawnRun(goes.piece.ID, goes.piece.Edges[goes.cut].ID).reversed(), seam, 1, Plain)
	out.Project.NextID = ids.next
	out.free(stays.piece, goes.piece)
	return out, nil
}

// cutFor returns where the arguments want the cut.
func (p *Project) cutFor(a SplitPieceArgs) (pieceCut, error) {
	c := pieceCut{}
	name, err := cleanName(a.Seam)
	if err != nil {
		return c, err
	}
	places := a.From != nil && a.To != nil
	if places == (a.Line != nil) || (a.From == nil) != (a.To == nil) {
		return c, errors.New("needs two places on edges, or a line inside the piece")
	}
	if a.Line != nil {
		c.piece = p.Piece(a.Line.Piece)
		if c.piece == nil {
			return c, fmt.Errorf("piece %s %w", a.Line.Piece, errGone)
		}
		l := c.piece.Line(a.Line.Line)
		if l == nil {
			return c, fmt.Errorf("line %s %w", a.Line.Line, errGone)
		}
		if c.a, c.b, c.line, err = c.piece.across(l, p.Unit); err != nil {
			return c, fmt.Errorf("%s: %w", c.piece.label(), err)
		}
		if c.name = name; name == "" {
			c.name = l.Name
		}
		// The line becomes the cut.
		c.piece = c.piece.withoutLine(l.ID)
	} else {
		if c.piece, c.a, c.b, err = p.twoPlaces(*a.From, *a.To); err != nil {
			return c, err
		}
		c.name = name
		c.line = geom.Path{geom.Line(c.piece.pointAt(c.a), c.piece.pointAt(c.b))}
		if a.Course != nil {
			if c.line, err = laidBetween(geom.Path(*a.Course), c.line.Start(), c.line.End()); err != nil {
				return c, fmt.Errorf("%s: %w", c.piece.label(), err)
			}
		}
	}
	if a.Course != nil && !places {
		return c, errors.New("a course is laid between two places")
	}
	if c.name == "" {
		c.name = "cut"
	}
	if c.piece.Ghost > 0 {
		return c, fmt.Errorf("%s is a ghost, which is only looked at; make it a piece first", c.piece.label())
	}
	return c, nil
}

// twoPlaces returns two places on one piece.
func (p *Project) twoPlaces(from, to PlaceRef) (piece *Piece, a, b outlinePlace, err error) {
	if from.Piece != to.Piece {
		return nil, a, b, errors.New("the two places lie on two pieces; they must lie on one")
	}
	if piece, a, err = p.placeOn(from); err != nil {
		return nil, a, b, err
	}
	_, b, err = p.placeOn(to)
	return piece, a, b, err
}

// withoutLine returns a copy of the piece without one of its lines, and without the spans
// that measure it.
func (p *Piece) withoutLine(id ID) *Piece {
	q := p.clone()
	q.Lines = slices.DeleteFunc(q.Lines, func(l Line) bool { return l.ID == id })
	q.Spans = slices.DeleteFunc(q.Spans, func(s Span) bool { return slices.Contains(s.Lines, id) })
	return q
}

// staysRight reports whether of two halves the right one stays the piece that it was: the
// one that lies on the fold, else the larger.
func staysRight(left, right half) bool {
	if l, r := left.piece.folds(), right.piece.folds(); l != r {
		return r > l
	}
	return right.piece.DrawnPath().Area() > left.piece.DrawnPath().Area()
}

// newPieceName returns the name that is given for a new piece, or the stem with a number
// that no piece bears.
func (p *Project) newPieceName(given, stem string) (string, error) {
	name, err := cleanName(given)
	if err != nil {
		return "", err
	}
	if name != "" {
		return name, nil
	}
	stem, _ = nameStem(stem)
	return p.unusedPieceName(stem), nil
}

// becomes makes the half a piece of its own.
func (h *half) becomes(id ID, name string) {
	h.piece.ID, h.piece.Name = id, name
}

// handedOver returns the heirs of every edge on the half as those of its piece.
func (h half) handedOver() Lineage {
	lin := Lineage{}
	own := make(map[ID]bool)
	for id, heirs := range h.lin {
		for _, heir := range heirs {
			own[heir.Edge] = true
			heir.Piece = h.piece.ID
			lin[id] = append(lin[id], heir)
		}
	}
	for i := range h.piece.Edges {
		if id := h.piece.Edges[i].ID; i != h.cut && !own[id] {
			lin[id] = []Heir{{Piece: h.piece.ID, Edge: id, Old1: 1, New1: 1}}
		}
	}
	return lin
}

// notchCut marks the cut with notches at even places; on the half on which it runs the
// other way they are measured from its end.
func (h *half) notchCut(count int, fromEnd bool, ids *idSource) {
	for k := range count {
		h.notch(Notch{At: float64(k+1) / float64(count+1), Share: true, FromEnd: fromEnd}, ids)
	}
}

// notch puts a notch on the cut edge: a double one at the back.
func (h *half) notch(n Notch, ids *idSource) {
	e := &h.piece.Edges[h.cut]
	n.ID, n.Edge, n.Double = ids.make(kindNotch), e.ID, h.piece.isBehind(e)
	h.piece.Notches = append(h.piece.Notches, n)
}

// settleCut says how a half of a piece is cut: one that no longer lies on the fold in
// pairs, since its mirror image lies beyond the fold.
func (o *Outcome) settleCut(was, half *Piece) {
	if was.Cut.Way == CutOnFold && half.folds() == 0 {
		half.Cut.Way = CutPairs
		o.say("%s is %s, since it no longer lies on the fold.", half.label(), half.Cut)
	}
}

// tellLost tells of the lengths that are no longer measured because they lie on two pieces
// now.
func (o *Outcome) tellLost(was *Piece, halves ...*Piece) {
	for _, s := range was.Spans {
		here := false
		for _, h := range halves {
			here = here || slices.ContainsFunc(h.Spans, func(t Span) bool { return t.ID == s.ID })
		}
		if !here {
			o.say("The length %s went across the cut and is no longer measured.", labelOf(s.Name, s.ID))
		}
	}
}

// withHalves returns the project with one half in place of the piece of its id and the
// other after it.
func (p *Project) withHalves(stays, goes *Piece) *Project {
	next := p.withPiece(stays)
	i := next.pieceIndex(stays.ID)
	next.Pieces = slices.Insert(next.Pieces, i+1, goes)
	return next
}

// layBeside moves the half that became a new piece away from the cut, so that the two lie
// side by side, or to a free place where something lies there.
func (o *Outcome) layBeside(stays, goes half) {
	cut := goes.piece.EdgePath(goes.cut)
	// The half lies to the left of its own cut edge.
	away := cut.End().Sub(cut.Start()).Unit().Left()
	by := 2*goes.piece.Edges[goes.cut].Allowance.Widest() + benchGap
	q := goes.piece
	q.Place.At = q.Place.At.Add(q.Place.Affine().ApplyVector(away).Mul(by))
	var room benchRoom
	for _, piece := range o.Project.Pieces {
		if piece.ID != q.ID && piece.Ghost == 0 && !piece.Hidden {
			room.take(piece)
		}
	}
	room.settle(q)
}

// free takes pieces out of what they followed. The pieces may be written to. An act that
// can be done again has them follow on when it ends; see keepFollowing.
func (o *Outcome) free(pieces ...*Piece) {
	for _, q := range pieces {
		if q.Derived != nil {
			q.Derived = nil
			o.freed = append(o.freed, q.ID)
		}
	}
}
