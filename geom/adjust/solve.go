package adjust

import (
	"context"
	"math"
	"slices"

	"hemlet/geom/sqp"
)

// Solve changes the shapes so that the wishes are met with the least change, as the
// package's comment defines it. Where they cannot all be met, the weighted sum of squares
// of what is missed is least, and then the change; Result.Off and Feasible tell. What is
// Fixed or Pinned keeps every bit; rows are straight within 1e-3 mm; joints keep their
// angles and curves their bends; an outline that does not cross itself does not come to.
//
// It returns an error for a problem that makes no sense (an index without a node, a
// coordinate that is not a length), if numbers fail, and the context's error if that is
// done before the solution.
func Solve(ctx context.Context, p Problem) (Result, error) {
	if err := p.check(); err != nil {
		return Result{}, err
	}
	m := newModel(&p)
	z, steps, err := m.best(ctx)
	if err != nil {
		return Result{}, err
	}
	r := Result{Steps: steps}
	if !m.sound(z) {
		r.Held = true
		if z, err = m.holdBack(ctx, &r); err != nil {
			return Result{}, err
		}
	}
	m.tell(z, &r)
	return r, nil
}

// tell fills the result.
func (m *model) tell(z [][]float64, r *Result) {
	r.Shapes = m.shapes(z)
	r.Feasible = true
	for _, w := range m.p.Wishes {
		off := w.now(r.Shapes) - w.Want
		r.Off = append(r.Off, off)
		r.Feasible = r.Feasible && math.Abs(off) <= Met
	}
	for i := range r.Shapes {
		r.Moved = max(r.Moved, farthest(m.p.Shapes[i], r.Shapes[i]))
	}
	for _, t := range m.rails {
		if n := len(r.Tilted); math.Abs(t.Value(z)) > tilt && (n == 0 || r.Tilted[n-1] != t.rail) {
			r.Tilted = append(r.Tilted, t.rail)
		}
	}
}

// tilt is the distance in mm by which the end of a straight stretch may stray from its
// angle at a rail without a word: a tenth of what a document keeps.
const tilt = 1e-7

var bounds = sqp.Bounds{Met: Met, Form: straightness}

// best returns the solution with the straight stretches at rails squared, or without, if
// that alone meets the wishes better.
func (m *model) best(ctx context.Context) (z [][]float64, steps int, err error) {
	all := slices.Clone(m.form)
	for _, r := range m.rails {
		all = append(all, r.Rule)
	}
	z, steps, err = m.Follow(ctx, all, bounds)
	if err != nil || len(m.rails) == 0 || m.Missed(z) <= Met {
		return z, steps, err
	}
	tilted, more, err := m.Follow(ctx, m.form, bounds)
	steps += more
	if err != nil || m.Missed(tilted) > m.Missed(z)-Met {
		return z, steps, err
	}
	return tilted, steps, nil
}
