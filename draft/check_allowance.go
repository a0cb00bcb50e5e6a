package draft

import (
	"math"

	"hemlet/geom"
)

// sealBelow is the allowance in mm below which woven cloth frays out of the seam
// unless its edges are sealed. (Common practice, no source.)
const sealBelow = 3

// frailPiece is a width in mm of a piece below which allowances of sealBelow would be as
// wide as it.
const frailPiece = 3 * sealBelow

// checkAllowances holds each allowance against the curve it follows and the piece
// it belongs to.
func (c *pieceCheck) checkAllowances(flat *Flat) {
	var frail []string
	var frailEdges []*Edge
	narrowest := math.Inf(1)
	for i, fe := range flat.Edges {
		edge := fe.Edge
		if fe.Half == Far || edge.Kind == FoldEdge || edge.Allowance.Widest() == 0 {
			continue
		}
		c.checkCurve(fe)
		c.checkWidth(flat, i)
		if width := edge.Allowance.Widest(); edge.Kind == SeamEdge && width < sealBelow {
			frail, narrowest = append(frail, edge.label()), math.Min(narrowest, width)
			frailEdges = append(frailEdges, edge)
		}
	}
	// One remark for the piece: at the smallest scales every edge has one.
	if len(frail) > 0 {
		f := c.add(Remark, nil, "narrow", "With an allowance of %s (%s), seal the edges before sewing: below %s the threads slip out.", c.unit.Format(narrowest), list(frail, 5), c.unit.Format(sealBelow))
		f.Value, f.Limit = narrowest, sealBelow
		if box := flat.Stitch.Bounds(); min(box.W(), box.H()) < frailPiece {
			return
		}
		f.mend("Widen the allowance to "+c.unit.Format(sealBelow), "set-allowance", "edges", c.piece.edgesText(frailEdges), "width", mmText(sealBelow))
	}
}

// checkWidth finds an allowance that cannot be meant, or that nothing is left of.
func (c *pieceCheck) checkWidth(flat *Flat, i int) {
	edge := flat.Edges[i].Edge
	width := edge.Allowance.Widest()
	// A strap or tube may well be narrower than its allowance; no piece is as
	// small all round.
	box := flat.Stitch.Bounds()
	if size := math.Sqrt(box.W() * box.H()); width > size {
		f := c.add(LookAgain, edge, "wide", "Its allowance of %s is out of all proportion to a piece of %s by %s. Was another unit meant?", c.unit.Format(width), c.unit.Format(box.W()), c.unit.Format(box.H()))
		f.Value, f.Limit = width, size
		if usual := c.usualAllowance(edge); usual < size {
			f.mend("Make it as wide as the others", "set-allowance", "edges", c.piece.edgeText(edge), "width", mmText(usual))
		} else {
			f.mend("Make it a tenth as wide", "set-allowance", "edges", c.piece.edgeText(edge), "width", mmText(toGrid(width/10)))
		}
	}
	if len(flat.Cut) > 0 && !flat.follows(i) && !c.piece.SlitSide(c.piece.indexOf(edge.ID)) {
		length := flat.Edges[i].Length()
		f := c.add(LookAgain, edge, "short", "The edge is %s long, and the allowances of its neighbours leave nothing of its own %s. Make them narrower.", c.unit.Format(length), c.unit.Format(width))
		f.Value, f.Limit = length, width
		c.offerNarrower(f, edge, length)
	}
	if edge.Allowance.TrimTo > width {
		f := c.add(LookAgain, edge, "trim", "It is to be trimmed to %s but is cut at %s only.", c.unit.Format(edge.Allowance.TrimTo), c.unit.Format(width))
		f.mend("Trim nothing", "set-allowance", "edges", c.piece.edgeText(edge), "trim", "0mm")
		f.mend("Cut it as wide as it is trimmed to", "set-allowance", "edges", c.piece.edgeText(edge), "width", mmText(edge.Allowance.TrimTo))
	}
}

// usualAllowance returns the width in mm that most of the other edges have, 0 where there
// is no other.
func (c *pieceCheck) usualAllowance(but *Edge) float64 {
	count := make(map[float64]int)
	best := 0.0
	for i := range c.piece.Edges {
		e := &c.piece.Edges[i]
		if w := e.Allowance.Widest(); e.ID != but.ID && e.Kind != FoldEdge && w > 0 {
			if count[w]++; count[w] > count[best] {
				best = w
			}
		}
	}
	return best
}

