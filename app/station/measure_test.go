package station

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// measuring is the station in a window of the toolkit's test driver.
type measuring struct {
	*Measure
	t     *testing.T
	win   fyne.Window
	desk  *desk.Desk
	said  string
	asked TextQuestion
	to    draft.ID // for whom Draft was asked for
}

func newMeasuring(t *testing.T) *measuring {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	s := &measuring{t: t, desk: desk.New(draft.New("test"))}
	s.win = test.NewTempWindow(t, nil)
	m, err := NewMeasure(s.desk, *look.Palette(look.Light.Variant()), MeasureWays{
		Say: func(text string) { s.said = text },
		Focus: func(f fyne.Focusable) {
			if f == nil {
				s.win.Canvas().Unfocus()
				return
			}
			s.win.Canvas().Focus(f)
		},
		AskText: func(q TextQuestion) { s.asked = q },
		Read:    func() {}, Save: func(*draft.Wearer) {}, Sheet: func(figure.Build) {}, View: func() {},
		Draft: func(w draft.ID) { s.to = w },
	})
	if err != nil {
		t.Fatal(err)
	}
	s.Measure = m
	s.win.SetPadded(false)
	s.win.SetContent(container.NewBorder(nil, nil, m.Left(), m.Side(), m.Centre()))
	s.win.Resize(fyne.NewSize(1280, 800))
	s.desk.Listen(m.Changed)
	m.Update()
	return s
}

// card types a card of measures and stops with the keys on what comes after.
func (s *measuring) card(key fyne.KeyName, values ...string) {
	s.t.Helper()
	for _, v := range values {
		f, ok := s.win.Canvas().Focused().(*control.Field)
		if !ok {
			s.t.Fatalf("the keys are on %T, not on a field for %s", s.win.Canvas().Focused(), v)
		}
		test.Type(f, v)
		if key == fyne.KeyTab {
			s.win.Canvas().(interface{ FocusNext() }).FocusNext()
			continue
		}
		f.TypedKey(&fyne.KeyEvent{Name: key})
	}
}

// field returns the field of a measure.
func (s *measuring) field(name string) *bodyField {
	s.t.Helper()
	x := s.form.fields[name]
	if x == nil {
		s.t.Fatalf("there is no field for %s", name)
	}
	return x
}

// put types a measure into its field.
func (s *measuring) put(name, text string) {
	s.t.Helper()
	if err := s.field(name).take(text); err != nil {
		s.t.Fatalf("%s: %v", name, err)
	}
}

func (s *measuring) given(name string) float64 { return s.Wearer().Given()[name] }

// Quill, as the puppet company measured it: the ten in the order of the card, in mm.
var quill = []string{"360", "231", "238", "262", "224", "84", "78", "118", "30", "82"}

func TestCardIsTypedByKeysAlone(t *testing.T) {
	for _, key := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyTab} {
		s := newMeasuring(t)
		s.add(figure.Wide)
		s.card(key, "Quill")
		if key == fyne.KeyTab { // past the build
			s.win.Canvas().(interface{ FocusNext() }).FocusNext()
		}
		s.card(key, quill...)
		w := s.Wearer()
		if w.Name != "Quill" || w.Build != figure.Wide || len(w.Measures) != 10 {
			t.Fatalf("%s: the wearer is %+v", key, w)
		}
		for i, m := range body.Asked() {
			if mm, _ := draft.Millimetre.Parse(quill[i]); w.Given()[m.Name] != mm {
				t.Errorf("%s: %s is %g, typed was %s", key, m.Name, w.Given()[m.Name], quill[i])
			}
		}
		if got := s.form.taken.Text(); got != "10 of 10 taken" {
			t.Errorf("%s: %q", key, got)
		}
		if s.win.Canvas().Focused() != fyne.Focusable(s.form.draft) {
			t.Errorf("%s: after the card the keys are on %T", key, s.win.Canvas().Focused())
		}
		s.form.draft.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		if s.to != w.ID {
			t.Errorf("%s: going on drafts for %q", key, s.to)
		}
	}
}

