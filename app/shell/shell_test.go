package shell

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// window makes a window of the toolkit's test driver with the sample in it.
func window(t *testing.T) *Shell {
	t.Helper()
	a := test.NewTempApp(t)
	s, err := New(a)
	if err != nil {
		t.Fatal(err)
	}
	s.StateDir, s.BlocksDir = t.TempDir(), t.TempDir()
	t.Cleanup(func() { s.files.keeper.end() })
	if !s.files.Sample() {
		t.Fatal("the sample does not open")
	}
	s.win.Resize(fyne.NewSize(1280, 800))
	return s
}

// answer gives the answer with the word to the question that waits.
func answerWith(t *testing.T, s *Shell, word string) {
	t.Helper()
	if s.question == nil {
		t.Fatalf("no question waits for %q", word)
	}
	for _, a := range s.question.answers {
		if a.word == word {
			s.question.give(a)
			settle()
			return
		}
	}
	t.Fatalf("the question has no answer %q", word)
}

// events are what waits to be done on the window's goroutine, which in a test is
// that of the test.
var events = make(chan func(), 1000)

func TestMain(m *testing.M) {
	control.OnMain = func(f func()) { events <- f }
	os.Exit(m.Run())
}

// settle lets what was put off until after the event happen.
func settle() {
	for {
		select {
		case f := <-events:
			f()
		case <-time.After(60 * time.Millisecond):
			return
		}
	}
}

// drain does what waits by now.
func drain() {
	for {
		select {
		case f := <-events:
			f()
		default:
			return
		}
	}
}

// nudge changes the document.
func nudge(t *testing.T, s *Shell) {
	t.Helper()
	p := s.desk.Project().Pieces[0]
	err := desk.Run(s.desk, draft.MovePiece, draft.MovePieceArgs{Pieces: []draft.PieceRef{draft.PieceRef(p.ID)}, By: draft.Vector{X: 1}})
	if err != nil {
		t.Fatal(err)
	}
}

func TestGuardAsksBeforeAnythingIsLost(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "smock.hemlet")
	s.files.write(path, nil, nil)
	if s.desk.Dirty() || s.desk.Path() != path {
		t.Fatal("saving leaves the document edited")
	}
	nudge(t, s)
	changed := s.desk.Project()
	if !s.desk.Dirty() || !strings.Contains(s.win.Title(), "edited") {
		t.Error("the title does not say that there is something to save")
	}
	s.files.new()
	answerWith(t, s, "Cancel")
	if s.desk.Project() != changed {
		t.Fatal("Cancel dropped the document")
	}
	s.files.new()
	answerWith(t, s, "Save")
	if len(s.desk.Project().Pieces) != 0 {
		t.Error("after saving, no new project was begun")
	}
	saved, _, err := store.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if saved.Pieces[0].Place != changed.Pieces[0].Place {
		t.Error("what was saved is not what was changed")
	}
}

func TestUndoingToTheSavedStateIsClean(t *testing.T) {
	s := window(t)
	s.files.write(filepath.Join(t.TempDir(), "a.hemlet"), nil, nil)
	nudge(t, s)
	s.desk.Undo()
	if s.desk.Dirty() {
		t.Error("the document is as it was saved, and counts as edited")
	}
}

// What is taken back or done again may lie out of sight, so the status line names it.
func TestUndoAndRedoSayWhatTheyDo(t *testing.T) {
	s := window(t)
	s.top.undo.OnTap()
	if s.status.said != "" {
		t.Errorf("with nothing to undo it says %q", s.status.said)
	}
	nudge(t, s)
	step, _ := s.desk.History().CanUndo()
	s.top.undo.OnTap()
	if want := "Undone: " + step; step == "" || s.status.said != want {
		t.Errorf("says %q, not %q", s.status.said, want)
	}
	s.commandNamed("Redo").run()
	if want := "Redone: " + step; s.status.said != want {
		t.Errorf("says %q, not %q", s.status.said, want)
	}
	s.commandNamed("Undo").run()
	if want := "Undone: " + step; s.status.said != want {
		t.Errorf("says %q, not %q", s.status.said, want)
	}
}

