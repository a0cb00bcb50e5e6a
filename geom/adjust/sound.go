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

// holdBack follows the wishes only as far as every outline stays sound: each is brought
// nearer to what is wanted by the same share.
func (m *model) holdBack(ctx context.Context, r *Result) ([][]float64, error) {
	wanted := make([]float64, len(m.Wishes))
	now := make([]float64, len(m.Wishes))
	still := m.Zeros()
	for i, w := range m.Wishes {
		l := w.Rule.(*lengths)
		wanted[i] = l.want
		now[i] = l.Value(still) + l.want
	}
	defer func() {
		for i, w := range m.Wishes {
			w.Rule.(*lengths).want = wanted[i]
		}
	}()
	return m.HoldBack(func(share float64) ([][]float64, error) {
		for i, w := range m.Wishes {
			w.Rule.(*lengths).want = now[i] + share*(wanted[i]-now[i])
		}
		z, steps, err := m.best(ctx)
		r.Steps += steps
		return z, err
	}, m.sound)
}
