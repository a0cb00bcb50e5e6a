package bench

import (
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// The label lies clear of darts and the grain line, unless the maker has put it there.
func TestLabelAvoidsDarts(t *testing.T) {
	p := project(t, 1).Pieces[0]
	q := *p
	q.Place = draft.Placement{}
	centre := q.DrawnPath().Bounds().Center()
	a, b := q.Edges[0].Nodes[0], q.Edges[1].Nodes[0]
	apex := centre.Add(geom.Pt(0, 6))
	q.Darts = []draft.Dart{{ID: "d", Edge: q.Edges[0].ID, From: a.ID, To: b.ID, Apex: apex}}
	q.LabelAt = &centre
	q.Derived = &draft.Derived{Rest: &draft.Rest{LabelAt: &centre}}
	d := &pieceDrawing{body: newBody(draft.NewSlots(), &q)}
	at, room := d.labelPlace()
	half := room / 2 / labelShare
	for _, s := range d.inTheWay(at.Y, d.labelBand()) {
		if at.X+half > s.from+0.01 && at.X-half < s.to-0.01 {
			t.Errorf("the label from %.1f to %.1f lies over what reaches from %.1f to %.1f", at.X-half, at.X+half, s.from, s.to)
		}
	}
	if at == centre || room <= 0 {
		t.Errorf("the label stays at %v with %.1f mm of room", at, room)
	}
	q.Derived = nil
	if at, room := (&pieceDrawing{body: newBody(draft.NewSlots(), &q)}).labelPlace(); at != centre || room <= 0 {
		t.Errorf("the label leaves the place that the maker chose for %v", at)
	}
}

// The line under the name lies clear of a level line, too.
func TestLabelLiesBetweenLevels(t *testing.T) {
	q := *project(t, 1).Pieces[0]
	q.Place = draft.Placement{}
	box := q.DrawnPath().Bounds()
	// A level just below the middle, where the second line would be.
	y := box.Center().Y - 0.07*box.H()
	q.Lines = []draft.Line{{ID: "l", Name: "waist", Nodes: []draft.Node{{ID: "l1", At: geom.Pt(box.Min.X, y)}, {ID: "l2", At: geom.Pt(box.Max.X, y)}}}}
	d := &pieceDrawing{body: newBody(draft.NewSlots(), &q)}
	at, room := d.labelPlace()
	if band := d.labelBand(); room <= 0 || at.Y-band.down < y && y < at.Y+band.up {
		t.Errorf("the label at %v with %.1f mm of room lies on the level at %v", at, room, y)
	}
}

// The letters of two edges that meet in a narrow corner do not lie on one another.
func TestLettersStepAside(t *testing.T) {
	out, err := draft.ImportOutlines.Do(draft.New("test"), draft.ImportOutlinesArgs{Outlines: []draft.Outline{{
		Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(200, -8), geom.Pt(200, 8)), Corner: []bool{true, true, true},
	}}})
	if err != nil {
		t.Fatal(err)
	}
	q := out.Project.Pieces[0]
	marks := seamMarks{q.Edges[0].ID: {{"A", 0.65}}, q.Edges[2].ID: {{"B", 0.35}}}
	d := &pieceDrawing{body: newBody(draft.NewSlots(), q)}
	d.spots = append(d.spots, d.place.Apply(q.EdgePath(0).At(q.EdgePath(0).AtLength(130)).Add(geom.Pt(0, letterDeep))))
	if got := d.aside(2, q.EdgePath(2).Length(), marks[q.Edges[2].ID][0].share); got == 0.35 {
		t.Error("the second letter stays on the first")
	}
	if got := d.aside(2, q.EdgePath(2).Length(), 0.8); got != 0.8 {
		t.Errorf("a letter that is clear of others goes from 0.8 to %v", got)
	}
}
