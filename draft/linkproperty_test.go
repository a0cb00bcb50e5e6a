package draft_test

import (
	"reflect"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
)

// linkedWorkshop is the workshop with a lining, a facing, an opening, a stiffener and a
// mirrored part, some of them of each other. It is made once, as nothing changes it.
var linkedWorkshop = sync.OnceValues(func() (*draft.Project, error) {
	p, err := theWorkshop()
	if err != nil {
		return nil, err
	}
	for _, step := range []struct {
		act  string
		args map[string]string
	}{
		{"line-piece", map[string]string{"piece": "front"}},
		{"face-edge", map[string]string{"edges": "front.neck", "width": "5mm"}},
		{"stiffener", map[string]string{"piece": "Front neck facing", "inside": "0.5mm"}},
		{"trace-copy", map[string]string{"piece": "back", "from": "back.side@50%", "to": "back.centre@50%", "mirrored": "yes"}},
		{"line-piece", map[string]string{"piece": "Back part"}},
		{"cut-out", map[string]string{"edge": "back.centre@40%", "width": "6mm", "height": "3mm", "facing": "3mm"}},
	} {
		act, err := draft.ActNamed(step.act)
		if err != nil {
			return nil, err
		}
		out, err := act.DoText(p, step.args)
		if err != nil {
			return nil, err
		}
		p = out.Project
	}
	return p, nil
})

// Whatever is done to parents: a linked piece that nobody has touched is what its parent
// makes of it, or a finding says that it is not.
func TestLinkedPiecesFollowOrSaySo(t *testing.T) {
	done, told := make(map[string]int), 0
	rapid.Check(t, func(t *rapid.T) {
		p, err := linkedWorkshop()
		if err != nil {
			t.Fatal(err)
		}
		names := []string{
			"move-nodes", "insert-node", "corner-node", "delete-node", "smooth-node", "move-handle", "set-measure", "name-edge", "add-notch", "set-allowance",
			"set-kind", "set-cut", "link-seam", "unlink-seam", "rename-piece", "delete-notch", "delete-piece", "keep-piece", "set-lining", "set-choice", "mirror-piece", "split-piece",
		}
		slots := draft.NewSlots()
		for range rapid.IntRange(1, 12).Draw(t, "acts") {
			act, err := draft.ActNamed(rapid.SampledFrom(names).Draw(t, "act"))
			if err != nil {
				t.Fatal(err)
			}
			texts, ok := drawArgs(t, p, act)
			if !ok {
				continue
			}
			if act.Info().Name == "set-measure" {
				texts = map[string]string{"wearer": "Quill", "name": "bust_girth", "value": rapid.SampledFrom([]string{"225mm", "240mm", "231mm"}).Draw(t, "bust")}
			}
			out, err := act.DoText(p, texts)
			if err != nil {
				continue
			}
			done[act.Info().Name]++
			if err := draft.Validate(out.Project); err != nil {
				t.Fatalf("%s %v: %v", act.Info().Name, texts, err)
			}
			checkLineage(t, p, out)
			p = out.Project
			behind := make(map[draft.ID]bool)
			for _, f := range slots.Check(p).Findings {
				if strings.HasSuffix(f.Key, "/behind") || strings.HasSuffix(f.Key, "/older") {
					behind[f.Piece] = true
				}
			}
			for _, piece := range p.Pieces {
				if p.ParentOf(piece) == nil || piece.ByHand() {
					continue
				}
				if behind[piece.ID] {
					told++
					continue
				}
				anew, err := draft.RedrawPiece.Do(p, draft.RedrawPieceArgs{Pieces: []draft.PieceRef{draft.PieceRef(piece.ID)}})
				if err != nil {
					t.Fatalf("after %s %v, %s: %v", act.Info().Name, texts, piece.Name, err)
				}
				if !reflect.DeepEqual(anew.Project.Piece(piece.ID).Edges, piece.Edges) {
					t.Fatalf("after %s %v, %s is not what it would be, and nothing says so", act.Info().Name, texts, piece.Name)
				}
			}
		}
	})
	t.Logf("done %v, told %d", done, told)
	if len(done) < 15 && !testing.Short() {
		t.Errorf("only %v were done", done)
	}
}
