package scan

import (
	"context"
	"math"
	"slices"

	"hemlet/geom"
)

// lattice is squared paper under way.
type lattice struct {
	r     *Raster
	light bool
	toPx  geom.Homography // squares to px
	usual float64         // grey levels by which a line usually stands out
	tests int             // crossings looked at in the last round
	px    []geom.Point    // crossings found
	at    []geom.Point    // the same in squares
	rms   float64         // px
}

// Parameters of growing.
const (
	// firstReach is how many squares round the seed are looked at first, and growth the
	// factor by which they become more each time.
	firstReach, growth = 3.2, 1.6
	// mostCrossings bounds the crossings that are looked at in one round.
	mostCrossings = 4000
	// lineReach is how far off a line may lie from where it is looked for, in squares,
	// within bounds in px.
	lineReach                     = .22
	leastLineReach, mostLineReach = 1.5, 14.0
	// leastStand is the least by which a line stands out in grey levels, and usualStand in
	// shares of what is usual.
	leastStand, usualStand = 2.5, .4
	// mostStand bounds what a px counts, in shares of what is usual, against ink.
	mostStand = 2.5
	// leastRun is the share of an arm of a crossing along which the line must show.
	leastRun = .6
	// fitMost bounds the crossings of a fit on the way, and finalMost of the last.
	fitMost, finalMost = 300, 1500
)

// newLattice starts at a seed.
func newLattice(r *Raster, s gridSeed, light bool) *lattice {
	return &lattice{r: r, light: light, toPx: geom.Affine{
		A: s.u.X, B: s.u.Y, C: s.v.X, D: s.v.Y, E: s.at.X, F: s.at.Y,
	}.Projective()}
}

// grow finds crossings outward and reports whether there are enough.
func (l *lattice) grow(ctx context.Context) (bool, error) {
	l.usual = math.Inf(1)
	if ok, err := l.round(ctx, firstReach); !ok {
		return false, err
	}
	for reach := firstReach; ; reach *= growth {
		whole := l.covers(reach)
		if ok, err := l.round(ctx, reach); !ok {
			return false, err
		}
		if whole {
			break
		}
	}
	// Once more, from where all of them together put each.
	if ok, err := l.round(ctx, math.Inf(1)); !ok {
		return false, err
	}
	return l.sound(), nil
}

// covers reports whether reach squares from the seed hold the whole picture.
func (l *lattice) covers(reach float64) bool {
	back, ok := l.toPx.Invert()
	if !ok {
		return true
	}
	for _, c := range l.corners() {
		if q := back.Apply(c); !(back.Depth(c) > 0) || math.Max(math.Abs(q.X), math.Abs(q.Y)) > reach {
			return false
		}
	}
	return true
}

// corners returns the corners of the picture.
func (l *lattice) corners() [4]geom.Point {
	w, h := float64(l.r.W), float64(l.r.H)
	return [4]geom.Point{{}, {X: w}, {X: w, Y: h}, {Y: h}}
}

// round looks for the crossings within reach squares from the seed and fits the map to
// them. It returns false where there are too few.
func (l *lattice) round(ctx context.Context, reach float64) (bool, error) {
	places := l.places(reach)
	found := make([]crossing, len(places))
	err := each(ctx, len(places), func(i int) { found[i] = l.crossing(places[i]) })
	if err != nil {
		return false, err
	}
	if math.IsInf(l.usual, 1) {
		// The first round tells what is usual.
		var stands []float64
		for _, c := range found {
			if c.ok {
				stands = append(stands, c.stand)
			}
		}
		l.usual = middleOf(stands)
	}
	l.px, l.at = l.px[:0], l.at[:0]
	for i, c := range found {
		if c.ok && c.stand >= usualStand*l.usual {
			l.px, l.at = append(l.px, c.px), append(l.at, places[i])
		}
	}
	l.tests = len(places)
	most := fitMost
	if math.IsInf(reach, 1) {
		most = finalMost
	}
	return l.fit(most), nil
}

