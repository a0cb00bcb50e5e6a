package export

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"hemlet/draft"
)

// Report says what was written.
type Report struct {
	Format Format
	// Notices are what to show to whoever takes the file away: cautions about a machine,
	// and notes of pieces that found no room to be printed.
	Notices []string
	// Pages counts the pages of a PDF, 1 for other formats.
	Pages int
	// Numbers are the numbers of the pages of a PDF. Where only pages were written that have
	// changed since a version, Stay has those that hold as they were printed then, Gone those
	// that are not needed any more, and Kept says so in sentences.
	Numbers, Stay, Gone []int
	Kept                []string
	// Width and Height are the size in mm of the sheet, or of one page.
	Width, Height float64
	Pieces        []ReportPiece
}

// ReportPiece is one copy that was written.
type ReportPiece struct {
	Name, Revision string
	Mirrored       bool
}

func (r *Report) ofSheet(s *Sheet) {
	r.Width, r.Height = s.Box.W(), s.Box.H()
	r.ofPieces(s.Pieces)
}

func (r *Report) ofPieces(pieces []*Laid) {
	for _, l := range pieces {
		r.Pieces = append(r.Pieces, ReportPiece{l.Piece.Name, l.Revision, l.Copy.Mirror})
	}
}

// Encode writes the project to w in the format of the options. On an error, and
// when the context is cancelled, nothing has been written to w unless w itself
// failed.
func Encode(ctx context.Context, w io.Writer, p *draft.Project, o Options) (Report, error) {
	report := Report{Format: o.Format, Notices: o.Purpose.Notices(), Pages: 1}
	write := map[Format]func(context.Context, io.Writer, *draft.Project, Options, *Report) error{
		SVG: writeSVG, PDF: writePDF, DXF: writeDXF, PNG: writePNG,
	}[o.Format]
	if write == nil {
		return Report{}, fmt.Errorf("format %d is not known", int(o.Format))
	}
	var buffer bytes.Buffer
	if err := write(ctx, &buffer, p, o, &report); err != nil {
		return Report{}, fmt.Errorf("export %s: %w", o.Format, err)
	}
	if err := ctx.Err(); err != nil {
		return Report{}, fmt.Errorf("export %s: %w", o.Format, err)
	}
	if _, err := w.Write(buffer.Bytes()); err != nil {
		return Report{}, fmt.Errorf("export %s: %w", o.Format, err)
	}
	return report, nil
}
