package scan

import (
	"errors"
	"math"

	"hemlet/geom"
)

// errNoPicture says that a picture has no pixels, or fewer than its size tells.
var errNoPicture = errors.New("the picture is empty")

// whole reports whether the raster has as many pixels as its size tells.
func (r *Raster) whole() bool {
	return r != nil && r.W > 0 && r.H > 0 && len(r.Pix)/r.W >= r.H
}

// whole reports whether the field has as many values as its size tells.
func (f *Field) whole() bool {
	return f != nil && f.W > 0 && f.H > 0 && len(f.V)/f.W >= f.H
}

// holds reports whether p lies inside of a picture of w by h pixels; a NaN does not.
func holds(w, h int, p geom.Point) bool {
	return p.X >= 0 && p.Y >= 0 && p.X <= float64(w) && p.Y <= float64(h)
}

// sample returns the value at p between the middles of the pixels, in straight
// proportion; beyond the picture its outermost pixels go on.
func (r *Raster) sample(p geom.Point) float64 {
	x, y := clamp(p.X-.5, 0, float64(r.W-1)), clamp(p.Y-.5, 0, float64(r.H-1))
	i, j := int(x), int(y)
	fx, fy := x-float64(i), y-float64(j)
	at := j*r.W + i
	right, below := 0, 0
	if i+1 < r.W {
		right = 1
	}
	if j+1 < r.H {
		below = r.W
	}
	top := float64(r.Pix[at])*(1-fx) + float64(r.Pix[at+right])*fx
	low := float64(r.Pix[at+below])*(1-fx) + float64(r.Pix[at+below+right])*fx
	return top*(1-fy) + low*fy
}

// clamp returns x held between low and high, and low for NaN.
func clamp(x, low, high float64) float64 {
	if x >= high {
		return high
	}
	if x > low {
		return x
	}
	return low
}

// middleOf returns the median of xs, which it reorders, and 0 of none.
func middleOf(xs []float64) float64 { return shareOf(xs, .5) }

// shareOf returns the value below which the given share of xs lies, and 0 of none. It
// reorders xs.
func shareOf(xs []float64, share float64) float64 {
	if len(xs) == 0 {
		return 0
	}
	k := int(math.Round(share * float64(len(xs)-1)))
	// Quickselect with the middle of three as the pivot.
	low, high := 0, len(xs)-1
	for low < high {
		pivot := xs[low+(high-low)/2]
		i, j := low, high
		for i <= j {
			for xs[i] < pivot {
				i++
			}
			for pivot < xs[j] {
				j--
			}
			if i <= j {
				xs[i], xs[j] = xs[j], xs[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			high = j
		case k >= i:
			low = i
		default:
			return xs[k]
		}
	}
	return xs[k]
}
