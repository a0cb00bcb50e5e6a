package tool

import (
	"math"
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Select picks and moves: pieces, edges, points, and the handles of curves.
type Select struct {
	hand *Hand
	// under is what the press was on, from where it was.
	under desk.Ref
	from  geom.Point
	// held is the place of the thing by which it is held: a point of it, which can be
	// caught by others; nil where it was taken hold of at no place of its own.
	held *geom.Point
	// moving is the drag under way, box the rubber band.
	moving *desk.Gesture
	by     geom.Point // how far that has gone
	box    *geom.Rect
	// notch is the one that the press went by: a click without a drag picks it.
	notch desk.Ref
	// narrow says that a click without a drag picks what is under it alone.
	narrow bool
	// whole says that the press was on an edge of a piece that was not picked: a drag
	// moves the piece, so that none is reshaped by accident.
	whole bool
	// less says that a click without a drag takes what is under it out of what is picked.
	less  bool
	marks Marks
	down  bool
}

// NewSelect returns the tool for the hand.
func NewSelect(h *Hand) *Select { return &Select{hand: h} }

// Info implements Tool.
func (*Select) Info() Info {
	return Info{
		Name: "Select", Icon: "select", Key: "V",
		Hint: "Drag a piece, or a point, handle or edge of the picked one; drag on bare bench for a box. Shift picks more, Ctrl less. Double click an edge for a new point.",
	}
}

// Press implements Tool.
func (s *Select) Press(p Pointer) {
	s.Cancel()
	before := s.under
	s.notch = desk.Ref{}
	if past := s.hand.pastNotch(p); past.Hit != p.Hit {
		p, s.notch = past, p.Hit
	}
	s.down, s.under, s.from, s.narrow = true, p.Hit, p.At, false
	s.held = heldAt(p)
	d := s.hand.Desk
	// The first click may have brought up a handle under the pointer, so that the
	// second goes by what the first was on.
	if p.Clicks == 2 && before.Kind == desk.Edge && !p.Keys.Shift {
		s.down = false
		s.hand.InsertAt(before, p.At)
		return
	}
	switch {
	case p.Hit.Kind == desk.Nothing:
		if piece := s.hand.LockedAt(p.At); piece != nil {
			s.hand.say(piece.Name + " is locked. The menu of the right button unlocks it.")
		}
		// A press on bare bench may begin a box; Release lets go of the selection.
	case p.Keys.Shift:
		d.PickMore(p.Hit)
	case p.Keys.Ctrl:
		s.less = true // a click takes it out, a drag moves it uncaught
	case d.Picked().Has(p.Hit):
		s.narrow = true // a click picks it alone, a drag moves all that is picked
	default:
		s.whole = p.Hit.Kind == desk.Edge && !d.Picked().Touches(p.Hit.Piece)
		d.Pick(p.Hit)
	}
}

// Drag implements Tool.
func (s *Select) Drag(p Pointer) {
	if !s.down {
		return
	}
	s.narrow = false
	if s.under.Kind == desk.Nothing {
		box := geom.RectOf(s.from, p.At)
		s.box = &box
		s.marks = Marks{Box: s.box}
		return
	}
	if s.less {
		s.less = false
		if !s.hand.Desk.Picked().Has(s.under) {
			s.hand.Desk.Pick(s.under)
		}
	}
	if s.whole {
		s.whole, s.under = false, desk.PieceRef(s.under.Piece)
		s.hand.Desk.Pick(s.under)
	}
	if !s.hand.Desk.Picked().Has(s.under) {
		return // Shift took it out of the selection
	}
	if s.moving == nil {
		s.moving = s.hand.Desk.Begin()
	}
	by, caught := s.way(p)
	if err := s.hand.move(s.moving, by); err != nil {
		s.hand.report(err)
		return
	}
	s.by = by
	s.marks = Marks{Plate: s.hand.measured(s.under, by), PlateAt: p.At, Caught: caught}
}

// Release implements Tool.
func (s *Select) Release(p Pointer) {
	if !s.down {
		return
	}
	d := s.hand.Desk
	switch {
	case s.moving != nil && s.by.Len() < onPlace: // it is back where it was
		s.moving.Cancel()
	case s.moving != nil:
		s.hand.tellMove(s.moving)
		s.moving.End()
	case s.box != nil:
		s.hand.pickThese(s.hand.Inside(*s.box), p.Keys)
	case s.notch.Kind != desk.Nothing:
		d.Pick(s.notch)
	case s.less:
		d.PickLess(s.under)
	case s.under.Kind == desk.Nothing && !p.Keys.Shift && !p.Keys.Ctrl:
		d.Pick()
	case s.narrow:
		d.Pick(s.under)
	}
	s.reset()
}

// pastNotch lets a press on a notch go by where neither the notch nor its piece is picked:
// inside the piece it is one on the piece, beside it one on bare bench. So no notch is
// moved by a box that begins beside a piece.
func (h *Hand) pastNotch(p Pointer) Pointer {
	if p.Hit.Kind != desk.Notch || h.Desk.Picked().Touches(p.Hit.Piece) || p.Keys.Shift || p.Keys.Ctrl {
		return p
	}
	piece := h.Desk.Project().Piece(p.Hit.Piece)
	p.Hit = desk.Ref{}
	if piece != nil && piece.DrawnPath().Transform(piece.Place.Affine()).Contains(p.At) {
		p.Hit = desk.PieceRef(piece.ID)
	}
	return p
}

// LockedAt returns the locked piece that lies uppermost at a place on the bench, nil for
// none.
func (h *Hand) LockedAt(at geom.Point) *draft.Piece {
	pieces := h.Desk.Project().Pieces
	for i := len(pieces) - 1; i >= 0; i-- {
		p := pieces[i]
		if p.Locked && !p.Hidden && p.DrawnPath().Transform(p.Place.Affine()).Contains(at) {
			return p
		}
	}
	return nil
}

// tellMove says what a drag has moved, where what is picked is no whole piece, for which
// the eye is enough.
func (h *Hand) tellMove(g *desk.Gesture) {
	last := h.Desk.Picked().Last()
	if words := wordsOf(h.Desk.Project(), last); words != "" && last.Kind != desk.Piece && g.Start() != h.Desk.Project() {
		h.say("Moved " + words + ". Ctrl+Z takes it back.")
	}
}

// pickThese picks what a box or a loop has taken: with Shift besides what is picked,
// with Ctrl it takes it out.
func (h *Hand) pickThese(refs []desk.Ref, keys Keys) {
	switch picked := h.Desk.Picked(); {
	case keys.Ctrl:
		h.Desk.PickLess(refs...)
	case keys.Shift:
		for _, r := range refs {
			if !picked.Has(r) {
				picked = picked.Toggled(r)
			}
		}
		h.Desk.Pick(picked...)
	default:
		h.Desk.Pick(refs...)
	}
}

func (s *Select) reset() {
	s.down, s.moving, s.by, s.box, s.narrow, s.whole, s.less, s.marks = false, nil, geom.Point{}, nil, false, false, false, Marks{}
}

// Cursor implements Pointed.
func (s *Select) Cursor(p Pointer) Cursor {
	switch {
	case s.moving != nil:
		return MoveCursor
	case p.Hit.Kind == desk.Nothing:
		return ArrowCursor
	case s.hand.Desk.Picked().Has(p.Hit):
		return MoveCursor
	case p.Hit.AtNode():
		return CrossCursor
	}
	return PointCursor
}

// Hover implements Tool.
func (*Select) Hover(Pointer) {}

// Enter implements Tool.
func (*Select) Enter() bool { return false }

// Cancel implements Tool.
func (s *Select) Cancel() bool {
	had := s.moving != nil || s.box != nil
	if s.moving != nil {
		s.moving.Cancel()
	}
	s.reset()
	return had
}

// Marks implements Tool.
func (s *Select) Marks() Marks { return s.marks }

// heldAt returns the place of the thing under the pointer by which it is held.
func heldAt(p Pointer) *geom.Point {
	switch {
	case p.Hit.Kind == desk.Nothing:
		return nil
	case p.Caught.Caught() && p.Caught.On.Piece == p.Hit.Piece && p.Hit.Kind == desk.Piece:
		return &p.Caught.At
	case p.Hit.Kind == desk.Piece:
		return nil
	case p.Hit.Kind == desk.Edge && p.Caught.Fixed() && p.Caught.On.Piece == p.Hit.Piece:
		return &p.Caught.At // its corner or its middle
	}
	return &p.Snap
}

// way returns how far the drag has gone, and what caught the place that is held.
func (s *Select) way(p Pointer) (geom.Point, Catch) {
	by, caught := p.At.Sub(s.from), Catch{}
	if s.held != nil {
		moved := p
		moved.At = s.held.Add(by)
		caught = s.hand.CatchBut(moved, s.held, s.hand.moving(s.moving.Start())...)
		by = caught.At.Sub(*s.held)
	}
	if p.Keys.Shift {
		by = straight(by)
		if s.held != nil && !caught.At.Near(s.held.Add(by), onPlace) {
			caught = Catch{}
		}
	}
	if s.held != nil && (!caught.Caught() || caught.Kind == CaughtGrid || caught.FromStart()) && s.hand.catching(p) {
		if to, holds, ok := s.trued(by, p.MM); ok {
			if caught.FromStart() {
				holds.Word, holds.Help = caught.Word+", "+holds.Word, caught.Help
			}
			return to, holds
		}
	}
	return by, caught
}

// onPlace is how near in mm a place must be to another to be the same, rounding of
// the document included.
const onPlace = 1e-3

// straight returns the way across or up alone, whichever is longer.
func straight(by geom.Point) geom.Point {
	if math.Abs(by.X) >= math.Abs(by.Y) {
		return geom.Pt(by.X, 0)
	}
	return geom.Pt(0, by.Y)
}

// measured says what the thing measures while it is moved: the edges at a point,
// or how far it went.
func (h *Hand) measured(r desk.Ref, by geom.Point) string {
	project := h.Desk.Project()
	unit := project.Unit
	piece := project.Piece(r.Piece)
	if r.Kind == desk.Picture {
		return unit.FormatBare(by.X) + ", " + unit.Format(by.Y)
	}
	if piece == nil {
		return ""
	}
	lengths := h.Desk.Slots().EdgeLengths(piece)
	var parts []string
	for _, i := range edgesAt(piece, r) {
		parts = append(parts, piece.Edges[i].Name+" "+unit.Format(lengths[i]))
	}
	if len(parts) == 0 || r.Kind == desk.Edge {
		return unit.FormatBare(by.X) + ", " + unit.Format(by.Y)
	}
	return strings.Join(parts, "  ·  ")
}

// edgesAt returns the indices of the edges that change when the thing moves.
func edgesAt(piece *draft.Piece, r desk.Ref) []int {
	switch r.Kind {
	case desk.Edge:
		_, i := piece.Edge(r.Edge)
		return []int{i}
	case desk.Node, desk.HandleIn, desk.HandleOut:
		_, edge, at := piece.Node(r.Node)
		if edge < 0 {
			return nil
		}
		before := (edge + len(piece.Edges) - 1) % len(piece.Edges)
		switch {
		case at > 0 || r.Kind == desk.HandleOut:
			return []int{edge}
		case r.Kind == desk.HandleIn:
			return []int{before}
		default:
			return []int{before, edge}
		}
	}
	return nil
}
