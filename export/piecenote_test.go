package export

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
)

const spinesNote = "Spines stand out through the slits; face them before the lining goes in, and press from the wrong side only."

// noted is a strip of 100 mm by a height that bears a note.
func noted(height float64, note string) *draft.Project {
	p, piece := draft.New("noted"), strip(6)
	piece.Note = note
	for i := range piece.Edges {
		piece.Edges[i].Nodes[0].At.Y *= height / 40
	}
	p.Pieces = []*draft.Piece{piece}
	return p
}

// checkNote: either all words of the note stand on the copy, off every line and every
// other word, or it is said to be left out. It reports whether they stand there.
func checkNote(t reporter, l *Laid, note string) bool {
	t.Helper()
	var words []string
	for _, line := range l.Label.words() {
		words = append(words, line.Words)
	}
	there := strings.Contains(strings.Join(strings.Fields(strings.Join(words, " ")), " "), strings.Join(strings.Fields(note), " "))
	if there == l.Label.NoteLeftOut {
		t.Errorf("%s: note there %t, left out %t: %q", l.Piece.Name, there, l.Label.NoteLeftOut, words)
	}
	for _, n := range l.Label.Note {
		if n.Size < smallestNote-1e-9 {
			t.Errorf("%s: the note is set at %g mm", l.Piece.Name, n.Size)
		}
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
		for _, o := range append(append([]Text(nil), l.Notes...), l.Label.Lines...) {
			if n.slab().meets(o.slab()) {
				t.Errorf("%s: %q runs into %q", l.Piece.Name, n.Words, o.Words)
			}
		}
	}
	return there
}

// TestNoteFindsRoom: the lower a piece, the less its note stands under its name: apart
// from it, and where there is no room, not without being told.
func TestNoteFindsRoom(t *testing.T) {
	under, apart, left := 0, 0, 0
	for height := 60.0; height >= 6; height -= 2 {
		p := noted(height, spinesNote)
		l := laidOnes(t, p)["Strip"]
		there := checkNote(t, l, spinesNote)
		switch {
		case !there:
			left++
		case len(l.Label.Note) > 0:
			apart++
		default:
			under++
		}
		for _, f := range []Format{SVG, PDF, PNG, DXF} {
			report, err := Encode(context.Background(), &bytes.Buffer{}, p, Options{Format: f, Clock: clock})
			if err != nil {
				t.Fatal(err)
			}
			told := strings.Join(report.Notices, "\n")
			if there && told != "" || !there && told != "Strip has no room for its note, which is not printed: "+spinesNote {
				t.Errorf("%g mm, %s: the note is there: %t, and told is %q", height, f, there, told)
			}
		}
	}
	if under == 0 || apart == 0 || left == 0 {
		t.Errorf("%d notes under the name, %d apart, %d left out: this does not show all three", under, apart, left)
	}
}

// TestNoteIsToldOnlyWhereItIsMissing: the numbered DXF holds notes as data, and files
// for machines hold no words at all.
func TestNoteIsToldOnlyWhereItIsMissing(t *testing.T) {
	p := noted(8, spinesNote)
	if !laidOnes(t, p)["Strip"].Label.NoteLeftOut {
		t.Fatal("the piece has room for its note: this shows nothing")
	}
	for _, o := range []Options{{Format: DXF, DXF: D6673}, {Format: SVG, Purpose: Laser}, {Format: PDF, Purpose: Blade}} {
		o.Clock = clock
		var b bytes.Buffer
		report, err := Encode(context.Background(), &b, p, o)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := len(report.Notices), len(o.Purpose.Notices()); got != want {
			t.Errorf("%s for %s: %d notices, want %d", o.Format, o.Purpose, got, want)
		}
		if o.DXF == D6673 && !strings.Contains(b.String(), spinesNote) {
			t.Error("the numbered DXF does not hold the note")
		}
	}
}

// TestNoteOfASpreadPiece: the label that moves off the borders of pages takes the note
// with it.
func TestNoteOfASpreadPiece(t *testing.T) {
	for _, height := range []float64{9, 20, 60, 600} {
		p := noted(height, spinesNote)
		for i := range p.Pieces[0].Edges {
			p.Pieces[0].Edges[i].Nodes[0].At.X *= 9
		}
		plan, err := LayPages(context.Background(), p, Options{Clock: clock})
		if err != nil {
			t.Fatal(err)
		}
		if g := plan.Groups[len(plan.Groups)-1]; g.Cols < 2 && g.Rows < 2 || !checkNote(t, g.Pieces[0], spinesNote) {
			t.Errorf("%g mm: %d by %d pages, and the note is not there", height, g.Rows, g.Cols)
		}
	}
}

// TestNoNoteIsLost: whatever the piece, however long the note.
func TestNoNoteIsLost(t *testing.T) {
	there, left := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		piece := anyPiece(t, 1)
		piece.Note = strings.Join(rapid.SliceOfN(rapid.SampledFrom(strings.Fields(spinesNote)), 1, 30).Draw(t, "note"), " ")
		flat, err := draft.LayFlat(piece)
		if err != nil {
			return
		}
		p := draft.New("any")
		p.Pieces = []*draft.Piece{piece}
		l := newRuler(p, Options{}).lay(flat, piece.Copies()[0], rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn"))
		if checkNote(t, l, piece.Note) {
			there++
		} else {
			left++
		}
	})
	t.Logf("%d notes stand on or beside their piece, %d are told", there, left)
}
