package bench

import (
	"slices"

	"hemlet/app/bench/paint"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// walkFade is how much of the pieces is left to be seen while a seam is walked.
const walkFade = 0.22

// laidItem is half of a copy of a piece as it lies still in a walk, and how it is drawn.
type laidItem struct {
	laid draft.Laid
	item *paint.Item
}

// faded returns the pieces, hardly to be seen, for under a walk.
func (s *scene) faded() []*paint.Item {
	var items []*paint.Item
	for _, b := range s.order {
		whole := s.item(b, false)
		if b.paleOf != whole {
			b.paleOf, b.pale = whole, &paint.Item{Place: whole.Place, Marks: fade(whole.Marks, walkFade)}
		}
		items = append(items, b.pale)
	}
	return items
}

// laidStill returns the pieces that lie still in a walk, each item the same as before
// where it lies as it did.
func (s *scene) laidStill(laid []draft.Laid) []*paint.Item {
	var items []*paint.Item
	kept := make([]laidItem, len(laid))
	for i, l := range laid {
		if i < len(s.laid) && s.laid[i].laid == l {
			kept[i] = s.laid[i]
		} else {
			kept[i] = laidItem{l, s.laidItem(l)}
		}
		items = append(items, kept[i].item)
	}
	s.laid = kept
	return items
}

// laidItem draws half of a copy of a piece where it lies.
func (s *scene) laidItem(l draft.Laid) *paint.Item {
	b := s.bodies[l.Piece.ID]
	if b == nil || b.piece != l.Piece { // one that is hidden
		if b = s.walked[l.Piece.ID]; b == nil || b.piece != l.Piece {
			b = newBody(s.slots, l.Piece)
			s.walked[l.Piece.ID] = b
		}
	}
	if b.walked == nil {
		b.walked = walkedMarks(b)
	}
	marks := b.walked
	if l.Half == draft.Far {
		marks = marks[:len(marks)-1] // the name comes last, and stands once
	}
	return &paint.Item{Place: l.Map, Marks: marks}
}

// walkedMarks draws a half of a piece as it travels along: what matters for how it meets
// the other side, and its name last.
func walkedMarks(b *body) []paint.Mark {
	d := &pieceDrawing{body: b, item: &paint.Item{Place: b.place}}
	// See-through, so that what it passes over shows.
	d.add(paint.Shape{Path: b.outline(), Fill: paint.Faded(paint.Cloth, 0.8), Line: inked(cutWidth, paint.Dash{})})
	d.stitching()
	d.stretches()
	d.darts()
	d.lines()
	d.notches()
	d.grain()
	if i := b.piece.FoldEdge(); i >= 0 {
		// The two halves are one cloth: the fold is only a line in it.
		d.add(paint.Shape{Path: b.edges[i], Line: paint.Line{Colour: paint.Of(paint.Cloth), Width: 2 * cutWidth}})
		d.add(paint.Shape{Path: b.edges[i], Line: inked(1, foldDash)})
	}
	d.add(paint.Text{
		At: b.stitch.Bounds().Center(), Text: b.piece.Name, Size: 12, Weight: paint.SemiBold,
		Colour: paint.Of(paint.Faint), Anchor: paint.Middle, Halo: paint.Of(paint.Cloth), Room: b.stitch.Bounds().W(),
	})
	return d.item.Marks
}

// Widths of what is walked already, and of what is to come, in screen units.
const (
	walkedWidth = 3.4
	toComeWidth = 1.8
)

var toComeDash = paint.Dash{5, 4}

// walking draws what moves in a walk: the rolling pieces, what is walked of both sides as
// it will be sewn, what is to come dashed, and where they touch.
func (s *scene) walking(m *tool.WalkMarks, leftward func(at geom.Point, text string) bool) []*paint.Item {
	var items []*paint.Item
	for _, l := range m.Step.Rolling {
		items = append(items, s.laidItem(l))
	}
	d := &toolDrawing{leftward: leftward}
	chalk := paint.Of(paint.Chalk)
	lines := func(list []geom.Path, l paint.Line) {
		for _, path := range list {
			d.add(paint.Shape{Path: path, Line: l})
		}
	}
	for side := range m.Done {
		if m.Ends {
			lines(m.Rest[side], paint.Line{Colour: paint.Of(paint.Pin), Width: walkedWidth, Join: paint.Round, Cap: paint.RoundCap})
			continue
		}
		lines(m.Rest[side], paint.Line{Colour: paint.Of(paint.Cloth), Width: walkedWidth})
		lines(m.Rest[side], paint.Line{Colour: chalk, Width: toComeWidth, Dash: toComeDash})
	}
	for side := range m.Done {
		lines(m.Done[side], paint.Line{Colour: chalk, Width: walkedWidth, Join: paint.Round, Cap: paint.RoundCap})
	}
	d.add(paint.Dot{At: m.Step.Contact, Kind: paint.SmoothNode, Colour: paint.Of(paint.Ink), Fill: paint.Of(paint.Node), Large: true})
	d.add(paint.Dot{At: m.Step.Contact, Kind: paint.HandleEnd, Colour: paint.Of(paint.Ink)})
	for _, p := range m.Told {
		d.plate(p)
	}
	return append(items, &d.item)
}

// Sight is what of the bench is seen, for going back to it.
type Sight struct {
	view    paint.View
	whole   bool
	fitting []draft.ID
	bare    bool
}

// Same reports whether the same is seen.
func (s Sight) Same(o Sight) bool {
	return s.view == o.view && s.whole == o.whole && s.bare == o.bare && slices.Equal(s.fitting, o.fitting)
}

// Sight returns what is seen.
func (b *Bench) Sight() Sight { return Sight{b.view, b.whole, b.fitting, b.bare} }

// SetSight shows what was seen.
func (b *Bench) SetSight(s Sight) {
	w, h, dpr := b.view.W, b.view.H, b.view.DPR
	b.view, b.whole, b.sized = s.view.Resized(w, h, dpr), s.whole, false
	b.fitting, b.bare = s.fitting, s.bare
	b.viewed()
}

// ShowBox shows a box of the bench as large as there is room, with so many screen units
// free at the foot.
func (b *Bench) ShowBox(box geom.Rect, foot float64) {
	if !b.laid() || box.Empty() {
		return
	}
	b.takeSize()
	w, h := float64(b.view.W)/b.view.DPR, float64(b.view.H)/b.view.DPR
	b.look(b.view.FitWithin(box, paint.Margins{
		Left: fitMargin * w, Right: fitMargin * w, Bottom: foot + fitMargin*h/2,
		Top: float64(b.covered) + fitMargin*h/2,
	}))
}
