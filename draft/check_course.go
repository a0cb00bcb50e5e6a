package draft

import (
	"fmt"
	"slices"
)

// checkCourses finds sides of seams that leap from one copy of a piece to another where
// the outlines do not meet: the armhole of a front that goes on in the back of the other
// side of the body. And it finds seams of which one piece would lie wrong side out.
func (s *Slots) checkCourses(p *Project) []Finding {
	if len(p.Seams) == 0 {
		return nil
	}
	var out []Finding
	var c *courses
	for _, seam := range p.Seams {
		for _, side := range []Side{SideA, SideB} {
			run := seam.run(side)
			if len(run) < 2 {
				continue
			}
			if c == nil {
				c = s.courses(p)
			}
			right, at, ok := c.leap(run)
			if !ok {
				// From the other end, where the edges are run the other way.
				right, at, ok = c.leap(run.reversed())
				right, at = right.reversed(), len(run)-at
			}
			if ok {
				f := Finding{
					Key: "seam/" + string(seam.ID) + "/leap " + side.String(), Level: LookAgain, About: "seam " + seam.label(),
					Seam: seam.ID, Piece: run[at].Piece, Edge: run[at].Edge,
					Says: p.leapSays(run, right, at),
				}
				if p.checkRuns(seam.with(side, right)) == nil {
					title := "Sew " + p.useWords(changed(run, right)) + " there"
					if run[at].turned() == right[at] {
						title = "Run it the right way round"
					}
					f.mend(title, "edit-seam", "seam", idText(seam.ID), side.String(), p.RunText(right))
				}
				out = append(out, f)
			}
		}
	}
	return out
}

// leapSays says where a run leaps, by the one that is right.
func (p *Project) leapSays(run, right Run, at int) string {
	if was, is := run[at], right[at]; was == is.turned() {
		return fmt.Sprintf("Its side along the %s runs along %s the wrong way round: what follows %s begins at the other end, so that its places and notches would be matched back to front.",
			p.runLabel(run), p.useWords(was), p.useWords(run[at-1]))
	}
	return fmt.Sprintf("Its side along the %s goes from %s to %s, but what follows there by the other seams is %s. One of the copies is taken for the other.",
		p.runLabel(run), p.useWords(run[at-1]), p.useWords(run[at]), p.useWords(changed(run, right)))
}

// with returns a copy of the seam with another side.
func (s *Seam) with(side Side, run Run) *Seam {
	other := *s
	if side == SideA {
		other.A = run
	} else {
		other.B = run
	}
	return &other
}

// changed returns the first use of a run that is another in the one put right.
func changed(run, right Run) EdgeUse {
	for i := range run {
		if run[i] != right[i] {
			return right[i]
		}
	}
	return right[0]
}

// courses keeps how the outlines follow each other over the seams of a project.
func (s *Slots) courses(p *Project) *courses {
	return slotOf(s, "courses", "", slotInputs{p}, func() *courses {
		return newCourses(&suggester{slots: s, p: p, look: s.lookupIn(p), taken: map[edgeKey]bool{}})
	})
}

// leap returns the run as it follows the outlines and the index of the first use of it
// that does not; false where it follows them or nothing tells.
func (c *courses) leap(run Run) (right Run, at int, leaps bool) {
	right = slices.Clone(run)
	for i := 1; i < len(run); i++ {
		next, ok := c.onward(right[i-1])
		v := right[i]
		if !ok || next == v || next.Piece != v.Piece || next.Edge != v.Edge || next.Copy.Number != v.Copy.Number {
			continue
		}
		right[i] = next
		if !leaps {
			at, leaps = i, true
		}
	}
	return right, at, leaps
}

// onward returns the edge that goes on from the end of a use that is run counter-clockwise,
// over the fold or the seam that ends there; false where that does not tell.
func (c *courses) onward(u EdgeUse) (EdgeUse, bool) {
	v, ok := c.next[u]
	if !ok {
		return EdgeUse{}, false
	}
	if v.Piece == u.Piece && v.Edge == u.Edge {
		return v, true
	}
	place, sewn := c.sewn[v]
	if !sewn {
		return EdgeUse{}, false
	}
	f, ok := place.beyond(v)
	if !ok {
		return EdgeUse{}, false
	}
	next, ok := c.next[f]
	return next, ok
}

// useWords names an edge use as a person would: "the armhole of the left Back".
func (p *Project) useWords(u EdgeUse) string {
	piece := p.Piece(u.Piece)
	if piece == nil {
		return "what is gone"
	}
	which := ""
	switch piece.Cut.Way {
	case CutPairs:
		which = "right "
		if u.Copy.Mirrored {
			which = "left "
		}
	case CutOnFold:
		which = u.Half.String() + " half of "
	}
	return fmt.Sprintf("the %s of the %s%s", p.edgeName(u), which, piece.label())
}
