package trace

import (
	"context"
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
	"hemlet/geom/trace/follow"
	"hemlet/geom/trace/scan"
)

// Errors of Trace.
var (
	errNoSheet = errors.New("there is no picture to follow")
	errNoScale = errors.New("the picture is not true to size yet")
	errOutside = errors.New("the part that is to be read does not lie on the picture")
)

// Shares of the work, for the progress that is told.
const (
	shareEven   = 0.35
	shareClean  = 0.05
	shareFollow = 0.30
	shareFit    = 1 - shareEven - shareClean - shareFollow
)

// Progress is told how much of the work is done, from 0 to 1, and what is being done. It
// is called from one goroutine at a time.
type Progress func(share float64, says string)

// Trace follows the ink of sheets and returns the outlines in mm. A single sheet is
// followed as it is, and the line brought through its Map; several sheets are laid
// together first, each by its Map, so that lines run on from one to the next.
//
// The rasters are not changed. It fails if there is no sheet, if a Map does not lead to
// mm, or when ctx ends. That nothing was found is no error: the result says so.
func Trace(ctx context.Context, sheets []Sheet, o Options, progress Progress) (Result, error) {
	if len(sheets) == 0 {
		return Result{}, errNoSheet
	}
	if progress == nil {
		progress = func(float64, string) {}
	}
	o = o.withDefaults()
	work, err := prepare(ctx, sheets, o, progress)
	if err != nil {
		return Result{}, err
	}
	progress(shareEven+shareClean, "following the ink")
	found, err := work.follow(ctx, o)
	if err != nil {
		return Result{}, err
	}
	progress(1-shareFit, "fitting the lines")
	res, err := work.fit(ctx, found, o, progress)
	if err != nil {
		return Result{}, err
	}
	for i := range res.Outlines {
		res.Outlines[i].Sheet = sheetOf(sheets, res.Outlines[i].Path)
	}
	if len(res.Outlines) == 0 {
		res.Says = append(res.Says, nothing(o))
	}
	progress(1, "done")
	return res, nil
}

// nothing says that no outline was found, and what may help.
func nothing(o Options) string {
	if o.Manner == Filled {
		return "No closed shape was found that is large enough. If the pattern is drawn with lines, follow the strokes; if it is light on dark, say so."
	}
	return "No line was found that closes. Lines with gaps close when the gap allowed is wider; filled shapes have edges to follow, no strokes."
}

// job is an even, clean picture with its way to mm.
type job struct {
	field *scan.Field
	m     geom.Homography // pixels to mm
	s     float64         // pixels per mm, in the middle
	// region is the part that counts, in pixels of the field; nil is all of it.
	region []geom.Point
}

// prepare levels and cleans every sheet, and lays several together.
func prepare(ctx context.Context, sheets []Sheet, o Options, progress Progress) (job, error) {
	var placed []scan.Placed
	finest := 0.0
	for i, sh := range sheets {
		j, err := prepareSheet(ctx, sh, o, func(share float64, says string) {
			if len(sheets) > 1 {
				says = fmt.Sprintf("sheet %d of %d: %s", i+1, len(sheets), says)
			}
			progress((float64(i)+share)/float64(len(sheets))*(shareEven+shareClean), says)
		})
		if err != nil {
			if len(sheets) > 1 && ctx.Err() == nil {
				err = fmt.Errorf("sheet %d: %w", i+1, err)
			}
			return job{}, err
		}
		if len(sheets) == 1 {
			return j, nil
		}
		placed = append(placed, scan.Placed{Field: j.field, Map: j.m, Region: j.region})
		finest = math.Max(finest, j.s)
	}
	f, m, err := scan.Mosaic(ctx, placed, 1/finest)
	if err != nil {
		return job{}, fmt.Errorf("joining the sheets: %w", err)
	}
	return job{field: f, m: m, s: scaleOf(m, f.W, f.H)}, nil
}

// scaleOf returns the pixels per mm in the middle of a picture.
func scaleOf(m geom.Homography, w, h int) float64 {
	return 1 / m.ScaleAt(geom.Pt(float64(w)/2, float64(h)/2))
}

func prepareSheet(ctx context.Context, sh Sheet, o Options, progress Progress) (job, error) {
	if sh.Raster == nil || sh.Raster.W <= 0 || sh.Raster.H <= 0 {
		return job{}, errNoSheet
	}
	s := scaleOf(sh.Map, sh.Raster.W, sh.Raster.H)
	if !sh.Map.Finite() || !(s > 0) || math.IsInf(s, 0) {
		return job{}, errNoScale
	}
	sh, ok := sh.within()
	if !ok {
		return job{}, errOutside
	}
	progress(0, "evening the light")
	f, err := scan.Even(ctx, sh.Raster, scan.Light{S: s, Dark: o.Dark, Local: o.Local})
	if err != nil {
		return job{}, err
	}
	clean := scan.Clean{S: s, LeastMM2: o.Speck, Region: sh.Region}
	if clean.LeastMM2 > 0 || clean.Region != nil {
		progress(shareEven/(shareEven+shareClean), "cleaning")
		if f, err = scan.Take(ctx, f, clean); err != nil {
			return job{}, err
		}
	}
	return job{f, sh.Map, s, sh.Region}, nil
}

func (j job) follow(ctx context.Context, o Options) (follow.Found, error) {
	fo := follow.Options{S: j.s, Least: o.Least, Gap: o.Gap, KeepSmall: o.KeepSmall}
	if o.Manner == Drawn {
		return follow.Strokes(ctx, j.field, fo)
	}
	return follow.Edges(ctx, j.field, fo)
}

// sheetOf returns the first sheet that shows the middle of the path, 0 if none does.
func sheetOf(sheets []Sheet, p geom.Path) int {
	mid := p.Bounds().Center()
	for i, sh := range sheets {
		back, ok := sh.Map.Invert()
		if !ok {
			continue
		}
		at := back.Apply(mid)
		if at.X >= 0 && at.Y >= 0 && at.X <= float64(sh.Raster.W) && at.Y <= float64(sh.Raster.H) {
			return i
		}
	}
	return 0
}
