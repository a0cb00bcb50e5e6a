package intake

import (
	"fmt"
	"math"

	"hemlet/geom"
)

// Role is what a file itself says that one of its lines is.
type Role int

const (
	Unmarked     Role = iota // the file does not say
	CutRole                  // a piece's cut line
	StitchRole               // a piece's stitching line
	InsideRole               // a line inside a piece
	AnnotateRole             // grain, notch, fold, scale square: not an outline
)

// Shape is one open or closed line of a drawing.
type Shape struct {
	// Path is in mm, y up, as drawn: direction, nodes and order are the file's.
	// A closed shape's path ends exactly where it starts.
	Path   geom.Path
	Closed bool
	// Name is what the file calls the shape or the group it stands in, "" if it
	// does neither.
	Name string
	// Layer is the layer of a DXF entity or the class of an SVG element.
	Layer string
	Role  Role
	// Piece names the group or block that the shape belongs to where the file
	// groups its lines by piece, and PieceNo tells such groups apart.
	Piece   string
	PieceNo int
	Where   Source

	marks *cornerMarks // the corners that the file marks, or nil
}

// Text is a line of lettering in a drawing.
type Text struct {
	At   geom.Point
	Says string
	// Height is that of the letters in mm, 0 where the file does not say.
	Height  float64
	Layer   string
	PieceNo int
	Where   Source
}

// Scale is how a file's numbers became millimetres.
type Scale struct {
	// MM is how many mm one unit of the file's own coordinates is.
	MM float64
	// Assumed says that the file does not state its size, so that a person must
	// measure the result; a warning says so as well.
	Assumed bool
}

// Drawing is a file as read, before anything in it is taken for a piece.
type Drawing struct {
	Name     string
	Format   Format
	Scale    Scale
	Shapes   []Shape
	Texts    []Text
	Warnings []Warning

	everyVertex bool
}

// Format is a kind of file that can be read.
type Format int

const (
	SVG Format = iota
	DXF
)

func (f Format) String() string {
	if f == DXF {
		return "DXF"
	}
	return "SVG"
}

// sameUnit is the share by which two units may differ and still be the same one:
// sizes of pages are written with few digits.
const sameUnit = 1e-3

// tellOtherUnit warns where a person gives another unit than the file states.
func (d *Drawing) tellOtherUnit(at Source, stated, given float64) {
	if stated == 0 || math.Abs(stated-given) <= sameUnit*stated {
		return
	}
	d.warn(at, fmt.Sprintf("the file states that one unit is %.4g mm; as told, it is taken as %.4g mm", stated, given))
}

func (d *Drawing) warn(at Source, says string) {
	d.Warnings = append(d.Warnings, Warning{at, says})
}
