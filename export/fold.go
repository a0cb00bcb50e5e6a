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

// foldMarks returns the line on which the piece is unfolded, and beside it a
// bracket whose arrows point at the fold.
func foldMarks(flat *draft.Flat) []Mark {
	if flat.Fold == nil {
		return nil
	}
	a, b := flat.Fold.P0, flat.Fold.P3
	along, length := b.Sub(a).Unit(), a.Dist(b)
	// The outline runs counter-clockwise: the drawn half lies left of its fold.
	in := along.Left()
	size := signSize(flat)
	reach := 2.5 * size
	if length < 4*size {
		reach = length / 2
	}
	from, to := a.Add(along.Mul(length*0.2)), a.Add(along.Mul(length*0.8))
	bracket := geom.Path{
		geom.Line(from, from.Add(in.Mul(reach))),
		geom.Line(from.Add(in.Mul(reach)), to.Add(in.Mul(reach))),
		geom.Line(to.Add(in.Mul(reach)), to),
	}
	return []Mark{
		mark(FoldMark, geom.Path{geom.Line(a, b)}),
		mark(FoldMark, bracket, arrowHead(from, in.Mul(-1), size), arrowHead(to, in.Mul(-1), size)),
	}
}

// foldWord stands on the bracket of a fold where it has room.
const foldWord = "fold"

// foldNote is the word on the bracket of a fold, along its back and read from the
// right or from below.
func foldNote(bracket Mark, size float64) Text {
	back := bracket.Chains[0][1]
	along := back.P3.Sub(back.P0).Unit()
	turn := along.Angle()
	if turn > math.Pi/2+1e-9 || turn <= -math.Pi/2+1e-9 {
		turn = geom.Pt(-along.X, -along.Y).Angle()
	}
	// Between the back and the fold, where the bracket keeps other marks away.
	inward := bracket.Chains[0].Start().Sub(back.P0).Unit()
	up := geom.Pt(-math.Sin(turn), math.Cos(turn))
	off := 0.5 * size
	if up.Dot(inward) < 0 {
		off += textHeight * size
	}
	return Text{At: back.At(0.5).Add(inward.Mul(off)), Size: size, Turn: turn, Anchor: Middle, Words: foldWord}
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
