package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/draft"
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
		items = append(items, &paint.Item{Place: was.Place.Affine(), Marks: []paint.Mark{paint.Shape{Path: was.DrawnPath(), Line: line}}})
	}
	return items
}
