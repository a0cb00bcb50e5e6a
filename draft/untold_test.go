package draft_test

import (
	"strings"
	"testing"

	"hemlet/draft"
)

// Strips that are gathered to are known by their names alone; without them and without seams
// they are told of, and named again no more.
func TestUntoldAreTheStripsWithoutNames(t *testing.T) {
	p := asDrawn(fitSmock(t))
	slots := draft.NewSlots()
	says := func(p *draft.Project) string {
		var names []string
		for _, q := range slots.Untold(p) {
			names = append(names, q.Name)
		}
		return strings.Join(names, ", ")
	}
	untold := slots.Untold(p)
	for _, q := range untold {
		if slots.Anatomy(p).Of(q.ID).Part != draft.PartUnknown {
			t.Errorf("%s is told of though it is known", q.Name)
		}
	}
	if len(untold) == 0 {
		t.Fatal("the shape of every piece of the smock tells what it is")
	}
	named := p
	for _, q := range untold {
		out, err := draft.RenamePiece.Do(named, draft.RenamePieceArgs{Piece: draft.PieceRef(q.ID), Name: "Cuff"})
		if err != nil {
			t.Fatal(err)
		}
		named = out.Project
	}
	if got := says(named); got != "" {
		t.Errorf("named, %s are still told of", got)
	}
	for _, q := range untold {
		out, err := draft.RenamePiece.Do(named, draft.RenamePieceArgs{Piece: draft.PieceRef(q.ID), Name: "Pocket"})
		if err != nil {
			t.Fatal(err)
		}
		named = out.Project
	}
	if got := says(named); strings.Contains(got, "Pocket") {
		t.Errorf("trimmings are told of: %s", got)
	}
}
