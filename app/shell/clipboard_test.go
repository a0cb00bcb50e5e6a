package shell

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// Pieces that were copied in one window are pasted in another where the pointer is,
// with the seams among them.
func TestCopyAndPasteBetweenProjects(t *testing.T) {
	s := window(t)
	project := s.desk.Project()
	var refs []desk.Ref
	for _, p := range project.Pieces {
		refs = append(refs, desk.PieceRef(p.ID))
	}
	s.desk.Pick(refs...)
	s.bench.TypedShortcut(&fyne.ShortcutCopy{})
	text := s.app.Clipboard().Content()
	if _, err := store.Decode([]byte(text)); err != nil {
		t.Fatalf("what was copied is no project: %v", err)
	}
	s.files.fresh()
	s.enter(stationShape)
	settle()
	s.bench.TypedShortcut(&fyne.ShortcutPaste{})
	now := s.desk.Project()
	if len(now.Pieces) != len(project.Pieces) || len(now.Seams) != len(project.Seams) || len(now.Cloths) != len(project.Cloths) {
		t.Fatalf("%d pieces, %d seams, %d cloths are pasted of %d, %d, %d", len(now.Pieces), len(now.Seams), len(now.Cloths), len(project.Pieces), len(project.Seams), len(project.Cloths))
	}
	if len(s.desk.Picked()) != len(now.Pieces) {
		t.Errorf("%d are picked", len(s.desk.Picked()))
	}
	// Where the pointer is.
	s.desk.Pick(desk.PieceRef(now.Pieces[0].ID))
	s.bench.TypedShortcut(&fyne.ShortcutCopy{})
	e := &desktop.MouseEvent{}
	e.Position = fyne.NewPos(300, 300)
	s.bench.MouseMoved(e)
	at := s.bench.PastePlace()
	s.bench.TypedShortcut(&fyne.ShortcutPaste{})
	p := s.desk.Project().Pieces[len(now.Pieces)]
	if got := p.DrawnPath().Transform(p.Place.Affine()).Bounds().Center(); got.Dist(at) > 1e-3 {
		t.Errorf("pasted at %v, the pointer is at %v", got, at)
	}
	if !strings.HasSuffix(p.Name, " 2") {
		t.Errorf("the second piece is called %q", p.Name)
	}
	s.desk.Undo()
	if s.desk.Project() != now {
		t.Error("undo does not take the paste back")
	}
}

func TestCutTakesAway(t *testing.T) {
	s := window(t)
	n := len(s.desk.Project().Pieces)
	p := s.desk.Project().Pieces[0]
	s.desk.Pick(desk.PieceRef(p.ID))
	s.bench.TypedShortcut(&fyne.ShortcutCut{})
	if len(s.desk.Project().Pieces) != n-1 || !strings.Contains(s.app.Clipboard().Content(), p.Name) {
		t.Error("the piece is not cut, or not on the clipboard")
	}
	// A point is no piece to cut: it would take away more than is picked.
	q := s.desk.Project().Pieces[0]
	s.desk.Pick(desk.NodeRef(q.ID, q.Edges[0].Nodes[0].ID))
	s.bench.TypedShortcut(&fyne.ShortcutCut{})
	if len(s.desk.Project().Pieces) != n-1 {
		t.Error("with a point picked its whole piece is cut")
	}
}

func TestPasteSaysWhatIsWrong(t *testing.T) {
	s := window(t)
	before := s.desk.Project()
	for text, want := range map[string]string{
		"": "nothing to paste", "Dear aunt,": "no pattern", "format = 1\npieces = 3\n": "cannot be read",
	} {
		s.app.Clipboard().SetContent(text)
		s.pasteAt(geom.Point{})
		if got := s.status.said; !strings.Contains(got, want) {
			t.Errorf("%q: says %q", text, got)
		}
	}
	if s.desk.Project() != before {
		t.Error("something was pasted")
	}
}

func TestPickingByWhatIsCommon(t *testing.T) {
	s := window(t)
	pieces := s.desk.Project().Pieces
	first := pieces[0]
	if err := desk.Run(s.desk, draft.SetLayer, draft.SetLayerArgs{Pieces: []draft.PieceRef{draft.PieceRef(pieces[1].ID)}, Layer: draft.Lining}); err != nil {
		t.Fatal(err)
	}
	s.desk.Pick(desk.PieceRef(first.ID))
	s.commandNamed("Pick the same layer").run()
	if got := s.desk.Picked(); len(got) != len(pieces)-1 || got.Has(desk.PieceRef(pieces[1].ID)) {
		t.Errorf("picked %v", got)
	}
	s.commandNamed("Pick the others").run()
	if got := s.desk.Picked(); len(got) != 1 || got[0].Piece != pieces[1].ID {
		t.Errorf("the others are %v", got)
	}
	for i, e := range first.Edges {
		if e.Kind == draft.HemEdge {
			s.desk.Pick(desk.EdgeRef(first.ID, first.Edges[i].ID))
		}
	}
	s.commandNamed("Pick the same kind of edge").run()
	hems := 0
	for _, p := range s.desk.Project().Pieces {
		for _, e := range p.Edges {
			if e.Kind == draft.HemEdge {
				hems++
			}
		}
	}
	if got := len(s.desk.Picked()); got != hems || hems < 2 {
		t.Errorf("%d of %d hems are picked", got, hems)
	}
	names := map[string]bool{}
	for _, f := range s.finder.all() {
		names[f.name] = true
	}
	for _, want := range []string{"Pick the lining", "Pick every hem edge"} {
		if !names[want] {
			t.Errorf("the finder has no %q", want)
		}
	}
}

func TestHideLockAndShowOnlyThese(t *testing.T) {
	s := window(t)
	first := s.desk.Project().Pieces[0].ID
	run := func(name string) { s.commandNamed(name).run() }
	s.desk.Pick(desk.PieceRef(first))
	run("Hide")
	if !s.desk.Project().Piece(first).Hidden || len(s.desk.Picked()) != 0 {
		t.Error("the piece is not hidden, or still picked")
	}
	if says := s.status.said; !strings.Contains(says, "still checked, printed and cut") {
		t.Errorf("hiding says %q", says)
	}
	run("Show all that is hidden")
	s.desk.Pick(desk.PieceRef(first))
	run("Show only these")
	if !s.desk.Isolated() || !s.aside.object.Visible() || s.aside.text.Text() != "Only 1 piece shown" {
		t.Errorf("the bar says %q", s.aside.text.Text())
	}
	run("Show the others again")
	if s.desk.Isolated() || s.aside.object.Visible() {
		t.Error("the others do not come back")
	}
	run("Lock")
	s.hand.Delete()
	if s.desk.Project().Piece(first) == nil {
		t.Error("a locked piece is deleted")
	}
	run("Unlock all")
	run("Make a ghost, or a piece again")
	if s.desk.Project().Piece(first).Ghost == 0 {
		t.Error("it is no ghost")
	}
	run("Make a ghost, or a piece again")
	if s.desk.Project().Piece(first).Ghost != 0 {
		t.Error("it is a ghost still")
	}
	s.desk.Pick(desk.PieceRef(first), desk.PieceRef(s.desk.Project().Pieces[1].ID))
	run("Align at the bottom")
	run("Group as a garment…")
	answerWith(t, s, "Group")
	if got := s.desk.Project().Piece(first).Garment; got != "Garment 1" {
		t.Errorf("garment %q", got)
	}
}
