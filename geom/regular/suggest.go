package regular

import (
	"cmp"
	"math"
	"slices"

	"hemlet/geom"
)

// Suggest returns what is nearly regular about an outline, the surest first: by how far it
// would move a point, as a share of what is allowed. An outline that is none has no
// suggestions, and what holds already is not suggested.
func Suggest(o Outline, opt Options) []Suggestion {
	m, err := newModel(o)
	if err != nil {
		return nil
	}
	f := &finder{m: m, opt: opt.filled(), crossed: o.Path.Simple() != nil}
	f.straight()
	f.corners()
	f.headings()
	f.pairs()
	f.places()
	f.folds()
	f.mirrors()
	slices.SortStableFunc(f.found, func(a, b Suggestion) int {
		return cmp.Or(cmp.Compare(f.doubt(a), f.doubt(b)), cmp.Compare(a.Kind, b.Kind),
			slices.Compare(a.Edges, b.Edges), slices.Compare(a.Corners, b.Corners))
	})
	return f.found
}

// finder collects suggestions.
type finder struct {
	m       *model
	opt     Options
	crossed bool
	lines   []bool // the edges that are straight or nearly so
	found   []Suggestion
}

const (
	// holds is the distance in mm below which a regularity is there already: ten times
	// what a document keeps.
	holds = 1e-5
	// smoothAngle is the largest turn in radians, of 12 degrees, that is suggested to be
	// smooth: pattern makers draw corners that are meant larger.
	smoothAngle = 12 * math.Pi / 180
	// chance is the number of suggestions of one kind for an outline that its pairs of
	// corners or edges would make by accident, if their distances were spread evenly.
	chance = 0.15
)

// doubt is how far a suggestion moves a point, as a share of what is allowed.
func (f *finder) doubt(s Suggestion) float64 { return s.Off / f.opt.Tol }

// add keeps a suggestion if it moves little enough, and something at all.
func (f *finder) add(s Suggestion, most float64) {
	r, why := f.m.together([]Suggestion{s}, f.crossed)
	if why != "" {
		return
	}
	s.Off = r.moved
	if s.Off <= most && s.Off > holds {
		f.found = append(f.found, s)
	}
}

// straight suggests edges that are one straight line.
func (f *finder) straight() {
	f.lines = make([]bool, len(f.m.edges))
	for i := range f.m.edges {
		e := &f.m.edges[i]
		if e.straight {
			f.lines[i] = true
			continue
		}
		off := 0.0
		a, d := e.path.Start(), e.chord().Unit()
		for _, s := range e.path {
			for _, t := range s.Extrema() {
				off = max(off, math.Abs(s.At(t).Sub(a).Cross(d)))
			}
			for k := range samples {
				off = max(off, math.Abs(s.At(float64(k)/samples).Sub(a).Cross(d)))
			}
		}
		// Between two ends that lie near each other nothing is nearly straight.
		if off > f.opt.Tol || e.chord().Len() < straightShare*f.m.lengthAt(i, f.m.start) {
			continue
		}
		f.lines[i] = true
		f.add(Suggestion{Kind: Straight, Edges: []int{i}, Misses: off}, f.opt.Tol)
	}
}

// straightShare is the share of its length that the ends of a nearly straight edge are
// apart at least.
const straightShare = 0.98

// corners suggests square corners and smooth joins.
func (f *finder) corners() {
	m := f.m
	for c := range m.corners {
		if m.before(c) < 0 || m.after(c) < 0 || m.before(c) == m.after(c) {
			continue
		}
		turn := m.turnAt(c, m.start)
		edges := []int{m.before(c), m.after(c)}
		if off := math.Abs(math.Abs(turn) - math.Pi/2); off <= f.opt.Angle {
			f.add(Suggestion{Kind: Square, Edges: edges, Corners: []int{c}, Misses: off}, f.opt.Tol)
		}
		if off := math.Abs(turn); off <= smoothAngle {
			f.add(Suggestion{Kind: Smooth, Edges: edges, Corners: []int{c}, Misses: off}, f.opt.Tol)
		}
	}
}

// headings suggests edges that are upright or level.
func (f *finder) headings() {
	for i, line := range f.lines {
		if !line {
			continue
		}
		from := wrapped(f.m.heading(i, f.m.start) - f.opt.Up.Angle())
		for k, kind := range [2]Kind{Upright, Level} {
			to := float64(k) * math.Pi / 2
			off := math.Abs(wrapped(from-to) - nearestTurn(wrapped(from-to), math.Pi))
			if off <= f.opt.Angle {
				f.add(Suggestion{Kind: kind, Edges: []int{i}, Up: f.opt.Up, Misses: off}, f.opt.Tol)
			}
		}
	}
}

