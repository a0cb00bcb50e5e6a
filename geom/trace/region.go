package trace

import (
	"math"
	"slices"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// within returns the sheet cut to the box round its region. What lies in the box but not
// in the region is replaced by the mirror image of what does, row by row, so that a table
// beside the paper does not count when its light is measured. A sheet without a region
// stays as it is. It reports false where the region and the picture have nothing in
// common.
func (sh Sheet) within() (Sheet, bool) {
	if len(sh.Region) < 3 {
		sh.Region = nil
		return sh, true
	}
	r := sh.Raster
	box := geom.RectOf(sh.Region...)
	x0, y0 := max(0, floor(box.Min.X)), max(0, floor(box.Min.Y))
	x1, y1 := min(r.W, -floor(-box.Max.X)), min(r.H, -floor(-box.Max.Y))
	if x0 >= x1 || y0 >= y1 {
		return sh, false
	}
	off := geom.Pt(float64(x0), float64(y0))
	m, ok := sh.Map.After(geom.Translation(off))
	if !ok {
		return sh, false
	}
	out := Sheet{Map: m, Raster: &scan.Raster{W: x1 - x0, H: y1 - y0, Pix: make([]uint8, (x1-x0)*(y1-y0))}}
	for _, p := range sh.Region {
		out.Region = append(out.Region, p.Sub(off))
	}
	seen := false
	var last []uint8
	for y := range out.Raster.H {
		row := out.Raster.Pix[y*out.Raster.W:][:out.Raster.W]
		copy(row, r.Pix[(y0+y)*r.W+x0:])
		switch spans := spansOf(out.Region, float64(y)+.5, len(row)); {
		case len(spans) > 0:
			mirror(row, spans)
			if !seen {
				fillUp(out.Raster, y)
			}
			seen, last = true, row
		case last != nil:
			copy(row, last)
		}
	}
	return out, seen
}

// floor returns the whole number below x, of what a picture can hold.
func floor(x float64) int { return int(math.Floor(math.Max(-1e6, math.Min(1e6, x)))) }

// fillUp copies row y to all above it.
func fillUp(r *scan.Raster, y int) {
	for k := range y {
		copy(r.Pix[k*r.W:][:r.W], r.Pix[y*r.W:][:r.W])
	}
}

// spansOf returns the columns, from and to, whose middles lie in the polygon at height y.
func spansOf(region []geom.Point, y float64, w int) [][2]int {
	var cuts []float64
	for i, a := range region {
		b := region[(i+1)%len(region)]
		if (a.Y <= y) != (b.Y <= y) {
			cuts = append(cuts, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
		}
	}
	slices.Sort(cuts)
	column := func(x float64) int { return int(math.Max(0, math.Min(float64(w), math.Ceil(x-.5)))) }
	var spans [][2]int
	for i := 0; i+1 < len(cuts); i += 2 {
		if from, to := column(cuts[i]), column(cuts[i+1]); from < to {
			spans = append(spans, [2]int{from, to})
		}
	}
	return spans
}

// mirror fills what lies outside of the spans, from the right end of the span before it, or
// before the first from its left end.
func mirror(row []uint8, spans [][2]int) {
	// fold returns the place at distance d inside a span of n, to and fro.
	fold := func(d, n int) int {
		if d %= 2 * n; d >= n {
			d = 2*n - 1 - d
		}
		return d
	}
	first := spans[0]
	for x := first[0] - 1; x >= 0; x-- {
		row[x] = row[first[0]+fold(first[0]-1-x, first[1]-first[0])]
	}
	for i, s := range spans {
		end := len(row)
		if i+1 < len(spans) {
			end = spans[i+1][0]
		}
		for x := s[1]; x < end; x++ {
			row[x] = row[s[1]-1-fold(x-s[1], s[1]-s[0])]
		}
	}
}