func TestChangedElsewhereIsAskedAbout(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "a.hemlet")
	s.files.write(path, nil, nil)
	other := draft.New("somebody else's")
	if _, err := store.Save(path, other, nil); err != nil {
		t.Fatal(err)
	}
	nudge(t, s)
	s.files.save(nil)
	answerWith(t, s, "Cancel")
	if p, _, _ := store.Load(path); p == nil || p.Name != other.Name {
		t.Error("saving went over what another program wrote")
	}
	s.files.save(nil)
	answerWith(t, s, "Replace it")
	if p, _, _ := store.Load(path); p == nil || p.Name == other.Name {
		t.Error("Replace it did not replace it")
	}
}

func TestReadOnlyTargetLosesNothing(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "a.hemlet")
	if err := os.WriteFile(path, []byte("kept"), 0o444); err != nil {
		t.Fatal(err)
	}
	s.files.write(path, nil, nil)
	answerWith(t, s, "Good")
	if b, _ := os.ReadFile(path); string(b) != "kept" || s.desk.Path() != "" {
		t.Error("a read-only file was written, or counts as the document's")
	}
}

func TestBrokenFileLeavesTheDocument(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "a.hemlet")
	if err := os.WriteFile(path, []byte("format = 1\n[[[["), 0o644); err != nil {
		t.Fatal(err)
	}
	before := s.desk.Project()
	if s.files.Open(path) || s.desk.Project() != before {
		t.Error("a broken file took the place of the document")
	}
	answerWith(t, s, "Good")
}

// A window that is killed leaves its journal; the next one brings it back.
func TestRecoveryAfterAKill(t *testing.T) {
	s := window(t)
	nudge(t, s)
	want := s.desk.Project()
	s.files.keeper.write()
	// The claim of this process is what tells a living window from a dead one.
	leaveBehind(t, s)
	next, err := New(test.NewTempApp(t))
	if err != nil {
		t.Fatal(err)
	}
	next.StateDir = s.StateDir
	t.Cleanup(func() { next.files.keeper.end() })
	if !next.Recover() {
		t.Fatal("nothing is offered")
	}
	answerWith(t, next, "Bring back")
	got := next.desk.Project()
	if string(store.Encode(got)) != string(store.Encode(want)) || !next.desk.Dirty() {
		t.Error("what is brought back is not what was left, or counts as saved")
	}
	if left, _ := store.Recoverable(s.StateDir); len(left) != 0 {
		t.Errorf("%d journals are left", len(left))
	}
}

// leaveBehind makes the journal of the window look as if its process had died: a
// copy of it has no living claim.
func leaveBehind(t *testing.T, s *Shell) {
	t.Helper()
	folder := filepath.Join(s.StateDir, "journal")
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if filepath.Ext(e.Name()) != ".journal" {
			continue
		}
		text, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.files.keeper.end(); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, "left.journal"), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// A state that is noted after the document was saved is kept, although both are
// written at once.
func TestJournalKeepsWhatComesAfterSaving(t *testing.T) {
	s := window(t)
	nudge(t, s)
	s.files.write(filepath.Join(t.TempDir(), "a.hemlet"), nil, nil)
	nudge(t, s)
	if err := s.files.keeper.write(); err != nil {
		t.Fatal(err)
	}
	leaveBehind(t, s)
	left, err := store.Recoverable(s.StateDir)
	if err != nil || len(left) != 1 {
		t.Fatalf("%v, %v", left, err)
	}
	got, err := left[0].Project()
	if err != nil || string(store.Encode(got)) != string(store.Encode(s.desk.Project())) {
		t.Errorf("what is kept is not what stood last: %v", err)
	}
}

// What could not be kept in a new journal stays in the old one.
func TestOldJournalStaysWithoutANewOne(t *testing.T) {
	s := window(t)
	nudge(t, s)
	if err := s.files.keeper.write(); err != nil {
		t.Fatal(err)
	}
	leaveBehind(t, s)
	left, err := store.Recoverable(s.StateDir)
	if err != nil || len(left) != 1 {
		t.Fatalf("%v, %v", left, err)
	}
	blocked := filepath.Join(t.TempDir(), "blocked")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	folder := s.StateDir
	s.StateDir = blocked
	s.bringBack(left[0])
	if left, _ := store.Recoverable(folder); len(left) != 1 {
		t.Error("the only journal was dropped")
	}
}

// What is put off is done in the order in which it was put off, and what that puts
// off comes after.
func TestPutOffInOrder(t *testing.T) {
	s := window(t)
	settle()
	var done []int
	s.later(func() { done = append(done, 1); s.later(func() { done = append(done, 4) }) })
	s.later(func() { done = append(done, 2) })
	s.later(func() { done = append(done, 3) })
	settle()
	if want := []int{1, 2, 3, 4}; !slices.Equal(done, want) {
		t.Errorf("done %v, want %v", done, want)
	}
}

