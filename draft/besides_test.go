package draft_test

import (
	"math"
	"strings"
	"testing"

	"hemlet/draft"
)

// sideTooLong returns the smock as it is traced, its sides alone sewn and the front's 5 mm
// too long at the hem, with the seam.
func sideTooLong(t *testing.T) (*draft.Project, *draft.Seam) {
	t.Helper()
	p := asDrawn(fitSmock(t))
	for _, s := range draft.NewSlots().SuggestSeams(p) {
		a, b := partOf(p, s.A[0]), partOf(p, s.B[0])
		if a != draft.AtSide || b != draft.AtSide {
			continue
		}
		out, err := draft.LinkSeam.Do(p, draft.LinkSeamArgs{A: s.A, B: s.B, Ends: draft.EndsAsGiven, Ratio: 1, To: 1})
		if err != nil {
			t.Fatal(err)
		}
		p = out.Project
		seam := p.Seam(out.Made)
		piece := p.Piece(seam.A[0].Piece)
		_, i := piece.Edge(seam.A[0].Edge)
		from, to := piece.EdgePath(i)[0].P0, piece.EdgePath(i)[len(piece.EdgePath(i))-1].P3
		node := piece.Edges[i].Nodes[0].ID
		if to.Y < from.Y { // the hem is below
			from, to = to, from
			node = piece.Edges[(i+1)%len(piece.Edges)].Nodes[0].ID
		}
		down := from.Sub(to).Mul(5 / from.Dist(to))
		out, err = draft.MoveNodes.Do(p, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: piece.ID, Node: node}}, By: draft.Vector{X: down.X, Y: down.Y}})
		if err != nil {
			t.Fatal(err)
		}
		return out.Project, seam
	}
	t.Fatal("no side is suggested")
	return nil, nil
}

func partOf(p *draft.Project, u draft.EdgeUse) draft.EdgePart {
	return draft.NewSlots().Anatomy(p).Edge(u.Piece, u.Edge).Part
}

// armholes returns the lengths of the armholes in mm, piece by piece.
func armholes(p *draft.Project) []float64 {
	var list []float64
	for _, pa := range draft.NewSlots().Anatomy(p).Pieces {
		for _, i := range pa.With(draft.AtArmhole) {
			list = append(list, pa.Piece.EdgeLength(i))
		}
	}
	return list
}

// The first mend of a side gives way at the hem, and leaves the armhole, to which nothing is
// sewn yet, as it is.
func TestFirstMendOfASideLeavesTheArmhole(t *testing.T) {
	p, seam := sideTooLong(t)
	before := armholes(p)
	if len(before) == 0 {
		t.Fatal("the smock has no armholes")
	}
	for _, f := range draft.NewSlots().Check(p).Findings {
		if f.Seam != seam.ID || len(f.Mends) == 0 {
			continue
		}
		out, err := p.Do(f.Mends[0])
		if err != nil {
			t.Fatal(err)
		}
		for i, was := range before {
			if now := armholes(out.Project)[i]; math.Abs(now-was) > draft.MatchedTo {
				t.Errorf("%q makes an armhole of %.2f mm %.2f long", f.Mends[0].Title, was, now)
			}
		}
		return
	}
	t.Fatal("the side is not found to be too long")
}

// What a mend changes besides its seam is told: forced to give at its upper end, the side
// changes the armhole.
func TestMendTellsWhatItChangesBesides(t *testing.T) {
	p, seam := sideTooLong(t)
	for _, end := range []draft.EdgeEnd{draft.EdgeStart, draft.EdgeFinish} {
		before := armholes(p)
		out, err := draft.MatchSeam.Do(p, draft.MatchSeamArgs{Seam: draft.SeamRef(seam.ID), Gives: draft.GiveB, End: &end, To: 1})
		if err != nil {
			t.Fatal(err)
		}
		changed := false
		for i, was := range before {
			changed = changed || math.Abs(armholes(out.Project)[i]-was) > 0.1
		}
		says := strings.Join(out.Says, " ")
		back := p.Piece(seam.B[0].Piece)
		_, i := back.Edge(seam.B[0].Edge)
		if len(out.Besides) == 0 || !strings.Contains(says, out.Besides[0]) {
			t.Errorf("with the side %s of %v giving it tells %q", back.Edges[i].Name, end, says)
		}
		told := strings.Join(out.Besides, ", ")
		for _, pa := range draft.NewSlots().Anatomy(p).Pieces {
			for _, k := range pa.With(draft.AtArmhole) {
				if pa.Piece == back && changed != strings.Contains(told, back.Edges[k].Name+" of "+back.Name) {
					t.Errorf("the armhole changes: %t, and it tells %q", changed, told)
				}
			}
		}
	}
}
