package sqp

import (
	"context"
	"fmt"
	"math"
)

const (
	// settled and coarse are the share of the size that the last step moves at most.
	settled, coarse = 1e-11, 1e-4
	// mostSteps and mostCoarse bound the steps of a stage, which takes four to ten; a
	// coarse one is only on the way.
	mostSteps, mostCoarse = 60, 20
	// farthestStep is the share of the size that one step moves at most.
	farthestStep = 0.15
	// mostHalvings bounds how far a step is shortened that does not lead downhill.
	mostHalvings = 8
	// mostSets bounds the sets of guards that are tried in one step.
	mostSets = 12
)

// newton goes on from s until the steps are as fine as asked for.
func (m *Program) newton(ctx context.Context, s *state, form []Rule, soft, fine float64) (steps int, err error) {
	active := map[int]bool{}
	for i, k := range s.guard {
		if k < 0 {
			active[i] = true
		}
	}
	last, most, every := math.Inf(1), mostSteps, finishEvery
	if m.Start != nil {
		every = finishNear
	}
	if fine >= coarse {
		most = mostCoarse
	}
	for steps = 1; steps <= most; steps++ {
		if err := ctx.Err(); err != nil {
			return steps, fmt.Errorf("sqp: %w", err)
		}
		if steps%every == 0 {
			if n := m.finish(s, form, active, soft, fine); n > 0 {
				return steps + n, nil
			}
		}
		p, rows, multipliers, err := m.stepWith(s, form, active, soft)
		if err != nil {
			return steps, err
		}
		far := m.Reach(p)
		share := math.Min(1, farthestStep*m.Size/math.Max(far, tiny))
		share = m.downhill(s, p, rows, multipliers, form, soft, share)
		m.take(s, p, rows, multipliers, share)
		if m.steps++; m.Stepped != nil {
			m.Stepped(m.steps)
		}
		if far*share <= fine*m.Size || far <= noise*m.Size && far >= last {
			return steps, nil
		}
		last = far
	}
	return steps, nil
}

const (
	// finishEvery is the number of steps after which it is tried to finish at once,
	// finishNear that from a place near a solution, where the first two come within a
	// thousandth of the size, and mostFinish the number of steps that may take.
	finishEvery, finishNear, mostFinish = 8, 3, 8
	// finishFrom is the share of the size that the first of those steps moves at most:
	// from farther off it may lead anywhere.
	finishFrom = 0.02
)

// finish takes exact Newton steps with the guards as they are. Near the solution their
// number of right digits doubles with each, where the careful steps of newton gain the same
// few again and again if much is missed. It returns the number of steps, or 0 and leaves s
// as it is if they do not grow finer fast, or lead to where the guards do not fit.
func (m *Program) finish(s *state, form []Rule, active map[int]bool, soft, fine float64) int {
	at := s.copy()
	last := finishFrom * m.Size
	for n := 1; n <= mostFinish; n++ {
		rows := m.rows(at, form, active, soft)
		sys, err := m.newSystem(at, rows, true)
		if err != nil {
			return 0
		}
		p, multipliers, err := sys.step(rows)
		if err != nil {
			return 0
		}
		far := m.Reach(p)
		settled := far <= fine*m.Size || far <= noise*m.Size && far >= last/2
		if !settled && !(far < last) {
			return 0
		}
		m.take(at, p, rows, multipliers, 1)
		if last = far / 2; !settled {
			continue
		}
		for i := range rows {
			if rows[i].guard >= 0 && multipliers[i] > 0 {
				return 0
			}
		}
		if m.awake(at, m.Zeros(), active) || m.merit(at.z, form, soft, 0) > m.merit(s.z, form, soft, 0) && m.broken(at.z, form) >= m.broken(s.z, form) {
			return 0
		}
		*s = *at
		return n
	}
	return 0
}

// restore puts right what steps that ended early left of the form: the least change after
// which its rules hold and the guards are kept.
func (m *Program) restore(s *state, form []Rule) {
	for range mostFinish {
		if m.broken(s.z, form) <= keptForm*m.Size {
			return
		}
		active, x := map[int]bool{}, m.At(s.z)
		for i, g := range m.Guards {
			if g.Value(x) < 0 {
				active[i] = true
			}
		}
		still := &state{z: s.z, wish: make([]float64, len(s.wish)), hold: make([]float64, len(s.hold)), guard: make([]float64, len(s.guard))}
		rows := m.rows(still, form, active, 0)[len(m.Wishes):]
		sys, err := m.newSystem(still, rows, false)
		if err != nil {
			return
		}
		for i := range sys.pull {
			clear(sys.pull[i]) // the change is counted from here
		}
		p, _, err := sys.step(rows)
		if err != nil || m.Reach(p) > farthestStep*m.Size {
			return
		}
		for i := range p {
			for j, v := range p[i] {
				s.z[i][j] += v
			}
		}
	}
}

// keptForm is the share of the size within which the form is kept.
const keptForm = 1e-10

// broken returns by how much in mm the rules of the form and the guards are broken at most.
func (m *Program) broken(z [][]float64, form []Rule) float64 {
	worst, x := 0.0, m.At(z)
	for _, r := range form {
		worst = math.Max(worst, math.Abs(r.Value(x)))
	}
	for _, g := range m.Guards {
		worst = math.Max(worst, -g.Value(x))
	}
	return worst
}

