package draft_test

import (
	"fmt"
	"math"
	"testing"

	"hemlet/draft"
)

// skirtHalf returns half a skirt or one leg of trousers, drawn for this test: its edges named
// as they run.
func skirtHalf(t *testing.T, name, path string, edges ...string) *draft.Project {
	t.Helper()
	p := mustRun(t, draft.New("winter show"), "draw-piece", "line="+path, "name="+name)
	for i, e := range p.Pieces[0].Edges {
		p = mustRun(t, p, "name-edge", fmt.Sprintf("edge=%q.%q", p.Pieces[0].ID, e.ID), "name="+edges[i])
	}
	return p
}

// What hangs from the waist is altered there: it rises over a belly or the root of a tail,
// and sinks behind for a sway back.
func TestAlterWhatHangs(t *testing.T) {
	const skirt = "M 0 0 L 150 0 L 120 300 L 0 300 Z"
	const leg = "M 20 0 L 120 0 L 130 200 L 125 420 L 0 420 C 0 380 -10 330 -50 310 Z"
	for _, c := range []struct {
		name, path string
		edges      []string
		what       draft.Alteration
		up, out    float64 // of the waist at the centre, of the side at the belly, as shares
	}{
		{"Skirt front", skirt, []string{"hem", "side", "waist", "centre front"}, draft.AlterBelly, 0.5, 0.5},
		{"Skirt back", skirt, []string{"hem", "side", "waist", "centre back"}, draft.AlterTail, 0.5, 0.5},
		{"Skirt back", skirt, []string{"hem", "side", "waist", "centre back"}, draft.AlterSwayBack, -1, 0},
		{"Trouser back", leg, []string{"ankle", "side", "side above", "waist", "crotch", "inside leg"}, draft.AlterSwayBack, -1, 0},
	} {
		p := skirtHalf(t, c.name, c.path, c.edges...)
		for _, by := range [...]float64{12, -8} {
			after := alteredTo(t, p, c.what, by)
			was, now := p.Pieces[0], after.Pieces[0]
			a := pieceAltered(t, p, after, c.name)
			waist := a.edge("waist")
			a.about("the waist goes up at the centre", now.EdgePath(waist).End().Y-was.EdgePath(waist).End().Y, c.up*by)
			if off := now.EdgePath(waist).Start().Dist(was.EdgePath(waist).Start()); off > stayBar {
				t.Errorf("%s, %s: the waist moved by %.3f mm at the side", c.name, c.what, off)
			}
			if a.edges["hem"] == 0 && c.edges[0] == "hem" {
				a.about("the side goes out at the hem", now.EdgePath(0).End().X-was.EdgePath(0).End().X, c.out*by)
			}
			if got := a.grew("waist"); math.Abs(got) > math.Abs(by)/6 {
				t.Errorf("%s, %s: the waist got %.2f mm longer", c.name, c.what, got)
			}
		}
	}
}
