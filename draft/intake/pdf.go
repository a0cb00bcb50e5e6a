package intake

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"sync"

	"hemlet/draft"
)

// PDFEnding is the ending of the files whose pictures PDFPictures lists.
const PDFEnding = ".pdf"

// PDF is a PDF file whose pages may hold scans. Only what a page refers to is read, and
// nothing is unfolded before it is asked for. It may be used by several goroutines.
type PDF struct {
	name   string
	mu     sync.Mutex
	file   *pdfFile
	leaves []pdfLeaf
}

// PDFPicture is a picture that a page of a PDF draws.
type PDFPicture struct {
	// Page counts from 1, Number from 1 among the pictures of the page.
	Page, Number int
	// Wide and High are in pixels, as it is looked at on the page.
	Wide, High int
	// DPI follows from how large the page draws it; 0 where its pixels are not square.
	DPI float64
	// Across and Down are the resolutions along its width and height as it is looked at.
	Across, Down float64
	// Ext is the ending of the file that Content returns: jpg where the PDF holds one as
	// it is, else png.
	Ext string
	// Says tells why it cannot be read, "" where it can.
	Says string

	pdf    *PDF
	stream *pdfStream
	filter pdfFilter
	turn   orientation
}

// OpenPDF reads the list of pages of a PDF. The name is the file's. An encrypted or
// broken file, or one that is no PDF, is an error of one sentence.
func OpenPDF(ctx context.Context, name string, content []byte) (_ *PDF, err error) {
	defer calmly(name, &err)
	f, err := openPDFFile(ctx, content)
	if err != nil {
		return nil, named(name, err)
	}
	leaves, err := f.pages()
	if err != nil {
		return nil, named(name, err)
	}
	return &PDF{name: name, file: f, leaves: leaves}, nil
}

// named puts the file's name before an error, but for a reading that was given up.
func named(name string, err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return fmt.Errorf("%s %w", name, err)
}

// calmly makes an error of what a broken file threw.
func calmly(name string, err *error) {
	if thrown := recover(); thrown != nil {
		*err = fmt.Errorf("%s is damaged (%v). Print it to a new PDF, or scan it again", name, thrown)
	}
}

// Pages returns how many pages there are, at least 1.
func (p *PDF) Pages() int { return len(p.leaves) }

// leastSide is how many pixels each side of a picture has at least that is listed: less
// is a rule or an ornament, never a scan.
const leastSide = 32

