// Package station holds the steps of the journey that have a screen of their own
// besides the bench.
package station

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/export"
)

// Make is the station where the pattern leaves the house: what it is for, on what
// it is printed, what the pages look like, and the file.
type Make struct {
	desk *desk.Desk
	say  func(string)
	// write asks for a file and writes it.
	write func()

	// OnPaper, if set, is told which paper was chosen.
	OnPaper func(name string)

	options export.Options
	picked  bool
	// squareX and squareY are what the printed 50 mm square measures, in mm.
	squareX, squareY float64

	side    fyne.CanvasObject
	scroll  *container.Scroll
	pages   *preview
	sums    *control.Prose
	notices *fyne.Container
	paper   fyne.CanvasObject
	sheets  *control.Choice
	// since is which of the versions the pages are held against, the first choice none.
	since   *control.Choice
	kept    *control.Prose
	dxf     fyne.CanvasObject
	dpi     fyne.CanvasObject
	notches fyne.CanvasObject
	square  [2]*control.Field
	which   *control.Pill
	purpose *control.Pill
	format  *control.Pill
}

// Width is how wide the side is, in screen units; inner is what its rows have.
const (
	Width = 286
	inner = Width - 2*16 - 4
)

// fileFormats are the formats as they are offered, the printer's first.
var fileFormats = []export.Format{export.PDF, export.SVG, export.DXF, export.PNG}

// pngDPI are the resolutions that are offered for a picture, in pixels an inch.
var pngDPI = []float64{100, 150, 300}

// NewMake returns the station for the desk. write is called by its button.
func NewMake(d *desk.Desk, say func(string), write func()) *Make {
	m := &Make{desk: d, say: say, write: write, squareX: export.ScaleMM, squareY: export.ScaleMM}
	m.options.Format = export.PDF
	m.options.DPI = pngDPI[0]
	m.pages = newPreview(say)
	m.side = m.build()
	return m
}

// Centre returns the pages.
func (m *Make) Centre() fyne.CanvasObject { return m.pages.object }

// Side returns the choices.
func (m *Make) Side() fyne.CanvasObject { return m.side }

// Back goes back from a page that is shown alone to all of them, and reports whether
// there was one.
func (m *Make) Back() bool { return m.pages.closeLarge() }

// Options returns what is chosen.
func (m *Make) Options() export.Options {
	o := m.options
	if o.Format != export.PDF || o.Purpose.Cuts() {
		o.Since = ""
	}
	o.Correction = export.Correction{X: export.ScaleMM / m.squareX, Y: export.ScaleMM / m.squareY}
	if m.picked {
		for _, p := range m.desk.Project().Pieces {
			if m.desk.Picked().Touches(p.ID) {
				o.Pieces = append(o.Pieces, p.ID)
			}
		}
	}
	return o
}

func (m *Make) build() fyne.CanvasObject {
	m.purpose = control.NewPill("A pen or a printer draws everything once; a machine gets the cut lines of every copy", []string{"paper", "blade", "laser"}, func(i int) {
		m.options.Purpose = export.Purpose(i)
		m.Update()
	})
	m.format = control.NewPill("The kind of file", []string{"PDF", "SVG", "DXF", "PNG"}, func(i int) {
		m.options.Format = fileFormats[i]
		m.Update()
	})
	m.which = control.NewPill("Which pieces are written", []string{"all", "those picked"}, func(i int) {
		if m.picked = i == 1; m.picked && len(m.desk.Picked()) == 0 {
			m.say("Nothing is picked. Pick pieces in the tray with Shift and click.")
		}
		m.Update()
	})
	m.sums = control.NewProse("", 12.5, false, look.Faint, inner)
	m.notices = control.Stack(8)
	button := control.NewButton(control.WordShape, "export", "Write the file…", "Write the file true to size (Ctrl+E)", m.write)
	rows := control.Stack(8,
		control.NewText("Make", control.TitleSize, true, look.Ink),
		control.Rule(),
		labelled("For", control.Row(0, m.purpose)),
		labelled("File", control.Row(0, m.format)),
		labelled("Pieces", control.Row(0, m.which)),
		m.buildPaper(), m.buildDXF(), m.buildDPI(), m.buildNotches(),
		control.Rule(), m.sums,
		m.notices,
		control.NewProse("Print at 100 %, without “fit to page”, and measure the 50 mm square before you cut.", 11.5, false, look.Faint, inner),
	)
	m.scroll = container.NewVScroll(control.Inset(16, 12, 16, 16, rows))
	// The file is written from where it is always in sight.
	foot := control.Stack(0, control.Tall(1, control.NewPlane(look.Border, "", 0)), control.Inset(16, 9, 16, 11, button))
	return control.Wide(Width, control.Compact(container.NewBorder(nil, foot, nil, nil, m.scroll)))
}

