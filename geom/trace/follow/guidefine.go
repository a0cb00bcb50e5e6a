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

// stretch is ink beside a point of a way between two borders, in pixels to the left of the
// way's direction; for an edge, both are the edge.
type stretch struct {
	right, left float64
	top         float64 // the darkness of the ink, or the contrast of the edge
	inkLeft     bool    // along edges: the ink lies to the left
}

func (s stretch) width() float64 { return s.left - s.right }

// off returns how far the middle of the stretch is from the point.
func (s stretch) off() float64 { return (s.left + s.right) / 2 }

// sighting is the ink in sight beside one point of a way, from right to left.
type sighting struct {
	list [mostStretches]stretch
	n    int
}

// mostStretches is the number of stretches beside a point that are kept.
const mostStretches = 4

func (s *sighting) add(x stretch) {
	if s.n < mostStretches {
		s.list[s.n] = x
		s.n++
	}
}

// nearest returns the stretch nearest to the point.
func (s *sighting) nearest() (stretch, bool) {
	if s.n == 0 {
		return stretch{}, false
	}
	best := s.list[0]
	for _, x := range s.list[1:s.n] {
		if math.Abs(x.off()) < math.Abs(best.off()) {
			best = x
		}
	}
	return best, true
}

const (
	// fineRounds is how often a way is moved onto the ink: after the first time its
	// direction is right and one border of a stroke that another one touches is told from
	// the other.
	fineRounds = 3
	// softness is the length in pixels over which the middle of the stroke is smoothed.
	softness = 4.0
	// oddWidth is by which share of the width a stroke that is crossed differs.
	oddWidth = 0.15
	// faintShare is the share of the usual darkness below which a place is not the line.
	faintShare = 0.5
)

// refineWay moves a way of points to the middle of the stroke, or the edge, in the full
// picture. Anchors are where someone pointed. The result has points a pixel apart.
func refineWay(f *scan.Field, ink *inkMap, base, anchors []geom.Point) []geom.Point {
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
		seen := sights(f, ink, pts, dirs, round == fineRounds-1)
		places := newPlaces(seen, ink)
		var offs, weight []float64
		if round == 0 {
			offs, weight = places.along(pts, dirs, anchors, step)
		} else {
			offs, weight = places.near(nil)
		}
		want := make([]geom.Point, len(pts))
		for i, p := range pts {
			want[i] = p.Add(dirs[i].Left().Mul(offs[i]))
		}
		next := leastBent(want, pts, weight, softness/step)
		if keepNear(next, pts, want, weight, farOff*ink.pen) {
			next = leastBent(want, pts, weight, softness/step)
		}
		pts = next
	}
	return resampled(pts, 1)
}

// farOff is how far in widths of the pen a line that nothing is known of may lie from the
// ink that it was found along.
const farOff = 1.0

// keepNear holds the places to the base that nothing was known of and that came to lie
// farther from it than most, and reports whether there are any.
func keepNear(pts, base, want []geom.Point, weight []float64, most float64) bool {
	found := false
	for i, p := range pts {
		if weight[i] == 0 && p.Dist(base[i]) > most {
			want[i], weight[i], found = base[i], baseWeight, true
		}
	}
	return found
}

// baseWeight is the weight of such a place.
const baseWeight = 1e-3

// roughStep is the distance in pixels of the points in all rounds but the last.
const roughStep = 2.5

