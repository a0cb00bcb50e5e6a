package station

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/export"
)

// preview shows the pages as they would be written. They are made off the window's
// goroutine; what is out of date by the time it is ready is dropped.
type preview struct {
	object *fyne.Container
	say    func(string)
	grid   *fyne.Container
	scroll *container.Scroll
	large  *fyne.Container
	shown  *canvas.Image // the page that is shown alone, nil for none
	stop   context.CancelFunc
}

// The resolutions in pixels an inch of small and large pictures, and the width in
// screen units of a small one, and of one of a few.
const (
	smallDPI  = 50
	largeDPI  = 130
	smallWide = 210
	fewWide   = 296
	fewPages  = 4
)

// mostPages is how many pages are shown; the rest is only counted.
const mostPages = 60

func newPreview(say func(string)) *preview {
	p := &preview{say: say}
	p.grid = container.New(&flow{gap: 18})
	p.scroll = container.NewVScroll(control.Inset(26, 24, 26, 26, p.grid))
	p.large = container.NewStack()
	p.large.Hide()
	p.object = container.NewStack(control.NewPlane(look.Bench, "", 0), p.scroll, p.large)
	return p
}

// made is what a round of making pictures came to.
type made struct {
	names  []string
	images []image.Image
	plan   *export.Plan
	// shown are the indices of the pages that have a picture, in the plan.
	shown []int
	pages int
	w, h  float64
}

// show makes the pictures anew and calls told with the sum in words, and with what holds of
// an earlier print.
func (p *preview) show(project *draft.Project, o export.Options, told func(sum string, kept []string)) {
	if p.stop != nil {
		p.stop()
	}
	ctx, stop := context.WithCancel(context.Background())
	p.stop = stop
	p.closeLarge()
	go func() {
		m, err := render(ctx, project, o)
		control.OnMain(func() {
			if ctx.Err() != nil {
				return
			}
			if err != nil {
				p.fill(made{})
				told(wording.Sentence(err.Error())+".", nil)
				return
			}
			p.fill(m)
			var kept []string
			if m.plan != nil {
				kept = m.plan.KeptWords()
			}
			told(summary(project, o, m), kept)
		})
	}()
}

func render(ctx context.Context, project *draft.Project, o export.Options) (made, error) {
	if o.Format != export.PDF {
		return renderSheet(ctx, project, o)
	}
	plan, err := export.LayPages(ctx, project, o)
	if err != nil {
		return made{}, err
	}
	printed := plan.Printed()
	m := made{plan: plan, pages: len(printed), shown: printed}
	for k, i := range printed {
		page := plan.Pages[i]
		if err := ctx.Err(); err != nil {
			return made{}, err
		}
		m.w, m.h = page.Width, page.Height
		if k >= mostPages {
			continue
		}
		img, err := plan.RenderPage(i, smallDPI*min(1, 300/max(page.Width, 1)))
		if err != nil {
			return made{}, err
		}
		name := fmt.Sprintf("page %d", page.Number)
		if g := page.Group; g != nil && g.Rows*g.Cols > 1 {
			name += fmt.Sprintf("  ·  %s, row %d, column %d", g.Name, page.Row, page.Col)
		}
		m.names, m.images = append(m.names, name), append(m.images, img)
	}
	return m, nil
}

// sheetPixels is how many pixels the longer side of the picture of a sheet has.
const sheetPixels = 1600

// renderSheet makes a picture of the one sheet that an SVG, DXF or PNG holds.
func renderSheet(ctx context.Context, project *draft.Project, o export.Options) (made, error) {
	size := o
	size.Format = export.PNG
	size.DPI = 10
	var small bytes.Buffer
	report, err := export.Encode(ctx, &small, project, size)
	if err != nil {
		return made{}, err
	}
	size.DPI = sheetPixels * draft.MMPerInch / max(report.Width, report.Height, 1)
	var buf bytes.Buffer
	if report, err = export.Encode(ctx, &buf, project, size); err != nil {
		return made{}, err
	}
	img, err := png.Decode(&buf)
	if err != nil {
		return made{}, fmt.Errorf("the picture of the sheet: %w", err)
	}
	return made{names: []string{"the sheet"}, images: []image.Image{img}, pages: 1, w: report.Width, h: report.Height}, nil
}

// fill shows the pictures.
func (p *preview) fill(m made) {
	p.grid.RemoveAll()
	wide := float32(smallWide)
	switch {
	case m.plan == nil:
		wide = 640
	case m.pages <= fewPages:
		wide = fewWide
	}
	for i, img := range m.images {
		p.grid.Add(p.page(m, i, img, wide))
	}
	if m.pages > len(m.images) {
		p.grid.Add(control.Faint(fmt.Sprintf("and %d more pages", m.pages-len(m.images))))
	}
	p.scroll.Refresh()
}