// A value that is typed and not yet taken is in what is saved.
func TestSavingTakesWhatIsTyped(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	s.desk.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID))
	path := filepath.Join(t.TempDir(), "a.hemlet")
	s.desk.MarkSaved(s.desk.Project(), path)
	field := fieldOf(t, s, "Allowance")
	s.win.Canvas().Focus(field)
	save := s.commandNamed("Save")
	field.SetText("half a")
	if save.run(); s.question != nil || exists(path) {
		t.Error("the project was saved although a value cannot be taken")
	}
	field.SetText("13mm")
	save.run()
	saved, _, err := store.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := saved.Pieces[0].Edges[0].Allowance.Start; got != 13 {
		t.Errorf("saved with %v mm", got)
	}
}

func TestJournalIsSweptWhenSaved(t *testing.T) {
	s := window(t)
	nudge(t, s)
	s.files.keeper.write()
	s.files.write(filepath.Join(t.TempDir(), "a.hemlet"), nil, nil)
	if err := s.files.keeper.write(); err != nil {
		t.Fatal(err)
	}
	leaveBehind(t, s)
	if left, err := store.Recoverable(s.StateDir); err != nil || len(left) != 0 {
		t.Errorf("%v, %v", left, err)
	}
}

// Figures are typed in the unit on show, as sums too.
func TestNumericEntry(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	ref := desk.EdgeRef(front.ID, front.Edges[0].ID)
	s.desk.Pick(ref)
	s.setUnit(draft.Inch)
	field := fieldOf(t, s, "Allowance")
	test.NewTempWindow(t, field) // a canvas to have the focus on
	field.SetText("1/4 + 1/8")
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if got, want := s.desk.Project().Pieces[0].Edges[0].Allowance.Start, 0.375*draft.MMPerInch; got-want > 1e-6 || want-got > 1e-6 {
		t.Errorf("the allowance is %v mm, want %v", got, want)
	}
	if field.Text != "0.375 in" {
		t.Errorf("the field shows %q", field.Text)
	}
	before := s.desk.Project()
	field.SetText("1/4 +")
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if !field.Wrong() || s.desk.Project() != before {
		t.Error("half a sum was taken")
	}
	if field.Reason() == "" || field.Text != "1/4 +" {
		t.Errorf("beside %q stands the reason %q", field.Text, field.Reason())
	}
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if field.Wrong() || field.Text != "0.375 in" {
		t.Errorf("Escape leaves %q", field.Text)
	}
}

// fieldOf finds the field in the row with the label.
func fieldOf(t *testing.T, s *Shell, label string) *control.Field {
	t.Helper()
	var found *control.Field
	var visit func(o fyne.CanvasObject, row bool)
	visit = func(o fyne.CanvasObject, row bool) {
		switch x := o.(type) {
		case *control.Field:
			if row && found == nil {
				found = x
			}
		case *container.Clip: // in which a field lies
			visit(x.Content, row)
		case *fyne.Container:
			row = row || hasLabel(x, label)
			for _, c := range x.Objects {
				visit(c, row)
			}
		}
		if w, ok := o.(interface{ Content() fyne.CanvasObject }); ok {
			visit(w.Content(), row)
		}
	}
	for _, o := range s.inspect.Rows() {
		visit(o, false)
	}
	if found == nil {
		t.Fatalf("no field is labelled %q", label)
	}
	return found
}

// hasLabel reports whether the container is a row whose label says so.
func hasLabel(c *fyne.Container, label string) bool {
	for _, o := range c.Objects {
		if inner, ok := o.(*fyne.Container); ok && len(inner.Objects) == 1 {
			if deep, ok := inner.Objects[0].(*fyne.Container); ok && len(deep.Objects) == 1 {
				if text, ok := deep.Objects[0].(*control.Text); ok && text.Text() == label {
					return true
				}
			}
		}
	}
	return false
}

