package station

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
)

// shownPlaces notes what a station has shown on the bench.
type shownPlaces struct{ refs desk.Picked }

// truing makes the station over the sample, in a window.
func truing(t *testing.T) (*Truing, *shownPlaces) {
	t.Helper()
	d := sample(t)
	shown := &shownPlaces{}
	s := NewTrue(d, TrueWays{
		Bench: control.NewPlane(look.Bench, "", 0), Say: func(string) {}, Away: func() {}, Sew: func() {}, Report: func() {}, Before: func(*draft.Project) {},
		Show:      func(refs ...desk.Ref) { shown.refs = refs; d.Pick(refs...) },
		AskReason: func(f draft.Finding, take func(string) error) { _ = take("the cap is gathered by hand") },
		Aside:     func(work func() func()) { work()() },
	})
	d.Listen(s.Changed)
	w := test.NewTempWindow(t, control.Stack(0))
	w.SetPadded(false)
	w.SetContent(newStack(s.Left()))
	w.Resize(fyne.NewSize(304, 700))
	s.Shown()
	return s, shown
}

// soon does what the station has put off for a moment.
func soon(t *testing.T, done func() bool) {
	t.Helper()
	for end := time.Now().Add(5 * time.Second); !done(); {
		select {
		case f := <-events:
			f()
		case <-time.After(50 * time.Millisecond):
			if time.Now().After(end) {
				t.Fatal("it does not happen")
			}
		}
	}
}

// seamBy returns the row of the seam with the name.
func seamBy(t *testing.T, s *Truing, name string) seamRow {
	t.Helper()
	for _, r := range s.seams.all {
		if r.seam.Name == name {
			return r
		}
	}
	t.Fatalf("no seam is called %s", name)
	return seamRow{}
}

func TestTableOfSeamsSaysHowEachStands(t *testing.T) {
	s, _ := truing(t)
	off := seamBy(t, s, "armhole")
	if off.level != control.Problem || off.word != "too much" || off.letter != "D" {
		t.Errorf("the armhole is told as %q, %v, letter %s", off.word, off.level, off.letter)
	}
	// The sample's cap is 123.1 mm round an armhole of 115.3, meant to be eased by 1.02.
	cells := off.cells(draft.Millimetre)
	want := [seamColumnCount]string{"too much", "D", "armhole", "armhole of Front and Back – cap of Sleeve", "115.3", "123.1", "+5.5", "1.068 of 1.02", "± " + draft.Millimetre.FormatBare(off.state.Limit)}
	if cells != want {
		t.Errorf("cells %q, want %q", cells, want)
	}
	if side := seamBy(t, s, "side"); side.level != control.Holds || side.word != "holds" {
		t.Errorf("the side seam is told as %q", side.word)
	}
}

// The sample's cuff is 56 mm, and 84 mm of sleeve are gathered to it.
func TestFullnessIsDrawnUnderBothSides(t *testing.T) {
	s, _ := truing(t)
	s.seams.choose(seamBy(t, s, "cuff").seam.ID, false)
	full := s.seam.full
	if got := full.says.Text(); got != "84 mm gathered to 56 mm, 1.50 to 1" {
		t.Errorf("it says %q", got)
	}
	a, b := full.side[draft.SideA], full.side[draft.SideB]
	if short, long := min(a.long, b.long), max(a.long, b.long); long != 1 || math.Abs(float64(short)-56.0/84) > 1e-6 || a.wide != a.long || b.wide != b.long {
		t.Errorf("the bars are %v and %v long, %v and %v of them in colour", a.long, b.long, a.wide, b.wide)
	}
	s.seams.choose(seamBy(t, s, "side").seam.ID, false)
	if full.says.Visible() || a.object.Visible() {
		t.Error("a plain seam has bars")
	}
}

