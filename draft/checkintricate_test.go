package draft

import (
	"math"
	"testing"

	"hemlet/geom"
)

// A sound outline that is too intricate for a cut line is not said to enclose
// nothing.
func TestCheckOfAnIntricateOutline(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	piece := polygonPiece("burr", 6, geom.Pt(250, 0))
	edge := &piece.Edges[0]
	const spines = 6000
	for i := 1; i < 2*spines; i++ {
		a := math.Pi * float64(i) / spines
		at := geom.Pt(math.Cos(a), math.Sin(a)).Mul(250 - 150*float64(i%2))
		edge.Nodes = append(edge.Nodes, Node{ID: ID("n" + string(rune(0x1000+i))), At: at})
	}
	r := NewSlots().Check(projectOf(piece))
	if len(findingsAbout(r, "/cut line")) != 1 || len(findingsAbout(r, "/outline")) != 0 {
		t.Errorf("findings %v", r.Findings)
	}
}
