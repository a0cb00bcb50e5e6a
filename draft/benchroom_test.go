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

// What is new lies right beside its source where there is room, and never on another.
func TestNewPiecesLieNearTheirSource(t *testing.T) {
	square := func(x, y, size float64) lyingPiece {
		line := geom.Polygon(geom.Pt(x, y), geom.Pt(x+size, y), geom.Pt(x+size, y+size), geom.Pt(x, y+size))
		return lyingPiece{line, line.Bounds()}
	}
	var room benchRoom
	room.add(square(0, 0, 100))
	room.add(square(1000, 0, 100)) // far away
	for i := range 8 {
		source := square(0, 0, 100)
		way := room.nearest(source.box)
		// Of equal squares eight have room round one, in steps of their size and the gap.
		if most := 1.5 * (100 + benchGap); way.Len() > most {
			t.Errorf("copy %d lies %v away", i, way)
		}
		copied := source.moved(way)
		if room.covered(copied) || room.crowded(geom.Pt(copied.box.Min.X, copied.box.Max.Y), copied.box) {
			t.Errorf("copy %d lies on another or too near, at %v", i, copied.box)
		}
		room.add(copied)
	}
}
