package export

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// laidOnes returns the pieces of a project as they are drawn, by name.
func laidOnes(t testing.TB, p *draft.Project) map[string]*Laid {
	t.Helper()
	all, err := layAll(context.Background(), p, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	out := make(map[string]*Laid)
	for _, l := range all {
		out[l.Piece.Name] = l
	}
	return out
}

// TestLabelsKeepClear: no label crosses a line of its piece or a note, and those
// without a leader lie inside the stitching line.
func TestLabelsKeepClear(t *testing.T) {
	for name, l := range laidOnes(t, wardrobe()) {
		for _, line := range l.Label.Lines {
			box := line.Bounds()
			for _, m := range l.Strokes() {
				for _, c := range m.Chains {
					if m.Role != Leader && len(clip(c, box)) > 0 {
						t.Errorf("%s: %q runs into a %s line", name, line.Words, m.Role.Class())
					}
				}
			}
			for _, note := range l.Notes {
				if note.Bounds().Overlaps(box) {
					t.Errorf("%s: %q runs into %q", name, line.Words, note.Words)
				}
			}
			if inside := l.Stitch.Contains(box.Center()); inside == (l.Label.Leader != nil) {
				t.Errorf("%s: %q lies inside: %t, with a leader: %t", name, line.Words, inside, l.Label.Leader != nil)
			}
			if line.Size < smallestLetters*0.85-1e-9 {
				t.Errorf("%s: %q is set at %g mm", name, line.Words, line.Size)
			}
		}
	}
}

func TestLeaderPointsIntoThePiece(t *testing.T) {
	tab := laidOnes(t, wardrobe())["Shoulder tab"]
	if tab.Label.Leader == nil {
		t.Fatal("the tab has room for its label?")
	}
	if !tab.Stitch.Contains(tab.Label.Leader.Start()) || tab.Cut.Contains(tab.Label.Leader.End()) {
		t.Errorf("the leader runs from %v to %v", tab.Label.Leader.Start(), tab.Label.Leader.End())
	}
}

func TestLabelStandsWhereItsMakerWantsIt(t *testing.T) {
	p := wardrobe()
	at := geom.Pt(200, 60)
	p.Pieces[4].LabelAt = &at
	box := laidOnes(t, p)["Cloak"].Label.bounds()
	if !box.Contains(at) || box.Center().Dist(at) > 3 {
		t.Errorf("the label lies in %v, want it about %v", box, at)
	}
}

// TestSeamLetters: the same letter stands on every edge of a seam and nowhere else.
func TestSeamLetters(t *testing.T) {
	want := map[string]map[string]int{
		"Back": {"A": 2, "B": 2, "C": 2}, "Front": {"A": 1, "B": 1, "C": 1}, "Sleeve": {"C": 1}, "Cloak": {},
	}
	for name, l := range laidOnes(t, wardrobe()) {
		got := make(map[string]int)
		for _, n := range l.Notes {
			if n.Strong {
				got[n.Words]++
				if !l.Stitch.Contains(n.Bounds().Center()) {
					t.Errorf("%s: letter %s lies outside", name, n.Words)
				}
			}
		}
		for _, letter := range []string{"A", "B", "C", "D"} {
			if got[letter] != want[name][letter] {
				t.Errorf("%s bears %s %d times, want %d", name, letter, got[letter], want[name][letter])
			}
		}
	}
}

func TestRuleWords(t *testing.T) {
	for want, rule := range map[string]draft.CutRule{
		"cut 2":                 {Way: draft.CutSingle, Count: 2},
		"cut 4, mirrored":       {Way: draft.CutPairs, Count: 2},
		"cut 1, drawn unfolded": {Way: draft.CutOnFold, Count: 1},
	} {
		if got := ruleWords(rule); got != want {
			t.Errorf("%+v reads %q, want %q", rule, got, want)
		}
	}
}

func TestWrap(t *testing.T) {
	got := strings.Join(wrap("  one two  three four-and-a-half five ", 10), "|")
	if want := "one two|three|four-and-a-half|five"; got != want {
		t.Errorf("wrapped as %q, want %q", got, want)
	}
}

// BenchmarkPDF prints a project of 200 pieces on A4.
func BenchmarkPDF(b *testing.B) {
	p := wardrobe()
	pieces := p.Pieces
	p.Pieces = nil
	for i := range 200 {
		q := *pieces[i%len(pieces)]
		q.ID, q.Name = draft.ID(fmt.Sprintf("p%d", i)), fmt.Sprintf("%s %d", q.Name, i)
		p.Pieces = append(p.Pieces, &q)
	}
	for b.Loop() {
		var out bytes.Buffer
		if _, err := Encode(context.Background(), &out, p, Options{Format: PDF, Clock: clock}); err != nil {
			b.Fatal(err)
		}
	}
}