func TestProofLeadsToTheMeasureThatItWants(t *testing.T) {
	s, _ := truing(t)
	var asked []string
	s.ways.Measure = func(wearer draft.ID, measure string) { asked = append(asked, string(wearer)+" "+measure) }
	pr := draft.Proof{Key: "x", Wearer: "w1", Measures: []string{"head_girth"}}
	b, ok := s.toMeasure(pr).(*control.Button)
	if !ok {
		t.Fatal("there is no way to the measure")
	}
	b.Tapped(nil)
	if !slices.Equal(asked, []string{"w1 head_girth"}) {
		t.Errorf("asked for %v", asked)
	}
	if pr.Measures = nil; s.toMeasure(pr) != nil {
		t.Error("a proof that goes by no measure leads to one")
	}
}

func TestTableOfSeamsSortsAndFilters(t *testing.T) {
	s, _ := truing(t)
	names := func() []string {
		var out []string
		for _, r := range s.seams.rows {
			out = append(out, r.seam.Name)
		}
		return out
	}
	all := names()
	s.seams.sortBy(columnState)
	if got := names(); got[0] != "armhole" || len(got) != len(all) {
		t.Errorf("by state: %v", got)
	}
	s.seams.sortBy(columnA)
	if !slices.IsSortedFunc(s.seams.rows, func(a, b seamRow) int { return columnA.compare(a, b) }) {
		t.Errorf("by side a: %v", names())
	}
	up := names()
	s.seams.sortBy(columnA)
	if down := names(); down[0] != up[len(up)-1] {
		t.Errorf("pressed twice: %v, once: %v", down, up)
	}
	s.seams.setFilter(offSeams)
	if got := names(); !slices.Equal(got, []string{"armhole"}) {
		t.Errorf("off: %v", got)
	}
	s.seams.setFilter(fullSeams)
	for _, r := range s.seams.rows {
		if r.seam.Fullness == draft.Plain {
			t.Errorf("%s is plain and listed with those that are not", r.seam.Name)
		}
	}
}

func TestPressedSeamIsShownOnTheBench(t *testing.T) {
	s, shown := truing(t)
	row := seamBy(t, s, "armhole")
	s.seams.choose(row.seam.ID, true)
	if want := desk.SeamRefs(row.seam); !slices.Equal(shown.refs, want) {
		t.Errorf("shown are %v, want %v", shown.refs, want)
	}
	if s.seam.state.Text() != "cap of Sleeve is 5.5 mm too long" {
		t.Errorf("beside the table: %q", s.seam.state.Text())
	}
	// An edge that is picked on the bench leads to its seam.
	other := seamBy(t, s, "side")
	s.desk.Pick(desk.SeamRefs(other.seam)[0])
	if s.seams.chosen != other.seam.ID {
		t.Error("the seam of a picked edge is not taken in hand")
	}
}

// deeds returns the cards to press of the seam in hand.
func asIs(t *testing.T, s *Truing) *deedCard {
	t.Helper()
	row := seamBy(t, s, "armhole")
	return deedFor(s, deedOf(asItIs(row.seam.ID)))
}

// deedFor returns the card of a deed.
func deedFor(s *Truing, d deed) *deedCard {
	return s.trial.newDeed(d, true, control.NewProse("", 12, false, look.Ink, 200), 200)
}

func TestMendIsShownWhileItIsLookedAt(t *testing.T) {
	s, _ := truing(t)
	before := s.desk.Project()
	listed := slices.Clone(s.findings.shown)
	c := asIs(t, s)
	s.trial.look(c)
	soon(t, s.desk.Trying)
	if s.desk.Project() == before || s.desk.Count("").Problems != 0 {
		t.Error("what is looked at is not shown")
	}
	if !slices.Equal(listed, s.findings.shown) {
		t.Error("the findings move under the pointer while a mend is looked at")
	}
	if seamBy(t, s, "armhole").state.Holds || s.desk.SettledCount().Problems == 0 || s.desk.Dirty() {
		t.Error("what is only tried is told as if it were done")
	}
	if got := c.moves.Text(); got != "No outline moves" {
		t.Errorf("it says %q of a mend that moves nothing", got)
	}
	s.trial.leave(c)
	if s.desk.Project() != before || s.desk.Trying() || s.desk.Dirty() {
		t.Error("what was looked at has left something behind")
	}
}

