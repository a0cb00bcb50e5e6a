package paint

import "hemlet/geom"

// Scene is what a layer shows, bottom first. It is not changed once it was
// handed over; the next scene may share its items.
type Scene struct {
	Grid  Grid
	Items []*Item
}

// Item is what changes together: a piece, a level line, the handles of a
// selection. An item is not changed once it was handed over.
type Item struct {
	// Place maps the item's millimetres to the document's. The zero map stands
	// for no change.
	Place geom.Affine
	// Marks are painted in order, bottom first.
	Marks []Mark
}

// place returns the map of the item.
func (it *Item) place() geom.Affine {
	if it.Place == (geom.Affine{}) {
		return geom.Identity
	}
	return it.Place
}

// Mark is something that an item shows: Shape, Beside, Dot, Arrow, Bracket, Tick, Text
// or Badge. Places are millimetres of the item, all other sizes screen units.
type Mark interface{ prepare(*frame) }

// Line is how a line is drawn. Nothing is drawn without a width or a colour.
type Line struct {
	Colour Colour
	Width  float64
	Dash   Dash
	Join   Join
	Cap    Cap
}

// Shape is a path, filled (non-zero winding; an open path is closed by a straight
// line), lined, or both. The path may be far larger than what is seen.
type Shape struct {
	Path geom.Path
	Fill Colour
	Line Line
	// Least, if above 0, is the size in screen units below which the shape is left out:
	// a detail that would only be a blot.
	Least float64
}

// DotKind is the form of a Dot.
type DotKind uint8

// The forms: a corner node is square, a smooth node round, a handle's end a
// filled disc. The open forms, which have no inside, say by what the pointer was
// caught: a ring, a square, a wedge, a cross of two strokes, aslant or upright.
const (
	CornerNode DotKind = iota
	SmoothNode
	HandleEnd
	Ring
	Square
	Wedge
	Cross
	Plus
)

// Dot marks a point. Colour is that of the rim, and of the whole handle end;
// Fill that of the inside. A large one is chosen or under the pointer.
type Dot struct {
	At     geom.Point
	Kind   DotKind
	Colour Colour
	Fill   Colour
	Large  bool
}

// Arrow is a line from A to B with an open head at B, and at A too if Both.
type Arrow struct {
	A, B geom.Point
	Both bool
	Line Line
}

// Bracket marks the fold from A to B: a bar beside it, on the left as one goes
// from A to B or on the right, with two arrows that point at the fold.
type Bracket struct {
	A, B  geom.Point
	Right bool
	Line  Line
}

// TickForm is the form of a Tick.
type TickForm uint8

// The forms of notches: one stroke, two that meet in a point at the edge, and one
// with a bar across at the edge.
const (
	TickStroke TickForm = iota
	TickV
	TickT
)

// Tick is a notch: Count strokes side by side across an edge at the point At, in
// the direction Dir (any length), Length screen units long. The edge runs square
// to Dir.
type Tick struct {
	At, Dir geom.Point
	Length  float64
	Count   int
	Form    TickForm
	Line    Line
}

// Beside is a line that runs along a path at a distance of Inset screen units to the
// left of it, to the right below 0. With a Swing it is a wave that swings so many
// units to either side, in waves about Wave units long, a whole number of them. Without
// one a dashed line has dashes as long as the gaps, of its period together.
type Beside struct {
	Path        geom.Path
	Inset       float64
	Swing, Wave float64
	Line        Line
}

// Anchor says which part of a text lies at its point.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of text, upright whatever the item's place. The point At moved
// by DX, DY screen units (y down) lies on the baseline, at the start, middle or
// end of the text.
type Text struct {
	At     geom.Point
	DX, DY float64
	Text   string
	Size   float64
	Weight Weight
	Colour Colour
	Anchor Anchor
	// Halo, where it is a colour, is laid round the letters so that they stay
	// legible over lines.
	Halo Colour
	// Plate, where it is a colour, is a rounded box behind the text, with a rim of
	// the colour Rim if that is one.
	Plate, Rim Colour
	// Room, if above 0, is the width in mm that the text may take: where it is
	// less than the text needs, the text becomes smaller, down to 9 units, and is
	// left out when even that does not fit.
	Room float64
	// Least, if above 0, is a width in mm to which the text is cut short, with an
	// ellipsis, instead of being left out, for as long as it measures 24 units.
	Least float64
	// Yield, from 1 to 3, has the text left out where it would stand over a text of the
	// same item that yields less, or as much and comes earlier. Else is where it stands
	// instead if that is free. Texts of 0 always stand.
	Yield uint8
	Else  *Spot
}

// BadgeKind is the form of a Badge, one for each level of findings.
type BadgeKind uint8

// The forms: a filled disc, a triangle, a square, and a tick.
const (
	Problem BadgeKind = iota
	LookAgain
	Note
	Holds
)

// Badge marks a finding at a point moved by DX, DY screen units (y down). Colour
// is that of the mark, Fill that of what stands out on it or of its inside.
type Badge struct {
	At           geom.Point
	DX, DY       float64
	Kind         BadgeKind
	Colour, Fill Colour
}