func TestLinkingSeams(t *testing.T) {
	s := window(t)
	front, back := s.desk.Project().Pieces[0], s.desk.Project().Pieces[1]
	before := len(s.desk.Project().Seams)
	s.desk.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID), desk.EdgeRef(back.ID, back.Edges[0].ID))
	s.letter('j')
	seams := s.desk.Project().Seams
	if len(seams) != before+1 {
		t.Fatalf("%d seams, want %d", len(seams), before+1)
	}
	s.letter('u')
	if len(s.desk.Project().Seams) != before {
		t.Error("the seam is not taken apart")
	}
	s.desk.Undo()
	s.desk.Undo()
	if len(s.desk.Project().Seams) != before {
		t.Error("undo does not take the link back")
	}
}

// A finding can be lived with for a reason, and is told again when that is taken back.
func TestFindingsCanBeLivedWith(t *testing.T) {
	s := window(t)
	findings := s.desk.Findings()
	live := func() { press(t, s.inspect.Object(), "Live with it…") }
	live()
	answerWith(t, s, "Live with it")
	if s.question == nil || len(s.desk.Findings()) != len(findings) {
		t.Fatal("a finding is lived with for no reason")
	}
	answerWith(t, s, "Cancel")
	live()
	typeInto(t, s, "stretched over steam")
	answerWith(t, s, "Live with it")
	if got := s.desk.Findings(); len(got) != len(findings)-1 || got[0].Key == findings[0].Key {
		t.Errorf("%d findings are open, before %d", len(got), len(findings))
	}
	if s.desk.Count("").Problems != 0 {
		t.Error("what is lived with still counts")
	}
	press(t, s.inspect.Object(), "Count it again")
	if got := s.desk.Findings(); len(got) != len(findings) {
		t.Errorf("%d findings are told again, before %d", len(got), len(findings))
	}
}

// press presses the first button with the word below an object.
func press(t *testing.T, o fyne.CanvasObject, word string) {
	t.Helper()
	if !pressed(o, word) {
		t.Fatalf("there is no button %q", word)
	}
}

func pressed(o fyne.CanvasObject, word string) bool {
	if b, ok := o.(*control.Button); ok && b.Word == word && b.Visible() {
		b.Tapped(nil)
		return true
	}
	for _, c := range below(o) {
		if pressed(c, word) {
			return true
		}
	}
	return false
}

// below returns what an object is made of.
func below(o fyne.CanvasObject) []fyne.CanvasObject {
	switch x := o.(type) {
	case *fyne.Container:
		return x.Objects
	case fyne.Widget:
		return test.WidgetRenderer(x).Objects()
	}
	return nil
}

// typeInto types into the field of the question that waits.
func typeInto(t *testing.T, s *Shell, text string) {
	t.Helper()
	f, ok := s.win.Canvas().Focused().(*control.Field)
	if !ok {
		t.Fatal("no field has the keys")
	}
	f.SetText(text)
}

// Side to side, hem meets hem: of two pieces that both have their side at the
// right, one is sewn as its mirror image.
func TestLinkedEndsMeet(t *testing.T) {
	s := window(t)
	front, back := s.desk.Project().Pieces[0], s.desk.Project().Pieces[1]
	for _, seam := range s.desk.Project().Seams {
		if err := desk.Run(s.desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: []draft.SeamRef{draft.SeamRef(seam.ID)}}); err != nil {
			t.Fatal(err)
		}
	}
	s.hand.Link(desk.Picked{desk.EdgeRef(front.ID, front.Edges[1].ID)}, desk.Picked{desk.EdgeRef(back.ID, back.Edges[1].ID)})
	seam := s.desk.Project().Seams[0]
	if got := seam.B[0]; !got.Copy.Mirrored || got.Reversed != seam.A[0].Reversed {
		t.Errorf("front %+v is sewn to back %+v", seam.A[0], got)
	}
}

func TestDroppedFiles(t *testing.T) {
	s := window(t)
	s.desk.MarkSaved(s.desk.Project(), "")
	dir := t.TempDir()
	svg := filepath.Join(dir, "cuff.svg")
	drawing := `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 80 40"><rect id="cuff" x="10" y="10" width="56" height="18"/></svg>`
	if err := os.WriteFile(svg, []byte(drawing), 0o644); err != nil {
		t.Fatal(err)
	}
	before := len(s.desk.Project().Pieces)
	s.files.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(svg)})
	for range 50 {
		settle()
		if s.question != nil && len(s.question.answers) == 2 {
			break
		}
	}
	answerWith(t, s, "Bring in")
	pieces := s.desk.Project().Pieces
	if len(pieces) != before+1 || pieces[before].Name != "cuff" {
		t.Fatalf("%d pieces, the last %s", len(pieces), pieces[len(pieces)-1].Name)
	}
	if got := pieces[before].DrawnPath().Area(); got < 1007.9 || got > 1008.1 { // 56 x 18, the rectangle's own formula
		t.Errorf("the area is %v mm²", got)
	}
	s.files.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(filepath.Join(dir, "photo.jpg"))})
	answerWith(t, s, "Good")
}

