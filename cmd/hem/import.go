package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
)

type importVerb struct {
	In        []string        `arg:"" name:"in" help:"SVG or DXF drawings; each closed line becomes a piece." type:"path"`
	Out       string          `short:"o" required:"" placeholder:"OUT.hemlet" help:"The project to write." type:"path"`
	Line      draft.DrawnLine `required:"" placeholder:"cut/stitch" help:"What the drawn lines are: cut (the allowance is taken off inside) or stitch (it is added outside)."`
	Allowance length          `default:"6mm" help:"The allowance of every edge."`
	Unit      string          `placeholder:"mm/cm/in/pt/px" help:"What one unit of the drawing is; needed only where the drawing does not say, and asked for then."`

	remarks []string
}

// unitSizes are the units that a drawing may be in, in mm; pt and px as CSS has
// them: 72 and 96 to the inch.
var unitSizes = map[string]float64{
	"mm": 1, "cm": 10, "in": draft.MMPerInch,
	"pt": draft.MMPerInch / 72, "px": draft.MMPerInch / 96,
}

// Run reads the drawings and writes a project with their pieces.
func (v *importVerb) Run(ctx context.Context, t *terminal) error {
	if err := projectPath(v.Out); err != nil {
		return err
	}
	var opts intake.Options
	if v.Unit != "" {
		mm, ok := unitSizes[v.Unit]
		if !ok {
			return fmt.Errorf("unit %q is not known; it is one of: mm, cm, in, pt, px", v.Unit)
		}
		opts.UnitMM = mm
	}
	var outlines []draft.Outline
	for _, path := range v.In {
		found, err := v.read(ctx, path, opts)
		if err != nil {
			return err
		}
		outlines = append(outlines, found...)
	}
	args := draft.ImportOutlinesArgs{Outlines: outlines, Line: v.Line, Allowance: float64(v.Allowance)}
	out, err := draft.ImportOutlines.Do(draft.New(stem(v.Out)), args)
	if err != nil {
		return err
	}
	if _, err := store.Save(v.Out, out.Project, nil); err != nil {
		return err
	}
	t.remarks(append(v.remarks, out.Says...))
	t.printf("%s: %s, allowance %.4g mm\n", v.Out, count(len(outlines), "piece"), float64(v.Allowance))
	return nil
}

// read returns the outlines of a drawing, and keeps what there is to remark: if the
// import fails, the reason is to stand alone.
func (v *importVerb) read(ctx context.Context, path string, opts intake.Options) ([]draft.Outline, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s: it cannot be read: %s", path, store.Plainly(err))
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s: this is a folder; name the drawings in it", path)
	}
	drawing, err := intake.Read(ctx, path, f, opts)
	var silent *intake.UnitError
	if errors.As(err, &silent) {
		return nil, fmt.Errorf("%w: run this again with --unit mm, --unit cm or --unit in", err)
	}
	if err != nil {
		return nil, err
	}
	outlines, warnings, err := drawing.Outlines(v.Line)
	if err != nil {
		return nil, err
	}
	for _, w := range append(drawing.Warnings, warnings...) {
		v.remarks = append(v.remarks, fmt.Sprintf("%s: %s", path, w))
	}
	return outlines, nil
}

// projectEnding is the ending of the files of projects.
const projectEnding = ".hemlet"

// projectPath refuses a target that the workbench would not open again.
func projectPath(path string) error {
	if filepath.Ext(path) != projectEnding {
		return fmt.Errorf("%s: a project is written to a file that ends in .hemlet", path)
	}
	return nil
}

// stem returns the file's name without folder and ending.
func stem(path string) string {
	return strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
