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
	if b.before != p {
		b.before = p
		b.redraw()
	}
}

// beforeWidth is how wide the lines are, in screen units.
const beforeWidth = 1.6

// beforeItems draws the pieces that stand otherwise in the project before.
func (b *Bench) beforeItems() []*paint.Item {
	if b.before == nil {
		return nil
	}
	line := paint.Line{Colour: paint.Of(paint.Chalk), Width: beforeWidth, Dash: helpDash, Join: paint.Round}
	var items []*paint.Item
	for _, was := range b.before.Pieces {
		now := b.scene.bodies[was.ID]
		if now == nil || now.piece == was || was.Ghost > 0 {
			continue
		}
		item := &paint.Item{Place: was.Place.Affine()}
		for _, path := range elsewhere(was.DrawnPath(), now.stitch) {
			item.Marks = append(item.Marks, paint.Shape{Path: path, Line: line})
		}
		items = append(items, item)
	}
	return items
}

// elsewhere returns the stretches of a path that the other path has not got.
func elsewhere(path, other geom.Path) []geom.Path {
	has := make(map[geom.Segment]bool, len(other))
	for _, s := range other {
		has[s] = true
	}
	var out []geom.Path
	apart := false
	for _, s := range path {
		if has[s] {
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
