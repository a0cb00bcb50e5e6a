package trace

import (
	"math"

	"hemlet/geom"
)

// chains finds the nearest place on polylines, by a grid of square cells in which every
// chord is listed that touches them.
type chains struct {
	from, to []geom.Point // the chords
	min      geom.Point
	size     float64 // of a cell, mm
	w, h     int
	starts   []int32 // of each cell's list in chords, one more at the end
	chords   []int32
}

// mostCells bounds the memory of the grid: 4 bytes a cell.
const mostCells = 1 << 20

// newChains lists the chords of the lines; a line whose last point repeats its first is
// closed.
func newChains(lines [][]geom.Point) *chains {
	c := &chains{}
	box := geom.EmptyRect()
	var sum float64
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			c.from, c.to = append(c.from, l[i-1]), append(c.to, l[i])
			sum += l[i].Dist(l[i-1])
		}
		for _, p := range l {
			box = box.Include(p)
		}
	}
	if len(c.from) == 0 {
		return c
	}
	// Cells of about four chords, but no more than memory is meant for.
	c.size = math.Max(4*sum/float64(len(c.from)), math.Sqrt(box.W()*box.H()/mostCells))
	c.size = math.Max(c.size, math.Max(box.W(), box.H())/(1<<15))
	if !(c.size > 0) {
		c.size = 1
	}
	c.min = box.Min
	c.w, c.h = int(box.W()/c.size)+1, int(box.H()/c.size)+1
	c.list()
	return c
}

// list fills the cells: counts first, then places.
func (c *chains) list() {
	c.starts = make([]int32, c.w*c.h+1)
	c.touched(func(_, cell int) { c.starts[cell+1]++ })
	for i := 1; i < len(c.starts); i++ {
		c.starts[i] += c.starts[i-1]
	}
	c.chords = make([]int32, c.starts[len(c.starts)-1])
	next := append([]int32{}, c.starts...)
	c.touched(func(chord, cell int) {
		c.chords[next[cell]] = int32(chord)
		next[cell]++
	})
}

// touched calls do with every chord and every cell of the box round it.
func (c *chains) touched(do func(chord, cell int)) {
	for i, a := range c.from {
		x0, y0 := c.cell(a)
		x1, y1 := c.cell(c.to[i])
		for y := min(y0, y1); y <= max(y0, y1); y++ {
			for x := min(x0, x1); x <= max(x0, x1); x++ {
				do(i, y*c.w+x)
			}
		}
	}
}

// cell returns the column and row of the cell that is nearest to p.
func (c *chains) cell(p geom.Point) (x, y int) {
	at := func(v float64, n int) int { return int(math.Max(0, math.Min(float64(n-1), v/c.size))) }
	return at(p.X-c.min.X, c.w), at(p.Y-c.min.Y, c.h)
}

// nearest returns the distance of p from the chords, with the nearest place and the
// direction of its chord; infinity where there are none.
func (c *chains) nearest(p geom.Point) (d float64, at, along geom.Point) {
	d = math.Inf(1)
	if len(c.from) == 0 {
		return d, at, along
	}
	cx, cy := c.cell(p)
	try := func(x, y int) {
		if x < 0 || y < 0 || x >= c.w || y >= c.h {
			return
		}
		cell := y*c.w + x
		for _, i := range c.chords[c.starts[cell]:c.starts[cell+1]] {
			a, u := c.from[i], c.to[i].Sub(c.from[i])
			t := 0.0
			if l := u.Dot(u); l > 0 {
				t = math.Max(0, math.Min(1, p.Sub(a).Dot(u)/l))
			}
			if q := a.Add(u.Mul(t)); p.Dist(q) < d {
				d, at, along = p.Dist(q), q, u
			}
		}
	}
	for ring := 0; ring <= max(c.w, c.h); ring++ {
		for k := -ring; k <= ring; k++ {
			try(cx+k, cy-ring)
			if ring > 0 {
				try(cx+k, cy+ring)
			}
			if k > -ring && k < ring {
				try(cx-ring, cy+k)
				try(cx+ring, cy+k)
			}
		}
		// Whatever lies further out is at least ring cells away from p, even where p lies
		// outside of the grid.
		if d <= float64(ring)*c.size {
			break
		}
	}
	return d, at, along
}
