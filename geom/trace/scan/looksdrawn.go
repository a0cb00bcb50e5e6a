package scan

import (
	"context"
	"math"

	"hemlet/geom"
)

// Parameters of LooksDrawn.
const (
	// looksCell is the side in mm of the cells that are looked at: half of a thin pen.
	looksCell = 0.2
	// penDepth is how far inside ink a place lies at most, in mm, that a pen drew: pens of
	// patterns are up to 1.2 mm wide.
	penDepth = 0.7
	// penPixels is that in pixels at least, for pictures of drawings that are smaller than
	// what they show, as books print them: at 300 dpi a pen of 0.8 mm is 10 pixels wide.
	// A stroke is thin beside what it draws, though: not deeper than penShare of the longer
	// side of the picture.
	penPixels = 6
	penShare  = 1. / 100
	// filledShare is the share of the ink that must lie deeper than that where shapes are
	// filled. Of a filled square of 5 mm half of it does; of pen strokes but their blots.
	filledShare = 0.3
)

// LooksDrawn reports whether the ink of a picture, s pixels per mm, looks like pen strokes
// rather than filled or cut-out shapes: less than a third of it lies deeper than a pen
// draws. Only what lies inside the region counts, a polygon in pixels, nil for all; ink
// that runs out of the picture, such as the lid of a scanner, does not. dark is that of
// Light. A picture without ink looks drawn.
func LooksDrawn(ctx context.Context, r *Raster, s float64, region []geom.Point, dark bool) (bool, error) {
	if !r.whole() || !(s > 0) || math.IsInf(s, 0) {
		return false, errNoPicture
	}
	step := max(1, int(math.Round(looksCell*s)))
	small := meansOf(r, step)
	f, err := Even(ctx, small, Light{S: s / float64(step), Dark: dark})
	if err != nil {
		return false, err
	}
	ink := make([]uint16, len(f.V))
	for y := range f.H {
		for x := range f.W {
			at := geom.Pt((float64(x)+.5)*float64(step), (float64(y)+.5)*float64(step))
			if f.V[y*f.W+x] < Paper/2 && (region == nil || liesIn(at, region)) {
				ink[y*f.W+x] = math.MaxUint16
			}
		}
	}
	clearRim(ink, f.W, f.H)
	all, deep := depths(ink, f.W, f.H, max(penDepth*s, min(penPixels, penShare*float64(max(r.W, r.H))))/float64(step))
	return float64(deep) <= filledShare*float64(all), nil
}

// meansOf returns the means of squares of step pixels; what is left over at the right and
// below is not looked at.
func meansOf(r *Raster, step int) *Raster {
	if step == 1 {
		return r
	}
	out := &Raster{W: max(1, r.W/step), H: max(1, r.H/step)}
	out.Pix = make([]uint8, out.W*out.H)
	for y := range out.H {
		for x := range out.W {
			sum, n := 0, 0
			for j := y * step; j < min((y+1)*step, r.H); j++ {
				for i := x * step; i < min((x+1)*step, r.W); i++ {
					sum += int(r.Pix[j*r.W+i])
					n++
				}
			}
			out.Pix[y*out.W+x] = uint8(sum / n)
		}
	}
	return out
}

// liesIn reports whether a place lies in a polygon, by the crossings of a ray.
func liesIn(at geom.Point, polygon []geom.Point) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > at.Y) != (b.Y > at.Y) && at.X < a.X+(at.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// clearRim takes ink out, which is what is not zero, that hangs together with the rim of the
// picture.
func clearRim[T comparable](ink []T, w, h int) {
	var none T
	var todo []int
	take := func(x, y int) {
		if x >= 0 && y >= 0 && x < w && y < h && ink[y*w+x] != none {
			ink[y*w+x] = none
			todo = append(todo, y*w+x)
		}
	}
	for x := range w {
		take(x, 0)
		take(x, h-1)
	}
	for y := range h {
		take(0, y)
		take(w-1, y)
	}
	for len(todo) > 0 {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		x, y := at%w, at/w
		take(x-1, y)
		take(x+1, y)
		take(x, y-1)
		take(x, y+1)
	}
}

// depths counts the cells of ink, and those that lie deeper than so many cells, by the
// chamfer distance with steps of 3 and 4 (Borgefors 1986).
func depths(ink []uint16, w, h int, deeper float64) (all, deep int) {
	const straight, across = 3, 4
	at := func(x, y int) int {
		if x < 0 || y < 0 || x >= w || y >= h {
			return 0
		}
		return int(ink[y*w+x])
	}
	near := func(x, y, sign int) {
		i := y*w + x
		if ink[i] == 0 {
			return
		}
		ink[i] = uint16(min(int(ink[i]), at(x-sign, y)+straight, at(x, y-sign)+straight, at(x-sign, y-sign)+across, at(x+sign, y-sign)+across))
	}
	for y := range h {
		for x := range w {
			near(x, y, 1)
		}
	}
	for y := h - 1; y >= 0; y-- {
		for x := w - 1; x >= 0; x-- {
			near(x, y, -1)
			if v := ink[y*w+x]; v > 0 {
				all++
				if float64(v) > straight*deeper {
					deep++
				}
			}
		}
	}
	return all, deep
}
