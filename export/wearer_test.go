package export

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/store"
)

// also drafts the bodice for one more of the wearers that come with the program.
func also(t *testing.T, p *draft.Project, wearer string) *draft.Project {
	t.Helper()
	w, _, err := store.LoadWearer(filepath.Join("..", "assets", "samples", wearer+".toml"))
	if err != nil {
		t.Fatal(err)
	}
	added, err := draft.AddWearerFrom.Do(p, draft.AddWearerFromArgs{Wearer: w})
	if err != nil {
		t.Fatal(err)
	}
	made, err := draft.DraftBlock.Do(added.Project, draft.DraftBlockArgs{Block: "bodice", Wearer: draft.WearerRef(added.Made)})
	if err != nil {
		t.Fatal(err)
	}
	return made.Project
}

// linesOf returns the words of a label.
func linesOf(l *Laid) []string {
	var out []string
	for _, t := range l.Label.words() {
		out = append(out, t.Words)
	}
	return out
}

// TestPiecesSayForWhomTheyAre: in every format each of four pieces of two names bears
// the wearer of its own derivation.
func TestPiecesSayForWhomTheyAre(t *testing.T) {
	p := also(t, bodice(t, "quill"), "tansy")
	all, err := layAll(context.Background(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != 4 {
		t.Fatalf("%d pieces, want 4", len(all))
	}
	want := []string{"Quill", "Quill", "Tansy", "Tansy"}
	svg := string(encode(t, p, Options{Format: SVG}))
	plain := ezdxf(t, encode(t, p, Options{Format: DXF})).Spaces[""]
	numbered := ezdxf(t, encode(t, p, Options{Format: DXF, DXF: D6673}))
	for i, l := range all {
		says := "for " + want[i]
		if lines := linesOf(l); len(lines) < 2 || lines[1] != says {
			t.Errorf("piece %d bears %q, want %q below its name", i, lines, says)
		}
		if mark := fmt.Sprintf("data-id=%q data-revision=%q", l.Piece.ID, l.Revision); !strings.Contains(svg, mark) {
			t.Errorf("no group of the SVG has %s", mark)
		} else if _, rest, _ := strings.Cut(svg, mark); !strings.Contains(rest[:strings.Index(rest, ">")], fmt.Sprintf("data-wearer=%q", want[i])) {
			t.Errorf("the group of piece %d is not marked for %s", i, want[i])
		}
		area, found := cutArea(t, l.Piece), 0
		for _, w := range plain.Within {
			if math.Abs(w.Area-area) < 1e-4*area && strings.HasPrefix(w.Text, "for ") {
				found++
				if w.Text != says {
					t.Errorf("the outline of piece %d holds %q", i, w.Text)
				}
			}
		}
		if found != 1 {
			t.Errorf("%d texts within the outline of piece %d name a wearer", found, i)
		}
		if text := strings.Join(numbered.Spaces[numbered.Inserts[i]].Texts, "\n"); !strings.Contains(text, "Annotation: "+says+"\n") {
			t.Errorf("block %s says %q", numbered.Inserts[i], text)
		}
	}
	names := make(map[string]bool)
	for _, l := range all {
		names[fmt.Sprintf("%s (rev %s)", l.title(), l.Revision)] = true
	}
	if got := onPages(t, p); got != len(names) || got != 4 {
		t.Errorf("the heads of the pages name %d pieces with their wearers, want 4", got)
	}
}

// onPages counts the pieces that the heads of the pages name with their wearers.
func onPages(t *testing.T, p *draft.Project) int {
	t.Helper()
	plan, err := LayPages(context.Background(), p, Options{Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, page := range plan.Pages {
		head := strings.Join(pageNames(page), " ")
		for _, l := range page.Pieces {
			wearer := "For " + l.Wearer + ": "
			own := fmt.Sprintf("%s for %s (rev %s)", l.Piece.Name, l.Wearer, l.Revision)
			plain := fmt.Sprintf("%s (rev %s)", l.Piece.Name, l.Revision)
			if strings.HasPrefix(head, wearer) && strings.Contains(head, plain) || strings.Contains(head, own) {
				n++
			}
		}
	}
	return n
}

// TestHeadNamesTheWearer: once for a page where all is for one, at each piece where it
// is not, and nowhere where pieces are for nobody.
func TestHeadNamesTheWearer(t *testing.T) {
	piece := func(name, wearer string) *Laid {
		return &Laid{Piece: &draft.Piece{Name: name}, Revision: "1", Wearer: wearer}
	}
	for want, page := range map[string]Page{
		"For Quill: Front (rev 1), Back (rev 1)":           {Pieces: []*Laid{piece("Front", "Quill"), piece("Back", "Quill")}},
		"Front for Quill (rev 1), Front for Tansy (rev 1)": {Pieces: []*Laid{piece("Front", "Quill"), piece("Front", "Tansy")}},
		"Front for Quill (rev 1), Lamp (rev 1)":            {Pieces: []*Laid{piece("Front", "Quill"), piece("Lamp", "")}},
		"Lamp (rev 1)":                                     {Pieces: []*Laid{piece("Lamp", "")}},
		"page map and squares; no piece":                   {},
	} {
		if got := strings.Join(pageNames(page), " "); got != want {
			t.Errorf("the head says %q, want %q", got, want)
		}
	}
	text := string(run(t, "pdftotext", "-raw", pdfFile(t, bodice(t, "quill"), Options{}), "-"))
	if !strings.Contains(text, "For Quill: Front (rev") || strings.Count(text, "for Quill") != 2 {
		t.Errorf("the page does not name Quill at its head and on both pieces:\n%s", text)
	}
}

// TestSmallPieceSaysForWhomItIs: in one line, and beside the piece, a reader of plain
// DXF still finds the name by itself.
func TestSmallPieceSaysForWhomItIs(t *testing.T) {
	p := bodice(t, "quill")
	followed := p.Pieces[0].Derived
	tab, narrow := tabPiece(), strip(3)
	tab.Derived = followed
	narrow.ID, narrow.Name, narrow.Derived = "p9", "Binding", followed
	for i := range narrow.Edges {
		narrow.Edges[i].Nodes[0].At.Y *= 0.12
	}
	small := *p
	small.Pieces, small.Seams = []*draft.Piece{tab, narrow}, nil
	all := laidOnes(t, &small)
	if got := linesOf(all["Binding"]); len(got) != 1 || !strings.HasPrefix(got[0], "Binding, for Quill, cut 1, rev ") {
		t.Errorf("the binding bears %q", got)
	}
	if got := linesOf(all["Shoulder tab"]); all["Shoulder tab"].Label.Leader == nil || got[1] != "for Quill" {
		t.Errorf("beside the tab stands %q", got)
	}
	seen := make(map[string]int)
	for _, w := range ezdxf(t, encode(t, &small, Options{Format: DXF})).Spaces[""].Within {
		seen[w.Text]++
	}
	if seen["Shoulder tab"] != 1 || seen["Binding"] != 1 {
		t.Errorf("texts within the outlines: %v", seen)
	}
}
