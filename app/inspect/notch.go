package inspect

import (
	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// notchGroup speaks of the picked notches.
type notchGroup struct {
	i            *Inspector
	all          *fyne.Container
	shape, ticks *control.Choice
	at           *control.Field
	placeRow     fyne.CanvasObject
	depth        *control.Text
}

// notchShapes are the ways to mark a notch in the order in which they are offered.
var notchShapes = []draft.NotchShape{draft.NotchSlit, draft.NotchV, draft.NotchT}

func newNotchGroup(i *Inspector) *notchGroup {
	g := &notchGroup{i: i}
	g.shape = control.NewChoice("How the notch is marked, and cut where its allowance bears it", []string{"slit", "V", "T"}, func(k int) {
		g.i.refused(g.set(draft.SetNotchArgs{Shape: &notchShapes[k]}), g)
	})
	g.ticks = control.NewChoice("One tick in front, two behind: then nothing is set in the wrong way round", []string{"one", "two"}, func(k int) {
		double := k == 1
		g.i.refused(g.set(draft.SetNotchArgs{Double: &double}), g)
	})
	g.at = i.lengthField("How far along its edge the notch lies", g.move)
	g.depth = control.NewText("", 13, false, "foreground")
	g.placeRow = control.Labelled("Place", g.at.Object())
	g.all = rows("Notch",
		control.Labelled("Shape", g.shape.Object()),
		control.Labelled("Ticks", g.ticks.Object()),
		g.placeRow,
		control.Labelled("Depth", control.Inset(10, 5, 0, 5, g.depth)),
	)
	return g
}

func (g *notchGroup) object() fyne.CanvasObject { return g.all }

func (g *notchGroup) notches() []onPiece[draft.Notch] {
	return things(g.i, desk.Notch, func(p *draft.Piece, id draft.ID) *draft.Notch {
		for k := range p.Notches {
			if p.Notches[k].ID == id {
				return &p.Notches[k]
			}
		}
		return nil
	})
}

func (g *notchGroup) update() bool {
	list := g.notches()
	if len(list) == 0 {
		return false
	}
	g.shape.Put(commonIndex(list, func(n onPiece[draft.Notch]) int { return int(n.thing.Shape) }))
	g.ticks.Put(commonIndex(list, func(n onPiece[draft.Notch]) int {
		if n.thing.Double {
			return 1
		}
		return 0
	}))
	g.depth.Set(common(list, g.depthOf))
	if len(list) > 1 {
		g.placeRow.Hide()
		return true
	}
	g.placeRow.Show()
	if length, ok := g.edgeLength(list[0]); ok {
		g.at.Put(g.i.unit().Format(list[0].thing.Along(length)))
	}
	return true
}

func (g *notchGroup) edgeLength(n onPiece[draft.Notch]) (float64, bool) {
	_, i := n.piece.Edge(n.thing.Edge)
	if i < 0 {
		return 0, false
	}
	return g.i.desk.Slots().EdgeLengths(n.piece)[i], true
}

// depthOf says how deep the notch is cut, or that it never is.
func (g *notchGroup) depthOf(n onPiece[draft.Notch]) string {
	length, ok := g.edgeLength(n)
	if !ok || length <= 0 {
		return ""
	}
	e, _ := n.piece.Edge(n.thing.Edge)
	a := e.Allowance
	depth, cut := draft.NotchDepth(a.Start + (a.End-a.Start)*n.thing.Along(length)/length)
	switch {
	case depth == 0:
		return "chalked inside, never cut"
	case !cut:
		return g.i.unit().Format(depth) + ", drawn, never cut"
	}
	return g.i.unit().Format(depth)
}

func (g *notchGroup) set(args draft.SetNotchArgs) error {
	for _, n := range g.notches() {
		args.Notches = append(args.Notches, draft.NotchRef{Piece: n.piece.ID, Notch: n.thing.ID})
	}
	if len(args.Notches) == 0 {
		return nil
	}
	return runSaying(g.i, draft.SetNotch, args)
}

// move puts the notch elsewhere on its edge, told from the end and in the way in which it
// was told.
func (g *notchGroup) move(mm draft.Length) error {
	list := g.notches()
	if len(list) != 1 {
		return nil
	}
	n := list[0].thing
	length, ok := g.edgeLength(list[0])
	if !ok {
		return nil
	}
	place := draft.EdgePlace{At: float64(mm), FromEnd: n.FromEnd}
	if n.FromEnd {
		place.At = length - place.At
	}
	if n.Share && length > 0 {
		place.At, place.Share = place.At/length, true
	}
	return g.set(draft.SetNotchArgs{At: &place})
}
