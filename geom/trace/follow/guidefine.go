package follow

import (
	"math"
	"runtime"
	"slices"
	"sync"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// evened returns a line of points resampled every step pixels and smoothed by a Gaussian
// of sigma pixels; its ends stay where they are.
func evened(pts []geom.Point, sigma, step float64) []geom.Point {
	even := resampled(pts, step)
	n := len(even)
	r := int(math.Ceil(2.5 * sigma / step))
	if n < 3 || r < 1 {
		return even
	}
	kernel := make([]float64, r+1)
	for i := range kernel {
		d := float64(i) * step / sigma
		kernel[i] = math.Exp(-d * d / 2)
	}
	out := make([]geom.Point, n)
	for i := range even {
		// An even window keeps a straight line straight up to its ends.
		m := min(r, i, n-1-i)
		sum, p := kernel[0], even[i].Mul(kernel[0])
		for j := 1; j <= m; j++ {
			p = p.Add(even[i-j].Add(even[i+j]).Mul(kernel[j]))
			sum += 2 * kernel[j]
		}
		out[i] = p.Mul(1 / sum)
	}
	return out
}

// resampled returns points every step pixels or a little less along a line of points.
func resampled(pts []geom.Point, step float64) []geom.Point {
	if len(pts) < 2 {
		return slices.Clone(pts)
	}
	total := 0.0
	for i := 1; i < len(pts); i++ {
		total += pts[i].Dist(pts[i-1])
	}
	n := max(1, int(math.Ceil(total/step)))
	out := make([]geom.Point, 0, n+1)
	out = append(out, pts[0])
	run, j := 0.0, 1
	for i := 1; i < n; i++ {
		want := total * float64(i) / float64(n)
		for j < len(pts)-1 && run+pts[j].Dist(pts[j-1]) < want {
			run += pts[j].Dist(pts[j-1])
			j++
		}
		d := pts[j].Dist(pts[j-1])
		t := 0.0
		if d > 0 {
			t = min(1, (want-run)/d)
		}
		out = append(out, pts[j-1].Lerp(pts[j], t))
	}
	return append(out, pts[len(pts)-1])
}

// darkAt returns the darkness at a place in pixels, linear between the middles of pixels: 0
// for paper, 1 for full ink.
func darkAt(f *scan.Field, x, y float64) float64 {
	x, y = min(max(x-.5, 0), float64(f.W-1)), min(max(y-.5, 0), float64(f.H-1))
	i, j := min(int(x), max(f.W-2, 0)), min(int(y), max(f.H-2, 0))
	u, v := x-float64(i), y-float64(j)
	right, down := min(1, f.W-1-i), f.W*min(1, f.H-1-j)
	o := j*f.W + i
	a, b, c, d := float64(f.V[o]), float64(f.V[o+right]), float64(f.V[o+down]), float64(f.V[o+down+right])
	top, bottom := a+(b-a)*u, c+(d-c)*u
	return 1 - (top+(bottom-top)*v)/scan.Paper
}

// sighting is where the ink lies beside one point of a way: its two borders, in pixels to
// the left of the way's direction, and for an edge one of them twice.
type sighting struct {
	right, left float64
	top         float64 // the darkness of the ink, or the contrast of the edge
	inkLeft     bool    // along edges: the ink lies to the left
	two         bool    // another stroke is in sight
	seen        bool
}

func (s sighting) width() float64 { return s.left - s.right }

const (
	// fineRounds is how often a way is moved onto the ink: after the first time its
	// direction is right and one border of a stroke that another one touches is told from
	// the other.
	fineRounds = 3
	// softness is the length in pixels over which the middle of the stroke is smoothed.
	softness = 4.0
	// oddWidth is by which share of the width a stroke that is crossed differs.
	oddWidth = 0.15
	// oneBorder is the weight of a place of which one border of the stroke is seen, and
	// oneBorderReach how far it may lie from where the line is taken to be, in widths.
	oneBorder, oneBorderReach = 0.1, 0.35
	// faintShare is the share of the usual darkness below which a place is not the line.
	faintShare = 0.5
)

// refineWay moves a way of points to the middle of the stroke, or the edge, in the full
// picture. The result has points a pixel apart.
func refineWay(f *scan.Field, ink *inkMap, base []geom.Point) []geom.Point {
	pts := base
	for round := range fineRounds {
		step := roughStep
		if round == fineRounds-1 {
			step = 1
		}
		pts = resampled(pts, step)
		if len(pts) < 3 {
			break
		}
		dirs := directions(pts, int(math.Ceil((ink.pen/2+2)/step)))
		seen := sights(f, ink, pts, dirs)
		offs, weight := trusted(seen, ink, round == 0)
		want := make([]geom.Point, len(pts))
		for i, p := range pts {
			want[i] = p.Add(dirs[i].Left().Mul(offs[i]))
		}
		pts = leastBent(want, pts, weight, softness/step)
	}
	return resampled(pts, 1)
}

// roughStep is the distance in pixels of the points in all rounds but the last.
const roughStep = 2.5

// sights looks for the ink beside every point of a way, in as many bands as there are
// processors.
func sights(f *scan.Field, ink *inkMap, pts, dirs []geom.Point) []sighting {
	seen := make([]sighting, len(pts))
	const least = 512 // points that are worth a goroutine
	n := max(1, min(runtime.GOMAXPROCS(0), len(pts)/least))
	var wg sync.WaitGroup
	for band := range n {
		lo, hi := len(pts)*band/n, len(pts)*(band+1)/n
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := lo; i < hi; i++ {
				seen[i] = sight(f, ink, pts[i], dirs[i].Left())
			}
		}()
	}
	wg.Wait()
	return seen
}

