package adjust

import (
	"math"

	"hemlet/geom/sqp"
)

// model is a problem as functions of the unknowns of its shapes.
type model struct {
	sqp.Program
	p        *Problem
	outlines []*outline
	form     []sqp.Rule // to be zero
	rails    []railRule // to be zero, if that can be
}

func newModel(p *Problem) *model {
	m := &model{p: p}
	m.Reach = m.reach
	wished := make([]bool, len(p.Shapes))
	for _, w := range p.Wishes {
		for _, t := range w.Terms {
			wished[t.Shape] = wished[t.Shape] || t.Factor != 0
		}
	}
	for k := range p.Shapes {
		o := newOutline(p, k, !wished[k])
		m.outlines = append(m.outlines, o)
		m.Blocks = append(m.Blocks, sqp.Block{Metric: o.metric()})
		m.Size = math.Max(m.Size, o.size)
	}
	for _, w := range p.Wishes {
		m.Wishes = append(m.Wishes, sqp.Wish{Rule: &lengths{m, w.Terms, w.Want}, Weight: w.weight()})
	}
	m.form, m.rails = m.keeping()
	m.Guards = m.guarding()
	return m
}

// shapes returns the shapes at the unknowns z.
func (m *model) shapes(z [][]float64) []Shape {
	out := make([]Shape, len(m.outlines))
	for i, o := range m.outlines {
		out[i] = o.moved(z[i])
	}
	return out
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