// places returns the crossings in the picture within reach squares from the seed, not
// all of them where there are very many.
func (l *lattice) places(reach float64) []geom.Point {
	back, ok := l.toPx.Invert()
	if !ok {
		return nil
	}
	box := geom.EmptyRect()
	for _, c := range l.corners() {
		q := back.Apply(c)
		if !(back.Depth(c) > 0) || !q.Finite() {
			q = geom.Pt(math.Copysign(reach, q.X), math.Copysign(reach, q.Y))
		}
		box = box.Include(q)
	}
	x0, x1 := math.Ceil(math.Max(box.Min.X, -reach)), math.Floor(math.Min(box.Max.X, reach))
	y0, y1 := math.Ceil(math.Max(box.Min.Y, -reach)), math.Floor(math.Min(box.Max.Y, reach))
	if !(x1-x0 < 1e5) || !(y1-y0 < 1e5) {
		return nil
	}
	step := math.Max(1, math.Ceil(math.Sqrt((x1-x0+1)*(y1-y0+1)/mostCrossings)))
	var ps []geom.Point
	for y := math.Ceil(y0/step) * step; y <= y1; y += step {
		for x := math.Ceil(x0/step) * step; x <= x1; x += step {
			p := geom.Pt(x, y)
			if l.toPx.Depth(p) > 0 && holds(l.r.W, l.r.H, l.toPx.Apply(p)) {
				ps = append(ps, p)
			}
		}
	}
	return ps
}

// fit fits the map to the crossings, those that lie off left out.
func (l *lattice) fit(most int) bool {
	if len(l.px) < 9 {
		return false
	}
	for range 4 {
		step := max(1, (len(l.px)+most-1)/most)
		var from, to []geom.Point
		for i := 0; i < len(l.px); i += step {
			from, to = append(from, l.at[i]), append(to, l.px[i])
		}
		h, _, err := geom.FitHomography(from, to)
		if err != nil {
			return false
		}
		l.toPx = h
		offs := make([]float64, len(l.px))
		var sum float64
		for i := range l.px {
			offs[i] = h.Apply(l.at[i]).Dist(l.px[i])
			sum += offs[i] * offs[i]
		}
		l.rms = math.Sqrt(sum / float64(len(l.px)))
		// The median of distances in the plane is 1.18 sigma (Rayleigh).
		limit := math.Max(.4, 3.5*middleOf(append([]float64(nil), offs...))/1.18)
		var n int
		for i, d := range offs {
			if d <= limit {
				l.px[n], l.at[n] = l.px[i], l.at[i]
				n++
			}
		}
		if n < 9 {
			return false
		}
		if n == len(l.px) {
			break
		}
		l.px, l.at = l.px[:n], l.at[:n]
	}
	return true
}

// sound reports whether what was found is squared paper.
func (l *lattice) sound() bool {
	if len(l.px) < leastCrossings {
		return false
	}
	across, up := map[float64]int{}, map[float64]int{}
	box := geom.EmptyRect()
	for _, p := range l.at {
		across[p.X]++
		up[p.Y]++
		box = box.Include(p)
	}
	if len(across) < leastLines || len(up) < leastLines {
		return false
	}
	// The share of crossings that show, where the paper is.
	var there int
	for _, p := range l.places(math.Inf(1)) {
		if p.X >= box.Min.X && p.X <= box.Max.X && p.Y >= box.Min.Y && p.Y <= box.Max.Y {
			there++
		}
	}
	side := l.toPx.ScaleAt(geom.Pt((box.Min.X+box.Max.X)/2, (box.Min.Y+box.Max.Y)/2))
	return float64(len(l.px)) >= leastGridShare*float64(there) && l.rms <= mostGridRMS*side
}

// seen returns the box of the crossings found, grown by the distance to the next ones.
func (l *lattice) seen() geom.Rect {
	var xs, ys []float64
	for _, p := range l.at {
		xs, ys = append(xs, p.X), append(ys, p.Y)
	}
	grown := func(xs []float64) (low, high float64) {
		slices.Sort(xs)
		gap := math.Inf(1)
		for i := 1; i < len(xs); i++ {
			if d := xs[i] - xs[i-1]; d > .5 {
				gap = math.Min(gap, d)
			}
		}
		return xs[0] - gap, xs[len(xs)-1] + gap
	}
	x0, x1 := grown(xs)
	y0, y1 := grown(ys)
	return geom.RectOf(geom.Pt(x0, y0), geom.Pt(x1, y1))
}

