package draft

import (
	"testing"

	"hemlet/geom"
)

// Legs of different lengths are a fault that the checks tell; the piece must still
// lie flat, for a drawing under way has them at every step.
func TestDartWithUnequalLegsLiesFlat(t *testing.T) {
	for _, press := range []Press{PressToStart, PressToEnd, PressOpen} {
		for _, apex := range []geom.Point{geom.Pt(50, 30), geom.Pt(46, 31), geom.Pt(57, 20)} {
			p := polygonPiece("dart", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60))
			p.Edges[2].Nodes = append(p.Edges[2].Nodes, Node{ID: "a", At: geom.Pt(60, 60)}, Node{ID: "b", At: geom.Pt(40, 60)})
			p.Darts = []Dart{{ID: "d", Name: "waist", Edge: p.Edges[2].ID, From: "a", To: "b", Apex: apex, Press: press}}
			flat, err := LayFlat(p)
			if err != nil {
				t.Errorf("pressed %v, tip at %v: %v", press, apex, err)
				continue
			}
			line := flat.Edges[2].Line
			for i := 1; i < len(line); i++ {
				if !line[i].P0.Near(line[i-1].P3, 1e-9) {
					t.Errorf("pressed %v, tip at %v: a gap at %v", press, apex, line[i].P0)
				}
			}
		}
	}
}
