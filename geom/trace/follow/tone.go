package follow

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// A camera or scanner blurs light, and stores a power of it: 1/2.2 of it mostly. What is
// stored is half way between ink and paper where the light is not, so that the line of half
// level lies inside the ink, by a third of the blur. But such an edge is not alike on both
// sides: steep where it leaves the ink, gentle where it comes to the paper. From its shape
// the power follows, and from that the level at which the true edge lies.

const (
	// profileStep is the step of the profile across an edge, in px.
	profileStep = 0.25
	// profileReach is how far to both sides it goes, in blurs.
	profileReach = 3.0
	// mostProfiles and leastProfiles bound the places at which it is taken.
	mostProfiles, leastProfiles = 2000, 150
	// straightPts is how far before and after it a line must be straight there, in points,
	// and straightSine how straight.
	straightPts, straightSine = 5, 0.06
	// leastPower and mostPower bound the power of the light: nothing stores less than
	// light itself.
	leastPower, mostPower = 1, 3.5
	// goodFit is the root mean square, in shares of the contrast, by which the profile may
	// miss such an edge, and betterFit what it must have at most of that by which it misses
	// one of plain light.
	goodFit, betterFit = 0.005, 0.9
	// sureGain is what the fit must gain to be more than chance.
	sureGain = 3e-4
	// leastShift is the shift of the level that is worth it: less is within the noise of the
	// levels of ink and paper.
	leastShift = 0.03
	// softVariance is what the pixels of the softening add to its variance, in px².
	softVariance = 1.0 / 12
)

// edgeLevel returns the level, between ink and paper, at which the true edges lie, told by
// the profile across the given lines; ½ where that does not tell.
func edgeLevel(f *scan.Field, lines []Line, s float64) float64 {
	at, mean := profileOf(f, lines)
	if mean == nil {
		return halfLevel
	}
	if f.Dark {
		// The bright side is the ink: look from the other side.
		n := len(mean)
		for i := range n / 2 {
			mean[i], mean[n-1-i] = mean[n-1-i], mean[i]
		}
		for i := range mean {
			mean[i] = 1 - mean[i]
		}
	}
	soft := scan.Soft(s)
	e := softEdge{ink: f.Ink, soft: math.Sqrt(soft*soft + softVariance)}
	most := 2 * at[len(at)-1] / profileReach
	fitted := func(power float64) (softEdge, float64) {
		m := e
		m.power = power
		m.sigma = least(0.2, most, func(x float64) float64 {
			m.sigma = x
			return m.miss(at, mean)
		})
		return m, m.miss(at, mean)
	}
	_, plain := fitted(1)
	power := least(leastPower, mostPower, func(x float64) float64 {
		_, miss := fitted(x)
		return miss
	})
	m, miss := fitted(power)
	level := m.steps().value(0)
	if miss > goodFit || miss > betterFit*plain || plain-miss < sureGain || math.Abs(level-halfLevel) < leastShift {
		return halfLevel
	}
	if f.Dark {
		return 1 - level
	}
	return level
}

// profileOf returns the median profile across lines, from the ink outward, with the ways
// from the line of half level in px; nil where too little is straight.
func profileOf(f *scan.Field, lines []Line) (at, mean []float64) {
	total := 0
	var blurs []float64
	for _, l := range lines {
		total += len(l.Pts)
		blurs = append(blurs, l.Blur)
	}
	blur := median(blurs)
	if blur == 0 {
		return nil, nil
	}
	n := int(math.Ceil(profileReach * blur / profileStep))
	values := make([][]float64, 2*n+1)
	every := max(1, total/mostProfiles)
	count := 0
	for _, l := range lines {
		k := len(l.Pts)
		for i := 0; i < k && k > 2*straightPts; i++ {
			if count++; count%every != 0 {
				continue
			}
			a, p, b := l.Pts[(i+k-straightPts)%k], l.Pts[i], l.Pts[(i+straightPts)%k]
			u, v := p.Sub(a).Unit(), b.Sub(p).Unit()
			if math.Abs(u.Cross(v)) > straightSine || u.Dot(v) < 0 {
				continue
			}
			out := outward(f, p, b.Sub(a).Unit().Left())
			for j := range values {
				values[j] = append(values[j], sampleSmooth(f, p.Add(out.Mul(float64(j-n)*profileStep))))
			}
		}
	}
	if len(values[0]) < leastProfiles {
		return nil, nil
	}
	for j := range values {
		at = append(at, float64(j-n)*profileStep)
		mean = append(mean, median(values[j]))
	}
	return at, mean
}

