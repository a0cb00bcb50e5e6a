package paint

import (
	"image"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"hemlet/geom"
)

// Painter paints scenes. It keeps the chords, letters and buffers that it made
// for the next time, so that one painter should serve one bench for its life. It
// must not be used by two goroutines at once; it spreads its own work over the
// processors.
type Painter struct {
	frames  []*frame // one for each worker that makes items ready; at least one
	ready   []*frame // those that hold what is to be painted, bottom first
	grid    grid
	rasters []raster // one for each worker
}

// New returns a painter, or an error if the fonts cannot be read.
func New() (*Painter, error) {
	f, err := newFonts()
	if err != nil {
		return nil, err
	}
	return &Painter{frames: []*frame{newFrame(f)}}, nil
}

// sound reports whether the view can be painted at all.
func (v View) sound() bool {
	return v.W > 0 && v.H > 0 && v.Scale > 0 && v.DPR > 0 && !math.IsInf(v.Scale, 0) && !math.IsInf(v.DPR, 0) &&
		geom.Point{X: v.X, Y: v.Y}.Finite()
}

// bounds returns the pixels of the view.
func (v View) bounds() image.Rectangle { return image.Rect(0, 0, v.W, v.H) }

// Paint paints the scene over the whole of dst, which must be v.W by v.H pixels
// from (0, 0) and becomes opaque.
func (p *Painter) Paint(dst *image.RGBA, v View, pal *Palette, s *Scene) {
	p.nextFrame()
	p.paint(dst, nil, v, pal, s, nil, v.bounds())
}

// paint paints the part of the scene that lies in clip, and copies it to also if
// that is not nil. boxes, if not nil, takes the pixels that each item touches.
func (p *Painter) paint(dst, also *image.RGBA, v View, pal *Palette, s *Scene, boxes []image.Rectangle, clip image.Rectangle) {
	if !v.sound() || clip.Empty() {
		return
	}
	p.prepare(v, pal, s.Items, boxes, clip)
	p.grid.prepare(s.Grid, v, pal)
	p.run(clip, func(w *worker, band image.Rectangle) {
		p.grid.paint(dst, band)
		p.draw(w, dst, band)
		if also != nil {
			copyBox(also, dst, band)
		}
	})
}

// over paints the items alone over what dst holds, and appends the pixels that
// each touches to boxes.
func (p *Painter) over(dst *image.RGBA, v View, pal *Palette, items []*Item, boxes []image.Rectangle) []image.Rectangle {
	if !v.sound() {
		return boxes
	}
	n := len(boxes)
	boxes = append(boxes, make([]image.Rectangle, len(items))...)
	p.prepare(v, pal, items, boxes[n:], v.bounds())
	all := image.Rectangle{}
	for i := range boxes[n:] {
		box := &boxes[n+i]
		*box = box.Intersect(v.bounds())
		all = all.Union(*box)
	}
	p.run(all, func(w *worker, band image.Rectangle) { p.draw(w, dst, band) })
	return boxes
}

// Bounds returns the pixels that the item touches in the view, those beyond its
// borders included.
func (p *Painter) Bounds(v View, pal *Palette, it *Item) image.Rectangle {
	if !v.sound() {
		return image.Rectangle{}
	}
	f := p.frames[0]
	f.begin(v, pal, image.Rectangle{})
	return f.item(it)
}

// TextWidth returns how many screen units the text takes at the size in screen
// units on a screen with dpr device pixels to a unit.
func (p *Painter) TextWidth(text string, size float64, w Weight, dpr float64) float64 {
	f := p.frames[0]
	return f.texts.measure(f.fonts.face(w, size*dpr), text).width / dpr
}

// nextFrame counts a frame.
func (p *Painter) nextFrame() {
	for _, f := range p.frames {
		f.flats.nextFrame()
	}
}

// fewItems is how many items one worker makes ready sooner than many would.
const fewItems = 32

