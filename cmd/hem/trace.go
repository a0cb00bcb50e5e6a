package main

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"strings"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
)

type traceVerb struct {
	In   []string        `arg:"" name:"in" help:"Scans or photographs (PNG, JPEG, TIFF, WebP, BMP), or PDFs that hold scans; each is followed by itself. Or one project whose pictures were made true already: joined ones are followed together." type:"path"`
	Out  string          `short:"o" required:"" placeholder:"OUT.hemlet" help:"The project to write." type:"path"`
	Line draft.DrawnLine `required:"" placeholder:"cut/stitch" help:"What the drawn lines are: cut (the allowance lies inside them) or stitch (it is added outside)."`

	DPI   string        `name:"dpi" group:"How large the pictures truly are; one of these:" placeholder:"N/file" help:"How many pixels cover an inch; file takes the word of the file for it."`
	Scale []knownLength `group:"How large the pictures truly are; one of these:" sep:"none" placeholder:"X,Y:X,Y=LENGTH" help:"The true distance of two places, which are given in pixels from the left and from the top. May be given several times."`
	Frame *knownFrame   `group:"How large the pictures truly are; one of these:" placeholder:"X,Y:X,Y:X,Y:X,Y=WxH" help:"The corners of a rectangle of known size, such as a sheet of paper, from its top left to the right and round: takes the perspective of a photograph away."`
	Grid  length        `group:"How large the pictures truly are; one of these:" placeholder:"LENGTH" help:"The side of the smallest square of printed squared paper, which is found, measured and taken out."`

	Page      []int     `placeholder:"N" help:"Of PDFs, and of TIFFs that have several, only this page. May be given several times."`
	Follow    string    `enum:"edges,strokes,look" default:"look" placeholder:"edges/strokes" help:"What of the ink is the line: the edges of filled or cut-out shapes, or the middle of pen strokes. If not given: edges where a third of the ink lies deeper than a pen draws."`
	Allowance length    `default:"6mm" help:"The allowance inside a cut line, or to add outside a stitching line; 0mm for none."`
	Tolerance length    `default:"0.2mm" help:"How far a fitted line may lie from the ink."`
	Gap       length    `default:"2mm" help:"The widest gap of a drawn line that is bridged."`
	Least     length    `default:"5mm" help:"What encloses less than a square of this side is no piece."`
	Speck     length    `default:"0mm" help:"Ink that is smaller than this across is dirt."`
	Without   string    `placeholder:"#RRGGBB" help:"A printed colour that is taken for paper."`
	Squares   bool      `help:"The paper is printed with squares: their lines are found and taken out. --grid does so anyway."`
	Dark      bool      `help:"The shapes are light on a dark ground."`
	Shadows   bool      `help:"The light is so uneven that ink is told from paper place by place."`
	Name      string    `help:"What the pieces are called; if not given, as the files are."`
	Size      string    `help:"The size that the pattern states, in its own words."`
	MadeFor   []madeFor `sep:"none" placeholder:"MEASURE=LENGTH" help:"A measure of the body for which it was made, such as bust_girth=91cm. May be given several times."`
	NoPicture bool      `help:"Keep the pictures neither beside the project nor under the pieces."`
	JSON      bool      `name:"json" help:"Print the facts as JSON; lengths are in mm."`
}

// traceMemory is what the memory of a tracing is held below as far as that can be done, in
// bytes: of what is not needed any more less is kept lying about near it.
const traceMemory = 1 << 30

// traceBeside is how far apart pictures are laid on the bench, in mm.
const traceBeside = 20

