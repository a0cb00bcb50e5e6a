package main

import (
	"context"
	"errors"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/export"
)

type exportVerb struct {
	Project string   `arg:"" help:"The project file." type:"path"`
	Out     string   `short:"o" required:"" placeholder:"OUT.(pdf/svg/dxf/png)" help:"The file to write; its ending says which format." type:"path"`
	Paper   string   `default:"a4" help:"For PDF: a4, letter, a3, a0, 'a4 landscape', a size such as '500mm x 70cm', or 'roll 36in'."`
	For     string   `default:"pen" enum:"pen,blade,laser" help:"Who cuts: pen (printed, cut by hand), blade or laser (every copy, cut lines only)."`
	DXF     string   `name:"dxf" default:"plain" enum:"plain,d6673" help:"The layers of a DXF: plain names, or as ASTM D6673 numbers them."`
	Piece   []string `help:"Only these pieces, by name or id."`
	Notches bool     `name:"cut-notches" help:"For blade or laser: also cut the notches that their allowance bears."`
	Holes   bool     `name:"cut-buttonholes" help:"For blade or laser: also cut buttonholes and the exits of drawstrings."`
	Since   string   `placeholder:"VERSION" help:"For PDF: only the pages that show something else than they did with this version, by its name or id; the others hold as they were printed."`
	AsLaid  bool     `help:"Keep the places that the pieces have on the bench."`
}

// Run writes the project true to size.
func (v *exportVerb) Run(ctx context.Context, t *terminal) error {
	opts, err := v.options()
	if err != nil {
		return err
	}
	p, _, err := store.Load(v.Project)
	if err != nil {
		return err
	}
	for _, name := range v.Piece {
		piece, err := p.FindPiece(name)
		if err != nil {
			return err
		}
		opts.Pieces = append(opts.Pieces, draft.ID(piece))
	}
	if v.Since != "" {
		if format, err := export.FormatOf(v.Out); err == nil && (format != export.PDF || opts.Purpose.Cuts()) {
			return errors.New("--since goes with a PDF for the pen: only that has pages of which some can stay")
		}
		if opts.Since, err = p.FindVersion(v.Since); err != nil {
			return err
		}
	}
	report, err := export.Write(ctx, v.Out, p, opts)
	if err != nil {
		return err
	}
	t.remarks(report.Notices)
	t.remarks(report.Kept)
	t.printf("%s: %s, %s\n", v.Out, count(len(report.Pieces), "piece"), count(report.Pages, "page"))
	return nil
}

func (v *exportVerb) options() (export.Options, error) {
	var o export.Options
	var err error
	if o.Purpose, err = export.ParsePurpose(v.For); err != nil {
		return o, err
	}
	if o.DXF, err = export.ParseDXFKind(v.DXF); err != nil {
		return o, err
	}
	if o.Paper, err = export.ParsePaper(v.Paper); err != nil {
		return o, err
	}
	o.CutNotches, o.CutButtonholes = v.Notches, v.Holes
	if v.AsLaid {
		o.Arrangement = export.AsOnBench
	}
	return o, nil
}
