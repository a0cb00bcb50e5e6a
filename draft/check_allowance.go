package draft

import (
	"math"

	"hemlet/geom"
)

// sealBelow is the allowance in mm below which woven cloth frays out of the seam
// unless its edges are sealed. (Common practice, no source.)
const sealBelow = 3

// checkAllowances holds each allowance against the curve it follows and the piece
// it belongs to.
func (c *pieceCheck) checkAllowances(flat *Flat) {
	box := flat.Stitch.Bounds()
	small := math.Min(box.W(), box.H())
	for _, fe := range flat.Edges {
		if fe.Half == Far || fe.Edge.Kind == FoldEdge {
			continue
		}
		edge, width := fe.Edge, fe.Edge.Allowance.Widest()
		if width == 0 {
			continue
		}
		c.checkCurve(fe, width)
		if length := fe.Length(); length < width && length < small {
			f := c.add(LookAgain, edge, "short", "The edge is %s long, shorter than its allowance of %s, which its neighbours then cut away. Make the allowance narrower.", c.unit.Format(length), c.unit.Format(width))
			f.Value, f.Limit = length, width
		}
		if width > small {
			f := c.add(LookAgain, edge, "wide", "Its allowance of %s is wider than the piece itself (%s). Was another unit meant?", c.unit.Format(width), c.unit.Format(small))
			f.Value, f.Limit = width, small
		}
		if edge.Kind == SeamEdge && width < sealBelow {
			f := c.add(Remark, edge, "narrow", "Its allowance is %s; below %s seal the edges before sewing, or the threads slip out.", c.unit.Format(width), c.unit.Format(sealBelow))
			f.Value, f.Limit = width, sealBelow
		}
		if a := edge.Allowance; a.TrimTo > width {
			c.add(LookAgain, edge, "trim", "It is to be trimmed to %s but is cut at %s only.", c.unit.Format(a.TrimTo), c.unit.Format(width))
		}
	}
}

// checkCurve finds a hollow that is tighter than the allowance that lies in it.
func (c *pieceCheck) checkCurve(fe FlatEdge, width float64) {
	radius, at := tightestHollow(fe)
	if radius >= width {
		return
	}
	f := c.add(LookAgain, fe.Edge, "hollow", "The curve hollows to a radius of %s, tighter than its allowance of %s: the cut line loses its shape there and the allowance will not turn. Make it narrower, or clip it to the stitching.", c.unit.Format(radius), c.unit.Format(width))
	f.Value, f.Limit, f.At = radius, width, &at
}

// hollowSamples is how many places of a curve are looked at: enough to catch the
// tightest place of any cubic within a few per cent.
const hollowSamples = 48

// tightestHollow returns the smallest radius in mm with which the edge curves
// away from its cloth, and where; infinite where it nowhere does.
func tightestHollow(fe FlatEdge) (float64, geom.Point) {
	tightest, at := math.Inf(1), geom.Point{}
	for _, part := range fe.Parts {
		for _, s := range part {
			if s.Straight {
				continue
			}
			for i := 1; i < hollowSamples; i++ {
				t := float64(i) / hollowSamples
				// Outlines run counter-clockwise: a turn to the right is a hollow.
				if k := s.Curvature(t); k < 0 && -1/k < tightest {
					tightest, at = -1/k, s.At(t)
				}
			}
		}
	}
	return tightest, at
}
