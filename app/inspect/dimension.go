package inspect

import (
	"slices"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
)

// dimensionGroup lists the dimension lines of the piece that is picked, with the lengths
// that they show.
type dimensionGroup struct {
	i     *Inspector
	all   *fyne.Container
	list  *fyne.Container
	shown []dimensionRow
}

// dimensionRow is one dimension line as it is listed.
type dimensionRow struct {
	piece, span draft.ID
	name        string
	length      string
}

func newDimensionGroup(i *Inspector) *dimensionGroup {
	g := &dimensionGroup{i: i, list: control.Stack(6)}
	g.all = rows("Dimensions", g.list)
	return g
}

func (g *dimensionGroup) object() fyne.CanvasObject { return g.all }

func (g *dimensionGroup) rows() []dimensionRow {
	piece := g.i.desk.Project().Piece(g.i.desk.Picked().Last().Piece)
	if piece == nil {
		return nil
	}
	var out []dimensionRow
	for _, s := range piece.Spans {
		if s.Measure != "" {
			continue
		}
		name := s.Name
		if name == "" {
			name = "length"
		}
		out = append(out, dimensionRow{piece.ID, s.ID, name, g.i.unit().FormatTrue(g.i.desk.Slots().SpanLength(piece, s))})
	}
	return out
}

func (g *dimensionGroup) update() bool {
	now := g.rows()
	if slices.Equal(now, g.shown) {
		return len(now) > 0
	}
	g.shown = now
	g.list.RemoveAll()
	for _, row := range now {
		length := control.NewText(row.length, 13, false, look.Ink)
		away := control.NewButton(control.TinyShape, "remove", "", "Take the dimension line away", func() {
			g.i.report(desk.Run(g.i.desk, draft.DeleteMark, draft.DeleteMarkArgs{Marks: []draft.MarkRef{{Piece: row.piece, Mark: row.span}}}))
		})
		g.list.Add(control.Labelled(row.name, control.Row(6, control.Inset(10, 0, 5, 5, length), control.Spring(), away)))
	}
	g.list.Refresh()
	return len(now) > 0
}
