package warp

import (
	"hemlet/geom"
	"hemlet/geom/adjust"
)

// Shape is a piece of a pattern.
type Shape struct {
	// Nodes is the closed outline: two nodes at least, with coordinates up to
	// adjust.MostCoordinate. Places and handles count, and Smooth: at a smooth node the
	// curve on its other side says where a handle goes, and at a corner, in a fit, the line
	// of the curve's own ends. Fixed and Pinned say nothing here.
	Nodes []adjust.Node
	// Inner are open or closed paths inside that are carried along. Their ends and joints
	// that lie on the outline stay on it, to first order where that is curved.
	Inner []geom.Path
	// Grain is the direction of the lengthwise threads, of any length, zero where there are
	// none: it turns as little as can be, and stretch is told along and across it.
	Grain geom.Point
	// Loose are the stretches of the outline, by the nodes at which they begin, whose curves
	// may turn to the other side, as no other may.
	Loose []int

	turned []sides // by stretch: to which its curves turn, if not as they did
}

// Place is a place on a path of a shape: Path 0 is the outline, path i is Inner[i-1]. T is
// the parameter within the stretch, from 0 to 1.
type Place struct {
	Shape, Path, Stretch int
	T                    float64
}

// Spot is a point of a shape, in mm, or the place On one of its paths.
type Spot struct {
	Shape int
	At    geom.Point
	On    *Place
}

// Term is Factor times the length of a part of a stretch, from parameter From to To, of which
// 0 ≤ From ≤ To ≤ 1; where both are 0, of the whole stretch. Path is that of a Place.
type Term struct {
	Shape, Path, Stretch int
	From, To, Factor     float64
}

// Chord is Factor times the distance from A to B, or where Along is not zero times the
// part of B-A along it, which is negative where B lies behind. Along is a direction of any
// length. Both spots are of one shape.
type Chord struct {
	A, B   Spot
	Along  geom.Point
	Factor float64
}

// Span is a sum of lengths that is to be Want mm, as far as other spans let it. Want lies
// within ±1e8 mm.
type Span struct {
	Terms  []Term
	Chords []Chord
	Want   float64
	// Weight is how much a millimetre that is missed counts against others where not
	// all can be met: its square is multiplied by it. It is not negative; 0 counts as 1.
	Weight float64
}

// Seam is a sum of lengths that is Want mm in any case: 0 for two sides, one of which
// counts negatively. What is to meet within a seam at a notch is a Seam of its own.
type Seam struct {
	Terms []Term
	Want  float64
}

// Dart is a dart in the outline, whose mouth is a stretch of it.
type Dart struct {
	Shape, Stretch int
	Apex           geom.Point
	// Want is how wide in mm the mouth is to be, counted like a span of weight 1; below
	// zero, it is as may come. Less than 0.1 mm counts as 0.1 mm: a mouth that closes
	// altogether would fold the outline.
	Want float64
	// EqualLegs keeps both legs equally long.
	EqualLegs bool
}

// Rail names nodes of the outline, in order, that lie on one straight line, which keeps
// its direction Along: a fold, or an edge along or across the grain. Where in a fit a span of its
// shape could not be met otherwise, one that is not Square may turn.
type Rail struct {
	Shape int
	Nodes []int
	Along geom.Point
	// Square is for a fold: curves and lines that meet it at its two ends at a right
	// angle, to two degrees, keep that angle, as do lines inside that end on it. The
	// first such rail of a shape stays on its line.
	Square bool
}

// Mirror is a line about which a piece that is drawn whole is symmetric, and stays so.
// Pairs are the nodes that are each other's images; those on the axis need not be named. The
// first mirror of a shape has its whole field symmetric, whatever its pairs; of others only
// the pairs are held.
type Mirror struct {
	Shape int
	Axis  [2]geom.Point
	Pairs [][2]int
}

// Corner is a corner of an outline, by its node.
type Corner struct {
	Shape, Node int
	// Comes or Leaves, not both, say that the stretch that comes there, or the one that
	// leaves, is of a line that ends there to run on across a seam.
	Comes, Leaves bool
}

// Joint are corners that lie side by side round one point once they are sewn, so that a line
// runs on across the seams between them, as a hem does. In a fit the ends of the line are
// turned so that the sum of their angles stays and it runs on as smoothly as it did, as far
// as it is curved there. A change of less than two degrees stays, and so does one of more than
// a right angle. A corner that is sewn to its own image is named twice.
type Joint []Corner

// Shift moves a spot By mm along a direction of any length, as far as spans and other shifts
// let it.
type Shift struct {
	At     Spot
	Along  geom.Point
	By     float64
	Weight float64 // as that of a Span
	// Hard moves it in any case.
	Hard bool
}

// Problem is what Solve takes.
type Problem struct {
	Shapes  []Shape
	Rows    []adjust.Row // nodes that stay in one straight line
	Rails   []Rail
	Mirrors []Mirror
	Seams   []Seam
	Joints  []Joint
	Darts   []Dart
	Spans   []Span
	Shifts  []Shift
	// Along and Across are how stiff the shapes are against stretch along and across the
	// grain beyond what all are scaled by, as a share of how stiff they are against
	// changing angles. They are not negative; 0: not at all.
	Along, Across float64
	// Stay is how much each place wants to stay where it is: 0 in a fit, and never less. 1
	// lets what moves one end of a shape fade out over about half of it.
	Stay float64
	// Scale scales all shapes first, by the median of what the spans want over what they
	// measure, of those where both are more than nothing; of two in the middle it takes the
	// geometric mean.
	Scale bool
}

// Result is what Solve found.
type Result struct {
	// Shapes have the nodes and paths of the problem's, in order.
	Shapes []Shape
	// SpanOff, SeamOff, DartOff and ShiftOff are by how much in mm each is more than
	// wanted; DartOff is 0 for a dart whose mouth may be as it comes.
	SpanOff, SeamOff, DartOff, ShiftOff []float64
	// Scale is the factor by which all shapes were scaled first, 1 without Problem.Scale.
	Scale float64
	// Steps is the number of Newton steps, with those of solutions that were dropped.
	Steps int
	// Held says that the wishes were followed only part of the way, since an outline
	// would have crossed itself further on, or two of its sides touched.
	Held bool

	fields []field
}

// Strain is how the cloth of a pattern was changed at a place, relative to the pattern as
// it was: Along and Across are the factors of a length along and across the grain (along
// the y axis where there is no grain), Result.Scale included. Shear is by how much the right
// angle between them has become smaller, in radians.
type Strain struct{ Along, Across, Shear float64 }
