package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// Shape is a figure that is drawn at a stroke.
type Shape int

const (
	// RectangleShape has four corners, its sides level and upright.
	RectangleShape Shape = iota
	// OvalShape is an ellipse, a circle where it is as wide as it is high.
	OvalShape
	// ArcShape is a part of a circle.
	ArcShape
)

var shapeNames = names[Shape]{"rectangle", "oval", "arc"}

func (s Shape) String() string               { return shapeNames.text(s) }
func (s Shape) MarshalText() ([]byte, error) { return shapeNames.marshal(s) }

// UnmarshalText reads one of rectangle, oval, arc.
func (s *Shape) UnmarshalText(b []byte) error { return shapeNames.unmarshal(s, b, "shape") }

// DrawShapeArgs are the arguments of DrawShape.
type DrawShapeArgs struct {
	Shape Shape  `arg:"shape" says:"what is drawn"`
	From  Vector `arg:"from" says:"a corner of the box round it, or where an arc begins, in mm on the bench"`
	To    Vector `arg:"to" says:"the opposite corner, or where an arc ends"`
	Rise  Length `arg:"rise" says:"of an arc: how far its middle lies from the straight line between its ends, to the left of the way from the first to the second; below 0 to the right" default:"0mm"`
	// On, where not nil, is the piece on which it is drawn as a line.
	On        *PieceRef `arg:"on" says:"a piece, to draw a line on it; without one, a new piece"`
	Kind      LineKind  `arg:"kind" says:"what a line on a piece is for" default:"placement"`
	Name      string    `arg:"name,optional" says:"what the piece or the line is called"`
	Allowance *Length   `arg:"allowance" says:"of a new piece: cloth left outside the stitching line; without it, what most edges of the pattern have"`
}

// DrawShape draws a rectangle, an oval or an arc, as a new piece or as a line on one. An
// arc that becomes a piece is closed by the straight line between its ends.
var DrawShape = register(Info{
	Name: "draw-shape", Title: "Draw a shape", Group: groupDrawing,
	Says: "Draws a rectangle, a circle or oval, or an arc, as a new piece or as a line on one.",
}, func(p *Project, a DrawShapeArgs) (Outcome, error) {
	path, err := ShapePath(a.Shape, geom.Point(a.From), geom.Point(a.To), float64(a.Rise))
	if err != nil {
		return Outcome{}, err
	}
	if a.On != nil {
		return drawLine(p, DrawLineArgs{Line: Drawn(path), Piece: *a.On, Kind: a.Kind, Name: a.Name})
	}
	if !path.Closed() {
		path = append(path, geom.Line(path.End(), path.Start()))
	}
	name := a.Name
	if name == "" {
		name = shapePieces[a.Shape]
	}
	return drawPiece(p, DrawPieceArgs{Line: Drawn(path), Name: name, Allowance: a.Allowance})
})

// shapePieces are what pieces are called that are drawn at a stroke.
var shapePieces = map[Shape]string{RectangleShape: "Rectangle", OvalShape: "Oval", ArcShape: "Arc"}

// smallestShape is the least width and height in mm of what is drawn at a stroke.
const smallestShape = 0.1

// quarterHandle is the length of the handles of a quarter circle of radius 1 that makes
// it as long as the circle, pi/2 to 1e-15 (found by bisection with 64-point Gauss). Its
// points lie between 0.027 % inside and 0.018 % outside the circle, 0.04 mm on one of
// 150 mm, and four of them enclose 1e-6 less.
const quarterHandle = 0.5517771311604369

// ShapePath returns a shape as a path: counter-clockwise, the closed ones from the
// right bottom corner of the box or its rightmost point on. from and to are opposite
// corners of the box, or the ends of an arc whose middle lies rise mm to the left of
// the way between them.
//
// The oval has four cubics. A circle's round is exact to 1e-12 and its radius within
// 0.027 %; an oval is a circle that is squeezed. An arc has a cubic for each 45
// degrees, with handles of 4/3 tan(a/4) (the common approximation); its radius is
// within 5e-6.
func ShapePath(shape Shape, from, to geom.Point, rise float64) (geom.Path, error) {
	box := geom.RectOf(from, to)
	if shape != ArcShape && min(box.W(), box.H()) < smallestShape {
		return nil, fmt.Errorf("a shape is at least %.1f mm wide and high", smallestShape)
	}
	switch shape {
	case RectangleShape:
		return geom.Polygon(geom.Pt(box.Max.X, box.Min.Y), box.Max, geom.Pt(box.Min.X, box.Max.Y), box.Min), nil
	case OvalShape:
		return oval(box), nil
	case ArcShape:
		return arcPath(from, to, rise)
	}
	_, err := shape.MarshalText()
	return nil, err
}

// oval returns the ellipse in the box.
func oval(box geom.Rect) geom.Path {
	c, rx, ry := box.Center(), box.W()/2, box.H()/2
	k := quarterHandle
	unit := geom.Cubic(geom.Pt(1, 0), geom.Pt(1, k), geom.Pt(k, 1), geom.Pt(0, 1))
	var path geom.Path
	at := func(p geom.Point, turns int) geom.Point {
		for range turns {
			p = p.Left()
		}
		return geom.Pt(c.X+rx*p.X, c.Y+ry*p.Y)
	}
	for q := range 4 {
		path = append(path, geom.Cubic(at(unit.P0, q), at(unit.P1, q), at(unit.P2, q), at(unit.P3, q)))
	}
	path[3].P3 = path[0].P0
	return path
}

// arcStep is the largest part of a circle, in radians, that one cubic of an arc draws.
const arcStep = math.Pi / 4

// arcPath returns the arc from one point to another whose middle lies rise mm to the
// left of the way, a straight line where that is next to nothing.
func arcPath(from, to geom.Point, rise float64) (geom.Path, error) {
	chord := to.Sub(from)
	half := chord.Len() / 2
	if 2*half < smallestShape {
		return nil, errors.New("the two ends of the arc are one point")
	}
	if math.Abs(rise) < flattestArc*half {
		return geom.Path{geom.Line(from, to)}, nil
	}
	// Half the arc's angle a has tan(a/2) = rise / half; to the left of the way an arc
	// runs clockwise.
	sweep := -4 * math.Atan2(rise, half)
	radius := (half*half + rise*rise) / (2 * math.Abs(rise))
	// The middle of the circle lies away from the rise, or beyond it past a half circle.
	left := chord.Unit().Left()
	centre := from.Lerp(to, 0.5).Add(left.Mul(rise - math.Copysign(radius, rise)))
	if !(radius <= MaxCoordinate) {
		return nil, errors.New("the arc is too flat to be drawn as a part of a circle")
	}
	n := int(math.Ceil(math.Abs(sweep)/arcStep - 1e-9))
	step := sweep / float64(n)
	k := 4. / 3 * math.Tan(step/4)
	start := from.Sub(centre)
	var path geom.Path
	for i := range n {
		a := geom.Rotation(step*float64(i), geom.Point{}).ApplyVector(start)
		b := geom.Rotation(step*float64(i+1), geom.Point{}).ApplyVector(start)
		path = append(path, geom.Cubic(centre.Add(a), centre.Add(a.Add(a.Left().Mul(k))), centre.Add(b.Sub(b.Left().Mul(k))), centre.Add(b)))
	}
	path[0].P0, path[n-1].P3 = from, to
	for i := 1; i < n; i++ {
		path[i].P0 = path[i-1].P3
	}
	return path, nil
}

// flattestArc is the share of half its width below which the rise of an arc is next to
// nothing, and it is drawn straight.
const flattestArc = 1e-6
