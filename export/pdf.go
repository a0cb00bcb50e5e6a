package export

import (
	"bytes"
	"context"
	"io"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/pdf"

	"hemlet/draft"
)

// writePDF prints the plan page by page. Curves stay curves.
func writePDF(ctx context.Context, w io.Writer, p *draft.Project, o Options, report *Report) error {
	steps := o
	steps.Progress = nil
	plan, err := LayPages(ctx, p, steps)
	if err != nil {
		return err
	}
	report.ofPlan(plan)
	fonts, err := newLettering()
	if err != nil {
		return err
	}
	var body bytes.Buffer
	first := plan.Pages[0]
	settings := &pdf.Options{Compress: true, SubsetFonts: true, ImageEncoding: canvas.Lossless}
	file := pdf.New(&body, first.Width, first.Height, settings)
	for i, page := range plan.Pages {
		if err := ctx.Err(); err != nil {
			return err
		}
		if i > 0 {
			file.NewPage(page.Width, page.Height)
		}
		plan.draw(pen{to: file, fonts: fonts}, page)
		o.step(i+1, len(plan.Pages))
	}
	if err := file.Close(); err != nil {
		return err
	}
	whole, err := finishPDF(body.Bytes(), pdfInfo{
		title: p.Name, subject: "Sewing pattern, true to size: print at 100 %", creator: "Hemlet", made: o.now(),
	})
	if err != nil {
		return err
	}
	_, err = w.Write(whole)
	return err
}

func (r *Report) ofPlan(plan *Plan) {
	r.Pages = len(plan.Pages)
	r.Width, r.Height = plan.Pages[0].Width, plan.Pages[0].Height
	for _, g := range plan.Groups {
		r.ofPieces(g.Pieces)
	}
}