// buildPaper makes the choices that only a printed file has.
func (m *Make) buildPaper() fyne.CanvasObject {
	papers := export.Papers()
	words := make([]string, len(papers))
	for i, p := range papers {
		words[i] = p.Name
	}
	m.sheets = control.NewChoice("What it is printed on", words, func(i int) {
		m.options.Paper = papers[i]
		if m.OnPaper != nil {
			m.OnPaper(papers[i].Name)
		}
		m.Update()
	})
	m.sheets.Put(0)
	m.options.Paper = papers[0]
	places := control.NewChoice("How the pieces lie on the pages", []string{"close together", "as on the bench"}, func(i int) {
		m.options.Arrangement = export.Arrangement(i)
		m.Update()
	})
	places.Put(0)
	m.square[0] = m.squareField("How wide the 50 mm square came out of your printer; the pages are corrected by it", &m.squareX)
	m.square[1] = m.squareField("How high the 50 mm square came out of your printer", &m.squareY)
	m.since = control.NewChoice("All pages, or only those that show something else than they did with a version that was kept", []string{allPages}, func(i int) {
		m.options.Since = ""
		if versions := m.desk.Project().Versions; i > 0 && i <= len(versions) {
			m.options.Since = versions[i-1].ID
		}
		m.Update()
	})
	m.kept = control.NewProse("", 12.5, false, look.Ink, inner)
	m.paper = control.Stack(8,
		labelled("Pages", m.since.Object()),
		m.kept,
		labelled("Paper", m.sheets.Object()),
		labelled("They lie", places.Object()),
		control.NewProse("If the 50 mm square did not come out true, give it as you measured it on the paper; the pages are then corrected for your printer.", 11.5, false, look.Faint, inner),
		labelled("Square, wide", m.square[0].Object()),
		labelled("Square, high", m.square[1].Object()))
	return m.paper
}

// allPages is said of a print that holds every page.
const allPages = "all"

// SetSince has only the pages printed that have changed since a version.
func (m *Make) SetSince(version draft.ID) {
	m.options.Format, m.options.Purpose, m.options.Since = export.PDF, export.Pen, version
	m.format.Put(0)
	m.purpose.Put(0)
	m.Update()
}

// offerVersions lists the versions that the pages can be held against.
func (m *Make) offerVersions() {
	words, at := []string{allPages}, 0
	for i, v := range m.desk.Project().Versions {
		words = append(words, "changed since "+v.Name)
		if v.ID == m.options.Since {
			at = i + 1
		}
	}
	if at == 0 {
		m.options.Since = ""
	}
	m.since.Offer(words, at)
}

// SetPaper chooses the paper with the name, if there is one.
func (m *Make) SetPaper(name string) {
	for i, p := range export.Papers() {
		if p.Name == name {
			m.options.Paper = p
			m.sheets.Put(i)
		}
	}
}

func (m *Make) squareField(hint string, to *float64) *control.Field {
	f := control.NewField(hint, nil)
	f.Tell = func(says string) {
		if says != "" {
			m.say(says)
		}
	}
	f.Take = func(text string) error {
		mm, err := m.desk.Project().Unit.Parse(text)
		if err != nil {
			return err
		}
		if mm < export.ScaleMM*0.91 || mm > export.ScaleMM*1.1 {
			return fmt.Errorf("a square that is so far from %d mm was scaled by the printer's settings; print at 100 %% and measure again", export.ScaleMM)
		}
		*to = mm
		m.Update()
		return nil
	}
	return f
}

func (m *Make) buildDXF() fyne.CanvasObject {
	kind := control.NewPill("Layers with plain names, or as ASTM D6673 numbers them", []string{"plain", "D6673"}, func(i int) {
		m.options.DXF = export.DXFKind(i)
		m.Update()
	})
	m.dxf = control.Stack(4, labelled("Layers", control.Row(0, kind)),
		control.NewProse("Plain: layers with names, for drawing programs. D6673: layers as ASTM D6673 numbers them, for industrial cutters.", 11.5, false, look.Faint, inner))
	return m.dxf
}

