package draft

import (
	"fmt"
	"math"

	"hemlet/geom"
)

// provePiece tells of one piece whether its allowances turn and its slits hold.
func (s *Slots) provePiece(p *Project, piece *Piece) []Proof {
	return slotOf(s, "piece proofs", piece.ID, slotInputs{piece, p.Unit, s.lookupIn(p).sewnMarks(piece)}, func() []Proof {
		flat, err := Unfold(piece)
		if err != nil {
			return nil
		}
		c := pieceProof{p, piece}
		return append(c.curves(flat), c.slits(s.lookupIn(p))...)
	})
}

// pieceProof gathers the proofs of one piece.
type pieceProof struct {
	*Project
	piece *Piece
}

const (
	// turnStrain is by how much, as a share, the cut edge of an allowance in a hollow may
	// have to stretch when it is turned: what a woven edge on the bias gives unclipped.
	// (Common practice, no source.)
	turnStrain = 0.15
	// tellStrain is the strain from which the maker is told to clip: a neckline whose
	// radius is less than seven times its allowance.
	tellStrain = 1. / 3
	// clipTurn is the turn in radians, 30 degrees, of the shortest hollow that is told.
	clipTurn = math.Pi / 6
)

// hollowRun is a stretch of an edge along which its allowance has to be clipped.
type hollowRun struct {
	from, to float64 // shares of the edge's length
	turn     float64 // in radians
	radius   float64 // mm, the smallest
	width    float64 // mm, of the allowance there
	at       geom.Point
}

// strain returns by how much the cut edge has to stretch when the allowance is turned onto
// the piece: from the radius less the allowance to the radius and the allowance.
func (h hollowRun) strain() float64 {
	if h.radius <= h.width {
		return math.Inf(1)
	}
	return 2 * h.width / (h.radius - h.width)
}

// hollows returns the stretches of an edge that hollow so tightly that the allowance does
// not turn unclipped.
//
// The ends are rounded to a thousandth of the edge.
func hollows(fe FlatEdge) []hollowRun {
	length, along := fe.Length(), 0.0
	var out []hollowRun
	now := hollowRun{radius: math.Inf(1), from: -1}
	end := func() {
		if now.from >= 0 && now.turn >= clipTurn {
			now.from, now.to = math.Round(now.from*1000)/1000, math.Round(now.to*1000)/1000
			out = append(out, now)
		}
		now = hollowRun{radius: math.Inf(1), from: -1}
	}
	if !(length > 0) {
		return nil
	}
	for _, part := range fe.Parts {
		for _, s := range part {
			for i := range hollowSamples {
				t0, t1 := float64(i)/hollowSamples, float64(i+1)/hollowSamples
				step := s.At(t0).Dist(s.At(t1))
				share := min((along+step/2)/length, 1)
				width := fe.Start + (fe.End-fe.Start)*share
				k := 0.0
				if !s.Straight {
					k = -s.Curvature((t0 + t1) / 2) // outlines run counter-clockwise
				}
				if k > 0 && width > 0 && 2*width*k > turnStrain*(1-width*k) {
					if now.from < 0 {
						now.from = along / length
					}
					u, v := s.Tangent(t0), s.Tangent(t1)
					now.turn += math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
					now.to = min((along+step)/length, 1)
					if 1/k < now.radius {
						now.radius, now.width, now.at = 1/k, width, s.At((t0+t1)/2)
					}
				} else {
					end()
				}
				along += step
			}
		}
	}
	end()
	return out
}

// clipped reports whether the middle of a hollow is marked to be clipped.
func (p *Piece) clipped(edge ID, from, to float64) bool {
	for _, s := range p.Stretches {
		if s.Kind == ClipStretch && s.Edge == edge && s.From <= (from+to)/2 && (from+to)/2 <= s.To {
			return true
		}
	}
	return false
}