// noise is the share of the size below which steps that grow no finer are rounding.
const noise = 1e-8

// rows returns the rules that take part in a step: the wishes, those of the form, and the
// guards that are active.
func (m *Program) rows(s *state, form []Rule, active map[int]bool, soft float64) []row {
	rows := make([]row, 0, len(m.Wishes)+len(form)+len(active))
	x := m.At(s.z)
	add := func(r Rule, k *float64, soft float64, guard int) {
		w := row{Rule: r, multiplier: k, soft: soft, miss: r.Value(x), guard: guard}
		r.Slope(x, &w.g)
		m.pulled(&w.g)
		rows = append(rows, w)
	}
	for i, w := range m.Wishes {
		add(w.Rule, &s.wish[i], soft/w.Weight, -1)
	}
	for i, r := range form {
		add(r, &s.hold[i], 0, -1)
	}
	for i, r := range m.Guards {
		if active[i] {
			add(r, &s.guard[i], 0, i)
		}
	}
	return rows
}

// stepWith returns the step from s with the guards that it needs: those that it would
// otherwise break are added, and those that hold it back from going inward dropped.
func (m *Program) stepWith(s *state, form []Rule, active map[int]bool, soft float64) (p [][]float64, rows []row, multipliers []float64, err error) {
	rows = m.rows(s, form, active, soft)
	sys, err := m.newSystem(s, rows, false)
	if err != nil {
		return nil, nil, nil, err
	}
	for set := 1; ; set++ {
		if p, multipliers, err = sys.step(rows); err != nil {
			return nil, nil, nil, err
		}
		changed := false
		for i := range rows {
			if g := rows[i].guard; g >= 0 && multipliers[i] > 0 {
				delete(active, g)
				s.guard[g] = 0
				changed = true
			}
		}
		changed = m.awake(s, p, active) || changed
		if !changed || set == mostSets {
			return p, rows, multipliers, nil
		}
		rows = m.rows(s, form, active, soft)
	}
}

// awake makes those guards active that the step would break.
func (m *Program) awake(s *state, p [][]float64, active map[int]bool) bool {
	there := m.Zeros()
	for i := range there {
		for j := range there[i] {
			there[i][j] = s.z[i][j] + p[i][j]
		}
	}
	some, x := false, m.At(there)
	for i, g := range m.Guards {
		if !active[i] && g.Value(x) < -guardNoise*m.Size {
			active[i] = true
			some = true
		}
	}
	return some
}

// guardNoise is the share of the size by which a guard is broken by rounding.
const guardNoise = 1e-12

// take goes a share of the step.
func (m *Program) take(s *state, p [][]float64, rows []row, multipliers []float64, share float64) {
	for i := range p {
		for j, v := range p[i] {
			s.z[i][j] += share * v
		}
	}
	for i := range s.guard {
		s.guard[i] *= 1 - share
	}
	for i := range rows {
		k := rows[i].multiplier
		if rows[i].guard >= 0 {
			*k = share * multipliers[i]
			continue
		}
		*k += share * (multipliers[i] - *k)
	}
}

// downhill returns the share of the step, at most the one given, after which the whole is
// better than before: less change, less missed, the rules less broken (an exact penalty).
func (m *Program) downhill(s *state, p [][]float64, rows []row, multipliers []float64, form []Rule, soft, share float64) float64 {
	price := 0.0
	for i := range rows {
		if rows[i].soft == 0 {
			price = math.Max(price, math.Abs(multipliers[i]))
		}
	}
	price *= 2
	// A step so small that the merit is mostly rounding is taken as it is.
	small := m.Reach(p) < fineStep*m.Size
	now := m.merit(s.z, form, soft, price)
	there := m.Zeros()
	for range mostHalvings {
		for i := range there {
			for j := range there[i] {
				there[i][j] = s.z[i][j] + share*p[i][j]
			}
		}
		if next := m.merit(there, form, soft, price); next <= now || small {
			return share
		}
		share /= 2
	}
	return share
}

// fineStep is the share of the size below which Newton's method is let run.
const fineStep = 1e-5

// merit returns what the steps make less.
func (m *Program) merit(z [][]float64, form []Rule, soft, price float64) float64 {
	sum, x := m.change(z), m.At(z)
	for _, w := range m.Wishes {
		v := w.Value(x)
		sum += w.Weight * v * v / (2 * soft)
	}
	for _, r := range form {
		sum += price * math.Abs(r.Value(x))
	}
	for _, g := range m.Guards {
		sum += price * math.Max(0, -g.Value(x))
	}
	return sum
}

func (s *state) copy() *state {
	c := &state{wish: append([]float64(nil), s.wish...), hold: append([]float64(nil), s.hold...), guard: append([]float64(nil), s.guard...)}
	c.z = copyOf(s.z)
	return c
}

func copyOf(z [][]float64) [][]float64 {
	c := make([][]float64, len(z))
	for i := range z {
		c[i] = append([]float64(nil), z[i]...)
	}
	return c
}