// shareLeft is the share of a short edge that the allowances of its neighbours may take at
// each end, so that some of its own is left.
const shareLeft = 0.25

// offerNarrower offers to narrow the allowances beside an edge of length mm.
func (c *pieceCheck) offerNarrower(f *Finding, edge *Edge, length float64) {
	i, n := c.piece.indexOf(edge.ID), len(c.piece.Edges)
	var beside []*Edge
	for _, k := range []int{(i + n - 1) % n, (i + 1) % n} {
		if e := &c.piece.Edges[k]; e.Kind != FoldEdge && e.Allowance.Widest() > length*shareLeft {
			beside = append(beside, e)
		}
	}
	if width := roundDown(length * shareLeft); width > 0 && len(beside) > 0 {
		f.mend("Narrow the allowances beside it", "set-allowance", "edges", c.piece.edgesText(beside), "width", mmText(width))
	}
}

// follows reports whether some of the cut line follows edge i of the flat piece.
func (f *Flat) follows(i int) bool {
	for _, e := range f.CutEdge {
		if e == i {
			return true
		}
	}
	return false
}

// checkCurve finds a hollow that is tighter than the allowance that lies in it.
func (c *pieceCheck) checkCurve(fe FlatEdge) {
	h, found := tightestHollow(fe)
	if !found {
		return
	}
	f := c.add(LookAgain, fe.Edge, "hollow", "The curve hollows to a radius of %s, tighter than its allowance of %s: the cut line has a corner there and the allowance will not turn. Make it narrower, or clip it to the stitching.", c.unit.Format(h.radius), c.unit.Format(h.width))
	f.Value, f.Limit, f.At = h.radius, h.width, &h.at
	if width := roundDown(h.radius); width > 0 {
		f.mend("Make the allowance no wider than the curve bears", "set-allowance", "edges", c.piece.edgeText(fe.Edge), "width", mmText(width))
	}
}

// hollow is the tightest place of a stretch of an edge that curves away from its
// cloth more tightly than its allowance is wide.
type hollow struct {
	radius, width float64 // mm
	at            geom.Point
	// turn is by how much the stretch turns, in radians.
	turn float64
}

const (
	// hollowSamples is how many places of a curve are looked at: enough to catch
	// the tightest place of any cubic within a few per cent.
	hollowSamples = 48
	// hollowTurn is the turn in radians from which a hollow is told, 45 degrees.
	// The cut line has a corner by as much; up to there it lies within a twelfth
	// of the allowance of where a round one would. Handles that are a little
	// short make every drawn neckline tight for a few degrees.
	hollowTurn = math.Pi / 4
)

// tightestHollow returns the hollow with the smallest radius of those that are
// worth telling.
func tightestHollow(fe FlatEdge) (tightest hollow, found bool) {
	length, along := fe.Length(), 0.0
	now := hollow{radius: math.Inf(1)}
	for _, part := range fe.Parts {
		for _, s := range part {
			for i := range hollowSamples {
				t0, t1 := float64(i)/hollowSamples, float64(i+1)/hollowSamples
				step := s.At(t0).Dist(s.At(t1))
				share := min((along+step/2)/length, 1)
				along += step
				if !now.takes(s, t0, t1, fe.Start+(fe.End-fe.Start)*share) {
					now = hollow{radius: math.Inf(1)}
				}
				if now.turn >= hollowTurn && (!found || now.radius <= tightest.radius) {
					tightest, found = now, true
				}
			}
		}
	}
	return tightest, found
}

// takes lengthens the hollow by a bit of a curve with an allowance of width mm, or
// returns false where that is no hollow.
func (h *hollow) takes(s geom.Segment, t0, t1, width float64) bool {
	if s.Straight {
		return false
	}
	middle := (t0 + t1) / 2
	// Outlines run counter-clockwise: a turn to the right is a hollow.
	k := -s.Curvature(middle)
	if !(k*width > 1) {
		return false
	}
	u, v := s.Tangent(t0), s.Tangent(t1)
	h.turn += math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
	if 1/k < h.radius {
		h.radius, h.width, h.at = 1/k, width, s.At(middle)
	}
	return true
}
