package draft

import (
	"math"

	"hemlet/geom"
)

// Clips in an allowance, in mm: every 1/4 to 1/2 in, to within 1/8 in of the stitching
// (Apparel: Design, Textiles & Construction, 2012, pp. 451-452), which is said of the
// allowances of people's clothes; for smaller ones in proportion, and never nearer to the
// stitching than a notch (rule of scale).
const (
	clipShare      = 0.6 // of the allowance: from clip to clip
	clipMost       = 12.7
	clipLeast      = 2
	clipClearShare = 0.2 // of the allowance: from the end of a clip to the stitching
	clipClearMost  = 3.2
	clipClearLeast = 1
)

func clipSpacing(width float64) float64 {
	return min(max(clipShare*width, clipLeast), clipMost)
}

func clipGap(width float64) float64 {
	return min(max(clipClearShare*width, clipClearLeast), clipClearMost)
}

// ClipMarks returns where the allowance of an edge of a flat piece is clipped along a
// stretch that is to be: each from the cut edge to clear of the stitching, in the piece's
// own mm. There are none where the allowance is too narrow for it.
func ClipMarks(fe FlatEdge, s Stretch) []geom.Segment {
	length := fe.Length()
	if s.Kind != ClipStretch || !(length > 0) {
		return nil
	}
	from, to := s.From*length, s.To*length
	if fe.Half == Far {
		from, to = length-to, length-from
	}
	width := fe.Start + (fe.End-fe.Start)*(from+to)/2/length
	if width <= clipGap(width) {
		return nil
	}
	n := max(int(math.Round((to-from)/clipSpacing(width))), 1)
	run := geom.NewRun(fe.Parts...)
	var out []geom.Segment
	for k := range n {
		along := from + (to-from)*(float64(k)+0.5)/float64(n)
		w := fe.Start + (fe.End-fe.Start)*along/length
		place, ok := run.At(along)
		if !ok {
			continue
		}
		at, outward := run.Point(place), run.Tangent(place).Left().Mul(-1)
		out = append(out, geom.Line(at.Add(outward.Mul(w)), at.Add(outward.Mul(min(clipGap(w), w)))))
	}
	return out
}
