package inspect

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// marked returns an inspector of a rectangle of 60 by 100 mm with one of each mark.
func marked(t *testing.T) (*Inspector, *desk.Desk) {
	t.Helper()
	test.NewTempApp(t)
	out, err := draft.ImportOutlines.Do(draft.New("marks"), draft.ImportOutlinesArgs{
		Outlines: []draft.Outline{{
			Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 100), geom.Pt(0, 100)), Corner: []bool{true, true, true, true},
			Name: "Back", EdgeNames: []string{"hem", "side", "top", "middle"},
		}}, Allowance: 6,
	})
	if err != nil {
		t.Fatal(err)
	}
	p := out.Project
	for _, step := range []struct {
		act  draft.Named
		args map[string]string
	}{
		{draft.AddNotch, map[string]string{"edge": "Back.side", "at": "40mm"}},
		{draft.AddStretch, map[string]string{"edge": "Back.hem", "from": "25%", "to": "75%"}},
		{draft.AddRow, map[string]string{"edge": "Back.middle", "kind": "buttonholes", "size": "8mm", "count": "4", "first": "10mm", "last": "15mm"}},
		{draft.AddDimension, map[string]string{"from": "Back.hem/start", "to": "Back.hem/end", "name": "width"}},
		{draft.AddMark, map[string]string{"piece": "Back", "at": "20mm,40mm", "name": "pocket"}},
	} {
		if out, err = step.act.DoText(p, step.args); err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	d := desk.New(p)
	return New(d, &tool.Hand{Desk: d}), d
}

func groupOf[T group](t *testing.T, i *Inspector) T {
	t.Helper()
	for _, g := range i.groups {
		if found, ok := g.(T); ok {
			return found
		}
	}
	t.Fatal("there is no such group")
	panic("unreached")
}

func (i *Inspector) shows(g group) bool { return g.object().Visible() }

func TestNotchGroup(t *testing.T) {
	i, d := marked(t)
	piece := d.Project().Pieces[0]
	g := groupOf[*notchGroup](t, i)
	if i.shows(g) {
		t.Error("shown while nothing is picked")
	}
	d.Pick(desk.ThingRef(desk.Notch, piece.ID, piece.Notches[0].ID))
	if !i.shows(g) || g.at.Text != "40 mm" || g.ticks.SelectedIndex() != 1 || g.shape.SelectedIndex() != 0 || g.depth.Text() != "3 mm" {
		t.Fatalf("at %q, ticks %d, shape %d, depth %q", g.at.Text, g.ticks.SelectedIndex(), g.shape.SelectedIndex(), g.depth.Text())
	}
	g.shape.SetSelectedIndex(2)
	g.ticks.SetSelectedIndex(0)
	if err := g.move(55); err != nil {
		t.Fatal(err)
	}
	if n := d.Project().Pieces[0].Notches[0]; n.Shape != draft.NotchT || n.Double || n.At != 55 {
		t.Errorf("%+v", n)
	}
	if g.at.Text != "55 mm" {
		t.Errorf("it shows %q", g.at.Text)
	}
}

func TestStretchGroup(t *testing.T) {
	i, d := marked(t)
	piece := d.Project().Pieces[0]
	g := groupOf[*stretchGroup](t, i)
	d.Pick(desk.ThingRef(desk.Stretch, piece.ID, piece.Stretches[0].ID))
	if !i.shows(g) || g.from.Text != "15 mm" || g.to.Text != "45 mm" || g.length.Text() != "30 mm" {
		t.Fatalf("%q to %q, %q", g.from.Text, g.to.Text, g.length.Text())
	}
	if err := g.from.Take("6"); err != nil {
		t.Fatal(err)
	}
	g.kind.SetSelectedIndex(1)
	if s := d.Project().Pieces[0].Stretches[0]; s.From != 0.1 || s.Kind != draft.EaseStretch {
		t.Errorf("%+v", s)
	}
	if err := g.to.Take("61mm"); err == nil {
		t.Error("it ends beyond its edge")
	}
}

