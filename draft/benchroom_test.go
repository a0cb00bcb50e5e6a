package draft

import (
	"testing"

	"hemlet/geom"
)

// Sizes nested in one another, as on a printed sheet, all lie at one place: each
// gets room of its own, in rows that a cutting table can hold.
func TestNestedPiecesAreLaidInRows(t *testing.T) {
	const n, side = 300, 400.
	outlines := make([]Outline, n)
	for i := range outlines {
		path := geom.Polygon(geom.Pt(0, 0), geom.Pt(side, 0), geom.Pt(side, side), geom.Pt(0, side))
		outlines[i] = Outline{Path: path, Corner: []bool{true, true, true, true}}
	}
	out, err := ImportOutlines.Do(New("nest"), ImportOutlinesArgs{Outlines: outlines, Allowance: 5})
	if err != nil {
		t.Fatal(err)
	}
	var boxes []geom.Rect
	all := geom.EmptyRect()
	for _, p := range out.Project.Pieces {
		box := p.lineOnBench().box
		for k, other := range boxes {
			if box.Overlaps(other) {
				t.Fatalf("piece %d lies on piece %d", len(boxes), k)
			}
		}
		boxes = append(boxes, box)
		all = all.Union(box)
	}
	if all.W() > benchRow+2*side {
		t.Errorf("the rows are %g mm wide", all.W())
	}
}

func TestPiecesThatDoNotOverlapStay(t *testing.T) {
	square := func(x float64) Outline {
		return Outline{
			Path:   geom.Polygon(geom.Pt(x, 0), geom.Pt(x+50, 0), geom.Pt(x+50, 50), geom.Pt(x, 50)),
			Corner: []bool{true, true, true, true},
		}
	}
	out, err := ImportOutlines.Do(New("two"), ImportOutlinesArgs{Outlines: []Outline{square(0), square(100)}, Allowance: 5})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range out.Project.Pieces {
		if p.Place != (Placement{}) {
			t.Errorf("%s was moved to %+v", p.Name, p.Place)
		}
	}
}
