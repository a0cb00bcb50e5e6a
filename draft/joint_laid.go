package draft

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// Sides lists the pieces that are laid together, in order from A to B.
func (j SeamJoint) Sides() []JointSide {
	row := make([]JointSide, 0, len(j.Between)+2)
	row = append(row, j.A)
	row = append(row, j.Between...)
	return append(row, j.B)
}

// Kinked reports whether the lines make a kink that is seen and may be mended: no corner,
// and none in gathers.
func (j SeamJoint) Kinked() bool { return !j.Smooth() && !j.Corner() && !j.DrawnUp }

// SeamJoints returns the joints at the ends of one seam: that with the greatest kink that
// is seen first, else the start before the end.
func (s *Slots) SeamJoints(p *Project, seam ID) []SeamJoint {
	var out []SeamJoint
	for _, j := range s.Joints(p) {
		if j.Seam == seam {
			out = append(out, j)
		}
	}
	seen := func(j SeamJoint) float64 {
		if !j.Kinked() {
			return 0
		}
		return math.Abs(j.Kink)
	}
	slices.SortStableFunc(out, func(a, b SeamJoint) int { return cmp.Compare(seen(b), seen(a)) })
	return out
}

// Laid returns the pieces as they lie in the joint's plane, in order from A to B; of a piece
// that is cut on the fold both halves.
func (j SeamJoint) Laid() []Laid {
	var out []Laid
	for _, s := range j.Sides() {
		halves := []Half{Near}
		if s.Piece.FoldEdge() >= 0 {
			halves = append(halves, Far)
		}
		for _, half := range halves {
			// The map of a side says already whether its copy is turned over.
			if flat, err := useMap(s.Piece, EdgeUse{Half: half}); err == nil {
				out = append(out, Laid{s.Piece, s.Use.Copy, half, flat.Then(s.Map)})
			}
		}
	}
	return out
}

// LinePath returns the edge that runs on from the joint, in the joint's plane and run away
// from it.
func (s JointSide) LinePath() geom.Path { return s.awayPath(s.lineIndex(), s.LineEnd) }

// SewnPath returns the edge along which the piece is laid to the next one, in the joint's
// plane and run away from it.
func (s JointSide) SewnPath() geom.Path {
	n, i := len(s.Piece.Edges), s.lineIndex()
	if s.LineEnd == EdgeStart {
		return s.awayPath((i+n-1)%n, EdgeFinish)
	}
	return s.awayPath((i+1)%n, EdgeStart)
}

// awayPath returns edge i in the joint's plane, run away from one of its ends.
func (s JointSide) awayPath(i int, end EdgeEnd) geom.Path {
	path := s.Piece.EdgePath(i).Transform(s.Map)
	if end == EdgeFinish {
		return path.Reverse()
	}
	return path
}

// kinkKey names the finding about a kink at one end of a seam.
func kinkKey(seam ID, end EdgeEnd) string { return fmt.Sprintf("seam/%s/kink %s", seam, end) }

// KinkAt returns at which end of its seam a finding tells of a kink, or false where it tells
// of something else.
func KinkAt(f Finding) (EdgeEnd, bool) {
	for _, end := range [...]EdgeEnd{EdgeStart, EdgeFinish} {
		if f.Seam != "" && f.Key == kinkKey(f.Seam, end) {
			return end, true
		}
	}
	return EdgeStart, false
}
