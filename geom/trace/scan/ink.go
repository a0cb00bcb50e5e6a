package scan

import (
	"math"
	"sort"
)

const (
	// sampleSteps is about how many places along each side are looked at for ink.
	sampleSteps = 600
	// leastContrast is how much darker than paper the palest ink is that is told from it.
	leastContrast = 0.08
	// noiseReach is how many standard deviations of paper may be darker than it.
	noiseReach = 6
	// coreMM is how far inside a shape ink counts as full.
	coreMM = 0.15
	// leastCore is the share of ink that must lie inside for its level to be read there.
	leastCore = 0.05
	// thinInk is the share of ink in strokes too thin to have an inside that is darker than
	// their level: their middle.
	thinInk = 0.2
	// leastInkPlaces is how many places must be dark to speak of ink.
	leastInkPlaces = 4
	// mostInkLevel bounds the level, so that noise on white paper is not blown up to ink.
	mostInkLevel = 1 - leastContrast
)

// inkPlace is the share of paper's light at a place, the lightest just beside it, and where
// it is among the places looked at.
type inkPlace struct {
	v, beside float64
	i, j      int
}

// inkLevel returns the share of the light that full ink throws back: of paper it is 1. It
// is 0 where there is no ink.
func inkLevel(r *Raster, light surface, s float64) float64 {
	step := max(1, min(r.W, r.H)/sampleSteps)
	d := max(1, int(math.Round(min(coreMM*max(s, 0), 20))))
	var all []float64
	var dark []inkPlace
	row := make([]float32, r.W)
	for y := 1; y < r.H-1; y += step {
		light(y, row)
		for x := 1; x < r.W-1; x += step {
			v := mean3(r, x, y) / float64(row[x])
			if (y/step+x/step)%7 == 0 {
				all = append(all, v)
			}
			if v > 1-leastContrast {
				continue
			}
			side := max(mean3(r, x-d, y), mean3(r, x+d, y), mean3(r, x, y-d), mean3(r, x, y+d))
			dark = append(dark, inkPlace{v, side / float64(row[x]), (x - 1) / step, (y - 1) / step})
		}
	}
	nx, ny := (r.W-3)/step+1, (r.H-3)/step+1
	return levelOf(withoutRim(dark, nx, ny), 1-max(leastContrast, noiseReach*spread(all)))
}

const (
	// rimDark is the share of paper's light below which what lies at the border of a picture
	// may be the table that the sheet lies on.
	rimDark = 0.6
	// leastWithin is the share of the dark places that must remain within.
	leastWithin = 0.02
)

// withoutRim leaves out the dark places, of a grid of nx by ny, that hang together with
// those at the border of the picture, such as the table under a sheet: its level is not
// that of the ink. Where hardly anything else is dark, all stay.
func withoutRim(dark []inkPlace, nx, ny int) []inkPlace {
	if nx <= 0 || ny <= 0 {
		return dark
	}
	grid := make([]bool, nx*ny)
	for _, p := range dark {
		grid[p.j*nx+p.i] = p.v < rimDark
	}
	clearRim(grid, nx, ny)
	within := make([]inkPlace, 0, len(dark))
	solid := 0
	for _, p := range dark {
		if p.v >= rimDark || grid[p.j*nx+p.i] {
			within = append(within, p)
			if p.v < rimDark {
				solid++
			}
		}
	}
	if float64(solid) < leastWithin*float64(len(dark)) || solid < leastInkPlaces {
		return dark
	}
	return within
}

// spread returns the standard deviation of paper, from the places lighter than it.
func spread(v []float64) float64 {
	over := v[:0:0]
	for _, x := range v {
		if x > 1 {
			over = append(over, x-1)
		}
	}
	return 1.4826 * middle(over)
}

// levelOf returns the level of ink among places darker than the given one.
func levelOf(dark []inkPlace, below float64) float64 {
	var in []inkPlace
	weight := 0.0
	for _, p := range dark {
		if p.v < below {
			in = append(in, p)
			weight += (1 - p.v) * (1 - p.v)
		}
	}
	if len(in) < leastInkPlaces {
		return 0
	}
	sort.Slice(in, func(i, j int) bool { return in[i].v < in[j].v })
	// The first guess weighs dark places more: printed squares cover more than the pen.
	level, sum := in[0].v, 0.0
	for _, p := range in {
		if sum += (1 - p.v) * (1 - p.v); sum >= weight/2 {
			level = p.v
			break
		}
	}
	for range 2 {
		level = coreLevel(in, (1+level)/2)
	}
	return min(max(level, 0), mostInkLevel)
}

// coreLevel returns the median of what lies inside ink darker than half, or of strokes too
// thin for that what their middle has. The places are sorted.
func coreLevel(in []inkPlace, half float64) float64 {
	n := sort.Search(len(in), func(i int) bool { return in[i].v >= half })
	var core []float64
	for _, p := range in[:n] {
		if p.beside < half {
			core = append(core, p.v)
		}
	}
	if float64(len(core)) >= leastCore*float64(n) && len(core) >= leastInkPlaces {
		return middle(core)
	}
	return in[int(thinInk*float64(n))].v
}

// mean3 returns the mean of the nine pixels round a place, which is moved into the picture.
func mean3(r *Raster, x, y int) float64 {
	x, y = min(max(x, 1), r.W-2), min(max(y, 1), r.H-2)
	sum := 0
	for _, row := range [3]int{y - 1, y, y + 1} {
		p := r.Pix[row*r.W+x-1:][:3]
		sum += int(p[0]) + int(p[1]) + int(p[2])
	}
	return float64(sum) / 9
}
