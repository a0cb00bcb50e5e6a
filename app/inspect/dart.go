package inspect

import (
	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// dartGroup speaks of the picked darts, pleats and tucks: of the one that was picked last,
// or of how all of them are folded and pressed.
type dartGroup struct {
	i      *Inspector
	all    *fyne.Container
	name   *control.Field
	intake *control.Field
	length *control.Field
	depth  *control.Text
	fold   *control.Choice
	press  *control.Choice
	// one are the rows that speak of one dart alone.
	one []fyne.CanvasObject
	// folded is the row that tells how deep a pleat or tuck is.
	folded fyne.CanvasObject
}

func newDartGroup(i *Inspector) *dartGroup {
	g := &dartGroup{i: i}
	g.name = i.field("The name of this dart", func(text string) error {
		return g.set(draft.SetDartArgs{Name: &text})
	})
	g.intake = i.lengthField("How much of the edge it takes in: the width of its mouth", func(mm draft.Length) error {
		return g.move(draft.MoveDartArgs{Intake: &mm})
	})
	g.length = i.lengthField("How long it is, from the middle of its mouth inwards", func(mm draft.Length) error {
		return g.move(draft.MoveDartArgs{Length: &mm})
	})
	g.depth = control.NewText("", 13, false, "foreground")
	g.fold = control.NewChoice("Sewn shut to a point, laid as a pleat, or sewn as a tuck", wordsOf(draft.Folds()), func(k int) {
		fold := draft.Folds()[k]
		g.i.refused(g.set(draft.SetDartArgs{Fold: &fold}), g)
	})
	g.press = control.NewChoice("To which side it is pressed, start and end being those of its edge; the cut line across its mouth follows", wordsOf(draft.Presses()), func(k int) {
		press := draft.Presses()[k]
		g.i.refused(g.set(draft.SetDartArgs{Press: &press}), g)
	})
	g.folded = control.Labelled("Depth", control.Inset(10, 5, 0, 5, g.depth))
	g.one = []fyne.CanvasObject{
		control.Labelled("Name", g.name.Object()),
		control.Labelled("Takes in", g.intake.Object()),
		control.Labelled("Length", g.length.Object()),
		g.folded,
	}
	g.all = rows("Dart", append(append([]fyne.CanvasObject{}, g.one...),
		control.Labelled("Folded as", g.fold.Object()),
		control.Labelled("Pressed", g.press.Object()),
	)...)
	return g
}

func (g *dartGroup) object() fyne.CanvasObject { return g.all }

func (g *dartGroup) darts() []onPiece[draft.Dart] {
	return things(g.i, desk.Dart, func(p *draft.Piece, id draft.ID) *draft.Dart {
		d, _ := p.Dart(id)
		return d
	})
}

func (g *dartGroup) update() bool {
	list := g.darts()
	if len(list) == 0 {
		return false
	}
	for _, row := range g.one {
		showRow(row, len(list) == 1)
	}
	g.fold.Put(commonIndex(list, func(d onPiece[draft.Dart]) int { return int(d.thing.Fold) }))
	g.press.Put(commonIndex(list, func(d onPiece[draft.Dart]) int { return int(d.thing.Press) }))
	d := last(list)
	meet, turn := d.piece.FoldLines(*d.thing)
	showRow(g.folded, len(list) == 1 && len(turn) > 0)
	if len(list) > 1 || len(meet) < 2 {
		return true
	}
	unit := g.i.unit()
	g.name.Put(d.thing.Name)
	g.intake.Put(unit.Format(d.piece.TakeUp(*d.thing)))
	g.length.Put(unit.Format(d.thing.Apex.Dist(meet[0].P0.Lerp(meet[1].P0, 0.5))))
	if len(turn) > 0 {
		g.depth.Set(unit.Format(meet[0].P0.Dist(turn[0].P0)))
	}
	return true
}

func (g *dartGroup) set(args draft.SetDartArgs) error {
	for _, d := range g.darts() {
		args.Darts = append(args.Darts, draft.DartRef{Piece: d.piece.ID, Dart: d.thing.ID})
	}
	if len(args.Darts) == 0 {
		return nil
	}
	return runSaying(g.i, draft.SetDart, args)
}

func (g *dartGroup) move(args draft.MoveDartArgs) error {
	list := g.darts()
	if len(list) == 0 {
		return nil
	}
	d := last(list)
	args.Dart = draft.DartRef{Piece: d.piece.ID, Dart: d.thing.ID}
	return runSaying(g.i, draft.MoveDart, args)
}
