package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/draft"
	"hemlet/geom"
)

// ShowBefore has the outlines of the pieces as they stand in a project drawn dashed under
// what lies on the bench, wherever they lie elsewhere there: what an act that is only
// tried would change. Without a project nothing is.
func (b *Bench) ShowBefore(p *draft.Project) {
	b.ShowBeside(p, nil)
}

// ShowBeside has the outlines of two other states of the pattern drawn with what lies on the
// bench: the earlier one dashed, the later one, where it is not the present one, in dots.
// Without a project one is left out.
func (b *Bench) ShowBeside(earlier, later *draft.Project) {
	if b.before != earlier || b.later != later {
		b.before, b.later = earlier, later
		b.redraw()
	}
}

// beforeWidth is how wide the lines are, in screen units.
const beforeWidth = 1.6

// beforeItems draws the pieces that stand otherwise in the project before.
func (b *Bench) beforeItems() []*paint.Item {
	return append(b.otherItems(b.later, laterDash), b.otherItems(b.before, helpDash)...)
}

// laterDash is the line of a later state that is not the present one.
var laterDash = paint.Dash{2, 3}

// otherItems draws the outlines of another state, where they are not those of now.
func (b *Bench) otherItems(other *draft.Project, dash paint.Dash) []*paint.Item {
	if other == nil {
		return nil
	}
	var items []*paint.Item
	for _, was := range other.Pieces {
		now := b.scene.bodies[was.ID]
		if now == nil || now.piece == was || was.Ghost > 0 {
			continue
		}
		item := beforeItem(was.DrawnPath(), now.stitch, was.Place.Affine())
		for i, m := range item.Marks {
			shape := m.(paint.Shape)
			shape.Line.Dash = dash
			item.Marks[i] = shape
		}
		items = append(items, item)
	}
	return items
}

// beforeLaid draws of the pieces that are laid elsewhere how they stand in the project
// before, laid where they now are.
func (b *Bench) beforeLaid(laid []draft.Laid) []*paint.Item {
	if b.before == nil {
		return nil
	}
	var items []*paint.Item
	for _, l := range laid {
		if was := b.before.Piece(l.Piece.ID); was != nil && was != l.Piece {
			items = append(items, beforeItem(was.DrawnPath(), l.Piece.DrawnPath(), l.Map))
		}
	}
	return items
}

// beforeItem draws what an outline had that it has not now, at a place.
func beforeItem(was, now geom.Path, place geom.Affine) *paint.Item {
	line := paint.Line{Colour: paint.Of(paint.Chalk), Width: beforeWidth, Dash: helpDash, Join: paint.Round}
	item := &paint.Item{Place: place}
	for _, path := range elsewhere(was, now) {
		item.Marks = append(item.Marks, paint.Shape{Path: path, Line: line})
	}
	return item
}

// elsewhere returns the stretches of a path that the other path has not got.
func elsewhere(path, other geom.Path) []geom.Path {
	has := make(map[geom.Segment]bool, len(other))
	for _, s := range other {
		has[s] = true
	}
	var out []geom.Path
	apart := false
	for i, s := range path {
		if has[s] || len(path) == len(other) && unmoved(s, other[i]) {
			apart = false
			continue
		}
		if !apart {
			out = append(out, nil)
		}
		apart = true
		out[len(out)-1] = append(out[len(out)-1], s)
	}
	return out
}

// unseen is how far, in mm, a stretch has moved at most that only rounding, or the search
// for the least change, has moved: far less than a pencil line.
const unseen = 0.02

// unmoved reports whether two stretches lie in the same place for the eye.
func unmoved(a, b geom.Segment) bool {
	return a.P0.Dist(b.P0) < unseen && a.P1.Dist(b.P1) < unseen && a.P2.Dist(b.P2) < unseen && a.P3.Dist(b.P3) < unseen
}
