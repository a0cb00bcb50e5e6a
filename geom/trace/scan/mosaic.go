package scan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// Placed is a sheet where it lies.
type Placed struct {
	Field  *Field
	Map    geom.Homography // px to mm
	Region []geom.Point    // px, the part of the sheet that counts, as a ring; nil is all of it
}

// Parameters of a mosaic.
const (
	// seamBlend is the width in mm over which one sheet goes over into the next: as wide
	// as sheets are commonly off, so that a line has no step.
	seamBlend = 2.0
	// depthStep is the distance in px at which the depths of sheets are computed; between
	// them they run straight.
	depthStep = 8
	// finest is the smallest pixel in mm that is made: of 25,400 dots an inch.
	finest = .001
	// mosaicSide is the longest side in px of a mosaic.
	mosaicSide = 12000
	// mostFiner bounds how many times finer a sheet may be than the mosaic.
	mostFiner = 16
)

// Mosaic returns the sheets resampled to one, in pixels of mmPerPx or, where that is 0, as
// fine as the finest of them, and the map from its pixels to mm. Where sheets lie over
// each other each place is read from the one in which it lies deeper, so that the seam
// runs in the middle; where there is none nothing is read. Cubic interpolation (Catmull-Rom, as
// Keys 1981); a sheet that is finer is averaged. A mosaic of more than 12,000 by 12,000
// pixels is refused.
func Mosaic(ctx context.Context, sheets []Placed, mmPerPx float64) (*Field, geom.Homography, error) {
	if len(sheets) == 0 {
		return nil, geom.Homography{}, errors.New("there is no sheet to put together")
	}
	var m mosaic
	for i, s := range sheets {
		t, err := newTile(s)
		if err != nil {
			return nil, geom.Homography{}, fmt.Errorf("sheet %d: %w", i+1, err)
		}
		m.tiles = append(m.tiles, t)
	}
	if err := m.measure(mmPerPx); err != nil {
		return nil, geom.Homography{}, err
	}
	f, err := m.draw(ctx)
	if err != nil {
		return nil, geom.Homography{}, err
	}
	return f, m.Map, nil
}

// tile is a sheet on its way into a mosaic.
type tile struct {
	field  *Field
	ring   []geom.Point    // px, what counts of it
	place  geom.Homography // px to mm
	back   geom.Homography // mm to px
	finest float64         // mm, its smallest pixel
	bounds geom.Rect       // mm
	gaps   bool            // parts of the field are not read
}

// newTile looks at a sheet.
func newTile(s Placed) (tile, error) {
	if !s.Field.whole() {
		return tile{}, errNoPicture
	}
	w, h := float64(s.Field.W), float64(s.Field.H)
	t := tile{field: s.Field, ring: s.Region, place: s.Map, finest: math.Inf(1), bounds: geom.EmptyRect()}
	if t.ring == nil {
		t.ring = []geom.Point{{}, {X: w}, {X: w, Y: h}, {Y: h}}
	}
	t.gaps = slices.Contains(s.Field.V, Unread)
	back, ok := s.Map.Invert()
	if !ok || !s.Map.Finite() {
		return tile{}, errors.New("it has no place on the bench")
	}
	t.back = back
	if len(t.ring) < 3 {
		return tile{}, errors.New("the part of it that counts has no area")
	}
	for _, p := range t.ring {
		p = geom.Pt(clamp(p.X, 0, w), clamp(p.Y, 0, h))
		q := s.Map.Apply(p)
		if !(s.Map.Depth(p) > 0) || !q.Finite() || math.Abs(q.X) > mostLength || math.Abs(q.Y) > mostLength {
			return tile{}, errors.New("a part of it is seen too flatly to lie on the bench: read less of it")
		}
		t.finest = math.Min(t.finest, s.Map.ScaleAt(p))
		t.bounds = t.bounds.Include(q)
	}
	return t, nil
}

// mosaic is a picture under way.
type mosaic struct {
	tiles  []tile
	w, h   int
	mm     float64         // of a pixel
	origin geom.Point      // mm, of the top left corner
	Map    geom.Homography // px to mm
}

// measure settles the pixel and the size.
func (m *mosaic) measure(mmPerPx float64) error {
	all := geom.EmptyRect()
	m.mm = math.Inf(1)
	for _, t := range m.tiles {
		m.mm = math.Min(m.mm, t.finest)
		all = all.Union(t.bounds)
	}
	if mmPerPx != 0 {
		m.mm = mmPerPx
	}
	if !(m.mm >= finest) || math.IsInf(m.mm, 0) {
		return fmt.Errorf("pixels of %.3g mm cannot be made", m.mm)
	}
	// A rounding error of a billionth makes no further pixel.
	w := math.Ceil((all.Max.X-all.Min.X)/m.mm - 1e-6)
	h := math.Ceil((all.Max.Y-all.Min.Y)/m.mm - 1e-6)
	if w > mosaicSide || h > mosaicSide {
		return fmt.Errorf("together the sheets would have %.0f by %.0f pixels, and %d by %d is the most: take a coarser resolution, or fewer sheets",
			w, h, mosaicSide, mosaicSide)
	}
	m.w, m.h = max(int(w), 1), max(int(h), 1)
	m.origin = geom.Pt(all.Min.X, all.Max.Y)
	m.Map = geom.Affine{A: m.mm, D: -m.mm, E: m.origin.X, F: m.origin.Y}.Projective()
	return nil
}

