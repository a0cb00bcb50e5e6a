package draft

import (
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// flaredSkirt is a panel with a straight hem and a curved, slanting waist that meets the
// middle square.
func flaredSkirt(way CutWay, grain *Grain, flare float64) *Project {
	p := polygonPiece("skirt", 6, geom.Pt(0, 0), geom.Pt(150+flare, 0), geom.Pt(150, 260), geom.Pt(0, 235))
	name(p, "hem", "side", "waist", "middle")
	p.Edges[2].Nodes[0].Out, p.Edges[3].Nodes[0].In = geom.Pt(-60, -15), geom.Pt(50, 0)
	p.Cut = CutRule{Way: way, Count: 1}
	if way == CutOnFold {
		p.Edges[3].Kind, p.Edges[3].Allowance = FoldEdge, Even(0)
	}
	p.Grain = grain
	return projectOf(p)
}

// Cloth that is put in as wide at both ends parts square to the fold, even on a piece so
// flared that slashes run far from it; else square to the grain, along a straight hem, or
// square to a straight edge beside. The hem stays one straight line, what meets the middle
// square does so still, and pleats run as the fold does.
func TestPartingFollowsFoldGrainAndStraightEdges(t *testing.T) {
	upright := &Grain{geom.Pt(80, 40), geom.Pt(80, 200)}
	bias := &Grain{geom.Pt(40, 40), geom.Pt(120, 120)}
	for name, p := range map[string]*Project{
		"fold": flaredSkirt(CutOnFold, nil, 70), "wide fold": flaredSkirt(CutOnFold, nil, 400), "fold and bias grain": flaredSkirt(CutOnFold, bias, 70),
		"grain": flaredSkirt(CutPairs, upright, 70), "bias grain": flaredSkirt(CutPairs, bias, 70), "hem": flaredSkirt(CutPairs, nil, 70),
	} {
		for _, args := range []string{
			"add-fullness edge=skirt.waist amount=30mm way=parallel",
			"add-fullness edge=skirt.hem amount=30mm way=parallel",
			"add-fullness edge=skirt.hem amount=30mm way=parallel from=20% to=60%",
			"slash-spread edge=skirt.waist amount=10mm count=3 way=parallel",
			"add-pleats edge=skirt.waist count=3 depth=6mm",
			"add-pleats edge=skirt.hem count=3 depth=6mm",
			"add-tucks edge=skirt.waist count=3 depth=3mm",
		} {
			words := strings.Fields(args)
			q := mustDo(t, p, words[0], words[1:]...).Project.Pieces[0]
			for _, s := range q.EdgePath(0) {
				if math.Abs(s.P0.Y) > 1e-5 || math.Abs(s.P3.Y) > 1e-5 {
					t.Errorf("%s, %s: the hem runs from %v to %v", name, args, s.P0, s.P3)
				}
			}
			waist := q.EdgePath(2)
			if u := waist[len(waist)-1].Tangent(1); math.Abs(u.Y) > 1e-6 {
				t.Errorf("%s, %s: the waist meets the middle in the direction %v", name, args, u)
			}
			for _, d := range q.Darts {
				m, _ := q.mouthAt(&d)
				if u := d.Apex.Sub(m.middle()).Unit(); math.Abs(u.X) > 1e-6 {
					t.Errorf("%s, %s: a fold runs in the direction %v", name, args, u)
				}
			}
		}
	}
	// Both hem and waist curved: square to the side, which is straight.
	p := polygonPiece("skirt", 6, geom.Pt(0, 0), geom.Pt(220, 20), geom.Pt(150, 260), geom.Pt(0, 235))
	name(p, "hem", "side", "waist", "middle")
	p.Edges[2].Nodes[0].Out, p.Edges[3].Nodes[0].In = geom.Pt(-60, -15), geom.Pt(50, 0)
	p.Edges[0].Nodes[0].Out, p.Edges[1].Nodes[0].In = geom.Pt(80, 0), geom.Pt(-60, -25)
	q := mustDo(t, projectOf(p), "add-pleats", "edge=skirt.hem", "count=3", "depth=6mm").Project.Pieces[0]
	for _, d := range q.Darts {
		m, _ := q.mouthAt(&d)
		if u := d.Apex.Sub(m.middle()).Unit(); math.Abs(u.X) > 1e-6 {
			t.Errorf("a fold runs in the direction %v", u)
		}
	}
}

// What lies at the fold stays put, and the grain is parallel to the fold still, however
// far the piece is spread; without a fold the cloth at the grain stays.
func TestGrainStaysAsTheFoldDoes(t *testing.T) {
	for _, act := range []string{"add-fullness edge=skirt.hem amount=90mm", "add-fullness edge=skirt.waist amount=-40mm", "slash-spread edge=skirt.hem amount=25mm count=4"} {
		words := strings.Fields(act)
		for way, says := range map[CutWay]string{CutOnFold: "The side with the fold stays", CutPairs: "The cloth at the grain line stays"} {
			p := flaredSkirt(way, &Grain{geom.Pt(80, 40), geom.Pt(80, 200)}, 70)
			out := mustDo(t, p, words[0], words[1:]...)
			q := out.Project.Pieces[0]
			if u := q.Grain.To.Sub(q.Grain.From); math.Abs(u.X) > 1e-6 || math.Abs(u.Y-160) > 1e-6 {
				t.Errorf("%s: the grain runs along %v", act, u)
			}
			if outline := q.DrawnPath(); !outline.Contains(q.Grain.From) || !outline.Contains(q.Grain.To) {
				t.Errorf("%s: the grain lies outside", act)
			}
			if fold := q.EdgePath(3); way == CutOnFold && math.Abs(fold.Start().X)+math.Abs(fold.End().X) > 1e-6 {
				t.Errorf("%s: the fold moved: %v", act, fold)
			}
			if all := strings.Join(out.Says, " "); !strings.Contains(all, says) {
				t.Errorf("%s says %q, not %q", act, all, says)
			}
		}
	}
}

// What lies in the way of a slash is named, with the way out.
func TestWhatIsInTheWayOfASlashIsNamedWithTheWayOut(t *testing.T) {
	for given, want := range map[string]string{"dart": ": dart lies in the way", "dart 2": ": dart 2 lies in the way", "bust dart": ": bust dart lies in the way", "bust": "dart bust lies in the way"} {
		p := mustDo(t, strip(), "add-dart", "edge=strip.right", "at=50%", "intake=30mm", "length=190mm").Project
		p.Pieces[0].Darts[0].Name = given
		for _, act := range []string{"add-fullness edge=strip.hem amount=20mm from=20%", "add-pleats edge=strip.hem count=5 depth=4mm", "slash-spread edge=strip.hem amount=10mm at=160mm"} {
			words := strings.Fields(act)
			mustRefuse(t, p, want, words[0], words[1:]...)
			mustRefuse(t, p, "take it out or pivot it elsewhere, or choose From and To beside it", words[0], words[1:]...)
		}
	}
	p := mustDo(t, strip(), "add-dart", "edge=strip.top", "at=50%", "intake=30mm", "length=90mm").Project
	mustRefuse(t, p, "dart lies in the way", "add-pleats", "edge=strip.hem", "count=5", "depth=4mm")
	p = mustDo(t, strip(), "insert-godet", "at=strip.hem@50%", "depth=90mm", "width=60mm").Project
	mustRefuse(t, p, "before a godet is let in", "add-pleats", "edge=strip.top", "count=5", "depth=4mm")
}