// A drawing that does not say its unit is read again in the one that is chosen; where
// that is stopped, all stays as it was.
func TestSilentDrawingIsReadAgain(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "plain.svg")
	drawing := `<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0H2V1H0Z"/></svg>`
	if err := os.WriteFile(path, []byte(drawing), 0o600); err != nil {
		t.Fatal(err)
	}
	b := &bringing{s: s, paths: []string{path}, allowance: usualAllowance}
	wide := func() float64 {
		outlines, _, err := b.outlines()
		if err != nil || len(outlines) != 1 {
			t.Fatalf("%d outlines, %v", len(outlines), err)
		}
		return outlines[0].Path.Bounds().W()
	}
	// readIn reads in another unit and reports what came of it.
	readIn := func(mm float64, stop bool) string {
		came := ""
		b.read(mm, func() { came += "done" }, func() { came += "out" })
		if stop {
			answerWith(t, s, "Stop")
		}
		for came == "" {
			(<-events)()
		}
		return came
	}
	b.seen = control.NewProse("", 12, false, look.Faint, askWidth)
	if came := readIn(10, false); came != "done" || math.Abs(wide()-20) > 1e-9 || !b.silent() {
		t.Errorf("read in cm: %s, %v mm wide", came, wide())
	}
	if came := readIn(draft.MMPerInch, true); came != "out" || math.Abs(wide()-20) > 1e-9 || b.unitMM != 10 {
		t.Errorf("stopped: %s, %v mm wide in units of %v mm", came, wide(), b.unitMM)
	}
	if came := readIn(draft.MMPerInch, false); came != "done" || math.Abs(wide()-2*draft.MMPerInch) > 1e-9 {
		t.Errorf("read in inches: %s, %v mm wide", came, wide())
	}
	if s.question != nil {
		t.Error("a question is left")
	}
}

// Of a drawing that cannot be read without its unit the window asks for it.
func TestUnitOfDrawingIsAskedFor(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "yoke.dxf")
	drawing := "0\nSECTION\n2\nHEADER\n9\n$MEASUREMENT\n70\n0\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" +
		"0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n10\n0\n20\n0\n10\n2\n20\n0\n10\n2\n20\n3\n10\n0\n20\n3\n0\nENDSEC\n0\nEOF\n"
	if err := os.WriteFile(path, []byte(drawing), 0o600); err != nil {
		t.Fatal(err)
	}
	s.files.bringIn([]string{path})
	for !asksFor(s, "Read") {
		(<-events)()
	}
	answerWith(t, s, "Read")
	for !asksFor(s, "Bring in") {
		(<-events)()
	}
	before := len(s.desk.Project().Pieces)
	answerWith(t, s, "Bring in")
	pieces := s.desk.Project().Pieces
	if len(pieces) != before+1 {
		t.Fatalf("%d pieces came of it", len(pieces)-before)
	}
	made := pieces[before]
	if w := made.DrawnPath().Bounds().W(); math.Abs(w-2*draft.MMPerInch) > 1e-6 {
		t.Errorf("the piece is %v mm wide, want 2 inches", w)
	}
	if made.Name != "yoke" {
		t.Errorf("the only piece of the drawing is called %q", made.Name)
	}
}

// asksFor reports whether the question that waits has the answer.
func asksFor(s *Shell, word string) bool {
	if s.question == nil {
		return false
	}
	for _, a := range s.question.answers {
		if a.word == word {
			return true
		}
	}
	return false
}

// Whatever is shown, the window asks for no more room than a small screen has.
func TestWindowFitsSmallScreens(t *testing.T) {
	s := window(t)
	fits := func(what string) {
		t.Helper()
		if m := s.win.Content().MinSize(); m.Width > 860 || m.Height > 535 { // the menu takes 25 of 560
			t.Errorf("%s: the window needs %v by %v", what, m.Width, m.Height)
		}
	}
	fits("at first")
	front := s.desk.Project().Pieces[0]
	s.desk.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID))
	fits("with an edge picked")
	s.enter(stationMake)
	fits("in Make")
}

