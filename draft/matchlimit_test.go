package draft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// pointed is a round piece of four edges with n points, as a file from outside may have it.
func pointed(name string, n int, radius float64) *Piece {
	p := &Piece{ID: ID(name), Name: name, Cut: CutRule{Way: CutSingle, Count: 1}}
	for i := range n {
		if i%(n/4) == 0 {
			p.Edges = append(p.Edges, Edge{ID: ID(fmt.Sprintf("%s.e%d", name, i)), Name: fmt.Sprintf("e%d", len(p.Edges)), Allowance: Even(5)})
		}
		e := &p.Edges[len(p.Edges)-1]
		at := 2 * math.Pi * float64(i) / float64(n)
		e.Nodes = append(e.Nodes, Node{ID: ID(fmt.Sprintf("%s.n%d", name, i)), At: geom.Pt(radius*math.Cos(at), radius*math.Sin(at))})
	}
	return p
}

// Outlines with more points than can be worked out are refused at once, with what to do.
func TestMatchingIsBounded(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	p := sewnUp(t, projectOf(pointed("A", 4000, 100), pointed("B", 4000, 103)), [3]string{"s", "A.e0", "B.e0"})
	for _, act := range []string{"match-seam", "match-seams"} {
		args := map[string]string{}
		if act == "match-seam" {
			args["seam"] = "s"
		}
		if _, err := p.Do(Mend{Act: act, Args: args}); err == nil || !strings.Contains(err.Error(), "points would move") {
			t.Errorf("%s: %v", act, err)
		}
	}
}