func (p *preview) page(m made, i int, img image.Image, wide float32) fyne.CanvasObject {
	pic := picture(img)
	b := img.Bounds()
	pic.SetMinSize(fyne.NewSize(wide, wide*float32(b.Dy())/float32(max(b.Dx(), 1))))
	sheet := control.NewCard(control.Inset(2, 2, 2, 2, pic), "Show this page large", func() { p.openLarge(m, i) })
	sheet.Square()
	name := control.NewText(m.names[i], 12, false, look.Faint).AtLeast(10).Aligned(fyne.TextAlignCenter)
	// Where it is made smaller for want of room, the picture gives way and not the name.
	return container.NewBorder(nil, control.Inset(0, 6, 0, 0, name), nil, nil, sheet)
}

// openLarge shows one page as large as there is room: at once as it is, and finely
// as soon as that is drawn.
func (p *preview) openLarge(m made, i int) {
	pic := picture(m.images[i])
	p.shown = pic
	back := control.NewButton(control.QuietShape, "close", "All pages", "Back to all pages (Esc)", func() { p.closeLarge() })
	step := func(word string, by int) *control.Button {
		b := control.NewButton(control.QuietShape, "", word, word+" page", func() { p.openLarge(m, i+by) })
		b.SetOff(i+by < 0 || i+by >= len(m.images))
		return b
	}
	name := control.NewText(m.names[i], 12.5, true, look.Ink).AtLeast(40).Aligned(fyne.TextAlignCenter)
	bar := container.NewBorder(nil, nil, back, control.Row(10, step("Before", -1), step("Next", 1)), control.Inset(12, 0, 12, 0, control.Centred(name)))
	p.large.Objects = []fyne.CanvasObject{
		control.NewPlane(look.Bench, "", 0),
		control.Inset(24, 16, 24, 20, container.NewBorder(control.Inset(0, 0, 0, 12, bar), nil, nil, nil, pic)),
	}
	p.large.Show()
	p.large.Refresh()
	p.scroll.Hide()
	if m.plan != nil {
		p.refine(pic, m, i)
	}
}

// refine draws the page finely off the window's goroutine, and puts it in if it is
// still the one that is shown.
func (p *preview) refine(pic *canvas.Image, m made, i int) {
	go func() {
		fine, err := m.plan.RenderPage(m.shown[i], largeDPI*min(1, 300/max(m.w, 1)))
		control.OnMain(func() {
			switch {
			case p.shown != pic:
			case err != nil:
				p.say(err.Error())
			default:
				pic.Image = fine
				pic.Refresh()
			}
		})
	}()
}

// closeLarge goes back to all pages, and reports whether one was shown alone.
func (p *preview) closeLarge() bool {
	had := p.shown != nil
	p.shown = nil
	p.large.Hide()
	p.scroll.Show()
	return had
}

// picture returns the image as something that fills the room it gets.
func picture(img image.Image) *canvas.Image {
	pic := canvas.NewImageFromImage(img)
	pic.FillMode = canvas.ImageFillContain
	pic.ScaleMode = canvas.ImageScaleSmooth
	return pic
}

// flow lays objects in rows from the left, as many to a row as there is room for;
// what is wider than the room is made smaller.
type flow struct {
	gap float32
	// wide is the width that the rows were last laid for.
	wide float32
}

func (l *flow) place(objects []fyne.CanvasObject, wide float32, put func(fyne.CanvasObject, fyne.Position, fyne.Size)) float32 {
	x, y, high := float32(0), float32(0), float32(0)
	for _, o := range objects {
		s := o.MinSize()
		if s.Width > wide {
			s = fyne.NewSize(wide, s.Height*wide/s.Width)
		}
		if x > 0 && x+s.Width > wide {
			x, y, high = 0, y+high+l.gap, 0
		}
		put(o, fyne.NewPos(x, y), s)
		x += s.Width + l.gap
		high = max(high, s.Height)
	}
	return y + high
}

// MinSize asks for the height that the rows need at the present width.
func (l *flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	h := l.place(objects, max(l.wide, smallWide), func(fyne.CanvasObject, fyne.Position, fyne.Size) {})
	return fyne.NewSize(smallWide, h)
}

func (l *flow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.wide = size.Width
	l.place(objects, size.Width, func(o fyne.CanvasObject, pos fyne.Position, s fyne.Size) {
		o.Move(pos)
		o.Resize(s)
	})
}
