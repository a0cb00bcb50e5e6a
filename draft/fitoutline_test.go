package draft

import (
	"math"
	"testing"

	"hemlet/geom"
)

// The metric by which fitted outlines are compared with those drafted for the body at
// once. It reads nodes and nothing that the fit computes with: every curve is worked out
// by de Casteljau's construction at many parameters, and distances are those between
// samples and the chords of the other outline's samples.

// outlineSamples is at how many places each stretch is sampled. The chords of a sleeve's
// cap of 400 mm lie within 0.01 mm of the curve.
const outlineSamples = 48

// casteljau returns the place of a cubic at t.
func casteljau(p [4]geom.Point, t float64) geom.Point {
	for n := 3; n > 0; n-- {
		for i := range n {
			p[i] = geom.Pt(p[i].X+(p[i+1].X-p[i].X)*t, p[i].Y+(p[i+1].Y-p[i].Y)*t)
		}
	}
	return p[0]
}

// stretchesOf returns the control points of each stretch of the drawn outline.
func stretchesOf(p *Piece) [][4]geom.Point {
	var nodes []Node
	for _, e := range p.Edges {
		nodes = append(nodes, e.Nodes...)
	}
	out := make([][4]geom.Point, len(nodes))
	for i, a := range nodes {
		b := nodes[(i+1)%len(nodes)]
		out[i] = [4]geom.Point{a.At, geom.Pt(a.At.X+a.Out.X, a.At.Y+a.Out.Y), geom.Pt(b.At.X+b.In.X, b.At.Y+b.In.Y), b.At}
		if a.Out == (geom.Point{}) && b.In == (geom.Point{}) {
			out[i][1], out[i][2] = a.At.Lerp(b.At, 1./3), a.At.Lerp(b.At, 2./3)
		}
	}
	return out
}

// samplesOf returns places all along the drawn outline.
func samplesOf(p *Piece) []geom.Point {
	var out []geom.Point
	for _, s := range stretchesOf(p) {
		for k := range outlineSamples {
			out = append(out, casteljau(s, float64(k)/outlineSamples))
		}
	}
	return out
}

// toClosed returns how far q lies from the closed line through the points.
func toClosed(q geom.Point, line []geom.Point) (dist float64, at geom.Point) {
	best := math.Inf(1)
	a := line[len(line)-1]
	for _, b := range line {
		dx, dy := b.X-a.X, b.Y-a.Y
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = min(max(((q.X-a.X)*dx+(q.Y-a.Y)*dy)/l, 0), 1)
		}
		x, y := a.X+t*dx, a.Y+t*dy
		if d := (q.X-x)*(q.X-x) + (q.Y-y)*(q.Y-y); d < best {
			best, at = d, geom.Pt(x, y)
		}
		a = b
	}
	return math.Sqrt(best), at
}

// thinned returns every nth of the points.
func thinned(pts []geom.Point, n int) []geom.Point {
	var out []geom.Point
	for i := 0; i < len(pts); i += n {
		out = append(out, pts[i])
	}
	return out
}

// laidGap is how two outlines differ when one is laid on the other, grain on grain.
type laidGap struct {
	largest float64 // mm, of both directions
	squares float64 // sum over the samples of both, mm²
	count   int
	at      geom.Point // where the largest is, in the second outline's place
}

func (g laidGap) rms() float64 { return math.Sqrt(g.squares / float64(g.count)) }

// with adds the gap of another piece.
func (g laidGap) with(o laidGap) laidGap {
	if o.largest > g.largest {
		g.largest, g.at = o.largest, o.at
	}
	g.squares += o.squares
	g.count += o.count
	return g
}

const (
	// layRounds is how often an outline is shifted onto the other; each round leaves about
	// half of the shift that is still to do, or less.
	layRounds = 24
	// layThin is the share of samples that are looked at while shifting.
	layThin = 8
)

// gapBetween lays the samples of outline a on those of b by a shift alone, as cloth that
// keeps its grain, so that the squares of the distances are least, and compares.
func gapBetween(a, b []geom.Point) laidGap {
	a, b = centred(a), centred(b)
	fewA, fewB := thinned(a, layThin), thinned(b, layThin)
	shift := geom.Point{}
	for range layRounds {
		var sum geom.Point
		for _, p := range fewA {
			q := p.Add(shift)
			_, at := toClosed(q, fewB)
			sum = sum.Add(at.Sub(q))
		}
		for _, q := range fewB {
			_, at := toClosed(q.Sub(shift), fewA)
			sum = sum.Add(q.Sub(shift).Sub(at))
		}
		shift = shift.Add(sum.Mul(1 / float64(len(fewA)+len(fewB))))
	}
	for i := range a {
		a[i] = a[i].Add(shift)
	}
	var g laidGap
	for _, pair := range [2][2][]geom.Point{{a, b}, {b, a}} {
		for _, q := range pair[0] {
			d, _ := toClosed(q, pair[1])
			if d > g.largest {
				g.largest, g.at = d, q
			}
			g.squares += d * d
			g.count++
		}
	}
	return g
}

// centred returns the points about the middle of their box, so that shifting starts well.
func centred(pts []geom.Point) []geom.Point {
	c := geom.RectOf(pts...).Center()
	out := make([]geom.Point, len(pts))
	for i, p := range pts {
		out[i] = p.Sub(c)
	}
	return out
}

