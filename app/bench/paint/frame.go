package paint

import (
	"image"
	"math"

	"hemlet/geom"
)

// opKind says what an op lays down.
type opKind uint8

const (
	opFill opKind = iota
	opStroke
	opLetters
	opPicture
)

// op is one thing to lay down, in device pixels, ready for every band.
type op struct {
	kind     opKind
	closed   bool
	box      image.Rectangle // the pixels that it may touch
	from, to int             // its points, or its letters, in the frame
	cum      []float64       // arc length at each point, in mm
	scale    float64         // pixels per mm of cum
	pen      pen
	ink      ink
	picture  *shown
}

// frame is a scene, or some items of it, made ready for painting. Its slices are used again
// from frame to frame.
type frame struct {
	view  View
	pal   *Palette
	fonts *fonts
	texts *texts
	flats *flats
	cull  image.Rectangle // what lies outside is left out

	ops     []op
	pts     []geom.Point
	letters []placed

	// Of the item in hand: the map to pixels, pixels per mm of the item, and the
	// pixels that it touches, whether culled or not.
	toPx  geom.Affine
	scale float64
	box   image.Rectangle
	yield yielding
}

// newFrame returns a frame with caches of its own, so that frames can be filled side by side.
func newFrame(f *fonts) *frame { return &frame{fonts: f, texts: &texts{fonts: f}, flats: &flats{}} }

// begin empties the frame.
func (f *frame) begin(v View, pal *Palette, cull image.Rectangle) {
	f.view, f.pal, f.cull = v, pal, cull
	clear(f.ops) // lets go of the chords
	f.ops, f.pts, f.letters = f.ops[:0], f.pts[:0], f.letters[:0]
}

// item makes the item ready and returns the pixels that it touches. Culled marks
// count for the box as well.
func (f *frame) item(it *Item) image.Rectangle {
	place := it.place()
	f.toPx = place.Then(f.view.Affine())
	f.scale = math.Sqrt(math.Abs(f.toPx.Det()))
	f.box = image.Rectangle{}
	if !(f.scale > 0) || math.IsInf(f.scale, 0) {
		return f.box
	}
	yields := f.yields(it.Marks)
	for i, m := range it.Marks {
		if t, ok := m.(Text); ok && yields && t.Yield > 0 {
			if t, ok = f.yield.of[i]; ok {
				t.prepare(f)
			}
			continue
		}
		m.prepare(f)
	}
	return f.box
}

// touch adds the box to that of the item and reports whether it can be seen.
func (f *frame) touch(box image.Rectangle) bool {
	f.box = f.box.Union(box)
	return box.Overlaps(f.cull)
}

// pen turns a line into device pixels; false where it leaves no mark.
func (f *frame) pen(l Line) (pen, ink, bool) {
	c := f.pal.ink(l.Colour)
	if !(l.Width > 0) || c.alpha == 0 {
		return pen{}, ink{}, false
	}
	p := pen{half: l.Width * f.view.DPR / 2, join: l.Join, cap: l.Cap}
	if n := l.Dash.period() * f.view.DPR; n > 0 {
		p.period = n
		for i, d := range l.Dash {
			p.dash[i] = d * f.view.DPR
		}
	}
	return p, c, true
}

// px returns the pixel place of a point of the item in hand.
func (f *frame) px(p geom.Point) geom.Point { return f.toPx.Apply(p) }

// polygon fills the closed polygon through places in pixels.
func (f *frame) polygon(c ink, pts ...geom.Point) {
	if c.alpha == 0 {
		return
	}
	box, ok := f.boxOf(pts, 1)
	if !ok || !f.touch(box) {
		return
	}
	from := len(f.pts)
	f.pts = append(f.pts, pts...)
	f.ops = append(f.ops, op{kind: opFill, box: box, from: from, to: len(f.pts), ink: c})
}

// polyline lines the places in pixels. A closed one repeats its first place.
func (f *frame) polyline(c ink, p pen, closed bool, pts ...geom.Point) {
	if c.alpha == 0 || !(p.half > 0) {
		return
	}
	p.period = 0
	box, ok := f.boxOf(pts, p.reach())
	if !ok || !f.touch(box) {
		return
	}
	from := len(f.pts)
	for _, q := range pts {
		if len(f.pts) == from || q != f.pts[len(f.pts)-1] {
			f.pts = append(f.pts, q)
		}
	}
	f.ops = append(f.ops, op{kind: opStroke, box: box, from: from, to: len(f.pts), pen: p, ink: c, closed: closed})
}

// boxOf returns the pixels within the margin of the places, false if one of them
// is not finite.
func (f *frame) boxOf(pts []geom.Point, margin float64) (image.Rectangle, bool) {
	r := geom.RectOf(pts...)
	return pixelBox(r.Min, r.Max, margin), r.Min.Finite() && r.Max.Finite()
}

// prepare makes a shape ready.
func (s Shape) prepare(f *frame) {
	chords := f.flats.get(s.Path, f.scale)
	if chords == nil {
		return
	}
	fill := f.pal.ink(s.Fill)
	p, line, lined := f.pen(s.Line)
	margin := 1.0
	if lined {
		margin = p.reach()
	}
	corners := geom.RectOf(
		f.px(chords.lo), f.px(chords.hi),
		f.px(geom.Point{X: chords.lo.X, Y: chords.hi.Y}), f.px(geom.Point{X: chords.hi.X, Y: chords.lo.Y}))
	box := pixelBox(corners.Min, corners.Max, margin)
	if fill.alpha == 0 && !lined || !f.touch(box) {
		return
	}
	if size := math.Max(chords.hi.X-chords.lo.X, chords.hi.Y-chords.lo.Y) * f.scale; size < f.units(s.Least) {
		return
	}
	from := len(f.pts)
	m := f.toPx
	for _, q := range chords.pts {
		f.pts = append(f.pts, geom.Point{X: m.A*q.X + m.C*q.Y + m.E, Y: m.B*q.X + m.D*q.Y + m.F})
	}
	o := op{box: box, from: from, to: len(f.pts), closed: chords.closed, cum: chords.cum, scale: f.scale}
	if fill.alpha > 0 {
		o.kind, o.ink = opFill, fill
		f.ops = append(f.ops, o)
	}
	if lined {
		o.kind, o.ink, o.pen = opStroke, line, p
		f.ops = append(f.ops, o)
	}
}
