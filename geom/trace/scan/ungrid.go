package scan

import (
	"context"
	"errors"
	"math"
	"slices"

	"hemlet/geom"
)

// leastTaken is the least distance of lines, in px, of which one can be told from the paper
// between.
const leastTaken = 5.0

var errGridFine = errors.New("the lines of the squared paper lie too close together to be told from a drawing: scan it finer")

// Ungrid returns the picture with the lines of its squared paper taken out; r stays as it
// is. A pale line dims what lies under it by as much as the paper beside, so it is divided
// out, and a drawn line that crosses stays whole. Where a line is so dark that nothing
// shows through, what meets it on both sides is joined.
func Ungrid(ctx context.Context, r *Raster, g Grid) (*Raster, error) {
	if !r.whole() {
		return nil, errNoPicture
	}
	black := float64(splitBlack(r))
	pix, err := takeLines(ctx, r.W, r.H, r.Pix[:r.W*r.H], g, black)
	if err != nil {
		return nil, err
	}
	return &Raster{W: r.W, H: r.H, Pix: pix}, nil
}

// splitBlack returns the level of full ink: that of the darkest of a thousand px, but no
// more than a third of the paper's.
func splitBlack(r *Raster) int {
	var hist [256]int
	for _, v := range r.Pix[:r.W*r.H] {
		hist[v]++
	}
	rank := func(share float64) int {
		n := 0
		for v, c := range hist {
			if n += c; float64(n) > share*float64(r.W*r.H) {
				return v
			}
		}
		return 255
	}
	return min(rank(.001), rank(.6)/3)
}

// takeLines takes the lines of one direction out, and then those of the other.
func takeLines(ctx context.Context, w, h int, src []uint8, g Grid, black float64) ([]uint8, error) {
	back, ok := g.Map.Invert()
	if !ok {
		return nil, errNoGrid
	}
	for _, across := range []bool{true, false} {
		lines := gridLines(w, h, g, back, across)
		if lines == nil {
			return nil, errGridFine
		}
		dst := slices.Clone(src)
		ts := make([]*taker, len(lines))
		err := each(ctx, len(ts), func(i int) {
			ts[i] = newTaker(w, h, src, lines[i], g.Light, black)
			ts[i].findOffsets()
		})
		if err != nil {
			return nil, err
		}
		kinds := alike(ts, g.Minor)
		if err := each(ctx, len(ts), func(i int) { ts[i].findProfile() }); err != nil {
			return nil, err
		}
		for _, kind := range kinds {
			shareProfile(kind)
		}
		if err := each(ctx, len(ts), func(i int) { ts[i].write(dst) }); err != nil {
			return nil, err
		}
		src = dst
	}
	return src, nil
}

// alike parts the lines into stronger ones and others, and tells each how deep those of
// its kind usually are: a line drawn along a printed one is deeper.
func alike(ts []*taker, minor int) [][]*taker {
	var kinds [2][]*taker
	for _, t := range ts {
		k := 0
		if minor > 1 && t.number%minor == 0 {
			k = 1
		}
		kinds[k] = append(kinds[k], t)
	}
	for _, kind := range kinds {
		var depths, masses []float64
		for _, t := range kind {
			for i, d := range t.depths {
				if !math.IsNaN(d) {
					depths, masses = append(depths, d), append(masses, t.masses[i])
				}
			}
		}
		depth, mass := middleOf(depths), middleOf(masses)
		for _, t := range kind {
			t.keepPlain(depth, mass)
		}
	}
	return kinds[:]
}

// leastPlain is the number of parts that make a profile of a line's own.
const leastPlain = 3

// shareProfile gives the profile of the plainest line to those that hardly show.
func shareProfile(kind []*taker) {
	var best *taker
	for _, t := range kind {
		if t.profile != nil && (best == nil || len(t.plain) > len(best.plain)) {
			best = t
		}
	}
	for _, t := range kind {
		if best != nil && len(t.plain) < leastPlain {
			t.profile, t.half, t.usual = best.profile, best.half, best.usual
			t.opaque = best.opaque
			for i := range t.depths {
				t.depths[i] = best.usual
			}
		}
	}
}

// gridLine is a printed line in px, and how far off the next one lies.
type gridLine struct {
	edgeLine
	apart    float64
	number   int
	from, to geom.Point // px, between which it is printed
}

// gridBox returns the part of a lattice that shows in a picture, in squares.
func gridBox(w, h int, g Grid) (geom.Rect, bool) {
	box := geom.EmptyRect()
	all := true
	for _, c := range [4]geom.Point{{}, {X: float64(w)}, {X: float64(w), Y: float64(h)}, {Y: float64(h)}} {
		all = all && g.Map.Depth(c) > 0
		box = box.Include(g.Map.Apply(c))
	}
	if g.Seen.W() > 0 && g.Seen.H() > 0 {
		if !all {
			return g.Seen, true // a part of the picture lies beyond the horizon
		}
		box.Min = geom.Pt(math.Max(box.Min.X, g.Seen.Min.X), math.Max(box.Min.Y, g.Seen.Min.Y))
		box.Max = geom.Pt(math.Min(box.Max.X, g.Seen.Max.X), math.Min(box.Max.Y, g.Seen.Max.Y))
		return box, true
	}
	return box, all
}

// gridLines returns the lines of a lattice that show in the picture, or nil if they lie too
// close or are too many.
func gridLines(w, h int, g Grid, toPx geom.Homography, across bool) []gridLine {
	box, ok := gridBox(w, h, g)
	if !ok {
		return nil
	}
	if !across {
		box.Min, box.Max = geom.Pt(box.Min.Y, box.Min.X), geom.Pt(box.Max.Y, box.Max.X)
	}
	if !(box.Max.X-box.Min.X < float64(max(w, h))/2) {
		return nil
	}
	lines := []gridLine{}
	for x := math.Ceil(box.Min.X); x <= box.Max.X; x++ {
		at := func(x, y float64) geom.Point {
			if !across {
				x, y = y, x
			}
			return toPx.Apply(geom.Pt(x, y))
		}
		y := (box.Min.Y + box.Max.Y) / 2
		l := lineThrough(at(x, y), at(x, y+1))
		apart := math.Min(math.Abs(l.off(at(x+1, y))), math.Abs(l.off(at(x-1, y))))
		if !l.at.Finite() || !l.dir.Finite() || !(apart >= leastTaken) {
			return nil
		}
		lines = append(lines, gridLine{l, apart, int(x), at(x, box.Min.Y), at(x, box.Max.Y)})
	}
	return lines
}
