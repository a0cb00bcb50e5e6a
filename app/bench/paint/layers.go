package paint

import (
	"image"
	"math"
)

// Layers shows a scene that stands still under one that moves. The still layer
// is painted anew only as far as it changed; for the moving one, what it covered
// is restored from the still layer first.
type Layers struct {
	painter *Painter
	view    View
	pal     Palette
	still   *Scene
	boxes   []image.Rectangle // of the items of still
	base    *image.RGBA       // still alone
	out     *image.RGBA       // with the moving layer over it
	moving  *Scene
	covered []image.Rectangle // what the moving layer covers in out
}

// NewLayers returns layers that are painted by p.
func NewLayers(p *Painter) *Layers { return &Layers{painter: p} }

// mostRects is how many separate rectangles are repainted one by one; more are
// taken as one.
const mostRects = 8

// Frame paints what changed since the last frame and returns the picture and the
// rectangles of it that may have changed, none if it is the same. moving may be
// nil; its grid does not count. The picture belongs to the layers and is painted
// over by the next Frame. A view that cannot be painted (no size, no scale)
// gives nil.
func (l *Layers) Frame(v View, pal *Palette, still, moving *Scene) (*image.RGBA, []image.Rectangle) {
	if !v.sound() {
		return nil, nil
	}
	l.painter.nextFrame()
	changed, fresh := l.paintStill(v, pal, still)
	if !fresh && len(changed) == 0 && moving == l.moving {
		return l.out, nil
	}
	for _, r := range l.covered {
		copyBox(l.out, l.base, r)
		changed = addRect(changed, r)
	}
	l.moving, l.covered = moving, l.covered[:0]
	if moving != nil {
		l.covered = l.painter.over(l.out, v, pal, moving.Items, l.covered)
		for _, r := range l.covered {
			changed = addRect(changed, r)
		}
	}
	if fresh {
		changed = []image.Rectangle{v.bounds()}
	}
	return l.out, changed
}

// paintStill brings the still layer up to date in base and out, and returns what
// was painted, with fresh for the whole.
func (l *Layers) paintStill(v View, pal *Palette, still *Scene) (changed []image.Rectangle, fresh bool) {
	if by, ok := l.moved(v); ok && *pal == l.pal && still == l.still {
		l.shift(v, pal, by)
		return nil, true
	}
	if l.base == nil || v != l.view || *pal != l.pal {
		l.paintAll(v, pal, still)
		return nil, true
	}
	if still == l.still {
		return nil, false
	}
	changed, boxes, ok := l.difference(still)
	if !ok {
		l.paintAll(v, pal, still)
		return nil, true
	}
	l.still, l.boxes = still, boxes
	for _, r := range changed {
		l.painter.paint(l.base, l.out, v, pal, l.within(r), nil, r)
	}
	return changed, false
}

// paintAll paints the still layer anew.
func (l *Layers) paintAll(v View, pal *Palette, still *Scene) {
	if l.base == nil || l.base.Rect != v.bounds() {
		l.base, l.out = image.NewRGBA(v.bounds()), image.NewRGBA(v.bounds())
	}
	l.view, l.pal, l.still = v, *pal, still
	l.boxes = make([]image.Rectangle, len(still.Items))
	l.covered = l.covered[:0]
	l.painter.paint(l.base, l.out, v, pal, still, l.boxes, v.bounds())
}

// wholePixels is how far, in pixels, a way may be from whole pixels and count as such:
// what rounding leaves of a way that was told in pixels.
const wholePixels = 1e-9

// moved returns by how many whole pixels the picture has moved since the last frame;
// false if it did not, or not so, or so far that little of it is left.
func (l *Layers) moved(v View) (image.Point, bool) {
	x, y := math.Round(v.X-l.view.X), math.Round(v.Y-l.view.Y)
	if l.base == nil || math.Abs(x) > float64(v.W)/2 || math.Abs(y) > float64(v.H)/2 {
		return image.Point{}, false
	}
	if math.Abs(v.X-l.view.X-x) > wholePixels || math.Abs(v.Y-l.view.Y-y) > wholePixels || x == 0 && y == 0 {
		return image.Point{}, false
	}
	before := l.view
	before.X, before.Y = v.X, v.Y
	return image.Pt(int(x), int(y)), before == v
}