func (m *Make) buildDPI() fyne.CanvasObject {
	words := make([]string, len(pngDPI))
	for i, d := range pngDPI {
		words[i] = fmt.Sprintf("%.0f", d)
	}
	dpi := control.NewPill("Pixels an inch", words, func(i int) {
		m.options.DPI = pngDPI[i]
		m.Update()
	})
	m.dpi = labelled("Pixels / inch", control.Row(0, dpi))
	return m.dpi
}

func (m *Make) buildNotches() fyne.CanvasObject {
	notches := control.NewPill("Whether the machine cuts the notches that their allowance bears", []string{"leave out", "cut"}, func(i int) {
		m.options.CutNotches = i == 1
		m.Update()
	})
	holes := control.NewPill("Whether the machine cuts buttonholes and the exits of drawstrings", []string{"leave out", "cut"}, func(i int) {
		m.options.CutButtonholes = i == 1
		m.Update()
	})
	m.notches = control.Stack(4, labelled("Notches", control.Row(0, notches)), labelled("Buttonholes", control.Row(0, holes)))
	return m.notches
}

// labelled returns a row whose label is short, for the pills need the room.
func labelled(label string, o fyne.CanvasObject) *fyne.Container {
	return control.LabelledBy(84, label, o)
}

func show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// Changed shows a change of the document, if it has a bearing on the pages.
func (m *Make) Changed(c desk.Change) {
	if c.Has(desk.Document) || m.picked && c.Has(desk.Selection) {
		m.Update()
	}
}

// Update shows the pages as they would be written.
func (m *Make) Update() {
	// Where nothing is picked there is nothing to choose: all pieces are written.
	m.picked = m.picked && len(m.desk.Picked()) > 0
	m.which.Put(0)
	if m.picked {
		m.which.Put(1)
	}
	m.offerVersions()
	show(m.paper, m.options.Format == export.PDF)
	show(m.dxf, m.options.Format == export.DXF)
	show(m.dpi, m.options.Format == export.PNG)
	show(m.notches, m.options.Purpose.Cuts())
	unit := m.desk.Project().Unit
	m.square[0].Put(unit.Format(m.squareX))
	m.square[1].Put(unit.Format(m.squareY))
	m.notices.RemoveAll()
	for _, n := range m.options.Purpose.Notices() {
		title, says, found := strings.Cut(n, ": ")
		if !found {
			title, says = "Mind", n
		}
		m.notices.Add(control.Told(control.LookAgain, title, wording.Sentence(says), inner, "", nil))
	}
	m.scroll.Refresh()
	m.pages.show(m.desk.Project(), m.Options(), func(text string, kept []string) {
		m.sums.Put(text)
		m.kept.Put(strings.Join(kept, " "))
		show(m.kept, len(kept) > 0)
		m.scroll.Refresh()
	})
}

// summary says in words what would be written.
func summary(p *draft.Project, o export.Options, m made) string {
	pages, w, h := m.pages, m.w, m.h
	u := p.Unit
	size := u.FormatBare(w) + " × " + u.Format(h)
	if o.Format == export.PDF {
		if v := planSince(m); v != nil {
			if pages == 0 {
				return "Nothing that is printed has changed since “" + v.Name + "”."
			}
			return wording.Count(pages, "page") + " to print anew, of " + fmt.Sprint(len(m.plan.Pages)) + "."
		}
		if pages == 1 {
			return "One page of " + size + "."
		}
		text := fmt.Sprintf("%d pages of %s.", pages, size)
		if m.plan != nil && glued(m.plan) {
			text += " Glue those of one letter together at their trim marks, or print on larger paper."
		}
		return text
	}
	return "One sheet of " + size + "."
}

// planSince returns the version that the pages are held against, or nil.
func planSince(m made) *draft.Version {
	if m.plan == nil {
		return nil
	}
	return m.plan.Since()
}

// glued reports whether any pages belong together.
func glued(p *export.Plan) bool {
	for _, g := range p.Groups {
		if g.Rows*g.Cols > 1 {
			return true
		}
	}
	return false
}
