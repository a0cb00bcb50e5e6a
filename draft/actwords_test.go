package draft

import (
	"strings"
	"testing"

	"hemlet/geom"
)

// What an act says about lengths it says in the project's unit.
func TestActsSpeakInTheUnitOfTheProject(t *testing.T) {
	p := bodice()
	p.Unit = InchFraction
	p.Pieces[1].Edges[0].Allowance = Even(MMPerInch / 2)
	out := mustDo(t, p, "smooth-node", "nodes=back.side/start")
	if says := strings.Join(out.Says, " "); !strings.Contains(says, "from 1/2 in to ") || strings.Contains(says, "mm") {
		t.Errorf("says %q", says)
	}
	mustRefuse(t, p, "is cut 1/4 in wide and cannot be trimmed to 1 in", "set-allowance", "edges=back.side", "trim=1in")
	mustRefuse(t, p, "cannot be 100 in", "set-allowance", "edges=back.side", "width=100in")
	mustRefuse(t, p, "is 2 5/32 in long, so that there is no place at 10 in", "add-notch", "edge=back.hem", "at=10in")
	p.Pieces[1].Edges[1].Nodes[0].Out = geom.Pt(20, 30)
	mustRefuse(t, p, "bends by 11/32 in", "set-kind", "edges=back.side", "kind=fold")
	square := Outline{Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(20, 0), geom.Pt(20, 20), geom.Pt(0, 20)), Corner: []bool{true, true, true, true}}
	_, err := ImportOutlines.Do(p, ImportOutlinesArgs{Outlines: []Outline{square}, Line: CutDrawn, Allowance: MMPerInch})
	if err == nil || !strings.Contains(err.Error(), "about 13/32 in is the most") || strings.Contains(err.Error(), "mm") {
		t.Errorf("error %v", err)
	}
}

// A length that is shown as longer than the edge by rounding alone is the end of
// the edge, and the notch is there.
func TestNotchAtTheLengthThatIsShown(t *testing.T) {
	p := bodice()
	p.Pieces[1].Edges[1].Nodes[0].At.X = 54.96 // the hem is shown as 55 mm
	out := mustDo(t, p, "add-notch", "edge=back.hem", "at=55mm")
	if n := out.Project.Pieces[1].Notches[0]; n.At != 54.96 {
		t.Errorf("the notch is at %g mm, want the end at 54.96", n.At)
	}
	mustRefuse(t, p, "no place", "add-notch", "edge=back.hem", "at=55.1mm")
}