// What another program writes into the file is told once, and can be opened or not.
func TestChangeOnDiskIsTold(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "smock.hemlet")
	s.files.write(path, nil, nil)
	other := func(name string) {
		t.Helper()
		out, err := draft.RenameProject.Do(s.desk.Project(), draft.RenameProjectArgs{Name: name})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := store.Save(path, out.Project, nil); err != nil {
			t.Fatal(err)
		}
	}
	look := func() {
		t.Helper()
		s.files.look()
		for s.files.looking {
			(<-events)()
		}
	}
	if look(); s.question != nil {
		t.Fatal("a change is told of a file that did not change")
	}
	other("By another hand")
	look()
	answerWith(t, s, "Keep mine")
	if look(); s.question != nil || !s.desk.Dirty() {
		t.Errorf("what is kept: a question %v, to be saved %v", s.question != nil, s.desk.Dirty())
	}
	other("By a third hand")
	look()
	answerWith(t, s, "Open the new one")
	settle()
	if name := s.desk.Project().Name; name != "By a third hand" || s.desk.Dirty() {
		t.Errorf("what is open is called %q, to be saved %v", name, s.desk.Dirty())
	}
}

// Commands are found by what people call the thing, and nothing is said to be found
// where it is not.
func TestFinderKnowsOtherWords(t *testing.T) {
	s := window(t)
	s.finder.open()
	for word, want := range map[string]string{
		"corner": "Corner or smooth", "mirror": "Cut in mirrored pairs", "check": "Next check that fails",
		"waive": "Live with a check", "live": "Live with a check", "print": "Make", "front": "Front",
	} {
		s.finder.look(word)
		has := false
		for _, f := range s.finder.found {
			has = has || f.name == want
		}
		if !has || s.finder.none.Text() != "" {
			t.Errorf("%q does not find %q but %+v", word, want, s.finder.found)
		}
	}
	if s.finder.look("no such thing"); len(s.finder.found) > 0 || s.finder.none.Text() == "" {
		t.Errorf("%d found, told %q", len(s.finder.found), s.finder.none.Text())
	}
	s.finder.pop.close()
}

// Notes of one kind share a card, from which one choice mends them all.
func TestNotesOfOneKindShareACard(t *testing.T) {
	s := window(t)
	var args draft.ImportOutlinesArgs
	for i := range 4 {
		at := float64(i) * 100
		args.Outlines = append(args.Outlines, draft.Outline{Path: geom.Polygon(geom.Pt(at, 0), geom.Pt(at+80, 0), geom.Pt(at+80, 80), geom.Pt(at, 80)), Corner: []bool{true, true, true, true}})
	}
	out, err := draft.ImportOutlines.Do(draft.New("test"), args)
	if err != nil {
		t.Fatal(err)
	}
	s.desk.Open(out.Project, "")
	titles := func() (n int) {
		for _, o := range s.inspect.Rows() {
			n += strings.Count(allText(o), "Cloth not chosen: 4 pieces")
		}
		return n
	}
	if titles() != 1 {
		t.Fatalf("%d cards say of four pieces that they have no cloth", titles())
	}
	before := len(s.desk.Findings())
	for _, o := range s.inspect.Rows() {
		if pressed(o, "Live with all…") {
			break
		}
	}
	typeInto(t, s, "a toile")
	answerWith(t, s, "Live with it")
	if got := len(s.desk.Findings()); got != before-4 || titles() != 0 {
		t.Errorf("%d findings are open, before %d", got, before)
	}
	s.desk.Undo()
	if got := len(s.desk.Findings()); got != before {
		t.Errorf("after one step back %d findings are open, before %d", got, before)
	}
}

// allText returns all text that is shown in an object.
func allText(o fyne.CanvasObject) string {
	if text, ok := o.(*canvas.Text); ok {
		return text.Text + "\n"
	}
	all := ""
	for _, part := range below(o) {
		all += allText(part)
	}
	return all
}

// No two commands or tools answer to the same key.
func TestKeysAreUnique(t *testing.T) {
	s := window(t)
	taken := map[string]string{}
	claim := func(key, name string) {
		if key == "" {
			return
		}
		if other, both := taken[key]; both {
			t.Errorf("%s and %s are both on %s", other, name, key)
		}
		taken[key] = name
	}
	for _, tl := range s.tools {
		claim(tl.Info().Key, tl.Info().Name)
	}
	for _, c := range s.commands {
		claim(c.keyText(), c.name)
	}
	for _, own := range []string{"P", "E"} { // the bench's own letters
		claim(own, "the bench")
	}
}

