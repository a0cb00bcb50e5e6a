package scan

import (
	"cmp"
	"context"
	"math"
	"slices"

	"hemlet/geom"
)

// gridSeed is a lattice as it shows in one window: a crossing and the steps to the next
// ones, in px of the lessened picture.
type gridSeed struct {
	at, u, v geom.Point
	score    float64
}

// Parameters of the search in windows, in px of the lessened picture.
const (
	// ridgeBox is the reach of the box whose mean a thin line is darker than.
	ridgeBox = 5
	// ridgeShare is the share of px that are looked at: those that stand out most.
	ridgeShare = .12
	// leastRidge is the least by which they stand out, in grey levels.
	leastRidge = 2
	// mostRidge bounds what one px counts, in the level at which it is looked at, so that
	// a black line counts hardly more than a pale one.
	mostRidge = 2.5
	// leastPeriod is the least distance of lines.
	leastPeriod = 4
	// squareSkew is how far the two directions may be from square to each other, in
	// degrees, and squareShare by what factor their distances may differ.
	squareSkew, squareShare = 12, 1.35
	// leastAgain is how well lines must come again, of how well they agree with themselves.
	leastAgain = .2
	// mostSpots bounds the px of one window that are looked at.
	mostSpots = 4000
)

// gridWindows are the sizes of the windows: small ones stand against perspective, large
// ones hold wide squares.
var gridWindows = []int{150, 420}

