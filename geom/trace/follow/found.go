// Package follow turns an evenly lit picture into lines: the edges of filled shapes, the
// middle of pen strokes, or the ink between two clicks.
//
// All places are in pixels of the picture, y down: (0, 0) is the top left corner of the top
// left pixel.
package follow

import "hemlet/geom"

// Line is a polyline along ink.
type Line struct {
	Pts    []geom.Point
	Closed bool    // the last point joins the first
	Width  float64 // of the pen in px; 0 for the edge of a shape
	Blur   float64 // px: the sigma of the Gaussian that makes the edge as soft as it is
	Noise  float64 // px: the standard deviation of a point across the line
}

// Shape is an outline with what lies in it.
type Shape struct {
	// Outline runs counter-clockwise once y is turned up: on screen too.
	Outline Line
	Inner   []Line // lines drawn inside, closed or open
	Holes   []Line // edges of paper inside a filled shape, running clockwise
}

// Loose is a line that did not close.
type Loose struct {
	Line Line
	Gap  float64    // px: how far its end is from the nearest other ink
	At   geom.Point // that end
}

// Found is what was found in a picture.
type Found struct {
	Shapes    []Shape
	Specks    int     // of ink that were too small
	Lettering int     // small marks that were taken for letters
	Solid     int     // stretches of ink too wide for a pen, where lines were looked for
	Outside   int     // lines that hang on an outline from outside
	Crossed   int     // places at which outlines cross each other, as those of several sizes do
	Open      []Loose // lines that did not close and lie in no outline
	Cut       []Line  // shapes that touch the border of what was read: they are not whole
}

// Options say what to look for.
type Options struct {
	S         float64 // px per mm
	Least     float64 // mm²: what encloses less is a speck
	Gap       float64 // mm: the widest gap of a line that is bridged
	KeepSmall bool    // keep marks that look like letters
	Level     float64 // where between ink (0) and paper (1) the edge lies; 0 for where the picture tells, or else ½
}
