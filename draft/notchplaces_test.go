package draft_test

import (
	"math"
	"testing"

	"hemlet/draft"
)

// Of the smock at the size of a puppet, no two matching notches along a gathered edge lie so
// near to each other that two single ones read as a double one; a person's has all of them.
func TestNotchesOfAPuppetAreToldApart(t *testing.T) {
	marks := map[float64]int{}
	for _, scale := range []float64{0.14, 0.21, 1} {
		p, _ := asFitted(t, grownSmock(t), scale, "360mm")
		p = doText(t, p, "notch-seams", nil)
		for _, seam := range p.Seams {
			if seam.Fullness != draft.Gathers {
				continue
			}
			marks[scale] += len(seam.Marks)
			for i, a := range seam.Marks {
				for _, b := range seam.Marks[:i] {
					if d := nearest(p, a.ID, b.ID); d < 2*draft.NotchSpacing {
						t.Errorf("at %g, seam %s: notches %g mm apart", scale, seam.ID, d)
					}
				}
			}
		}
	}
	if marks[0.14] >= marks[1] || marks[0.14] == 0 {
		t.Errorf("gathered seams have %v notches", marks)
	}
}

// nearest returns how near in mm to each other notches of two marks lie on one edge.
func nearest(p *draft.Project, a, b draft.ID) float64 {
	near := math.Inf(1)
	for _, piece := range p.Pieces {
		for _, m := range piece.Notches {
			for _, n := range piece.Notches {
				if m.Mark == a && n.Mark == b && m.Edge == n.Edge {
					_, i := piece.Edge(m.Edge)
					length := piece.EdgeLength(i)
					near = min(near, math.Abs(m.Along(length)-n.Along(length)))
				}
			}
		}
	}
	return near
}
