package scan

import (
	"math"
	"slices"

	"hemlet/geom"
)

// divisions are how many times finer a lattice may be than it was found, the finest first:
// ten and five for millimetres, eight and four for inches.
var divisions = []int{10, 8, 5, 4, 3, 2}

// Parameters of looking at the lines of a lattice.
const (
	// foldSquares bounds the squares that are laid on each other.
	foldSquares = 600
	// foldStand is the least share of the found lines by which finer ones stand out, and
	// foldLeast the least in grey levels, well above what remains of noise.
	foldStand, foldLeast = .15, 1.2
	// strongerStand is by how much stronger lines stand out more than the others.
	strongerStand = 1.25
	// strongerClear is how many times the spread of the others they stand out more.
	strongerClear = 2.5
	// coveredShare is the share of what lines usually stand out by below which one is
	// covered.
	coveredShare = .25
)

// subdivide makes the lattice finer if there are lines between its lines, both ways.
func (l *lattice) subdivide() {
	across, up := l.folded(true), l.folded(false)
	for _, n := range divisions {
		if !dividedBy(across, n) || !dividedBy(up, n) {
			continue
		}
		m, ok := l.toPx.After(geom.Scaling(1/float64(n), 1/float64(n)))
		if !ok {
			return
		}
		l.toPx = m
		for i := range l.at {
			l.at[i] = l.at[i].Mul(float64(n))
		}
		return
	}
}

// foldBins is the number of places in a square at which it is looked.
const foldBins = 80

// folded lays squares on each other and returns how dark they are, across or up, from line
// to line.
func (l *lattice) folded(across bool) []float64 {
	step := max(1, len(l.at)/foldSquares)
	sums := make([]float64, foldBins)
	most := mostStand * l.usual
	var rows float64
	var row [foldBins]float64
	for i := 0; i < len(l.at); i += step {
		for _, s := range []float64{.15, .25, .35, .45, .55, .65, .75, .85} {
			high := 0.0
			for b := range row {
				p := geom.Pt(float64(b)/foldBins, s)
				if !across {
					p.X, p.Y = p.Y, p.X
				}
				row[b] = l.level(p.Add(l.at[i]))
				high = math.Max(high, row[b])
			}
			for b, v := range row {
				sums[b] += math.Min(high-v, most)
			}
			rows++
		}
	}
	for b := range sums {
		sums[b] /= rows
	}
	return sums
}

// level returns the grey level at a place in squares, turned over where lines are light.
func (l *lattice) level(p geom.Point) float64 {
	v := l.r.sample(l.toPx.Apply(p))
	if l.light {
		return 255 - v
	}
	return v
}

// dividedBy reports whether a folded profile has lines at every nth part.
func dividedBy(dark []float64, n int) bool {
	part := func(p float64) float64 { // the darkest near a part
		at := int(math.Round(p * foldBins / float64(n)))
		var v float64
		for d := -1; d <= 1; d++ {
			v = math.Max(v, dark[(at+d+foldBins)%foldBins])
		}
		return v
	}
	between := func(p float64) float64 {
		at := p * foldBins / float64(n)
		i := int(at)
		return (dark[i] + dark[(i+1)%foldBins]) / 2
	}
	own := part(0) - math.Min(between(.5), between(float64(n)-.5))
	for k := 1; k < n; k++ {
		stand := part(float64(k)) - math.Max(between(float64(k)-.5), between(float64(k)+.5))
		if stand < foldLeast || stand < foldStand*own {
			return false
		}
	}
	return true
}

// stronger returns how many squares lie between stronger lines, 0 where there are none,
// and moves the lattice so that such lines lie at 0.
func (l *lattice) stronger() int {
	across, left := l.strengths(true)
	up, low := l.strengths(false)
	for _, n := range slices.Backward(divisions) {
		a, ok1 := strongerEvery(across, n)
		b, ok2 := strongerEvery(up, n)
		if !ok1 || !ok2 {
			continue
		}
		shift := geom.Pt(float64(left+a), float64(low+b))
		m, ok := l.toPx.After(geom.Translation(shift))
		if !ok {
			return 0
		}
		l.toPx = m
		for i := range l.at {
			l.at[i] = l.at[i].Sub(shift)
		}
		return n
	}
	return 0
}

// strengths returns by how much each line stands out, and the number of the first.
func (l *lattice) strengths(across bool) (stands []float64, first int) {
	low, high := math.Inf(1), math.Inf(-1)
	cross := geom.Pt(math.Inf(1), math.Inf(-1))
	for _, p := range l.at {
		if !across {
			p.X, p.Y = p.Y, p.X
		}
		low, high = math.Min(low, p.X), math.Max(high, p.X)
		cross = geom.Pt(math.Min(cross.X, p.Y), math.Max(cross.Y, p.Y))
	}
	if !(high-low < 1e5) {
		return nil, 0
	}
	const samples = 160
	var each []float64
	for x := low; x <= high; x++ {
		each = each[:0]
		for k := range samples {
			// Halves of squares, so as not to look at the crossings.
			y := math.Floor(cross.X+(cross.Y-cross.X)*float64(k)/samples) + .35 + .3*float64(k%7)/6
			at := func(d float64) float64 {
				p := geom.Pt(x+d, y)
				if !across {
					p.X, p.Y = p.Y, p.X
				}
				if !holds(l.r.W, l.r.H, l.toPx.Apply(p)) {
					return math.NaN()
				}
				return l.level(p)
			}
			// The width counts as well as the depth.
			s := at(-.3) + at(.3)
			var sum float64
			for d := -.15; d < .16; d += .05 {
				sum += s/2 - at(d)
			}
			if !math.IsNaN(sum) {
				each = append(each, sum)
			}
		}
		// Three quarters of a line may be covered.
		stands = append(stands, shareOf(each, .75))
	}
	return stands, int(low)
}

// strongerEvery tells whether every nth line stands out more than the others, from which.
func strongerEvery(stands []float64, n int) (first int, ok bool) {
	if len(stands) < 2*n {
		return 0, false
	}
	best := 0.0
	covered := coveredShare * middleOf(slices.Clone(stands))
	for a := range n {
		var strong, rest []float64
		for i, s := range stands {
			if s < covered {
				continue
			}
			if i%n == a {
				strong = append(strong, s)
			} else {
				rest = append(rest, s)
			}
		}
		s, m := middleOf(strong), middleOf(rest)
		spread := shareOf(rest, .84) - m
		weakest := shareOf(strong, .2)
		if m > 0 && s > strongerStand*m && weakest > m+math.Max(strongerClear*spread, 0) && s/m > best {
			best, first, ok = s/m, a, true
		}
	}
	return first, ok
}
