package adjust

import "math"

// model is a problem as functions of the unknowns of its shapes.
type model struct {
	p        *Problem
	outlines []*outline
	metric   []square
	wishes   []rule
	form     []rule     // to be zero
	rails    []railRule // to be zero, if that can be
	guards   []rule     // not to be less than zero
	size     float64    // mm, of the largest shape
}

func newModel(p *Problem) *model {
	m := &model{p: p}
	wished := make([]bool, len(p.Shapes))
	for _, w := range p.Wishes {
		for _, t := range w.Terms {
			wished[t.Shape] = wished[t.Shape] || t.Factor != 0
		}
	}
	for k := range p.Shapes {
		o := newOutline(p, k, !wished[k])
		m.outlines = append(m.outlines, o)
		m.metric = append(m.metric, o.metric())
		m.size = math.Max(m.size, o.size)
	}
	for _, w := range p.Wishes {
		m.wishes = append(m.wishes, &lengths{m, w.Terms, w.Want})
	}
	m.form, m.rails = m.keeping()
	m.guards = m.guarding()
	return m
}

// zeros returns unknowns that change nothing.
func (m *model) zeros() [][]float64 {
	z := make([][]float64, len(m.outlines))
	for i, o := range m.outlines {
		z[i] = make([]float64, o.n)
	}
	return z
}

// shapes returns the shapes at the unknowns z.
func (m *model) shapes(z [][]float64) []Shape {
	out := make([]Shape, len(m.outlines))
	for i, o := range m.outlines {
		out[i] = o.moved(z[i])
	}
	return out
}

// change returns half the change of the whole as the metric has it, in mm³.
func (m *model) change(z [][]float64) float64 {
	sum := 0.0
	for i, q := range m.metric {
		y := make([]float64, q.n)
		q.times(z[i], y)
		for j, v := range z[i] {
			sum += v * y[j]
		}
	}
	return sum / 2
}

// reach returns the largest distance in mm by which a node or handle is moved by z.
func (m *model) reach(z [][]float64) float64 {
	far := 0.0
	for i, o := range m.outlines {
		for _, list := range [...][]slot{o.at, o.in, o.out} {
			for k := range list {
				far = max(far, list[k].shift(z[i]).Len())
			}
		}
	}
	return far
}
