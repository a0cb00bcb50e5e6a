package draft

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// fitClash is a set of targets that cannot all be had: they pull against each other through
// the pieces on which they lie and the seams between those.
type fitClash struct {
	// against are those that pull, the hardest first: with one of them set free the others
	// come nearer. One that counts much can be met and pull all the same.
	against []missedTarget
	// along are those that are missed and hardly pull: they are only dragged along.
	along []missedTarget
}

// pullShare is the share of the hardest pull of a clash below which a target has little part
// in it. A target pulls by what it misses times what it counts: that is its multiplier in the
// compromise.
const pullShare = 0.1

// pull is how hard a target that is missed pulls, in mm.
func (m missedTarget) pull() float64 { return m.Weight * math.Abs(m.off) }

// clashes returns what cannot be had together, the clash that pulls hardest first. Targets
// of pieces that no seam joins, over whichever others, have nothing to do with each other.
func (f *fitMade) clashes(targets []FitTarget) []fitClash {
	if f.result == nil {
		return nil
	}
	sewn := f.task.source.sewnTogether()
	joined := make(map[ID][]missedTarget)
	var order []ID
	for i, k := range f.spanGoal {
		m := missedTarget{&targets[k], f.result.SpanOff[i]}
		key := sewn[m.Piece.ID]
		if joined[key] == nil {
			order = append(order, key)
		}
		joined[key] = append(joined[key], m)
	}
	var out []fitClash
	for _, key := range order {
		if c, ok := newClash(joined[key]); ok {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b fitClash) int { return cmp.Compare(b.against[0].pull(), a.against[0].pull()) })
	return out
}

// newClash sorts the targets of what is sewn together, and returns false where all are met.
func newClash(list []missedTarget) (fitClash, bool) {
	if !slices.ContainsFunc(list, missedTarget.isMissed) {
		return fitClash{}, false
	}
	slices.SortStableFunc(list, func(a, b missedTarget) int { return cmp.Compare(b.pull(), a.pull()) })
	n := slices.IndexFunc(list, func(m missedTarget) bool { return m.pull() < pullShare*list[0].pull() })
	if n < 0 {
		n = len(list)
	}
	c := fitClash{against: list[:n]}
	for _, m := range list[n:] {
		if m.isMissed() {
			c.along = append(c.along, m)
		}
	}
	return c, true
}

func (m missedTarget) isMissed() bool { return math.Abs(m.off) > TargetReached }

// sewnTogether returns for each piece one that stands for all that seams join to it, over
// whichever others.
func (s *Source) sewnTogether() map[ID]ID {
	of := make(map[ID]ID, len(s.Pieces))
	for _, piece := range s.Pieces {
		of[piece.ID] = piece.ID
	}
	for _, seam := range s.Seams {
		uses := slices.Concat(seam.A, seam.B)
		for _, u := range uses {
			from, to := of[u.Piece], of[uses[0].Piece]
			for id, stands := range of {
				if stands == from {
					of[id] = to
				}
			}
		}
	}
	return of
}

// Contradiction is a set of targets of a fit that cannot all be had.
type Contradiction struct {
	// Says tells in plain sentences which could not be reached, and together with which.
	Says string
	// Ways are the ways out of it: one for each of the few targets that pull hardest.
	Ways []ClashWay
}

// ClashWay is what can be said of one stretch so that a contradiction goes, or hurts others.
type ClashWay struct {
	// Stretch names the piece and the stretch.
	Stretch string
	// Weigh has it count more, nil where that would bring it no nearer.
	Weigh *Mend
	// Free wants no length of it any more.
	Free Mend
}

// ways returns the ways out of the clash, those of what pulls hardest first.
func (c fitClash) ways() []ClashWay {
	var out []ClashWay
	for _, m := range c.against[:min(len(c.against), mostToldMissed)] {
		w := ClashWay{Stretch: m.label(), Free: m.freed()}
		if alone := len(c.against) == 1 && len(c.along) == 0; m.isMissed() && !alone {
			w.Weigh = m.weighed()
		}
		out = append(out, w)
	}
	return out
}

// says tells the clash in words, the hardest pull first.
func (c fitClash) says(unit Unit) string {
	var missed, met []string
	for _, m := range c.against {
		if m.isMissed() {
			missed = append(missed, fmt.Sprintf("%s: %s instead of %s", m.label(), unit.Format(m.Wants+m.off), unit.Format(m.Wants)))
		} else {
			met = append(met, m.label())
		}
	}
	if len(c.against) == 1 && len(c.along) == 0 {
		return missed[0] + ". Seams, folds and straight edges let it come no nearer: set it free, or give it another length."
	}
	text := list(missed, mostToldMissed) + "."
	switch {
	case len(missed) == 0: // what counts much is met at the cost of what counts little
		are := "is"
		if len(met) > 1 {
			are = "are"
		}
		text = fmt.Sprintf("%s %s met at the cost of others.", list(met, mostToldMissed), are)
	case len(met) > 0:
		text += fmt.Sprintf(" They cannot be had together with %s.", list(met, mostToldMissed))
	case len(missed) > 1:
		text += " They cannot all be had."
	}
	text += " Give one more weight, or set one free."
	switch n := len(c.along); n {
	case 0:
	case 1:
		text += " By that one more target is off as well."
	default:
		text += fmt.Sprintf(" By that %d more targets are off as well.", n)
	}
	return text
}

// contradicts says which targets the fit could not reach, and which stand against each other:
// one contradiction for each set of them.
func (f *fitMade) contradicts(unit Unit, targets []FitTarget) []Contradiction {
	var out []Contradiction
	for _, c := range f.clashes(targets) {
		out = append(out, Contradiction{c.says(unit), c.ways()})
	}
	if f.result.Held {
		out = append(out, Contradiction{Says: "The pattern could follow only part of the way: further on an outline would have closed up or crossed itself."})
	}
	return out
}

// with returns the targets that stand against m, the hardest pull first: those of its clash
// that pull, without itself.
func (m missedTarget) with(clashes []fitClash) []missedTarget {
	for _, c := range clashes {
		if slices.ContainsFunc(c.against, m.same) {
			return slices.DeleteFunc(slices.Clone(c.against), m.same)
		}
		if slices.ContainsFunc(c.along, m.same) {
			return c.against
		}
	}
	return nil
}

func (m missedTarget) same(o missedTarget) bool { return m.FitTarget == o.FitTarget }
