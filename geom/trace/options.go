package trace

import (
	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// Manner says what of the ink is the line.
type Manner int

// The manners of following.
const (
	Filled Manner = iota // the edges of filled or cut-out shapes
	Drawn                // the middle of pen strokes
)

func (m Manner) String() string {
	switch m {
	case Filled:
		return "edges"
	case Drawn:
		return "strokes"
	}
	return "unknown"
}

// Sheet is one picture that is to be followed.
type Sheet struct {
	Raster *scan.Raster
	Map    geom.Homography // pixels to mm, y up
	Region []geom.Point    // polygon in pixels that is read; nil for all
}

// Defaults of Options.
const (
	DefaultTol   = 0.2 // mm
	DefaultGap   = 2.0 // mm
	DefaultLeast = 25. // mm²: 5 mm square, smaller than the smallest piece at 1:12
)

// Options say how sheets are followed. The zero value follows the edges of dark shapes
// with all defaults.
type Options struct {
	Manner    Manner
	Dark      bool    // shapes lighter than their ground
	Local     bool    // light so uneven that the threshold is local: shadows
	Speck     float64 // mm²: ink smaller than this is taken out before following; 0 for none
	Least     float64 // mm²: what encloses less is no piece; 0 for DefaultLeast
	Gap       float64 // mm: widest gap of a line that is bridged; 0 for DefaultGap, below 0 for none
	Tol       float64 // mm: of the fit; 0 for DefaultTol
	KeepSmall bool    // keep marks that look like letters
}

func (o Options) withDefaults() Options {
	if o.Least <= 0 {
		o.Least = DefaultLeast
	}
	if o.Gap == 0 {
		o.Gap = DefaultGap
	}
	if o.Gap < 0 {
		o.Gap = 0
	}
	if o.Tol <= 0 {
		o.Tol = DefaultTol
	}
	return o
}

// Inner is a line inside an outline: a mark, or the edge of a hole.
type Inner struct {
	Path   geom.Path // closed or open, mm
	Corner []bool    // per segment, whether a corner lies at its start
	Off    Deviation
}

// Outline is a traced piece.
type Outline struct {
	Path   geom.Path // closed, counter-clockwise, mm; crosses itself nowhere
	Corner []bool    // per segment, whether a corner lies at its start
	Inner  []Inner
	Holes  []Inner
	Ink    [][]geom.Point // the outline as followed, in mm; where it closes the first point is repeated
	Pen    float64        // mm: width of the stroke, 0 for an edge
	Sheet  int            // index of the sheet on which its middle lies
	Off    Deviation
}

// Stray is ink that became no outline.
type Stray struct {
	Ink []geom.Point // mm
	At  geom.Point   // mm: where it breaks off
	Gap float64      // mm: how far from there the nearest other ink is; 0 where unknown
}

// Result is what Trace found.
type Result struct {
	Outlines  []Outline
	Specks    int      // of ink that were too small
	Lettering int      // marks that were taken for letters
	Outside   int      // lines that hang on an outline from outside, and were left out
	Crossed   int      // places at which outlines cross, as those of several sizes do
	Open      []Stray  // lines that did not close and lie in no outline
	Cut       []Stray  // shapes that run out of what was read
	Says      []string // in plain words, what could not be done as asked
}
