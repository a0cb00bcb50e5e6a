package tracer

import (
	"context"
	"fmt"
	"image"
	"path/filepath"
	"strings"

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

// scannedPDF is what the pictures of a PDF are chosen from, or of several.
type scannedPDF struct {
	names  []string
	pics   []intake.PDFPicture
	thumbs []image.Image // nil where one could not be made
	ticked []bool
}

// openPDFs reads PDFs and lists their pictures.
func (r *Room) openPDFs(paths []string) {
	if len(paths) == 0 {
		return
	}
	r.work("Reading "+filepath.Base(paths[0]), nil, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		pdf := &scannedPDF{}
		var faults []string
		for i, path := range paths {
			err := pdf.read(ctx, path, func(share float64, says string) {
				tell((float64(i)+share)/float64(len(paths)), says)
			})
			switch {
			case ctx.Err() != nil:
				return nil, ctx.Err()
			case err != nil:
				faults = append(faults, err.Error())
			}
		}
		return func() {
			if len(pdf.pics) > 0 {
				r.pdf = pdf
				r.goTo(stepPictures)
			}
			if r.update(); len(faults) > 0 {
				r.fail(strings.Join(faults, "\n"))
			}
		}, nil
	})
}

// read adds the pictures of a PDF to the list.
func (p *scannedPDF) read(ctx context.Context, path string, tell func(float64, string)) error {
	name := filepath.Base(path)
	content, err := store.ReadPictureFile(path)
	if err != nil {
		return err
	}
	list, err := intake.PDFPictures(ctx, name, content)
	if err != nil {
		return err
	}
	for i := range list {
		if err := ctx.Err(); err != nil {
			return err
		}
		tell(float64(i)/float64(len(list)), fmt.Sprintf("Reading page %d of %s", list[i].Page, name))
		can := list[i].Says == ""
		var thumb image.Image
		if can {
			thumb, _ = list[i].Thumbnail(ctx, pdfThumbPixels) // without it the card bears words alone
		}
		p.pics, p.thumbs, p.ticked = append(p.pics, list[i]), append(p.thumbs, thumb), append(p.ticked, can)
	}
	p.names = append(p.names, name)
	return nil
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
	holds := " holds "
	if len(pdf.names) > 1 {
		holds = " hold "
	}
	p.title.Put(fmt.Sprint(wording.List(pdf.names), holds, wording.Count(len(pdf.pics), "picture")))
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
