package bench

import (
	"slices"

	"hemlet/app/bench/paint"
	"hemlet/app/bench/snap"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// scene is what lies on the bench. Bodies and items are kept for as long as what
// they were made from is the same, so that a drag makes those of one piece anew.
type scene struct {
	project *draft.Project
	slots   *draft.Slots
	picked  desk.Picked
	// seen says which pieces are to be seen; nil lets the project say it.
	seen  func(*draft.Piece) bool
	hover desk.Ref
	// opaque says that pictures under the pieces are not seen through them.
	opaque bool
	// view is what is seen, and covered how much of its top lies under other things,
	// in screen units.
	view    paint.View
	covered float64

	bodies map[draft.ID]*body
	// earlier are the bodies that pieces had before, the last first: what is undone and
	// done again is drawn from them.
	earlier map[draft.ID][]*body
	// order is the bodies bottom first, those of which something is picked on top.
	order []*body
	marks *seamMarks
	// fieldThings is the room for what catches the pointer.
	fieldThings []*snap.Things
	// laid is how the pieces lie that lie still while a seam is walked, and walked are
	// the bodies of pieces that are hidden and seen in a walk all the same.
	laid   []laidItem
	walked map[draft.ID]*body
}

// pieceItem is the drawn piece and what it was drawn from.
type pieceItem struct {
	cloth   *draft.Cloth
	marks   *seamMarks
	letters string
	unit    draft.Unit
	picked  bool
	item    *paint.Item
	// over says that a picture lies under the pieces.
	over bool
}

func newScene() *scene {
	return &scene{bodies: map[draft.ID]*body{}, earlier: map[draft.ID][]*body{}, walked: map[draft.ID]*body{}}
}

// update takes in the document and what is picked.
func (s *scene) update(p *draft.Project, slots *draft.Slots, picked desk.Picked) {
	if s.slots != slots {
		clear(s.walked)
		s.laid = nil
		clear(s.bodies)
		clear(s.earlier)
	}
	if s.project == nil || !slices.Equal(s.project.Seams, p.Seams) {
		marks := marksOf(p.Seams)
		s.marks = &marks
	}
	s.project, s.slots, s.picked = p, slots, picked
	live := make(map[draft.ID]bool, len(p.Pieces))
	var under, over []*body
	var ghosts []*body
	for _, piece := range p.Pieces {
		if s.seen != nil && !s.seen(piece) || s.seen == nil && piece.Hidden {
			continue
		}
		live[piece.ID] = true
		b := s.body(piece)
		switch {
		case picked.Touches(piece.ID):
			over = append(over, b)
		case piece.Ghost > 0:
			ghosts = append(ghosts, b)
		default:
			under = append(under, b)
		}
	}
	s.order = append(append(ghosts, under...), over...)
	for id := range s.bodies {
		if !live[id] {
			delete(s.bodies, id)
		}
	}
	for id := range s.earlier {
		if p.Piece(id) == nil {
			delete(s.earlier, id)
		}
	}
}

// keptBodies is how many earlier bodies of a piece are kept: a step back and forth,
// and the first of a drag.
const keptBodies = 3

// body returns the body of a piece: the one that it has, one that it had, or a new one.
func (s *scene) body(piece *draft.Piece) *body {
	now := s.bodies[piece.ID]
	if now != nil && now.piece == piece {
		return now
	}
	before := s.earlier[piece.ID]
	at := slices.IndexFunc(before, func(b *body) bool { return b.piece == piece })
	var b *body
	if at >= 0 {
		b = before[at]
		before = slices.Delete(before, at, at+1)
	} else {
		b = newBody(s.slots, piece)
	}
	if now != nil {
		before = slices.Insert(before, 0, now)
	}
	s.bodies[piece.ID], s.earlier[piece.ID] = b, before[:min(len(before), keptBodies)]
	return b
}

// bounds returns the box around all pieces, or around those that are given.
func (s *scene) bounds(pieces ...draft.ID) geom.Rect {
	box := geom.EmptyRect()
	for id, b := range s.bodies {
		if len(pieces) == 0 || slices.Contains(pieces, id) {
			box = box.Union(b.box)
		}
	}
	return box
}

// still returns the items of the pieces that nothing is picked of, bottom first.
func (s *scene) still() []*paint.Item {
	var items []*paint.Item
	for _, b := range s.order {
		if !s.picked.Touches(b.piece.ID) {
			items = append(items, s.item(b, false))
		}
	}
	return items
}

// lively returns the items of the picked pieces and of everything that is laid over
// them, bottom first.
func (s *scene) lively(report draft.Report, marks tool.Marks, leftward func(at geom.Point, text string) bool) []*paint.Item {
	var items []*paint.Item
	for _, b := range s.order {
		if s.picked.Touches(b.piece.ID) {
			items = append(items, s.item(b, true))
		}
	}
	items = append(items, s.seamItems(report)...)
	items = append(items, s.findingItems(report)...)
	items = append(items, s.noteItems()...)
	if s.hover.Kind != desk.Nothing && !s.picked.Has(s.hover) {
		items = append(items, s.hovered())
	}
	for _, b := range s.order {
		if s.picked.Touches(b.piece.ID) {
			items = append(items, s.handlesItem(b))
		}
	}
	return append(items, s.toolItems(marks, leftward)...)
}

// item returns the drawn piece, the one from before if nothing it shows changed.
func (s *scene) item(b *body, picked bool) *paint.Item {
	cloth, unit := s.project.Cloth(b.piece.Cloth), s.project.Unit
	over := len(s.project.Pictures) > 0 && !s.opaque
	have := &b.drawn
	if have.item != nil && have.cloth == cloth && have.unit == unit && have.picked == picked && have.over == over && have.same(s.marks, b.piece) {
		return have.item
	}
	b.drawn = pieceItem{cloth: cloth, marks: s.marks, letters: s.marks.of(b.piece), unit: unit, picked: picked, over: over}
	if b.drawn.item = drawPiece(b, cloth, s.marks, unit, picked); over {
		seeThrough(b.drawn.item)
	}
	return b.drawn.item
}

// same reports whether the marks give the piece the letters that it was drawn with.
func (i *pieceItem) same(marks *seamMarks, piece *draft.Piece) bool {
	if i.marks == marks {
		return true
	}
	if i.letters != marks.of(piece) {
		return false
	}
	i.marks = marks
	return true
}

// glow returns what draws attention to a thing, in the colour.
func (s *scene) glow(r desk.Ref, c paint.Colour) *paint.Item {
	b := s.bodies[r.Piece]
	if b == nil {
		return &paint.Item{}
	}
	if r.Kind == desk.Piece {
		return &paint.Item{Place: b.place, Marks: []paint.Mark{paint.Shape{Path: b.outline(), Line: paint.Line{Colour: c, Width: 3, Join: paint.Round}}}}
	}
	return &paint.Item{Place: b.place, Marks: b.outlined(r, c)}
}

// hovered shows what a click would take, paler than what is picked.
func (s *scene) hovered() *paint.Item {
	opacity := 0.45
	if s.hover.Kind == desk.Piece {
		opacity = 0.3
	}
	return s.glow(s.hover, paint.Faded(paint.Chalk, opacity))
}

func edgeLine(b *body, i int, c paint.Colour) paint.Shape {
	return paint.Shape{Path: b.edges[i], Line: paint.Line{Colour: c, Width: 3.4, Join: paint.Round, Cap: paint.RoundCap}}
}
