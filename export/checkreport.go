package export

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"hemlet/draft"
	"hemlet/draft/store"
)

// CheckReport is what the checks of a project say, on paper: the findings, the table of
// seams, fullness, notches and girths, and a small drawing of each piece with the letters
// of its seams and the numbers of the findings about it.
type CheckReport struct {
	Project *draft.Project
	// Paper is what it is printed on; the zero Paper is A4. Nothing in it has to be true
	// to size.
	Paper Paper
	// Made is the date on the report; the zero time is now.
	Made time.Time
}

// WriteCheckReport writes the report to a PDF and returns how many pages it has. The
// file is replaced whole, or keeps the bytes that it had.
func WriteCheckReport(ctx context.Context, path string, r CheckReport) (pages int, err error) {
	format, err := FormatOf(path)
	if err != nil {
		return 0, err
	}
	if format != PDF {
		return 0, fmt.Errorf("a report is a PDF; give its file a name that ends in .pdf, not .%s", format)
	}
	var b bytes.Buffer
	if pages, err = r.Encode(ctx, &b); err != nil {
		return 0, err
	}
	if err := store.Replace(path, func(w io.Writer) error {
		_, err := w.Write(b.Bytes())
		return err
	}); err != nil {
		return 0, fmt.Errorf("report %s: %w", path, err)
	}
	return pages, nil
}

// The smallest room in mm that the columns of a report need between its margins, and
// how much there must be from top to bottom.
const (
	reportLeast     = 150
	reportLeastHigh = 200
	reportMargin    = 14
)

// Encode writes the PDF and returns how many pages it has. It stops with the context's
// error when that is cancelled.
func (r CheckReport) Encode(ctx context.Context, w io.Writer) (pages int, err error) {
	paper, err := r.paper()
	if err != nil {
		return 0, err
	}
	made := r.Made
	if made.IsZero() {
		made = time.Now()
	}
	c := newReporting(r.Project, newFlow(paper), made)
	for _, section := range []func(){c.heading, c.findings, c.seams, c.fullness, c.notches, c.openings, c.girths, c.proofs, c.pieces} {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		section()
	}
	fonts, err := newLettering()
	if err != nil {
		return 0, err
	}
	var body bytes.Buffer
	file := newPDF(&body, paper.Width, paper.Height)
	for i, leaf := range c.flow.leaves {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		if i > 0 {
			file.NewPage(paper.Width, paper.Height)
		}
		to := newReportForm(file, fonts)
		for _, draw := range leaf {
			draw(to)
		}
		c.foot(to, i+1)
	}
	err = closePDF(w, file, &body, pdfInfo{title: c.title(), subject: "What the checks of a sewing pattern found", made: made})
	return len(c.flow.leaves), err
}

func (r CheckReport) paper() (Paper, error) {
	paper := r.Paper
	if paper.Width == 0 && paper.Height == 0 {
		return PaperNamed("a4")
	}
	w, h := paper.Width, paper.Height
	if !(w > 0 && h > 0 && max(w, h) < longestForm*min(w, h)) {
		return paper, errors.New("a report is printed on single pages, not on a roll; name a paper such as a4 or letter")
	}
	if w-2*reportMargin < reportLeast || h-2*reportMargin < reportLeastHigh {
		return paper, fmt.Errorf("the paper is too small for a report; it needs at least %d x %d mm", reportLeast+2*reportMargin, reportLeastHigh+2*reportMargin)
	}
	return paper, nil
}