func TestRowAndLineGroups(t *testing.T) {
	i, d := marked(t)
	piece := d.Project().Pieces[0]
	line, row := groupOf[*lineGroup](t, i), groupOf[*rowGroup](t, i)
	d.Pick(desk.ThingRef(desk.Line, piece.ID, piece.Lines[0].ID))
	if !i.shows(line) || !i.shows(row) || row.count.Text != "4" || row.size.Text != "8 mm" || row.apart.Text() != "25 mm" || !row.wayRow.Visible() {
		t.Fatalf("%q of %q, %q apart", row.count.Text, row.size.Text, row.apart.Text())
	}
	if err := row.count.Take("6"); err != nil {
		t.Fatal(err)
	}
	row.kind.SetSelectedIndex(int(draft.Snaps))
	if r := d.Project().Pieces[0].Lines[0].Row; r.Count != 6 || r.Kind != draft.Snaps {
		t.Errorf("%+v", r)
	}
	if row.wayRow.Visible() {
		t.Error("snaps are round and lie neither along nor across")
	}
	if err := row.count.Take("many"); err == nil {
		t.Error("many is no number")
	}
	if err := line.name.Take("closing"); err != nil || d.Project().Pieces[0].Lines[0].Name != "closing" {
		t.Errorf("named: %v", err)
	}
	d.Pick(desk.ThingRef(desk.Line, piece.ID, piece.Lines[1].ID))
	if i.shows(row) || line.lengthRow.Visible() {
		t.Error("a point has neither a row nor a length")
	}
	if !line.pointRow.Visible() || line.kindRow.Visible() || line.point.SelectedIndex() != 0 {
		t.Error("it does not say that it is a drill point")
	}
	line.point.SetSelectedIndex(1)
	if k := d.Project().Pieces[0].Lines[1].Kind; k != draft.ReinforcePoint {
		t.Errorf("it is a %s point", k)
	}
	line.point.SetSelectedIndex(0)
	if k := d.Project().Pieces[0].Lines[1].Kind; k != draft.DrillPoint {
		t.Errorf("it is a %s point", k)
	}
}

func TestDimensionGroupShowsWhatIs(t *testing.T) {
	i, d := marked(t)
	piece := d.Project().Pieces[0]
	g := groupOf[*dimensionGroup](t, i)
	d.Pick(desk.PieceRef(piece.ID))
	if len(g.shown) != 1 || g.shown[0].name != "width" || g.shown[0].length != "60 mm" {
		t.Fatalf("%+v", g.shown)
	}
	corner := piece.Edges[1].Nodes[0].ID
	if err := desk.Run(d, draft.MoveNodes, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: piece.ID, Node: corner}}, By: draft.Vector{X: 12}}); err != nil {
		t.Fatal(err)
	}
	if g.shown[0].length != "72 mm" {
		t.Errorf("after a point has moved it shows %q", g.shown[0].length)
	}
}

func TestLinkGroupSetsWhatFollows(t *testing.T) {
	i, d := marked(t)
	g := groupOf[*linkGroup](t, i)
	for _, step := range []struct {
		act  draft.Named
		args map[string]string
	}{
		{draft.FaceEdge, map[string]string{"edges": "Back.top", "width": "20mm", "name": "Facing"}},
		{draft.StiffenPiece, map[string]string{"piece": "Back", "inside": "2mm", "name": "Board"}},
	} {
		out, err := step.act.DoText(d.Project(), step.args)
		if err != nil {
			t.Fatal(err)
		}
		d.Commit(out.Step, out.Project, "")
	}
	pieces := d.Project().Pieces
	d.Pick(desk.PieceRef(pieces[0].ID))
	if i.shows(g) {
		t.Error("the piece itself is said to follow another")
	}
	d.Pick(desk.PieceRef(pieces[1].ID))
	if !i.shows(g) || g.from.Text() != "Back" || !g.widthRow.Visible() || g.insideRow.Visible() || g.width.Text != "20" && g.width.Text != "20 mm" {
		t.Errorf("the facing: from %q, width %q", g.from.Text(), g.width.Text)
	}
	if err := g.width.Take("35mm"); err != nil {
		t.Fatal(err)
	}
	d.Pick(desk.PieceRef(pieces[2].ID))
	if g.widthRow.Visible() || !g.insideRow.Visible() {
		t.Error("a stiffener has no width, but lies inside by one")
	}
	if err := g.inside.Take("4mm"); err != nil {
		t.Fatal(err)
	}
	now := d.Project()
	if box := now.Pieces[1].DrawnPath().Bounds(); box.H() < 34.9 || box.H() > 35.1 {
		t.Errorf("the facing is %v high", box.H())
	}
	if box := now.Pieces[2].DrawnPath().Bounds(); box.W() < 51.9 || box.W() > 52.1 {
		t.Errorf("the stiffener is %v wide", box.W())
	}
}
