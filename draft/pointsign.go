package draft

import (
	"math"

	"hemlet/geom"
)

// pointArm is half the length in mm of the strokes of the cross on a marked point: small
// enough for a doll's bodice, large enough to be found on paper.
const pointArm = 1.5

// PointSign returns the cross by which a pattern marks a point, in the piece's own
// millimetres: upright to drill through, slanting to sew over twice. Nil where the line
// marks no point.
func (l *Line) PointSign() []geom.Path {
	if len(l.Nodes) == 0 || !l.Kind.Point() {
		return nil
	}
	at, arm := l.Nodes[0].At, geom.Pt(pointArm, 0)
	if l.Kind == ReinforcePoint {
		arm = geom.Pt(pointArm, pointArm).Mul(math.Sqrt2 / 2)
	}
	side := arm.Left()
	return []geom.Path{{geom.Line(at.Sub(arm), at.Add(arm))}, {geom.Line(at.Sub(side), at.Add(side))}}
}
