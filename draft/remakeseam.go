package draft

import "slices"

// seams brings the seams of the block up to date: those that the maker has not
// changed are as the block makes them now, those that the maker has taken apart stay
// apart, and of the others the maker's part stays.
func (r *remaking) seams() {
	p := r.out.Project
	next := r.madeSeams()
	list := slices.Clone(p.Seams)
	for i, s := range list {
		was := r.d.seam(s.ID)
		if was == nil {
			continue
		}
		list[i] = r.seam(was, s, seamNamed(next, s.ID))
	}
	list = slices.DeleteFunc(list, func(s *Seam) bool { return s == nil })
	for i := range next {
		if r.d.seam(next[i].ID) != nil || p.Seam(next[i].ID) != nil || r.again.holdsUp(&next[i]) {
			continue
		}
		if s, ok := r.laidNow(&next[i]); ok {
			list = append(list, s)
		}
	}
	p.Seams = list
}

// madeSeams returns the seams as they are generated now.
func (r *remaking) madeSeams() []Seam {
	if r.again != nil {
		return slices.Clone(r.again.seams)
	}
	return seamsOf(r.dr, r.d.ID, r.stems)
}

func seamNamed(list []Seam, id ID) *Seam {
	for i := range list {
		if list[i].ID == id {
			return &list[i]
		}
	}
	return nil
}

// seam returns what becomes of a seam that the block made, nil for nothing.
func (r *remaking) seam(was, mine, next *Seam) *Seam {
	before, ok := laid(was, r.fromBase)
	if !ok || r.again.holdsUp(was) || r.again.holdsUp(next) {
		r.stale[mine.ID] = true
		return mine // it cannot be told what the maker did, and so it stays
	}
	if next == nil {
		if equalSeams(before, mine) {
			return nil
		}
		return mine
	}
	now, ok := r.laidNow(next)
	if !ok {
		r.stale[mine.ID] = true
		return mine
	}
	out := *now
	out.Name = merged(mine.Name, before.Name, now.Name)
	out.BothSides = merged(mine.BothSides, before.BothSides, now.BothSides)
	out.Opens = merged(mine.Opens, before.Opens, now.Opens)
	out.Lap = merged(mine.Lap, before.Lap, now.Lap)
	out.Marks = mine.Marks // a block makes none
	if !sameRun(mine.A, before.A) {
		out.A = mine.A
	}
	if !sameRun(mine.B, before.B) {
		out.B = mine.B
	}
	if mine.fullnessOf() != before.fullnessOf() {
		out.Ratio, out.Fuller, out.Fullness, out.From, out.To = mine.Ratio, mine.Fuller, mine.Fullness, mine.From, mine.To
	}
	if equalSeams(&out, mine) {
		return mine
	}
	return &out
}

// seamFullness is how one side of a seam is brought to the length of the other.
type seamFullness struct {
	ratio    float64
	fuller   Side
	fullness Fullness
	from, to float64
}

func (s *Seam) fullnessOf() seamFullness {
	return seamFullness{s.Ratio, s.Fuller, s.Fullness, s.From, s.To}
}

func equalSeams(a, b *Seam) bool {
	return a.Name == b.Name && a.BothSides == b.BothSides && a.Opens == b.Opens && a.Lap == b.Lap && slices.Equal(a.Marks, b.Marks) && a.fullnessOf() == b.fullnessOf() && sameRun(a.A, b.A) && sameRun(a.B, b.B)
}

// laid returns a generated seam on the edges that the maker has made of the block's,
// or false where a run has no place there.
func laid(s *Seam, lin Lineage) (*Seam, bool) {
	out := *s
	var errA, errB error
	out.A, errA = followRun(s.A, lin)
	out.B, errB = followRun(s.B, lin)
	return &out, errA == nil && errB == nil && len(out.A) > 0 && len(out.B) > 0
}

// laidNow is laid for a seam as it is generated now; all that it sews is there.
func (r *remaking) laidNow(s *Seam) (*Seam, bool) {
	out, ok := laid(s, r.fromNext)
	if !ok {
		return nil, false
	}
	for _, u := range slices.Concat(out.A, out.B) {
		if r.out.Project.useExists(u) != nil {
			return nil, false
		}
	}
	return out, true
}
