package draft

import (
	"fmt"
	"math"
	"testing"

	"hemlet/geom"
)

// The two edges of one straight line that a point parts run the same way bit for bit, though
// their ends lie on the grid: two directions that differ by rounding would hold the point
// where it is, or have it run off for the last millionth of a millimetre of what is wanted.
func TestHalvesOfALineRunTheSameWay(t *testing.T) {
	p := New("rails")
	lean := 0.4223 * math.Pi / 180
	on := func(far float64) string {
		return fmt.Sprintf("%.6f %.6f ", -far*math.Sin(lean), far*math.Cos(lean))
	}
	p = mustDo(t, p, "draw-piece", "name=back", "line=M "+on(0)+"L 90 0 L 90 160 L "+on(167.745321)+"L "+on(86.25)+"Z").Project
	back := p.Pieces[0]
	var same []float64
	g := newMatching(p).take(back)
	for i := range back.Edges {
		u := g.nodes[g.end(i)].At.Sub(g.nodes[g.first[i]].At)
		if math.Abs(u.X) < 2 && u.Y < 0 {
			same = append(same, u.Unit().X)
		}
	}
	if len(same) != 2 || same[0] == same[1] {
		t.Fatalf("the halves run by %v: nothing to hold", same)
	}
	var ways []geom.Point
	for _, r := range g.warpRails(nil) {
		if r.Along.Y < 0 {
			ways = append(ways, r.Along)
		}
	}
	if len(ways) != 2 || ways[0] != ways[1] {
		t.Errorf("the rails of the two halves run by %.12f", ways)
	}
}
