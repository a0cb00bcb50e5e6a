package inspect

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/body"
)

// pieceGroup speaks of the picked pieces, or of the piece whose part is picked.
type pieceGroup struct {
	i           *Inspector
	all         *fyne.Container
	name        *control.Field
	garment     *control.Field
	every       *control.Field
	cloth       *control.Choice
	way         *control.Choice
	count       *control.Field
	layer       *control.Choice
	note        *control.Field
	area, cut   *control.Text
	nameRow     fyne.CanvasObject
	everyRow    fyne.CanvasObject
	clothOffers string
	// from says for what the pattern was made from which the pieces come.
	from *control.Prose
}

func newPieceGroup(i *Inspector) *pieceGroup {
	g := &pieceGroup{i: i}
	g.name = i.field("What the piece is called on the pattern", func(name string) error {
		pieces := g.pieces()
		return desk.Run(i.desk, draft.RenamePiece, draft.RenamePieceArgs{Piece: draft.PieceRef(pieces[len(pieces)-1].ID), Name: name})
	})
	g.garment = i.field("The garment that the piece belongs to; the tray sorts by it", func(name string) error {
		return desk.Run(i.desk, draft.SetGarment, draft.SetGarmentArgs{Pieces: g.refs(), Garment: name})
	})
	g.every = i.lengthField("The allowance of every edge of the piece but its fold", g.setEvery)
	g.cloth = control.NewChoice("What the piece is cut from", nil, g.setCloth)
	g.way = control.NewChoice("How the piece is laid out of the cloth: as drawn, as right and left, or unfolded on its fold edge", wayWords, func(int) { g.setCut() })
	g.count = i.field("How many copies, pairs or folded copies are cut", func(string) error { return g.cutError() })
	g.layer = control.NewChoice("The layer of the garment on which the piece lies", []string{"shell", "lining", "interlining"}, g.setLayer)
	g.note = i.field("One line that is printed under the label", func(note string) error {
		return desk.Run(i.desk, draft.SetNote, draft.SetNoteArgs{Pieces: g.refs(), Note: note})
	})
	g.area = control.NewText("", 13, false, "foreground")
	g.cut = control.NewText("", 13, false, "foreground")
	g.from = control.NewProse("", 11.5, false, theme.ColorNamePlaceHolder, inner)
	g.nameRow = control.Labelled("Name", g.name.Object())
	g.everyRow = control.Labelled("All edges", g.every.Object())
	g.every.PlaceHolder = "several"
	g.all = rows("Piece",
		g.nameRow,
		control.Labelled("Garment", g.garment.Object()),
		g.everyRow,
		control.Labelled("Cloth", g.cloth.Object()),
		control.Labelled("Layer", g.layer.Object()),
		control.Labelled("Cut", g.way.Object()),
		control.Labelled("How many", g.count.Object()),
		control.Labelled("Note", g.note.Object()),
		control.Labelled("Area", control.Inset(10, 3, 0, 3, g.area)),
		control.Labelled("As cut", control.Inset(10, 3, 0, 3, g.cut)),
		g.from,
	)
	return g
}

// wayWords are the ways to cut, in the order of draft.CutWays.
var wayWords = []string{"as drawn", "in mirrored pairs", "on the fold"}

func (g *pieceGroup) object() fyne.CanvasObject { return g.all }

// pieces returns the picked pieces, or those of which a part is picked.
func (g *pieceGroup) pieces() []*draft.Piece {
	var out []*draft.Piece
	for _, id := range g.i.desk.Picked().Pieces() {
		if p := g.i.desk.Project().Piece(id); p != nil {
			out = append(out, p)
		}
	}
	return out
}

func (g *pieceGroup) refs() []draft.PieceRef {
	var out []draft.PieceRef
	for _, p := range g.pieces() {
		out = append(out, draft.PieceRef(p.ID))
	}
	return out
}

func (g *pieceGroup) update() bool {
	pieces := g.pieces()
	if len(pieces) == 0 {
		return false
	}
	unit := g.i.unit()
	if len(pieces) == 1 {
		g.name.Put(pieces[0].Name)
		g.nameRow.Show()
	} else {
		g.nameRow.Hide()
	}
	g.garment.Put(common(pieces, func(p *draft.Piece) string { return p.Garment }))
	g.note.Put(common(pieces, func(p *draft.Piece) string { return p.Note }))
	g.count.Put(common(pieces, func(p *draft.Piece) string { return strconv.Itoa(p.Cut.Count) }))
	g.way.Put(commonIndex(pieces, func(p *draft.Piece) int { return int(p.Cut.Way) }))
	g.layer.Put(commonIndex(pieces, func(p *draft.Piece) int { return int(p.Layer) }))
	g.every.Put(common(pieces, func(p *draft.Piece) string { return everyWidth(p, unit) }))
	if g.i.desk.Picked().Last().Kind == desk.Piece {
		g.everyRow.Show()
	} else {
		g.everyRow.Hide()
	}
	from := g.i.desk.Project().Origin(draft.ID(common(pieces, func(p *draft.Piece) string { return string(p.Origin) })))
	g.from.Hide()
	if from != nil {
		g.from.Put(originSays(from, unit))
		g.from.Show()
	}
	g.offerCloths(pieces)
	area, cut, ok := g.areas(pieces)
	g.area.Set(unit.FormatArea(area))
	if ok {
		g.cut.Set(unit.FormatArea(cut))
	} else {
		g.cut.Set("no cut line")
	}
	return true
}

