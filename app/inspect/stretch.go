package inspect

import (
	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// stretchGroup speaks of the stretch of an edge that was picked last.
type stretchGroup struct {
	i        *Inspector
	all      *fyne.Container
	kind     *control.Choice
	from, to *control.Field
	length   *control.Text
}

func newStretchGroup(i *Inspector) *stretchGroup {
	g := &stretchGroup{i: i}
	g.kind = control.NewChoice("What is done along this part of the edge", wordsOf(draft.StretchKinds()), func(k int) {
		kind := draft.StretchKinds()[k]
		g.i.refused(g.set(draft.SetStretchArgs{Kind: &kind}), g)
	})
	g.from = i.lengthField("Where it begins, from the start of the edge", func(mm draft.Length) error {
		return g.set(draft.SetStretchArgs{From: &draft.EdgePlace{At: float64(mm)}})
	})
	g.to = i.lengthField("Where it ends, from the start of the edge", func(mm draft.Length) error {
		return g.set(draft.SetStretchArgs{To: &draft.EdgePlace{At: float64(mm)}})
	})
	g.length = control.NewText("", 13, false, "foreground")
	g.all = rows("Stretch",
		control.Labelled("Treated", g.kind.Object()),
		control.Labelled("From", g.from.Object()),
		control.Labelled("To", g.to.Object()),
		control.Labelled("Length", control.Inset(10, 5, 0, 5, g.length)),
	)
	return g
}

func (g *stretchGroup) object() fyne.CanvasObject { return g.all }

func (g *stretchGroup) stretches() []onPiece[draft.Stretch] {
	return things(g.i, desk.Stretch, func(p *draft.Piece, id draft.ID) *draft.Stretch {
		for k := range p.Stretches {
			if p.Stretches[k].ID == id {
				return &p.Stretches[k]
			}
		}
		return nil
	})
}

func (g *stretchGroup) update() bool {
	list := g.stretches()
	if len(list) == 0 {
		return false
	}
	s := last(list)
	_, i := s.piece.Edge(s.thing.Edge)
	if i < 0 {
		return false
	}
	length, unit := g.i.desk.Slots().EdgeLengths(s.piece)[i], g.i.unit()
	g.kind.Put(int(s.thing.Kind))
	g.from.Put(unit.Format(s.thing.From * length))
	g.to.Put(unit.Format(s.thing.To * length))
	g.length.Set(unit.Format((s.thing.To - s.thing.From) * length))
	return true
}

func (g *stretchGroup) set(args draft.SetStretchArgs) error {
	list := g.stretches()
	if len(list) == 0 {
		return nil
	}
	s := last(list)
	args.Stretch = draft.StretchRef{Piece: s.piece.ID, Stretch: s.thing.ID}
	return runSaying(g.i, draft.SetStretch, args)
}
