package follow

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// sheet is a picture under construction: darkness from 0 to 1.
type sheet struct {
	w, h int
	dark []float64
}

func newSheet(w, h int) *sheet { return &sheet{w, h, make([]float64, w*h)} }

// stroke draws a path with a pen of the given width, softened by a Gaussian of sigma: the
// darkness across is the exact integral for a straight bar.
func (s *sheet) stroke(p geom.Path, width, sigma, ink float64) {
	reach := width/2 + 3.5*sigma
	near := map[int]float64{}
	pts := p.Flatten(0.01)
	for i := 0; i+1 < len(pts); i++ {
		a, b := pts[i], pts[i+1]
		r := geom.RectOf(a, b).Grow(reach)
		for y := max(0, int(r.Min.Y)); y <= min(s.h-1, int(r.Max.Y)); y++ {
			for x := max(0, int(r.Min.X)); x <= min(s.w-1, int(r.Max.X)); x++ {
				c := geom.Pt(float64(x)+.5, float64(y)+.5)
				d := nearestOnChord(a, b, c).Dist(c)
				if d > reach {
					continue
				}
				if old, ok := near[y*s.w+x]; !ok || d < old {
					near[y*s.w+x] = d
				}
			}
		}
	}
	cdf := func(x float64) float64 { return 0.5 * math.Erfc(-x/(sigma*math.Sqrt2)) }
	for i, d := range near {
		v := ink * (cdf(width/2-d) - cdf(-width/2-d))
		s.dark[i] = 1 - (1-s.dark[i])*(1-v)
	}
}

// fill fills a closed path, softened by a Gaussian of sigma.
func (s *sheet) fill(p geom.Path, sigma, ink float64) {
	cdf := func(x float64) float64 { return 0.5 * math.Erfc(-x/(sigma*math.Sqrt2)) }
	reach := 4 * sigma
	pts := p.Flatten(0.05)
	flat := make(geom.Path, 0, len(pts))
	near := map[int]float64{} // distance to the edge, where it matters
	for i := 0; i+1 < len(pts); i++ {
		a, b := pts[i], pts[i+1]
		flat = append(flat, geom.Line(a, b))
		r := geom.RectOf(a, b).Grow(reach)
		for y := max(0, int(r.Min.Y)); y <= min(s.h-1, int(r.Max.Y)); y++ {
			for x := max(0, int(r.Min.X)); x <= min(s.w-1, int(r.Max.X)); x++ {
				c := geom.Pt(float64(x)+.5, float64(y)+.5)
				d := nearestOnChord(a, b, c).Dist(c)
				if old, ok := near[y*s.w+x]; !ok || d < old {
					near[y*s.w+x] = d
				}
			}
		}
	}
	for y := range s.h {
		inside := false
		for x := range s.w {
			d, ok := near[y*s.w+x]
			if ok || x == 0 { // far from the edge nothing changes along a row
				inside = flat.Winding(geom.Pt(float64(x)+.5, float64(y)+.5)) != 0
			}
			if !ok {
				d = reach
			}
			if !inside {
				d = -d
			}
			s.dark[y*s.w+x] = max(s.dark[y*s.w+x], ink*cdf(d))
		}
	}
}

// field returns the picture with noise of the given deviation.
func (s *sheet) field(noise float64, seed uint64) *scan.Field {
	r := rand.New(rand.NewPCG(seed, 1))
	f := &scan.Field{W: s.w, H: s.h, V: make([]uint16, s.w*s.h)}
	for i, d := range s.dark {
		v := scan.Paper * (1 - d + noise*r.NormFloat64())
		f.V[i] = uint16(min(max(v, 0), 2*scan.Paper))
	}
	return f
}

// smoothRing is a closed curve without a corner through points.
func smoothRing(pts ...geom.Point) geom.Path {
	n := len(pts)
	var p geom.Path
	for i := range pts {
		a, b := pts[i], pts[(i+1)%n]
		ta := pts[(i+1)%n].Sub(pts[(i+n-1)%n]).Mul(1. / 6)
		tb := pts[(i+2)%n].Sub(a).Mul(1. / 6)
		p = append(p, geom.Cubic(a, a.Add(ta), b.Sub(tb), b))
	}
	return p
}

// distances returns the distances from points to a path, ascending.
func distances(pts []geom.Point, p geom.Path) []float64 {
	var d []float64
	for _, q := range pts {
		best := math.Inf(1)
		for _, s := range p {
			_, e := s.Nearest(q)
			best = min(best, e)
		}
		d = append(d, best)
	}
	slices.Sort(d)
	return d
}

func sorted(d []float64) []float64 { slices.Sort(d); return d }

func share(sorted []float64, q float64) float64 {
	return sorted[min(len(sorted)-1, int(q*float64(len(sorted))))]
}

const px300 = 300 / 25.4

func TestDarkAtIsLinear(t *testing.T) {
	f := &scan.Field{W: 2, H: 2, V: []uint16{scan.Paper, 0, scan.Paper, 0}}
	for x, want := range map[float64]float64{0.5: 0, 1: 0.5, 1.5: 1, -3: 0, 9: 1} {
		if got := darkAt(f, x, 1); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %v: %v, want %v", x, got, want)
		}
	}
}