// gridSeedsOf returns the likeliest lattices, the best first.
func gridSeedsOf(ctx context.Context, r *Raster, light bool) ([]gridSeed, error) {
	ridges := ridgesOf(r, light)
	var all []gridSeed
	for _, size := range gridWindows {
		size = min(size, max(r.W, r.H))
		step := max(size*5/6, 1)
		var at []geom.Point
		for y := size / 2; y < max(r.H-size/4, size/2+1); y += step {
			for x := size / 2; x < max(r.W-size/4, size/2+1); x += step {
				at = append(at, geom.Pt(float64(x), float64(y)))
			}
		}
		found := make([]*gridSeed, len(at))
		err := each(ctx, len(at), func(i int) {
			if s, ok := seedIn(r, ridges, at[i], size/2); ok {
				found[i] = &s
			}
		})
		if err != nil {
			return nil, err
		}
		for _, s := range found {
			if s != nil {
				all = append(all, *s)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b gridSeed) int { return cmp.Compare(b.score, a.score) })
	return all[:min(len(all), gridSeeds)], nil
}

// ridgesOf returns by how much each px is darker than its surroundings, or lighter, in
// shares of the level at which a px is looked at; 0 below it.
func ridgesOf(r *Raster, light bool) []float32 {
	w, h := r.W, r.H
	// Sums of all px above and left.
	sums := make([]int32, (w+1)*(h+1))
	for y := range h {
		var row int32
		for x := range w {
			row += int32(r.Pix[y*w+x])
			sums[(y+1)*(w+1)+x+1] = sums[y*(w+1)+x+1] + row
		}
	}
	over := make([]float32, w*h)
	var hist [1024]int
	for y := range h {
		y0, y1 := max(y-ridgeBox, 0), min(y+ridgeBox+1, h)
		for x := range w {
			x0, x1 := max(x-ridgeBox, 0), min(x+ridgeBox+1, w)
			sum := sums[y1*(w+1)+x1] - sums[y0*(w+1)+x1] - sums[y1*(w+1)+x0] + sums[y0*(w+1)+x0]
			d := float32(sum)/float32((y1-y0)*(x1-x0)) - float32(r.Pix[y*w+x])
			if light {
				d = -d
			}
			over[y*w+x] = d
			hist[int(max(d, 0)*4)]++
		}
	}
	level := float32(leastRidge)
	for i, n := len(hist)-1, 0; i >= 0; i-- {
		if n += hist[i]; n > int(ridgeShare*float64(w*h)) {
			level = max(level, float32(i)/4)
			break
		}
	}
	for i, d := range over {
		if d < level {
			over[i] = 0
		} else {
			over[i] = min(d/level, mostRidge)
		}
	}
	return over
}

// spot is a px that stands out, seen from the middle of its window.
type spot struct{ x, y, w float32 }

// seedIn looks for a lattice in a round window.
func seedIn(r *Raster, ridges []float32, mid geom.Point, radius int) (gridSeed, bool) {
	var spots []spot
	r.around(mid, float64(radius), func(x, y int) {
		if w := ridges[y*r.W+x]; w > 0 {
			spots = append(spots, spot{float32(float64(x) + .5 - mid.X), float32(float64(y) + .5 - mid.Y), w})
		}
	})
	if len(spots) < 4*radius/leastPeriod {
		return gridSeed{}, false
	}
	if thin := (len(spots) + mostSpots - 1) / mostSpots; thin > 1 {
		for i := range len(spots) / thin {
			spots[i] = spots[i*thin]
		}
		spots = spots[:len(spots)/thin]
	}
	p := newProjector(spots, radius)
	sharp := make([]float64, 180)
	first := 0
	for a := range sharp {
		if sharp[a] = p.sharpness(float64(a)); sharp[a] > sharp[first] {
			first = a
		}
	}
	second := -1
	for d := 90 - squareSkew; d <= 90+squareSkew; d++ {
		if a := (first + d) % 180; second < 0 || sharp[a] > sharp[second] {
			second = a
		}
	}
	usual := middleOf(slices.Clone(sharp))
	a, ok1 := p.comb(p.turned(float64(first)))
	b, ok2 := p.comb(p.turned(float64(second)))
	if !ok1 || !ok2 || a.period > b.period*squareShare || b.period > a.period*squareShare {
		return gridSeed{}, false
	}
	s, ok := latticeOf(a, b, mid)
	s.score = math.Min(sharp[first], sharp[second]) / (usual + 1) * a.again * b.again
	return s, ok
}

// projector adds up the spots of a window along lines.
type projector struct {
	spots      []spot
	radius     int
	bins, flat []float64
}

func newProjector(spots []spot, radius int) *projector {
	n := 2*radius + 4
	return &projector{spots, radius, make([]float64, n), make([]float64, n)}
}

// project adds up the spots along lines whose normal lies at degrees, one bin a px, and
// takes off what changes slowly.
func (p *projector) project(degrees float64) []float64 {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	c, s, o := float32(cos), float32(sin), float32(p.radius)+1.5
	clear(p.bins)
	for _, q := range p.spots {
		at := q.x*c + q.y*s + o
		i := int(at)
		f := float64(at - float32(i))
		p.bins[i] += float64(q.w) * (1 - f)
		p.bins[i+1] += float64(q.w) * f
	}
	const reach = 6 // px: wider than a line, narrower than a square usually is
	var sum float64
	n := len(p.bins)
	for i := -reach; i < n; i++ {
		if i+reach < n {
			sum += p.bins[i+reach]
		}
		if i-reach-1 >= 0 {
			sum -= p.bins[i-reach-1]
		}
		if i >= 0 {
			p.flat[i] = p.bins[i] - sum/float64(min(i+reach, n-1)-max(i-reach, 0)+1)
		}
	}
	return p.flat
}

// sharpness tells how much the spots gather on lines.
func (p *projector) sharpness(degrees float64) float64 {
	var sum float64
	for _, v := range p.project(degrees) {
		sum += v * v
	}
	return sum
}

// turned returns the sharpest direction within a degree.
func (p *projector) turned(degrees float64) float64 {
	best, at := 0.0, degrees
	for d := -1.0; d <= 1; d += .2 {
		if s := p.sharpness(degrees + d); s > best {
			best, at = s, degrees+d
		}
	}
	return at
}

// comb is a family of lines equally far apart: the normal's direction in degrees, the
// place of one of them along it from the middle of the window, and their distance.
type comb struct{ degrees, at, period, again float64 }

// comb finds the distance of lines and where they lie.
func (p *projector) comb(degrees float64) (comb, bool) {
	h := slices.Clone(p.project(degrees))
	n := len(h)
	most := p.radius
	again := make([]float64, most+2)
	for lag := range again {
		var sum float64
		for i := 0; i+lag < n; i++ {
			sum += h[i] * h[i+lag]
		}
		// Fewer lines overlap the farther they are moved.
		again[lag] = sum / float64(n-lag)
	}
	best := 0.0
	peak := func(l int) bool { return again[l] >= again[l-1] && again[l] > again[l+1] }
	for l := leastPeriod; l <= most; l++ {
		if peak(l) {
			best = math.Max(best, again[l])
		}
	}
	if !(best >= leastAgain*again[0]) || again[0] <= 0 {
		return comb{}, false
	}
	for l := leastPeriod; l <= most; l++ {
		if !peak(l) || again[l] < .6*best {
			continue
		}
		period := float64(l) + peakOf(again[l-1], again[l], again[l+1])
		c := comb{degrees: degrees, again: again[l] / again[0]}
		c.at, c.period = bestComb(h, period)
		c.at -= float64(p.radius) + 1.5
		return c, true
	}
	return comb{}, false
}

// bestComb returns the place and the distance, near period, of the comb that gathers most.
func bestComb(h []float64, period float64) (at, exact float64) {
	best := math.Inf(-1)
	n := float64(len(h) - 1)
	for share := -.03; share <= .03; share += .0025 {
		p := period * (1 + share)
		for a := 0.0; a < p; a += .5 {
			var sum, count float64
			for x := a; x < n; x += p {
				i := int(x)
				f := x - float64(i)
				sum += h[i]*(1-f) + h[i+1]*f
				count++
			}
			if sum /= math.Sqrt(count); sum > best {
				best, at, exact = sum, a, p
			}
		}
	}
	return at, exact
}

// latticeOf returns the crossing next to the middle of the window and the steps to its
// neighbours: u about to the right, v about up.
func latticeOf(a, b comb, mid geom.Point) (gridSeed, bool) {
	na := geom.Pt(math.Cos(a.degrees*math.Pi/180), math.Sin(a.degrees*math.Pi/180))
	nb := geom.Pt(math.Cos(b.degrees*math.Pi/180), math.Sin(b.degrees*math.Pi/180))
	det := na.Cross(nb)
	if math.Abs(det) < .5 {
		return gridSeed{}, false
	}
	solve := func(ra, rb float64) geom.Point {
		return geom.Pt((ra*nb.Y-rb*na.Y)/det, (rb*na.X-ra*nb.X)/det)
	}
	ra := a.at - a.period*math.Round(a.at/a.period)
	rb := b.at - b.period*math.Round(b.at/b.period)
	s := gridSeed{at: mid.Add(solve(ra, rb)), u: solve(a.period, 0), v: solve(0, b.period)}
	if math.Abs(s.u.Y) > math.Abs(s.u.X) {
		s.u, s.v = s.v, s.u
	}
	if s.u.X < 0 {
		s.u = s.u.Mul(-1)
	}
	if s.u.Cross(s.v) > 0 { // y runs down, so that up lies at the right hand of it
		s.v = s.v.Mul(-1)
	}
	return s, true
}