// directions returns the unit direction at each point, looked at over n points to both
// sides.
func directions(pts []geom.Point, n int) []geom.Point {
	out := make([]geom.Point, len(pts))
	for i := range pts {
		out[i] = pts[min(i+n, len(pts)-1)].Sub(pts[max(i-n, 0)]).Unit()
	}
	return out
}

// sight looks along the normal of a way for the ink.
func sight(f *scan.Field, ink *inkMap, p, normal geom.Point) sighting {
	const step = 0.5 // px between two looks; the picture is softened by as much
	reach := int(math.Ceil((1.5*ink.pen + 2) / step))
	if reach > mostLooks {
		reach = mostLooks
	}
	var room [2*mostLooks + 1]float64
	v := room[:2*reach+1]
	profile(f, v, p.Add(normal.Mul(-float64(reach)*step)), normal.Mul(step))
	if ink.mode == AlongEdges {
		return sightEdge(v, reach, step)
	}
	return sightStroke(v, reach, int(math.Ceil(0.9*ink.pen/step)), step)
}

// profile sets v to the darkness at places from p on, by apart.
func profile(f *scan.Field, v []float64, p, by geom.Point) {
	end := p.Add(by.Mul(float64(len(v) - 1)))
	inside := func(q geom.Point) bool {
		return q.X >= 1 && q.Y >= 1 && q.X < float64(f.W-1) && q.Y < float64(f.H-1)
	}
	if !inside(p) || !inside(end) {
		for i := range v {
			v[i] = darkAt(f, p.X, p.Y)
			p = p.Add(by)
		}
		return
	}
	x, y := p.X-.5, p.Y-.5
	for n := range v {
		i, j := int(x), int(y)
		s, t := x-float64(i), y-float64(j)
		o := j*f.W + i
		top, bottom := f.V[o:o+2], f.V[o+f.W:o+f.W+2]
		a, b := float64(top[0]), float64(bottom[0])
		a += (float64(top[1]) - a) * s
		b += (float64(bottom[1]) - b) * s
		v[n] = 1 - (a+(b-a)*t)*(1./scan.Paper)
		x, y = x+by.X, y+by.Y
	}
}

// mostLooks bounds the looks to one side of a way.
const mostLooks = 256

// sightStroke finds the middle of the dark stretch that is nearest to the middle of a
// profile, between the places where it is half as dark as at its darkest.
func sightStroke(v []float64, mid, near int, step float64) sighting {
	lo, hi := max(mid-near, 1), min(mid+near, len(v)-2)
	darkest := slices.Max(v[lo : hi+1])
	if darkest <= 0 {
		return sighting{}
	}
	top, peaks := -1, 0
	for i := lo; i <= hi; i++ {
		if v[i] < peakShare*darkest || v[i] < v[i-1] || v[i] <= v[i+1] {
			continue
		}
		// Of two peaks without a valley between, grain on one stroke, the first stands.
		if top >= 0 && slices.Min(v[min(top, i):max(top, i)+1]) > valleyShare*darkest {
			continue
		}
		peaks++
		if top < 0 || abs(i-mid) < abs(top-mid) {
			top = i
		}
	}
	if top < 0 {
		return sighting{}
	}
	half := v[top] / 2
	l, r := top, top
	for l > 0 && v[l] > half {
		l--
	}
	for r < len(v)-1 && v[r] > half {
		r++
	}
	if v[l] > half || v[r] > half {
		return sighting{top: v[top]}
	}
	from := float64(l) + (half-v[l])/(v[l+1]-v[l])
	to := float64(r) - (half-v[r])/(v[r-1]-v[r])
	return sighting{right: (from - float64(mid)) * step, left: (to - float64(mid)) * step, top: v[top], seen: true, two: peaks > 1}
}

const (
	// peakShare is the share of the darkest ink near a way that another line has at
	// least, and valleyShare the share that the paper between two lines has at most.
	peakShare, valleyShare = 0.35, 0.85
	// sureReach is how far, in widths of the pen, a line lies from the first guess at
	// most where two are in sight.
	sureReach = 0.4
)

