package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

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
	for _, side := range []Side{SideA, SideB} {
		if !p.followsOne(s.run(side.other()), s.run(side)) {
			continue
		}
		// What is changed on this side, the other one takes over.
		if sides = slices.DeleteFunc(sides, func(x Side) bool { return x == side }); len(sides) == 0 {
			return nil, fmt.Errorf("the %s follows this side and would change with it; let that side give", p.runLabel(s.run(side.other())))
		}
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

// firstMatch finds the first change that meets every wish, else the one that misses
// least. It returns nil where none can make a difference.
func (p *Project) firstMatch(tries []func() *matching) (*Project, error) {
	var best *Project
	least := math.Inf(1)
	var why error
	for _, try := range tries {
		m := try()
		if m == nil {
			continue
		}
		if err := m.tooLarge(); err != nil {
			why = err
			continue
		}
		r, err := m.solve()
		if err != nil {
			return nil, err
		}
		next, err := m.applied(r)
		if err != nil {
			why = err
			continue
		}
		if miss := m.missed(r); miss < least-missSlack {
			best, least = next, miss
		}
		if r.Feasible {
			break
		}
	}
	if best == nil {
		return nil, why
	}
	return best, nil
}

// matchOne does the change of firstMatch for one seam.
func (p *Project) matchOne(s *Seam, tries []func() *matching, out *Outcome) error {
	next, err := p.firstMatch(tries)
	if err != nil {
		return err
	}
	was := math.Abs(p.seamDiff(s))
	if next == nil || math.Abs(next.seamDiff(s)) > was-MatchedTo {
		return fmt.Errorf("with what has to stay, no change brings the sides nearer than the %s that they are apart", p.Unit.FormatSmall(was))
	}
	out.Project = next
	if off := math.Abs(next.seamDiff(s)); off > MatchedTo {
		out.say("Seam %s is still off by %s: with what has to stay, it comes no nearer.", s.label(), p.Unit.FormatSmall(off))
	}
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
		sum += m.wishes[i].Weight * off * off
	}
	return math.Sqrt(sum)
}

// sayOthers tells of every seam but those that are mended that matches with them, or could
// not stay as it was, and by how much.
func (p *Project) sayOthers(mended []*Seam, out *Outcome) {
	for _, was := range p.Seams {
		s := out.Project.Seam(was.ID)
		if s == nil || hasSeam(mended, s) {
			continue
		}
		if math.Abs(out.Project.seamDiff(s)) <= MatchedTo && math.Abs(p.seamDiff(was)) > MatchedTo {
			out.say("Seam %s matches with that.", s.label())
			continue
		}
		if by := math.Abs(out.Project.seamDiff(s) - p.seamDiff(was)); by > MatchedTo {
			out.say("Seam %s cannot stay quite as it is: its sides change by %s to each other.", s.label(), p.Unit.FormatSmall(by))
		}
	}
}

// withFellows returns seams with those that are of the same edges and off as well, as the
// left and the right side of a bag whose panels are drawn once: what changes the one
// changes the other.
func (p *Project) withFellows(targets []*Seam) []*Seam {
	list, edges := slices.Clone(targets), edgesOf(targets)
	for _, s := range p.Seams {
		if !hasSeam(list, s) && sewsOne(s, edges) && math.Abs(p.seamDiff(s)) > MatchedTo && !p.ownEdges(s) {
			list = append(list, s)
		}
	}
	return list
}

// ownEdges reports whether both sides of a seam are the same edges as they are drawn, which
// are as long as each other whatever becomes of them.
func (p *Project) ownEdges(s *Seam) bool {
	times := make(map[EdgeRef]int)
	for _, u := range s.A {
		times[EdgeRef{u.Piece, u.Edge}]++
	}
	for _, u := range s.B {
		times[EdgeRef{u.Piece, u.Edge}]--
	}
	for _, n := range times {
		if n != 0 {
			return false
		}
	}
	return true
}

// errOwnEdges says that a seam cannot be matched by changing an outline.
var errOwnEdges = errors.New("both its sides are the same edges, drawn once, and are as long as each other whatever becomes of them; change how full it is meant to be")
