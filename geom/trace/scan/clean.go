package scan

import (
	"context"
	"math"
	"slices"

	"hemlet/geom"
)

// Clean says what is taken out of a picture before it is followed.
type Clean struct {
	S        float64      // px per mm
	LeastMM2 float64      // mm²: ink, or paper in ink, of less area is a speck; 0 keeps all
	Region   []geom.Point // a polygon in px: only what lies in it is read; nil for all
}

// Take returns a cleaned copy of f, which stays as it is. What lies outside the region
// becomes Unread. It fails when ctx ends.
func Take(ctx context.Context, f *Field, c Clean) (*Field, error) {
	copied := *f
	out := &copied
	out.V = slices.Clone(f.V)
	if len(c.Region) > 2 {
		out.keep(c.Region)
	}
	if least := c.LeastMM2 * c.S * c.S; least > 0 && !math.IsInf(least, 0) {
		if err := out.removeSpecks(ctx, int(math.Ceil(least))); err != nil {
			return nil, err
		}
	}
	return out, ctx.Err()
}

// keep makes all outside a polygon Unread; inside is where a line from afar crosses it an
// odd number of times.
func (f *Field) keep(region []geom.Point) {
	var cuts []float64
	for y := range f.H {
		row, mid := f.V[y*f.W:(y+1)*f.W], float64(y)+0.5
		cuts = cuts[:0]
		for i, a := range region {
			b := region[(i+1)%len(region)]
			if (a.Y <= mid) != (b.Y <= mid) {
				cuts = append(cuts, a.X+(b.X-a.X)*(mid-a.Y)/(b.Y-a.Y))
			}
		}
		slices.Sort(cuts)
		x := 0
		for i := 0; i+1 < len(cuts); i += 2 {
			from := f.column(cuts[i])
			unread(row[x:max(x, from)])
			x = max(x, f.column(cuts[i+1]))
		}
		unread(row[x:])
	}
}

// column returns the first pixel whose middle lies right of x, within the picture.
func (f *Field) column(x float64) int {
	return int(min(max(math.Ceil(x-0.5), 0), float64(f.W)))
}

func unread(row []uint16) {
	for i := range row {
		row[i] = Unread
	}
}

// removeSpecks takes out ink of fewer than least pixels and fills paper in ink of fewer.
func (f *Field) removeSpecks(ctx context.Context, least int) error {
	n, err := f.flipSmall(ctx, true, least)
	if err != nil {
		return err
	}
	f.Specks += n
	_, err = f.flipSmall(ctx, false, least)
	return err
}

// run is a row of pixels of one kind, from x0 to before x1.
type run struct {
	y, x0, x1 int32
	root      int32 // index of another run of the same patch, or of itself
}

// isInk reports whether a value is more than half ink.
func isInk(v uint16) bool { return v < Paper/2 }

// runs returns the runs of ink, or of paper, joined to patches: ink across corners too,
// paper only across sides.
func (f *Field) runs(ctx context.Context, ink bool) ([]run, error) {
	var all []run
	above, corner := 0, int32(0)
	if ink {
		corner = 1
	}
	for y := range f.H {
		if y%bandRows == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		row, start := f.V[y*f.W:(y+1)*f.W], len(all)
		for x := 0; x < len(row); x++ {
			if isInk(row[x]) != ink {
				continue
			}
			x0 := x
			for x < len(row) && isInk(row[x]) == ink {
				x++
			}
			all = append(all, run{int32(y), int32(x0), int32(x), int32(len(all))})
		}
		for i, k := start, above; i < len(all) && k < start; {
			a, b := all[i], all[k]
			if a.x0 < b.x1+corner && b.x0 < a.x1+corner {
				join(all, int32(i), int32(k))
			}
			if b.x1 <= a.x1 {
				k++
			} else {
				i++
			}
		}
		above = start
	}
	return all, nil
}

// rootOf returns the run that stands for the patch of run i.
func rootOf(all []run, i int32) int32 {
	for all[i].root != i {
		all[i].root = all[all[i].root].root
		i = all[i].root
	}
	return i
}

// join makes one patch of those of two runs.
func join(all []run, a, b int32) {
	a, b = rootOf(all, a), rootOf(all, b)
	all[max(a, b)].root = min(a, b)
}

// flipSmall turns patches of ink of fewer than least pixels into paper, or patches of paper
// into ink, and returns how many there were. What touches the border of the picture, or
// what is not read, is left alone if it is paper.
func (f *Field) flipSmall(ctx context.Context, ink bool, least int) (int, error) {
	all, err := f.runs(ctx, ink)
	if err != nil {
		return 0, err
	}
	area := make([]int, len(all))
	for i, r := range all {
		n := int(r.x1 - r.x0)
		if !ink && f.atBorder(r) {
			n = least
		}
		area[rootOf(all, int32(i))] += n
	}
	flipped := 0
	for i := range all {
		if int32(i) == rootOf(all, int32(i)) && area[i] < least {
			flipped++
		}
	}
	with := uint16(0)
	if ink {
		with = Paper
	}
	for i, r := range all {
		if area[rootOf(all, int32(i))] < least {
			row := f.V[int(r.y)*f.W:]
			for x := r.x0; x < r.x1; x++ {
				row[x] = with
			}
		}
	}
	return flipped, ctx.Err()
}

// atBorder reports whether a run touches the border of the picture or holds what is not
// read.
func (f *Field) atBorder(r run) bool {
	if r.y == 0 || int(r.y) == f.H-1 || r.x0 == 0 || int(r.x1) == f.W {
		return true
	}
	return slices.Contains(f.V[int(r.y)*f.W+int(r.x0):int(r.y)*f.W+int(r.x1)], Unread)
}