// sampleSmooth is sample by Catmull and Rom's cubics between the pixels: straight lines
// would bend the profile across edges that run along the pixels.
func sampleSmooth(f *scan.Field, p geom.Point) float64 {
	x, y := p.X-0.5, p.Y-0.5
	i, j := int(math.Floor(x)), int(math.Floor(y))
	if i < 1 || j < 1 || i+2 >= f.W || j+2 >= f.H {
		return sample(f, p)
	}
	u, v := x-float64(i), y-float64(j)
	cubic := func(a, b, c, d, t float64) float64 {
		return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
	}
	var rows [4]float64
	for k := range rows {
		r := f.V[(j-1+k)*f.W+i-1:][:4]
		rows[k] = cubic(float64(r[0]), float64(r[1]), float64(r[2]), float64(r[3]), u)
	}
	return cubic(rows[0], rows[1], rows[2], rows[3], v) / scan.Paper
}

// outward returns the unit vector across an edge at p that leads out of the ink.
func outward(f *scan.Field, p, n geom.Point) geom.Point {
	if sample(f, p.Add(n)) < sample(f, p.Sub(n)) {
		return n.Mul(-1)
	}
	return n
}

// softEdge is the profile across an edge whose light a Gaussian blurs, stored as its power
// 1/power, and softened again. Ink is 0 and paper 1, and the edge lies at 0.
type softEdge struct {
	sigma, soft float64 // px
	power       float64
	ink         float64 // what is stored of ink, of paper 1
}

// stored returns what is stored at x before it is softened.
func (e softEdge) stored(x float64) float64 {
	dark := math.Pow(e.ink, e.power)
	light := dark + (1-dark)*(1+math.Erf(x/(e.sigma*math.Sqrt2)))/2
	return (math.Pow(light, 1/e.power) - e.ink) / (1 - e.ink)
}

const (
	edgeSteps = 48  // in which a stored edge is taken
	edgeReach = 4.5 // sigmas: beyond it the light is even, and its power too at such ink
)

// rises is a stored edge in steps: where each is, and by how much it rises.
type rises struct {
	at, by [edgeSteps + 1]float64
	soft   float64
}

// steps returns the steps by which the stored edge rises.
func (e softEdge) steps() *rises {
	r := &rises{soft: e.soft}
	d := 2 * edgeReach * e.sigma / edgeSteps
	last := 0.0
	for k := range r.at {
		u := -edgeReach*e.sigma + float64(k)*d
		v := e.stored(u)
		if k == edgeSteps {
			v = 1
		}
		r.at[k], r.by[k] = u-d/2, v-last
		last = v
	}
	return r
}

// value returns the softened profile at x.
func (r *rises) value(x float64) float64 {
	sum := 0.0
	for k, u := range r.at {
		sum += r.by[k] * (1 + math.Erf((x-u)/(r.soft*math.Sqrt2))) / 2
	}
	return sum
}

// half returns where the profile is ½.
func (r *rises) half() float64 {
	lo, hi := r.at[0]-3*r.soft, r.at[edgeSteps]+3*r.soft
	for range 24 {
		if mid := (lo + hi) / 2; r.value(mid) < halfLevel {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// miss returns the root mean square by which a profile, whose half level lies at 0, misses
// this one, once its ink and its paper are put to the best levels.
func (e softEdge) miss(at, mean []float64) float64 {
	r := e.steps()
	half := r.half()
	n := float64(len(at))
	var x, y, xx, xy, yy float64
	for i, a := range at {
		v := r.value(a + half)
		x, y, xx, xy, yy = x+v, y+mean[i], xx+v*v, xy+v*mean[i], yy+mean[i]*mean[i]
	}
	sxx, sxy, syy := xx-x*x/n, xy-x*y/n, yy-y*y/n
	return math.Sqrt(max(syy-sxy*sxy/sxx, 0) / n)
}

// least returns where between lo and hi a function with one dip is least (golden section).
func least(lo, hi float64, f func(x float64) float64) float64 {
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := f(a), f(b)
	for range 20 {
		if fa < fb {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = f(b)
		}
	}
	return (lo + hi) / 2
}
