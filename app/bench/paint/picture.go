package paint

import (
	"image"

	"hemlet/geom"
)

// Picture is a picture of which one pixel covers one mm of the item, y down, with its
// left top at the origin. The item's place makes it as large as it is.
type Picture struct {
	Of *Pyramid
	// Opacity runs from 0 to 1.
	Opacity float64
}

// prepare makes a picture ready.
func (p Picture) prepare(f *frame) {
	if p.Of == nil || !(p.Opacity > 0) {
		return
	}
	w, h := float64(p.Of.W), float64(p.Of.H)
	back, ok := f.toPx.Invert()
	box, finite := f.boxOf([]geom.Point{f.px(geom.Pt(0, 0)), f.px(geom.Pt(w, 0)), f.px(geom.Pt(w, h)), f.px(geom.Pt(0, h))}, 0)
	if !ok || !finite || !f.touch(box) {
		return
	}
	f.ops = append(f.ops, op{kind: opPicture, box: box, picture: &shown{of: p.Of, back: back, scale: f.scale, opacity: uint32(256*min(p.Opacity, 1) + 0.5)}})
}

// shown is a picture where it is seen.
type shown struct {
	of *Pyramid
	// back leads from pixels of the screen to those of the picture, of which one covers
	// scale of the screen's.
	back    geom.Affine
	scale   float64
	opacity uint32 // 0 to 256
}

// paint lays down what of the picture lies in the box.
func (s *shown) paint(dst *image.RGBA, box image.Rectangle) {
	l, sx, sy := s.of.levelFor(s.scale)
	const one = 1 << fine
	step := s.back.ApplyVector(geom.Pt(1, 0))
	du, dv := int64(step.X/sx*one), int64(step.Y/sy*one)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		// Every pixel is measured from the left of the view, so that it does not depend on
		// the box.
		at := s.back.Apply(geom.Pt(0.5, float64(y)+0.5))
		from, to := inside(at.X, step.X, float64(s.of.W), box.Max.X)
		from2, to2 := inside(at.Y, step.Y, float64(s.of.H), box.Max.X)
		from, to = max(from, from2, box.Min.X), min(to, to2)
		if from >= to {
			continue
		}
		u, v := int64((at.X/sx-0.5)*one)+int64(from)*du, int64((at.Y/sy-0.5)*one)+int64(from)*dv
		i := dst.PixOffset(from, y)
		l.span(dst.Pix[i:i+4*(to-from)], u, v, du, dv, s.opacity)
	}
}
