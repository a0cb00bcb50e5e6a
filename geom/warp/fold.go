package warp

import (
	"math"
	"slices"

	"hemlet/geom"
)

const (
	// folded is the share of its area, beside the whole's scale, below which a place of a
	// shape counts as folded or pressed flat: cloth is not cut so.
	folded = 0.1
	// foldGrid is into how many parts the box of a shape is divided each way to look for
	// such places.
	foldGrid = 10
)

// flattest returns how much of its area the place of a shape keeps that keeps least, beside
// the scale of the whole; below zero where it is folded over.
func (m *model) flattest(z [][]float64) float64 {
	least := math.Inf(1)
	for k := range m.bodies {
		least = min(least, m.flattestOf(k, z[k]))
	}
	return least
}

// flattestOf is flattest of one shape.
func (m *model) flattestOf(k int, z []float64) float64 {
	b, least := m.bodies[k], math.Inf(1)
	b.take(z)
	look := func(p geom.Point) {
		x, y := b.f.derivative(p)
		least = min(least, x.Cross(y)/(m.scale*m.scale))
	}
	outline := b.shape.Outline()
	for _, s := range outline {
		look(s.P0)
		look(s.At(0.5))
	}
	inside, box := b.inside(outline), outline.Bounds()
	for i := range foldGrid {
		for j := range foldGrid {
			p := geom.Pt(box.Min.X+box.W()*(float64(i)+0.5)/foldGrid, box.Min.Y+box.H()*(float64(j)+0.5)/foldGrid)
			if inside(p) {
				look(p)
			}
		}
	}
	return least
}

// better reports whether the solution z presses no place as flat as that of another model
// does, and has not come to cross itself for it.
func (m *model) better(z [][]float64, other *model, was [][]float64) bool {
	return m.flattest(z) > other.flattest(was) && (m.sound(z) || !other.sound(was))
}

// loosened returns the problem with every curve of the shapes that z folds free to turn to
// the other side. A curve that hardly turns, and may not turn back, can leave no other way
// to what is wanted than to fold a corner over.
func (m *model) loosened(z [][]float64) *Problem {
	q := *m.p
	q.Shapes = slices.Clone(q.Shapes)
	for k := range q.Shapes {
		if m.flattestOf(k, z[k]) >= folded {
			continue
		}
		s := &q.Shapes[k]
		s.Loose = make([]int, len(s.Nodes))
		for i := range s.Loose {
			s.Loose[i] = i
		}
	}
	return &q
}
