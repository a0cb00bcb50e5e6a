package scan

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	// leastForQuadratic is how many blocks must show paper for a surface of six numbers.
	leastForQuadratic = 12
	// rejections is how often blocks that do not fit are left out and the rest fitted anew.
	rejections = 3
	// farOff is how many times the usual miss a block may miss before it is left out.
	farOff = 2.5
	// leastMiss is the miss, in steps of 255, that is always allowed: the step of the scan.
	leastMiss = 0.75
	// leastLight is the least light, in steps of 255: division by less makes noise of noise.
	leastLight = 4
	// beyond is how far outside the range of what was seen the surface may go.
	beyond = 0.25
)

// terms are those of a quadratic surface over block (i, j), in coordinates from -1 to 1.
func (b *blocks) terms(i, j float64) [6]float64 {
	x := (2*i+1)*float64(b.side)/float64(b.w) - 1
	y := (2*j+1)*float64(b.side)/float64(b.h) - 1
	return [6]float64{1, x, y, x * x, x * y, y * y}
}

// quadratic fits a quadratic surface to the blocks, and returns the share of the light by
// which all but a tenth of them miss it.
func (b *blocks) quadratic() (surface, float64) {
	var in []int
	for i, ok := range b.ok {
		if ok {
			in = append(in, i)
		}
	}
	if len(in) < leastForQuadratic {
		return b.constant(in), 0
	}
	all := in
	c := b.fit(in)
	for range rejections {
		miss := make([]float64, len(in))
		for k, i := range in {
			miss[k] = math.Abs(b.v[i] - b.value(c, i))
		}
		limit := max(farOff*1.4826*middle(miss), leastMiss)
		var kept []int
		for k, i := range in {
			if miss[k] <= limit {
				kept = append(kept, i)
			}
		}
		if len(kept) < leastForQuadratic {
			break
		}
		in = kept
		c = b.fit(in)
	}
	miss := make([]float64, len(all))
	for k, i := range all {
		v := b.value(c, i)
		miss[k] = math.Abs(b.v[i]-v) / max(v, leastLight)
	}
	slices.Sort(miss)
	lo, hi := b.limits(in)
	return func(y int, dst []float32) {
		v := (2*float64(y)+1)/float64(b.h) - 1
		c0, c1, c2 := c[0]+v*(c[2]+v*c[5]), c[1]+v*c[4], c[3]
		// Along a row in pixels: p + x (q + x s).
		d := 2 / float64(b.w)
		u := d/2 - 1
		p, q, s := c0+u*(c1+u*c2), d*(c1+2*u*c2), d*d*c2
		fp, fq, fs, flo, fhi := float32(p), float32(q), float32(s), float32(lo), float32(hi)
		for i := range dst {
			x := float32(i)
			dst[i] = min(max(fp+x*(fq+x*fs), flo), fhi)
		}
	}, miss[len(miss)*9/10]
}

// limits returns what the light may be, from what it is in the given blocks.
func (b *blocks) limits(in []int) (lo, hi float64) {
	lo, hi = math.Inf(1), 0
	for _, i := range in {
		lo, hi = min(lo, b.v[i]), max(hi, b.v[i])
	}
	return max(lo*(1-beyond), leastLight), max(hi*(1+beyond), leastLight)
}

// constant returns the same light everywhere: the median of the given blocks.
func (b *blocks) constant(in []int) surface {
	all := make([]float64, 0, len(in))
	for _, i := range in {
		all = append(all, b.v[i])
	}
	if len(all) == 0 {
		all = append(all, b.v...)
	}
	v := float32(max(middle(all), leastLight))
	return func(_ int, dst []float32) {
		for i := range dst {
			dst[i] = v
		}
	}
}

// middle returns the median, and sorts; 0 of nothing.
func middle(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	return v[len(v)/2]
}

// fit returns the quadratic surface of least squares through the given blocks.
func (b *blocks) fit(in []int) [6]float64 {
	n, r := mat.NewSymDense(6, nil), mat.NewVecDense(6, nil)
	for _, i := range in {
		t := b.terms(float64(i%b.nx), float64(i/b.nx))
		for k := range t {
			r.SetVec(k, r.AtVec(k)+t[k]*b.v[i])
			for m := k; m < 6; m++ {
				n.SetSym(k, m, n.At(k, m)+t[k]*t[m])
			}
		}
	}
	for k := range 6 {
		// A hair of weight on small numbers, for a picture one block high.
		n.SetSym(k, k, n.At(k, k)+1e-6*float64(len(in)))
	}
	var x mat.VecDense
	var c [6]float64
	if x.SolveVec(n, r) != nil && x.Len() != 6 {
		return c
	}
	for k := range c {
		c[k] = x.AtVec(k)
	}
	return c
}

// value returns the quadratic surface c in the middle of block i.
func (b *blocks) value(c [6]float64, i int) float64 {
	v := 0.0
	for k, t := range b.terms(float64(i%b.nx), float64(i/b.nx)) {
		v += c[k] * t
	}
	return v
}

// smooth returns the light of the blocks themselves, smoothed a little, straight between
// their middles.
func (b *blocks) smooth() surface {
	b.fill()
	v := b.softened()
	lo, _ := b.limits(allOf(len(v)))
	side := float64(b.side)
	// place returns the block before the middle of pixel p, and the share of the next.
	place := func(p, n int) (int, float64) {
		t := min(max((float64(p)+0.5)/side-0.5, 0), float64(n-1))
		i := min(int(t), max(n-2, 0))
		return i, t - float64(i)
	}
	return func(y int, dst []float32) {
		j, fy := place(y, b.ny)
		up, down := v[j*b.nx:(j+1)*b.nx], v[min(j+1, b.ny-1)*b.nx:][:b.nx]
		mix := func(i int) float64 { return up[i]*(1-fy) + down[i]*fy }
		for x := range dst {
			i, fx := place(x, b.nx)
			dst[x] = float32(max(mix(i)*(1-fx)+mix(min(i+1, b.nx-1))*fx, lo))
		}
	}
}

func allOf(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// fill gives blocks without paper the mean of those beside them that have or got it, from
// the paper inward.
func (b *blocks) fill() {
	known := slices.Clone(b.ok)
	for range b.nx + b.ny {
		next, missing := slices.Clone(known), false
		for at := range known {
			if known[at] {
				continue
			}
			sum, n := 0.0, 0.0
			b.beside(at, func(k int) {
				if known[k] {
					sum += b.v[k]
					n++
				}
			})
			if n == 0 {
				missing = true
				continue
			}
			b.v[at], next[at] = sum/n, true
		}
		known = next
		if !missing {
			return
		}
	}
}

// beside calls do for the up to eight blocks round block at.
func (b *blocks) beside(at int, do func(k int)) {
	i, j := at%b.nx, at/b.nx
	for y := max(j-1, 0); y <= min(j+1, b.ny-1); y++ {
		for x := max(i-1, 0); x <= min(i+1, b.nx-1); x++ {
			if k := y*b.nx + x; k != at {
				do(k)
			}
		}
	}
}

// softened returns the median of each block and those beside it.
func (b *blocks) softened() []float64 {
	out := make([]float64, len(b.v))
	for at := range b.v {
		near := []float64{b.v[at]}
		b.beside(at, func(k int) { near = append(near, b.v[k]) })
		slices.Sort(near)
		out[at] = (near[(len(near)-1)/2] + near[len(near)/2]) / 2
	}
	return out
}
