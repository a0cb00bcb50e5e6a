package bench

import (
	"math"

	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/bench/snap"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/geom"
)

// Guides are pulled out from the left and the lower border of the bench, from a strip
// of this width in screen units, and are put away by pulling them back over it.
const guideStrip = 7

// reachGuide is how near, in screen units, the pointer must come to a guide to take
// hold of it where nothing else lies.
const reachGuide = 9

// Guides returns the maker's lines over the bench. They belong to the view and not to
// the document.
func (b *Bench) Guides() []snap.Guide { return append([]snap.Guide(nil), b.guides...) }

// AddGuide lays a guide through a place in a direction of any length.
func (b *Bench) AddGuide(at, dir geom.Point) {
	if dir = dir.Unit(); dir != (geom.Point{}) {
		b.guides = append(b.guides, snap.Guide{At: at, Dir: dir})
		b.redraw()
	}
}

// ClearGuides takes all guides away.
func (b *Bench) ClearGuides() {
	b.guides, b.pulled, b.guideUnder = nil, nil, -1
	b.redraw()
}

// GuideAlongPicked lays a guide along each picked edge, from its start to its end, and
// reports whether there was one.
func (b *Bench) GuideAlongPicked() bool {
	any := false
	for _, r := range b.desk.Picked().Of(desk.Edge) {
		body := b.scene.bodies[r.Piece]
		if body == nil {
			continue
		}
		if _, i := body.piece.Edge(r.Edge); i >= 0 && len(body.edges[i]) > 0 {
			a, z := body.place.Apply(body.edges[i].Start()), body.place.Apply(body.edges[i].End())
			if a != z {
				b.AddGuide(a, z.Sub(a))
				any = true
			}
		}
	}
	return any
}

// guideAt returns the index of the guide under a place, or -1.
func (b *Bench) guideAt(at geom.Point) int {
	best, dist := -1, reachGuide*b.view.MM(1)
	for i, g := range b.guides {
		if d := math.Abs(g.Dir.Cross(at.Sub(g.At))); d <= dist {
			best, dist = i, d
		}
	}
	return best
}

// border returns the direction of the guide that is pulled out at a place of the
// widget, false where there is none.
func (b *Bench) border(pos fyne.Position) (geom.Point, bool) {
	high := b.raster.Size().Height
	switch {
	case pos.X >= 0 && pos.X < guideStrip:
		return geom.Pt(0, 1), true
	case pos.Y <= high && pos.Y > high-guideStrip:
		return geom.Pt(1, 0), true
	}
	return geom.Point{}, false
}

// takeGuide begins to pull a guide and reports whether there was one to take hold of:
// a new one at the border, or one that lies where nothing else does.
func (b *Bench) takeGuide(pos fyne.Position, p tool.Pointer) bool {
	if dir, ok := b.border(pos); ok {
		b.pulled, b.pulledFrom = &snap.Guide{At: p.At, Dir: dir}, nil
		return true
	}
	if b.guideUnder = b.guideFree(p); b.guideUnder < 0 {
		return false
	}
	g, was := b.guides[b.guideUnder], b.guides[b.guideUnder]
	b.pulled, b.pulledFrom = &g, &was
	b.guides = append(b.guides[:b.guideUnder:b.guideUnder], b.guides[b.guideUnder+1:]...)
	b.guideUnder = -1
	return true
}

// guideFree returns the guide under the pointer with the Select tool where no thing
// lies under it, or -1.
func (b *Bench) guideFree(p tool.Pointer) int {
	if _, selects := b.tool.(*tool.Select); !selects || p.Hit.Kind != desk.Nothing && p.Hit.Kind != desk.Piece {
		return -1
	}
	return b.guideAt(p.At)
}

// pullGuide moves the guide in hand to the pointer, where other things catch it.
func (b *Bench) pullGuide(p tool.Pointer) {
	b.pulled.At = b.hand.Catch(p, nil).At
	b.redraw()
}

// dropGuide lays the guide where it is, or puts it away over the border.
func (b *Bench) dropGuide(pos fyne.Position) {
	if _, out := b.border(pos); !out {
		b.guides = append(b.guides, *b.pulled)
	}
	b.pulled = nil
	b.redraw()
}

// dropPull puts the guide in hand back where it was, a new one away.
func (b *Bench) dropPull() {
	if b.pulledFrom != nil {
		b.guides = append(b.guides, *b.pulledFrom)
	}
	b.pulled, b.pulledFrom = nil, nil
	b.pointer.pressed = 0
	b.redraw()
}

// guideCursor points across the guide in hand or under the pointer.
func (b *Bench) guideCursor() tool.Cursor {
	g := b.pulled
	if g == nil {
		if b.guideUnder >= len(b.guides) {
			return tool.ArrowCursor
		}
		g = &b.guides[b.guideUnder]
	}
	if math.Abs(g.Dir.X) > math.Abs(g.Dir.Y) {
		return tool.UprightCursor
	}
	return tool.AcrossCursor
}

// guideItem draws the guides as far as they are seen.
func (b *Bench) guideItem() *paint.Item {
	item := &paint.Item{}
	seen := b.view.Visible()
	draw := func(g snap.Guide, width float64) {
		if line := g.Line(seen); line != nil {
			item.Marks = append(item.Marks, paint.Shape{Path: line, Line: paint.Line{Colour: paint.Faded(paint.Chalk, 0.8), Width: width}})
		}
	}
	for i, g := range b.guides {
		width := 1.0
		if i == b.guideUnder {
			width = 2
		}
		draw(g, width)
	}
	if b.pulled != nil {
		draw(*b.pulled, 2)
	}
	return item
}