// Run follows the pictures one by one, and writes a project with what was found in them.
func (v *traceVerb) Run(ctx context.Context, t *terminal) (err error) {
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(traceMemory))
	if err := projectPath(v.Out); err != nil {
		return err
	}
	settings, err := v.settings()
	if err != nil {
		return err
	}
	if err := v.oneWay(); err != nil {
		return err
	}
	w := tracer{verb: v, settings: settings, project: draft.New(stem(v.Out)), facts: traceJSON{[]tracedPictureJSON{}, []tracedPieceJSON{}, []findingJSON{}}}
	defer func() {
		if err != nil && !errors.Is(err, errProblem) {
			w.undo()
		}
	}()
	if err := w.files(ctx); err != nil {
		return err
	}
	if err := w.save(); err != nil {
		return err
	}
	w.kept = nil // they belong to the project now
	t.remarks(w.remarks)
	if v.JSON {
		if err := t.json(w.facts); err != nil {
			return err
		}
	} else {
		w.print(t)
	}
	return verdict(w.findings)
}

// settings returns how pictures are cleaned and followed.
func (v *traceVerb) settings() (tracing.Settings, error) {
	s := tracing.Settings{Options: trace.Options{
		Dark: v.Dark, Local: v.Shadows, Tol: float64(v.Tolerance), Gap: float64(v.Gap),
		Least: float64(v.Least * v.Least), Speck: float64(v.Speck * v.Speck),
	}}
	if v.Gap == 0 {
		s.Gap = -1 // none is bridged
	}
	for _, given := range []struct {
		name string
		mm   length
		zero bool
	}{{"tolerance", v.Tolerance, false}, {"least", v.Least, false}, {"gap", v.Gap, true}, {"speck", v.Speck, true}, {"allowance", v.Allowance, true}} {
		if !(given.mm > 0 || given.zero && given.mm == 0) || given.mm > draft.MaxCoordinate {
			return s, fmt.Errorf("--%s cannot be %g mm", given.name, float64(given.mm))
		}
	}
	if v.Without != "" {
		tint, err := scan.ParseTint(v.Without)
		if err != nil {
			return s, fmt.Errorf("--without: %w", err)
		}
		s.Tint = &tint
	}
	return s, nil
}

// tracer carries what one run of the verb knows from picture to picture.
type tracer struct {
	verb     *traceVerb
	settings tracing.Settings
	project  *draft.Project
	// right is how far to the right the pictures reach that lie on the bench, in mm.
	right    float64
	outlines []draft.TracedOutline
	kept     []func()
	// from is the project that was read, stamp how its file was then.
	from     string
	stamp    *store.Stamp
	remarks  []string
	findings []draft.Finding
	facts    traceJSON
}

// undo takes away the pictures that were put beside the project.
func (w *tracer) undo() {
	for _, undo := range w.kept {
		undo()
	}
}

// picture follows one picture.
func (w *tracer) picture(ctx context.Context, in tracedPicture) error {
	img, err := in.decode(ctx)
	if err != nil {
		return err
	}
	grey, err := scan.Grey(ctx, img, w.settings.Tint)
	if err != nil {
		return fmt.Errorf("%s: %w", in.label, err)
	}
	img = nil // large, and of no use any more
	pic, grid, err := w.lay(ctx, in, grey)
	if err == nil && grid == nil && w.verb.Squares {
		grid, err = squaresIn(ctx, grey)
	}
	if err == nil && grid != nil {
		grey, err = scan.Ungrid(ctx, grey, *grid)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", in.label, err)
	}
	settings := w.settings
	if settings.Manner, err = w.manner(ctx, grey, pic); err != nil {
		return fmt.Errorf("%s: %w", in.label, err)
	}
	settings.Tint = nil // it is taken out already
	source := tracing.Source{Picture: pic, Load: greyImage(grey)}
	found, err := tracing.Run(ctx, []tracing.Source{source}, settings, nil)
	if err != nil {
		return fmt.Errorf("%s: %w", in.label, err)
	}
	return w.take(in, pic, found)
}

// squaresIn returns the squared paper of a picture.
func squaresIn(ctx context.Context, grey *scan.Raster) (*scan.Grid, error) {
	grid, err := scan.FindGrid(ctx, grey)
	if err != nil {
		return nil, fmt.Errorf("its squares are to be taken out: %w", err)
	}
	return &grid, nil
}

