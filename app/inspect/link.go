package inspect

import (
	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// linkGroup sets the width of a picked facing, or how far a picked stiffener lies inside.
type linkGroup struct {
	i             *Inspector
	all           *fyne.Container
	from          *control.Text
	width, inside *control.Field
	widthRow      fyne.CanvasObject
	insideRow     fyne.CanvasObject
}

func newLinkGroup(i *Inspector) *linkGroup {
	g := &linkGroup{i: i, from: control.NewText("", 13, false, "foreground")}
	g.width = i.lengthField("How wide the facing is", g.set)
	g.inside = i.lengthField("How far the stiffener lies inside the stitching line", g.set)
	g.widthRow = control.Labelled("Width", g.width.Object())
	g.insideRow = control.Labelled("Inside by", g.inside.Object())
	g.all = rows("Follows a piece", control.Labelled("Made from", control.Inset(10, 3, 0, 3, g.from)), g.widthRow, g.insideRow)
	return g
}

func (g *linkGroup) object() fyne.CanvasObject { return g.all }

// piece returns the piece that is picked as a whole, nil for none or several.
func (g *linkGroup) piece() *draft.Piece {
	picked := g.i.desk.Picked()
	if len(picked) != 1 || picked.Last().Kind != desk.Piece {
		return nil
	}
	return g.i.desk.Project().Piece(picked.Last().Piece)
}

func (g *linkGroup) set(mm draft.Length) error {
	piece := g.piece()
	if piece == nil {
		return nil
	}
	return desk.Run(g.i.desk, draft.SetLink, draft.SetLinkArgs{Pieces: []draft.PieceRef{draft.PieceRef(piece.ID)}, Width: mm})
}

func (g *linkGroup) update() bool {
	piece := g.piece()
	if piece == nil {
		return false
	}
	parent := g.i.desk.Project().ParentOf(piece)
	if parent == nil {
		return false
	}
	g.from.Set(parent.Name)
	mm, inside, ok := g.i.desk.Project().LinkWidth(piece)
	g.width.Put(g.i.unit().Format(mm))
	g.inside.Put(g.i.unit().Format(mm))
	show(g.widthRow, ok && !inside)
	show(g.insideRow, ok && inside)
	return true
}
