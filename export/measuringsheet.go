package export

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"

	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/draft/store"
	"hemlet/geom"
)

// MeasuringSheet is a blank sheet to note the measures of a body on by hand: the
// figure with the place of each measure, and a line to write each on. The ten that
// are asked for first come first.
type MeasuringSheet struct {
	// Build is what the figure is drawn as. Measures that it has no place for, such
	// as those of a tail, are left out.
	Build figure.Build
	// Paper is what it is printed on; the zero Paper is A4. Nothing on the sheet has
	// to be true to size.
	Paper Paper
	// Made stands in the file as the time at which it was made; the zero time is now.
	Made time.Time
}

// WriteMeasuringSheet writes the sheet to a PDF. The file is replaced whole, or
// keeps the bytes that it had.
func WriteMeasuringSheet(path string, s MeasuringSheet) error {
	format, err := FormatOf(path)
	if err != nil {
		return err
	}
	if format != PDF {
		return fmt.Errorf("a measuring sheet is a PDF; give its file a name that ends in .pdf, not .%s", format)
	}
	var b bytes.Buffer
	if err := s.Encode(&b); err != nil {
		return err
	}
	if err := store.Replace(path, func(w io.Writer) error {
		_, err := w.Write(b.Bytes())
		return err
	}); err != nil {
		return fmt.Errorf("measuring sheet %s: %w", path, err)
	}
	return nil
}

// The page that the sheet is laid out on, in mm; other papers have it larger or
// smaller in their middle.
const (
	formWide, formHigh = 210, 297
	formMargin         = 14
	formRoom           = formWide - 2*formMargin
)

// smallestForm bounds how small the sheet may be printed: below it the letters can
// hardly be read.
const smallestForm = 0.45

// longestForm is how much longer than wide a paper may be; beyond it is a roll.
const longestForm = 3

// Encode writes the PDF.
func (s MeasuringSheet) Encode(w io.Writer) error {
	paper := s.Paper
	if paper.Width == 0 && paper.Height == 0 {
		var err error
		if paper, err = PaperNamed("a4"); err != nil {
			return err
		}
	}
	if w, h := paper.Width, paper.Height; !(w > 0 && h > 0 && max(w, h) < longestForm*min(w, h)) {
		return errors.New("a measuring sheet is printed on single pages, not on a roll; name a paper such as a4 or letter")
	}
	scale := min(paper.Width/formWide, paper.Height/formHigh)
	if scale < smallestForm {
		return fmt.Errorf("the paper is too small for a measuring sheet; it needs at least %.0f x %.0f mm", formWide*smallestForm, formHigh*smallestForm)
	}
	fonts, err := newLettering()
	if err != nil {
		return err
	}
	var out bytes.Buffer
	file := newPDF(&out, paper.Width, paper.Height)
	at := geom.Scaling(scale, scale).Then(geom.Translation(geom.Pt((paper.Width-scale*formWide)/2, (paper.Height-scale*formHigh)/2)))
	f := newForm(s.Build, pen{to: file, fonts: fonts, place: at}, scale)
	f.first()
	file.NewPage(paper.Width, paper.Height)
	f.second()
	made := s.Made
	if made.IsZero() {
		made = time.Now()
	}
	return closePDF(w, file, &out, pdfInfo{title: "Measuring sheet", subject: "A blank sheet to note the measures of a body on", made: made})
}

// form is the sheet while it is drawn.
type form struct {
	pen
	scale       float64
	front, side *figure.Drawing
	asked       []*body.Measure
	rest        []*body.Measure // in their groups, without those of the levels
	number      map[string]int
}

func newForm(b figure.Build, to pen, scale float64) *form {
	f := &form{pen: to, scale: scale, front: figure.Draw(nil, b, figure.Front), side: figure.Draw(nil, b, figure.Side), number: map[string]int{}}
	f.asked = body.Asked()
	for _, m := range f.asked {
		f.number[m.Name] = len(f.number) + 1
	}
	for _, m := range body.Catalogue() {
		if m.Ask == 0 && !levelMeasure(m.Name) && f.placed(m.Name) {
			f.rest = append(f.rest, m)
			f.number[m.Name] = len(f.number) + 1
		}
	}
	return f
}

// levelMeasure reports whether a measure is noted in the table of levels.
func levelMeasure(name string) bool {
	for _, l := range body.Levels {
		if name == body.HeightOf(l) || name == body.ArcFrontOf(l) || name == body.ArcBackOf(l) {
			return true
		}
	}
	return false
}

// placed reports whether the figure has the place of a measure.
func (f *form) placed(name string) bool {
	_, front := f.front.Mark(name)
	_, side := f.side.Mark(name)
	return front || side
}

// The lines and letters of the sheet; lengths in mm.
var (
	formRule   = stroke{0.25, "#7f868c", nil}
	formFaint  = stroke{0.18, "#b9b3a4", nil}
	formRim    = stroke{0.7, "#24303a", nil}
	formDetail = stroke{0.18, "#6c7379", nil}
	formMark   = stroke{0.4, "#7a5c8e", nil}
	formFar    = stroke{0.28, "#7a5c8e", []float64{1.1, 0.9}}
	formLeader = stroke{0.15, "#7a5c8e", nil}
)

const (
	formCloth = "#faf5e9"
	formWhite = "#ffffff"

	titleSize = 7.0
	headSize  = 3.6
	wordSize  = 3.1
	howSize   = 2.35
	noteSize  = 2.5
)

// line draws a straight line.
func (f *form) line(a, b geom.Point, look stroke) {
	look.width *= f.scale
	for i := range look.dashes {
		look.dashes = append([]float64(nil), look.dashes...)
		look.dashes[i] *= f.scale
	}
	f.strokePath(geom.Path{geom.Line(a, b)}, look, 0)
}

// trace draws a path that a map lays on the page.
func (f *form) trace(p geom.Path, m geom.Affine, look stroke) {
	look.width *= f.scale
	f.strokePath(p.Transform(m), look, 0)
}

// say writes a line of text; the letters go with the size of the paper.
func (f *form) say(at geom.Point, size float64, strong bool, words string) {
	f.write(Text{At: at, Size: size * f.scale, Strong: strong, Words: words})
}

func (f *form) sayMiddle(at geom.Point, size float64, strong bool, words string) {
	f.write(Text{At: at, Size: size * f.scale, Strong: strong, Anchor: Middle, Words: words})
}