func TestMendIsOneStep(t *testing.T) {
	for _, first := range []bool{true, false} { // looked at before, or pressed at once
		s, _ := truing(t)
		before := s.desk.Project()
		c := asIs(t, s)
		if first {
			s.trial.look(c)
			soon(t, s.desk.Trying)
		}
		s.trial.take(c)
		if s.desk.Trying() || s.desk.Project() == before || s.desk.Count("").Problems != 0 {
			t.Fatal("it was not done")
		}
		if steps, _ := s.desk.History().Steps(); len(steps) != 2 {
			t.Errorf("%d steps, want the one before and one more", len(steps))
		}
		if strings.Contains(strings.Join(s.findings.shown, "\n"), "/length") {
			t.Error("the finding is still listed")
		}
		s.desk.Undo()
		if s.desk.Project() != before {
			t.Error("undo does not lead back")
		}
	}
}

// The second half of a double press would do what has come to lie under the pointer.
func TestSecondPressDoesNothing(t *testing.T) {
	now := time.Now()
	control.Now = func() time.Time { return now }
	t.Cleanup(func() { control.Now = time.Now })
	s, _ := truing(t)
	rename := func(name string) *deedCard {
		return deedFor(s, deed{title: "do it", do: func(p *draft.Project) (draft.Outcome, error) {
			return draft.RenameProject.Do(p, draft.RenameProjectArgs{Name: name})
		}})
	}
	var then func()
	s.ways.Aside = func(work func() func()) { then = work() }
	s.trial.take(rename("one"))
	one := then
	then = nil
	s.trial.take(rename("two")) // while the first is worked out
	one()
	now = now.Add(oncePer - time.Millisecond)
	s.trial.take(rename("two"))
	if got := s.desk.Project().Name; then != nil || got != "one" {
		t.Errorf("after a double press the project is called %q", got)
	}
	now = now.Add(time.Millisecond)
	s.trial.take(rename("two"))
	if then == nil {
		t.Fatal("half a second later nothing can be done")
	}
	then()
	if got := s.desk.Project().Name; got != "two" {
		t.Errorf("a later press leaves it called %q", got)
	}
}

// A mend that is still being worked out is not laid over what was done meanwhile.
func TestMendOfAnEarlierDocumentIsDropped(t *testing.T) {
	s, _ := truing(t)
	var then []func()
	s.ways.Aside = func(work func() func()) { then = append(then, work()) }
	c := asIs(t, s)
	s.trial.take(c)
	if err := desk.Run(s.desk, draft.RenameProject, draft.RenameProjectArgs{Name: "other"}); err != nil {
		t.Fatal(err)
	}
	want := s.desk.Project()
	for _, f := range then {
		f()
	}
	if len(then) == 0 || s.desk.Project() != want {
		t.Error("it was done all the same")
	}
}

func TestMendThatCannotBeDoneSaysWhy(t *testing.T) {
	s, _ := truing(t)
	before := s.desk.Project()
	c := deedFor(s, deedOf(asItIs("s999")))
	s.trial.look(c)
	soon(t, func() bool { return strings.Contains(c.says.Text(), "s999") })
	if s.desk.Project() != before || s.desk.Trying() {
		t.Error("the document has changed")
	}
}

func TestFindingsAreListedByLevelAndWaivedOnesFoldedAway(t *testing.T) {
	s, _ := truing(t)
	if s.findings.chosen == "" || !strings.HasSuffix(s.findings.chosen, "/length") {
		t.Fatalf("in hand is %q, want the problem", s.findings.chosen)
	}
	key := s.findings.chosen
	if err := desk.Run(s.desk, draft.Waive, draft.WaiveArgs{Finding: key, Reason: "gathered by hand"}); err != nil {
		t.Fatal(err)
	}
	open := 0
	for _, row := range s.findings.shown {
		if strings.HasPrefix(row, "group ") {
			open++
		}
	}
	list := strings.Join(s.findings.shown, "\n")
	if !strings.Contains(list, "1 you live with folded") {
		t.Errorf("what the maker lives with is not folded away:\n%s", list)
	}
	if strings.Contains(list, key+"|") && s.findings.chosen != key {
		t.Error("a waived finding is still shown")
	}
	s.findings.open["waived"] = true
	s.findings.update()
	if list = strings.Join(s.findings.shown, "\n"); !strings.Contains(list, "gathered by hand") {
		t.Errorf("unfolded, the reason is not told:\n%s", list)
	}
}

