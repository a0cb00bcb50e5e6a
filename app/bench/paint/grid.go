package paint

import (
	"image"
	"math"

	"hemlet/geom"
)

// Grid is the squared paper under everything.
type Grid uint8

// The grids: none; squares of 10 mm with every 50 mm stronger; squares of an inch
// with every sixth stronger.
const (
	NoGrid Grid = iota
	Metric
	Inches
)

// gridStep is one family of grid lines.
type gridStep struct {
	mm     float64
	strong bool
	most   float64 // opacity once the squares are large
}

// gridSteps lists the families of each grid, finest first.
var gridSteps = [...][]gridStep{
	NoGrid: nil,
	Metric: {{1, false, 0.55}, {10, false, 1}, {50, true, 1}, {500, true, 1}},
	Inches: {{25.4 / 8, false, 0.55}, {25.4, false, 1}, {6 * 25.4, true, 1}, {60 * 25.4, true, 1}},
}

// Squares smaller than gridHidden screen units are not drawn; those of gridFull
// and more have their whole strength.
const (
	gridHidden = 5.0
	gridFull   = 14.0
)

// grid holds the lines of a grid for a view: columns, and rows with what their
// whole row looks like.
type grid struct {
	plain  []byte // a row of pixels that no line runs along
	rows   []int8 // for each row of pixels: index into along, or -1
	along  [][]byte
	levels int
}

// prepare computes the grid for the view.
func (g *grid) prepare(kind Grid, v View, pal *Palette) {
	g.plain = sized(g.plain, 4*v.W)
	fillSolid(g.plain, packed(pal[Bench]))
	g.rows = g.rows[:0]
	for range v.H {
		g.rows = append(g.rows, -1)
	}
	g.levels = 0
	if int(kind) >= len(gridSteps) {
		return
	}
	steps := gridSteps[kind]
	// A row along a line shows that line's colour except where a stronger line
	// crosses it, so families are laid from the finest to the strongest.
	for i, s := range steps {
		rgba, ok := s.ink(v, pal)
		if !ok {
			continue
		}
		eachLine(s.mm, v.X, v.Scale, v.DPR, v.W, func(from, to int) {
			fillSolid(g.plain[4*from:4*to], rgba)
		})
		eachLine(s.mm, v.Y, v.Scale, v.DPR, v.H, func(from, to int) {
			for y := from; y < to; y++ {
				g.rows[y] = int8(i)
			}
		})
		g.levels = i + 1
	}
	for len(g.along) < g.levels {
		g.along = append(g.along, nil)
	}
	for i := range g.levels {
		g.along[i] = g.rowAlong(g.along[i], steps, i, v, pal)
	}
}

// rowAlong returns a row of pixels along a line of family i.
func (g *grid) rowAlong(row []byte, steps []gridStep, i int, v View, pal *Palette) []byte {
	row = sized(row, 4*v.W)
	rgba, ok := steps[i].ink(v, pal)
	if !ok {
		return row
	}
	fillSolid(row, rgba)
	for _, s := range steps[i+1:] {
		over, ok := s.ink(v, pal)
		if !ok {
			continue
		}
		eachLine(s.mm, v.X, v.Scale, v.DPR, v.W, func(from, to int) {
			fillSolid(row[4*from:4*to], over)
		})
	}
	return row
}

// sized returns a slice of n bytes, b where that is large enough.
func sized(b []byte, n int) []byte {
	if cap(b) < n {
		return make([]byte, n)
	}
	return b[:n]
}

// ink returns the colour of the family in the view, or false where its squares
// are too small to show.
func (s gridStep) ink(v View, pal *Palette) (uint32, bool) {
	units := s.mm * v.Scale / v.DPR
	k := (units - gridHidden) / (gridFull - gridHidden)
	if k <= 0 {
		return 0, false
	}
	c := pal[Rule]
	if s.strong {
		c = pal[RuleStrong]
	}
	return mix(packed(pal[Bench]), packed(c), uint32(256*s.most*math.Min(k, 1))), true
}

// eachLine calls draw with the pixels of every line of a family across n pixels,
// each a whole number of pixels wide so that it stays crisp.
func eachLine(mm, origin, scale, dpr float64, n int, draw func(from, to int)) {
	width := max(int(dpr+0.25), 1)
	step := mm * scale
	for k := math.Floor(-origin/step) - 1; ; k++ {
		from := int(math.Floor(origin + k*step - float64(width-1)/2))
		if from >= n {
			return
		}
		if to := min(from+width, n); to > 0 {
			draw(max(from, 0), to)
		}
	}
}

// paint lays the grid on the pixels of the box.
func (g *grid) paint(dst *image.RGBA, box image.Rectangle) {
	for y := box.Min.Y; y < box.Max.Y; y++ {
		row := g.plain
		if i := g.rows[y]; i >= 0 {
			row = g.along[i]
		}
		copy(dst.Pix[dst.PixOffset(box.Min.X, y):], row[4*box.Min.X:4*box.Max.X])
	}
}

// Step returns the distance in mm of the finest lines that the grid shows in the
// view, for snapping and for the status line; 0 for no grid.
func (g Grid) Step(v View) float64 {
	if int(g) >= len(gridSteps) {
		return 0
	}
	for _, s := range gridSteps[g] {
		if s.mm*v.Scale/v.DPR > gridHidden {
			return s.mm
		}
	}
	return 0
}

// Snap returns the crossing of the grid's finest shown lines that is next to p.
func (g Grid) Snap(v View, p geom.Point) geom.Point {
	step := g.Step(v)
	if step == 0 {
		return p
	}
	return geom.Point{X: math.Round(p.X/step) * step, Y: math.Round(p.Y/step) * step}
}
