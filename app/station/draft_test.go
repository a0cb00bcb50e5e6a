package station

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
	"hemlet/draft/figure"
	"hemlet/draft/formula"
	"hemlet/geom"
)

// drafting is the station over a project, with what it asked of the window.
type drafting struct {
	*Draft
	said    []string
	drafted []draft.ID
	opened  []string
	asked   func(name string) error
	told    string // the fault when the block in hand was last drafted
}

// newDrafting makes the station over a project with the wearer, if there is one.
func newDrafting(tb testing.TB, w *draft.Wearer) *drafting {
	tb.Helper()
	test.NewTempApp(tb).Settings().SetTheme(look.NewTheme(look.Light))
	p := draft.New("test")
	if w != nil {
		out, err := draft.AddWearerFrom.Do(p, draft.AddWearerFromArgs{Wearer: w})
		if err != nil {
			tb.Fatal(err)
		}
		p = out.Project
	}
	d := desk.New(p)
	x := &drafting{}
	dir := filepath.Join(tb.TempDir(), "blocks")
	var err error
	x.Draft, err = NewDraft(d, *look.Palette(look.Light.Variant()), DraftHost{
		Say:       func(text string) { x.said = append(x.said, text) },
		NewWearer: func() {}, Measures: func(draft.ID) {},
		Drafted:  func(ids []draft.ID) { x.drafted = ids },
		AskName:  func(_, _, _ string, take func(string) error) { x.asked = take },
		OpenPath: func(path string) error { x.opened = append(x.opened, path); return nil },
		Folder:   func() string { return dir },
		View:     func() {},
		Pointer:  func(geom.Point, bool) {},
		Tried:    func() { x.told = x.Fault() },
	})
	if err != nil {
		tb.Fatal(err)
	}
	d.Listen(x.Changed)
	x.Shown()
	tb.Cleanup(x.Hidden)
	return x
}

// round is a body that every block of ours can be drafted for.
func round() *draft.Wearer {
	return &draft.Wearer{Name: "Quill", Build: figure.Wide, Measures: []draft.Measure{
		{Name: "stature", Value: 360}, {Name: "bust_girth", Value: 231}, {Name: "waist_girth", Value: 238},
		{Name: "belly_girth", Value: 258}, {Name: "hip_girth", Value: 240}, {Name: "back_waist_length", Value: 84},
	}}
}

func (x *drafting) field(tb testing.TB, name string) *readRow {
	tb.Helper()
	for _, r := range x.panel.readRows {
		if r.name == name {
			return r
		}
	}
	tb.Fatalf("there is no field for %s", name)
	return nil
}

func (x *drafting) choice(tb testing.TB, name string) *choiceRow {
	tb.Helper()
	for _, r := range x.panel.choiceRows {
		if r.choice.Name == name {
			return r
		}
	}
	tb.Fatalf("there is no field for the choice %s", name)
	return nil
}

// What a trial lacks is told to the window as soon as it is tried.
func TestFaultOfATrial(t *testing.T) {
	x := newDrafting(t, &draft.Wearer{Name: "Quill", Build: figure.Wide})
	if !strings.Contains(x.told, "still wanted") {
		t.Errorf("without measures it tells %q", x.told)
	}
	for _, m := range round().Measures {
		args := draft.SetMeasureArgs{Wearer: draft.WearerRef(x.wearer), Name: m.Name, Value: draft.Length(m.Value)}
		if err := desk.Run(x.desk, draft.SetMeasure, args); err != nil {
			t.Fatal(err)
		}
	}
	if x.told != "" {
		t.Errorf("with all measures it tells %q", x.told)
	}
}

// Whoever has nobody to draft for is told so, and nothing is drawn in their place.
func TestDraftWithoutWearer(t *testing.T) {
	x := newDrafting(t, nil)
	if x.now == nil || x.now.sheet != nil || len(x.notice.Objects) != 1 || !x.panel.button.Off() {
		t.Error("without a wearer something can be drafted")
	}
	x.DraftIt()
	if len(x.desk.Project().Pieces) != 0 || len(x.said) == 0 {
		t.Error("without a wearer something was drafted")
	}
}

