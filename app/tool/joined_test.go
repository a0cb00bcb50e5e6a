package tool

import (
	"strings"
	"testing"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// joined is two pieces whose sides are sewn, upwards from the hem: that of the first slants
// by a third outwards below, that of the second is upright.
func joined(t *testing.T) (*Hand, *Joined) {
	t.Helper()
	outline := func(x, out float64) draft.Outline {
		return draft.Outline{
			Path:   geom.Polygon(geom.Pt(x, 0), geom.Pt(x+60+out, 0), geom.Pt(x+60, 80), geom.Pt(x, 80)),
			Corner: []bool{true, true, true, true},
		}
	}
	out, err := draft.ImportOutlines.Do(draft.New("test"), draft.ImportOutlinesArgs{Outlines: []draft.Outline{outline(0, 14.1061), outline(100, 0)}, Allowance: 5})
	if err != nil {
		t.Fatal(err)
	}
	p := out.Project
	run := func(piece, k int, reversed bool) draft.Run {
		return draft.Run{{Piece: p.Pieces[piece].ID, Edge: p.Pieces[piece].Edges[k].ID, Copy: draft.CopyRef{Number: 1}, Reversed: reversed}}
	}
	linked, err := draft.LinkSeam.Do(p, draft.LinkSeamArgs{A: run(0, 1, false), B: run(1, 3, true), Name: "side", Ends: draft.EndsAsGiven})
	if err != nil {
		t.Fatal(err)
	}
	h := &Hand{Desk: desk.New(linked.Project), Say: func(text string) { t.Log(text) }}
	return h, NewJoined(h, linked.Made, draft.EdgeStart)
}

// 14.1061 mm over 80 mm is a slope of ten degrees (closed form), which makes the line below
// stick out and that above sink in.
func TestJoinedSaysHowTheLineRunsOn(t *testing.T) {
	_, j := joined(t)
	ends := 0
	j.OnEnd = func() { ends++ }
	for _, want := range []struct {
		end  draft.EdgeEnd
		word string
	}{{draft.EdgeStart, "a point of 10°"}, {draft.EdgeFinish, "a dip of 10°"}} {
		if j.Go(want.end); j.End() != want.end {
			t.Fatalf("shown is the %s", j.End())
		}
		m := j.Marks().Joint
		if m == nil || m.Word != want.word || m.Stands != JointKinked || len(m.Laid) != 2 || len(m.Seams) != 2 {
			t.Errorf("at the %s: %+v, want %s of two pieces", want.end, m, want.word)
		}
		told, ok := j.Tells()
		if !ok || !strings.Contains(told.Says, want.word) || told.Title != "A: side" {
			t.Errorf("at the %s it says %+v", want.end, told)
		}
		if box := m.Box(); !box.Contains(m.At) || box.W() > 200 || box.H() > 200 {
			t.Errorf("shown is %v round %v", box, m.At)
		}
	}
	if ends != 1 {
		t.Errorf("%d changes of the end are told, want 1", ends)
	}
}

// The keys lead from end to end and move nothing; Escape lays everything back.
func TestJoinedTakesTheKeys(t *testing.T) {
	h, j := joined(t)
	before := h.Desk.Project()
	if !j.Arrow(geom.Pt(1, 0)) || j.End() != draft.EdgeFinish {
		t.Error("Right does not lead to the end")
	}
	if !j.Leap(LeapStart) || j.End() != draft.EdgeStart {
		t.Error("Home does not lead to the start")
	}
	back := false
	h.Back = func() { back = true }
	if !j.Cancel() || !back || h.Desk.Project() != before {
		t.Error("Escape does not lay back, or something has changed")
	}
}

// A line that is drawn into one is told as smooth, and a seam that is gone as none.
func TestJoinedFollowsTheDocument(t *testing.T) {
	h, j := joined(t)
	if err := desk.Run(h.Desk, draft.SmoothJoint, draft.SmoothJointArgs{Seam: draft.SeamRef(j.Seam()), End: draft.EdgeStart}); err != nil {
		t.Fatal(err)
	}
	if m := j.Marks().Joint; m == nil || m.Stands != JointSmooth || !strings.HasPrefix(m.Word, "smooth") {
		t.Errorf("smoothed it is %+v", m)
	}
	if err := desk.Run(h.Desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: []draft.SeamRef{draft.SeamRef(j.Seam())}}); err != nil {
		t.Fatal(err)
	}
	if _, ok := j.Tells(); ok || j.Marks().Any() {
		t.Error("a seam that is gone is shown")
	}
}

// Tenths of a degree are told where they matter.
func TestDegreeWords(t *testing.T) {
	for degrees, want := range map[float64]string{19.2: "19°", -6.25: "6.2°", 0.04: "0.0°", 42: "42°"} {
		if got := degreeWords(degrees); got != want {
			t.Errorf("%g is told as %s, want %s", degrees, got, want)
		}
	}
}