func TestEdgesWithoutAPartnerAreListed(t *testing.T) {
	s, shown := truing(t)
	s.turnTo(tabUnsewn)
	p := s.desk.Project()
	sewn := map[desk.Ref]bool{}
	for _, seam := range p.Seams {
		for _, r := range desk.SeamRefs(seam) {
			sewn[r] = true
		}
	}
	n := 0
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			if e.Kind == draft.SeamEdge && !sewn[desk.EdgeRef(piece.ID, e.ID)] {
				n++
			}
		}
	}
	if n == 0 || len(s.unsewn.edges) != n {
		t.Fatalf("%d edges are listed, want %d", len(s.unsewn.edges), n)
	}
	s.unsewn.pressed(0)
	if len(shown.refs) != 1 || shown.refs[0] != s.unsewn.edges[0] {
		t.Errorf("shown is %v", shown.refs)
	}
}

func TestProofsAreListedWithWhatHasToBeMendedFirst(t *testing.T) {
	s, shown := truing(t)
	s.turnTo(tabProofs)
	rows := s.proofs.rows
	for _, pr := range s.desk.Slots().Proofs(s.desk.Project()) {
		if !slices.ContainsFunc(rows, func(x draft.Proof) bool { return x.Key == pr.Key }) {
			t.Errorf("%s is not listed", pr.Key)
		}
	}
	for _, o := range s.desk.Slots().AllOpenings(s.desk.Project()) {
		if !slices.ContainsFunc(rows, func(x draft.Proof) bool { return x.Key == o.Key }) {
			t.Errorf("of %s it cannot be said what goes through", o.Name)
		}
	}
	if !slices.IsSortedFunc(rows, compareProofs) {
		t.Error("they are in no order")
	}
	neck := slices.IndexFunc(rows, func(pr draft.Proof) bool { return pr.Kind == draft.ProofOpening })
	if neck < 0 {
		t.Fatal("no opening is proven")
	}
	s.proofs.pressed(neck)
	if s.proofs.says.Text() != rows[neck].Says || len(shown.refs) == 0 {
		t.Errorf("of %q it says %q and shows %v", rows[neck].Name, s.proofs.says.Text(), shown.refs)
	}
	if level, word := s.proofs.stands(rows[neck]); level != control.Holds || word != "holds" {
		t.Errorf("the sample's %s is told as %q", rows[neck].Name, word)
	}
}

// In a small window what is in hand takes the place of the table, and leads back to it.
func TestNarrowTablesGiveWayToWhatIsInHand(t *testing.T) {
	s, _ := truing(t)
	row := seamBy(t, s, "side")
	for _, wide := range []float32{seamCardWide + asideLeast, 420} {
		narrow := wide < seamCardWide+asideLeast
		s.beside.object.Resize(fyne.NewSize(wide, 200))
		s.seams.choose("", false)
		if !s.beside.table.Visible() || s.beside.aside.Visible() == narrow {
			t.Errorf("%v wide, with no seam in hand: the table is seen: %v, what is beside it: %v", wide, s.beside.table.Visible(), s.beside.aside.Visible())
		}
		s.seams.choose(row.seam.ID, false)
		if !s.beside.aside.Visible() || s.beside.table.Visible() == narrow {
			t.Errorf("%v wide, with a seam in hand: the table is seen: %v, what is beside it: %v", wide, s.beside.table.Visible(), s.beside.aside.Visible())
		}
		s.beside.back.Tapped(nil)
		if narrow && (s.seams.chosen != "" || !s.beside.table.Visible()) {
			t.Error("there is no way back to the table")
		}
	}
	for _, wide := range []float32{420, 500, 600, 900, 1400} {
		sum := float32(seamRowPad + seamRowEnd)
		w := seamCells{}.widths(wide)
		for _, x := range w {
			sum += x
		}
		if sum > wide || w[columnName] < seamNameLeast || w[columnState] == 0 || w[columnDiff] == 0 {
			t.Errorf("%v wide: columns %v", wide, w)
		}
	}
}

