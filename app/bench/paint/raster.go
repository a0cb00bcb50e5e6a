package paint

import (
	"image"
	"math"
	"math/bits"

	"hemlet/geom"
)

// Places are kept in 1/256 pixel: finer than any eye, and coarse enough that the
// sums of areas stay exact in integers.
const (
	subBits = 8
	sub     = 1 << subBits
	subMask = sub - 1
)

// fullArea is the value of a pixel that is covered whole: its height times twice
// its width.
const fullArea = sub * sub * 2

// slopeBits is the fraction kept of the slope of an edge. The product of a slope
// and a run along its edge never exceeds the edge's own extent shifted by this,
// so that edges of 2^38 sub-pixels (a billion pixels) are safe.
const slopeBits = 24

// cell gathers what the edges through one pixel cover: the height that they
// climb in it, and twice the area to their left.
type cell struct{ cover, area int32 }

// raster turns directed edges into coverage (non-zero winding), by the method of
// exact area accumulation. It looks only at the pixels of a box; what lies left
// of the box counts as climbing at its left side, what lies right of it or above
// or below is left out. Every edge is measured from its own ends, so that the
// coverage of a pixel does not depend on the box.
type raster struct {
	box   image.Rectangle
	w     int
	words int
	cells []cell
	used  []uint64 // one bit for each cell that was touched
}

// begin clears the raster for the pixels of the box, which must not be empty.
func (r *raster) begin(box image.Rectangle) {
	r.box = box
	r.w = box.Dx()
	r.words = (r.w + 63) / 64
	// The last sweep left everything it had used at zero.
	if n := r.w * box.Dy(); n > len(r.cells) {
		r.cells = make([]cell, n+n/4)
	}
	if n := r.words * box.Dy(); n > len(r.used) {
		r.used = make([]uint64, n+n/4)
	}
}

// fix returns the place in 1/256 pixel, rounded to the nearest.
func fix(x float64) int {
	// Adding a large whole number first makes the conversion round down on both
	// sides of zero.
	const bias = 1 << 42
	return int(x*sub+(bias+0.5)) - bias
}

// edge adds the directed edge from a to b, in pixels.
func (r *raster) edge(a, b geom.Point) {
	r.line(fix(a.X), fix(a.Y), fix(b.X), fix(b.Y))
}

// line adds the directed edge, in 1/256 pixel.
func (r *raster) line(x0, y0, x1, y1 int) {
	if y0 == y1 {
		return
	}
	dir := int32(1)
	if y0 > y1 {
		x0, y0, x1, y1, dir = x1, y1, x0, y0, -1
	}
	top, bottom := r.box.Min.Y<<subBits, r.box.Max.Y<<subBits
	if y1 <= top || y0 >= bottom || min(x0, x1) >= r.box.Max.X<<subBits {
		return
	}
	if x0 == x1 {
		r.upright(x0, y0, y1, dir)
		return
	}
	slope := (x1 - x0) << slopeBits / (y1 - y0)
	y, x := y0, x0
	if y < top {
		y = top
		x = x0 + slope*(y-y0)>>slopeBits
	}
	for y < y1 && y < bottom {
		row := y >> subBits
		yNext, xNext := (row+1)<<subBits, 0
		if yNext >= y1 {
			yNext, xNext = y1, x1
		} else {
			xNext = x0 + slope*(yNext-y0)>>slopeBits
		}
		if c := x >> subBits; c == xNext>>subBits && c >= r.box.Min.X && c < r.box.Max.X {
			d := dir * int32(yNext-y) // within one pixel, as most parts of a steep edge are
			r.add(row, c, d, d*int32(x&subMask+xNext&subMask))
		} else {
			r.across(row, x, y&subMask, xNext, yNext-row<<subBits, dir)
		}
		y, x = yNext, xNext
	}
}

// upright adds an edge that stays at one x.
func (r *raster) upright(x, y0, y1 int, dir int32) {
	c := x >> subBits
	twice := int32(x&subMask) * 2
	if c < r.box.Min.X {
		c, twice = r.box.Min.X, 0
	}
	y0 = max(y0, r.box.Min.Y<<subBits)
	y1 = min(y1, r.box.Max.Y<<subBits)
	for y0 < y1 {
		row := y0 >> subBits
		next := min((row+1)<<subBits, y1)
		d := dir * int32(next-y0)
		r.add(row, c, d, d*twice)
		y0 = next
	}
}

// across adds the part of an edge within one row of pixels, from (xa, ya) to
// (xb, yb) with ya < yb counted from the top of the row.
func (r *raster) across(row, xa, ya, xb, yb int, dir int32) {
	ca, cb := xa>>subBits, xb>>subBits
	if ca == cb {
		if ca < r.box.Max.X {
			d := dir * int32(yb-ya)
			if ca < r.box.Min.X {
				r.add(row, r.box.Min.X, d, 0)
			} else {
				r.add(row, ca, d, d*int32(xa&subMask+xb&subMask))
			}
		}
		return
	}
	if xa < xb {
		r.rightwards(row, xa, ya, xb, yb, dir)
	} else {
		r.leftwards(row, xa, ya, xb, yb, dir)
	}
}

