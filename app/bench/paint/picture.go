package paint

import (
	"image"
	"math"
	"slices"

	"hemlet/geom"
)

// Picture is a picture of which one pixel covers one mm of the item, y down, with its
// left top at the origin, unless it is given a place in the item.
type Picture struct {
	Of *Pyramid
	// Place leads from pixels to mm of the item; nil is as if one covered one.
	Place *geom.Homography
	// Opacity runs from 0 to 1.
	Opacity float64
	// Only, where not nil, is the box in mm of the item within which it is shown, on
	// whole pixels; an item that is turned shows the box round it.
	Only *geom.Rect
	// Ring, where not nil, is the polygon in pixels of the picture inside which it is shown.
	Ring []geom.Point
}

// prepare makes a picture ready.
func (p Picture) prepare(f *frame) {
	if p.Of == nil || !(p.Opacity > 0) {
		return
	}
	w, h := float64(p.Of.W), float64(p.Of.H)
	to := f.toPx.Projective()
	if p.Place != nil {
		to = p.Place.Then(f.toPx)
	}
	back, ok := to.Invert()
	corners := []geom.Point{geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h)}
	if p.Ring != nil {
		corners = append([]geom.Point(nil), p.Ring...)
	}
	for i, c := range corners {
		corners[i] = to.Apply(c)
	}
	box, finite := f.boxOf(corners, 0)
	if p.Only != nil {
		box = box.Intersect(f.within(*p.Only))
	}
	if !ok || !finite || !f.touch(box) {
		return
	}
	s := &shown{of: p.Of, to: to, back: back, scale: to.ScaleAt(geom.Pt(w/2, h/2)), opacity: uint32(256*min(p.Opacity, 1) + 0.5)}
	if p.Ring != nil {
		s.ring = corners
	}
	f.ops = append(f.ops, op{kind: opPicture, box: box, picture: s})
}

// within returns the whole pixels of the view that are nearest to a box in mm.
func (f *frame) within(r geom.Rect) image.Rectangle {
	a, b := f.px(r.Min), f.px(r.Max)
	c, d := f.px(geom.Pt(r.Min.X, r.Max.Y)), f.px(geom.Pt(r.Max.X, r.Min.Y))
	px := geom.RectOf(a, b, c, d)
	whole := func(x float64, most int) int { return int(math.Round(min(max(x, -1), float64(most)+1))) }
	return image.Rect(whole(px.Min.X, f.view.W), whole(px.Min.Y, f.view.H), whole(px.Max.X, f.view.W), whole(px.Max.Y, f.view.H))
}

// shown is a picture where it is seen.
type shown struct {
	of *Pyramid
	// to leads from pixels of the picture, of which one covers scale of the screen's, to
	// those of the screen, and back leads back.
	to, back geom.Homography
	scale    float64
	opacity  uint32 // 0 to 256
	// ring is the polygon in pixels of the screen inside which it is seen, nil for all.
	ring []geom.Point
}

// paint lays down what of the picture lies in the box.
func (s *shown) paint(dst *image.RGBA, box image.Rectangle) {
	l, sx, sy := s.of.levelFor(s.scale)
	run := run{s: s, l: l, sx: sx, sy: sy}
	affine, flat := s.back.Affine()
	row := func(y, left, right int) {
		// Every pixel is measured from the left of the view, so that it does not depend on
		// the box.
		if flat {
			run.paint(dst, affine.Apply(geom.Pt(0.5, float64(y)+0.5)), affine.ApplyVector(geom.Pt(1, 0)), 0, y, left, right)
			return
		}
		for x := left - left%leanRun; x < right; x += leanRun {
			from, to := geom.Pt(float64(x)+0.5, float64(y)+0.5), geom.Pt(float64(x+leanRun)+0.5, float64(y)+0.5)
			at, here := s.to.Source(s.back, from)
			end, there := s.to.Source(s.back, to)
			if !here || !there {
				continue // behind the horizon
			}
			step := end.Sub(at).Mul(1.0 / leanRun)
			run.paint(dst, at, step, x, y, max(x, left), min(x+leanRun, right))
		}
	}
	var cuts []float64
	for y := box.Min.Y; y < box.Max.Y; y++ {
		if s.ring == nil {
			row(y, box.Min.X, box.Max.X)
			continue
		}
		cuts = crossings(cuts[:0], s.ring, float64(y)+0.5)
		for i := 0; i+1 < len(cuts); i += 2 {
			row(y, max(box.Min.X, pixelFrom(cuts[i])), min(box.Max.X, pixelFrom(cuts[i+1])))
		}
	}
}

// crossings appends where a polygon crosses a row of the screen, from left to right.
func crossings(to []float64, ring []geom.Point, y float64) []float64 {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y <= y) != (b.Y <= y) {
			to = append(to, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
		}
	}
	slices.Sort(to)
	return to
}

// pixelFrom returns the first pixel of a row whose middle lies at x or beyond.
func pixelFrom(x float64) int {
	const far = 1 << 24 // beyond any screen
	return int(math.Ceil(min(max(x, -far), far) - 0.5))
}

// leanRun is how many pixels of a row of a leaning picture are taken to lie at even
// distances in it: between places that are exact they are less than a tenth of a pixel
// off, unless it leans so much that its pixels double within 30 of the screen's.
const leanRun = 16

// run lays down pixels of a row of the screen, which lie at even distances in the picture.
type run struct {
	s      *shown
	l      *level
	sx, sy float64
}

// paint lays down the pixels from left to right of row y; pixel x shows the place at of
// the picture, and each next one a step farther.
func (r run) paint(dst *image.RGBA, at, step geom.Point, x, y, left, right int) {
	const one = 1 << fine
	from, to := inside(at.X, step.X, float64(r.s.of.W), right-x)
	from2, to2 := inside(at.Y, step.Y, float64(r.s.of.H), right-x)
	from, to = max(from, from2, left-x), min(to, to2)
	if from >= to {
		return
	}
	du, dv := int64(step.X/r.sx*one), int64(step.Y/r.sy*one)
	u, v := int64((at.X/r.sx-0.5)*one)+int64(from)*du, int64((at.Y/r.sy-0.5)*one)+int64(from)*dv
	i := dst.PixOffset(x+from, y)
	r.l.span(dst.Pix[i:i+4*(to-from)], u, v, du, dv, r.s.opacity)
}
