package station

import (
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/geom"
)

// Ways are what the first screen leads to.
type Ways struct {
	// Body begins with a new wearer, Pattern with a drawing to bring in, Show opens
	// the sample at its problem, Print opens it where it is printed, Again opens it as it
	// comes with the program.
	Body, Pattern, Show, Print, Again func()
	// Other asks for a project, Open opens one of those that Recent lists.
	Other  func()
	Open   func(path string)
	Recent func() []string
	// AtStart is whether the screen is shown when the program starts; SetAtStart
	// keeps that.
	AtStart    func() bool
	SetAtStart func(bool)
}

// Start is the first screen: the sample on its wearer beside its pieces, one problem
// with its mend, and the ways to begin.
type Start struct {
	ways   Ways
	sample func() (*draft.Project, error)

	object  fyne.CanvasObject
	palette paint.Palette
	sheet   *sheet.Sheet
	picture *fyne.Container
	problem *fyne.Container
	title   *control.Text
	recent  *fyne.Container
	again   *control.Check
	drawn   *draft.Project
}

// Widths in screen units: of the ways, and of the window's middle below which there is
// no picture.
const (
	waysWide    = 372
	pictureFrom = 760
)

// NewStart returns the screen. sample returns the sample project as it stands, whenever
// the screen is to be seen.
func NewStart(palette paint.Palette, sample func() (*draft.Project, error), w Ways) (*Start, error) {
	s := &Start{ways: w, sample: sample, palette: palette}
	var err error
	if s.sheet, err = sheet.New(palette); err != nil {
		return nil, err
	}
	s.sheet.SetMargins(paint.Margins{Left: 34, Top: 96, Right: 34, Bottom: 150})
	s.sheet.OnTap = func(string, geom.Point) { w.Show() }
	s.build()
	return s, nil
}

// Object returns the screen.
func (s *Start) Object() fyne.CanvasObject { return s.object }

// SetPalette changes the colours of the picture.
func (s *Start) SetPalette(p paint.Palette) {
	s.palette = p
	s.sheet.SetPalette(p)
}

func (s *Start) build() {
	s.recent = control.Stack(6)
	s.again = control.NewCheck("Show this when Hemlet starts", func(on bool) { s.ways.SetAtStart(on) })
	rows := control.Stack(10,
		control.NewText("What shall we make?", 22, true, look.Ink),
		control.NewProse("Clothes for a body that no shop size fits: a doll, a puppet, a pet, a person. Measure it, draft a pattern that fits, shape it, and print it true to size.", 13, false, look.Faint, waysWide),
		control.Inset(0, 4, 0, 0, s.way("measure", "I have a body", "Measure it, ten measures at most, and have a first pattern drafted for it.", func() { s.ways.Body() })),
		s.way("open", "I have a pattern to make fit", "Bring in a drawing as SVG or DXF, or trace a scan, a photograph or a scanned PDF.", func() { s.ways.Pattern() }),
		s.way("shape", "Show me", "Open the lamplighter's smock where it does not fit together yet, and mend it.", func() { s.ways.Show() }),
		s.recent,
		control.Inset(0, 6, 0, 0, control.Faint("Files can also be dropped on this window.")),
		control.Row(0, s.again),
	)
	left := container.NewVScroll(control.Inset(28, 24, 20, 20, rows))
	s.problem = container.New(atFoot{})
	s.title = control.NewText("", control.TitleSize, true, look.Ink).AtLeast(60)
	print := control.NewButton(control.WordShape, "print", "Print…", "See the sample's pages, and print them true to size", func() { s.ways.Print() })
	head := container.NewBorder(control.Inset(24, 18, 24, 0, container.NewBorder(nil, nil, nil, print, control.Centred(s.title))), nil, nil, nil)
	s.picture = container.NewStack(control.NewPlane(look.Bench, "", 0), s.sheet, head, s.problem)
	right := container.NewBorder(nil, nil, control.Upright(), nil, s.picture)
	s.object = container.New(beside{}, control.On(look.Paper, left), right)
}

// way returns the card of a way to begin.
func (s *Start) way(icon, title, says string, do func()) fyne.CanvasObject {
	text := control.Stack(2, control.NewText(title, control.TitleSize, true, look.Ink), control.NewProse(says, 12, false, look.Faint, waysWide-96))
	row := container.NewBorder(nil, nil, control.Inset(4, 4, 16, 4, control.Centred(control.NewIcon(icon, look.Chalk, 28))), nil, text)
	return control.NewCard(control.Inset(14, 11, 12, 12, row), says, do)
}

// Update shows the projects that were used last, and draws the sample where it is another
// than was drawn.
func (s *Start) Update() {
	s.again.Put(s.ways.AtStart())
	s.recent.RemoveAll()
	const most = 4
	for i, path := range s.ways.Recent() {
		if i == most {
			break
		}
		if i == 0 {
			s.recent.Add(control.Inset(0, 8, 0, 0, control.NewText("Go on with …", 13, true, look.Ink)))
		}
		s.recent.Add(s.recentCard(path))
	}
	other := control.NewButton(control.QuietShape, "open", "Open a project…", "Open a project that was saved before (Ctrl+O)", func() { s.ways.Other() })
	s.recent.Add(control.Inset(0, 2, 0, 0, control.Row(0, other)))
	s.draw()
}

func (s *Start) recentCard(path string) fyne.CanvasObject {
	name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	row := container.NewBorder(nil, nil, control.NewText(name, 12.5, true, look.Ink).AtLeast(190), nil,
		control.NewText(filepath.Dir(path), 11.5, false, look.Faint).AtLeast(40).Aligned(fyne.TextAlignTrailing))
	return control.NewCard(control.Inset(12, 6, 12, 6, row), path, func() { s.ways.Open(path) })
}

// beside lays the ways at the left and the picture in the rest, if that is enough.
type beside struct{}

func (beside) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

func (beside) Layout(o []fyne.CanvasObject, size fyne.Size) {
	wide := float32(waysWide + 28 + 20)
	if size.Width < pictureFrom {
		wide = size.Width
	}
	o[0].Resize(fyne.NewSize(wide, size.Height))
	o[0].Move(fyne.Position{})
	show(o[1], wide < size.Width)
	o[1].Move(fyne.NewPos(wide, 0))
	o[1].Resize(fyne.NewSize(size.Width-wide, size.Height))
}

// atFoot lays in the middle of the foot the widest of its objects that there is room for.
type atFoot struct{}

func (atFoot) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (atFoot) Layout(o []fyne.CanvasObject, size fyne.Size) {
	const margin = 20
	shown := false
	for i, x := range o {
		m := x.MinSize()
		if show(x, !shown && (m.Width+2*margin <= size.Width || i == len(o)-1)); !x.Visible() {
			continue
		}
		shown = true
		x.Resize(m)
		x.Move(fyne.NewPos((size.Width-m.Width)/2, size.Height-m.Height-margin))
	}
}