// climbBits is the fraction kept of the climb per sub-pixel across.
const climbBits = 32

func (r *raster) rightwards(row, xa, ya, xb, yb int, dir int32) {
	climb := (yb - ya) << climbBits / (xb - xa)
	c, last := xa>>subBits, xb>>subBits
	x, y := xa, ya
	if c < r.box.Min.X {
		c = r.box.Min.X
		x = c << subBits
		y = yb
		if x < xb {
			y = ya + climb*(x-xa)>>climbBits
		}
		r.add(row, c, dir*int32(y-ya), 0)
		if x >= xb {
			return
		}
	}
	for ; c <= last && c < r.box.Max.X; c++ {
		xn, yn := (c+1)<<subBits, 0
		if c == last {
			xn, yn = xb, yb
		} else {
			yn = ya + climb*(xn-xa)>>climbBits
		}
		if d := dir * int32(yn-y); d != 0 {
			r.add(row, c, d, d*int32(x+xn-c<<(subBits+1)))
		}
		x, y = xn, yn
	}
}

func (r *raster) leftwards(row, xa, ya, xb, yb int, dir int32) {
	climb := (yb - ya) << climbBits / (xa - xb)
	c, last := xa>>subBits, xb>>subBits
	x, y := xa, ya
	if c >= r.box.Max.X {
		c = r.box.Max.X - 1
		x = r.box.Max.X << subBits
		if x <= xb {
			return
		}
		y = ya + climb*(xa-x)>>climbBits
	}
	for ; c >= last && c >= r.box.Min.X; c-- {
		xn, yn := c<<subBits, 0
		if c == last {
			xn, yn = xb, yb
		} else {
			yn = ya + climb*(xa-xn)>>climbBits
		}
		if d := dir * int32(yn-y); d != 0 {
			r.add(row, c, d, d*int32(x+xn-c<<(subBits+1)))
		}
		x, y = xn, yn
	}
	if c >= last {
		r.add(row, r.box.Min.X, dir*int32(yb-y), 0)
	}
}

// add notes a climb and twice an area in the pixel at column c of the row.
func (r *raster) add(row, c int, cover, area int32) {
	row -= r.box.Min.Y
	c -= r.box.Min.X
	p := &r.cells[row*r.w+c]
	p.cover += cover
	p.area += area
	r.used[row*r.words+c>>6] |= 1 << (c & 63)
}

// polygon adds the closed chain of edges through the points.
func (r *raster) polygon(pts []geom.Point) {
	if len(pts) == 0 {
		return
	}
	x0, y0 := fix(pts[0].X), fix(pts[0].Y)
	x, y := x0, y0
	for _, p := range pts[1:] {
		xn, yn := fix(p.X), fix(p.Y)
		r.line(x, y, xn, yn)
		x, y = xn, yn
	}
	r.line(x, y, x0, y0)
}

// coverage returns how much of a pixel is covered, 0 to 255.
func coverage(area int32) uint32 {
	if area < 0 {
		area = -area
	}
	if area >= fullArea {
		return 255
	}
	return (uint32(area)*255 + fullArea/2) / fullArea
}

// sweep lays the colour where the edges since begin enclose something, and
// leaves the raster empty. dst must hold the box.
func (r *raster) sweep(dst *image.RGBA, c ink) {
	for row := 0; row < r.box.Dy(); row++ {
		used := r.used[row*r.words : (row+1)*r.words]
		cells := r.cells[row*r.w : (row+1)*r.w]
		at := dst.PixOffset(r.box.Min.X, r.box.Min.Y+row)
		pix := dst.Pix[at : at+4*r.w]
		var cover int32
		from := 0 // first pixel that is not laid yet
		for i, word := range used {
			if word == 0 {
				continue
			}
			used[i] = 0
			for word != 0 {
				x := i<<6 + bits.TrailingZeros64(word)
				word &= word - 1
				if cover != 0 && from < x {
					fillSpan(pix[4*from:4*x], c, coverage(cover*(2*sub)))
				}
				p := &cells[x]
				cover += p.cover
				if a := coverage(cover*(2*sub) - p.area); a != 0 {
					fillPixel(pix[4*x:4*x+4], c, a)
				}
				*p = cell{}
				from = x + 1
			}
		}
		if cover != 0 && from < r.w {
			fillSpan(pix[4*from:], c, coverage(cover*(2*sub)))
		}
	}
}

// pixelBox returns the pixels that the box from lo to hi, in pixels, touches when
// grown by the margin on every side.
func pixelBox(lo, hi geom.Point, margin float64) image.Rectangle {
	// Beyond this no screen reaches; it keeps the conversion to int defined.
	const far = 1 << 24
	clamp := func(x float64) int { return int(min(max(x, -far), far)) }
	return image.Rect(
		clamp(math.Floor(lo.X-margin)), clamp(math.Floor(lo.Y-margin)),
		clamp(math.Ceil(hi.X+margin)), clamp(math.Ceil(hi.Y+margin)))
}
