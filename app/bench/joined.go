package bench

import (
	"math"

	"hemlet/app/bench/paint"
	"hemlet/app/tool"
	"hemlet/geom"
)

// Sizes at a joint in screen units: how wide the line that runs on and the seams are drawn,
// how far out the angle is marked, how far its side is drawn beyond that, and how far
// outside the cloth its word stands.
const (
	jointLineWidth = 4.6
	jointSeamWidth = 2.2
	jointAngleOut  = 58
	jointAngleSide = 30
	jointWordOut   = 44
)

// jointColours are the colours of an angle: its line, its ground, and its text.
var jointColours = [...][3]paint.Token{
	tool.JointSmooth: {paint.Moss, paint.MossTint, paint.MossText},
	tool.JointKinked: {paint.Ochre, paint.OchreTint, paint.OchreText},
	tool.JointLeft:   {paint.Faint, paint.Bench, paint.Ink},
}

// joined draws over pieces that are laid together at the end of a seam: the seam as sewn,
// the line that runs on across it, and the angle that it makes there.
func (s *scene) joined(m *tool.JointMarks) []*paint.Item {
	item := &paint.Item{}
	add := func(m paint.Mark) { item.Marks = append(item.Marks, m) }
	for _, path := range m.Seams {
		add(paint.Shape{Path: path, Line: paint.Line{Colour: paint.Of(paint.Chalk), Width: jointSeamWidth, Join: paint.Round, Cap: paint.RoundCap}})
	}
	for _, path := range m.Lines {
		add(paint.Shape{Path: path, Line: paint.Line{Colour: paint.Of(paint.Ink), Width: jointLineWidth, Join: paint.Round, Cap: paint.RoundCap}})
	}
	item.Marks = append(item.Marks, angleMarks(m, s.view.DPR/s.view.Scale)...)
	return []*paint.Item{item}
}

// angleMarks draws the angle between the way in which the one line comes to the joint and
// that in which the other leaves it, and its word outside the cloth; unit is how many
// millimetres one screen unit covers.
func angleMarks(m *tool.JointMarks, unit float64) []paint.Mark {
	colours := jointColours[m.Stands]
	line := paint.Line{Colour: paint.Of(colours[0]), Width: 1.8, Join: paint.Round, Cap: paint.RoundCap}
	on, way := wayOf(m.Lines[0]).Mul(-1), wayOf(m.Lines[1])
	var marks []paint.Mark
	if angle := math.Atan2(on.Cross(way), on.Dot(way)); math.Abs(angle) > leastAngle {
		wedge := []geom.Point{m.At}
		for i := range angleSteps + 1 {
			turn := geom.Rotation(angle*float64(i)/angleSteps, geom.Point{})
			wedge = append(wedge, m.At.Add(turn.ApplyVector(on).Mul(jointAngleOut*unit)))
		}
		side := line
		side.Dash = helpDash
		far := m.At.Add(on.Mul((jointAngleOut + jointAngleSide) * unit))
		marks = append(marks,
			paint.Shape{Path: geom.Polygon(wedge...), Fill: paint.Faded(colours[0], 0.35)},
			paint.Shape{Path: openPath(wedge[1:]), Line: line},
			paint.Shape{Path: geom.Path{geom.Line(m.At, far)}, Line: side})
	}
	marks = append(marks, paint.Dot{At: m.At, Kind: paint.SmoothNode, Colour: paint.Of(paint.Ink), Fill: paint.Of(paint.Node), Large: true})
	out := outOf(m).Mul(jointWordOut)
	return append(marks, paint.Text{
		At: m.At, DX: out.X, DY: letterDrop - out.Y, Text: m.Word, Size: 13, Weight: paint.SemiBold,
		Colour: paint.Of(colours[2]), Anchor: paint.Middle, Plate: paint.Of(colours[1]), Rim: paint.Of(colours[0]),
	})
}

// An angle is drawn in so many steps, and none that is less than this, in radians: it would
// be narrower than the lines.
const (
	angleSteps = 24
	leastAngle = 0.004
)

// wayOf returns the direction in which a path sets out.
func wayOf(path geom.Path) geom.Point {
	if path.Length() == 0 {
		return geom.Point{}
	}
	return path.Tangent(geom.Place{})
}

// outOf returns the unit direction from the joint out of the cloth: away from the seams.
func outOf(m *tool.JointMarks) geom.Point {
	var in geom.Point
	for _, path := range m.Seams {
		in = in.Add(wayOf(path))
	}
	if in == (geom.Point{}) {
		return geom.Pt(0, -1)
	}
	return in.Unit().Mul(-1)
}

// openPath joins places by straight lines.
func openPath(places []geom.Point) geom.Path {
	var path geom.Path
	for i := 1; i < len(places); i++ {
		path = append(path, geom.Line(places[i-1], places[i]))
	}
	return path
}
