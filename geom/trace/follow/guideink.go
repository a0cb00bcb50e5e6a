package follow

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync"

	"hemlet/geom/trace/scan"
)

// inkMap is a picture on a coarser field, with the cells that belong to a line.
type inkMap struct {
	field  *scan.Field
	mode   Mode
	k      int // a cell is k by k pixels
	w, h   int // in cells
	scale  float64
	pen    float64 // px, the width of a stroke; of the blur, along edges
	on     []uint8
	strong []float32 // 0 for bare paper, about 1 for a line in full ink
}

// coarseScale is the resolution in cells per mm that lines are looked for at: three cells
// for the thinnest usual pen, and few enough for a large sheet.
const coarseScale = 5.0

const (
	// leastInk is the least strength of a line: fainter ones are the grain of paper.
	leastInk = 0.05
	// inkNoise is by how many deviations of the noise a line stands out.
	inkNoise = 6.0
	// ridgeShare is the blur by which ridges are found, as a share of the width of the
	// stroke: above 0.29 the middle of a bar has one ridge (Steger 1998, "An unbiased
	// detector of curvilinear structures"); more would run neighbours together.
	ridgeShare = 0.36
	// edgeBlur is that blur along edges, in mm: two sides of a slit of half a millimetre
	// stay apart.
	edgeBlur = 0.12
	// leastRidgeBlur is the least blur in cells at which second differences are derivatives.
	leastRidgeBlur = 0.9
	// Strokes of other widths than these are taken for these, in mm.
	thinnestPen, defaultPen, widestPen = 0.15, 0.5, 3.0
)

// readInk finds the lines of a picture.
func readInk(ctx context.Context, f *scan.Field, scale float64, m Mode) (*inkMap, error) {
	k := max(1, int(scale/coarseScale))
	ink := &inkMap{field: f, mode: m, k: k, w: (f.W + k - 1) / k, h: (f.H + k - 1) / k, scale: scale}
	dark, err := ink.reduce(ctx)
	if err != nil {
		return nil, err
	}
	cell := float64(k)
	ink.pen = penWidth(dark, ink.w, ink.h, scale/cell) * cell
	sigma := max(leastRidgeBlur, ridgeShare*ink.pen/cell)
	if m == AlongEdges {
		sigma = max(leastRidgeBlur, edgeBlur*scale/cell)
		ink.pen = 2.5 * sigma * cell
	}
	if err := ink.blur(ctx, dark, sigma); err != nil {
		return nil, err
	}
	ink.strong = make([]float32, len(dark))
	if m == AlongEdges {
		err = ink.slopes(ctx, dark, sigma)
	} else {
		err = ink.ridges(ctx, dark, sigma)
	}
	if err != nil {
		return nil, err
	}
	ink.mark()
	return ink, ctx.Err()
}

// bands runs work over rows in as many bands as there are processors, or returns the
// error of ctx.
func (ink *inkMap) bands(ctx context.Context, work func(y0, y1 int)) error {
	n := min(runtime.GOMAXPROCS(0), ink.h)
	var wg sync.WaitGroup
	for i := range n {
		wg.Add(1)
		go func() {
			defer wg.Done()
			const chunk = 64 // rows between two looks at ctx
			for y, end := ink.h*i/n, ink.h*(i+1)/n; y < end && ctx.Err() == nil; y += chunk {
				work(y, min(y+chunk, end))
			}
		}()
	}
	wg.Wait()
	return ctx.Err()
}

// reduce returns the darkness of every cell, 0 for paper and 1 for full ink.
func (ink *inkMap) reduce(ctx context.Context) ([]float32, error) {
	f, k := ink.field, ink.k
	dark := make([]float32, ink.w*ink.h)
	err := ink.bands(ctx, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			top, bottom := y*k, min(y*k+k, f.H)
			for x := range ink.w {
				left, right := x*k, min(x*k+k, f.W)
				sum := 0
				for j := top; j < bottom; j++ {
					for _, v := range f.V[j*f.W+left : j*f.W+right] {
						sum += int(v)
					}
				}
				n := (bottom - top) * (right - left)
				dark[y*ink.w+x] = 1 - float32(sum)/float32(n*scan.Paper)
			}
		}
	})
	return dark, err
}

// penWidth returns the width in cells of the strokes: that round which the runs of ink across
// rows and columns lie most closely, where a run's width is its ink over its darkest cell.
func penWidth(dark []float32, w, h int, scale float64) float64 {
	const step = 7
	var runs []float64
	scanLine := func(n int, at func(i int) float32) {
		var sum, top float32
		start := -1
		for i := range n {
			v := at(i)
			if v > runInk {
				if start < 0 {
					start, sum, top = i, 0, 0
				}
				sum += v
				top = max(top, v)
				continue
			}
			if start >= 0 && float64(i-start) < widestPen*scale {
				runs = append(runs, float64(sum/top))
			}
			start = -1
		}
	}
	for y := step / 2; y < h; y += step {
		scanLine(w, func(i int) float32 { return dark[y*w+i] })
	}
	for x := step / 2; x < w; x += step {
		scanLine(h, func(i int) float32 { return dark[i*w+x] })
	}
	if len(runs) < fewRuns {
		return defaultPen * scale
	}
	slices.Sort(runs)
	pen := densest(runs)
	return min(max(pen, thinnestPen*scale), widestPen*scale)
}

