package draft_test

import (
	"math"
	"testing"

	"hemlet/draft"
)

// A smock that lay askew on the scanner by less than half a degree keeps that angle to the
// grain when it is fitted: its pieces do not swing.
func TestFittedPiecesDoNotSwing(t *testing.T) {
	const skew = 0.4 * math.Pi / 180
	p := moved(loosely(t), skew, false)
	p = bodyOf(t, acted(t, p, "take-spans").Project, "Quill", 1, hedgehog...)
	turn := func(p *draft.Project, piece int) float64 {
		q := p.Pieces[piece]
		nodes := q.EdgeNodes(len(q.Edges) - 1) // the middle of the body
		way := nodes[len(nodes)-1].At.Sub(nodes[0].At)
		return math.Atan(way.Cross(q.GrainWay())/way.Dot(q.GrainWay())) * 180 / math.Pi
	}
	fitted := done(t, p, "fit-pattern", "wearer", "Quill")
	for i, name := range []string{"front", "back"} {
		if was, now := turn(p, i), turn(fitted, i); math.Abs(math.Abs(was)-0.4) > 0.05 || math.Abs(now-was) >= 0.1 {
			t.Errorf("the middle of the %s lay %.2f degrees off the grain and lies %.2f off it", name, was, now)
		}
	}
}
