package scan

import (
	"context"
	"math"
)

// Softening takes the noise of single pixels out and spreads an edge over enough of them to
// place it between two.
const (
	leastSoftPx = 0.5  // px: less would leave steps of pixels in an edge
	softMM      = 0.08 // mm: a fifth of a thin pen
	softReach   = 3.5  // sigmas: beyond it lies a 2000th of a Gaussian
)

// Soft returns the sigma in px by which Even softens a picture of s px per mm.
func Soft(s float64) float64 {
	if !(s > 0) {
		return leastSoftPx
	}
	return max(leastSoftPx, min(softMM*s, mostSoftPx))
}

// mostSoftPx bounds the softening: that of a picture of 3000 dpi.
const mostSoftPx = 10

// gaussian returns the half of a normed Gaussian from its middle on.
func gaussian(sigma float64) []float32 {
	n := int(math.Ceil(softReach * sigma))
	k := make([]float64, n+1)
	sum := 0.0
	for i := range k {
		// The mean of the Gaussian over a pixel: its value in the middle is too steep for a
		// sigma of half a pixel.
		lo, hi := (float64(i)-0.5)/(sigma*math.Sqrt2), (float64(i)+0.5)/(sigma*math.Sqrt2)
		k[i] = math.Erf(hi) - math.Erf(lo)
		sum += k[i]
		if i > 0 {
			sum += k[i]
		}
	}
	half := make([]float32, n+1)
	for i := range k {
		half[i] = float32(k[i] / sum)
	}
	return half
}

// soften writes a softened picture of w by h. Of the source it asks for rows of float32,
// 0 for ink and 1 for paper, and gives what comes of them to put, row by row, from several
// goroutines. Beyond the border the picture goes on with its last pixels.
func soften(ctx context.Context, w, h int, half []float32, row func(y int, dst []float32), put func(y int, src []float32)) error {
	n := len(half) - 1
	return bands(ctx, h, func(y0, y1 int) {
		wide := make([]float32, w+2*n)
		ring := make([][]float32, 2*n+1)
		for i := range ring {
			ring[i] = make([]float32, w)
		}
		out := make([]float32, w)
		for y := y0 - n; y < y1+n; y++ {
			row(min(max(y, 0), h-1), wide[n:n+w])
			for i := range n {
				wide[i], wide[n+w+i] = wide[n], wide[n+w-1]
			}
			at := func(y int) []float32 { return ring[(y-y0+n)%len(ring)] }
			across(at(y), wide, half)
			if y >= y0+n {
				down(out, half, func(d int) []float32 { return at(y - n + d) })
				put(y-n, out)
			}
		}
	})
}

// across filters a row, padded on both sides, with a symmetric kernel.
func across(dst, src, half []float32) {
	n, w := len(half)-1, len(dst)
	mid := src[n : n+w]
	for x := range dst {
		dst[x] = mid[x] * half[0]
	}
	for i := 1; i <= n; i++ {
		k, a, b := half[i], src[n-i:n-i+w], src[n+i:n+i+w]
		for x := range dst {
			dst[x] += k * (a[x] + b[x])
		}
	}
}

// down filters the middle one of rows with a symmetric kernel.
func down(dst, half []float32, row func(d int) []float32) {
	mid := row(0)[:len(dst)]
	for x := range dst {
		dst[x] = mid[x] * half[0]
	}
	for i := 1; i < len(half); i++ {
		k, a, b := half[i], row(-i)[:len(dst)], row(i)[:len(dst)]
		for x := range dst {
			dst[x] += k * (a[x] + b[x])
		}
	}
}
