package export

import (
	"math"

	"hemlet/draft"
	"hemlet/geom"
)

// How notches are drawn, in mm; see draft.NotchDepth (common practice, no source).
const (
	// chalkTick is the length of the tick that stands inside the stitching line
	// where there is next to no allowance to draw it in.
	chalkTick = 2
)

// notchMarks returns the notches of the flat piece, those of both halves.
func notchMarks(flat *draft.Flat) []Mark {
	var marks []Mark
	for _, n := range flat.Piece.Notches {
		for _, e := range flat.Edges {
			if e.Edge.ID != n.Edge {
				continue
			}
			if m, ok := notchMark(flat, e, n); ok {
				marks = append(marks, m)
			}
		}
	}
	return marks
}

// notchMark returns the notch on one edge, or false where the edge is too short
// to hold it.
func notchMark(flat *draft.Flat, e draft.FlatEdge, n draft.Notch) (Mark, bool) {
	length := e.Length()
	if !n.Share && n.At > length+notchSlack {
		return Mark{}, false
	}
	at := n.Along(length)
	if e.Half == draft.Far { // which runs the other way
		at = length - at
	}
	m := Mark{Role: NotchMark, Name: string(n.ID)}
	places := []float64{at}
	if n.Double {
		gap := math.Min(draft.NotchSpacing, length/8)
		places = []float64{at - gap/2, at + gap/2}
	}
	for _, d := range places {
		foot, ok := stand(e, math.Max(0, math.Min(length, d)))
		if !ok {
			return Mark{}, false
		}
		chains, drawOnly := tick(flat.Cut, e, foot, d/length, n.Shape)
		m.Chains = append(m.Chains, chains...)
		m.DrawOnly = m.DrawOnly || drawOnly
	}
	return m, true
}

// notchSlack is how far, in mm, a notch may lie beyond the end of its edge and still
// mean that end: what rounding to the grid makes of it, many times over.
const notchSlack = 1e-3

// footing is a point on the stitching line with the direction out of the piece.
type footing struct{ at, out geom.Point }

// stand returns the footing at distance d along the parts of the edge.
func stand(e draft.FlatEdge, d float64) (footing, bool) {
	for i, part := range e.Parts {
		tape := part.Tape()
		if d > tape.Length() && i < len(e.Parts)-1 {
			d -= tape.Length()
			continue
		}
		place := tape.At(d)
		out := part.Tangent(place).Left().Mul(-1)
		return footing{part.At(place), out}, out != (geom.Point{})
	}
	return footing{}, false
}

// tick returns the lines of a notch at the share of the edge's length, and whether
// it may only be drawn.
func tick(line geom.Path, e draft.FlatEdge, f footing, share float64, shape draft.NotchShape) ([]geom.Path, bool) {
	width := e.Start + (e.End-e.Start)*math.Max(0, math.Min(1, share))
	rim := f.at.Add(f.out.Mul(width))
	// Near a corner the cut line may come closer than the allowance is wide.
	if place, d := line.Nearest(rim); d > 0 {
		rim = line.At(place)
	}
	out := rim.Sub(f.at)
	width = out.Len()
	depth, cut := draft.NotchDepth(width)
	if depth == 0 {
		// No room in the allowance: a tick of chalk inside the stitching line.
		return []geom.Path{{geom.Line(f.at, f.at.Sub(f.out.Mul(chalkTick)))}}, true
	}
	in := out.Unit().Mul(-1)
	tip := rim.Add(in.Mul(depth))
	side := in.Left().Mul(depth / 2)
	var chains []geom.Path
	switch shape {
	case draft.NotchV:
		chains = []geom.Path{{geom.Line(onto(line, rim.Add(side)), tip), geom.Line(tip, onto(line, rim.Sub(side)))}}
	case draft.NotchT:
		chains = []geom.Path{{geom.Line(rim, tip)}, {geom.Line(tip.Add(side), tip.Sub(side))}}
	default:
		chains = []geom.Path{{geom.Line(rim, tip)}}
	}
	return chains, !cut
}

// onto returns the point of the path that is nearest to q.
func onto(p geom.Path, q geom.Point) geom.Point {
	place, _ := p.Nearest(q)
	return p.At(place)
}
