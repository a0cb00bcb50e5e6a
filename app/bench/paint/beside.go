package paint

import (
	"math"

	"hemlet/geom"
)

// waveParts is how many chords make up one wave: at the swings of a pattern's
// gathering lines they stray less from it than shows. plainStep is the length of a
// chord, in screen units, of a line that does not swing.
const (
	waveParts = 10
	plainStep = 5.0
)

// prepare makes a line beside a path ready.
func (b Beside) prepare(f *frame) {
	chords := f.flats.get(b.Path, f.scale)
	p, c, ok := f.pen(b.Line)
	if chords == nil || !ok {
		return
	}
	reach := f.units(math.Abs(b.Inset)+math.Abs(b.Swing)) + p.reach()
	corners := geom.RectOf(
		f.px(chords.lo), f.px(chords.hi),
		f.px(geom.Point{X: chords.lo.X, Y: chords.hi.Y}), f.px(geom.Point{X: chords.hi.X, Y: chords.lo.Y}))
	if !f.touch(pixelBox(corners.Min, corners.Max, reach)) {
		return
	}
	w := waver{f: f, line: b, chords: chords, pen: p, ink: c}
	w.total = chords.cum[len(chords.cum)-1] * f.scale
	if !(w.total > 0) {
		return
	}
	n := math.Max(math.Round(w.total/f.units(plainStep)), 1)
	switch {
	case b.Swing != 0 && b.Wave > 0:
		w.waves = math.Max(math.Round(w.total/f.units(b.Wave)), 1)
		n = w.waves * waveParts
	case p.period > 0: // every other step is a dash, the first and the last too
		w.dashed = true
		n = 2*math.Max(math.Round((w.total/p.period*2-1)/2), 0) + 1
	}
	w.step = w.total / n
	seen := f.cull
	w.lo = geom.Point{X: float64(seen.Min.X) - 2*reach, Y: float64(seen.Min.Y) - 2*reach}
	w.hi = geom.Point{X: float64(seen.Max.X) + 2*reach, Y: float64(seen.Max.Y) + 2*reach}
	w.walk()
}

// waver lays the places of a line beside a path down, those alone that can be seen.
// Where they lie follows from the arc length, so that leaving some out moves none.
type waver struct {
	f      *frame
	line   Beside
	chords *flat
	pen    pen
	ink    ink

	total, step, waves float64 // pixels, pixels, number
	dashed             bool
	lo, hi             geom.Point
	pts                []geom.Point
	next               float64 // the number of the place that goes on from pts
}

func (w *waver) walk() {
	scale := w.f.scale
	for i := 1; i < len(w.chords.pts); i++ {
		p, q := w.chords.pts[i-1], w.chords.pts[i]
		a, b := w.f.px(p), w.f.px(q)
		t0, t1, ok := clipped(a, b, w.lo, w.hi)
		if !ok {
			continue
		}
		// The left in the document is found there; on the screen, y points down.
		left := w.f.toPx.ApplyVector(q.Sub(p).Left()).Unit()
		s0, s1 := w.chords.cum[i-1]*scale, w.chords.cum[i]*scale
		k, last := math.Ceil((s0+(s1-s0)*t0)/w.step-stepSlack), math.Floor((s0+(s1-s0)*t1)/w.step+stepSlack)
		for ; k <= last; k++ {
			if len(w.pts) > 0 && k < w.next {
				continue // the place at the joint of two chords
			}
			if k != w.next || w.dashed && math.Mod(k, 2) == 0 {
				w.flush()
			}
			s := k * w.step
			off := w.f.units(w.line.Inset)
			if w.waves > 0 {
				off += w.f.units(w.line.Swing) * math.Sin(2*math.Pi*w.waves*s/w.total)
			}
			at := 0.0
			if s1 > s0 {
				at = (s - s0) / (s1 - s0)
			}
			w.pts = append(w.pts, a.Lerp(b, at).Add(left.Mul(off)))
			w.next = k + 1
		}
	}
	w.flush()
}

// stepSlack is what rounding may take from the number of a place.
const stepSlack = 1e-6

// flush lays down what was gathered.
func (w *waver) flush() {
	if len(w.pts) > 1 {
		w.f.polyline(w.ink, w.pen, false, w.pts...)
	}
	w.pts = w.pts[:0]
}
