package draft

import (
	"math"

	"hemlet/geom"
)

// Clips in an allowance, in mm: every 1/4 to 1/2 in, to within 1/8 in of the stitching
// (Apparel: Design, Textiles & Construction, 2012, pp. 451-452), which is said of the
// allowances of people's clothes. The tighter the curve, the closer they lie: between two
// clips the seam folds along a chord, which may leave the curve by clipSagitta, the width of
// a thread. That gives the 1/4 in for a radius of 20 mm and the 1/2 in for one of 80 mm, and
// goes on below for the hollows of dolls. The clear part shrinks with the allowance, but not
// below what a notch leaves (rule of scale).
const (
	clipSagitta    = 0.25
	clipMost       = 12.7
	clipLeast      = 2
	clipClearShare = 0.2 // of the allowance: from the end of a clip to the stitching
	clipClearMost  = 3.2
	clipClearLeast = 1
)

// clipSpacing returns how far apart clips lie along a curve of a radius in mm: the chord
// whose sagitta is clipSagitta, s = sqrt(8 r h).
func clipSpacing(radius float64) float64 {
	return min(max(math.Sqrt(8*radius*clipSagitta), clipLeast), clipMost)
}

func clipGap(width float64) float64 {
	return min(max(clipClearShare*width, clipClearLeast), clipClearMost)
}

// tightest returns the smallest radius in mm of a flat edge between two distances along it.
func tightest(fe FlatEdge, from, to float64) float64 {
	least, along := math.Inf(1), 0.0
	for _, part := range fe.Parts {
		for _, s := range part {
			for i := range hollowSamples {
				t0, t1 := float64(i)/hollowSamples, float64(i+1)/hollowSamples
				step := s.At(t0).Dist(s.At(t1))
				if middle := along + step/2; !s.Straight && middle >= from && middle <= to {
					if k := math.Abs(s.Curvature((t0 + t1) / 2)); k > 0 {
						least = min(least, 1/k)
					}
				}
				along += step
			}
		}
	}
	return least
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
	n := max(int(math.Ceil((to-from)/clipSpacing(tightest(fe, from, to))-shareSlack)), 1)
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