// draw makes the picture.
func (m *mosaic) draw(ctx context.Context) (*Field, error) {
	// Sheets of one pattern are inked and lit alike: the first tells how.
	first := m.tiles[0].field
	f := &Field{W: m.w, H: m.h, V: make([]uint16, m.w*m.h), Ink: first.Ink, Dark: first.Dark}
	for _, t := range m.tiles {
		f.Specks += t.field.Specks
	}
	err := bands(ctx, m.h, func(y0, y1 int) { m.band(f, y0, y1) })
	return f, err
}

// band makes rows from to below to.
func (m *mosaic) band(f *Field, from, to int) {
	cols, rows := (m.w+depthStep-1)/depthStep, (to-from+depthStep-1)/depthStep
	depths := make([][]float64, len(m.tiles))
	for i, t := range m.tiles {
		depths[i] = m.depths(t, from, cols+1, rows+1)
	}
	for r := range rows {
		for c := range cols {
			m.cell(f, depths, cols+1, r, c, from, to)
		}
	}
}

// depths returns how deep in mm the nodes of a band lie inside of a tile, below 0 outside.
func (m *mosaic) depths(t tile, from, cols, rows int) []float64 {
	d := make([]float64, cols*rows)
	for j := range rows {
		for i := range cols {
			at := m.at(float64(i*depthStep), float64(from+j*depthStep))
			px, ok := t.place.Source(t.back, at)
			if !ok {
				d[j*cols+i] = math.Inf(-1)
				continue
			}
			d[j*cols+i] = ringDepth(t.ring, px) / t.back.ScaleAt(at)
		}
	}
	return d
}

// at returns the place in mm of a place of the mosaic.
func (m *mosaic) at(x, y float64) geom.Point {
	return geom.Pt(m.origin.X+x*m.mm, m.origin.Y-y*m.mm)
}

// shareIn is the part that one tile has in a cell of the mosaic.
type shareIn struct {
	tile  tile
	nodes [4]float64 // depths at the corners of the cell
	finer int        // how many times finer the tile is
	// The place in px of the middle of the cell's first pixel, and the steps of one pixel
	// right and down: over a cell a homography is straight.
	first, right, down geom.Point
}

// cell makes the pixels of one cell of depthStep by depthStep.
func (m *mosaic) cell(f *Field, depths [][]float64, cols, r, c, from, to int) {
	x0, y0 := c*depthStep, from+r*depthStep
	x1, y1 := min(x0+depthStep, m.w), min(y0+depthStep, to)
	shares, alone := m.shares(depths, cols, r, c, x0, y0)
	for y := y0; y < y1; y++ {
		row := f.V[y*m.w+x0 : y*m.w+x1]
		for i := range row {
			switch {
			case len(shares) == 0:
				row[i] = Unread
			case alone:
				row[i] = toValue(shares[0].read(i, y-y0))
			default:
				row[i] = blend(shares, i, y-y0, m.mm)
			}
		}
	}
}

// shares returns the tiles that a cell is made of, and whether it is only one, of which the
// border is not near.
func (m *mosaic) shares(depths [][]float64, cols, r, c, x0, y0 int) (all []shareIn, alone bool) {
	k := r*cols + c
	deepest := math.Inf(-1) // of what is certain everywhere in the cell
	for _, d := range depths {
		deepest = math.Max(deepest, min(d[k], d[k+1], d[k+cols], d[k+cols+1]))
	}
	for i, d := range depths {
		most := max(d[k], d[k+1], d[k+cols], d[k+cols+1])
		if most <= 0 || most < deepest-seamBlend {
			continue
		}
		s := shareIn{tile: m.tiles[i], nodes: [4]float64{d[k], d[k+1], d[k+cols], d[k+cols+1]}}
		mid := m.at(float64(x0)+depthStep/2, float64(y0)+depthStep/2)
		s.finer = int(clamp(math.Round(m.mm*s.tile.back.ScaleAt(mid)), 1, mostFiner))
		n := s.tile.back.Near(mid)
		s.right, s.down = n.ApplyVector(geom.Pt(m.mm, 0)), n.ApplyVector(geom.Pt(0, -m.mm))
		s.first = s.tile.back.Apply(mid).Sub(s.right.Add(s.down).Mul(depthStep/2 - .5))
		all = append(all, s)
	}
	return all, len(all) == 1 && deepest >= m.mm
}

