package tracer

import (
	"hemlet/app/bench"
	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/geom"
)

// onMain does something on the window's goroutine.
func (*Room) onMain(f func()) { control.OnMain(f) }

// drawnPicture is a drawn picture and what it was drawn from.
type drawnPicture struct {
	pic    *draft.Picture
	of     *paint.Pyramid
	strong float64
	whole  bool
	fault  string
	layer  *sheet.Layer
}

// redraw draws the pictures and what the step lays over them, as far as they changed.
func (r *Room) redraw() {
	if !r.seen {
		return
	}
	pics := r.stacked()
	r.files.keepOnly(pics)
	live := make(map[draft.ID]*drawnPicture, len(pics))
	var layers []*sheet.Layer
	for _, pic := range pics {
		d := r.draw(pic)
		live[pic.ID] = d
		layers = append(layers, d.layer)
	}
	r.drawn = live
	if rim := r.rim(); rim != nil {
		layers = append(layers, rim)
	}
	r.shown = append(layers, r.step.layers()...)
	r.sheet.Put(r.shown...)
	r.loupe.put()
}

// draw returns the picture as the step wants it shown.
func (r *Room) draw(pic *draft.Picture) *drawnPicture {
	read := r.read(pic)
	of, strong := r.step.picture(pic)
	if of == nil {
		of = read.sizes
	}
	d := r.drawn[pic.ID]
	whole := r.showsWhole()
	if d != nil && d.pic == pic && d.of == of && d.strong == strong && d.whole == whole && d.fault == read.fault {
		return d
	}
	d = &drawnPicture{pic: pic, of: of, strong: strong, whole: whole, fault: read.fault}
	d.layer = &sheet.Layer{Things: []*sheet.Thing{{Marks: bench.PictureMarks(pic, of, strong, whole, read.fault)}}}
	return d
}

// showsWhole reports whether pictures are seen whole, as where they are made true by what
// lies round the part that counts.
func (r *Room) showsWhole() bool { return r.step == r.stepNamed(stepTrue) }

// lineOf returns the line round what is seen of a picture.
func (r *Room) lineOf(pic *draft.Picture) []geom.Point {
	if r.showsWhole() {
		c := pic.Corners()
		return c[:]
	}
	return pic.Outline()
}

// rim draws the outline of the picture in hand where there are several.
func (r *Room) rim() *sheet.Layer {
	pic := r.chosen()
	if pic == nil || len(r.pictures()) < 2 {
		return nil
	}
	return &sheet.Layer{Things: []*sheet.Thing{{Marks: []paint.Mark{sheet.Lined(geom.Polygon(r.lineOf(pic)...), sheet.Solid(paint.Chalk, 1.6))}}}}
}
