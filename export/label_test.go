package export

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// laidOnes returns the pieces of a project as they are drawn, by name.
func laidOnes(t testing.TB, p *draft.Project) map[string]*Laid {
	t.Helper()
	all, err := layAll(context.Background(), p, Options{})
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

// band is a piece of 14 mm by a length, all of whose edges are sewn to something.
func band(length float64, upright bool) *draft.Project {
	w, h := length, 14.0
	if upright {
		w, h = h, w
	}
	p, m := draft.New("band"), &maker{}
	piece := &draft.Piece{ID: "p1", Name: "Band", Cut: draft.CutRule{Count: 1}}
	other := &draft.Piece{ID: "p2", Name: "Other", Cut: draft.CutRule{Count: 1}}
	at := []draft.Node{corner(0, 0), corner(w, 0), corner(w, h), corner(0, h)}
	for i, n := range at {
		id := fmt.Sprint(i)
		piece.Edges = append(piece.Edges, m.edge("band."+id, draft.SeamEdge, 6, n))
		n.At = n.At.Mul(3)
		other.Edges = append(other.Edges, m.edge("other."+id, draft.SeamEdge, 6, n))
		p.Seams = append(p.Seams, &draft.Seam{
			ID: draft.ID("s" + id), Ratio: 1, To: 1,
			A: draft.Run{{Piece: "p1", Copy: draft.CopyRef{Number: 1}, Edge: draft.ID("band." + id)}},
			B: draft.Run{{Piece: "p2", Copy: draft.CopyRef{Number: 1}, Edge: draft.ID("other." + id)}},
		})
	}
	p.Pieces = []*draft.Piece{piece, other}
	return p
}

// TestLabelOfANarrowPieceIsCentred: the letters of the seams stand beside the label
// along their edges, and all of them are there.
func TestLabelOfANarrowPieceIsCentred(t *testing.T) {
	for _, upright := range []bool{false, true} {
		for _, length := range []float64{90, 140, 400} {
			for name, l := range laidOnes(t, band(length, upright)) {
				if off := l.Label.bounds().Center().Dist(l.Stitch.Bounds().Center()); l.Label.Leader != nil || off > 0.5 {
					t.Errorf("%s of %g mm, upright %t: the label stands %g mm off the middle", name, length, upright, off)
				}
				if len(l.Notes) != 4 {
					t.Errorf("%s of %g mm, upright %t: %d letters, want 4", name, length, upright, len(l.Notes))
				}
				for i, n := range l.Notes {
					for _, o := range append(l.Label.Lines, l.Notes[i+1:]...) {
						if n.Bounds().Overlaps(o.Bounds()) {
							t.Errorf("%s of %g mm, upright %t: %q runs into %q", name, length, upright, n.Words, o.Words)
						}
					}
				}
			}
		}
	}
}

// TestLettersAreThoseOfTheBench: I and O, which read as figures, are no letters.
func TestLettersAreThoseOfTheBench(t *testing.T) {
	p := band(140, false)
	first := p.Seams[0]
	p.Seams = nil
	for i := range 8 {
		p.Seams = append(p.Seams, &draft.Seam{ID: draft.ID(fmt.Sprint("x", i)), Ratio: 1, To: 1})
	}
	p.Seams = append(p.Seams, first)
	if notes := laidOnes(t, p)["Band"].Notes; len(notes) != 1 || notes[0].Words != "J" || draft.Letter(8) != "J" {
		t.Errorf("the ninth seam bears %v, want J", notes)
	}
}

// TestNotesStayOnThePiece: what is written to a dart or line beside an edge stands
// where it is cloth and off every line.
func TestNotesStayOnThePiece(t *testing.T) {
	m := &maker{}
	p := draft.New("waist")
	piece := &draft.Piece{ID: "p1", Name: "Bodice", Cut: draft.CutRule{Count: 1}}
	waist := m.edge("waist", draft.SeamEdge, 6, corner(0, 0), corner(40, 0), corner(56, 0))
	piece.Edges = []draft.Edge{
		waist, m.edge("side", draft.SeamEdge, 6, corner(100, 0)),
		m.edge("top", draft.SeamEdge, 6, corner(100, 90)), m.edge("middle", draft.SeamEdge, 6, corner(0, 90)),
	}
	piece.Darts = []draft.Dart{{ID: "d1", Name: "waist dart", Edge: "waist", From: waist.Nodes[1].ID, To: waist.Nodes[2].ID, Apex: geom.Pt(48, 40)}}
	piece.Lines = []draft.Line{
		{ID: "l1", Name: "tuck", Kind: draft.PlacementLine, Nodes: []draft.Node{corner(70, 1), corner(90, 1)}},
		{ID: "l2", Name: "loop", Kind: draft.PlacementLine, Nodes: []draft.Node{corner(10, 89), corner(30, 89)}},
	}
	p.Pieces = []*draft.Piece{piece}
	l := laidOnes(t, p)["Bodice"]
	if len(l.Notes) != 3 {
		t.Fatalf("notes %v, want three", l.Notes)
	}
	for _, n := range l.Notes {
		box := n.Bounds()
		if !l.Stitch.Contains(box.Min) || !l.Stitch.Contains(box.Max) {
			t.Errorf("%q stands in %v, off the piece", n.Words, box)
		}
		for _, m := range l.Strokes() {
			for _, c := range m.Chains {
				if len(clip(c, box)) > 0 {
					t.Errorf("%q runs into a %s line", n.Words, m.Role.Class())
				}
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

// TestAllowanceWords: an allowance that no fraction of an inch is stands in
// millimetres, so that nobody stitches at 1/4 in what was cut at 6 mm.
func TestAllowanceWords(t *testing.T) {
	for _, c := range []struct {
		unit  draft.Unit
		width float64
		want  string
	}{
		{draft.InchFraction, 6, "6 mm allowance included"},
		{draft.InchFraction, 6.35, "1/4 in allowance included"},
		{draft.Centimetre, 6, "0.6 cm allowance included"},
		{draft.InchFraction, 0, "no allowance"},
	} {
		piece := tabPiece()
		for i := range piece.Edges {
			piece.Edges[i].Allowance = draft.Even(c.width)
		}
		if got := allowanceWords(piece, c.unit); got != c.want {
			t.Errorf("%g mm in %s reads %q, want %q", c.width, c.unit, got, c.want)
		}
	}
}

// TestAllowanceWidths: several widths stand in the label where that can be said in a
// few words.
func TestAllowanceWidths(t *testing.T) {
	edge := func(name string, kind draft.EdgeKind, start, end float64) draft.Edge {
		return draft.Edge{Name: name, Kind: kind, Allowance: draft.Allowance{Start: start, End: end}}
	}
	seam := func(name string, width float64) draft.Edge { return edge(name, draft.SeamEdge, width, width) }
	hem, fold := edge("hem", draft.HemEdge, 6, 6), edge("centre", draft.FoldEdge, 0, 0)
	for _, c := range []struct {
		unit  draft.Unit
		edges []draft.Edge
		want  string
	}{
		{draft.Millimetre, []draft.Edge{seam("side", 4), hem, seam("neck", 4), fold}, "4 mm; hem 6 mm"},
		{draft.Millimetre, []draft.Edge{seam("side", 4), hem, seam("neck", 3), seam("top", 4)}, "4 mm; hem 6 mm; neck 3 mm"},
		{draft.Millimetre, []draft.Edge{seam("a", 4), seam("neck", 3), seam("arm", 3), seam("b", 4), seam("c", 4)}, "4 mm; neck and arm 3 mm"},
		{draft.Millimetre, []draft.Edge{seam("cap", 5), seam("sleeve seam", 6), seam("hem", 5), seam("sleeve seam 2", 6), seam("b", 5)}, "5 mm; sleeve seams 6 mm"},
		{draft.Millimetre, []draft.Edge{seam("side", 4), edge("first hem", draft.HemEdge, 6, 6), seam("top", 4), edge("second hem", draft.HemEdge, 9, 9)}, "4 mm; first hem 6 mm; second hem 9 mm"},
		{draft.Millimetre, []draft.Edge{seam("side", 4), edge("slit", draft.SeamEdge, 4, 1), seam("top", 4)}, "4 mm; slit 4 mm to 1 mm"},
		{draft.Millimetre, []draft.Edge{seam("side", 0), hem, seam("top", 0)}, "seams none; hem 6 mm"},
		{draft.Millimetre, []draft.Edge{seam("side", 4), edge("", draft.RawEdge, 0, 0), seam("top", 4)}, "4 mm; raw edge none"},
		{draft.Millimetre, []draft.Edge{hem, edge("", draft.CasingEdge, 8, 8), edge("", draft.RawEdge, 0, 0)}, "hem 6 mm; casing 8 mm; raw edge none"},
		{draft.Centimetre, []draft.Edge{seam("side", 4), hem, seam("top", 4)}, "0.4 cm; hem 0.6 cm"},
		{draft.InchFraction, []draft.Edge{seam("side", 6.35), edge("", draft.HemEdge, 13, 13), seam("top", 6.35)}, "1/4 in; hem 13 mm"},
		{draft.Millimetre, []draft.Edge{seam("side", 4), seam("", 3), seam("top", 4)}, ""},
		{draft.Millimetre, []draft.Edge{seam("side", 4), seam("a", 1), seam("b", 2), seam("c", 3), hem, seam("top", 4)}, ""},
		{draft.Millimetre, []draft.Edge{seam("side", 4), seam("a stretch with a name that takes up a whole line", 3), seam("top", 4)}, ""},
	} {
		piece := &draft.Piece{}
		for i, e := range c.edges {
			turn := 2 * math.Pi * float64(i) / float64(len(c.edges))
			e.Nodes = []draft.Node{corner(50*math.Cos(turn), 50*math.Sin(turn))}
			piece.Edges = append(piece.Edges, e)
		}
		if got := allowanceWidths(piece, c.unit); got != c.want {
			t.Errorf("%+v reads %q, want %q", c.edges, got, c.want)
		}
		if got := allowanceWords(piece, c.unit); got != severalAllowances {
			t.Errorf("%+v reads %q in short", c.edges, got)
		}
	}
}

// TestTrimWords: who sews must find on the piece what is trimmed afterwards.
func TestTrimWords(t *testing.T) {
	edge := func(name string, width, trim float64) draft.Edge {
		return draft.Edge{Name: name, Allowance: draft.Allowance{Start: width, End: width, TrimTo: trim}}
	}
	fold := draft.Edge{Kind: draft.FoldEdge}
	for _, c := range []struct {
		edges []draft.Edge
		want  string
	}{
		{[]draft.Edge{edge("side", 6, 0), edge("neck", 6, 0)}, ""},
		{[]draft.Edge{edge("side", 6, 0), edge("neck", 6, 3), fold}, "once sewn trim neck to 3 mm"},
		{[]draft.Edge{edge("long", 6, 3), edge("end", 6, 3), fold}, "once sewn trim all to 3 mm"},
		{[]draft.Edge{edge("cap", 6, 3), edge("end", 6, 3), edge("end 2", 6, 3), edge("x", 6, 0)}, "once sewn trim cap and ends to 3 mm"},
		{[]draft.Edge{edge("cap", 6, 3), edge("hem", 6, 4), edge("x", 6, 0)}, "once sewn trim cap to 3 mm; hem to 4 mm"},
		{[]draft.Edge{edge("", 6, 3), edge("hem", 6, 3), edge("x", 6, 0)}, "once sewn trim 2 edges to 3 mm"},
	} {
		piece := &draft.Piece{Edges: c.edges}
		if got := trimWords(piece, draft.Millimetre); got != c.want {
			t.Errorf("%+v reads %q, want %q", c.edges, got, c.want)
		}
	}
}

// A trimmed edge is told on the label, be the widths all one or not.
func TestTrimStandsOnTheLabel(t *testing.T) {
	for _, width := range []float64{8, 6} {
		p := draft.New("strip")
		piece := strip(6)
		p.Pieces = []*draft.Piece{piece}
		for i := range piece.Edges {
			piece.Edges[i].Allowance = draft.Even(8)
		}
		piece.Edges[0].Allowance = draft.Allowance{Start: width, End: width, TrimTo: 3}
		says := strings.Join(linesOf(laidOnes(t, p)["Strip"]), " ")
		if want := "once sewn trim low to 3 mm"; !strings.Contains(says, want) {
			t.Errorf("of a low edge of %g mm the label says %q", width, says)
		}
	}
}

// TestAllowanceWidthsWhereTheyFit: a large piece bears them, a small one says as much as
// it has room for.
func TestAllowanceWidthsWhereTheyFit(t *testing.T) {
	const words = "allowances included: 8 mm; low 6 mm"
	full, short := 0, 0
	for size := 1.0; size > 0.2; size *= 0.95 {
		p := draft.New("strip")
		piece := strip(6)
		p.Pieces = []*draft.Piece{piece}
		for i := range piece.Edges {
			piece.Edges[i].Nodes[0].At = piece.Edges[i].Nodes[0].At.Mul(size)
			if i > 0 {
				piece.Edges[i].Allowance = draft.Even(8)
			}
		}
		l := laidOnes(t, p)["Strip"]
		if says := strings.Join(linesOf(l), " "); strings.Contains(says, words) {
			full++
		} else {
			short++
		}
		if l.Label.Leader != nil {
			break
		}
	}
	if full < 2 || short == 0 {
		t.Errorf("%d labels tell the widths, %d do not", full, short)
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