func abs(i int) int { return max(i, -i) }

// sightEdge finds the place nearest to the middle of a profile where it is half way
// between its lightest and its darkest.
func sightEdge(v []float64, mid int, step float64) sighting {
	lo, hi := slices.Min(v), slices.Max(v)
	half := (lo + hi) / 2
	s := sighting{top: hi - lo}
	best := math.Inf(1)
	for i := 0; i+1 < len(v); i++ {
		if (v[i] < half) == (v[i+1] < half) {
			continue
		}
		at := float64(i) + (half-v[i])/(v[i+1]-v[i])
		if d := math.Abs(at - float64(mid)); d < best {
			best = d
			off := (at - float64(mid)) * step
			s.right, s.left, s.inkLeft, s.seen = off, off, v[i+1] > v[i], true
		}
	}
	return s
}

// trusted returns how far the line lies to the left of each point, and how much that
// counts: not at all where another line runs into the stroke or the ink is gone. Where two
// strokes run together each has one border of its own, which is gone by unless this is the
// first time.
func trusted(seen []sighting, ink *inkMap, first bool) (offs, weight []float64) {
	var widths, tops []float64
	left := 0
	for _, s := range seen {
		if s.seen {
			widths, tops = append(widths, s.width()), append(tops, s.top)
			if s.inkLeft {
				left++
			}
		}
	}
	offs, weight = make([]float64, len(seen)), make([]float64, len(seen))
	if len(widths) == 0 {
		return offs, weight
	}
	slices.Sort(widths)
	slices.Sort(tops)
	width, top := widths[len(widths)/2], tops[len(tops)/2]
	lean := 2*left > len(widths)
	for i, s := range seen {
		switch odd := s.width() - width; {
		case !s.seen || s.top < faintShare*top:
		case ink.mode == AlongEdges:
			if s.inkLeft == lean {
				offs[i], weight[i] = s.left, 1
			}
		case math.Abs(odd) <= oddWidth*width+0.25:
			if off := (s.left + s.right) / 2; !first || !s.two || math.Abs(off) < sureReach*width {
				offs[i], weight[i] = off, 1
			}
		case !first && odd > 0:
			off := s.right + width/2
			if b := s.left - width/2; math.Abs(b) < math.Abs(off) {
				off = b
			}
			if math.Abs(off) < oneBorderReach*width {
				offs[i], weight[i] = off, oneBorder
			}
		}
	}
	return offs, weight
}

// leastBent returns the line that lies near the wanted points, by their weights, and has
// the least second differences, so that it follows them over soft points; where nothing is trusted it stays near the base.
//
// Method: Whittaker 1923, graduation by penalised second differences, a banded system.
func leastBent(want, base []geom.Point, weight []float64, soft float64) []geom.Point {
	n := len(want)
	trust := 0.0
	for _, w := range weight {
		trust += w
	}
	if n < 3 || trust == 0 {
		return base
	}
	bend := soft * soft * soft * soft
	// Between places that are trusted the line leads over by itself; before the first and
	// after the last one the base is all there is.
	const hold, holdEnd = 1e-9, 1e-5
	first, last := 0, n-1
	for weight[first] == 0 {
		first++
	}
	for weight[last] == 0 {
		last--
	}
	d0, d1, d2 := make([]float64, n), make([]float64, n), make([]float64, n)
	b := make([]geom.Point, n)
	for i, w := range weight {
		h := hold
		if i < first || i > last {
			h = holdEnd
		}
		d0[i] = w + h
		b[i] = want[i].Mul(w).Add(base[i].Mul(h))
	}
	for i := 0; i+2 < n; i++ {
		d0[i] += bend
		d0[i+1] += 4 * bend
		d0[i+2] += bend
		d1[i] -= 2 * bend
		d1[i+1] -= 2 * bend
		d2[i] += bend
	}
	return solveBanded(d0, d1, d2, b)
}

// solveBanded solves a symmetric positive system with two bands beside the diagonal, by
// LDLᵀ, in place.
func solveBanded(d0, d1, d2 []float64, b []geom.Point) []geom.Point {
	n := len(b)
	for i := range n {
		if i+1 < n {
			l := d1[i] / d0[i]
			d0[i+1] -= l * d1[i]
			b[i+1] = b[i+1].Sub(b[i].Mul(l))
			if i+2 < n {
				m := d2[i] / d0[i]
				d1[i+1] -= l * d2[i]
				d0[i+2] -= m * d2[i]
				b[i+2] = b[i+2].Sub(b[i].Mul(m))
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		x := b[i]
		if i+1 < n {
			x = x.Sub(b[i+1].Mul(d1[i]))
		}
		if i+2 < n {
			x = x.Sub(b[i+2].Mul(d2[i]))
		}
		b[i] = x.Mul(1 / d0[i])
	}
	return b
}
