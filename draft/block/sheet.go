package block

import (
	"hemlet/draft/formula"
	"hemlet/geom"
)

// Sheet is a block drafted for one body: what was worked out on the way, and the
// pieces. All coordinates lie on one sheet, in mm, y up.
type Sheet struct {
	Measures []Used
	Choices  []Chosen
	Steps    []Step
	Pieces   []Piece
	Seams    []Seam
	// Told are the checks of the block that do not hold for this body, and what of
	// the block could not be drawn as it says or as it was chosen.
	Told []Told
}

// Used is a measure as the draft used it.
type Used struct {
	Name string
	// Value is in mm.
	Value     float64
	Estimated bool
	// Summed says that it is estimated only as the sum of a front and a back arc that
	// were taken.
	Summed bool
	// By is the formula of the estimate, empty where the measure was given.
	By string
	// Idle says that it was not taken and that nothing was made of the estimate: formulas
	// only ask whether it was given.
	Idle bool
}

// Chosen is a style choice as the draft used it.
type Chosen struct {
	Name string
	// Value is a formula.Length or a formula.Number.
	Value formula.Value
	// Default says that nobody set it.
	Default bool
	// Least and Most are its bounds for this body, nil where it has none.
	Least, Most formula.Value
}

// Step is one step of the construction.
type Step struct {
	Name, Formula, Says string
	Value               formula.Value
}

// Told is a check of the block that does not hold, or a choice, notch, cutout or seam
// that could not be followed.
type Told struct {
	// Name is that of the check, choice or seam, or the role of a piece and the name of
	// its notch or cutout.
	Name string
	// Level is one of "problem", "look again", "note".
	Level, Says string
	// Measures are those to look at.
	Measures []string
}

// Piece is one piece of a drafted block: a closed outline, counter-clockwise.
type Piece struct {
	// Role is the block's name for it ("front"), Title what people read.
	Role, Title, Note string
	// Layer is one of "shell", "lining", "interlining"; Cut one of "single",
	// "pairs", "on fold".
	Layer, Cut string
	Count      int
	Edges      []Edge
	Darts      []Dart
	Notches    []Notch
	Lines      []Line
	Spans      []Span
	// Grain are the ends of the grain line, nil where the block draws none.
	Grain *[2]geom.Point
	// LabelAt is where the label is centred, nil where it finds its own place.
	LabelAt *geom.Point
}

// Edge is the stretch of an outline from one corner to the next.
type Edge struct {
	Name string
	// Kind is one of "seam", "hem", "fold", "casing", "raw"; Corner, the rule
	// where the edge starts, one of "mitre", "square", "turned back".
	Kind, Corner string
	// Start, End and TrimTo are widths of the allowance in mm.
	Start, End, TrimTo float64
	// Nodes begins with the corner at which the edge starts; the edge ends at the
	// first node of the next one.
	Nodes []Node
}

// Node is a point of an outline or a line; handles are vectors from it, in mm.
type Node struct {
	// Name is unique in the piece and the same for every body.
	Name    string
	At      geom.Point
	In, Out geom.Point
	Smooth  bool
}

// Dart lies on an edge: From and To are the names of two nodes that follow one
// another in it.
type Dart struct {
	Name, Edge, From, To string
	Apex                 geom.Point
	// Press is one of "to start", "to end", "open".
	Press string
}

// Notch is a mark on an edge.
type Notch struct {
	Name, Edge string
	// At is in mm along the edge without the mouths of its darts, from its end
	// where FromEnd is set.
	At      float64
	FromEnd bool
	Double  bool
}

// Line is a line inside a piece.
type Line struct {
	Name string
	// Kind is one of "placement", "gathering", "pleat", "slit", "cutout", "drill",
	// "dart".
	Kind   string
	Nodes  []Node
	Closed bool
}

// Span says which stretch of the piece stands for which measure.
type Span struct {
	Name, Measure string
	// Share is the part of the measure that the stretch stands for: a quarter of a
	// girth is 0.25. Ease, in mm, is what is meant to be added to that part.
	Share, Ease float64
	// Edges or Lines, by name, are measured end to end; where there are none, the
	// span runs straight between the nodes From and To, of the outline or of lines.
	Edges, Lines []string
	From, To     string
	// Way is how the way from From to To is measured, one of "straight", "along grain",
	// "across grain": as the distance, or as its part along or across the grain
	// line. It is empty where there are edges or lines.
	Way string
}

// Use is one edge of one copy of a piece in a seam.
type Use struct {
	Piece, Edge string
	// Number counts the copies from 1; Mirrored is the left copy of a pair, Far the
	// mirrored half of a piece cut on the fold.
	Number                  int
	Mirrored, Far, Reversed bool
}

// Seam is two runs that are sewn together, A's start to B's start.
type Seam struct {
	Name  string
	A, B  []Use
	Ratio float64
	// Fuller is "a" or "b", Fullness one of "plain", "ease", "gathers", "pleats".
	Fuller, Fullness string
	// From and To bound the stretch in which the fullness lies, as shares.
	From, To  float64
	BothSides bool
	// Opens says that it is closed with buttons, hooks or ties and not sewn.
	Opens bool
}
