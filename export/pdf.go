package export

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/pdf"

	"hemlet/draft"
	"hemlet/geom"
)

// writePDF prints the plan page by page, or for a machine one page as large as the
// sheet. Curves stay curves.
func writePDF(ctx context.Context, w io.Writer, p *draft.Project, o Options, report *Report) error {
	if o.Purpose.Cuts() {
		return writeMachinePDF(ctx, w, p, o, report)
	}
	steps := o
	steps.Progress = nil
	plan, err := LayPages(ctx, p, steps)
	if err != nil {
		return err
	}
	pages := plan.Printed()
	if len(pages) == 0 {
		return fmt.Errorf("nothing that is printed has changed since “%s”", plan.since.Name)
	}
	report.ofPlan(plan, pages)
	fonts, err := newLettering()
	if err != nil {
		return err
	}
	var body bytes.Buffer
	first := plan.Pages[pages[0]]
	file := newPDF(&body, first.Width, first.Height)
	for i, n := range pages {
		page := plan.Pages[n]
		if err := ctx.Err(); err != nil {
			return err
		}
		if i > 0 {
			file.NewPage(page.Width, page.Height)
		}
		plan.draw(pen{to: file, fonts: fonts}, page)
		o.step(i+1, len(pages))
	}
	return closePDF(w, file, &body, pdfInfo{
		title: p.Name, subject: "Sewing pattern, true to size: print at 100 %", made: o.now(),
	})
}

// writeMachinePDF writes the cut lines of every copy on one page, without the words
// and marks of paper, which a machine would cut.
func writeMachinePDF(ctx context.Context, w io.Writer, p *draft.Project, o Options, report *Report) error {
	sheet, err := laySheet(ctx, p, o)
	if err != nil {
		return err
	}
	report.ofSheet(sheet)
	if side := max(report.Width, report.Height); side > maxPaper {
		return fmt.Errorf("the copies take %.0f x %.0f mm side by side; a page of this format is at most %.0f mm long: write an SVG or a DXF, or fewer pieces", report.Width, report.Height, float64(maxPaper))
	}
	var body bytes.Buffer
	file := newPDF(&body, report.Width, report.Height)
	to := pen{to: file, place: geom.Identity}
	square := strokes[ScaleSquare]
	square.width = machineStroke
	to.strokePath(squareAt(sheet.Scale, ScaleMM), square, 0)
	for _, l := range sheet.Pieces {
		for _, m := range l.Strokes() {
			look := lookOf(m)
			look.width, look.dashes = machineStroke, nil
			for _, c := range m.Chains {
				to.strokePath(c, look, 0)
			}
		}
	}
	return closePDF(w, file, &body, pdfInfo{
		title: p.Name, subject: "Cut lines, true to size; the grey square of 50 mm is measured, not cut",
		keywords: strings.Join(o.Purpose.Notices(), " "), made: o.now(),
	})
}

func newPDF(body io.Writer, w, h float64) *pdf.PDF {
	return pdf.New(body, w, h, &pdf.Options{Compress: true, SubsetFonts: true, ImageEncoding: canvas.Lossless})
}

// closePDF ends the file and writes it out.
func closePDF(w io.Writer, file *pdf.PDF, body *bytes.Buffer, info pdfInfo) error {
	if err := file.Close(); err != nil {
		return err
	}
	whole, err := finishPDF(body.Bytes(), info)
	if err != nil {
		return err
	}
	_, err = w.Write(whole)
	return err
}

// ofPlan tells what the pages hold that are written.
func (r *Report) ofPlan(plan *Plan, pages []int) {
	r.Pages = len(pages)
	r.Width, r.Height = plan.Pages[pages[0]].Width, plan.Pages[pages[0]].Height
	shown := make(map[*Laid]bool)
	for _, i := range pages {
		r.Numbers = append(r.Numbers, plan.Pages[i].Number)
		for _, l := range plan.Pages[i].Pieces {
			shown[l] = true
		}
	}
	for _, g := range plan.Groups {
		var pieces []*Laid
		for _, l := range g.Pieces {
			if shown[l] {
				pieces = append(pieces, l)
			}
		}
		r.ofPieces(pieces)
		r.leftOut(pieces)
	}
	r.Stay, r.Gone = plan.Kept()
	r.Kept = plan.KeptWords()
}
