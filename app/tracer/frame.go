package tracer

import (
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// frame is a rectangle of known size in a picture, as it is being marked.
type frame struct {
	corners [4]*spot
	// fit are the edges that were fitted near the corners, nil where that was not done or
	// could not be; fault says why not.
	fit   *scan.Frame
	fault string
	// size is the index of the sheet's size, wide and high the sides in mm, from the
	// corner that lies at the top left to the right and downward.
	size       int
	wide, high float64
	// applied is what the picture was last made true by.
	applied *draft.KnownFrame
	// sought says that the sheet was looked for.
	sought bool
}

// sheetSize is a usual size of paper, upright, in mm.
type sheetSize struct {
	name       string
	wide, high float64
}

// sheetSizes are the sizes that are offered: ISO 216 and, of ANSI/ASME Y14.1, A; the last
// stands for any other.
var sheetSizes = []sheetSize{
	{"A4", 210, 297}, {"A3", 297, 420}, {"A2", 420, 594}, {"A5", 148, 210}, {"US Letter", 215.9, 279.4}, {"another size", 0, 0},
}

// insetCorners are where the corners lie of which nothing is known, as a share of the
// picture's sides.
const insetCorners = 0.12

// newFrame returns a frame inside the picture, in the order of upright.
func newFrame(pic *draft.Picture) *frame {
	f := &frame{wide: sheetSizes[0].wide, high: sheetSizes[0].high}
	x, y := insetCorners*float64(pic.Wide), insetCorners*float64(pic.High)
	w, h := float64(pic.Wide), float64(pic.High)
	f.put(pic, [4]geom.Point{geom.Pt(x, y), geom.Pt(w-x, y), geom.Pt(w-x, h-y), geom.Pt(x, h-y)})
	f.fit = nil
	return f
}

// put places the corners, from the one that lies at the top left on the bench clockwise.
func (f *frame) put(pic *draft.Picture, at [4]geom.Point) {
	first := topLeft(pic, at)
	for i := range at {
		px := at[(first+i)%4]
		if f.corners[i] == nil {
			f.corners[i] = &spot{pic: pic.ID}
		}
		f.corners[i].at = px
	}
}

// topLeft returns which of four corners lies nearest to the upper left on the bench.
func topLeft(pic *draft.Picture, at [4]geom.Point) int {
	best, most := 0, 0.0
	for i, px := range at {
		p := pic.Place.Apply(px)
		if up := p.Y - p.X; i == 0 || up > most {
			best, most = i, up
		}
	}
	return best
}

// isApplied reports whether the picture is true by the frame as it lies.
func (f *frame) isApplied(pic *draft.Picture) bool {
	return f.applied != nil && pic.True != nil && pic.True.By == draft.ByFrame &&
		*f.applied == draft.KnownFrame{Corners: f.pixels(), Width: f.wide, Height: f.high}
}

// pixels returns the corners in pixels.
func (f *frame) pixels() (at [4]geom.Point) {
	for i, c := range f.corners {
		at[i] = c.at
	}
	return at
}

// take takes in edges that were fitted near the corners.
func (f *frame) take(pic *draft.Picture, fit scan.Frame) {
	first := topLeft(pic, fit.Corners)
	turned := fit
	for i := range 4 {
		turned.Corners[i] = fit.Corners[(first+i)%4]
		turned.Edges[i] = fit.Edges[(first+i)%4]
	}
	f.put(pic, turned.Corners)
	f.fit, f.fault = &turned, ""
	if s := sheetSizes[f.size]; s.wide > 0 {
		f.wide, f.high = s.wide, s.high
		if turned.Swapped(f.wide, f.high) {
			f.wide, f.high = f.high, f.wide
		}
	}
}

// off returns by how many mm the fitted edges are off those of the rectangle, or false
// where that cannot be told.
func (f *frame) off() (float64, bool) {
	if f.fit == nil {
		return 0, false
	}
	_, rms, err := f.fit.True(f.wide, f.high, geom.Point{})
	return rms, err == nil
}
