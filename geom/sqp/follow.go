package sqp

import (
	"cmp"
	"context"
	"fmt"
)

// The softness of the wishes, as a share of how softly the unknowns follow them: what is
// missed for the sake of little change is about that share of what was missed at first.
const (
	softFirst, softNext = 1e-2, 1e-4
	// softHard and softPolish are those of wishes that seem possible, and are.
	softHard, softPolish = 1e-8, 1e-13
)

// Softest is the softness of a compromise, as such a share. Where wishes contradict one
// another, harder ones would spoil an outline altogether for the last thousandth of a
// millimetre: a handle pulled to nothing, a curve to a line.
const Softest = 1e-5

// Bounds say when a solution is good.
type Bounds struct {
	// Met is the distance in mm within which a wish counts as met.
	Met float64
	// Form is the distance in mm by which the rules of the form may be broken on the way
	// to wishes that are met.
	Form float64
	// Fine is the share of the size that the last step moves at most; 0 stands for 1e-11.
	Fine float64
}

// Follow returns the unknowns of least change with the given rules of the form, which are
// hard, and the number of Newton steps. The wishes harden until they are met; where they
// cannot be, that stops at a hundred-thousandth of what was missed. From a Start where not
// all were met it does not try to harden them further.
func (m *Program) Follow(ctx context.Context, form []Rule, b Bounds) (z [][]float64, steps int, err error) {
	s := &state{z: m.Zeros(), wish: make([]float64, len(m.Wishes)), hold: make([]float64, len(form)), guard: make([]float64, len(m.Guards))}
	m.steps = 0
	fine := cmp.Or(b.Fine, settled)
	give := m.Give
	if give == 0 {
		give = m.MeanGive()
	}
	if give == 0 {
		if m.Start == nil && m.broken(s.z, form) <= keptForm*m.Size {
			return s.z, 0, nil
		}
		give = 1 // of no wish; the form alone is to be mended
	}
	var before, after float64
	stages := []struct{ soft, fine float64 }{{softFirst, coarse}, {softNext, coarse}, {Softest, fine}}
	if m.Start != nil {
		s.z, stages = copyOf(m.Start.Z), stages[2:]
		if m.Start.Met {
			stages = nil
		}
	}
	for _, stage := range stages {
		n, err := m.newton(ctx, s, form, stage.soft*give, stage.fine)
		steps += n
		if err != nil {
			return nil, steps, err
		}
		before, after = after, m.Missed(s.z)
	}
	// What is missed shrinks with the softness if it can be met, and else stays.
	if after > b.Met && after > stays*before {
		m.restore(s, form)
		return s.z, steps, nil
	}
	hard := s.copy()
	for _, soft := range [...]float64{softHard, softPolish} {
		n, err := m.newton(ctx, hard, form, soft*give, fine)
		steps += n
		if ended := ctx.Err(); ended != nil {
			return nil, steps, fmt.Errorf("sqp: %w", ended)
		}
		if err != nil || !(m.Worst(hard.z) <= b.Met) || !(m.broken(hard.z, form) <= b.Form) {
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

// MeanGive returns how softly the unknowns follow the wishes: the mean of the lengths in mm
// that a unit of pull yields. It is 0 if none can be followed at all.
func (m *Program) MeanGive() float64 {
	s := &state{z: m.Zeros(), wish: make([]float64, len(m.Wishes))}
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
