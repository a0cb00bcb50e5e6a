package fit

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sort"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/tracetest"
)

// outlines returns the figures that lie with the tests (their source is named in the
// file), and after each of them a garment of the generator.
func outlines(t testing.TB) []tracetest.Piece {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "trace", "outlines.txt"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	figures, err := tracetest.Figures(f)
	if err != nil {
		t.Fatal(err)
	}
	var all []tracetest.Piece
	for i, p := range figures {
		all = append(all, p, tracetest.Garment(uint64(i)))
	}
	return all
}

// turnBefore returns the turn of a closed path at the start of segment i.
func turnBefore(p geom.Path, i int) float64 {
	u, v := p[(i+len(p)-1)%len(p)].Tangent(1), p[i].Tangent(0)
	return math.Atan2(u.Cross(v), u.Dot(v))
}

func phi(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// wedgeLevel returns the value at q of a filled wedge with its tip in the origin,
// its middle along +x and the half angle h, blurred by a Gaussian of sigma 1.
func wedgeLevel(q geom.Point, h float64) float64 {
	const n, reach = 80, 6.0
	lo, hi := math.Max(0, q.X-reach), q.X+reach
	if hi <= 0 {
		return 0
	}
	sum, dx, tan := 0.0, (hi-lo)/n, math.Tan(h)
	for i := range n {
		x := lo + (float64(i)+0.5)*dx
		sum += math.Exp(-(x-q.X)*(x-q.X)/2) * (phi(x*tan-q.Y) - phi(-x*tan-q.Y))
	}
	return sum * dx / math.Sqrt(2*math.Pi)
}

// rounded is a point of the half level of a blurred wedge: at length x from the tip
// on the leg before (side -1) or after (1) it, d inside that leg.
type rounded struct {
	side int
	x, d float64
}

// roundWedge returns the half level of a wedge of half angle h, in sigmas, from
// reach along one leg round the tip to reach along the other.
func roundWedge(h, reach, step float64) []rounded {
	sin, cos := math.Sincos(h)
	centre := geom.Pt(reach*cos*0.8, 0)
	from := geom.Pt(reach*cos, reach*sin).Sub(centre).Angle()
	n := int(2*reach/step) + 8
	var out []rounded
	for i := range n + 1 {
		a := from + (2*math.Pi-2*from)*float64(i)/float64(n)
		dir := direct(a)
		lo, hi := 0.0, 2*reach
		for range 40 {
			mid := (lo + hi) / 2
			if wedgeLevel(centre.Add(dir.Mul(mid)), h) > 0.5 {
				lo = mid
			} else {
				hi = mid
			}
		}
		q := centre.Add(dir.Mul(lo))
		leg, side := geom.Pt(cos, sin), -1
		if q.Y < 0 {
			leg, side = geom.Pt(cos, -sin), 1
		}
		d := leg.Cross(q)
		if side < 0 {
			d = -d
		}
		out = append(out, rounded{side, leg.Dot(q), d})
	}
	return out
}

// followed returns the points of a filled outline as a scan shows its edge: rounded
// at the corners as a blur of sigma mm rounds them, noise mm across.
func followed(p geom.Path, blur, noise, step float64, rng *rand.Rand) []geom.Point {
	tape := p.Tape()
	var pts []geom.Point
	cut := make([]float64, len(p)) // length left out at the start of segment i, and at the end of the one before
	bends := make([][]rounded, len(p))
	for i := range p {
		t := turnBefore(p, i)
		if math.Abs(t) < 0.5*degree {
			continue
		}
		h := (math.Pi - math.Abs(t)) / 2
		reach := 5.0
		if h < math.Pi/4 {
			reach /= math.Sin(2 * h)
		}
		reach = math.Min(reach, 0.4*math.Min(p[i].Length(), p[(i+len(p)-1)%len(p)].Length())/blur)
		bends[i] = roundWedge(h, reach, step/blur)
		cut[i] = reach * blur
	}
	total := tape.Length()
	place := func(s float64) (geom.Point, geom.Point) {
		at := tape.At(math.Mod(s+total, total))
		return p.At(at), p.Tangent(at).Left()
	}
	for i := range p {
		start, end := tape.Node(i), tape.Node(i+1)
		in := 1.0
		if turnBefore(p, i) < 0 {
			in = -1
		}
		for _, b := range bends[i] {
			q, n := place(start + float64(b.side)*b.x*blur)
			pts = append(pts, q.Add(n.Mul(in*b.d*blur)))
		}
		from, to := start+cut[i], end-cut[(i+1)%len(p)]
		k := int(math.Max(1, math.Round((to-from)/step)))
		for j := 1; j < k; j++ {
			q, _ := place(from + (to-from)*float64(j)/float64(k))
			pts = append(pts, q)
		}
	}
	// Noise that neighbours share, as after a smoothing by about a point.
	n := len(pts)
	white := make([]float64, n)
	for i := range white {
		white[i] = rng.NormFloat64()
	}
	out := make([]geom.Point, n)
	for i := range pts {
		v := (white[(i+n-1)%n] + 2*white[i] + white[(i+1)%n]) / math.Sqrt(6)
		dir := pts[(i+1)%n].Sub(pts[(i+n-1)%n]).Unit().Left()
		out[i] = pts[i].Add(dir.Mul(noise * v))
	}
	return out
}

// score is how a path compares with the truth.
type score struct {
	median, largest float64
	at              geom.Point
	segs            float64 // to true
	missed, wrong   int
	weak            int // corners of 2 to 10 degrees that were found
}

func compare(truth geom.Path, c Curve) score {
	var s score
	var all []float64
	for k, pair := range [2][2]geom.Path{{truth, c.Path}, {c.Path, truth}} {
		tape := pair[0].Tape()
		n := 1500
		for i := range n {
			q := pair[0].At(tape.At(tape.Length() * float64(i) / float64(n)))
			_, d := pair[1].Nearest(q)
			if k == 0 {
				all = append(all, d)
			}
			if d > s.largest {
				s.largest, s.at = d, q
			}
		}
		for _, g := range pair[0] {
			if _, d := pair[1].Nearest(g.P0); d > s.largest {
				s.largest, s.at = d, g.P0
			}
		}
	}
	s.median = medianOf(all)
	s.segs = float64(len(c.Path)) / float64(len(truth))
	for i := range truth {
		if math.Abs(turnBefore(truth, i)) < 10*degree {
			continue
		}
		hit := false
		for j := range c.Path {
			hit = hit || c.Corner[j] && c.Path[j].P0.Dist(truth[i].P0) < 1.5
		}
		if !hit {
			s.missed++
		}
	}
	// Each true corner answers for one that was found; any other is false.
	taken := map[int]bool{}
	for j := range c.Path {
		if !c.Corner[j] {
			continue
		}
		best := -1
		for i := range truth {
			if d := c.Path[j].P0.Dist(truth[i].P0); !taken[i] && d < 3 && math.Abs(turnBefore(truth, i)) > 2*degree && (best < 0 || d < c.Path[j].P0.Dist(truth[best].P0)) {
				best = i
			}
		}
		if best < 0 {
			s.wrong++
			continue
		}
		taken[best] = true
		if math.Abs(turnBefore(truth, best)) < 10*degree {
			s.weak++
		}
	}
	return s
}

func medianOf(list []float64) float64 {
	sorted := append([]float64(nil), list...)
	sort.Float64s(sorted)
	return sorted[len(sorted)/2]
}
