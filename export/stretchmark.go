package export

import (
	"math"

	"hemlet/draft"
	"hemlet/geom"
)

// How the treatment of an edge is drawn, in mm: stretchOff inside the stitching, in waves
// of waveLength and waveHigh where it is gathered, between ticks of stretchTick.
const (
	stretchOff  = 2
	waveLength  = 3
	waveHigh    = 0.6
	stretchTick = 3
)

// stretchMarks returns what is done along parts of edges, on both halves: a wave where
// they are gathered, a dashed line where they are eased, a solid one where they are held,
// each from tick to tick. What is clipped is drawn as clips across the allowance.
func stretchMarks(flat *draft.Flat) []Mark {
	var marks []Mark
	for _, s := range flat.Piece.Stretches {
		for _, e := range flat.Edges {
			if e.Edge.ID == s.Edge {
				marks = append(marks, stretchMark(e, s)...)
			}
		}
	}
	return marks
}

func stretchMark(e draft.FlatEdge, s draft.Stretch) []Mark {
	if s.Kind == draft.ClipStretch {
		return clipMarks(e, s)
	}
	from, to := s.From, s.To
	if e.Half == draft.Far { // which runs the other way
		from, to = 1-to, 1-from
	}
	length := e.Length()
	if length <= 0 {
		return nil
	}
	ends := mark(InternalLine)
	ends.Sort, ends.Solid = s.Kind.String(), true
	for _, share := range [...]float64{from, to} {
		if foot, ok := stand(e, share*length); ok {
			ends.Chains = append(ends.Chains, geom.Path{geom.Line(foot.at, foot.at.Sub(foot.out.Mul(stretchTick)))})
		}
	}
	m := mark(InternalLine, stretchLine(e, from*length, to*length, s.Kind == draft.GatherStretch))
	m.Name, m.Sort, m.Solid = s.Kind.String(), s.Kind.String(), s.Kind != draft.EaseStretch
	if len(m.Chains) == 0 {
		return nil
	}
	return []Mark{ends, m}
}

// stretchLine returns the line inside the stitching from one distance along it to
// another, in chords or in waves.
func stretchLine(e draft.FlatEdge, from, to float64, waves bool) geom.Path {
	step := stretchOff / 2.
	if waves {
		step = waveLength / 2.
	}
	n := max(int(math.Ceil((to-from)/step)), 2)
	var pts []geom.Point
	for k := range n + 1 {
		foot, ok := stand(e, from+(to-from)*float64(k)/float64(n))
		if !ok {
			return nil
		}
		off := float64(stretchOff)
		if waves && k > 0 && k < n {
			off += waveHigh * float64(2*(k%2)-1)
		}
		pts = append(pts, foot.at.Sub(foot.out.Mul(off)))
	}
	var out geom.Path
	for k := 1; k < len(pts); k++ {
		if pts[k].Dist(pts[k-1]) > draft.Grid {
			out = append(out, geom.Line(pts[k-1], pts[k]))
		}
	}
	return out
}

// clipMarks returns the clips along a part of an edge. They are snipped with scissors once
// the seam is sewn, and drawn only.
func clipMarks(e draft.FlatEdge, s draft.Stretch) []Mark {
	m := mark(InternalLine)
	m.Name, m.Sort, m.Solid = s.Kind.String(), s.Kind.String(), true
	for _, clip := range draft.ClipMarks(e, s) {
		m.Chains = append(m.Chains, geom.Path{clip})
	}
	if len(m.Chains) == 0 {
		return nil
	}
	return []Mark{m}
}