// pairs suggests edges that are parallel or equally long.
func (f *finder) pairs() {
	m := f.m
	lengths := make([]float64, len(m.edges))
	longest := 0.0
	for i := range m.edges {
		lengths[i] = m.lengthAt(i, m.start)
		longest = max(longest, lengths[i])
	}
	n := len(m.edges) * (len(m.edges) - 1) / 2
	near := min(equalSpread*f.opt.Tol, chance*longest/float64(max(2*n, 1)))
	for i := range m.edges {
		for j := i + 1; j < len(m.edges); j++ {
			if f.lines[i] && f.lines[j] {
				between := wrapped(m.heading(i, m.start) - m.heading(j, m.start))
				if off := math.Abs(between - nearestTurn(between, math.Pi)); off <= f.opt.Angle {
					f.add(Suggestion{Kind: Parallel, Edges: []int{i, j}, Misses: off}, f.opt.Tol)
				}
			}
			if off := math.Abs(lengths[i] - lengths[j]); off <= near {
				f.add(Suggestion{Kind: Equal, Edges: []int{i, j}, Misses: off}, f.opt.Tol)
			}
		}
	}
}

// equalSpread is how many times the tolerance two lengths differ at most: each of the four
// ends gives a part.
const equalSpread = 2

// places suggests corners at one height or one above the other.
func (f *finder) places() {
	m := f.m
	n := len(m.corners) * (len(m.corners) - 1) / 2
	near := min(2*f.opt.Tol, chance*m.size/float64(max(4*n, 1)))
	for i := range m.corners {
		for j := i + 1; j < len(m.corners); j++ {
			if f.joined(i, j) {
				continue // that is the heading of an edge
			}
			d := m.corners[i].Sub(m.corners[j])
			along, across := math.Abs(d.Dot(f.opt.Up)), math.Abs(d.Dot(f.opt.Up.Left()))
			if along <= near {
				f.add(Suggestion{Kind: Abreast, Corners: []int{i, j}, Up: f.opt.Up, Misses: along}, f.opt.Tol)
			}
			if across <= near {
				f.add(Suggestion{Kind: InLine, Corners: []int{i, j}, Up: f.opt.Up, Misses: across}, f.opt.Tol)
			}
		}
	}
}

// joined reports whether a straight edge runs between two corners.
func (f *finder) joined(i, j int) bool {
	for k := range f.m.edges {
		e := &f.m.edges[k]
		if f.lines[k] && (e.from == i && e.to == j || e.from == j && e.to == i) {
			return true
		}
	}
	return false
}

// folds suggests edges that are the axis of a drawn half: the outline lies to one side of
// them, and they are square to both neighbours.
func (f *finder) folds() {
	m := f.m
	for i, line := range f.lines {
		e := &m.edges[i]
		if !line || !m.closed || len(m.edges) < 3 {
			continue
		}
		worst := 0.0
		for _, c := range [2]int{e.from, e.to} {
			worst = max(worst, math.Abs(math.Abs(m.turnAt(c, m.start))-math.Pi/2))
		}
		if worst > f.opt.Angle || !f.oneSided(i) {
			continue
		}
		a, b := e.path.Start().Add(m.shift), e.path.End().Add(m.shift)
		f.add(Suggestion{Kind: OnFold, Edges: []int{i}, Corners: []int{e.from, e.to}, Misses: worst, Axis: [2]geom.Point{a, b}}, f.opt.Tol)
	}
}

// oneSided reports whether no other corner lies beyond the line of edge i.
func (f *finder) oneSided(i int) bool {
	m := f.m
	e := &m.edges[i]
	a, d := e.path.Start(), e.chord().Unit()
	lo, hi := 0.0, 0.0
	for _, p := range m.corners {
		v := d.Cross(p.Sub(a))
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo >= -f.opt.Tol || hi <= f.opt.Tol
}

// mirrors suggests axes of symmetry.
func (f *finder) mirrors() {
	m := f.m
	if len(m.corners) < 3 {
		return
	}
	for k := range m.pairings() {
		pairing := m.pairingAt(k)
		mid, angle := m.axisOf(pairing)
		s, c := math.Sincos(angle)
		dist := mid.Dot(geom.Pt(-s, c))
		off := 0.0
		for i, p := range m.corners {
			off = max(off, mirrored(p, angle, dist).Dist(m.corners[m.image(i, pairing)]))
		}
		// A pair gives half of what it misses each.
		if off > 2*f.opt.Tol {
			continue
		}
		at, dir := mid.Add(m.shift), geom.Pt(c, s).Mul(m.size/2)
		f.add(Suggestion{
			Kind: Symmetric, Misses: off, pairing: pairing,
			Axis: [2]geom.Point{at.Sub(dir), at.Add(dir)},
		}, f.opt.Tol)
	}
}