func TestEveryMeasureOfTheCatalogueHasAField(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Muzzled)
	for _, m := range body.Catalogue() {
		s.put(m.Name, "55")
		if s.given(m.Name) != 55 {
			t.Errorf("%s is not taken in", m.Name)
		}
		if x := s.field(m.Name); !x.taken || x.field.Text == "" {
			t.Errorf("%s is not shown", m.Name)
		}
	}
}

func TestWhatIsNotTakenIsEstimatedAndMarked(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Upright)
	s.put("bust_girth", "900")
	s.put("waist_girth", "740")
	s.put("back_waist_length", "405")
	x := s.field("hip_girth")
	k, _ := body.Resolve(s.Wearer().Given()).Get("hip_girth")
	if !k.Estimated || x.field.Text != "" || x.field.PlaceHolder != "≈ "+draft.Millimetre.Format(k.Value) || !strings.Contains(x.under.Text(), "estimated") {
		t.Errorf("the field holds %q and shows %q, under it %q", x.field.Text, x.field.PlaceHolder, x.under.Text())
	}
	s.form.goTo("hip_girth")
	if s.how.words.Text() != "Round the hips" || len(s.sheet.Highlighted()) != 1 {
		t.Errorf("told is %q, lit are %v", s.how.words.Text(), s.sheet.Highlighted())
	}
	s.put("hip_girth", "980")
	if x.field.Text != "980 mm" || strings.Contains(x.under.Text(), "estimated") {
		t.Errorf("taken it shows %q, under it %q", x.field.Text, x.under.Text())
	}
	s.put("hip_girth", "")
	if x.taken || s.given("hip_girth") != 0 || x.field.PlaceHolder == "" {
		t.Error("an emptied field does not go back to the estimate")
	}
}

func TestEveryMeasureIsAStepToUndo(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Upright)
	s.put("bust_girth", "900")
	s.put("waist_girth", "740")
	s.desk.Undo()
	if s.given("waist_girth") != 0 || s.given("bust_girth") != 900 || s.field("waist_girth").field.Text != "" {
		t.Error("undo does not take back the last measure alone")
	}
	s.desk.Undo()
	s.desk.Undo()
	if s.Wearer() != nil || s.centre.Objects[0] != s.chooser.object {
		t.Error("with nobody there, the builds are not offered")
	}
}

func TestLengthsAreInTheUnitOfTheProject(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Upright)
	if err := s.desk.SetUnit(draft.Inch); err != nil {
		t.Fatal(err)
	}
	s.put("bust_girth", "36")
	s.put("waist_girth", "74cm")
	if math.Abs(s.given("bust_girth")-36*25.4) > 1e-6 || s.given("waist_girth") != 740 {
		t.Errorf("taken as %g and %g", s.given("bust_girth"), s.given("waist_girth"))
	}
	if got := s.field("bust_girth").field.Text; got != "36 in" {
		t.Errorf("shown as %q", got)
	}
	if err := s.field("hip_girth").take("about 90"); err == nil {
		t.Error("words are taken for a measure")
	}
	if err := s.field("hip_girth").take("-3"); err == nil {
		t.Error("less than nothing is taken for a measure")
	}
}

// buttons returns the buttons in an object.
func buttons(o fyne.CanvasObject) []*control.Button {
	var out []*control.Button
	switch x := o.(type) {
	case *control.Button:
		out = append(out, x)
	case *fyne.Container:
		for _, c := range x.Objects {
			out = append(out, buttons(c)...)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(x).Objects() {
			out = append(out, buttons(c)...)
		}
	}
	return out
}

// A waist noted in centimetres among millimetres is told beside its field, and mended
// by the button there.
func TestSlipIsMendedBesideItsField(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Upright)
	for i, v := range []string{"1640", "900", "74", "860", "980", "405", "355", "370", "125", "355"} {
		s.put(body.Asked()[i].Name, v)
	}
	x := s.field("waist_girth")
	if !x.wrong.Visible() || len(x.wrong.Objects) == 0 {
		t.Fatal("nothing is told beside the waist")
	}
	if s.cards[0].mark == nil || worst(slipsOf(s.Wearer(), draft.Millimetre)) != control.Problem {
		t.Error("the slip is no problem")
	}
	deeds := buttons(x.wrong)
	if len(deeds) != 1 {
		t.Fatalf("%d buttons", len(deeds))
	}
	deeds[0].OnTap()
	if s.given("waist_girth") != 740 || x.wrong.Visible() {
		t.Errorf("the waist is %g, told is still %v", s.given("waist_girth"), x.wrong.Visible())
	}
}

