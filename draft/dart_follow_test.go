package draft

import (
	"math"
	"strings"
	"testing"
)

// blockFor drafts the small vest, whose front has a dart at the hem, for a wearer.
func blockFor(t *testing.T) *Project {
	t.Helper()
	p := New("winter show")
	p = mustDo(t, p, "add-wearer", "name=Quill").Project
	for _, m := range []string{"bust_girth=240mm", "waist_girth=200mm", "back_waist_length=90mm"} {
		name, value, _ := strings.Cut(m, "=")
		p = mustDo(t, p, "set-measure", "wearer=Quill", "name="+name, "value="+value).Project
	}
	out, err := DraftBlock.Do(p, DraftBlockArgs{Block: "vest.toml", Wearer: WearerRef(p.Wearers[0].ID), Text: vest})
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

func dartedPiece(t *testing.T, p *Project) (*Piece, DartRef) {
	t.Helper()
	for _, q := range p.Pieces {
		if len(q.Darts) > 0 {
			return q, DartRef{q.ID, q.Darts[0].ID}
		}
	}
	t.Fatal("no piece has a dart")
	return nil, DartRef{}
}

// What an act did to a piece of a block is there again when a measure changes, and gone
// with nothing lost when it changes back; or the piece stays and the findings tell why.
func TestActsOnBlocksAreCarriedOrTold(t *testing.T) {
	base := blockFor(t)
	piece, dart := dartedPiece(t, base)
	edge := func(name string) string { return `"` + string(piece.ID) + `".` + name }
	for _, c := range []struct {
		act  string
		args []string
	}{
		{"add-fullness", []string{"edge=" + edge("hem"), "amount=20mm", "across=" + edge("shoulder")}},
		{"pivot-dart", []string{"dart=" + base.DartText(dart), "to=" + edge("side") + "@40%", "share=0.5"}},
		{"pivot-dart", []string{"dart=" + base.DartText(dart), "to=" + edge("side") + "@40%"}},
		{"absorb-dart", []string{"darts=" + base.DartText(dart)}},
		{"move-dart", []string{"dart=" + base.DartText(dart), "length=15mm"}},
		{"add-dart", []string{"edge=" + edge("side"), "at=50%", "intake=5mm", "length=12mm"}},
		{"add-pleats", []string{"edge=" + edge("shoulder"), "across=" + edge("hem"), "count=1", "depth=2mm"}},
	} {
		act, err := ActNamed(c.act)
		if err != nil {
			t.Fatal(err)
		}
		out, err := act.DoText(base, pairs(c.args))
		if err != nil {
			t.Errorf("%s %v: %v", c.act, c.args, err)
			continue
		}
		mine := out.Project.Piece(piece.ID)
		if mine.Derived == nil {
			t.Errorf("%s: the piece no longer follows its block", c.act)
			continue
		}
		changed := mustDo(t, out.Project, "set-measure", "wearer=Quill", "name=bust_girth", "value=252mm").Project
		now := changed.Piece(piece.ID)
		if now == mine {
			told := false
			for _, f := range NewSlots().Check(changed).Findings {
				told = told || f.Level != Remark && strings.Contains(f.Key, string(piece.ID))
			}
			if !told {
				t.Errorf("%s: the piece stayed as it was and nothing tells", c.act)
			}
			t.Logf("%s %v: told", c.act, c.args)
			continue
		}
		t.Logf("%s %v: carried", c.act, c.args)
		back := mustDo(t, changed, "set-measure", "wearer=Quill", "name=bust_girth", "value=240mm").Project.Piece(piece.ID)
		for i := range mine.Edges {
			if _, k := back.Edge(mine.Edges[i].ID); k < 0 || math.Abs(back.EdgeLength(k)-mine.EdgeLength(i)) > 1e-3 {
				t.Errorf("%s: edge %s came back as %g, was %g", c.act, mine.Edges[i].label(), back.EdgeLength(max(k, 0)), mine.EdgeLength(i))
			}
		}
		if len(back.Darts) != len(mine.Darts) || len(back.Stretches) != len(mine.Stretches) {
			t.Errorf("%s: %d darts and %d stretches came back as %d and %d", c.act, len(mine.Darts), len(mine.Stretches), len(back.Darts), len(back.Stretches))
		}
	}
}
