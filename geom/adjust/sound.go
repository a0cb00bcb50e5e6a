package adjust

import (
	"context"
	"slices"
)

// sound reports whether no outline crosses itself at z that did not at first.
func (m *model) sound(z [][]float64) bool {
	for i, o := range m.outlines {
		if !slices.ContainsFunc(z[i], func(v float64) bool { return v != 0 }) {
			continue
		}
		if o.moved(z[i]).Path().Simple() != nil && o.shape.Path().Simple() == nil {
			return false
		}
	}
	return true
}

// holdBackRounds is the number of halvings by which the way is found that an outline can
// go without crossing itself: to 1/64 of it.
const holdBackRounds = 6

// holdBack follows the wishes only as far as every outline stays sound: each is brought
// nearer to what is wanted by the same share.
func (m *model) holdBack(ctx context.Context, r *Result) ([][]float64, error) {
	wanted := make([]float64, len(m.Wishes))
	now := make([]float64, len(m.Wishes))
	kept := m.Zeros()
	for i, w := range m.Wishes {
		l := w.Rule.(*lengths)
		wanted[i] = l.want
		now[i] = l.Value(kept) + l.want
	}
	defer func() {
		for i, w := range m.Wishes {
			w.Rule.(*lengths).want = wanted[i]
		}
	}()
	lo, hi := 0.0, 1.0
	for range holdBackRounds {
		share := (lo + hi) / 2
		for i, w := range m.Wishes {
			w.Rule.(*lengths).want = now[i] + share*(wanted[i]-now[i])
		}
		z, steps, err := m.best(ctx)
		r.Steps += steps
		if err != nil {
			return nil, err
		}
		if m.sound(z) {
			lo, kept = share, z
		} else {
			hi = share
		}
	}
	return kept, nil
}