// A measure that the block cannot do without is asked for by its words.
func TestDraftTellsWhatIsMissing(t *testing.T) {
	w := round()
	w.Measures = w.Measures[:2]
	x := newDrafting(t, w)
	if x.now.sheet != nil || len(x.notice.Objects) != 1 {
		t.Fatal("a bodice was drafted without waist and length")
	}
	var missing *block.MissingError
	if !errors.As(x.now.err, &missing) || len(missing.Measures) == 0 {
		t.Fatalf("%v", x.now.err)
	}
	for _, name := range missing.Measures {
		if err := x.setMeasure(name, "80"); err != nil {
			t.Fatal(err)
		}
	}
	if x.now.sheet == nil || len(x.notice.Objects) != 0 {
		t.Errorf("with all measures there is still no draft: %v", x.now.err)
	}
}

// The pieces lie with their middles on those of the figures and with the waist at the
// height of the wearer's waist, whatever the body.
func TestPiecesLieOnTheWearer(t *testing.T) {
	b, err := block.Named("bodice")
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(3, 7))
	for range 40 {
		g := bodytest.Odd(r)
		s, err := b.Draft(g, nil)
		if err != nil {
			continue // what cannot be drafted is the block's business
		}
		fig := figure.Draw(body.Resolve(g), figure.Wide, figure.Front)
		l := place(s, fig)
		waist, ok := heightOf(fig, "waist")
		if !ok || !l.hasBack || !l.hasFront {
			t.Fatal("the bodice has no place on the figure")
		}
		for i := range s.Pieces {
			p, centre := &s.Pieces[i], l.front.E
			if l.sides[i] == onBack {
				centre = l.back.E
			}
			x, _ := middleOf(p)
			if got := l.pieces[i].Apply(geom.Pt(x, 0)).X; math.Abs(got-centre) > 1e-6 {
				t.Errorf("the middle of %s lies at %v, that of the figure at %v", p.Role, got, centre)
			}
			if y, ok := levelIn(p, "waist", x); ok && l.sides[i] == onBack {
				if got := l.pieces[i].Apply(geom.Pt(0, y)).Y; math.Abs(got-waist) > 1e-6 {
					t.Errorf("the waist of %s lies at %v, the wearer's at %v", p.Role, got, waist)
				}
			}
		}
		// Side seam to side seam, without lying over one another.
		boxes := map[side]geom.Rect{}
		for i := range s.Pieces {
			boxes[l.sides[i]] = outlineOf(&s.Pieces[i]).Transform(l.pieces[i]).Bounds()
		}
		if boxes[onBack].Center().X > boxes[onFront].Center().X {
			t.Error("the back does not lie at the left, as on the sheet")
		}
	}
}

// After a change, what was there before is kept to compare; steps of one value count as
// one change, and another block begins anew.
func TestBeforeAndAfter(t *testing.T) {
	x := newDrafting(t, round())
	if x.before != nil || x.legend.object.Visible() {
		t.Fatal("there is something before anything was changed")
	}
	first := x.now
	ease := x.choice(t, "ease")
	ease.field.Step(1)
	ease.field.Step(1)
	if x.before != first || !x.legend.object.Visible() {
		t.Error("two steps of one choice are not compared with what was before both")
	}
	second := x.now
	if err := x.setMeasure("belly_girth", "280"); err != nil {
		t.Fatal(err)
	}
	if x.before != second {
		t.Error("a change of a measure is not compared with what was before it")
	}
	if says := x.now.difference(x.before, draft.Millimetre); !strings.Contains(says, "258 mm → 280 mm") {
		t.Errorf("the legend says %q", says)
	}
	layers := len(x.onWearer())
	x.show = showNow
	if after := len(x.onWearer()); after >= layers {
		t.Error("“now” draws what was before")
	}
	x.Choose("shirt-1916")
	if x.before != nil {
		t.Error("another block is compared with the one before")
	}
}

