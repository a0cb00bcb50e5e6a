package scan

import (
	"context"
	"math"
	"slices"
)

// blocks holds the grey value of paper in square blocks of a picture.
type blocks struct {
	side, nx, ny int
	w, h         int       // of the picture in px
	v            []float64 // 0 to 255, row after row
	ok           []bool    // paper was seen in this block; elsewhere v is a guess
	// fall is the share of the light of paper nearby below which there is ink: as much
	// above the ink of the picture as below its paper, in steps of light. Shadows fall less.
	fall float64
}

const (
	// paperShare is the share of a block that may be darker than its paper.
	paperShare = 0.8
	// darkShare is the share of a block that is darker than what is taken for its ink.
	darkShare = 0.03
	// darkBlocks is the share of all blocks that have darker ink, beside their paper, than
	// what is taken for the ink of the picture.
	darkBlocks = 0.02
	// darkNoise is how many standard deviations of the noise that share of a block lies
	// below the level of its ink: half of one where a pen crosses it, 1.6 where half of it
	// is ink.
	darkNoise = 1.5
	// leastFall and mostFall bound fall.
	leastFall, mostFall = 0.3, 0.7
	// leastPaper is the share of a block that must be paper to measure it.
	leastPaper = 0.1
)

// measureBlocks measures the paper of a picture in blocks of about mm millimetres.
func measureBlocks(ctx context.Context, r *Raster, l Light, mm float64) (*blocks, error) {
	side := max(leastBlockPx, int(math.Round(min(mm*max(l.S, 0), 1e4))))
	side = min(side, max(leastBlockPx, min(r.W, r.H)/leastBlocks))
	b := &blocks{side: side, nx: (r.W + side - 1) / side, ny: (r.H + side - 1) / side, w: r.W, h: r.H}
	counts := make([][256]uint16, b.nx*b.ny)
	err := bands(ctx, b.ny*bandRows, func(y0, _ int) { b.count(r, y0/bandRows, counts) })
	if err != nil {
		return nil, err
	}
	b.v, b.ok = make([]float64, len(counts)), make([]bool, len(counts))
	for i := range counts {
		b.v[i], _ = share(&counts[i], 0, paperShare)
		b.ok[i] = true
	}
	b.fall = b.fallOf(counts)
	if l.Dark {
		b.dropBelow(otsu(counts))
	}
	b.dropInk()
	for i := range counts {
		v, n := share(&counts[i], int(b.fall*b.v[i]), 0.5)
		_, all := share(&counts[i], 0, 0.5)
		if b.ok[i] = float64(n) >= leastPaper*float64(all) && n > 0 && b.ok[i]; b.ok[i] {
			b.v[i] = v
		}
	}
	return b, nil
}

// fallOf returns the fall of light from paper to ink.
func (b *blocks) fallOf(counts [][256]uint16) float64 {
	ratio := make([]float64, len(counts))
	lift := darkNoise * noiseOf(counts)
	for i := range counts {
		dark, _ := share(&counts[i], 0, darkShare)
		dark += lift
		ratio[i] = max(dark, 1) / max(b.v[i], 1)
	}
	slices.Sort(ratio)
	return min(max(math.Sqrt(ratio[int(darkBlocks*float64(len(ratio)))]), leastFall), mostFall)
}

// noiseOf returns the standard deviation of the grey values in blocks, from the lighter half
// of each. It is the median of the blocks, of which most are all paper or all ink.
func noiseOf(counts [][256]uint16) float64 {
	const above = 0.8413 // of a Gaussian lies below one standard deviation above its middle
	all := make([]float64, len(counts))
	for i := range counts {
		mid, _ := share(&counts[i], 0, 0.5)
		high, _ := share(&counts[i], 0, above)
		all[i] = high - mid
	}
	return middle(all)
}

// countStep is how many pixels apart, both ways, the pixels lie that are counted in a block
// of more than so many across.
func countStep(side int) int { return 1 + side/32 }

// count counts the grey values in row j of the blocks.
func (b *blocks) count(r *Raster, j int, counts [][256]uint16) {
	step := countStep(b.side)
	for y := j * b.side; y < min((j+1)*b.side, r.H); y += step {
		row := r.Pix[y*r.W : (y+1)*r.W]
		for i := range b.nx {
			c := &counts[j*b.nx+i]
			for x := i * b.side; x < min((i+1)*b.side, r.W); x += step {
				if c[row[x]] < math.MaxUint16 {
					c[row[x]]++
				}
			}
		}
	}
}

// share returns the value below which lies the given share of the counted values from the
// value lo on, and how many these are. Inside a value it goes on evenly.
func share(c *[256]uint16, lo int, part float64) (float64, int) {
	n := 0
	for v := lo; v < 256; v++ {
		n += int(c[v])
	}
	want, sum := part*float64(n), 0.0
	for v := lo; v < 256; v++ {
		k := float64(c[v])
		if k > 0 && sum+k >= want {
			return float64(v) - 0.5 + (want-sum)/k, n
		}
		sum += k
	}
	return 255, n
}

// otsu returns the value that best parts the light from the dark of all blocks (Otsu 1979,
// "A threshold selection method from gray-level histograms").
func otsu(counts [][256]uint16) float64 {
	var h [256]float64
	n, sum := 0.0, 0.0
	for i := range counts {
		for v, k := range counts[i] {
			h[v] += float64(k)
			n += float64(k)
			sum += float64(k) * float64(v)
		}
	}
	best, at := 0.0, 0.0
	dark, darkSum := 0.0, 0.0
	for v, k := range h {
		dark, darkSum = dark+k, darkSum+k*float64(v)
		if dark == 0 || dark == n {
			continue
		}
		d := darkSum/dark - (sum-darkSum)/(n-dark)
		if between := dark * (n - dark) * d * d; between > best {
			best, at = between, float64(v)+0.5
		}
	}
	return at
}

// dropBelow takes no paper from blocks darker than v.
func (b *blocks) dropBelow(v float64) {
	top := 0.0
	for _, x := range b.v {
		top = max(top, x)
	}
	for i := range b.v {
		if b.v[i] < v && v < top {
			b.ok[i], b.v[i] = false, top
		}
	}
}

// dropInk takes no paper from blocks that are all ink, and guesses the paper there from
// that beside them. It goes inward from the paper round a shape until nothing changes.
func (b *blocks) dropInk() {
	for range b.nx + b.ny {
		changed := false
		for j := range b.ny {
			for i := range b.nx {
				at := j*b.nx + i
				top, guess := b.around(i, j)
				if b.v[at] < b.fall*top && b.ok[at] {
					b.ok[at], b.v[at], changed = false, guess, true
				}
			}
		}
		if !changed {
			return
		}
	}
}

// around returns the lightest block within 2 blocks of (i, j), and the mean of those there
// that are not much darker.
func (b *blocks) around(i, j int) (top, mean float64) {
	each := func(do func(v float64)) {
		for y := max(j-2, 0); y <= min(j+2, b.ny-1); y++ {
			for _, v := range b.v[y*b.nx+max(i-2, 0) : y*b.nx+min(i+2, b.nx-1)+1] {
				do(v)
			}
		}
	}
	each(func(v float64) { top = max(top, v) })
	n := 0.0
	each(func(v float64) {
		if v >= b.fall*top {
			mean += v
			n++
		}
	})
	return top, mean / n
}
