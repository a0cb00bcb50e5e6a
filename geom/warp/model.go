package warp

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/blas/blas64"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

var errEnergy = errors.New("the shape is too thin for numbers")

// model is a problem as functions of the unknowns of its shapes.
type model struct {
	p      *Problem
	scale  float64
	bodies []*body
	spans  []*goal
	seams  []*goal
	darts  []*goal // nil for one whose mouth is as it comes
	shifts []*goal // nil for a hard one
	shift  []*towards
	form   []sqp.Rule
	guards []sqp.Rule
	pinned []pin // what a fold is put back onto
	prog   *sqp.Program
}

// pin is a point of a shape that stays on its line of that normal.
type pin struct {
	shape  int
	v      mix
	normal geom.Point
}

func newModel(p *Problem) (*model, error) {
	m := &model{p: p, scale: 1}
	if p.Scale {
		m.scale = p.middleScale()
	}
	for i := range p.Shapes {
		m.bodies = append(m.bodies, m.newBody(i))
	}
	m.goals()
	m.keeping()
	if err := m.settle(); err != nil {
		return nil, err
	}
	m.program()
	return m, nil
}

// middleScale returns the median of what the spans want over what they measure.
func (p *Problem) middleScale() float64 {
	var list []float64
	for i := range p.Spans {
		s := &p.Spans[i]
		now := p.measured(s.Terms, s.Chords)
		if now > leastLength && s.Want > leastLength {
			list = append(list, s.Want/now)
		}
	}
	if len(list) == 0 {
		return 1
	}
	slices.Sort(list)
	half := len(list) / 2
	if len(list)%2 == 1 {
		return list[half]
	}
	return math.Sqrt(list[half-1] * list[half])
}

// measured returns a sum of lengths of the shapes as they are.
func (p *Problem) measured(terms []Term, chords []Chord) float64 {
	sum := 0.0
	for _, t := range terms {
		from, to := t.part()
		sum += t.Factor * p.Shapes[t.Shape].stretch(t.Path, t.Stretch).Between(from, to).Length()
	}
	for _, c := range chords {
		v := p.place(c.B).Sub(p.place(c.A))
		if u := c.Along.Unit(); u != (geom.Point{}) {
			sum += c.Factor * v.Dot(u)
		} else {
			sum += c.Factor * v.Len()
		}
	}
	return sum
}

func (p *Problem) place(s Spot) geom.Point {
	if s.On == nil {
		return s.At
	}
	return p.Shapes[s.On.Shape].stretch(s.On.Path, s.On.Stretch).At(s.On.T)
}

// part returns the parameters between which a term counts.
func (t *Term) part() (from, to float64) {
	if t.From == 0 && t.To == 0 {
		return 0, 1
	}
	return t.From, t.To
}

// newBody lays a field over a shape, with its points.
func (m *model) newBody(k int) *body {
	s := &m.p.Shapes[k]
	b := &body{shape: s, known: map[pointKey]int{}}
	absolute := m.absolute(k)
	axis := m.axis(k)
	along := s.Grain
	anchor := s.Outline().Bounds().Center()
	if rail := m.rail(k, false); rail != nil {
		along = rail.Along
	}
	if fold := m.rail(k, true); fold != nil {
		along = fold.Along
		u := along.Unit()
		at := s.Nodes[fold.Nodes[0]].At
		anchor = at.Add(u.Mul(anchor.Sub(at).Dot(u)))
	}
	if axis != nil {
		along = axis[1].Sub(axis[0])
		u := along.Unit()
		anchor = axis[0].Add(u.Mul(anchor.Sub(axis[0]).Dot(u)))
	}
	if along.Unit() == (geom.Point{}) {
		along = geom.Pt(0, 1)
	}
	b.f = newField(s.Outline(), along, axis)
	b.f.scale, b.f.anchor = m.scale, anchor
	if b.f.grain = s.Grain.Unit(); b.f.grain == (geom.Point{}) {
		b.f.grain = geom.Pt(0, 1)
	}
	for _, d := range m.p.Darts {
		if d.Shape != k {
			continue
		}
		if o, ok := newOpening(d.Apex, s.Nodes[d.Stretch].At, s.Nodes[s.next(d.Stretch)].At); ok {
			b.f.darts = append(b.f.darts, o)
		}
	}
	b.f.tie(axis)
	b.stiff = stiffness{
		along: m.p.Along, across: m.p.Across, stay: m.p.Stay, curves: m.p.Stay == 0,
		turns: absolute || axis != nil || m.rail(k, false) != nil, moves: absolute, grows: !m.p.Scale,
	}
	if s.Grain != (geom.Point{}) && m.p.Stay == 0 {
		b.stiff.twist = twistWeight - 1
	}
	for i := range s.Nodes {
		b.control(0, i)
	}
	return b
}