// Only what a measure has a bearing on moves: with a larger belly, neck, shoulder and
// armhole of the bodice stay where they are.
func TestLargerBellyMovesOnlyTheBelly(t *testing.T) {
	x := newDrafting(t, round())
	if err := x.setMeasure("belly_girth", "280"); err != nil {
		t.Fatal(err)
	}
	moved := false
	for i := range x.now.sheet.Pieces {
		now, was := &x.now.sheet.Pieces[i], &x.before.sheet.Pieces[i]
		left, _ := middleOf(now)
		before, _ := middleOf(was)
		for _, n := range nodesOf(now) {
			at, ok := nodeOf(was, n.Name)
			if !ok {
				continue
			}
			d := n.At.Sub(at).Sub(geom.Pt(left-before, 0))
			upper := n.At.Y > -40 // the armhole ends above
			if upper && d.Len() > 1e-6 {
				t.Errorf("%s of %s moved by %v", n.Name, now.Role, d)
			}
			moved = moved || d.Len() > 1
		}
	}
	if !moved {
		t.Error("nothing moved")
	}
}

func TestChoicesComeByFormulaUntilTheyAreSet(t *testing.T) {
	x := newDrafting(t, round())
	r := x.choice(t, "ease")
	byFormula := r.field.Text
	if !r.formula.Chosen() || byFormula == "" {
		t.Fatal("a choice that nobody set does not say that it comes by formula")
	}
	if err := r.field.Take("20"); err != nil {
		t.Fatal(err)
	}
	if c, _ := x.now.chosen("ease"); c.Value != (formula.Length{MM: 20}) || c.Default || r.formula.Chosen() {
		t.Errorf("set to 20, it is %v", c)
	}
	if err := r.field.Take("900"); err == nil || !strings.Contains(err.Error(), "at most") {
		t.Errorf("beyond its bounds: %v", err)
	}
	if err := r.field.Take("a lot"); err == nil {
		t.Error("words are taken for a length")
	}
	r.formula.Tapped(nil)
	if r.field.Text != byFormula || !r.formula.Chosen() {
		t.Errorf("back by formula it is %q, was %q", r.field.Text, byFormula)
	}
	r.field.Take("20")
	if err := r.field.Take(" "); err != nil || r.field.Text != byFormula {
		t.Errorf("emptied, it is %q: %v", r.field.Text, err)
	}
}

// Draft it makes the pieces; from then on the panel edits what they follow, and they
// follow at once.
func TestDraftItAndFollow(t *testing.T) {
	x := newDrafting(t, round())
	x.choice(t, "ease").field.Take("20")
	x.DraftIt()
	p := x.desk.Project()
	if len(p.Pieces) != 2 || len(x.drafted) != 2 || len(p.Derivations) != 1 {
		t.Fatalf("%d pieces, %d shown, %d derivations; said %q", len(p.Pieces), len(x.drafted), len(p.Derivations), x.said)
	}
	if x.now.derivation == nil || !hasSetting(x.now.derivation, "ease") {
		t.Fatal("the choice that was tried is not in what was drafted")
	}
	area := func() float64 {
		sum := 0.0
		for _, piece := range x.desk.Project().Pieces {
			sum += piece.DrawnPath().Area()
		}
		return sum
	}
	was := area()
	x.choice(t, "ease").field.Take("30")
	if got := area(); got <= was {
		t.Errorf("with more ease the pieces have %v mm², had %v", got, was)
	}
	was = area()
	if err := x.setMeasure("waist_girth", "250"); err != nil {
		t.Fatal(err)
	}
	if got := area(); got <= was {
		t.Errorf("for a rounder waist the pieces have %v mm², had %v", got, was)
	}
	x.desk.Undo()
	x.desk.Undo()
	if c, _ := x.now.chosen("ease"); c.Value != (formula.Length{MM: 20}) {
		t.Errorf("after undo the panel shows %v", c.Value)
	}
	x.toPieces()
	if len(x.drafted) != 2 {
		t.Error("its pieces cannot be found")
	}
}

