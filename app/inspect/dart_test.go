package inspect

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// darted returns an inspector of a rectangle of 200 by 100 mm with a dart and a pleat.
func darted(t *testing.T) (*Inspector, *desk.Desk) {
	t.Helper()
	test.NewTempApp(t)
	out, err := draft.ImportOutlines.Do(draft.New("darts"), draft.ImportOutlinesArgs{
		Outlines: []draft.Outline{{
			Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(200, 0), geom.Pt(200, 100), geom.Pt(0, 100)), Corner: []bool{true, true, true, true},
			Name: "Panel", EdgeNames: []string{"hem", "side", "waist", "middle"},
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
		{draft.AddDart, map[string]string{"edge": "Panel.waist", "at": "50mm", "intake": "12mm", "length": "60mm", "name": "waist dart"}},
		{draft.AddPleats, map[string]string{"edge": "Panel.waist", "from": "120mm", "count": "1", "depth": "10mm", "kind": "inverted"}},
	} {
		if out, err = step.act.DoText(p, step.args); err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	d := desk.New(p)
	return New(d, &tool.Hand{Desk: d}), d
}

func TestDartGroup(t *testing.T) {
	i, d := darted(t)
	g := groupOf[*dartGroup](t, i)
	if i.shows(g) {
		t.Error("shown while nothing is picked")
	}
	piece := d.Project().Pieces[0]
	d.Pick(desk.ThingRef(desk.Dart, piece.ID, piece.Darts[0].ID))
	if !i.shows(g) || g.name.Text != "waist dart" || g.intake.Text != "12 mm" || g.length.Text != "60 mm" || g.folded.Visible() {
		t.Fatalf("name %q, takes in %q, length %q, depth shown %v", g.name.Text, g.intake.Text, g.length.Text, g.folded.Visible())
	}
	if err := g.length.Take("45 mm"); err != nil {
		t.Fatal(err)
	}
	if err := g.intake.Take("1/2in"); err != nil {
		t.Fatal(err)
	}
	g.press.SetSelectedIndex(int(draft.PressOpen))
	now := d.Project().Pieces[0]
	dart, _ := now.Dart(piece.Darts[0].ID)
	if w := now.TakeUp(*dart); w < 12.699 || w > 12.701 || dart.Press != draft.PressOpen {
		t.Errorf("takes in %g, pressed %s", w, dart.Press)
	}
	if g.length.Text != "45 mm" {
		t.Errorf("length %q", g.length.Text)
	}
	// A pleat tells its depth; of several only how they are folded is said.
	d.Pick(desk.ThingRef(desk.Dart, now.ID, now.Darts[1].ID))
	if !g.folded.Visible() || g.depth.Text() != "10 mm" || g.fold.SelectedIndex() != int(draft.Pleat) || g.intake.Text != "40 mm" {
		t.Errorf("depth %q, fold %d, takes in %q", g.depth.Text(), g.fold.SelectedIndex(), g.intake.Text)
	}
	d.Pick(desk.ThingRef(desk.Dart, now.ID, now.Darts[0].ID), desk.ThingRef(desk.Dart, now.ID, now.Darts[1].ID))
	if g.one[0].Visible() || g.press.SelectedIndex() != int(draft.PressOpen) || g.fold.SelectedIndex() != -1 {
		t.Errorf("name shown %v, pressed %d, folded %d", g.one[0].Visible(), g.press.SelectedIndex(), g.fold.SelectedIndex())
	}
}
