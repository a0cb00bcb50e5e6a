package draft

import (
	"fmt"
	"math"

	"hemlet/geom/adjust"
)

// givingSides returns the sides that change: those that are asked for and can. Of a side
// with several pieces some can be enough. A piece that follows one on the other side is
// left to follow.
func (p *Project) givingSides(s *Seam, gives Giving) ([]Side, error) {
	var sides []Side
	var first error
	for _, side := range []Side{SideA, SideB} {
		if !gives.gives(side) {
			continue
		}
		can := false
		for _, u := range s.run(side) {
			err := mayGive(p.Piece(u.Piece))
			can = can || err == nil
			if err != nil && first == nil {
				first = err
			}
		}
		if can {
			sides = append(sides, side)
		}
	}
	if len(sides) == 0 {
		return nil, first
	}
	if len(sides) == 2 && p.followsOne(s.B, s.A) {
		return sides[1:], nil
	}
	if len(sides) == 2 && p.followsOne(s.A, s.B) {
		return sides[:1], nil
	}
	return sides, nil
}

// followsOne reports whether a piece of a run is made of a piece of another: changed
// with it, it would change twice.
func (p *Project) followsOne(run, of Run) bool {
	for _, u := range run {
		for _, v := range of {
			if u.Piece != v.Piece && p.follows(u.Piece, v.Piece) {
				return true
			}
		}
	}
	return false
}

// follows reports whether a piece is made of another one, or of one that is.
func (p *Project) follows(piece, of ID) bool {
	seen := make(map[ID]bool)
	for q := p.Piece(piece); q != nil && !seen[q.ID]; q = p.ParentOf(q) {
		seen[q.ID] = true
		if q.ID == of {
			return q.ID != piece
		}
	}
	return false
}

// found is a change that was found.
type found struct {
	next   *Project
	wishes []lengthWish
}

// firstMatch finds the first change that meets every wish, else the one that misses
// least. What it returns has no project where none can make a difference.
func (p *Project) firstMatch(tries []func() *matching) (found, error) {
	var best found
	least := math.Inf(1)
	var why error
	for _, try := range tries {
		m := try()
		if m == nil {
			continue
		}
		r, err := m.solve()
		if err != nil {
			return found{}, err
		}
		next, err := m.applied(r)
		if err != nil {
			why = err
			continue
		}
		if miss := m.missed(r); miss < least-missSlack {
			best, least = found{next, m.wishes}, miss
		}
		if r.Feasible {
			break
		}
	}
	if best.next == nil {
		return found{}, why
	}
	return best, nil
}

// matchOne does the change of firstMatch for one seam.
func (p *Project) matchOne(s *Seam, tries []func() *matching, out *Outcome) error {
	f, err := p.firstMatch(tries)
	if err != nil {
		return err
	}
	was := math.Abs(p.seamDiff(s))
	if f.next == nil || math.Abs(f.next.seamDiff(s)) > was-MatchedTo {
		return fmt.Errorf("with what has to stay, no change brings the sides nearer than the %s that they are apart", p.Unit.FormatSmall(was))
	}
	out.Project = f.next
	if off := math.Abs(f.next.seamDiff(s)); off > MatchedTo {
		out.say("Seam %s is still off by %s: with what has to stay, it comes no nearer.", s.label(), p.Unit.FormatSmall(off))
	}
	p.sayKept(f, out)
	return nil
}

// missSlack is by how much less, in mm, a looser change must miss to be taken instead of
// one that leaves more in its place.
const missSlack = 1e-3

// missed returns the root of the weighted sum of squares by which the wishes are missed,
// in mm.
func (m *matching) missed(r adjust.Result) float64 {
	sum := 0.0
	for i, off := range r.Off {
		sum += m.wishes[i].wish.Weight * off * off
	}
	return math.Sqrt(sum)
}

// sayKept tells of every seam that could not stay quite as it is, and by how much.
func (p *Project) sayKept(f found, out *Outcome) {
	told := make(map[ID]bool)
	for _, w := range f.wishes {
		if w.run == nil || told[w.seam.ID] {
			continue
		}
		s := f.next.Seam(w.seam.ID)
		if by := math.Abs(f.next.seamDiff(s) - p.seamDiff(s)); by > MatchedTo {
			told[s.ID] = true
			out.say("Seam %s cannot stay quite as it is: its sides change by %s to each other.", s.label(), p.Unit.FormatSmall(by))
		}
	}
}