// Estimates are marked; what is typed over one is a measure, and emptied it is an
// estimate again.
func TestEstimatesAreMarkedAndEdited(t *testing.T) {
	x := newDrafting(t, round())
	r := x.field(t, "shoulder_length")
	if !strings.HasPrefix(r.field.Text, "≈ ") {
		t.Fatalf("an estimate is shown as %q", r.field.Text)
	}
	estimate := r.field.Text
	if err := r.field.Take("≈ 25"); err != nil || r.field.Text != "25 mm" {
		t.Errorf("25 typed over an estimate shows %q: %v", r.field.Text, err)
	}
	if err := r.field.Take(""); err != nil || r.field.Text != estimate {
		t.Errorf("emptied it shows %q, want %q: %v", r.field.Text, estimate, err)
	}
	r.field.Step(1)
	if strings.HasPrefix(r.field.Text, "≈") {
		t.Error("a step of an estimate is no measure")
	}
	for _, wrong := range []string{"-3", "0", "much"} {
		if err := x.setMeasure("shoulder_length", wrong); err == nil {
			t.Errorf("%q is taken for a measure", wrong)
		}
	}
}

func TestFiguresFollowTheUnit(t *testing.T) {
	x := newDrafting(t, round())
	if err := x.desk.SetUnit(draft.InchFraction); err != nil {
		t.Fatal(err)
	}
	for _, r := range x.panel.readRows {
		if !strings.HasSuffix(r.field.Text, "in") {
			t.Errorf("%s shows %q", r.name, r.field.Text)
		}
	}
	x.setStepwise(true)
	x.steps.goTo(20)
	if strings.Contains(x.steps.value.Text(), "mm") {
		t.Errorf("the step shows %q", x.steps.value.Text())
	}
}

