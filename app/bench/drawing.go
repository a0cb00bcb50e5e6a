package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
)

// Drawing returns the pieces as the bench shows them where nothing is picked, one item
// each in the order of the project, and over them what draws attention to the seams
// that do not hold.
func Drawing(slots *draft.Slots, p *draft.Project, report draft.Report) (pieces, told []*paint.Item) {
	s := newScene()
	s.view = paint.NewView(0, 0, 1) // nothing is seen yet: plates keep their places
	s.update(p, slots, desk.Picked{})
	return s.still(), s.seamItems(report)
}
