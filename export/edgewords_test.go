package export

import (
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// said returns the notes of a copy that are no letters, joined, and checks that each
// stands on the piece, off its lines and off other words.
func said(t *testing.T, l *Laid) string {
	t.Helper()
	var words []string
	for i, n := range l.Notes {
		if !l.Stitch.Contains(n.slab().centre()) {
			t.Errorf("%s: %q stands off the piece", l.Piece.Name, n.Words)
		}
		for _, m := range l.Strokes() {
			for _, c := range m.Chains {
				if n.slab().crosses(c) {
					t.Errorf("%s: %q runs into a %s line", l.Piece.Name, n.Words, m.Role.Class())
				}
			}
		}
		for _, o := range append(l.Label.Lines, l.Notes[i+1:]...) {
			if n.slab().meets(o.slab()) {
				t.Errorf("%s: %q runs into %q", l.Piece.Name, n.Words, o.Words)
			}
		}
		if !n.Strong {
			words = append(words, n.Words)
		}
	}
	return strings.Join(words, "; ")
}

// gathered is a wide panel, sewn along its top to a band of 80 mm, or to two that
// make it up.
func gathered(fullness draft.Fullness, bands int) *draft.Project {
	p, m := draft.New("skirt"), &maker{}
	panel := &draft.Piece{ID: "p1", Name: "Panel", Cut: draft.CutRule{Count: 1}}
	panel.Edges = []draft.Edge{
		m.edge("bottom", draft.HemEdge, 10, corner(0, 0)), m.edge("right", draft.RawEdge, 0, corner(120, 0)),
		m.edge("top", draft.SeamEdge, 6, corner(120, 70)), m.edge("left", draft.CasingEdge, 6, corner(0, 70)),
	}
	p.Pieces = []*draft.Piece{panel}
	seam := &draft.Seam{ID: "s1", Ratio: 1.5, Fullness: fullness, To: 1, A: draft.Run{{Piece: "p1", Copy: draft.CopyRef{Number: 1}, Edge: "top"}}}
	for i := range bands {
		id := draft.ID("b" + string(rune('a'+i)))
		w := 80 / float64(bands)
		band := &draft.Piece{ID: id, Name: "Band", Cut: draft.CutRule{Count: 1}}
		for k, n := range []draft.Node{corner(0, 0), corner(w, 0), corner(w, 30), corner(0, 30)} {
			band.Edges = append(band.Edges, m.edge(string(id)+string(rune('0'+k)), draft.SeamEdge, 6, n))
		}
		p.Pieces = append(p.Pieces, band)
		seam.B = append(seam.B, draft.EdgeUse{Piece: id, Copy: draft.CopyRef{Number: 1}, Edge: id + "0"})
	}
	p.Seams = []*draft.Seam{seam}
	return p
}

// TestFullnessWords: the fuller edge says what to do to it, the other nothing.
func TestFullnessWords(t *testing.T) {
	inches := func(p *draft.Project) *draft.Project { p.Unit = draft.InchFraction; return p }
	// A band of 80 mm on a panel is the fuller side of a seam whose other run is it.
	swapped := gathered(draft.Gathers, 2)
	s := swapped.Seams[0]
	s.A, s.B, s.Fuller = s.B, s.A, draft.SideB
	long := gathered(draft.Pleats, 2)
	long.Seams[0].Fuller = draft.SideB
	unintended := gathered(draft.Gathers, 1)
	unintended.Seams[0].Ratio = 1
	for name, c := range map[string]struct {
		project     *draft.Project
		panel, band string
	}{
		"gathers":         {gathered(draft.Gathers, 1), "gather to 80 mm; ", ""},
		"gathers to two":  {gathered(draft.Gathers, 2), "gather to 80 mm; ", ""},
		"pleats":          {gathered(draft.Pleats, 1), "pleat to 80 mm; ", ""},
		"ease":            {gathered(draft.Ease, 1), "ease; ", ""},
		"plain":           {gathered(draft.Plain, 1), "", ""},
		"no fraction":     {inches(gathered(draft.Gathers, 1)), "gather to 80 mm; ", ""},
		"side b":          {swapped, "gather to 80 mm; ", ""},
		"no ratio":        {unintended, "", ""},
		"of several runs": {long, "", "pleat 1.5 to 1"},
	} {
		t.Run(name, func(t *testing.T) {
			laid := laidOnes(t, c.project)
			if got, want := said(t, laid["Panel"]), c.panel+"hem; raw; casing"; got != want {
				t.Errorf("the panel says %q, want %q", got, want)
			}
			if got := said(t, laid["Band"]); got != c.band {
				t.Errorf("the band says %q, want %q", got, c.band)
			}
		})
	}
}

// TestWordsStandBesideTheirLetter: in one line, along the edge, however the piece is
// turned.
func TestWordsStandBesideTheirLetter(t *testing.T) {
	for _, turn := range []float64{0, 0.6, 1.571, 3.2, -2} {
		p := gathered(draft.Gathers, 1)
		p.Pieces[0].Place.Turn = turn
		l := laidOnes(t, p)["Panel"]
		if got := said(t, l); got != "gather to 80 mm; hem; raw; casing" {
			t.Errorf("turned by %g: %q", turn, got)
		}
		var letter, words Text
		for _, n := range l.Notes {
			switch n.Words {
			case "A":
				letter = n
			case "gather to 80 mm":
				words = n
			}
		}
		gap := textWidth("A", letter.Size, true) + wordsGap*seamLetters
		if letter.Turn != words.Turn || words.At.Dist(letter.At)-gap > 1e-9 {
			t.Errorf("turned by %g: letter %+v, words %+v", turn, letter, words)
		}
		if up := geom.Rotation(words.Turn, geom.Point{}).ApplyVector(geom.Pt(0, 1)); up.Y < -1e-9 {
			t.Errorf("turned by %g: the words stand on their head", turn)
		}
	}
}

// TestSmallPieceBearsItsLetterOnly: where there is no room for words the letter
// stays.
func TestSmallPieceBearsItsLetterOnly(t *testing.T) {
	p := gathered(draft.Gathers, 1)
	for i := range p.Pieces[0].Edges {
		n := &p.Pieces[0].Edges[i].Nodes[0]
		n.At = n.At.Mul(0.12)
	}
	l := laidOnes(t, p)["Panel"]
	if got := said(t, l); got != "" || len(l.Notes) != 1 || l.Notes[0].Words != "A" {
		t.Errorf("a panel of 14 mm bears %+v", l.Notes)
	}
}

// TestFoldOfAnUnfoldedPiece: the line alone, with a word beside it, and one word on
// the hem that runs over it.
func TestFoldOfAnUnfoldedPiece(t *testing.T) {
	flat := flatOf(t, backPiece())
	marks := foldMarks(flat)
	if len(marks) != 1 || len(marks[0].Chains) != 1 || marks[0].Chains[0][0] != *flat.Fold {
		t.Fatalf("%+v", marks)
	}
	for _, turn := range []float64{0, 0.5, 1.571, -2.5} {
		p := wardrobe()
		p.Pieces[0].Place.Turn = turn
		l := laidOnes(t, p)["Back"]
		words := said(t, l)
		if strings.Count(words, foldWord) != 1 || strings.Count(words, "hem") != 1 {
			t.Errorf("turned by %g: %q", turn, words)
		}
	}
	if marks := foldMarks(flatOf(t, sleevePiece())); marks != nil {
		t.Errorf("a sleeve without a fold bears %+v", marks)
	}
}
