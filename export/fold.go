package export

import (
	"math"

	"hemlet/draft"
	"hemlet/geom"
)

// signSize returns the size in mm of arrow heads and the like on a piece: 4 mm,
// less on pieces so small that it would fill them.
func signSize(flat *draft.Flat) float64 {
	box := flat.Stitch.Bounds()
	const most, least, share = 4, 1, 0.06
	return math.Max(least, math.Min(most, share*math.Min(box.W(), box.H())))
}

// foldMarks returns the line on which the piece is unfolded. No arrows point at it:
// those tell people to lay a half piece on the fold of the cloth.
func foldMarks(flat *draft.Flat) []Mark {
	if flat.Fold == nil {
		return nil
	}
	return []Mark{mark(FoldMark, geom.Path{*flat.Fold})}
}

// arrowHead returns the two barbs of an arrow that ends at tip.
func arrowHead(tip, direction geom.Point, size float64) geom.Path {
	const spread = 0.35 // half the width of the head, as a share of its length
	back := tip.Sub(direction.Mul(size))
	side := direction.Left().Mul(spread * size)
	return geom.Path{geom.Line(back.Add(side), tip), geom.Line(tip, back.Sub(side))}
}

// grainMarks returns the double arrow along the grain.
func grainMarks(flat *draft.Flat) []Mark {
	g := flat.Piece.Grain
	if g == nil || g.From == g.To {
		return nil
	}
	d := g.To.Sub(g.From).Unit()
	size := math.Min(signSize(flat), g.From.Dist(g.To)/3)
	return []Mark{mark(GrainMark,
		geom.Path{geom.Line(g.From, g.To)},
		arrowHead(g.To, d, size), arrowHead(g.From, d.Mul(-1), size),
	)}
}
