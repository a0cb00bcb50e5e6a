package draft_test

import (
	"maps"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/drafttest"
)

// standStill in mm is within which a notch of a mark stays where it is: what a commit keeps.
const standStill = 1e-6

// An act that has nothing to do with seams leaves the notches of all marks where they are, on
// odd seams too: those that sew an edge to itself in another copy, or go along one twice.
func TestMarksStandStill(t *testing.T) {
	marked := 0
	rapid.Check(t, func(t *rapid.T) {
		p := draft.MarksKept(sewn(drafttest.Project(t)))
		if rapid.IntRange(0, 4).Draw(t, "workshop") == 0 {
			p = workshop(t)
		}
		for range 3 {
			var hidden []draft.PieceRef
			for _, piece := range p.Pieces {
				if rapid.Bool().Draw(t, "hidden") {
					hidden = append(hidden, draft.PieceRef(piece.ID))
				}
			}
			if len(hidden) == 0 {
				return
			}
			out, err := draft.HidePieces.Do(p, draft.ShowPiecesArgs{Pieces: hidden})
			if err != nil {
				t.Fatal(err)
			}
			marked += marksStand(t, p, out.Project)
			p = out.Project
		}
	})
	if marked < 20 && !testing.Short() {
		t.Errorf("only %d notches of marks were looked at", marked)
	}
}

// Both sides of a seam come to lie on one edge, in both copies and run against each other, so
// that a mark has two places there. The notch that is at one of them stays, though it is not
// that of its side; that of the other edge goes to the other place, and there they stand.
func TestMarksOfAnEdgeSewnToItself(t *testing.T) {
	p, err := theWorkshop()
	if err != nil {
		t.Fatal(err)
	}
	p = mustRun(t, p, "link-seam", "a=p15.hem", "b=p15.neck", "name=odd", "ends=as given")
	p = mustRun(t, p, "add-seam-mark", "seam=odd", "at=40%")
	back := func() map[draft.ID]markPlace { return marksOn(p.Pieces[1]) }
	onHem := p.Seams[len(p.Seams)-1].Marks[0].ID + ".a"
	onNeck := p.Seams[len(p.Seams)-1].Marks[0].ID + ".b"
	hem := back()[onHem]
	if hem.at != 24 || back()[onNeck].edge == "" || back()[onNeck].edge == hem.edge {
		t.Fatalf("the notches lie at %v", back())
	}
	p = mustRun(t, p, "edit-seam", "seam=odd", "a=p15.hem/left/reversed", "b=p15.hem")
	now := back()
	if now[onHem] != hem || now[onNeck] != (markPlace{hem.edge, 36}) {
		t.Errorf("at 40 %% of the hem of 60 mm from either end lie %v and %v", now[onHem], now[onNeck])
	}
	for _, act := range []string{"hide-pieces", "show-pieces"} {
		p = mustRun(t, p, act, "pieces=p15")
		if again := back(); !maps.Equal(now, again) {
			t.Errorf("after %s the notches lie at %v, not at %v", act, again, now)
		}
	}
}

// marksStand fails where a notch of a mark lies elsewhere than before, or is new or gone, and
// returns how many there are.
func marksStand(t *rapid.T, before, after *draft.Project) int {
	t.Helper()
	count := 0
	for k, piece := range after.Pieces {
		was := marksOn(before.Pieces[k])
		for id, n := range marksOn(piece) {
			count++
			old, ok := was[id]
			if !ok || old.edge != n.edge || !(math.Abs(old.at-n.at) <= standStill) {
				t.Fatalf("piece %s: the notch %s of a mark lies at %v, not at %v", piece.ID, id, n, old)
			}
		}
		if len(was) != len(marksOn(piece)) {
			t.Fatalf("piece %s has lost a notch of a mark", piece.ID)
		}
	}
	return count
}

// markPlace is where a notch lies: in mm from the start of its edge.
type markPlace struct {
	edge draft.ID
	at   float64
}

// marksOn returns where the notches of marks lie on a piece.
func marksOn(p *draft.Piece) map[draft.ID]markPlace {
	places := make(map[draft.ID]markPlace)
	for _, n := range p.Notches {
		if _, i := p.Edge(n.Edge); n.Mark != "" && i >= 0 {
			places[n.ID] = markPlace{n.Edge, n.Along(p.EdgeLength(i))}
		}
	}
	return places
}
