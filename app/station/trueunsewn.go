package station

import (
	"errors"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
)

var errSeamGone = errors.New("this seam is gone")

func count(n int) string { return strconv.Itoa(n) }

// unsewnList lists the edges that are seams and have no partner yet.
type unsewnList struct {
	t      *Truing
	object *fyne.Container
	list   *control.List
	none   *control.Prose
	// name offers to name the edges that have none, called says how many those are.
	name   *fyne.Container
	called *control.Text
	edges  []desk.Ref
	// suggested are the seams that the edges ask for.
	suggested *suggestedList
}

func newUnsewnList(t *Truing) *unsewnList {
	l := &unsewnList{t: t, suggested: newSuggestedList(t)}
	l.list = control.NewList(func() int { return len(l.edges) }, newUnsewnLine, l.fill, l.pressed)
	l.none = control.NewProse("Every edge that is a seam has its partner.", 12.5, false, look.Faint, 400)
	sew := control.NewButton(control.SmallShape, "seam", "Sew two edges…", "Choose the edges of one side, then those of the other", func() { t.ways.Sew() })
	head := control.Inset(seamRowPad, 4, seamRowPad, 8, control.Row(8, control.NewText("Edges without a partner", 12.5, true, look.Ink), control.Spring(), sew))
	l.called = control.Faint("").AtLeast(10)
	name := control.NewButton(control.SmallShape, "measure", "Name edges by what they are", "Name the edges that nobody has named after what they are on the garment: neck, shoulder, armhole, side, hem", func() {
		t.report(desk.Run(t.desk, draft.NameEdges, draft.NameEdgesArgs{}))
	})
	l.name = control.Inset(seamRowPad, 0, seamRowPad, 8, container.NewBorder(nil, nil, name, nil, control.Inset(8, 0, 0, 0, control.Centred(l.called))))
	edges := container.NewBorder(control.Stack(0, head, l.name, control.Tall(1, control.NewPlane(look.Border, "", 0))), nil, nil, nil,
		container.NewStack(l.list, control.Inset(seamRowPad, 14, seamRowPad, 0, container.NewVBox(l.none))))
	l.object = container.New(sewnHalves{}, l.suggested.object, control.Upright(), edges)
	return l
}

// newUnsewnLine makes a row: the piece, the edge, its length.
func newUnsewnLine() fyne.CanvasObject {
	return container.New(unsewnCells{}, control.NewMark(control.Note, 15), control.NewText("", 12.5, true, look.Ink).AtLeast(10), control.Plain("").AtLeast(10), control.Plain("").AtLeast(10).Aligned(fyne.TextAlignTrailing))
}

// unsewnCells lays out a row of edges without a partner.
type unsewnCells struct{}

func (unsewnCells) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, seamRowHigh) }

func (unsewnCells) Layout(o []fyne.CanvasObject, size fyne.Size) {
	const mark, length = 24, 80
	x := float32(seamRowPad)
	wide := min((size.Width-x-seamRowEnd-mark-length)/2, 200)
	for i, w := range []float32{mark, wide, wide, length} {
		high := o[i].MinSize().Height
		o[i].Move(fyne.NewPos(x, (size.Height-high)/2))
		o[i].Resize(fyne.NewSize(min(w-8, max(size.Width-x-seamRowPad, 0)), high))
		x += w
	}
}

// edgesWithoutPartner returns the edges that are to be sewn and are in no seam.
func edgesWithoutPartner(p *draft.Project) []desk.Ref {
	sewn := map[desk.Ref]bool{}
	for _, s := range p.Seams {
		for _, r := range desk.SeamRefs(s) {
			sewn[r] = true
		}
	}
	var out []desk.Ref
	for _, piece := range p.Pieces {
		if piece.Ghost > 0 {
			continue
		}
		for i := range piece.Edges {
			e := &piece.Edges[i]
			if r := desk.EdgeRef(piece.ID, e.ID); e.Kind == draft.SeamEdge && !sewn[r] {
				out = append(out, r)
			}
		}
	}
	return out
}

func (l *unsewnList) update() {
	l.edges = edgesWithoutPartner(l.t.desk.Project())
	l.suggested.update()
	show(l.none, len(l.edges) == 0)
	names := l.t.desk.Slots().EdgeNames(l.t.desk.Project(), nil)
	show(l.name, len(names) > 0)
	if text := count(len(names)) + " bear only a number"; l.called.Text() != text {
		l.called.Set(text)
		l.object.Refresh()
	}
	l.list.Refresh()
}

func (l *unsewnList) fill(i widget.ListItemID, line fyne.CanvasObject) {
	if i >= len(l.edges) {
		return
	}
	p, r := l.t.desk.Project(), l.edges[i]
	piece := p.Piece(r.Piece)
	e, at := piece.Edge(r.Edge)
	cells := line.(*fyne.Container).Objects
	cells[1].(*control.Text).Set(piece.Name)
	cells[2].(*control.Text).Set(e.Name)
	cells[3].(*control.Text).Set(p.Unit.Format(l.t.desk.Slots().EdgeLengths(piece)[at]))
}

func (l *unsewnList) pressed(i widget.ListItemID) {
	if i < len(l.edges) {
		l.t.ways.Show(l.edges[i])
	}
}
