package station

import (
	"errors"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/draft/store"
	"hemlet/geom"
)

func decodedSample() (*draft.Project, error) { return store.Decode(assets.Sample()) }

func newStart(t *testing.T, sample func() (*draft.Project, error), w Ways) *Start {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	if w.Recent == nil {
		w.Recent = func() []string { return nil }
	}
	if w.AtStart == nil {
		w.AtStart = func() bool { return true }
	}
	if w.SetAtStart == nil {
		w.SetAtStart = func(bool) {}
	}
	s, err := NewStart(*look.Palette(look.Light.Variant()), sample, w)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// cardsIn returns the cards somewhere in an object that can be pressed.
func cardsIn(o fyne.CanvasObject) (out []*control.Card) {
	if c, ok := o.(*control.Card); ok {
		return []*control.Card{c}
	}
	if c, ok := o.(*fyne.Container); ok {
		for _, part := range c.Objects {
			out = append(out, cardsIn(part)...)
		}
	}
	return out
}

// The first screen shows one problem of the sample, with what mends it, and the card
// leads there.
func TestStartShowsTheProblemOfTheSample(t *testing.T) {
	shown := 0
	s := newStart(t, decodedSample, Ways{Show: func() { shown++ }})
	s.Update()
	p, err := decodedSample()
	if err != nil {
		t.Fatal(err)
	}
	problems := 0
	for _, f := range draft.NewSlots().Check(p).Findings {
		if f.Open() && f.Level == draft.Problem {
			problems++
		}
	}
	cards := cardsIn(s.problem)
	if problems != 1 || len(cards) != len(problemWide) {
		t.Fatalf("the sample has %d problems, and there are %d cards: one in each width is wanted", problems, len(cards))
	}
	cards[0].Tapped(nil)
	if shown != 1 {
		t.Error("the problem does not lead to the sample")
	}
	for _, c := range []struct {
		room  float32
		shown int
	}{{900, 0}, {380, 1}, {200, 1}} {
		s.problem.Resize(fyne.NewSize(c.room, 600))
		for i, o := range s.problem.Objects {
			if o.Visible() != (i == c.shown) {
				t.Errorf("where there is room for %v, card %d is shown: %v", c.room, i, o.Visible())
			}
		}
	}
}

func TestStartGoesOnWithProjects(t *testing.T) {
	var opened string
	s := newStart(t, decodedSample, Ways{
		Recent: func() []string { return []string{"/a/smock.hemlet", "/b/cape.hemlet", "/c", "/d", "/e", "/f"} },
		Open:   func(path string) { opened = path },
	})
	s.Update()
	s.Update()
	cards := cardsIn(s.recent)
	if len(cards) != 4 {
		t.Fatalf("%d projects are offered", len(cards))
	}
	cards[1].Tapped(nil)
	if opened != "/b/cape.hemlet" {
		t.Errorf("opened %q", opened)
	}
}

func TestStartKeepsWhetherItIsShown(t *testing.T) {
	kept := []bool{}
	s := newStart(t, decodedSample, Ways{AtStart: func() bool { return false }, SetAtStart: func(on bool) { kept = append(kept, on) }})
	s.Update()
	if s.again.Checked || len(kept) != 0 {
		t.Errorf("checked %v, kept %v", s.again.Checked, kept)
	}
	s.again.SetChecked(true)
	if len(kept) != 1 || !kept[0] {
		t.Errorf("kept %v", kept)
	}
}

// Without a sample there are still the ways to begin.
func TestStartWithoutSample(t *testing.T) {
	s := newStart(t, func() (*draft.Project, error) { return nil, errors.New("none") }, Ways{})
	s.Update()
	if len(cardsIn(s.problem)) != 0 {
		t.Error("a problem is shown of a sample that is not there")
	}
}

// The sample's garment hangs on its wearer: the front in the middle from the neck down,
// a sleeve on either side.
func TestSampleIsWorn(t *testing.T) {
	p, err := decodedSample()
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Wearers) == 0 {
		t.Fatal("the sample has no wearer")
	}
	marks, box := wornMarks(p)
	w := p.Wearers[0]
	fig := figure.Draw(body.Resolve(w.Given()), w.Build, figure.Front, ownLevels(w)...)
	cloth := marks[len(figureMarks(fig)):]
	if len(cloth) != 3 {
		t.Fatalf("%d pieces of cloth are drawn, want a front and two sleeves", len(cloth))
	}
	bounds := func(i int) geom.Rect { return cloth[i].(paint.Shape).Path.Bounds() }
	neck, _ := fig.Mark("neck_base_girth")
	front := bounds(2)
	if math.Abs(front.Center().X) > 1e-6 || math.Abs(front.Max.Y-neck.Near[0].Start().Y) > 1e-6 {
		t.Errorf("the front lies at %v, the neck at %v", front, neck.Near[0].Start())
	}
	if a, b := bounds(0).Center(), bounds(1).Center(); math.Abs(a.X+b.X) > 1e-6 || math.Abs(a.Y-b.Y) > 1e-6 || math.Abs(a.X) < front.Max.X/2 {
		t.Errorf("the sleeves lie at %v and %v", a, b)
	}
	if front.Min.Y < box.Min.Y || front.Max.X > box.Max.X {
		t.Errorf("the front %v reaches beyond the figure %v", front, box)
	}
}

// The card follows the sample as it stands.
func TestStartFollowsTheSample(t *testing.T) {
	p, err := decodedSample()
	if err != nil {
		t.Fatal(err)
	}
	again := 0
	s := newStart(t, func() (*draft.Project, error) { return p, nil }, Ways{Again: func() { again++ }})
	s.Update()
	had := s.problem.Objects[0]
	s.Update()
	if s.problem.Objects[0] != had {
		t.Error("the same sample is drawn twice")
	}
	for _, f := range draft.NewSlots().Check(p).Findings {
		if f.Open() && f.Level == draft.Problem {
			out, err := draft.Waive.Do(p, draft.WaiveArgs{Finding: f.Key, Reason: "as is"})
			if err != nil {
				t.Fatal(err)
			}
			p = out.Project
		}
	}
	s.Update()
	card := cardsIn(s.problem)[0]
	if card.Hint != "Go to the sample" || len(s.problem.Objects) != len(problemWide) {
		t.Errorf("of a sample without problems is said %q", card.Hint)
	}
}