// Of a girth and arcs that disagree either can be put as the other has it; those that agreed go
// along by themselves.
func TestAGirthIsSharedBesideItsField(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Wide)
	s.put("belly_arc_front", "140")
	s.put("belly_arc_back", "118")
	s.put("belly_girth", "268")
	share := func() *control.Button {
		for _, b := range buttons(s.field("belly_girth").wrong) {
			if b.Word == "Share 268 mm" {
				return b
			}
		}
		return nil
	}
	b := share()
	if b == nil {
		t.Fatal("sharing is not offered")
	}
	b.OnTap()
	if f, k := s.given("belly_arc_front"), s.given("belly_arc_back"); f != 145.4 || k != 122.6 || share() != nil {
		t.Errorf("shared are %g and %g", f, k)
	}
	s.put("belly_girth", "258")
	if sum := s.given("belly_arc_front") + s.given("belly_arc_back"); math.Abs(sum-258) > 1e-6 {
		t.Errorf("the arcs come to %g", sum)
	}
}

func TestMarkOnTheFigureLeadsToItsField(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Upright)
	s.sheet.OnTap("thigh_girth", geom.Point{})
	if s.win.Canvas().Focused() != fyne.Focusable(s.field("thigh_girth").field) || !s.form.visible(s.field("thigh_girth")) {
		t.Error("the field of the thigh has not got the keys, or is folded away")
	}
	s.sheet.OnHover("waist_girth", geom.Point{}, true)
	if s.how.words.Text() != "Round the waist" {
		t.Errorf("told is %q", s.how.words.Text())
	}
	s.sheet.OnHover("", geom.Point{}, false)
	if s.how.words.Text() != "Round the thigh" {
		t.Errorf("with the pointer away told is %q", s.how.words.Text())
	}
}

func TestLevelsOfOnesOwn(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Wide)
	s.put("stature", "360")
	if err := s.form.levels.begin("over the spines"); err != nil {
		t.Fatal(err)
	}
	const name = "over_the_spines"
	if s.Wearer().Level(name) != nil {
		t.Error("a level without a figure is kept")
	}
	s.put(name+"_height", "190")
	s.put(name+"_arc_front", "120")
	s.put(name+"_arc_back", "190")
	if l := s.Wearer().Level(name); l == nil || *l != (draft.Level{Name: name, Height: 190, FrontArc: 120, BackArc: 190}) {
		t.Errorf("the level is %+v", l)
	}
	if err := s.form.levels.begin("Over the spines"); err == nil {
		t.Error("a level is there twice")
	}
	s.put("belly_arc_front", "150")
	if l := s.Wearer().Level("belly"); l == nil || l.FrontArc != 150 {
		t.Errorf("the belly is %+v", l)
	}
	s.form.levels.remove(name)
	if s.Wearer().Level(name) != nil || s.form.fields[name+"_height"] != nil {
		t.Error("the level is not forgotten")
	}
}

func TestMeasuresOfOnesOwn(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Wide)
	if err := s.form.others.begin("Lantern pole"); err != nil {
		t.Fatal(err)
	}
	s.put("lantern_pole", "300")
	if s.given("lantern_pole") != 300 {
		t.Error("the measure is not kept")
	}
	if err := s.form.others.begin("bust_girth"); err != nil || s.win.Canvas().Focused() != fyne.Focusable(s.field("bust_girth").field) {
		t.Errorf("a measure of the catalogue is not found by its name (%v)", err)
	}
	if err := s.form.others.begin("3rd"); err == nil {
		t.Error("a name that formulas cannot read is taken")
	}
}