// blend returns the value at a pixel of a cell that several tiles or a border share.
func blend(shares []shareIn, x, y int, mm float64) uint16 {
	best := math.Inf(-1)
	for i := range shares {
		best = math.Max(best, shares[i].depth(x, y))
	}
	var sum, all float64
	for i := range shares {
		here := shares[i].depth(x, y)
		w := math.Min(math.Min(1-(best-here)/seamBlend, here/mm), 1)
		if !(w > 0) {
			continue
		}
		if v := shares[i].read(x, y); !math.IsNaN(v) {
			sum, all = sum+w*v, all+w
		}
	}
	return toValue(sum / all)
}

// toValue rounds a value of a field; NaN is Unread.
func toValue(v float64) uint16 {
	if math.IsNaN(v) {
		return Unread
	}
	return uint16(clamp(v+.5, 0, Unread-1))
}

// depth returns how deep in mm the pixel x, y of the cell lies inside of the tile.
func (s *shareIn) depth(x, y int) float64 {
	u, v := (float64(x)+.5)/depthStep, (float64(y)+.5)/depthStep
	return (s.nodes[0]*(1-u)+s.nodes[1]*u)*(1-v) + (s.nodes[2]*(1-u)+s.nodes[3]*u)*v
}

// read returns the value of the tile at the pixel x, y of the cell, averaged where the
// tile is finer, and NaN where it is not read.
func (s *shareIn) read(x, y int) float64 {
	p := s.first.Add(s.right.Mul(float64(x))).Add(s.down.Mul(float64(y)))
	if s.tile.gaps && s.tile.field.gapAt(p) {
		return math.NaN()
	}
	if s.finer == 1 {
		return s.tile.field.cubic(p)
	}
	var sum float64
	n := float64(s.finer)
	for j := range s.finer {
		for i := range s.finer {
			sum += s.tile.field.cubic(p.Add(s.right.Mul((float64(i)+.5)/n - .5)).Add(s.down.Mul((float64(j)+.5)/n - .5)))
		}
	}
	return sum / (n * n)
}

// cubic returns the value at p by cubic interpolation; beyond the field its outermost
// values go on.
func (f *Field) cubic(p geom.Point) float64 {
	x, y := clamp(p.X-.5, 0, float64(f.W-1)), clamp(p.Y-.5, 0, float64(f.H-1))
	i, j := int(x), int(y)
	wx, wy := cubicWeights(x-float64(i)), cubicWeights(y-float64(j))
	var sum float64
	if i >= 1 && j >= 1 && i+2 < f.W && j+2 < f.H {
		for b := range 4 {
			row := f.V[(j+b-1)*f.W+i-1:][:4]
			sum += wy[b] * (wx[0]*float64(row[0]) + wx[1]*float64(row[1]) + wx[2]*float64(row[2]) + wx[3]*float64(row[3]))
		}
		return sum
	}
	for b := range 4 {
		row := min(max(j+b-1, 0), f.H-1) * f.W
		for a := range 4 {
			sum += wy[b] * wx[a] * float64(f.V[row+min(max(i+a-1, 0), f.W-1)])
		}
	}
	return sum
}

// gapAt reports whether one of the values that p is read from is not read.
func (f *Field) gapAt(p geom.Point) bool {
	x, y := int(clamp(p.X-.5, 0, float64(f.W-1))), int(clamp(p.Y-.5, 0, float64(f.H-1)))
	for j := max(y-1, 0); j < min(y+3, f.H); j++ {
		if slices.Contains(f.V[j*f.W+max(x-1, 0):j*f.W+min(x+3, f.W)], Unread) {
			return true
		}
	}
	return false
}

// cubicWeights returns the weights of the four values round a place at share t between
// the middle two.
func cubicWeights(t float64) [4]float64 {
	return [4]float64{
		((2-t)*t - 1) * t / 2,
		((3*t-5)*t*t + 2) / 2,
		((4-3*t)*t + 1) * t / 2,
		(t - 1) * t * t / 2,
	}
}

// ringDepth returns the distance from p to a ring, below 0 outside of it.
func ringDepth(ring []geom.Point, p geom.Point) float64 {
	near, in := math.Inf(1), false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		ab, ap := b.Sub(a), p.Sub(a)
		t := 0.0
		if d := ab.Dot(ab); d > 0 {
			t = clamp(ap.Dot(ab)/d, 0, 1)
		}
		near = math.Min(near, p.Dist(a.Lerp(b, t)))
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	if in {
		return near
	}
	return -near
}
