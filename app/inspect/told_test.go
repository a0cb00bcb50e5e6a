package inspect

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// saidBy returns what the cards of the list say, in order.
func saidBy(g *toldGroup) []string {
	var out []string
	var read func(o fyne.CanvasObject)
	read = func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *control.Prose:
			out = append(out, o.Text())
		case *control.Card:
			read(o.Content())
		case *fyne.Container:
			for _, in := range o.Objects {
				read(in)
			}
		}
	}
	read(g.list)
	return out
}

// uneven returns an inspector of two rectangles sewn along sides that are not of one length.
func uneven(t *testing.T) (*Inspector, *desk.Desk) {
	t.Helper()
	test.NewTempApp(t)
	box := func(x, h float64, name string) draft.Outline {
		path := geom.Polygon(geom.Pt(x, 0), geom.Pt(x+60, 0), geom.Pt(x+60, h), geom.Pt(x, h))
		return draft.Outline{Path: path, Corner: []bool{true, true, true, true}, Name: name, EdgeNames: []string{"hem", "side", "top", "middle"}}
	}
	out, err := draft.ImportOutlines.Do(draft.New("uneven"), draft.ImportOutlinesArgs{Outlines: []draft.Outline{box(0, 100, "Back"), box(100, 108, "Front")}, Allowance: 6})
	if err != nil {
		t.Fatal(err)
	}
	if out, err = draft.LinkSeam.DoText(out.Project, map[string]string{"a": "Back.side", "b": "Front.side"}); err != nil {
		t.Fatal(err)
	}
	d := desk.New(out.Project)
	return New(d, &tool.Hand{Desk: d}), d
}

// While a point is dragged the cards stay and their words change. Whatever was shown before,
// they say what cards made of nothing say: after a piece was renamed, its new name.
func TestCardsSayWhatIsFoundNow(t *testing.T) {
	i, d := uneven(t)
	g := groupOf[*toldGroup](t, i)
	p := d.Project().Pieces[0]
	d.Pick(desk.PieceRef(p.ID))
	var cards []fyne.CanvasObject
	var said []string
	again := func(what string) {
		t.Helper()
		fresh := newToldGroup(i)
		fresh.update()
		got, want := saidBy(g), saidBy(fresh)
		if !slices.Equal(got, want) {
			t.Errorf("%s: the cards say %q, want %q", what, got, want)
		}
		if len(got) == 0 || slices.Equal(got, said) {
			t.Errorf("%s: they say %q as before", what, got)
		}
		cards, said = slices.Clone(g.list.Objects), got
	}
	again("picked")
	drag := d.Begin()
	for _, mm := range []float64{3, 20, -40} {
		node := draft.NodeRef{Piece: p.ID, Node: p.Edges[2].Nodes[0].ID}
		if err := desk.Move(drag, draft.MoveNodes, draft.MoveNodesArgs{Nodes: []draft.NodeRef{node}, By: draft.Vector{Y: mm}}); err != nil {
			t.Fatal(err)
		}
		before := cards
		again("dragged")
		if !slices.Equal(cards, before) {
			t.Errorf("dragged by %v mm, there are other cards", mm)
		}
	}
	drag.End()
	if err := desk.Run(d, draft.RenamePiece, draft.RenamePieceArgs{Piece: draft.PieceRef(p.ID), Name: "Yoke"}); err != nil {
		t.Fatal(err)
	}
	again("renamed")
	for _, f := range d.Findings() {
		if f.Seam != "" {
			if err := desk.Run(d, draft.Waive, draft.WaiveArgs{Finding: f.Key, Reason: "meant"}); err != nil {
				t.Fatal(err)
			}
			break
		}
	}
	again("waived")
	d.Undo()
	again("taken back")
}