func TestPartsAndWhatIsWorn(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Wide)
	s.put("head_girth", "281")
	if err := s.form.parts.add("head"); err != nil {
		t.Fatal(err)
	}
	if p := s.Wearer().Parts; len(p) != 1 || p[0] != (draft.BodyPart{Name: "head", Girth: 281, ComesOff: true}) {
		t.Errorf("parts are %+v", p)
	}
	if err := s.form.parts.add("head"); err == nil {
		t.Error("the head is there twice")
	}
	if s.form.parts.quick["head"].Visible() {
		t.Error("a head can be added to a wearer that has one")
	}
	for _, section := range s.form.sections {
		s.form.fold(section, true)
	}
	s.form.parts.quick["tail"].OnTap()
	if p := s.Wearer().Parts; len(p) != 2 || p[1].Name != "tail" || s.win.Canvas().Focused() != fyne.Focusable(s.form.parts.girths["tail"]) {
		t.Errorf("parts are %+v, and %T has the keys", p, s.win.Canvas().Focused())
	}
	run(s.Measure, draft.RemovePart, draft.RemovePartArgs{Wearer: s.form.ref(), Name: "tail"})
	if !s.form.parts.quick["tail"].Visible() {
		t.Error("a tail that was taken away cannot be added again")
	}
	s.form.worn.name.SetText("quilted vest")
	if err := s.form.worn.add("1.5"); err != nil {
		t.Fatal(err)
	}
	if u := s.Wearer().Under; len(u) != 1 || u[0] != (draft.Worn{Name: "quilted vest", Thickness: 1.5}) {
		t.Errorf("worn underneath is %+v", u)
	}
	if err := s.form.worn.add("2"); err == nil {
		t.Error("something without a name is worn")
	}
}

func TestTwoWearersAreCompared(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Upright)
	s.put("bust_girth", "900")
	s.put("waist_girth", "740")
	first := s.Wearer()
	s.copyWearer()
	if s.Wearer().ID == first.ID || s.compared() == nil || s.compared().ID != first.ID {
		t.Fatal("the copy is not shown beside the first")
	}
	s.put("bust_girth", "920")
	x := s.field("bust_girth")
	if !x.other.Visible() || x.theirs.Text() != "900 mm" || x.differ.Text() != "+20 mm" {
		t.Errorf("beside the bust stands %q, %q", x.theirs.Text(), x.differ.Text())
	}
	if got := s.field("waist_girth").differ.Text(); got != "=" {
		t.Errorf("beside the same waist stands %q", got)
	}
	s.put("bust_girth", "890")
	if got := x.differ.Text(); got != "−10 mm" {
		t.Errorf("a smaller bust differs by %q", got)
	}
	wide := s.form.wide.MinSize().Width
	s.removeWearer()
	if s.Wearer().ID != first.ID || x.other.Visible() || s.form.wide.MinSize().Width >= wide {
		t.Error("with one wearer left, two are still compared")
	}
}

func TestWearerIsScaled(t *testing.T) {
	s := newMeasuring(t)
	s.add(figure.Upright)
	s.put("stature", "1800")
	s.askScale()
	if err := s.asked.Take("1/6"); err != nil || s.given("stature") != 300 {
		t.Errorf("at 1/6 it is %g (%v)", s.given("stature"), err)
	}
	if err := s.asked.Take("150cm / 30cm"); err != nil || s.given("stature") != 1500 {
		t.Errorf("from 30 to 150 cm it is %g (%v)", s.given("stature"), err)
	}
	if err := s.asked.Take("large"); err == nil {
		t.Error("a word is taken for a ratio")
	}
}

func TestAnotherWearerIsBegunAndLeftOff(t *testing.T) {
	s := newMeasuring(t)
	if s.Back() {
		t.Error("there is nowhere to go back to from an empty project")
	}
	s.add(figure.Upright)
	s.Begin()
	if s.centre.Objects[0] != s.chooser.object {
		t.Fatal("the builds are not shown")
	}
	if !s.Back() || s.centre.Objects[0] != s.picture || len(s.desk.Project().Wearers) != 1 {
		t.Error("going back does not show the wearer")
	}
	s.Begin()
	s.add(figure.Muzzled)
	s.add(figure.Wide)
	seen := map[string]bool{}
	for _, w := range s.desk.Project().Wearers {
		if seen[w.Name] {
			t.Errorf("two are called %q", w.Name)
		}
		seen[w.Name] = true
	}
	if s.Wearer().Build != figure.Wide || !s.cards[2].card.Chosen() {
		t.Error("the new wearer is not the one that is shown")
	}
}
