package draft

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// A corner that is moved by a vector is told by its length, whatever is moved on the bench
// besides.
func TestMovementOfACorner(t *testing.T) {
	p := projectOf(polygonPiece("Front", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60)))
	rapid.Check(t, func(t *rapid.T) {
		by := geom.Pt(rapid.Float64Range(-9, 9).Draw(t, "across"), rapid.Float64Range(-9, 9).Draw(t, "up"))
		q := p.Pieces[0].clone()
		at := &q.Edges[2].Nodes[0].At
		*at = at.Add(by)
		q.Place.At.X += 300
		if got := Movement(p, p.withPiece(q)); math.Abs(got-by.Len()) > 1e-9 {
			t.Fatalf("moved by %g, told as %g", by.Len(), got)
		}
	})
}

func TestMovementOfACurve(t *testing.T) {
	p := projectOf(polygonPiece("Front", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60)))
	name(p.Pieces[0], "hem", "side", "top", "middle")
	out := doneAct(t, p, "bend-edge", "edge=Front.hem", "at=50%", "to=50mm,-8mm")
	if got := Movement(p, out.Project); math.Abs(got-8) > 0.02*8 {
		t.Errorf("an edge that was pulled by 8 mm moved by %g", got)
	}
	if got := Movement(p, p); got != 0 {
		t.Errorf("what is the same moved by %g", got)
	}
	if got := Movement(p, New("other")); got != 0 {
		t.Errorf("what is gone moved by %g", got)
	}
}

func TestDoAMend(t *testing.T) {
	p := panel(CutPairs)
	out, err := p.Do(Mend{Title: "Hem the middle", Act: "set-kind", Args: map[string]string{"edges": "Back.middle", "kind": "hem"}})
	if err != nil || out.Project.Pieces[1].Edges[1].Kind != HemEdge {
		t.Errorf("%v", err)
	}
	if _, err := p.Do(Mend{Act: "mend-everything"}); err == nil {
		t.Error("an act that there is none of was done")
	}
}