// lay lays the picture beside the former ones and makes it true to size. It returns the
// squared paper by which that was done, nil where it was done otherwise.
func (w *tracer) lay(ctx context.Context, in tracedPicture, grey *scan.Raster) (*draft.Picture, *scan.Grid, error) {
	out, err := draft.AddPicture.Do(w.project, draft.AddPictureArgs{File: in.file, At: &draft.Vector{}, Opacity: usualOpacity})
	if err != nil {
		return nil, nil, err
	}
	ref := draft.PictureRef(out.Made)
	args, grid, err := w.verb.truing(ctx, in, grey)
	if err != nil {
		return nil, nil, err
	}
	args.Picture = ref
	if out, err = draft.TruePicture.Do(out.Project, args); err != nil {
		return nil, nil, err
	}
	corners := out.Project.Picture(draft.ID(ref)).Corners()
	box := geom.RectOf(corners[:]...)
	by := geom.Pt(w.right-box.Min.X, -box.Max.Y)
	if w.right > 0 {
		by.X += traceBeside
	}
	if out, err = draft.PlacePicture.Do(out.Project, draft.PlacePictureArgs{Pictures: []draft.PictureRef{ref}, By: draft.Vector(by)}); err != nil {
		return nil, nil, err
	}
	w.right = box.Max.X + by.X
	w.project = out.Project
	return w.project.Picture(draft.ID(ref)), grid, nil
}

// usualOpacity is how strongly a picture is seen under what was traced in it.
const usualOpacity = 0.6

// take takes what was found in a picture.
func (w *tracer) take(in tracedPicture, pic *draft.Picture, found *tracing.Traced) error {
	takes := found.All()
	for i := range takes {
		if takes[i].Name = w.verb.Name; takes[i].Name == "" {
			takes[i].Name = in.stem
		}
	}
	w.outlines = append(w.outlines, found.Args(tracing.MadeFor{}, takes).Outlines...)
	w.note(in, pic, found)
	if w.verb.NoPicture || w.from != "" {
		return nil
	}
	undo, err := keepPictures(w.verb.Out, []pictureIn{{in.file, in.content}})
	if err != nil {
		return err
	}
	w.kept = append(w.kept, undo)
	return nil
}

// save makes the pieces and writes the project.
func (w *tracer) save() error {
	v := w.verb
	if len(w.outlines) == 0 {
		return w.nothing()
	}
	name := v.Name
	if name == "" {
		name = stem(v.Out)
	}
	args := draft.ImportTracedArgs{Outlines: w.outlines, Line: v.Line, Allowance: float64(v.Allowance), Name: name, Size: v.Size}
	for _, m := range v.MadeFor {
		args.Measures = append(args.Measures, draft.OriginMeasure(m))
	}
	out, err := draft.ImportTraced.Do(w.project, args)
	if err != nil {
		return err
	}
	w.remarks = append(w.remarks, out.Says...)
	p := out.Project
	w.name(p.Pieces[len(w.project.Pieces):])
	if v.NoPicture {
		var refs []draft.PictureRef
		for _, pic := range p.Pictures {
			refs = append(refs, draft.PictureRef(pic.ID))
		}
		if out, err = draft.DeletePicture.Do(p, draft.DeletePictureArgs{Pictures: refs}); err != nil {
			return err
		}
		p = out.Project
	}
	seen := w.stamp
	if v.Out != w.from {
		seen = nil
	}
	if _, err = store.Save(v.Out, p, seen); err != nil {
		return err
	}
	if w.from != "" && v.Out != w.from {
		if err := store.CopyPictures(p, w.from, v.Out); err != nil {
			w.remarks = append(w.remarks, strings.Split(err.Error(), "\n")...)
		}
	}
	return nil
}