// originSays says where a pattern came from and for whom it was made, in a sentence.
func originSays(o *draft.Origin, unit draft.Unit) string {
	says := "Traced from a " + [...]string{draft.StitchDrawn: "stitching line", draft.CutDrawn: "cut line"}[o.Line]
	if o.Name != "" {
		says = "Traced from " + o.Name
	}
	if o.Size != "" {
		says += ", size " + o.Size
	}
	var made []string
	for _, m := range o.Measures {
		made = append(made, body.Words(m.Name)+" "+unit.Format(m.Value))
	}
	if len(made) > 0 {
		says += "; made for: " + strings.Join(made, ", ")
	}
	if mm := o.WornUnder(); mm > 0 {
		says += "; worn over " + unit.Format(mm)
	}
	return says + "."
}

// everyWidth returns the width that all edges of the piece have, or empty text.
func everyWidth(p *draft.Piece, unit draft.Unit) string {
	var widths []string
	for _, e := range p.Edges {
		if e.Kind != draft.FoldEdge {
			widths = append(widths, unit.Format(e.Allowance.Start), unit.Format(e.Allowance.End))
		}
	}
	return common(widths, func(s string) string { return s })
}

// areas returns the area of one copy of each piece, sewn and cut, unfolded.
func (g *pieceGroup) areas(pieces []*draft.Piece) (area, cut float64, ok bool) {
	ok = true
	for _, p := range pieces {
		flat, err := g.i.desk.Slots().Flat(p)
		if flat == nil {
			return area, cut, false
		}
		area += flat.Stitch.Area()
		if err != nil {
			ok = false
			continue
		}
		cut += flat.Cut.Area()
	}
	return area, cut, ok
}

func (g *pieceGroup) setEvery(mm draft.Length) error {
	var edges []draft.EdgeRef
	for _, p := range g.pieces() {
		edges = append(edges, p.CutEdges()...)
	}
	return desk.Run(g.i.desk, draft.SetAllowance, draft.SetAllowanceArgs{Edges: edges, Width: &mm})
}

func (g *pieceGroup) cutError() error {
	n, err := strconv.Atoi(strings.TrimSpace(g.count.Text))
	if err != nil {
		return fmt.Errorf("%q is not a whole number", g.count.Text)
	}
	return runSaying(g.i, draft.SetCut, draft.SetCutArgs{Pieces: g.refs(), Way: draft.CutWay(max(g.way.SelectedIndex(), 0)), Count: n})
}

func (g *pieceGroup) setCut() {
	pieces := g.pieces()
	if len(pieces) == 0 {
		return
	}
	err := runSaying(g.i, draft.SetCut, draft.SetCutArgs{Pieces: g.refs(), Way: draft.CutWay(g.way.SelectedIndex()), Count: pieces[len(pieces)-1].Cut.Count})
	if err != nil {
		g.i.report(err)
		g.update()
	}
}

func (g *pieceGroup) setLayer(k int) {
	g.i.report(desk.Run(g.i.desk, draft.SetLayer, draft.SetLayerArgs{Pieces: g.refs(), Layer: draft.Layer(k)}))
}

// The entries of the choice of cloths besides the cloths themselves.
const (
	noCloth  = "not chosen"
	newCloth = "another cloth…"
)

func (g *pieceGroup) offerCloths(pieces []*draft.Piece) {
	project := g.i.desk.Project()
	offers := []string{noCloth}
	for _, c := range project.Cloths {
		offers = append(offers, c.Name)
	}
	offers = append(offers, newCloth)
	index := commonIndex(pieces, func(p *draft.Piece) int {
		for k, c := range project.Cloths {
			if c.ID == p.Cloth {
				return k + 1
			}
		}
		return 0
	})
	if key := strings.Join(offers, "\x00"); key != g.clothOffers {
		g.clothOffers = key
		g.cloth.Offer(offers, index)
		return
	}
	g.cloth.Put(index)
}

func (g *pieceGroup) setCloth(k int) {
	cloths := g.i.desk.Project().Cloths
	if k == len(cloths)+1 {
		g.i.AskCloth(func(name string) error { return g.addCloth(name) }, func() { g.update() })
		return
	}
	var id draft.ID
	if k > 0 && k <= len(cloths) {
		id = cloths[k-1].ID
	}
	g.i.report(desk.Run(g.i.desk, draft.SetCloth, draft.SetClothArgs{Pieces: g.refs(), Cloth: draft.ClothRef(id)}))
}

// addCloth adds a cloth to the project and cuts the pieces from it, as one step.
func (g *pieceGroup) addCloth(name string) error {
	added, err := draft.AddCloth.Do(g.i.desk.Project(), draft.AddClothArgs{Name: name})
	if err != nil {
		return err
	}
	out, err := draft.SetCloth.Do(added.Project, draft.SetClothArgs{Pieces: g.refs(), Cloth: draft.ClothRef(added.Made)})
	if err != nil {
		return err
	}
	g.i.desk.Commit(added.Step, out.Project, "")
	return nil
}