// Whatever the room, a row of the seams and the heads show all columns, clear of one another and
// in the row; what is sewn to what, and what is allowed, are left out of one line alone.
func TestNoSeamColumnIsLost(t *testing.T) {
	s, _ := truing(t)
	for _, wide := range []float32{418, 500, 600, 900, 1400} {
		win := test.NewTempWindow(t, container.NewStack(s.seams.object))
		win.SetPadded(false)
		win.Resize(fyne.NewSize(wide, 240))
		line := s.seams.newLine().(*fyne.Container)
		line.Resize(fyne.NewSize(wide, line.MinSize().Height))
		s.seams.fill(0, line)
		for _, row := range []*fyne.Container{line, s.seams.top} {
			for i, o := range row.Objects[:seamColumnCount] {
				if !o.Visible() {
					if seamColumn(i) != columnSides && seamColumn(i) != columnLimit || s.seams.two {
						t.Errorf("%v wide: column %q is lost", wide, seamColumnWords[i])
					}
					continue
				}
				if o.Position().X < 0 || o.Position().Y < 0 || o.Position().X+o.Size().Width > wide || o.Position().Y+o.Size().Height > row.Size().Height || o.Size().Width < 20 {
					t.Errorf("%v wide: column %q lies at %v, %v large", wide, seamColumnWords[i], o.Position(), o.Size())
				}
				for k, other := range row.Objects[:i] {
					if other.Visible() && meet(o, other) {
						t.Errorf("%v wide: column %q lies over %q", wide, seamColumnWords[i], seamColumnWords[k])
					}
				}
			}
		}
	}
}

// What goes through an opening is said where it is proven: from the list, or with a name
// and a girth of its own, as one step.
func TestWhatGoesThroughAnOpeningIsSaidAtItsProof(t *testing.T) {
	s, _ := truing(t)
	s.turnTo(tabProofs)
	neck := slices.IndexFunc(s.proofs.rows, func(pr draft.Proof) bool { return pr.Kind == draft.ProofOpening })
	s.proofs.pressed(neck)
	c := s.proofs.passing
	if !c.object.Visible() || c.opening == nil || !strings.HasPrefix(c.what.Selected, "by its name: ") {
		t.Fatalf("of an opening it says %q", c.what.Selected)
	}
	seen := map[string]bool{}
	for _, o := range c.what.Options {
		if seen[o] {
			t.Errorf("%q is listed twice", o)
		}
		seen[o] = true
	}
	proof := func() draft.Opening {
		for _, o := range s.desk.Slots().AllOpenings(s.desk.Project()) {
			if o.Key == c.opening.Key {
				return o
			}
		}
		t.Fatal("the opening is gone")
		return draft.Opening{}
	}
	c.choose(len(c.what.Options) - 2)
	if o := proof(); o.Passes != draft.PassesNothing || c.round.Visible() {
		t.Errorf("%q passes, want nothing", o.Passes)
	}
	before := s.desk.Project()
	c.choose(len(c.what.Options) - 1)
	if !c.named.Visible() || s.desk.Project() != before {
		t.Fatal("nothing asks for the name of something else")
	}
	if err := c.setGirth("150 mm"); err == nil {
		t.Error("a girth without a name is taken")
	}
	c.name.SetText("lantern")
	if err := c.setGirth("150 mm"); err != nil {
		t.Fatal(err)
	}
	if o := proof(); o.Passes != "lantern" || o.Needs != 150 || c.what.Selected != "lantern, 150 mm" {
		t.Errorf("%q of %v passes, told as %q", o.Passes, o.Needs, c.what.Selected)
	}
	if err := c.setGirth("120 mm"); err != nil || proof().Needs != 120 {
		t.Errorf("another girth leaves %v, error %v", proof().Needs, err)
	}
	s.desk.Undo() // the figures are one step, as long as nothing lies between them
	if s.desk.Project() != before {
		t.Error("undo does not lead back")
	}
	c.choose(0)
	if proof().Passes == draft.PassesNothing {
		t.Error("by its name nothing passes")
	}
}