// Every name in the menus of the bench is that of a command, and each menu has room on a
// small screen.
func TestMenusOfTheBench(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	for k := desk.Nothing; k <= desk.Picture; k++ {
		for _, name := range menuFor(k) {
			list := commandsUnder(name)
			if list == nil {
				list = []string{name}
			}
			for _, name := range list {
				if s.commandNamed(name).do == nil {
					t.Errorf("%s does nothing", name)
				}
			}
		}
	}
	const most = 17 // of 36 units each, on a screen of 800 with a margin
	for _, r := range []desk.Ref{{}, desk.PieceRef(front.ID), desk.EdgeRef(front.ID, front.Edges[0].ID), desk.NodeRef(front.ID, front.Edges[0].Nodes[0].ID)} {
		s.desk.Pick(r)
		m := s.menuOf(r, geom.Point{})
		if n := len(m.Items); n == 0 || n > most {
			t.Errorf("the menu of %v has %d entries", r, n)
		}
		for _, item := range m.Items {
			if item.ChildMenu != nil && len(item.ChildMenu.Items) == 0 {
				t.Errorf("under %s in the menu of %v there is nothing", item.Label, r)
			}
		}
	}
}

// The arrow keys go through the list of files and leave the list as it is.
func TestChooserGoesThroughTheList(t *testing.T) {
	s := window(t)
	dir := t.TempDir()
	for _, name := range []string{"a.svg", "b.svg", "c.txt", "d.svg"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s.app.Preferences().SetString(prefFolder, dir)
	var took string
	s.chooseFile("Open", "Open", drawingEndings, func(path string) { took = path })
	field := s.win.Canvas().Focused().(*control.Field)
	for _, step := range []struct {
		key  fyne.KeyName
		want string
	}{{fyne.KeyDown, "a.svg"}, {fyne.KeyDown, "b.svg"}, {fyne.KeyDown, "d.svg"}, {fyne.KeyDown, "a.svg"}, {fyne.KeyUp, "d.svg"}} {
		field.TypedKey(&fyne.KeyEvent{Name: step.key})
		if want := filepath.Join(dir, step.want); field.Text != want {
			t.Errorf("%s leads to %s, want %s", step.key, field.Text, want)
		}
	}
	answerWith(t, s, "Open")
	if want := filepath.Join(dir, "d.svg"); took != want {
		t.Errorf("took %q, want %s", took, want)
	}
}

// Every command can be asked for without a crash, whatever is picked.
func TestEveryCommandRuns(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	for _, refs := range [][]desk.Ref{
		nil, {desk.PieceRef(front.ID)}, {desk.EdgeRef(front.ID, front.Edges[0].ID)},
		{desk.NodeRef(front.ID, front.Edges[2].Nodes[0].ID)}, {desk.HandleRef(front.ID, front.Edges[2].Nodes[0].ID, true)},
	} {
		nudge(t, s) // so that what would drop the document or close the window asks first
		for _, c := range s.commands {
			s.desk.Pick(refs...)
			c.run()
			drain()
			for s.question != nil {
				s.question.close()
			}
		}
	}
}

// At Make, where the bench is not to be seen, keys do not change the pattern.
func TestNothingChangesUnseen(t *testing.T) {
	s := window(t)
	p := s.desk.Project().Pieces[0]
	s.desk.Pick(desk.PieceRef(p.ID))
	before := s.desk.Project()
	s.focusBench()
	s.enter(stationMake)
	if f := s.win.Canvas().Focused(); f != nil {
		t.Errorf("%T still has the keys", f)
	}
	for _, k := range []fyne.KeyName{fyne.KeyLeft, fyne.KeyDelete, fyne.KeyInsert} {
		s.unfocusedKey(&fyne.KeyEvent{Name: k})
	}
	s.win.Canvas().OnTypedRune()('s')
	if s.desk.Project() != before {
		t.Error("a key changed what is not to be seen")
	}
	s.unfocusedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if s.station != stationShape {
		t.Error("Escape does not lead back")
	}
}

func TestThemeAndUnitSwitch(t *testing.T) {
	s := window(t)
	if s.dark() {
		t.Error("the window comes up dark without having been asked to")
	}
	for _, dark := range []bool{true, false} {
		s.SetDark(dark)
		if s.dark() != dark {
			t.Errorf("dark is %v", s.dark())
		}
		if again, err := New(s.app); err != nil || again.dark() != dark {
			t.Errorf("the next window is dark: %v, %v", again.dark(), err)
		}
	}
	for _, u := range draft.Units() {
		s.setUnit(u)
		if s.desk.Project().Unit != u {
			t.Errorf("the unit is %v, want %v", s.desk.Project().Unit, u)
		}
	}
}

// Going from folder to folder keeps the name of the file that is to be written, and there
// is a way up and a way to a new folder.
func TestChooserGoesFromFolderToFolder(t *testing.T) {
	s := window(t)
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "winter", "smock"), 0o700); err != nil {
		t.Fatal(err)
	}
	s.app.Preferences().SetString(prefFolder, filepath.Join(dir, "winter", "smock"))
	var took string
	s.chooseTarget("Save", "Save", "Quill.hemlet", []string{projectEnding}, func(path string) { took = path })
	field := s.win.Canvas().Focused().(*control.Field)
	at := func(parts ...string) {
		t.Helper()
		if want := filepath.Join(append([]string{dir}, parts...)...); field.Text != want {
			t.Fatalf("at %s, want %s", field.Text, want)
		}
	}
	at("winter", "smock", "Quill.hemlet")
	field.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyUp, Modifier: fyne.KeyModifierAlt})
	at("winter", "Quill.hemlet")
	press(t, s.win.Canvas().Overlays().Top(), "Folder above")
	at("Quill.hemlet")
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	field.OnSubmitted(field.Text)
	at("winter", "Quill.hemlet")
	press(t, s.win.Canvas().Overlays().Top(), "New folder…")
	name := s.win.Canvas().Focused().(*control.Field)
	name.SetText("../out")
	name.OnSubmitted(name.Text)
	if s.question == nil || exists(filepath.Join(dir, "out")) {
		t.Fatal("a folder is made elsewhere")
	}
	name.SetText("coats")
	name.OnSubmitted(name.Text)
	settle()
	at("winter", "coats", "Quill.hemlet")
	if s.win.Canvas().Focused() != fyne.Focusable(field) {
		t.Error("the keys do not come back to the path")
	}
	field.SetText(filepath.Join(dir, "winter") + "/")
	field.CursorColumn = len([]rune(field.Text))
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	at("Quill.hemlet")
	answerWith(t, s, "Save")
	if took != filepath.Join(dir, "Quill.hemlet") {
		t.Errorf("took %s", took)
	}
}