// crossing is a crossing of two lines.
type crossing struct {
	px    geom.Point
	stand float64
	ok    bool
}

// crossing looks for the crossing at a place in squares.
func (l *lattice) crossing(at geom.Point) crossing {
	m, p := l.toPx.Near(at), l.toPx.Apply(at)
	u, v := geom.Pt(m.A, m.B), geom.Pt(m.C, m.D)
	a, okA := l.arm(p, u, v.Len())
	if !okA {
		return crossing{}
	}
	b, okB := l.arm(p, v, u.Len())
	if !okB {
		return crossing{}
	}
	// The place whose distances from the two lines are those found.
	na, nb := u.Unit().Left(), v.Unit().Left()
	det := na.Cross(nb)
	move := geom.Pt((a.off*nb.Y-b.off*na.Y)/det, (b.off*na.X-a.off*nb.X)/det)
	q := p.Add(move)
	return crossing{q, math.Min(a.stand, b.stand), holds(l.r.W, l.r.H, q)}
}

// stroke is a line found: how far to the left and by how many levels it stands out.
type stroke struct{ off, stand float64 }

// Where along its arms a line is looked at, in squares from the crossing: clear of the
// other line, and of the next one.
const armFrom, armTo = .12, .44

// armSamples is the number of places along an arm.
const armSamples = 10

// arm looks for the line through p along d, which is one square long; wide is the distance
// to the next line.
func (l *lattice) arm(p, d geom.Point, wide float64) (stroke, bool) {
	reach := clamp(lineReach*wide, leastLineReach, mostLineReach)
	n := int(math.Ceil(reach)) + 1
	var sums [2*mostLineReach + 8]float64
	var values [2 * armSamples][2*mostLineReach + 8]float32
	across := d.Unit().Left()
	most := mostStand * l.usual
	rows := 0
	for side := -1.0; side <= 1; side += 2 {
		for k := range armSamples {
			s := side * (armFrom + (armTo-armFrom)*float64(k)/(armSamples-1))
			q := p.Add(d.Mul(s))
			if !holds(l.r.W, l.r.H, q) {
				continue
			}
			row := values[rows][:2*n+1]
			var high float32
			for j := range row {
				v := float32(l.r.sample(q.Add(across.Mul(float64(j - n)))))
				if l.light {
					v = 255 - v
				}
				row[j] = v
				high = max(high, v)
			}
			for j, v := range row {
				row[j] = min(high-v, float32(most))
				sums[j] += float64(row[j])
			}
			rows++
		}
	}
	if rows < armSamples {
		return stroke{}, false
	}
	sum := sums[:2*n+1]
	best := -1
	for j := 1; j < len(sum)-1; j++ {
		if best < 0 || sum[j-1]+2*sum[j]+sum[j+1] > sum[best-1]+2*sum[best]+sum[best+1] {
			best = j
		}
	}
	ground := middleOf(append(make([]float64, 0, len(sums)), sum...)) / float64(rows)
	stand := sum[best]/float64(rows) - ground
	if stand < leastStand || (!math.IsInf(l.usual, 1) && stand < usualStand*l.usual) {
		return stroke{}, false
	}
	shown := 0
	for k := range rows {
		row := values[k][:2*n+1]
		here := max(row[best-1], row[best], row[best+1])
		edge := (row[0] + row[1] + row[2*n] + row[2*n-1]) / 4
		if float64(here-edge) > .3*stand {
			shown++
		}
	}
	if float64(shown) < leastRun*float64(rows) {
		return stroke{}, false
	}
	smooth := func(j int) float64 {
		if j < 1 || j > len(sum)-2 {
			return 0
		}
		return sum[j-1] + 2*sum[j] + sum[j+1]
	}
	return stroke{float64(best-n) + peakOf(smooth(best-1), smooth(best), smooth(best+1)), stand}, true
}
