package tracer

import (
	"context"
	"fmt"
	"image"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
)

// Sizes of a picture of a PDF in the list: in pixels, and of its card in screen units.
const (
	pdfThumbPixels = 240
	pdfCardWide    = (inner - 8) / 2
	pdfThumbHigh   = 96
)

// scannedPDF is a PDF whose pictures are listed to choose from.
type scannedPDF struct {
	name   string
	pics   []intake.PDFPicture
	thumbs []image.Image // nil where one could not be made
	ticked []bool
}

// openPDF reads a PDF and lists its pictures.
func (r *Room) openPDF(path string) {
	name := filepath.Base(path)
	r.work("Reading "+name, nil, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		content, err := store.ReadPictureFile(path)
		var list []intake.PDFPicture
		if err == nil {
			list, err = intake.PDFPictures(ctx, name, content)
		}
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			return func() { r.fail(err.Error()) }, nil
		}
		pdf := &scannedPDF{name: name, pics: list, thumbs: make([]image.Image, len(list)), ticked: make([]bool, len(list))}
		for i := range list {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			tell(float64(i)/float64(len(list)), fmt.Sprintf("Reading page %d of %s", list[i].Page, name))
			if pdf.ticked[i] = list[i].Says == ""; pdf.ticked[i] {
				pdf.thumbs[i], _ = list[i].Thumbnail(ctx, pdfThumbPixels) // without it the card bears words alone
			}
		}
		return func() {
			r.pdf = pdf
			r.goTo(stepPictures)
			r.update()
		}, nil
	})
}

// bringPDF brings in the pictures of the PDF that are ticked.
func (r *Room) bringPDF() {
	pdf := r.pdf
	keep, err := r.host.Keep()
	if pdf == nil || err != nil {
		if err != nil {
			r.say(err.Error())
		}
		return
	}
	ticked := append([]bool(nil), pdf.ticked...)
	r.work("Bringing in "+wording.Count(pdf.count(), "picture"), nil, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		var files []draft.PictureFile
		for i := range pdf.pics {
			if !ticked[i] {
				continue
			}
			pic := &pdf.pics[i]
			tell(float64(i)/float64(len(pdf.pics)), "Reading "+pic.Name())
			content, err := pic.Content(ctx)
			if err != nil {
				return nil, err
			}
			file, err := keep(pic.Name(), content)
			if err != nil {
				return nil, err
			}
			if told, err := pic.Describe(content); err == nil {
				file.DPI = told.DPI // of the page, where the picture does not say
			}
			files = append(files, file)
		}
		return func() {
			r.pdf = nil
			r.lay(files)
		}, nil
	})
}

// count returns how many pictures are ticked.
func (p *scannedPDF) count() int {
	n := 0
	for _, on := range p.ticked {
		if on {
			n++
		}
	}
	return n
}

// pdfPanel lists the pictures of a PDF.
type pdfPanel struct {
	r     *Room
	all   *fyne.Container
	title *control.Prose
	cards *fyne.Container
	bring *control.Button
	shown *scannedPDF
}

func newPDFPanel(r *Room) *pdfPanel {
	p := &pdfPanel{r: r}
	p.title = control.NewProse("", 13, true, look.Ink, inner)
	p.cards = control.Flow(inner, 8)
	p.bring = control.NewButton(control.WordShape, "add", "", "Lay the ticked pictures beside one another", r.bringPDF)
	not := control.NewButton(control.QuietShape, "", "Not now", "Bring in none of them", func() {
		r.pdf = nil
		r.update()
	})
	p.all = control.Stack(10, p.title, p.cards, control.Row(8, p.bring, not), control.Rule())
	return p
}

// update shows the PDF that lies open, if there is one.
func (p *pdfPanel) update() {
	pdf := p.r.pdf
	show(p.all, pdf != nil)
	if pdf == nil {
		p.shown = nil
		return
	}
	if p.shown != pdf {
		p.shown = pdf
		p.cards.RemoveAll()
		for i := range pdf.pics {
			p.cards.Add(p.card(pdf, i))
		}
	}
	p.title.Put(fmt.Sprintf("%s holds %s", pdf.name, wording.Count(len(pdf.pics), "picture")))
	p.bring.SetWord("Bring in " + wording.Count(pdf.count(), "picture"))
	p.bring.SetOff(pdf.count() == 0)
}

// card makes the card of a picture, with a box to tick.
func (p *pdfPanel) card(pdf *scannedPDF, i int) fyne.CanvasObject {
	pic := &pdf.pics[i]
	box := control.NewCheck(fmt.Sprintf("Page %d", pic.Page), func(on bool) {
		pdf.ticked[i] = on
		p.update()
	})
	box.Put(pdf.ticked[i])
	says := fmt.Sprintf("%d × %d px", pic.Wide, pic.High)
	if pic.DPI > 0 {
		says += fmt.Sprintf(", %.0f an inch", pic.DPI)
	}
	if pic.Says != "" {
		says = pic.Says
		box.Disable()
	}
	thumb := canvas.NewImageFromImage(pdf.thumbs[i])
	thumb.FillMode = canvas.ImageFillContain
	thumb.SetMinSize(fyne.NewSize(pdfCardWide-16, pdfThumbHigh))
	rows := control.Stack(2, thumb, box, control.NewProse(says, 11, false, look.Faint, pdfCardWide-16))
	return control.Wide(pdfCardWide, control.NewCard(control.Inset(8, 8, 8, 8, rows), "", func() {
		if pic.Says == "" {
			box.SetChecked(!box.Checked)
		}
	}))
}