// sights looks for the ink beside every point of a way, in as many bands as there are
// processors.
func sights(f *scan.Field, ink *inkMap, pts, dirs []geom.Point, fine bool) []sighting {
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
				seen[i] = sight(f, ink, pts[i], dirs[i].Left(), fine)
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

// sight looks along the normal of a way for the ink: all that is near, or finely for that
// on which the way lies.
func sight(f *scan.Field, ink *inkMap, p, normal geom.Point, fine bool) sighting {
	// The picture is softened by half a pixel at least: looks half a pixel apart see it all.
	step, side, wide := 1.0, sideReach, massReach
	if fine {
		step, side, wide = 0.5, 0.5, sideReach
	}
	reach := min(mostLooks, int(math.Ceil((wide*ink.pen+2)/step)))
	var room [2*mostLooks + 1]float64
	v := room[:2*reach+1]
	profile(f, v, p.Add(normal.Mul(-float64(reach)*step)), normal.Mul(step))
	if ink.mode == AlongEdges {
		return sightEdges(v, reach, step)
	}
	return sightStrokes(v, reach, int(math.Ceil((side*ink.pen+1)/step)), step)
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

// sideReach is how far to both sides of a way, in widths of the pen, ink is looked for, and
// massReach how far the borders of ink are that several strokes make together.
const sideReach, massReach = 1.5, 4.0

// mostLooks bounds the looks to one side of a way.
const mostLooks = 256

// sightStrokes finds the dark stretches of a profile that reach within near of its middle,
// each between the places where it is half as dark as at its darkest.
func sightStrokes(v []float64, mid, near int, step float64) (out sighting) {
	lo, hi := max(mid-near, 1), min(mid+near, len(v)-2)
	darkest := slices.Max(v[lo : hi+1])
	if darkest <= 0 {
		return out
	}
	for i := lo; i <= hi; i++ {
		if v[i] < peakShare*darkest || v[i] < v[i-1] || v[i] <= v[i+1] {
			continue
		}
		x, end, ok := stretchAt(v, i, mid, step)
		if !ok {
			continue
		}
		if n := out.n; n > 0 && x.right < out.list[n-1].left {
			// Grain on one stroke, or two that are told apart by a shallow valley.
			if x.width() > out.list[n-1].width() {
				out.list[n-1] = x
			}
			continue
		}
		out.add(x)
		i = max(i, min(end, hi))
	}
	return out
}

// stretchAt returns the stretch about the peak at index i of a profile, and the index at
// which it ends, or false where it runs out of the profile.
func stretchAt(v []float64, i, mid int, step float64) (x stretch, end int, ok bool) {
	half := v[i] / 2
	l, r := i, i
	for l > 0 && v[l] > half {
		l--
	}
	for r < len(v)-1 && v[r] > half {
		r++
	}
	if v[l] > half || v[r] > half {
		return x, r, false
	}
	from := float64(l) + (half-v[l])/(v[l+1]-v[l])
	to := float64(r) - (half-v[r])/(v[r-1]-v[r])
	return stretch{right: (from - float64(mid)) * step, left: (to - float64(mid)) * step, top: v[i]}, r, true
}

// peakShare is the share of the darkest ink near a way that another line has at least.
const peakShare = 0.35

// sightEdges finds the places where a profile is half way between its lightest and its
// darkest.
func sightEdges(v []float64, mid int, step float64) (out sighting) {
	lo, hi := slices.Min(v), slices.Max(v)
	half := (lo + hi) / 2
	for i := 0; i+1 < len(v); i++ {
		if (v[i] < half) == (v[i+1] < half) {
			continue
		}
		at := (float64(i) + (half-v[i])/(v[i+1]-v[i]) - float64(mid)) * step
		out.add(stretch{right: at, left: at, top: hi - lo, inkLeft: v[i+1] > v[i]})
	}
	return out
}

// densest returns the value round which sorted values lie most closely: a line may run
// together with others for most of its length, but only alone it is always equally wide.
//
// Method: Robertson and Cryer 1974, the mode by halving the sample.
func densest(sorted []float64) float64 {
	for len(sorted) > 3 {
		half := (len(sorted) + 1) / 2
		best := 0
		for i := 1; i+half <= len(sorted); i++ {
			if sorted[i+half-1]-sorted[i] < sorted[best+half-1]-sorted[best] {
				best = i
			}
		}
		sorted = sorted[best : best+half]
	}
	return sorted[len(sorted)/2]
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