// prepare makes the items ready, each worker some that follow one another, and sets boxes, if
// not nil, to the pixels that each touches.
func (p *Painter) prepare(v View, pal *Palette, items []*Item, boxes []image.Rectangle, cull image.Rectangle) {
	n := max(1, min(runtime.GOMAXPROCS(0), len(items)/fewItems))
	for len(p.frames) < n {
		p.frames = append(p.frames, newFrame(p.frames[0].fonts.another()))
	}
	for _, f := range p.frames {
		f.begin(v, pal, cull)
	}
	p.ready = p.frames[:n]
	part := func(k int) {
		from, to := len(items)*k/n, len(items)*(k+1)/n
		for i := from; i < to; i++ {
			box := p.ready[k].item(items[i])
			if boxes != nil {
				boxes[i] = box
			}
		}
	}
	var wg sync.WaitGroup
	for k := 1; k < n; k++ {
		wg.Add(1)
		go func() {
			defer wg.Done()
			part(k)
		}()
	}
	part(0)
	wg.Wait()
}

// draw lays down what of the items that are ready lies in the band.
func (p *Painter) draw(w *worker, dst *image.RGBA, band image.Rectangle) {
	for _, f := range p.ready {
		w.draw(dst, f, band)
	}
}

// smallJob is the number of pixels up to which one worker is quicker than many.
const smallJob = 1 << 16

// bandsPerWorker evens out the work between the busy and the empty parts of the
// bench.
const bandsPerWorker = 2

// worker draws bands with a raster of its own.
type worker struct{ r *raster }

// run calls draw for horizontal bands that make up the box, on all processors.
func (p *Painter) run(box image.Rectangle, draw func(*worker, image.Rectangle)) {
	if box.Empty() {
		return
	}
	n := runtime.GOMAXPROCS(0)
	if box.Dx()*box.Dy() <= smallJob {
		n = 1
	}
	for len(p.rasters) < n {
		p.rasters = append(p.rasters, raster{})
	}
	if n == 1 {
		draw(&worker{&p.rasters[0]}, box)
		return
	}
	bands := n * bandsPerWorker
	var next atomic.Int32
	var wg sync.WaitGroup
	for i := range n {
		wg.Add(1)
		go func() {
			defer wg.Done()
			w := &worker{&p.rasters[i]}
			for {
				b := int(next.Add(1)) - 1
				if b >= bands {
					return
				}
				band := box
				band.Min.Y = box.Min.Y + box.Dy()*b/bands
				band.Max.Y = box.Min.Y + box.Dy()*(b+1)/bands
				if !band.Empty() {
					draw(w, band)
				}
			}
		}()
	}
	wg.Wait()
}

// draw lays down what of the frame lies in the band.
func (w *worker) draw(dst *image.RGBA, f *frame, band image.Rectangle) {
	for i := range f.ops {
		o := &f.ops[i]
		box := o.box.Intersect(band)
		if box.Empty() {
			continue
		}
		switch o.kind {
		case opLetters:
			for _, l := range f.letters[o.from:o.to] {
				l.blit(dst, box, l.x, l.y, o.ink)
			}
		case opPicture:
			o.picture.paint(dst, box)
		case opFill:
			w.r.begin(box)
			w.r.polygon(f.pts[o.from:o.to])
			w.r.sweep(dst, o.ink)
		case opStroke:
			w.r.begin(box)
			w.r.stroke(f.pts[o.from:o.to], o.cum, o.scale, o.closed, o.pen, box)
			w.r.sweep(dst, o.ink)
		}
	}
}

// copyBox copies the pixels of the box from src to dst, which are of one size.
func copyBox(dst, src *image.RGBA, box image.Rectangle) {
	for y := box.Min.Y; y < box.Max.Y; y++ {
		at := src.PixOffset(box.Min.X, y)
		copy(dst.Pix[at:at+4*box.Dx()], src.Pix[at:])
	}
}
