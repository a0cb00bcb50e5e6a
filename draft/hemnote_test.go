package draft_test

import (
	"strings"
	"testing"

	"hemlet/draft"
)

// What nobody called a hem is one all the same where the garment ends: a note moves all of it.
func TestHemsOfATracedPatternMoveWhole(t *testing.T) {
	p := asDrawn(fitSmock(t))
	a := draft.NewSlots().Anatomy(p)
	seen := map[draft.EdgePart]bool{}
	for _, pa := range a.Pieces {
		for _, i := range pa.With(draft.AtHem, draft.AtWrist, draft.AtSide) {
			part, e := pa.Edges[i].Part, pa.Piece.Edges[i]
			amount := draft.Length(8)
			out, err := draft.AddToileNote.Do(p, draft.AddToileNoteArgs{Edge: draft.EdgeRef{pa.Piece.ID, e.ID}, At: draft.EdgePlace{At: 0.5, Share: true}, To: draft.EdgePlace{At: 1, Share: true}, From: draft.EdgePlace{Share: true}, Amount: &amount})
			if err != nil {
				t.Fatal(err)
			}
			n := out.Project.Notes[0]
			if hem := part != draft.AtSide; n.Whole != hem || strings.HasPrefix(out.Project.NoteSays(n), "up 8") != hem {
				t.Errorf("at a %s: %s", part, out.Project.NoteSays(n))
			}
			seen[part] = true
		}
	}
	if !seen[draft.AtHem] || !seen[draft.AtWrist] || !seen[draft.AtSide] {
		t.Errorf("the smock has only %v", seen)
	}
}
