package export

import (
	"sort"

	"hemlet/geom"
)

// clipped is a stretch of a path that lies in a box.
type clipped struct {
	path geom.Path
	// from is the arc length in mm at which it starts, so that dashes run on from
	// one page to the next.
	from float64
}

// clip returns the stretches of the path inside the box, its curves kept. A path
// that lies wholly inside comes back as it is, closed if it was.
func clip(p geom.Path, box geom.Rect) []clipped {
	if len(p) == 0 || !p.Bounds().Overlaps(box) {
		return nil
	}
	if b := p.Bounds(); box.Contains(b.Min) && box.Contains(b.Max) {
		return []clipped{{path: p}}
	}
	var out []clipped
	tape := p.Tape()
	open := false
	for i, s := range p {
		cuts := append(boxCrossings(s, box), 1)
		t0 := 0.0
		for _, t1 := range cuts {
			if t1 <= t0 {
				continue
			}
			inside := box.Contains(s.At((t0 + t1) / 2))
			if inside {
				if !open {
					out = append(out, clipped{from: tape.To(geom.Place{Seg: i, T: t0})})
				}
				last := &out[len(out)-1]
				last.path = append(last.path, s.Between(t0, t1))
			}
			open = inside
			t0 = t1
		}
	}
	return out
}

// boxCrossings returns in ascending order where inside (0, 1) the segment may
// cross the lines on which the sides of the box lie.
func boxCrossings(s geom.Segment, box geom.Rect) []float64 {
	stops := append(append([]float64{0}, s.Extrema()...), 1)
	var ts []float64
	for i := 1; i < len(stops); i++ {
		for _, side := range [...]struct {
			level float64
			of    func(geom.Point) float64
		}{
			{box.Min.X, pointX}, {box.Max.X, pointX}, {box.Min.Y, pointY}, {box.Max.Y, pointY},
		} {
			if t, ok := crossLevel(s, stops[i-1], stops[i], side.level, side.of); ok {
				ts = append(ts, t)
			}
		}
	}
	sort.Float64s(ts)
	return ts
}

func pointX(p geom.Point) float64 { return p.X }
func pointY(p geom.Point) float64 { return p.Y }

// crossLevel returns the parameter between t0 and t1, where the segment is
// monotone, at which it crosses the level.
func crossLevel(s geom.Segment, t0, t1, level float64, of func(geom.Point) float64) (float64, bool) {
	a, b := of(s.At(t0))-level, of(s.At(t1))-level
	if a == b || a > 0 == (b > 0) {
		return 0, false
	}
	if s.Straight {
		t := t0 + (t1-t0)*a/(a-b)
		return t, t > 0 && t < 1
	}
	// 52 halvings reach the last bit of a parameter between 0 and 1.
	for range 52 {
		m := (t0 + t1) / 2
		if of(s.At(m))-level > 0 == (a > 0) {
			t0 = m
		} else {
			t1 = m
		}
	}
	t := (t0 + t1) / 2
	return t, t > 0 && t < 1
}