// curves tells of each hollow whether its allowance turns.
func (c pieceProof) curves(flat *Flat) []Proof {
	var out []Proof
	u := c.Unit
	for _, fe := range flat.Edges {
		edge := fe.Edge
		if fe.Half == Far || edge.Kind == FoldEdge || edge.Allowance.Widest() == 0 {
			continue
		}
		for k, h := range hollows(fe) {
			at := h.at
			pr := Proof{
				Key:  fmt.Sprintf("clip/%s/%s/%d", c.piece.ID, edge.ID, k),
				Kind: ProofCurve, Radii: true, Garment: c.piece.Garment, Name: edge.label() + " of " + c.piece.label(),
				Piece: c.piece.ID, Edge: edge.ID, At: &at, Known: true, Level: Remark,
				Have: h.radius, Need: h.width * (1 + 2/turnStrain), Holds: c.piece.clipped(edge.ID, h.from, h.to),
				Why: "Turned, the cut edge of a hollow has to reach round a longer curve; clips let it open. They end clear of the stitching.",
			}
			pr.Diff = pr.Have - pr.Need
			if pr.Holds {
				pr.Need, pr.Diff = 0, 0 // clipped it turns round any curve
				pr.Says = fmt.Sprintf("The allowance of %s is clipped every %s where it hollows to a radius of %s.", u.Format(h.width), u.Format(clipSpacing(h.radius)), u.Format(h.radius))
				out = append(out, pr)
				continue
			}
			// A hollow that is tighter than its allowance is told by the check of it.
			pr.alone = h.strain() < tellStrain || h.radius <= h.width && h.turn >= hollowTurn
			pr.Says = fmt.Sprintf("It hollows to a radius of %s, and its allowance of %s does not turn there unclipped: clip it every %s, stopping %s from the stitching.",
				u.Format(h.radius), u.Format(h.width), u.Format(clipSpacing(h.radius)), u.Format(clipGap(h.width)))
			pr.Mends = []Mend{clipMend(c.piece.ID, edge.ID, h.from, h.to)}
			out = append(out, pr)
		}
	}
	return out
}

// clipMend marks a stretch of an edge to be clipped.
func clipMend(piece, edge ID, from, to float64) Mend {
	share := func(x float64) string { return EdgePlace{At: x, Share: true}.text() }
	return Mend{Title: "Mark the hollow to be clipped", Act: "add-stretch", Args: map[string]string{
		"edge": partText(piece, edge), "kind": ClipStretch.String(), "from": share(from), "to": share(to),
	}}
}

// markReach is how near, in mm, a mark must lie to the end of a slit to reinforce it: the
// width of a few stitches.
const markReach = 2

// slits finds the inner ends of slits that are not reinforced. What is sewn into a slit is
// held by its seams.
func (c pieceProof) slits(find *lookup) []Proof {
	var out []Proof
	p := c.piece
	n := len(p.Edges)
	for i := range p.Edges {
		in, next := p.EdgePath((i+n-1)%n), p.EdgePath(i)
		sewn := find.sewn[edgeKey{p.ID, p.Edges[i].ID}] || find.sewn[edgeKey{p.ID, p.Edges[(i+n-1)%n].ID}]
		if sewn || len(in) == 0 || len(next) == 0 || !slitCorner(in, next) {
			continue
		}
		tip := next.Start()
		pr := Proof{
			Key: "slit/" + string(p.ID) + "/" + string(p.Edges[i].ID), Kind: ProofSlit, Garment: p.Garment,
			Name: "end of the slit of " + p.label(), Piece: p.ID, Edge: p.Edges[i].ID, At: &tip, Known: true, Level: LookAgain,
			Holds: p.reinforced(tip), Why: "At its end the allowance is next to nothing, and all the pull of dressing comes there.",
		}
		if pr.Says = "The end of the slit is reinforced."; !pr.Holds {
			pr.Says = "The end of the slit is not reinforced: it tears on at the first dressing. Sew over it twice, or lay a stay under it."
			pr.Mends = []Mend{reinforceMend(p, tip)}
		}
		out = append(out, pr)
	}
	return out
}

// slitCorner reports whether two edges turn back on each other at a point inside the piece.
func slitCorner(in, out geom.Path) bool {
	u, v := in[len(in)-1].Tangent(1), out[0].Tangent(0)
	return u.Cross(v) < 0 && u.Dot(v) < -math.Cos(narrowTurn)
}

// reinforced reports whether a mark to be sewn over lies at a place.
func (p *Piece) reinforced(at geom.Point) bool {
	for _, l := range p.Lines {
		if l.Kind == ReinforcePoint && len(l.Nodes) > 0 && l.Nodes[0].At.Dist(at) <= markReach {
			return true
		}
	}
	return false
}

// reinforceMend marks a place of a piece to be sewn over.
func reinforceMend(p *Piece, at geom.Point) Mend {
	q := p.Place.Affine().Apply(at)
	return Mend{Title: "Mark the end to be sewn over", Act: "add-mark", Args: map[string]string{
		"piece": idText(p.ID), "at": exactFigure(toGrid(q.X)) + "mm," + exactFigure(toGrid(q.Y)) + "mm", "kind": PointReinforce.String(), "name": "end of the slit",
	}}
}
