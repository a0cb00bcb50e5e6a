package fit

import (
	"context"
	"math"
)

const (
	// planStations is the largest number of places where a run may be divided at
	// first.
	planStations = 24
	// planSamples is the number of samples of a stretch by which the plan judges
	// it.
	planSamples = 40
	// planSteps bounds the steps on one stretch: the plan needs to know whether a
	// cubic will do, not which.
	planSteps = 6
	// planHopeless is the number of tolerances by which the samples of a stretch
	// are off (root mean square) when longer ones are no more tried.
	planHopeless = 1.5
	// costCubic and costLine are what a further cubic and a further line must
	// save, in units of the squared misfit aimed at and of independent samples;
	// costLine as a share of costCubic, as a line takes fewer numbers.
	costCubic, costLine = 60, 0.7
)

// plan knows how well each stretch of a run between two stations is met by a line
// and by a cubic.
type plan struct {
	r        *run
	stations []int // samples, the two ends among them
	line     [][]float64
	cubic    [][]float64 // mean squared distance in mm², by Huber
}

// newPlan looks at all stretches between the stations.
func newPlan(ctx context.Context, r *run, stations []int) (*plan, error) {
	p := &plan{r: r, stations: stations}
	n := len(stations)
	p.line, p.cubic = make([][]float64, n), make([][]float64, n)
	hopeless := planHopeless * r.tol
	hopeless *= hopeless
	for i := range n {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		p.line[i], p.cubic[i] = make([]float64, n), make([]float64, n)
		lost := false
		for j := i + 1; j < n; j++ {
			if lost {
				p.line[i][j], p.cubic[i][j] = math.Inf(1), math.Inf(1)
				continue
			}
			p.line[i][j] = p.straight(i, j)
			if p.line[i][j] <= r.floor*r.floor {
				p.cubic[i][j] = p.line[i][j]
			} else if i > 0 && p.cubic[i-1][j] <= r.floor*r.floor {
				// A part of what one cubic meets is met by one as well.
				p.cubic[i][j] = p.cubic[i-1][j]
			} else {
				p.cubic[i][j] = p.curved(i, j)
			}
			lost = p.cubic[i][j] > hopeless
		}
	}
	return p, nil
}

// part returns the samples of the stretch from station i to j, about planSamples of
// them.
func (p *plan) part(i, j int) []sample {
	lo, hi := max(0, p.stations[i]), min(p.stations[j], len(p.r.samples)-1)
	stride := max(1, (hi-lo)/planSamples)
	out := make([]sample, 0, (hi-lo)/stride+1)
	for q := lo; q <= hi; q += stride {
		if s := p.r.samples[q]; s.w > 0 {
			out = append(out, s)
		}
	}
	return out
}

// straight returns the mean squared distance from the line of least squares.
func (p *plan) straight(i, j int) float64 {
	part := p.part(i, j)
	if len(part) < 3 {
		return 0
	}
	_, _, rms := regression(part)
	return rms * rms
}

// curved returns the mean squared distance from the best cubic.
func (p *plan) curved(i, j int) float64 {
	part := p.part(i, j)
	if len(part) < 5 {
		return p.line[i][j]
	}
	r := p.r
	sub := run{samples: part, noise: r.noise, tol: r.tol, length: r.place(p.stations[j])}
	a, b := p.stations[i], p.stations[j]
	from := r.place(a)
	p0, a0 := r.frame(a)
	p1, a1 := r.frame(b)
	sub.start = joint{p: p0, home: p0, out: a0, homeOut: a0, corner: true, hold: endHold}
	sub.end = joint{p: p1, home: p1, in: a1, homeIn: a1, corner: true, hold: endHold}
	for q := range part {
		part[q].s -= from
	}
	sub.length -= from
	if r.loop && sub.length <= 0 {
		sub.length += r.length
	}
	c := sub.chain(cut{breaks: []int{-1, len(part)}, straight: []bool{false}})
	weight := c.weight()
	c.enough = r.floor * r.floor * weight
	c.solve(planSteps)
	return c.loss() / weight
}