// absolute reports whether it matters where shape k lies.
func (m *model) absolute(k int) bool {
	return m.p.Stay > 0 || slices.ContainsFunc(m.p.Shifts, func(s Shift) bool { return s.At.shape() == k })
}

// axis returns the first axis of symmetry of shape k.
func (m *model) axis(k int) *[2]geom.Point {
	for i := range m.p.Mirrors {
		if m.p.Mirrors[i].Shape == k {
			return &m.p.Mirrors[i].Axis
		}
	}
	return nil
}

// rail returns the first rail of shape k, or its first fold.
func (m *model) rail(k int, fold bool) *Rail {
	for i := range m.p.Rails {
		if r := &m.p.Rails[i]; r.Shape == k && len(r.Nodes) > 0 && (r.Square || !fold) {
			return r
		}
	}
	return nil
}

// goals makes the rules of what is wanted, and has the bodies carry what they are about.
func (m *model) goals() {
	for i := range m.p.Spans {
		s := &m.p.Spans[i]
		m.spans = append(m.spans, &goal{measure: m.lengths(s.Terms, s.Chords), want: s.Want})
	}
	for i := range m.p.Seams {
		s := &m.p.Seams[i]
		m.seams = append(m.seams, &goal{measure: m.lengths(s.Terms, nil), want: s.Want})
	}
	for i := range m.p.Darts {
		d := &m.p.Darts[i]
		b := m.bodies[d.Shape]
		var g *goal
		mouth := b.node(b.shape.next(d.Stretch)).minus(b.node(d.Stretch))
		if d.Want >= 0 {
			g = &goal{
				measure: &lengths{chords: []chord{{shape: d.Shape, v: mouth, factor: 1}}},
				want:    math.Max(d.Want, leastMouth),
			}
		}
		m.darts = append(m.darts, g)
		if d.EqualLegs {
			apex := b.spot(Spot{Shape: d.Shape, At: d.Apex})
			m.form = append(m.form, &lengths{chords: []chord{
				{shape: d.Shape, v: b.node(d.Stretch).minus(apex), factor: 1},
				{shape: d.Shape, v: b.node(b.shape.next(d.Stretch)).minus(apex), factor: -1},
			}})
		}
	}
	for i := range m.p.Shifts {
		s := &m.p.Shifts[i]
		k := s.At.shape()
		b, u := m.bodies[k], s.Along.Unit()
		v := b.spot(s.At)
		var g *goal
		if s.Hard {
			b.linear = append(b.linear, linearRule{v, u, s.By})
		} else {
			g = &goal{measure: &towards{Block: k, V: v, Dir: u, Least: m.p.place(s.At).Dot(u)}, want: s.By}
		}
		m.shifts = append(m.shifts, g)
		m.shift = append(m.shift, &towards{Block: k, V: v, Dir: u, Least: m.p.place(s.At).Dot(u)})
	}
}

// leastMouth is the width in mm of the narrowest mouth of a dart.
const leastMouth = 0.1

