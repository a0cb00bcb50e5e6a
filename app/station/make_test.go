package station

import (
	"context"
	"image"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/export"
)

var events = make(chan func(), 1000)

func TestMain(m *testing.M) {
	control.OnMain = func(f func()) { events <- f }
	os.Exit(m.Run())
}

// settle does what the stations have put off until so many pages are shown.
func settle(t *testing.T, m *Make, pages int) {
	t.Helper()
	for len(m.pages.grid.Objects) != pages {
		select {
		case f := <-events:
			f()
		case <-time.After(20 * time.Second):
			t.Fatalf("%d pages are shown, %d would be written", len(m.pages.grid.Objects), pages)
		}
	}
}

func sample(t *testing.T) *desk.Desk {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	p, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	return desk.New(p)
}

// A square that comes out at 49 mm is drawn by 50/49 as large.
func TestCorrectionUndoesThePrintersError(t *testing.T) {
	m := NewMake(sample(t), func(string) {}, func() {})
	if err := m.square[0].Take("49"); err != nil {
		t.Fatal(err)
	}
	c := m.Options().Correction
	if math.Abs(c.X*49-export.ScaleMM) > 1e-9 || c.Y != 1 {
		t.Errorf("correction %+v", c)
	}
	for _, far := range []string{"40", "60", "nothing"} {
		if err := m.square[1].Take(far); err == nil {
			t.Errorf("a square of %s mm is taken for a printer's error", far)
		}
	}
	if m.Options().Correction.Y != 1 {
		t.Error("what was refused has an effect")
	}
}

func TestPagesAreShown(t *testing.T) {
	d := sample(t)
	m := NewMake(d, func(text string) { t.Log(text) }, func() {})
	m.Update()
	plan, err := export.LayPages(context.Background(), d.Project(), m.Options())
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Pages) < 2 {
		t.Fatalf("%d pages", len(plan.Pages))
	}
	settle(t, m, len(plan.Pages))
	m.options.Format = export.SVG
	m.Update()
	settle(t, m, 1) // the one sheet
}

func TestOnlyPickedPieces(t *testing.T) {
	d := sample(t)
	m := NewMake(d, func(string) {}, func() {})
	m.picked = true
	front := d.Project().Pieces[0]
	d.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID))
	if got := m.Options().Pieces; len(got) != 1 || got[0] != front.ID {
		t.Errorf("written would be %v", got)
	}
}

// Where nothing is picked any more, all is written, and the choice says so.
func TestNothingPickedMeansAll(t *testing.T) {
	d := sample(t)
	m := NewMake(d, func(string) {}, func() {})
	d.Listen(m.Changed)
	d.Pick(desk.PieceRef(d.Project().Pieces[0].ID))
	m.picked = true
	d.Pick()
	if m.picked || len(m.Options().Pieces) != 0 {
		t.Errorf("with nothing picked, written would be %v of those picked", m.Options().Pieces)
	}
}

// A page that is shown alone is drawn finely without holding up the window; what
// comes for a page that is no longer shown is dropped.
func TestLargePage(t *testing.T) {
	m := NewMake(sample(t), func(text string) { t.Error(text) }, func() {})
	m.Update()
	plan, err := export.LayPages(context.Background(), m.desk.Project(), m.Options())
	if err != nil {
		t.Fatal(err)
	}
	settle(t, m, len(plan.Pages))
	first := made{plan: plan, shown: plan.Printed(), w: plan.Pages[0].Width, pages: len(plan.Pages)}
	for i := range plan.Pages {
		img, err := plan.RenderPage(i, smallDPI)
		if err != nil {
			t.Fatal(err)
		}
		first.names, first.images = append(first.names, "page"), append(first.images, img)
	}
	m.pages.openLarge(first, 0)
	dropped := m.pages.shown
	m.pages.openLarge(first, 1)
	shown := m.pages.shown
	for range 2 {
		(<-events)()
	}
	if dropped.Image != first.images[0] {
		t.Error("a page that is not shown was drawn into")
	}
	if got, was := shown.Image.Bounds().Dx(), first.images[1].Bounds().Dx(); got <= was {
		t.Errorf("the page is %d px wide, small it was %d", got, was)
	}
	if !m.Back() || m.Back() {
		t.Error("Back does not go back once")
	}
}

// Whoever takes a file to a blade or a laser is told to mind.
func TestCautionsAreShown(t *testing.T) {
	m := NewMake(sample(t), func(string) {}, func() {})
	for _, p := range []export.Purpose{export.Pen, export.Blade, export.Laser} {
		m.options.Purpose = p
		m.Update()
		if got, want := len(m.notices.Objects), len(p.Notices()); got != want || p.Cuts() != (got > 0) {
			t.Errorf("%v: %d cautions are shown, %d belong to it", p, got, want)
		}
	}
}

func TestSummary(t *testing.T) {
	p := draft.New("x")
	if got := summary(p, export.Options{Format: export.PDF}, made{pages: 1, w: 210, h: 297}); got != "One page of 210 × 297 mm." {
		t.Error(got)
	}
	p.Unit = draft.Inch
	if got := summary(p, export.Options{Format: export.SVG}, made{pages: 1, w: 254, h: 508}); !strings.Contains(got, "10 × 20 in") {
		t.Error(got)
	}
}

// The paper that was chosen is told, so that it can be kept, and can be chosen by name.
func TestPaperIsRemembered(t *testing.T) {
	test.NewTempApp(t)
	m := NewMake(desk.New(draft.New("test")), func(string) {}, func() {})
	told := ""
	m.OnPaper = func(name string) { told = name }
	second := export.Papers()[1].Name
	m.SetPaper(second)
	if m.Options().Paper.Name != second || told != "" {
		t.Errorf("the paper is %s, told %q", m.Options().Paper.Name, told)
	}
	m.SetPaper("papyrus")
	if m.Options().Paper.Name != second {
		t.Error("a paper that there is not was chosen")
	}
	m.sheets.SetSelectedIndex(2)
	if told != export.Papers()[2].Name {
		t.Errorf("told %q", told)
	}
}

// In a narrow window a page is smaller, and whole: it does not run into the next one.
func TestNarrowPagesAreWhole(t *testing.T) {
	test.NewTempApp(t)
	p := newPreview(func(string) {})
	const high, wide = 420, 297
	img := image.NewRGBA(image.Rect(0, 0, wide, high))
	p.fill(made{names: []string{"page 1", "page 2"}, images: []image.Image{img, img}, pages: 2, plan: &export.Plan{}})
	p.grid.Resize(fyne.NewSize(220, 2000))
	first, second := p.grid.Objects[0].(*fyne.Container), p.grid.Objects[1]
	sheet := first.Objects[0]
	if end, next := first.Position().Y+sheet.Position().Y+sheet.Size().Height, second.Position().Y; end > next {
		t.Errorf("the first page ends at %g, the next begins at %g", end, next)
	}
	if got := sheet.Size().Height / sheet.Size().Width; math.Abs(float64(got)-float64(high)/wide) > 0.05 {
		t.Errorf("it is %g times as high as wide", got)
	}
}