// regression returns a point and the direction of the line with the least squared
// distances from the samples, and their root mean square.
func regression(part []sample) (mid, dir [2]float64, rms float64) {
	var n, sx, sy float64
	for _, s := range part {
		n += s.w
		sx += s.w * s.p.X
		sy += s.w * s.p.Y
	}
	if n == 0 {
		return mid, dir, 0
	}
	mx, my := sx/n, sy/n
	var xx, xy, yy float64
	for _, s := range part {
		dx, dy := s.p.X-mx, s.p.Y-my
		xx += s.w * dx * dx
		xy += s.w * dx * dy
		yy += s.w * dy * dy
	}
	angle := 0.5 * math.Atan2(2*xy, xx-yy)
	sin, cos := math.Sincos(angle)
	least := xx*sin*sin - 2*xy*sin*cos + yy*cos*cos
	return [2]float64{mx, my}, [2]float64{cos, sin}, math.Sqrt(math.Max(0, least) / n)
}

// best returns the division with the least sum of misfits, in units of sigma, and
// costs. Two lines in a row would be a corner, and are not taken.
func (p *plan) best(sigma float64) (cut, float64) {
	n := len(p.stations)
	type state struct {
		cost float64
		from int
		line bool // of the span before that
	}
	// at[j][k]: the cheapest way to station j, the last span a line if k is 1.
	at := make([][2]state, n)
	for j := 1; j < n; j++ {
		at[j][0].cost, at[j][1].cost = math.Inf(1), math.Inf(1)
		for i := range j {
			units := math.Max(1, (p.r.place(p.stations[j])-p.r.place(p.stations[i]))/p.r.unit)
			if p.r.loop && j == n-1 && i == 0 {
				continue // a loop of one span has no direction
			}
			before := at[i][0].cost
			afterLine := false
			if i > 0 && at[i][1].cost < before {
				before, afterLine = at[i][1].cost, true
			}
			if v := before + units*p.cubic[i][j]/(sigma*sigma) + costCubic; v < at[j][0].cost {
				at[j][0] = state{v, i, afterLine}
			}
			if v := at[i][0].cost + units*p.line[i][j]/(sigma*sigma) + costCubic*costLine; v < at[j][1].cost {
				at[j][1] = state{v, i, false}
			}
		}
	}
	line := at[n-1][1].cost < at[n-1][0].cost
	cost := math.Min(at[n-1][0].cost, at[n-1][1].cost)
	var d cut
	for j := n - 1; j > 0; {
		k := 0
		if line {
			k = 1
		}
		d.breaks = append(d.breaks, p.stations[j])
		d.straight = append(d.straight, line)
		j, line = at[j][k].from, at[j][k].line
	}
	d.breaks = append(d.breaks, p.stations[0])
	reverse(d.breaks)
	reverse(d.straight)
	return d, cost
}

func reverse[T any](list []T) {
	for i, j := 0, len(list)-1; i < j; i, j = i+1, j-1 {
		list[i], list[j] = list[j], list[i]
	}
}

// stations returns the places where a run may be divided: half of them by length,
// half by how much the run turns, so that a short curve in a long run is seen.
func (r *run) stations() []int {
	n := len(r.samples)
	turn := make([]float64, n+1)
	for q := range n {
		t := 0.0
		if q > 1 && q < n-2 {
			u := r.samples[q].p.Sub(r.samples[q-2].p)
			v := r.samples[q+2].p.Sub(r.samples[q].p)
			t = math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
		}
		turn[q+1] = turn[q] + t
	}
	total := turn[n]
	share := func(q int) float64 {
		s := float64(q) / float64(n)
		if total > 0 {
			return (s + turn[q]/total) / 2
		}
		return s
	}
	k := min(planStations, n/3)
	out := []int{-1}
	if r.loop {
		out[0] = 0
	}
	q := 0
	for i := 1; i < k; i++ {
		for q < n && share(q) < float64(i)/float64(k) {
			q++
		}
		if last := out[len(out)-1]; q >= last+3 && q <= n-3 {
			out = append(out, q)
		}
	}
	return append(out, n)
}

// finer returns stations close about the breaks of a division.
func (r *run) finer(d cut) []int {
	n := len(r.samples)
	first := d.breaks[0]
	out := []int{first}
	add := func(q int) {
		if q >= out[len(out)-1]+3 && q <= n-3 {
			out = append(out, q)
		}
	}
	inner := len(d.breaks) - 2
	per := max(1, min(3, planStations/(2*max(1, inner))))
	for j := 1; j <= inner; j++ {
		b := d.breaks[j]
		back, fore := b-max(0, d.breaks[j-1]), d.breaks[j+1]-b
		for k := per; k > 0; k-- {
			add(b - back*k/(2*per+2))
		}
		add(b)
		for k := 1; k <= per; k++ {
			add(b + fore*k/(2*per+2))
		}
	}
	return append(out, n)
}