// A project that nobody has named takes the name of its file and never that of its wearer; the
// unit alone is nothing to ask about, and is kept all the same.
func TestProjectsAreNamedAndUnitsKept(t *testing.T) {
	s := bare(t)
	if _, err := desk.RunFolded(s.desk, draft.AddWearer, draft.AddWearerArgs{Name: "Wearer"}, ""); err != nil {
		t.Fatal(err)
	}
	if n := s.desk.Project().Name; n != unnamed {
		t.Fatalf("with a wearer it is called %q", n)
	}
	path := filepath.Join(t.TempDir(), "winter show.hemlet")
	s.files.write(path, nil, nil)
	if n := s.desk.Project().Name; n != "winter show" {
		t.Errorf("saved, it is called %q", n)
	}
	s.setUnit(draft.Inch)
	if s.desk.Dirty() {
		t.Error("the unit alone is asked about")
	}
	s.files.new()
	settle()
	if s.question != nil || s.desk.Project().Unit != draft.Inch {
		t.Errorf("a new project is in %v", s.desk.Project().Unit)
	}
	if p, _, err := store.Load(path); err != nil || p.Unit != draft.Inch || p.Name != "winter show" {
		t.Errorf("the file says %q in %v (%v)", p.Name, p.Unit, err)
	}
	out, err := desk.RunFolded(s.desk, draft.AddWearer, draft.AddWearerArgs{Name: "Wearer"}, "")
	if err != nil {
		t.Fatal(err)
	}
	if err := desk.Run(s.desk, draft.RenameWearer, draft.RenameWearerArgs{Wearer: draft.WearerRef(out.Made), Name: "Quill"}); err != nil {
		t.Fatal(err)
	}
	if n := s.desk.Project().Name; n != unnamed {
		t.Errorf("with a wearer called Quill the project is called %q", n)
	}
}