// Several wearers: each has its own figures, and what was drafted for one is not what
// is edited for the other.
func TestWearersAreKeptApart(t *testing.T) {
	x := newDrafting(t, round())
	x.DraftIt()
	first := x.wearer
	if err := desk.Run(x.desk, draft.CopyWearer, draft.CopyWearerArgs{Wearer: draft.WearerRef(first)}); err != nil {
		t.Fatal(err)
	}
	other := x.desk.Project().Wearers[1].ID
	x.For(other)
	if x.now.derivation != nil || x.before != nil {
		t.Error("what was drafted for the first is shown for the second")
	}
	x.For(first)
	if x.now.derivation == nil {
		t.Error("what was drafted for the first is not found again")
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// poll does what the station does every second.
func (x *drafting) poll() bool {
	fresh := x.library.fresh()
	if fresh != nil {
		x.reload(fresh)
	}
	return fresh != nil
}

// A block that is saved in the user's folder appears, is read again on every save, and
// where it is wrong says in which file, line and key.
func TestUsersBlocksFollowTheirFiles(t *testing.T) {
	x := newDrafting(t, round())
	if x.poll() {
		t.Error("an empty folder has something new")
	}
	bag := string(bagText(t))
	path := filepath.Join(x.library.folder, "sack.toml")
	write(t, path, renamed(bag, "sack", "Sack"))
	if !x.poll() || x.list.cards["sack"] == nil || !strings.Contains(x.said[len(x.said)-1], "Sack") {
		t.Fatalf("a new block does not appear; said %q", x.said)
	}
	x.Choose("sack")
	was := x.choice(t, "bag_width").field.Text
	changed := strings.Replace(renamed(bag, "sack", "Sack"), `default = "180*mm"`, `default = "200*mm"`, 1)
	write(t, path, changed)
	if !x.poll() || x.choice(t, "bag_width").field.Text == was {
		t.Errorf("after a save the width is still %q", was)
	}
	write(t, path, strings.Replace(changed, `default = "200*mm"`, `default = "200*mmm"`, 1))
	x.poll()
	said := x.said[len(x.said)-1]
	for _, want := range []string{"sack.toml", "line ", "bag_width", "mmm"} {
		if !strings.Contains(said, want) {
			t.Errorf("what is wrong does not name %q: %s", want, said)
		}
	}
	if x.now == nil || x.now.block.Name != "sack" {
		t.Error("while its file is wrong, the block is not shown as it was")
	}
	write(t, path, changed)
	if x.poll(); x.now == nil || x.now.block.Name != "sack" {
		t.Error("the mended block is not back")
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if x.poll(); x.chosen == "sack" {
		t.Error("a block whose file is gone is still in hand")
	}
}

func bagText(t *testing.T) []byte {
	t.Helper()
	for _, b := range assets.Blocks() {
		if b.File == "drawstring-bag.toml" {
			return b.Text
		}
	}
	t.Fatal("there is no drawstring bag")
	return nil
}

// What was drafted keeps the text that it was drafted by, until the maker takes the
// present one.
func TestChangedBlockIsOfferedToItsPieces(t *testing.T) {
	x := newDrafting(t, round())
	text := renamed(string(bagText(t)), "sack", "Sack")
	path := filepath.Join(x.library.folder, "sack.toml")
	write(t, path, text)
	x.poll()
	x.Choose("sack")
	x.DraftIt()
	if x.now.derivation == nil || x.panel.renew.Visible() {
		t.Fatalf("drafted: %v; said %q", x.now.derivation != nil, x.said)
	}
	wide := func() float64 { return x.desk.Project().Pieces[0].DrawnPath().Bounds().W() }
	was := wide()
	write(t, path, strings.Replace(text, `default = "180*mm"`, `default = "220*mm"`, 1))
	x.poll()
	if !x.panel.renew.Visible() || wide() != was {
		t.Fatal("pieces follow a changed file without being asked to, or the change is not told")
	}
	x.renewBlock()
	if got := wide(); got <= was || x.panel.renew.Visible() {
		t.Errorf("by the present text the piece is %v wide, was %v; said %q", got, was, x.said)
	}
}

// Where a formula fails for the wearer, the construction is shown as far as it came, and
// its last step says why it ends there.
func TestConstructionAsFarAsItCame(t *testing.T) {
	x := newDrafting(t, round())
	text := renamed(string(bagText(t)), "sack", "Sack")
	at := strings.LastIndex(text, "[[steps]]")
	failing := "[[steps]]\nname = \"nowhere\"\nis = \"leg(1*mm, 2*mm + worn_under)\"\n\n"
	write(t, filepath.Join(x.library.folder, "sack.toml"), text[:at]+failing+text[at:])
	x.poll()
	x.Choose("sack")
	if x.now == nil || x.now.sheet != nil || len(x.notice.Objects) != 1 {
		t.Fatal("what cannot be drafted is drafted")
	}
	x.setStepwise(true)
	last := len(x.steps.steps) - 1
	if want := strings.Count(text, "[[steps]]") - 1; last != want-1 || len(x.notice.Objects) != 0 {
		t.Fatalf("%d steps are shown, want %d, under %d notices", last+1, want, len(x.notice.Objects))
	}
	x.steps.goTo(last)
	if says := x.steps.saysOf(last); !strings.Contains(says, "The draft ends here. ") || !strings.Contains(says, "nowhere") {
		t.Errorf("the last step says %q", says)
	}
}

// Two blocks of one title are told apart by their files.
func TestBlocksOfOneTitleShowTheirFiles(t *testing.T) {
	x := newDrafting(t, round())
	text := string(bagText(t))
	write(t, filepath.Join(x.library.folder, "one.toml"), renamed(text, "one", "Sack"))
	write(t, filepath.Join(x.library.folder, "two.toml"), renamed(text, "two", "Sack"))
	x.poll()
	for name, want := range map[string]string{"one": "Sack (one.toml)", "two": "Sack (two.toml)", "bodice": "Bodice"} {
		e, ok := x.library.named(name)
		if !ok {
			t.Fatalf("there is no block %s", name)
		}
		if got := x.list.titleOf(e); got != want {
			t.Errorf("%s is called %q, want %q", name, got, want)
		}
	}
}

func TestNewBlockFromAnother(t *testing.T) {
	x := newDrafting(t, round())
	x.newBlock()
	if x.asked == nil {
		t.Fatal("no name is asked for")
	}
	for _, wrong := range []string{"", "  ", "12", "bodice", "Bodice"} {
		if err := x.asked(wrong); err == nil {
			t.Errorf("a block can be called %q", wrong)
		}
	}
	if err := x.asked("Quill's bodice"); err != nil {
		t.Fatal(err)
	}
	if x.chosen != "quill-s-bodice" || x.now == nil || x.now.block.Title != "Quill's bodice" || x.now.sheet == nil {
		t.Errorf("in hand is %q", x.chosen)
	}
	path := filepath.Join(x.library.folder, "quill-s-bodice.toml")
	if len(x.opened) != 1 || x.opened[0] != path {
		t.Errorf("opened %q", x.opened)
	}
	if err := x.asked("Quill's bodice"); err == nil {
		t.Error("a block was written over another")
	}
}

func TestRenamedKeepsAllButNameAndTitle(t *testing.T) {
	for _, b := range block.Builtin() {
		text := renamed(b.Text(), "other", "Another")
		again, err := block.Parse("other.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if again.Name != "other" || again.Title != "Another" || again.Says != b.Says || len(again.Choices()) != len(b.Choices()) {
			t.Errorf("%s became %s, %s", b.Name, again.Name, again.Title)
		}
		if len(strings.Split(text, "\n")) != len(strings.Split(b.Text(), "\n")) {
			t.Errorf("%s has other lines", b.Name)
		}
	}
}

func TestStepsOfTheConstruction(t *testing.T) {
	x := newDrafting(t, round())
	x.setStepwise(true)
	v := x.steps
	if len(v.steps) != len(x.now.sheet.Steps) || v.place() != 0 || !v.detail.Visible() {
		t.Fatalf("%d steps, at %d", len(v.steps), v.place())
	}
	press := func(k fyne.KeyName) { x.sheet.TypedKey(&fyne.KeyEvent{Name: k}) }
	press(fyne.KeyUp)
	if v.place() != 0 {
		t.Error("Up leads before the first step")
	}
	press(fyne.KeyEnd)
	if v.place() != len(v.steps)-1 {
		t.Error("End does not lead to the last step")
	}
	press(fyne.KeyDown)
	press(fyne.KeyPageUp)
	if v.place() != len(v.steps)-11 {
		t.Errorf("a page up from the last is %d of %d", v.place(), len(v.steps))
	}
	at := v.index["back_tip"]
	v.goTo(at)
	reads := v.readBy(v.steps[at])
	for _, want := range []string{"back_neck", "shoulder_length"} {
		if shown := strings.Join(namesShown(v), " "); !strings.Contains(strings.Join(reads, " "), want) || !strings.Contains(shown, want) {
			t.Errorf("back_tip reads %q, said to read %q", reads, shown)
		}
	}
	// Its point is on the sheet; pointing at an earlier one tells of that, and a click
	// goes there.
	tip := v.steps[at].Value.(formula.Point).At
	if got := x.sheet.Under(tip); got != stepIDs+"back_tip" {
		t.Errorf("at the tip lies %q", got)
	}
	x.hovered(stepIDs + "back_neck")
	if !strings.Contains(x.steps.name.Text(), "back_neck") || v.place() != at {
		t.Error("pointing at a point does not tell of its step")
	}
	x.hovered("")
	if !strings.Contains(x.steps.name.Text(), "back_tip") {
		t.Error("the present step is not told again")
	}
	x.tapped(stepIDs + "back_neck")
	if v.place() != v.index["back_neck"] {
		t.Error("a click does not lead to the step")
	}
	if !x.Back() || x.Back() || v.detail.Visible() {
		t.Error("Back does not leave the construction once")
	}
}

// The construction can be checked by hand: a length that reads others by one sum is that
// sum.
func TestStepValuesAreTheirFormulas(t *testing.T) {
	x := newDrafting(t, round())
	x.setStepwise(true)
	v := x.steps
	mm := func(name string) float64 {
		if i, ok := v.index[name]; ok {
			return v.steps[i].Value.(formula.Length).MM
		}
		return x.now.body.MM(name)
	}
	if got, want := mm("neck_trial"), mm("neck_base_girth")/6; math.Abs(got-want) > 1e-9 {
		t.Errorf("a sixth of the neck is %v, shown %v", want, got)
	}
}

func TestShowValue(t *testing.T) {
	for _, c := range []struct {
		v    formula.Value
		want string
	}{
		{0.25, "0.25"}, {formula.Length{MM: 25.4}, "1 in"}, {formula.Angle{Rad: math.Pi / 6}, "30°"}, {true, "yes"}, {false, "no"},
		{formula.Point{At: geom.Pt(25.4, -50.8)}, "at 1, -2 in"}, {formula.Curve{Path: geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(76.2, 0))}}, "3 in long"},
	} {
		if got := showValue(c.v, draft.InchFraction); got != c.want {
			t.Errorf("%v is shown as %q, want %q", c.v, got, c.want)
		}
	}
}

// Settings go out as they came in, to the last figure.
func TestChoicesAreWrittenExactly(t *testing.T) {
	c := block.Choice{Kind: formula.LengthKind}
	for _, mm := range []float64{12.5, 0.1, 1. / 3, 25.4 / 32} {
		v, err := readChoice(c, writeChoice(formula.Length{MM: mm}), draft.Inch)
		if err != nil || v != (formula.Length{MM: mm}) {
			t.Errorf("%v comes back as %v, %v", mm, v, err)
		}
	}
}

// A change of a measure until all is drawn; the bar is a frame of 16 ms.
func BenchmarkChangeOfAMeasure(b *testing.B) {
	x := newDrafting(b, round())
	i := 0
	for b.Loop() {
		i++
		if err := x.setMeasure("belly_girth", []string{"258", "262"}[i%2]); err != nil {
			b.Fatal(err)
		}
		x.sheet.Frame(700, 700)
	}
}

// The first time that the station is seen, small pictures included.
func BenchmarkFirstShown(b *testing.B) {
	for b.Loop() {
		newDrafting(b, round())
	}
}

func hasSetting(d *draft.Derivation, name string) bool {
	_, ok := d.Setting(name)
	return ok
}

// What is told above the fields comes and goes without moving the field in hand.
func TestFieldsStayWhereTheyAre(t *testing.T) {
	x := newDrafting(t, round())
	win := test.NewTempWindow(t, x.Side())
	win.Resize(fyne.NewSize(Width, 500))
	r := x.field(t, "belly_girth")
	x.panel.update() // as it is once it was laid out
	x.panel.scroll.ScrollToOffset(fyne.NewPos(0, 400))
	place := func() float32 {
		return fyne.CurrentApp().Driver().AbsolutePositionForObject(r.field).Y
	}
	before, told := place(), len(x.panel.told.Objects)
	// Of a head that is no larger than the neck there is nothing to tell.
	if err := x.setMeasure("head_girth", "60"); err != nil {
		t.Fatal(err)
	}
	if len(x.panel.told.Objects) >= told {
		t.Fatalf("%d things are told of a large head, %d of a small one", told, len(x.panel.told.Objects))
	}
	if after := place(); math.Abs(float64(after-before)) > 1 {
		t.Errorf("the field moved from %v to %v", before, after)
	}
}

// Another document has nothing to do with the one before, seen or not.
func TestAnotherDocumentBeginsAnew(t *testing.T) {
	x := newDrafting(t, round())
	x.choice(t, "ease").field.Take("20")
	x.Hidden()
	p := x.desk.Project()
	x.desk.Open(p, "")
	x.Shown()
	if x.before != nil || len(x.tried) != 0 {
		t.Error("what was tried for the document before is still there")
	}
	if c, _ := x.now.chosen("ease"); !c.Default {
		t.Error("a choice made for the document before counts for this one")
	}
}

// While the list of the steps has the keys they go through the steps, as they do
// everywhere in the construction.
func TestKeysGoThroughTheSteps(t *testing.T) {
	x := newDrafting(t, round())
	x.setStepwise(true)
	x.steps.list.Select(5)
	if x.steps.place() != 5 {
		t.Fatalf("a row that is chosen leads to step %d", x.steps.place())
	}
	for _, k := range []struct {
		name fyne.KeyName
		want int
	}{{fyne.KeyDown, 6}, {fyne.KeyDown, 7}, {fyne.KeyUp, 6}, {fyne.KeyPageDown, 16}, {fyne.KeyHome, 0}} {
		x.steps.list.TypedKey(&fyne.KeyEvent{Name: k.name})
		if x.steps.place() != k.want {
			t.Errorf("%s leads to step %d, not %d", k.name, x.steps.place(), k.want)
		}
	}
	x.steps.slider.SetValue(9)
	if x.steps.place() != 9 {
		t.Errorf("the slider leads to step %d", x.steps.place())
	}
	if !x.Key(fyne.KeyDown) || x.steps.place() != 10 {
		t.Error("Down from a button does not lead to the next step")
	}
}

// namesShown returns the names, with their values, that a step is said to read.
func namesShown(v *stepView) (out []string) {
	for _, o := range v.reads.Objects {
		switch o := o.(type) {
		case *control.Button:
			out = append(out, o.Word)
		case *fyne.Container:
			out = append(out, o.Objects[0].(*control.Text).Text())
		}
	}
	return out
}

// A name in what is said of a step leads to its step, a chapter to its first one; a point
// is told by how it lies from another.
func TestWaysThroughTheSteps(t *testing.T) {
	x := newDrafting(t, round())
	x.setStepwise(true)
	v := x.steps
	v.goTo(v.index["back_tip"])
	for _, o := range v.reads.Objects {
		if b, ok := o.(*control.Button); ok && strings.HasPrefix(b.Word, "back_neck ") {
			b.Tapped(nil)
		}
	}
	if v.place() != v.index["back_neck"] {
		t.Errorf("the name leads to step %d", v.place())
	}
	if len(v.chapters) < 2 {
		t.Fatal("the bodice has no chapters")
	}
	v.parts.SetSelectedIndex(1)
	if at := v.index[v.chapters[1].Step]; v.place() != at || v.heads[at] != v.chapters[1].Title {
		t.Errorf("the second chapter leads to step %d", v.place())
	}
	if v.goTo(v.index[v.chapters[1].Step] - 1); v.parts.SelectedIndex() != 0 {
		t.Errorf("a step back the chapter is %d", v.parts.SelectedIndex())
	}
	a, b := geom.Pt(10, 20), geom.Pt(4, 32.5)
	v.steps = []block.Step{{Name: "a", Formula: "at(1*mm, 2*mm)", Value: formula.Point{At: a}}, {Name: "b", Formula: "above(a, 3*mm)", Value: formula.Point{At: b}}}
	v.index = map[string]int{"a": 0, "b": 1}
	for i, want := range []string{"at 10, 20 mm", "6 mm left of and 12.5 mm above a"} {
		if got := v.valueWords(v.steps[i], draft.Millimetre); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := v.shortValue(v.steps[1], draft.Millimetre); got != "13.9 mm from a" {
		t.Errorf("in the list %q", got)
	}
}

// A line that no finished piece has is told from one that a piece has become.
func TestLinesThatOnlyHelp(t *testing.T) {
	x := newDrafting(t, round())
	x.setStepwise(true)
	v, helping := x.steps, 0
	for _, st := range v.steps {
		if c, ok := st.Value.(formula.Curve); ok && len(c.Path) > 0 && v.helps(st.Name, c) {
			helping++
		}
	}
	neck := v.steps[v.index["trial_back"]].Value.(formula.Curve)
	if !v.helps("trial_back", neck) || helping == 0 {
		t.Error("the trial of the neck counts as a line of the piece")
	}
	p := &x.now.sheet.Pieces[0]
	for _, e := range p.Edges {
		if !leads(edgeOf(p, e.Name), x.now.sheet) {
			t.Errorf("the edge %s is none of its piece", e.Name)
		}
	}
}