// shift moves the still layer by whole pixels and paints what came into sight.
func (l *Layers) shift(v View, pal *Palette, by image.Point) {
	shiftPixels(l.base, by)
	for i := range l.boxes {
		l.boxes[i] = l.boxes[i].Add(by)
	}
	l.view = v
	all := v.bounds()
	kept := all.Add(by).Intersect(all)
	for _, r := range []image.Rectangle{
		{all.Min, image.Pt(all.Max.X, kept.Min.Y)}, {image.Pt(all.Min.X, kept.Max.Y), all.Max},
		{image.Pt(all.Min.X, kept.Min.Y), image.Pt(kept.Min.X, kept.Max.Y)}, {image.Pt(kept.Max.X, kept.Min.Y), image.Pt(all.Max.X, kept.Max.Y)},
	} {
		l.painter.paint(l.base, nil, v, pal, l.within(r), nil, r)
	}
	copy(l.out.Pix, l.base.Pix)
	l.covered = l.covered[:0]
}

// shiftPixels moves the pixels of a picture; what comes in keeps what it was.
func shiftPixels(img *image.RGBA, by image.Point) {
	from := img.Rect.Sub(by).Intersect(img.Rect)
	long := 4 * from.Dx()
	for i := range from.Dy() {
		y := from.Min.Y + i
		if by.Y > 0 { // from below, so that nothing is lost
			y = from.Max.Y - 1 - i
		}
		src := img.PixOffset(from.Min.X, y)
		dst := img.PixOffset(from.Min.X+by.X, y+by.Y)
		copy(img.Pix[dst:dst+long], img.Pix[src:src+long])
	}
}

// within returns the still scene with only the items that touch r.
func (l *Layers) within(r image.Rectangle) *Scene {
	s := &Scene{Grid: l.still.Grid}
	for i, it := range l.still.Items {
		if l.boxes[i].Overlaps(r) {
			s.Items = append(s.Items, it)
		}
	}
	return s
}

// difference returns the rectangles in which the new still scene may look
// different from the one that is painted, and the boxes of its items; false where
// all must be painted anew.
func (l *Layers) difference(still *Scene) (changed, boxes []image.Rectangle, ok bool) {
	if still.Grid != l.still.Grid {
		return nil, nil, false
	}
	old := make(map[*Item]int, len(l.still.Items))
	for i, it := range l.still.Items {
		old[it] = i
	}
	last, fresh := -1, 0
	for _, it := range still.Items {
		at, kept := old[it]
		switch {
		case !kept:
			fresh++
		case at < last:
			return nil, nil, false // the items changed places
		default:
			last = at
		}
	}
	// Counted before any is measured: where most is new, all is painted and measured anew.
	if gone := len(l.still.Items) - (len(still.Items) - fresh); 2*(fresh+gone) > len(still.Items)+len(l.still.Items) {
		return nil, nil, false
	}
	boxes = make([]image.Rectangle, len(still.Items))
	for i, it := range still.Items {
		if at, kept := old[it]; kept {
			boxes[i] = l.boxes[at]
			delete(old, it)
			continue
		}
		boxes[i] = l.painter.Bounds(l.view, &l.pal, it)
		changed = addRect(changed, boxes[i].Intersect(l.view.bounds()))
	}
	for _, at := range old {
		changed = addRect(changed, l.boxes[at].Intersect(l.view.bounds()))
	}
	return changed, boxes, true
}

// addRect adds r to a list of rectangles that do not overlap one another.
func addRect(list []image.Rectangle, r image.Rectangle) []image.Rectangle {
	if r.Empty() {
		return list
	}
	for i := 0; i < len(list); i++ {
		if list[i].Overlaps(r) {
			r = r.Union(list[i])
			list[i] = list[len(list)-1]
			list = list[:len(list)-1]
			i = -1 // the larger one may reach others
		}
	}
	if len(list) < mostRects {
		return append(list, r)
	}
	for _, o := range list {
		r = r.Union(o)
	}
	return append(list[:0], r)
}