// Pictures lists the pictures of a page, counted from 1, in the order in which it draws
// them: what is drawn twice is listed once. A page may have none.
func (p *PDF) Pictures(ctx context.Context, page int) (_ []PDFPicture, err error) {
	name := fmt.Sprintf("%s, page %d,", p.name, page)
	defer calmly(name, &err)
	if page < 1 || page > len(p.leaves) {
		return nil, fmt.Errorf("%s has no page %d; it has %d", p.name, page, len(p.leaves))
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	f := p.file
	f.ctx, f.work = ctx, pdfWorkBase
	q := f.page(p.leaves[page-1])
	drawn, err := f.drawn(q)
	if err != nil {
		return nil, named(name, fmt.Errorf("cannot be looked through: %w", err))
	}
	var list []PDFPicture
	seen := map[any]bool{}
	for _, d := range drawn {
		if r, ok := d.ref.(pdfRef); ok && seen[r] {
			continue
		} else if ok {
			seen[r] = true
		}
		pic := PDFPicture{Page: page, pdf: p, stream: d.stream}
		if !pic.describe(d, q) {
			continue
		}
		list = append(list, pic)
		list[len(list)-1].Number = len(list)
	}
	return list, f.spent()
}

// PDFPictures lists the pictures of all pages of a PDF. Where no page has one, or the
// file cannot be read, it is an error of one sentence.
func PDFPictures(ctx context.Context, name string, content []byte) ([]PDFPicture, error) {
	p, err := OpenPDF(ctx, name, content)
	if err != nil {
		return nil, err
	}
	var all []PDFPicture
	var broken error
	for page := 1; page <= p.Pages(); page++ {
		list, err := p.Pictures(ctx, page)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil && broken == nil {
			broken = err
		}
		all = append(all, list...)
	}
	if len(all) > 0 {
		return all, nil
	}
	if broken != nil {
		return nil, broken
	}
	return nil, errNoPDFPictures(name)
}

func errNoPDFPictures(name string) error {
	return fmt.Errorf("%s holds no pictures: it is drawn, not scanned. Print it to a picture (PNG, at 300 dots an inch), or bring in the drawing as SVG or DXF", name)
}

// describe fills in size and resolution; false where the picture is too small to count.
func (pic *PDFPicture) describe(d pdfDrawn, page pdfPage) bool {
	f := pic.pdf.file
	wide, high := f.whole(first(d.stream.dict, "Width", "W"), 0), f.whole(first(d.stream.dict, "Height", "H"), 0)
	names, _ := f.filters(d.stream.dict)
	pic.Ext = "png"
	if n := len(names); n > 0 {
		pic.filter.name = names[n-1]
		pic.Says = unreadable(pic.filter.name)
		if jpegFilter(pic.filter.name) && f.plainJPEG(d.stream) {
			pic.Ext = "jpg"
		}
	}
	across, down, turn, ok := d.laid(page)
	if !ok || wide < leastSide || high < leastSide {
		return false
	}
	if wide > draft.MaxPixels || high > draft.MaxPixels {
		pic.Says = fmt.Sprintf("has %d by %d pixels; at most %d by %d fit", wide, high, draft.MaxPixels, draft.MaxPixels)
	}
	const points = 72 // to the inch
	pic.Wide, pic.High, pic.turn = wide, high, turn
	pic.Across, pic.Down = points*float64(wide)/across, points*float64(high)/down
	pic.DPI = pdfDPI(pic.Across, pic.Down)
	if turn.lies() {
		pic.Wide, pic.High = pic.High, pic.Wide
		pic.Across, pic.Down = pic.Down, pic.Across
	}
	return true
}

// pdfDPI returns the resolution of a picture that a page draws so large, 0 where its
// pixels are not square. Sizes of pages are often rounded to whole points.
func pdfDPI(across, down float64) float64 {
	const rounding = 0.01 // relative
	if !(math.Abs(across-down) <= rounding*across) {
		return 0
	}
	dpi := math.Sqrt(across * down)
	return soundDPI(dpi, dpi)
}

func jpegFilter(name pdfName) bool { return name == "DCTDecode" || name == "DCT" }

func faxFilter(name pdfName) bool { return name == "CCITTFaxDecode" || name == "CCF" }

// unreadable tells why a picture with such a filter cannot be read, "" where it can.
func unreadable(name pdfName) string {
	switch {
	case name == "JBIG2Decode" || name == "JPXDecode":
		return fmt.Sprintf("is packed as %s, which cannot be read. Open the PDF in another program and save the page as PNG or TIFF, at the resolution of the scan",
			strings.TrimSuffix(string(name), "Decode"))
	case name == "Crypt":
		return "is locked (encrypted). Save the PDF without a password"
	}
	return ""
}

// Name returns the file name under which the picture is kept: that of the PDF with page
// and number.
func (pic *PDFPicture) Name() string {
	base := filepath.Base(pic.pdf.name)
	base = strings.TrimSuffix(base, filepath.Ext(base))
	name := fmt.Sprintf("%s page %d", base, pic.Page)
	if pic.Number > 1 {
		name += fmt.Sprintf(" picture %d", pic.Number)
	}
	return name + "." + pic.Ext
}

// where names the picture in messages.
func (pic *PDFPicture) where() string {
	return fmt.Sprintf("%s, page %d, picture %d,", pic.pdf.name, pic.Page, pic.Number)
}

// Describe tells what a project notes of the picture, whose bytes Content returned: with
// the resolution at which the page draws it.
func (pic *PDFPicture) Describe(content []byte) (draft.PictureFile, error) {
	f, err := DescribePicture(pic.Name(), content)
	f.DPI = pic.DPI
	return f, err
}
