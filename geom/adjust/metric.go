package adjust

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

const (
	// leastShare is the share of the outline that an edge counts as long as at least,
	// when its stretching and bending is weighed: an eighth, half the side of a square.
	// So small details keep their form and move as one.
	leastShare = 1. / 8
	// leastSpeed is the share of a stretch's mean speed below which its parameter does
	// not run: near a handle of no length derivatives by the length have no bounds.
	leastSpeed = 0.1
)

// metric returns the matrix of what the package's comment says is made least, halved:
// zᵀ q z / 2 is half the integral, in mm³.
func (o *outline) metric() sqp.Square {
	q := sqp.NewSquare(o.n)
	reach := o.reaches()
	for i := range o.at {
		m, slots := o.stretchMetric(i, reach[i]), o.stretch(i)
		for a := range m {
			for c := range m {
				add(q, slots[a], slots[c], sqp.Matrix{XX: m[a][c], YY: m[a][c]})
			}
		}
	}
	o.settle(q)
	return q
}

// stretchMetric returns the metric of stretch i over its four slots, x and y alike; reach
// is ℓ.
func (o *outline) stretchMetric(i int, reach float64) (m [4][4]float64) {
	seg := o.shape.path(i)
	length := seg.Length()
	if length == 0 {
		return m
	}
	b := o.basisOf(i)
	turn := reach / math.Pi
	bend := turn * turn
	for k, t := range b.t {
		// Derivatives by the length: f'/v, and (f'' - f' v'/v)/v².
		d := seg.Deriv(t)
		v, slope := d.Len(), 0.0
		if least := leastSpeed * length; v < least {
			v = least
		} else {
			slope = d.Dot(seg.Second(t)) / v
		}
		var f1, f2 [4]float64
		for a := range f1 {
			f1[a] = turn * b.df[k][a] / v
			f2[a] = bend * (b.ddf[k][a] - b.df[k][a]*slope/v) / (v * v)
		}
		for a := range m {
			for c := range m {
				m[a][c] += b.w[k] * v * (b.f[k][a]*b.f[k][c] + f1[a]*f1[c] + f2[a]*f2[c])
			}
		}
	}
	return m
}

// settle gives unknowns that hardly move anything, such as the handle of a stretch without
// length, a weight of their own.
func (o *outline) settle(q sqp.Square) {
	top := 0.0
	for i := range q.N {
		top = math.Max(top, q.A[i*q.N+i])
	}
	if top == 0 {
		top = 1
	}
	for i := range q.N {
		q.A[i*q.N+i] += idle * top
	}
}

// idle is the share of the heaviest unknown's weight that every unknown has by itself:
// enough for the matrix to be positive in numbers, not only by its nature.
const idle = 1e-13

// reaches returns for each stretch the length in mm of the edge from corner to corner that
// it lies in.
func (o *outline) reaches() []float64 {
	n := len(o.at)
	lengths := make([]float64, n)
	total := 0.0
	for i := range lengths {
		lengths[i] = o.shape.path(i).Length()
		total += lengths[i]
	}
	reach := make([]float64, n)
	start := 0
	for start < n && o.inner[start] {
		start++
	}
	for k := 0; k < n; {
		end, sum := k, 0.0
		for ; end < n; end++ {
			i := (start + end) % n
			if end > k && !o.inner[i] {
				break
			}
			sum += lengths[i]
		}
		for ; k < end; k++ {
			reach[(start+k)%n] = math.Max(sum, leastShare*total)
		}
	}
	return reach
}

// farthest returns the largest distance in mm between a shape before and after, at equal
// parameters of the stretches.
func farthest(before, after Shape) float64 {
	far := 0.0
	for i := range before.Nodes {
		a, b := before.path(i), after.path(i)
		d := [4]geom.Point{b.P0.Sub(a.P0), b.P1.Sub(a.P1), b.P2.Sub(a.P2), b.P3.Sub(a.P3)}
		by := geom.Cubic(d[0], d[1], d[2], d[3])
		far = max(far, d[0].Len())
		if a.Straight && b.Straight {
			continue
		}
		for k := 1; k < movedPlaces; k++ {
			far = max(far, by.At(float64(k)/movedPlaces).Len())
		}
	}
	return far
}

// movedPlaces is the number of places of a stretch at which its movement is looked at: a
// cubic that is known at 32 places is missed by a thousandth at most between them.
const movedPlaces = 32