const (
	// runInk is the darkness at which a run of ink begins.
	runInk = 0.12
	// fewRuns is the least number of runs that tell the width of a pen.
	fewRuns = 12
)

// blur smooths the field by a Gaussian of sigma cells.
func (ink *inkMap) blur(ctx context.Context, v []float32, sigma float64) error {
	r := int(math.Ceil(3 * sigma))
	kernel := make([]float32, 2*r+1)
	var sum float64
	for i := range kernel {
		d := float64(i-r) / sigma
		sum += math.Exp(-d * d / 2)
	}
	for i := range kernel {
		d := float64(i-r) / sigma
		kernel[i] = float32(math.Exp(-d*d/2) / sum)
	}
	across := make([]float32, len(v))
	w, h := ink.w, ink.h
	err := ink.bands(ctx, func(y0, y1 int) {
		padded := make([]float32, w+2*r)
		for y := y0; y < y1; y++ {
			row := v[y*w : (y+1)*w]
			for i := range r {
				padded[i], padded[w+r+i] = row[0], row[w-1]
			}
			copy(padded[r:], row)
			out := across[y*w : (y+1)*w]
			for j, q := range kernel {
				for x, p := range padded[j : j+w] {
					out[x] += q * p
				}
			}
		}
	})
	if err != nil {
		return err
	}
	return ink.bands(ctx, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			out := v[y*w : (y+1)*w]
			clear(out)
			for j, q := range kernel {
				z := min(max(y+j-r, 0), h-1)
				for x, p := range across[z*w : (z+1)*w] {
					out[x] += q * p
				}
			}
		}
	})
}

// inside runs work over the rows that have neighbours on all sides.
func (ink *inkMap) inside(ctx context.Context, work func(i int)) error {
	return ink.bands(ctx, func(y0, y1 int) {
		for y := max(y0, 1); y < min(y1, ink.h-1); y++ {
			for x := 1; x < ink.w-1; x++ {
				work(y*ink.w + x)
			}
		}
	})
}

// ridges sets the strength to the larger curvature across, for a field that was blurred
// by sigma, so that a bar of the pen's width in full ink has 1.
func (ink *inkMap) ridges(ctx context.Context, d []float32, sigma float64) error {
	w := ink.w
	u := ink.pen / float64(ink.k) / sigma
	full := u / math.Sqrt(2*math.Pi) * math.Exp(-u*u/8) / (sigma * sigma)
	per := float32(1 / full)
	return ink.inside(ctx, func(i int) {
		c := 2 * d[i]
		xx, yy := c-d[i-1]-d[i+1], c-d[i-w]-d[i+w]
		xy := (d[i-w-1] + d[i+w+1] - d[i-w+1] - d[i+w-1]) / 4
		half := (xx - yy) / 2
		r := (xx+yy)/2 + float32(math.Sqrt(float64(half*half+xy*xy)))
		ink.strong[i] = max(0, r*per)
	})
}

// slopes sets the strength to the slope, for a field that was blurred by sigma, so that
// an edge from paper to full ink has 1.
func (ink *inkMap) slopes(ctx context.Context, d []float32, sigma float64) error {
	w := ink.w
	per := float32(sigma * math.Sqrt(2*math.Pi) / 2)
	steep := make([]float32, len(d))
	err := ink.inside(ctx, func(i int) {
		x, y := d[i+1]-d[i-1], d[i+w]-d[i-w]
		steep[i] = per * float32(math.Sqrt(float64(x*x+y*y)))
	})
	if err != nil {
		return err
	}
	// A cell belongs to the edge if it is steep among its neighbours: the flanks are not.
	return ink.inside(ctx, func(i int) {
		v := steep[i]
		if v < leastInk {
			return
		}
		top := v
		for _, j := range [8]int{i - w - 1, i - w, i - w + 1, i - 1, i + 1, i + w - 1, i + w, i + w + 1} {
			top = max(top, steep[j])
		}
		if v >= flankShare*top {
			ink.strong[i] = v
		}
	})
}

// flankShare is the share of the steepest slope among its neighbours that a cell of an
// edge has: a blur of a cell leaves 0.8 a cell away from the middle.
const flankShare = 0.85

// mark sets the cells that stand out of the noise.
func (ink *inkMap) mark() {
	const step = 11 // cells between two that are asked; no divisor of usual widths
	some := make([]float32, 0, len(ink.strong)/step+1)
	for i := 0; i < len(ink.strong); i += step {
		some = append(some, ink.strong[i])
	}
	slices.Sort(some)
	mid := some[len(some)/2]
	// Half the samples lie below the middle; their spread is that of the noise, whatever
	// share of the sheet is drawn.
	low := some[len(some)/6]
	least := max(leastInk, mid+inkNoise*(mid-low))
	ink.on = make([]uint8, len(ink.strong))
	for i, v := range ink.strong {
		if v > least {
			ink.on[i] = 1
		}
	}
}
