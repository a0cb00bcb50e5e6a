package tool

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// Marks is what a tool draws over the bench, in mm on the bench.
type Marks struct {
	// Box is a rubber band, nil where there is none.
	Box *geom.Rect
	// Tape is a measured line, empty where there is none.
	Tape []geom.Point
	// Lines and Dots are what is being drawn, and what helps with it.
	Lines []MarkLine
	Dots  []MarkDot
	// Glow is what to draw attention to, such as the edges gathered so far.
	Glow []desk.Ref
	// Plate is a short text at PlateAt, empty where there is none.
	Plate   string
	PlateAt geom.Point
	// Plates are more of them.
	Plates []Plate
	// Caught is marked where it is, with its word.
	Caught Catch
	// Walk is a seam that is walked, nil where there is none.
	Walk *WalkMarks
	// Joint is the end of a seam with its pieces laid together, nil where there is none.
	Joint *JointMarks
}

// Any reports whether there is anything to draw.
func (m Marks) Any() bool {
	return m.Box != nil || m.Walk != nil || m.Joint != nil || len(m.Tape)+len(m.Lines)+len(m.Dots)+len(m.Glow)+len(m.Plates) > 0 || m.Plate != "" || m.Caught.Caught()
}

// Ink says how a line is drawn.
type Ink int

const (
	InkDrawn Ink = iota // what is being made: solid chalk
	InkHelp             // what explains: thin and dashed
	InkWrong            // what cannot be: the colour of problems
)

// MarkLine is a line over the bench.
type MarkLine struct {
	Path geom.Path
	Ink  Ink
	// Tint fills a closed line lightly.
	Tint bool
}

// DotKind is the form of a dot.
type DotKind int

const (
	CornerDot DotKind = iota
	SmoothDot
	HandleDot
	CrossDot
)

// MarkDot is a point over the bench; a large one is chosen or under the pointer.
type MarkDot struct {
	At    geom.Point
	Kind  DotKind
	Large bool
}

// Plate is a short text beside a place. A quiet one has no ground of its own.
type Plate struct {
	Text  string
	At    geom.Point
	Quiet bool
}