// turnsOf counts for each edge how often its curve changes the side to which it turns. A
// run of a curve that turns by less than least, in radians, does not count.
func turnsOf(p *Piece, least float64) []int {
	out := make([]int, len(p.Edges))
	all := stretchesOf(p)
	i := 0
	for e := range p.Edges {
		last := 0
		for range p.Edges[e].Nodes {
			for _, sign := range signsOf(all[i], least) {
				if last != 0 && sign != last {
					out[e]++
				}
				last = sign
			}
			i++
		}
	}
	return out
}

const (
	// straightEnough is the turn in radians below which a run of a fitted curve counts as
	// straight: 0.03 mm of hollow on 100 mm, a third of a pencil line.
	straightEnough = 2.5e-3
	// hardlyTurned is that of the curve as it was: a turn that was there, however slight,
	// is no new one where it has grown.
	hardlyTurned = 1e-4
)

// signsOf returns the sides to which a stretch turns, in order: the direction from chord
// to chord of its samples, added up as long as it goes one way.
func signsOf(s [4]geom.Point, least float64) []int {
	const n = 200
	var out []int
	sum := 0.0
	var last geom.Point
	flush := func() {
		if math.Abs(sum) > least {
			out = append(out, int(math.Copysign(1, sum)))
		}
		sum = 0
	}
	a := s[0]
	for k := 1; k <= n; k++ {
		b := casteljau(s, float64(k)/n)
		d := geom.Pt(b.X-a.X, b.Y-a.Y)
		if k > 1 {
			turn := math.Atan2(last.X*d.Y-last.Y*d.X, last.X*d.X+last.Y*d.Y)
			if turn*sum < 0 {
				flush()
			}
			sum += turn
		}
		a, last = b, d
	}
	flush()
	return out
}

// sampledCrossing reports whether the closed line through samples of an outline crosses
// itself.
func sampledCrossing(pts []geom.Point) bool {
	n := len(pts)
	side := func(a, b, c geom.Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	for i := range n {
		a, b := pts[i], pts[(i+1)%n]
		for k := i + 2; k < n; k++ {
			if i == 0 && k == n-1 {
				continue
			}
			c, d := pts[k], pts[(k+1)%n]
			if max(a.X, b.X) < min(c.X, d.X) || max(c.X, d.X) < min(a.X, b.X) || max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y) {
				continue
			}
			if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
				return true
			}
		}
	}
	return false
}

// lengthBySpeed returns the length of a cubic by Simpson's rule over its speed, with a
// step so small that 1e-7 mm are right for a stretch of a metre.
func lengthBySpeed(s [4]geom.Point) float64 {
	const n = 400 // even, for Simpson's rule
	speed := func(t float64) float64 {
		u := 1 - t
		d := s[1].Sub(s[0]).Mul(3 * u * u).Add(s[2].Sub(s[1]).Mul(6 * u * t)).Add(s[3].Sub(s[2]).Mul(3 * t * t))
		return math.Hypot(d.X, d.Y)
	}
	sum := speed(0) + speed(1)
	for k := 1; k < n; k++ {
		w := 4.0
		if k%2 == 0 {
			w = 2
		}
		sum += w * speed(float64(k)/n)
	}
	return sum / (3 * n)
}

// The metric itself is held to outlines whose distances are known.
func TestOutlineMetric(t *testing.T) {
	square := func(side float64) []geom.Point {
		var out []geom.Point
		c := []geom.Point{{X: 0, Y: 0}, {X: side, Y: 0}, {X: side, Y: side}, {X: 0, Y: side}}
		for i := range c {
			for k := range 100 {
				out = append(out, c[i].Lerp(c[(i+1)%4], float64(k)/100))
			}
		}
		return out
	}
	// A square of 104 about one of 100: 2 mm all round, and the corner's diagonal.
	g := gapBetween(square(104), square(100))
	if want := 2 * math.Sqrt2; math.Abs(g.largest-want) > 0.01 {
		t.Errorf("the largest distance of two squares is %.3f mm, not %.3f", g.largest, want)
	}
	if r := g.rms(); r < 2 || r > 2.1 {
		t.Errorf("the mean distance of two squares is %.3f mm, not about 2", r)
	}
	moved := square(100)
	for i := range moved {
		moved[i] = moved[i].Add(geom.Pt(31, -17))
	}
	if g := gapBetween(moved, square(100)); g.largest > 0.01 {
		t.Errorf("a square that was moved differs by %.3f mm from itself", g.largest)
	}
	s := [4]geom.Point{{X: 0, Y: 0}, {X: 40, Y: 60}, {X: 60, Y: -60}, {X: 100, Y: 0}}
	if got := signsOf(s, straightEnough); len(got) != 2 || got[0] != -1 || got[1] != 1 {
		t.Errorf("an S turns %v, not to the right and then to the left", got)
	}
	arc := [4]geom.Point{{X: 0, Y: 0}, {X: 0, Y: 55.2284749831}, {X: 44.7715250169, Y: 100}, {X: 100, Y: 100}}
	if got := signsOf(arc, straightEnough); len(got) != 1 || got[0] != -1 {
		t.Errorf("an arc turns %v, not to the right alone", got)
	}
	if got, want := lengthBySpeed([4]geom.Point{{}, {X: 1}, {X: 2}, {X: 3}}), 3.0; math.Abs(got-want) > 1e-12 {
		t.Errorf("a line of 3 measures %g", got)
	}
	bow := []geom.Point{{X: 0, Y: 0}, {X: 10, Y: 10}, {X: 10, Y: 0}, {X: 0, Y: 10}}
	if !sampledCrossing(bow) || sampledCrossing(square(10)) {
		t.Error("a bow tie crosses itself, and a square does not")
	}
}
