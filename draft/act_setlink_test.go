package draft

import (
	"math"
	"strings"
	"testing"
)

// A facing along the bottom of a square of 80 mm and a stiffener of it have the areas of
// the rectangles that they are, before and after they are set otherwise, and go on
// following.
func TestSetLinkSetsFacingsAndStiffeners(t *testing.T) {
	p := projectOf(square("a", 80, 5))
	out := do(t, p, FaceEdge, "edges=a.e0", "width=20mm")
	face := out.Made
	out = do(t, out.Project, StiffenPiece, "piece=a", "inside=2mm")
	stiff, p := out.Made, out.Project
	area := func(p *Project, id ID, want float64, inside bool, width float64) {
		t.Helper()
		if got := p.Piece(id).DrawnPath().Area(); math.Abs(got-want) > 1e-3 {
			t.Errorf("%s has %v mm², want %v", p.Piece(id).Name, got, want)
		}
		mm, in, ok := p.LinkWidth(p.Piece(id))
		if !ok || in != inside || mm != width {
			t.Errorf("%s: the width is told as %v, inside %v, %v", p.Piece(id).Name, mm, in, ok)
		}
	}
	area(p, face, 80*20, false, 20)
	area(p, stiff, 76*76, true, 2)
	next := do(t, p, SetLink, "pieces="+string(face), "width=35mm").Project
	next = do(t, next, SetLink, "pieces="+string(stiff), "width=5mm").Project
	area(next, face, 80*35, false, 35)
	area(next, stiff, 70*70, true, 5)
	area(p, face, 80*20, false, 20)
	wider := do(t, next, MoveNodes, "nodes=a.e1/start", "by=20mm,0mm").Project
	wider = do(t, wider, MoveNodes, "nodes=a.e1/end", "by=20mm,0mm").Project
	area(wider, face, 100*35, false, 35)
	area(wider, stiff, 90*70, true, 5)
	for _, s := range next.Seams {
		if st, err := NewSlots().SeamState(next, s); err != nil || !st.Holds {
			t.Errorf("seam %s: %+v %v", s.Name, st, err)
		}
	}
}

// The ring of the facing of a hole is as wide as it is set: its area against pi.
func TestSetLinkSetsTheFacingOfAHole(t *testing.T) {
	p := projectOf(square("a", 120, 5))
	p = do(t, p, DrawShape, "shape=oval", "on=a", "from=40mm,40mm", "to=70mm,70mm").Project
	line := p.Pieces[0].Lines[len(p.Pieces[0].Lines)-1]
	out := do(t, p, CutOut, "line=a."+string(line.ID), "facing=12mm")
	var ring *Piece
	for _, q := range out.Project.Pieces[1:] {
		ring = q
	}
	if ring == nil {
		t.Fatal("there is no facing")
	}
	was := ring.DrawnPath().Area()
	now := do(t, out.Project, SetLink, "pieces="+string(ring.ID), "width=18mm").Project.Piece(ring.ID)
	r := math.Sqrt(was / math.Pi)
	if got, want := now.DrawnPath().Area(), math.Pi*(r+6)*(r+6); math.Abs(got-want) > want*1e-3 {
		t.Errorf("the ring has %v mm², want %v", got, want)
	}
}

func TestSetLinkRefusesWhatHasNoWidth(t *testing.T) {
	p := projectOf(square("a", 80, 5))
	out := do(t, p, FaceEdge, "edges=a.e0", "width=20mm")
	copied := do(t, out.Project, TraceCopy, "piece=a", "name=Copy").Project
	for _, c := range []struct{ args, says string }{
		{"pieces=a|width=5mm", "follows no other piece"}, {"pieces=Copy|width=5mm", "neither a facing nor a stiffener"},
		{"pieces=" + string(out.Made) + "|width=0mm", "no width"}, {"pieces=" + string(out.Made) + "|width=200mm", "narrower"},
		{"pieces=" + string(out.Made) + "|width=-2mm", "0 or more"},
	} {
		_, err := SetLink.DoText(copied, argsOf(strings.Split(c.args, "|")))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.args, err, c.says)
		}
	}
}
