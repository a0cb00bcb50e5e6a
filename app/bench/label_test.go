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
