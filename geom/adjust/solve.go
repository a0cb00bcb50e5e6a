package adjust

import (
	"context"

	"math"
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
		if n := len(r.Tilted); math.Abs(t.value(z)) > tilt && (n == 0 || r.Tilted[n-1] != t.rail) {
			r.Tilted = append(r.Tilted, t.rail)
		}
	}
}

// tilt is the distance in mm by which the end of a straight stretch may stray from its
// angle at a rail without a word: a tenth of what a document keeps.
const tilt = 1e-7

// best returns the solution with the straight stretches at rails squared, or without, if
// that alone meets the wishes better.
func (m *model) best(ctx context.Context) (z [][]float64, steps int, err error) {
	all := append([]rule(nil), m.form...)
	for _, r := range m.rails {
		all = append(all, r.rule)
	}
	z, steps, err = m.follow(ctx, all)
	if err != nil || len(m.rails) == 0 || m.missed(z) <= Met {
		return z, steps, err
	}
	tilted, more, err := m.follow(ctx, m.form)
	steps += more
	if err != nil || m.missed(tilted) > m.missed(z)-Met {
		return z, steps, err
	}
	return tilted, steps, nil
}

// missed returns the root of the weighted sum of squares of what is missed, in mm.
func (m *model) missed(z [][]float64) float64 {
	sum := 0.0
	for i, w := range m.wishes {
		v := w.value(z)
		sum += m.p.Wishes[i].weight() * v * v
	}
	return math.Sqrt(sum)
}

// The softness of the wishes, as a share of how softly the shapes follow them: what is
// missed for the sake of little change is about that share of what was missed at first.
const (
	softFirst, softNext = 1e-2, 1e-4
	// softest is the softness of a compromise. Where wishes contradict one another,
	// harder ones would spoil an outline altogether for the last thousandth of a
	// millimetre: a handle pulled to nothing, a curve to a line.
	softest = 1e-5
	// softHard and softPolish are those of wishes that seem possible, and are.
	softHard, softPolish = 1e-8, 1e-13
)

// follow returns the solution with the given rules of the form.
func (m *model) follow(ctx context.Context, form []rule) (z [][]float64, steps int, err error) {
	s := &state{z: m.zeros(), wish: make([]float64, len(m.wishes)), hold: make([]float64, len(form)), guard: make([]float64, len(m.guards))}
	give := m.give(s)
	if give == 0 {
		return s.z, 0, nil
	}
	var before, after float64
	for _, stage := range [...]struct{ soft, fine float64 }{{softFirst, coarse}, {softNext, coarse}, {softest, settled}} {
		n, err := m.newton(ctx, s, form, stage.soft*give, stage.fine)
		steps += n
		if err != nil {
			return nil, steps, err
		}
		before, after = after, m.missed(s.z)
	}
	// What is missed shrinks with the softness if it can be met, and else stays.
	if after > Met && after > stays*before {
		m.restore(s, form)
		return s.z, steps, nil
	}
	hard := s.copy()
	for _, soft := range [...]float64{softHard, softPolish} {
		n, err := m.newton(ctx, hard, form, soft*give, settled)
		steps += n
		if ctx.Err() != nil {
			return nil, steps, err
		}
		if err != nil || !(m.worst(hard.z) <= Met) || !(m.broken(hard.z, form) <= straightness) {
			break
		}
		s = hard.copy()
	}
	m.restore(s, form)
	return s.z, steps, nil
}

// stays is the share of what was missed that, left over by wishes ten times as hard,
// shows that they cannot be met.
const stays = 0.3

func (m *model) worst(z [][]float64) float64 {
	worst := 0.0
	for _, w := range m.wishes {
		worst = math.Max(worst, math.Abs(w.value(z)))
	}
	return worst
}

// give returns how softly the shapes follow the wishes: the mean of the lengths in mm that
// a unit of pull yields. It is 0 if none can be followed at all.
func (m *model) give(s *state) float64 {
	rows := m.rows(s, nil, nil, 0)
	sys, err := m.newSystem(s, rows, false)
	if err != nil {
		return 0
	}
	sum, n := 0.0, 0.0
	for i := range rows {
		if w := sys.compliance(&rows[i]); w > 0 {
			sum += w
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return sum / n
}