// traced returns the smock as it comes from a scan: nothing is sewn, and edges are numbered.
func traced(t *testing.T) *draft.Project {
	t.Helper()
	p := *smockFor(t)
	p.Seams = nil
	for i, piece := range p.Pieces {
		q := *piece
		q.Edges = slices.Clone(q.Edges)
		for k := range q.Edges {
			q.Edges[k].Name = "edge " + strconv.Itoa(k+1)
		}
		p.Pieces = slices.Clone(p.Pieces)
		p.Pieces[i] = &q
	}
	return &p
}

// What is sewn to nothing is told before all else, and leads to where it is sewn.
func TestEdgesSewnToNothingAreToldFirst(t *testing.T) {
	s, _ := truing(t)
	s.desk.Open(traced(t), "")
	s.Update()
	n := len(edgesWithoutPartner(s.desk.Project()))
	want := strconv.Itoa(n) + " edges are sewn to nothing"
	if got := s.findings.head.Text(); n < 10 || got != want {
		t.Errorf("it heads %q, want %q", got, want)
	}
	first, ok := s.findings.rows.Objects[0].(*control.Card)
	if !ok {
		t.Fatal("the list does not begin with what is sewn to nothing")
	}
	for key := range s.findings.cards {
		if strings.HasSuffix(key, "/partners") {
			t.Errorf("it is told of %s by itself too", key)
		}
	}
	first.Tapped(nil)
	if s.tab != tabUnsewn || len(s.unsewn.edges) != n {
		t.Errorf("it leads to table %d with %d edges", s.tab, len(s.unsewn.edges))
	}
	// With the reason why they may stay they are counted no more.
	for _, f := range s.desk.Report().Findings {
		if tellsUnsewn(f) {
			if err := desk.Run(s.desk, draft.Waive, draft.WaiveArgs{Finding: f.Key, Reason: "a cape"}); err != nil {
				t.Fatal(err)
			}
		}
	}
	if got := s.findings.head.Text(); strings.Contains(got, "sewn to nothing") {
		t.Errorf("once that is meant it still heads %q", got)
	}
}

// Edges that bear only a number are named where they are to be sewn.
func TestNumberedEdgesAreNamedWhereTheyAreSewn(t *testing.T) {
	s, _ := truing(t)
	s.desk.Open(traced(t), "")
	s.ShowUnsewn()
	if !s.unsewn.name.Visible() {
		t.Fatal("nothing offers to name them")
	}
	list := buttons(s.unsewn.name)
	if len(list) != 1 {
		t.Fatalf("there are %d buttons", len(list))
	}
	list[0].Tapped(nil)
	if names := s.desk.Slots().EdgeNames(s.desk.Project(), nil); len(names) > 0 || s.unsewn.name.Visible() {
		t.Errorf("%d could still be named", len(names))
	}
	if !slices.ContainsFunc(s.desk.Project().Pieces, func(p *draft.Piece) bool {
		return slices.ContainsFunc(p.Edges, func(e draft.Edge) bool { return e.Name == "armhole" })
	}) {
		t.Error("no edge is called armhole")
	}
}

// A seam in hand can be put down: by its button, by Escape in the table, and by picking
// nothing, or only its piece, on the bench.
func TestASeamIsPutDown(t *testing.T) {
	s, _ := truing(t)
	for name, down := range map[string]func(){
		"the button":     func() { test.Tap(s.seam.down) },
		"Escape":         func() { s.seams.key(fyne.KeyEscape) },
		"the bare bench": func() { s.desk.Pick() },
		"its piece":      func() { s.desk.Pick(desk.PieceRef(s.desk.Project().Pieces[0].ID)) },
	} {
		s.seams.choose(s.seams.rows[0].seam.ID, true)
		if s.seams.chosen == "" || s.seam.none.Visible() {
			t.Fatal("no seam is in hand")
		}
		if down(); s.seams.chosen != "" || !s.seam.none.Visible() {
			t.Errorf("%s leaves the seam in hand", name)
		}
	}
	if s.seams.key(fyne.KeyEscape) {
		t.Error("with nothing in hand the table takes Escape from the rest")
	}
}