func (m *model) lengths(terms []Term, chords []Chord) *lengths {
	l := &lengths{}
	for _, t := range terms {
		c := m.bodies[t.Shape].control(t.Path, t.Stretch)
		from, to := t.part()
		l.add(part{shape: t.Shape, points: c, straight: c[1] < 0, from: from, to: to, factor: t.Factor})
	}
	for _, c := range chords {
		k := c.A.shape()
		b := m.bodies[k]
		l.chords = append(l.chords, chord{shape: k, v: b.spot(c.B).minus(b.spot(c.A)), along: c.Along.Unit(), factor: c.Factor})
	}
	return l
}

// settle works the bodies out side by side, and tells the rules how many coordinates there
// are.
func (m *model) settle() error {
	errs := make([]error, len(m.bodies))
	var wait sync.WaitGroup
	for k, b := range m.bodies {
		wait.Add(1)
		go func() {
			defer wait.Done()
			errs[k] = b.settle()
		}()
	}
	wait.Wait()
	for k, err := range errs {
		if err != nil {
			return fmt.Errorf("warp: shape %d: %w", k, err)
		}
	}
	for _, g := range slices.Concat(m.spans, m.seams, m.darts, m.shifts) {
		if g != nil {
			m.count(g.measure)
		}
	}
	for _, r := range m.shift {
		m.count(r)
	}
	for _, r := range slices.Concat(m.form, m.guards) {
		m.count(r)
	}
	x := m.base()
	for _, g := range slices.Concat(m.spans, m.seams, m.darts, m.shifts) {
		if g != nil {
			g.first, g.share = g.measure.Value(x), 1
		}
	}
	return nil
}

// count tells a rule how many coordinates its shapes have.
func (m *model) count(r sqp.Rule) {
	n := func(k int) int { return 2 * len(m.bodies[k].points) }
	switch r := r.(type) {
	case *lengths:
		for i := range r.parts {
			r.parts[i].n = n(r.parts[i].shape)
		}
		for i := range r.chords {
			r.chords[i].n = n(r.chords[i].shape)
		}
	case *product:
		r.N = n(r.Block)
	case *towards:
		r.N = n(r.Block)
	}
}

func (m *model) base() [][]float64 {
	x := make([][]float64, len(m.bodies))
	for k, b := range m.bodies {
		x[k] = b.base
	}
	return x
}

// give is how much in mm a length follows a unit of pull: the energy is the square of the
// strain times an area, so that for shapes of every size a length costs about its square,
// and in a fit, where twisting and what curves lose of their form cost more, up to twenty
// times as much.
func (p *Problem) give() float64 {
	if p.Stay > 0 {
		return 1
	}
	return 0.05
}

// program puts what the solver takes together.
func (m *model) program() {
	p := &sqp.Program{Guards: m.guards, Give: m.p.give()}
	for _, b := range m.bodies {
		p.Blocks = append(p.Blocks, b.block())
		box := b.shape.Outline().Bounds()
		p.Size = math.Max(p.Size, m.scale*math.Hypot(box.W(), box.H()))
	}
	for i, g := range m.spans {
		p.Wishes = append(p.Wishes, sqp.Wish{Rule: g, Weight: orOne(m.p.Spans[i].Weight)})
	}
	for _, g := range m.darts {
		if g != nil {
			p.Wishes = append(p.Wishes, sqp.Wish{Rule: g, Weight: 1})
		}
	}
	for i, g := range m.shifts {
		if g != nil {
			p.Wishes = append(p.Wishes, sqp.Wish{Rule: g, Weight: orOne(m.p.Shifts[i].Weight)})
		}
	}
	p.Reach = func(z [][]float64) float64 {
		far := 0.0
		for k := range m.bodies {
			if len(z[k]) == 0 {
				continue
			}
			w := p.Blocks[k].Way
			d := make([]float64, w.Rows)
			blas64.Gemv(noTrans, 1, w, blas64.Vector{N: len(z[k]), Inc: 1, Data: z[k]}, 0, blas64.Vector{N: len(d), Inc: 1, Data: d})
			for i := 0; i < len(d); i += 2 {
				far = math.Max(far, math.Hypot(d[i], d[i+1]))
			}
		}
		return far
	}
	m.prog = p
}

func orOne(w float64) float64 {
	if w == 0 {
		return 1
	}
	return w
}
