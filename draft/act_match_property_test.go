package draft_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/geom"
)

// sewnBlocks are garments of the built-in blocks for Quill, as far as they have seams.
var sewnBlocks = sync.OnceValues(func() ([]*draft.Project, error) {
	shop, err := theWorkshop()
	if err != nil {
		return nil, err
	}
	var list []*draft.Project
	for _, block := range []string{"bodice", "shirt-1916", "drawstring-bag"} {
		q := draft.New(block)
		q.Wearers, q.NextID = shop.Wearers, shop.NextID
		out, err := draft.DraftBlock.Do(q, draft.DraftBlockArgs{Block: block, Wearer: draft.WearerRef(q.Wearers[0].ID)})
		if err != nil {
			return nil, err
		}
		if len(out.Project.Seams) > 0 {
			list = append(list, out.Project)
		}
	}
	return append(list, shop), nil
})

// jolted moves some points of some outlines by up to 2 mm, so that seams come apart.
func jolted(t *rapid.T, p *draft.Project) *draft.Project {
	for range rapid.IntRange(1, 6).Draw(t, "points") {
		piece := anyOf(t, p.Pieces, "piece")
		edge := anyOf(t, piece.Edges, "edge")
		node := anyOf(t, edge.Nodes, "node")
		by := geom.Pt(rapid.Float64Range(-2, 2).Draw(t, "x"), rapid.Float64Range(-2, 2).Draw(t, "y"))
		out, err := draft.MoveNodes.Do(p, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: piece.ID, Node: node.ID}}, By: draft.Vector(by)})
		if err == nil {
			p = out.Project
		}
	}
	return p
}

// diffs returns by how much each seam is off, in mm.
func diffs(p *draft.Project) map[draft.ID]float64 {
	slots := draft.NewSlots()
	off := make(map[draft.ID]float64)
	for _, s := range p.Seams {
		if st, err := slots.SeamState(p, s); err == nil {
			off[s.ID] = st.Diff
		}
	}
	return off
}

// After a seam is matched it holds to a hundredth of a millimetre, or the act says that
// it does not; every other seam is as it was, or the act says that it is not; pieces that
// are not part of it are the same; outlines that did not cross themselves do not.
func TestMatchedSeamsHold(t *testing.T) {
	garments, err := sewnBlocks()
	if err != nil {
		t.Fatal(err)
	}
	var done, missed, refused int
	rapid.Check(t, func(t *rapid.T) {
		p := jolted(t, anyOf(t, garments, "garment"))
		was := diffs(p)
		var off []*draft.Seam
		for _, s := range p.Seams {
			if math.Abs(was[s.ID]) > draft.MatchedTo {
				off = append(off, s)
			}
		}
		if len(off) == 0 {
			return
		}
		var out draft.Outcome
		var err error
		targets := off
		if rapid.Bool().Draw(t, "together") {
			var refs []draft.SeamRef
			for _, s := range off {
				refs = append(refs, draft.SeamRef(s.ID))
			}
			out, err = draft.MatchSeams.Do(p, draft.MatchSeamsArgs{Seams: refs})
		} else {
			s := anyOf(t, off, "seam")
			targets = []*draft.Seam{s}
			args := draft.MatchSeamArgs{
				Seam:  draft.SeamRef(s.ID),
				Gives: anyOf(t, []draft.Giving{draft.GiveBoth, draft.GiveA, draft.GiveB}, "gives"),
				Way:   anyOf(t, []draft.MatchWay{draft.MoveEnd, draft.BendSide, draft.SpreadSide}, "way"),
			}
			if rapid.Bool().Draw(t, "end") {
				end := anyOf(t, []draft.EdgeEnd{draft.EdgeStart, draft.EdgeFinish}, "which end")
				args.End = &end
			}
			if rapid.Bool().Draw(t, "stretch") {
				args.From = rapid.Float64Range(0, 0.5).Draw(t, "from")
				args.To = rapid.Float64Range(0.6, 1).Draw(t, "to")
			}
			out, err = draft.MatchSeam.Do(p, args)
		}
		if err != nil {
			refused++
			return
		}
		done++
		said := strings.Join(out.Says, "\n")
		now := diffs(out.Project)
		for _, s := range out.Project.Seams {
			if slices.ContainsFunc(targets, func(x *draft.Seam) bool { return x.ID == s.ID }) {
				if math.Abs(now[s.ID]) <= draft.MatchedTo {
					continue
				}
				missed++
				if !strings.Contains(said, fmt.Sprintf("Seam %s is still off", s.Name)) {
					t.Fatalf("seam %s is off by %g and was by %g: %q", s.Name, now[s.ID], was[s.ID], out.Says)
				}
				continue
			}
			if math.Abs(now[s.ID]-was[s.ID]) > draft.MatchedTo && !strings.Contains(said, fmt.Sprintf("Seam %s cannot stay", s.Name)) && !strings.Contains(said, fmt.Sprintf("Seam %s matches with that", s.Name)) {
				t.Fatalf("seam %s was off by %g and is by %g: %q", s.Name, was[s.ID], now[s.ID], out.Says)
			}
		}
		checkOutlines(t, p, out.Project, targets)
	})
	t.Logf("%d done, %d seams missed and told, %d refused", done, missed, refused)
	if done < 20 && !testing.Short() || missed > done/50+2 {
		t.Errorf("of %d that were done %d were missed", done, missed)
	}
}

// checkOutlines looks at what must not change: pieces that the seams do not sew and that
// follow none of them, the line of a fold, and that no outline crosses itself.
func checkOutlines(t *rapid.T, before, after *draft.Project, targets []*draft.Seam) {
	touched := make(map[draft.ID]bool)
	for _, s := range targets {
		for _, u := range slices.Concat(s.A, s.B) {
			touched[u.Piece] = true
		}
	}
	for _, q := range after.Pieces {
		p := before.Piece(q.ID)
		follows := touched[q.ID]
		for parent := before.ParentOf(p); parent != nil; parent = before.ParentOf(parent) {
			follows = follows || touched[parent.ID]
		}
		if !follows {
			// A notch may have gone with its partner on another piece.
			if !reflect.DeepEqual(q.Edges, p.Edges) || !reflect.DeepEqual(q.Darts, p.Darts) {
				t.Fatalf("%s changed", q.Name)
			}
			continue
		}
		if q.DrawnPath().Simple() != nil && p.DrawnPath().Simple() == nil {
			t.Fatalf("%s crosses itself", q.Name)
		}
		i := p.FoldEdge()
		k := q.FoldEdge()
		if i < 0 || k < 0 || p == q {
			continue
		}
		fold := p.EdgePath(i)
		u := fold.End().Sub(fold.Start()).Unit()
		for _, at := range []geom.Point{q.EdgePath(k).Start(), q.EdgePath(k).End()} {
			if by := at.Sub(fold.Start()).Cross(u); math.Abs(by) > 1e-5 {
				t.Fatalf("the fold of %s leaves its line by %g mm", q.Name, by)
			}
		}
	}
}
