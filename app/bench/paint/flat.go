package paint

import (
	"math"

	"hemlet/geom"
)

// flatTolerance is how far, in device pixels, a chord may stray from its curve:
// half of what begins to show as a change of grey along a hairline; half as much
// again costs a fifth of the time of a repaint.
const flatTolerance = 0.08

// keepFrames is for how many frames the chords of a path are kept unused. It
// spans a few zoom steps or undos; beyond it the path is gone from the document.
const keepFrames = 64

// pathKey tells paths apart by where their segments lie in memory. Paths are
// never changed, and the cache holds on to the segments, so that a place in
// memory means one shape.
type pathKey struct {
	first *geom.Segment
	n     int
}

// flat is a path as chords, in the path's own millimetres.
type flat struct {
	bucket int
	pts    []geom.Point
	cum    []float64 // arc length in mm at each point
	lo, hi geom.Point
	closed bool
	frame  int
}

// flats keeps the chords of paths, one set for each path: that of the zoom bucket
// in which it was last seen.
type flats struct {
	byPath map[pathKey]*flat
	frame  int
}

// zoomBucket returns the number of the bucket that holds the scale in pixels per
// mm, and the tolerance in mm for the largest scale in it. Buckets are an octave
// wide: a zoom by wheel steps makes chords anew every few steps only.
func zoomBucket(scale float64) (bucket int, tol float64) {
	_, bucket = math.Frexp(scale)
	return bucket, flatTolerance / math.Ldexp(1, bucket)
}

// get returns the chords of the path for the scale, nil for a path with nothing
// to draw: empty, or with a place that is not finite.
func (c *flats) get(p geom.Path, scale float64) *flat {
	if len(p) == 0 {
		return nil
	}
	key := pathKey{&p[0], len(p)}
	bucket, tol := zoomBucket(scale)
	f := c.byPath[key]
	if f == nil {
		f = &flat{}
		if c.byPath == nil {
			c.byPath = map[pathKey]*flat{}
		}
		c.byPath[key] = f
	}
	if len(f.pts) == 0 || f.bucket != bucket {
		f.bucket = bucket
		f.make(p, tol)
	}
	f.frame = c.frame
	if !f.lo.Finite() || !f.hi.Finite() {
		return nil
	}
	return f
}

// make fills f with the chords of p. Chords too short to see are merged with
// their neighbours, so that every chord has a direction.
func (f *flat) make(p geom.Path, tol float64) {
	f.closed = p.Closed()
	raw := p.AppendFlat(f.pts[:0], tol)
	shortest := tol / 4
	pts := raw[:1]
	for _, q := range raw[1:] {
		if q.Dist(pts[len(pts)-1]) > shortest {
			pts = append(pts, q)
		}
	}
	if last := raw[len(raw)-1]; len(pts) > 1 && !f.closed {
		pts[len(pts)-1] = last
	} else if len(pts) > 2 && f.closed {
		// The start closes the chain; the last chord must not shrink to nothing.
		if pts[len(pts)-1].Dist(pts[0]) <= 2*shortest {
			pts = pts[:len(pts)-1]
		}
		pts = append(pts, pts[0])
	}
	f.pts = pts
	f.cum = append(f.cum[:0], 0)
	f.lo, f.hi = pts[0], pts[0]
	for i, q := range pts[1:] {
		f.cum = append(f.cum, f.cum[i]+q.Dist(pts[i]))
		f.lo = geom.Point{X: math.Min(f.lo.X, q.X), Y: math.Min(f.lo.Y, q.Y)}
		f.hi = geom.Point{X: math.Max(f.hi.X, q.X), Y: math.Max(f.hi.Y, q.Y)}
	}
}

// nextFrame counts a frame and now and then drops what has not been seen lately.
func (c *flats) nextFrame() {
	c.frame++
	if c.frame%keepFrames != 0 {
		return
	}
	for k, f := range c.byPath {
		if c.frame-f.frame > keepFrames {
			delete(c.byPath, k)
		}
	}
}
