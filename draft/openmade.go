package draft

import "slices"

// openMade has the facings and linings of the pieces of a seam open where that does now:
// sewn shut behind an opening they would keep it shut. What is made of the pieces has to
// follow them first.
func (o *Outcome) openMade(before *Project, opened ID, a OpenSeamArgs) (Outcome, error) {
	if s := o.Project.Seam(opened); !o.Project.anyMadeOf(s) {
		return *o, nil
	}
	mid, err := commit(before, *o)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Project: mid.Project, followed: o.Lineage, Made: o.Made, Says: mid.Says, subject: o.subject, unit: o.unit}
	s := out.Project.Seam(opened)
	for _, role := range [...]string{roleFacing, roleLining} {
		fellows := out.Project.fellowsOf(role)
		run := [2]Run{out.Project.fellowsFrom(s.A, fellows, a.From), out.Project.fellowsFrom(s.B, fellows, a.From)}
		if err := out.openBehind(run, a); err != nil {
			return Outcome{}, err
		}
	}
	return out, nil
}

// anyMadeOf reports whether a piece is made of one that the seam sews.
func (p *Project) anyMadeOf(s *Seam) bool {
	return slices.ContainsFunc(p.Pieces, func(q *Piece) bool {
		parent := p.ParentOf(q)
		return parent != nil && s.sews(map[ID]bool{parent.ID: true})
	})
}

// fellowsFrom returns the run along the fellows of what a run goes along, from one of its
// ends on, as far as they reach: a facing is not as long as its piece.
func (p *Project) fellowsFrom(run Run, fellows map[ID]*Piece, from EdgeEnd) Run {
	for n := len(run); n > 0; n-- {
		if own, ok := p.fellowRun(run.atEnd(from, n), fellows); ok {
			return own
		}
	}
	return nil
}

// atEnd returns the first n uses of a run, or the last.
func (r Run) atEnd(end EdgeEnd, n int) Run {
	if end == EdgeStart {
		return r[:n]
	}
	return r[len(r)-n:]
}

// openBehind opens the seam that sews the two runs from one of its ends on, as far as they
// go.
func (o *Outcome) openBehind(runs [2]Run, a OpenSeamArgs) error {
	p := o.Project
	if len(runs[SideA]) == 0 || len(runs[SideB]) == 0 {
		return nil
	}
	begins := func(whole, part Run) bool {
		return len(part) <= len(whole) && sameRun(whole.atEnd(a.From, len(part)), part)
	}
	k := slices.IndexFunc(p.Seams, func(s *Seam) bool {
		return !s.Opens && begins(s.A, runs[SideA]) && begins(s.B, runs[SideB])
	})
	if k < 0 {
		return nil
	}
	s := p.Seams[k]
	if len(runs[SideA]) == len(s.A) && len(runs[SideB]) == len(s.B) {
		whole := *s
		whole.Opens, whole.Lap = true, toGrid(float64(a.Lap))
		o.Project = p.withSeam(&whole)
		o.say("Seam %s behind it opens as well.", s.label())
		return nil
	}
	var far [2]float64
	for side, run := range runs {
		if far[side] = p.runLength(run); a.From != EdgeStart {
			far[side] = p.runLength(s.run(Side(side))) - far[side]
		}
	}
	name, err := p.openName("", s)
	if err != nil {
		return err
	}
	ids := p.newIDs()
	next, _, parts, err := p.partSeam(s, a.From, far, ids)
	if err != nil {
		return err
	}
	parts[1].Name, parts[1].Lap = name, toGrid(float64(a.Lap))
	next.NextID = ids.next
	o.Project = next
	o.say("Seam %s behind it opens as well, as %s.", s.label(), name)
	return nil
}
