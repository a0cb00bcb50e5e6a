package draft

import (
	"math"

	"hemlet/geom"
)

// The effort of bridgeFit: points of each old curve that count, and rounds, after
// which the handles have settled to well below the grid in all but wild cases.
const (
	bridgeSamples = 24
	bridgeRounds  = 20
)

// bridgeFit returns the handles of the cubic that starts where first starts and
// ends where second ends, in their directions, and lies nearest to the two by
// least squares over points of both. Where the two are one cubic that was divided,
// it is that cubic.
//
// The lengths of the handles follow from a linear system for given parameters of
// the points (Schneider, "An algorithm for automatically fitting digitized
// curves", 1990); the parameters are then moved to the nearest points of the new
// curve, and so on.
func bridgeFit(first, second geom.Segment) (out, in geom.Point) {
	f := bridgeOf(first, second)
	best, least := f.undivided(first, second), math.Inf(1)
	if best.ok {
		least = f.miss(best)
	}
	t := append([]float64(nil), f.share...)
	for range bridgeRounds {
		try := f.solve(t)
		if miss := f.miss(try); miss < least {
			best, least = try, miss
		}
		f.renew(try, t)
	}
	if !best.ok {
		third := f.length / 3
		best = bridgeHandles{third, third, true}
	}
	return f.u.Mul(best.a), f.v.Mul(best.b)
}

// bridgeWork is what stays the same from round to round.
type bridgeWork struct {
	p0, p3 geom.Point
	// u and v are the unit directions of the two handles from their ends.
	u, v   geom.Point
	points []geom.Point
	// share holds the place of each point as a share of the whole length.
	share  []float64
	length float64
}

// bridgeHandles holds the lengths in mm of the two handles.
type bridgeHandles struct {
	a, b float64
	ok   bool
}

func bridgeOf(first, second geom.Segment) *bridgeWork {
	f := &bridgeWork{p0: first.P0, p3: second.P3, u: first.Tangent(0), v: second.Tangent(1).Mul(-1)}
	tape := geom.Path{first, second}.Tape()
	f.length = tape.Length()
	for _, s := range []geom.Segment{first, second} {
		length := s.Length()
		for k := 1; k <= bridgeSamples; k++ {
			f.points = append(f.points, s.At(s.AtLength(length*float64(k)/(bridgeSamples+1))))
		}
	}
	for k := range f.points {
		seg, j := k/bridgeSamples, k%bridgeSamples+1
		lo, hi := tape.Node(seg), tape.Node(seg+1)
		f.share = append(f.share, (lo+(hi-lo)*float64(j)/(bridgeSamples+1))/f.length)
	}
	return f
}

func (f *bridgeWork) curve(h bridgeHandles) geom.Segment {
	return geom.Cubic(f.p0, f.p0.Add(f.u.Mul(h.a)), f.p3.Add(f.v.Mul(h.b)), f.p3)
}

// undivided returns the handles of the cubic of which the two are the parts, if
// they are: a division at t leaves handles in the ratio t to 1 - t at the point of
// division.
func (f *bridgeWork) undivided(first, second geom.Segment) bridgeHandles {
	in, out := first.P3.Dist(first.P2), second.P1.Dist(second.P0)
	if first.Straight || second.Straight || in == 0 || out == 0 {
		return bridgeHandles{}
	}
	t := in / (in + out)
	return bridgeHandles{first.P1.Dist(first.P0) / t, second.P3.Dist(second.P2) / (1 - t), true}
}

// solve returns the handles that lie nearest to the points at parameters t.
func (f *bridgeWork) solve(t []float64) bridgeHandles {
	var aa, ab, bb, ra, rb float64
	for i, q := range f.points {
		s := t[i]
		r := 1 - s
		b1, b2 := 3*r*r*s, 3*r*s*s
		rest := q.Sub(f.p0.Mul(r*r*r + b1)).Sub(f.p3.Mul(s*s*s + b2))
		ua, vb := f.u.Mul(b1), f.v.Mul(b2)
		aa, ab, bb = aa+ua.Dot(ua), ab+ua.Dot(vb), bb+vb.Dot(vb)
		ra, rb = ra+rest.Dot(ua), rb+rest.Dot(vb)
	}
	det := aa*bb - ab*ab
	if det <= bridgeSingular*aa*bb {
		third := f.length / 3
		return bridgeHandles{third, third, true}
	}
	h := bridgeHandles{(ra*bb - rb*ab) / det, (rb*aa - ra*ab) / det, true}
	// A handle that turns round or runs off would make a loop.
	h.a = min(max(h.a, 0), 2*f.length)
	h.b = min(max(h.b, 0), 2*f.length)
	return h
}

// bridgeSingular is the share of the determinant below which the two handles pull
// the same way and cannot be told apart.
const bridgeSingular = 1e-12

// miss returns the sum of the squared distances of the points from the curve.
func (f *bridgeWork) miss(h bridgeHandles) float64 {
	c := f.curve(h)
	sum := 0.0
	for _, q := range f.points {
		_, d := c.Nearest(q)
		sum += d * d
	}
	return sum
}

// renew moves each parameter to the nearest point of the curve.
func (f *bridgeWork) renew(h bridgeHandles, t []float64) {
	c := f.curve(h)
	for i, q := range f.points {
		t[i], _ = c.Nearest(q)
	}
}
