package draft

import (
	"errors"
	"fmt"
	"math"
)

// MatchSeamsArgs are the arguments of MatchSeams.
type MatchSeamsArgs struct {
	Seams  []SeamRef  `arg:"seams,optional" says:"the seams; without it, every seam that does not hold"`
	Points []NodeRef  `arg:"points,optional" says:"points that stay where they are"`
	Pieces []PieceRef `arg:"pieces,optional" says:"pieces that stay as they are"`
}

// MatchSeams matches many seams together by the least change of all outlines. Seams that
// are not named stay as far off, or not, as they are; folds stay on their line, straight
// edges stay straight and, where that can be, along the grain. What cannot all be had is
// missed by as little as can be, by the sum of squares, and told.
var MatchSeams = register(Info{
	Name: "match-seams", Title: "Match seams together", Group: groupSeams,
	Says: "Makes the sides of many seams match at once by the least change of all pieces; what cannot be had is told.",
}, matchSeams)

func matchSeams(p *Project, a MatchSeamsArgs) (Outcome, error) {
	targets, err := p.seamsToMatch(a.Seams)
	if err != nil {
		return Outcome{}, err
	}
	stay, err := p.staying(a)
	if err != nil {
		return Outcome{}, err
	}
	named := len(targets)
	targets = p.withFellows(targets)
	out := Outcome{unit: p.Unit}
	labels := make([]string, len(targets))
	for i, s := range targets {
		labels[i] = s.label()
	}
	out.subject = subjectOf(labels, "seams")
	// First what others are made of, then what is made of others, once that has followed.
	now, done := p, false
	var why error
	for _, followers := range []bool{false, true} {
		next, err := now.matchRound(targets, stay, followers)
		if err != nil {
			why = err
		}
		if next == nil {
			continue
		}
		done = true
		if !followers && next.anyFollows(targets) {
			mid, err := commit(now, Outcome{Project: next, unit: p.Unit})
			if err != nil {
				return Outcome{}, err
			}
			next, out.followed = mid.Project, mid.followed
			out.Says = append(out.Says, mid.Says...)
		}
		now = next
	}
	if !done {
		if why == nil {
			why = errors.New("with what has to stay, no change brings the sides of these seams nearer to each other")
		}
		return Outcome{}, why
	}
	out.Project = now
	for _, s := range targets {
		if s = now.Seam(s.ID); s == nil {
			continue
		}
		if off := math.Abs(now.seamDiff(s)); off > MatchedTo {
			out.say("Seam %s is still off by %s: with what has to stay, it comes no nearer.", s.label(), p.Unit.FormatSmall(off))
		}
	}
	p.sayOthers(targets[:named], &out)
	p.sayMoved(&out)
	return out, nil
}

// seamsToMatch returns the seams that are named, or all that do not hold.
func (p *Project) seamsToMatch(refs []SeamRef) ([]*Seam, error) {
	var list []*Seam
	if len(refs) == 0 {
		slots := NewSlots()
		for _, s := range p.Pattern().Seams {
			if st, err := slots.SeamState(p, s); err == nil && !st.Holds && !p.ownEdges(s) {
				list = append(list, s)
			}
		}
		if len(list) == 0 {
			return nil, errors.New("every seam holds")
		}
		return list, nil
	}
	seen := make(map[ID]bool)
	for _, r := range refs {
		s := p.Seam(ID(r))
		if s == nil {
			return nil, fmt.Errorf("seam %s %w", r, errGone)
		}
		if err := p.checkRuns(s); err != nil {
			return nil, fmt.Errorf("seam %s: %w", s.label(), err)
		}
		if p.ownEdges(s) {
			return nil, fmt.Errorf("seam %s: %w", s.label(), errOwnEdges)
		}
		if !seen[s.ID] && math.Abs(p.seamDiff(s)) > MatchedTo {
			list = append(list, s)
		}
		seen[s.ID] = true
	}
	if len(list) == 0 {
		return nil, errors.New("the sides of these seams match already")
	}
	return list, nil
}

// staying is what stays as it is: whole pieces, and points by their ids.
type staying struct {
	pieces map[ID]bool
	points map[ID][]ID
}

func (p *Project) staying(a MatchSeamsArgs) (staying, error) {
	s := staying{pieces: make(map[ID]bool), points: make(map[ID][]ID)}
	for _, r := range a.Pieces {
		if p.Piece(ID(r)) == nil {
			return s, fmt.Errorf("piece %s %w", r, errGone)
		}
		s.pieces[ID(r)] = true
	}
	for _, r := range a.Points {
		piece := p.Piece(r.Piece)
		if piece == nil || piece.AnyNode(r.Node) == nil {
			return s, fmt.Errorf("point %s %w", r.Node, errGone)
		}
		s.points[r.Piece] = append(s.points[r.Piece], r.Node)
	}
	return s, nil
}

// matchRound matches the seams by changing pieces that follow no other one of the seams,
// or those that do. It returns nil where nothing comes nearer.
func (p *Project) matchRound(targets []*Seam, stay staying, followers bool) (*Project, error) {
	sewn := piecesOf(targets)
	var pieces []*Piece
	for _, id := range sewn {
		piece := p.Piece(id)
		if mayGive(piece) == nil && !stay.pieces[id] && p.followsAny(id, sewn) == followers {
			pieces = append(pieces, piece)
		}
	}
	if len(pieces) == 0 {
		return nil, nil
	}
	off := 0.0
	var open []*Seam
	for _, s := range targets {
		if s = p.Seam(s.ID); s == nil {
			continue
		}
		if !followers && p.sewsFollower(s, sewn) {
			continue // it is made anew when what it follows has changed
		}
		open = append(open, s)
		off += p.seamDiff(s) * p.seamDiff(s)
	}
	if math.Sqrt(off) <= MatchedTo {
		return nil, nil
	}
	var tries []func() *matching
	for _, loose := range []bool{false, true} {
		tries = append(tries, func() *matching {
			m := newMatching(p)
			m.loose = loose
			for _, piece := range pieces {
				g := m.take(piece)
				g.freeAll()
				for _, node := range stay.points[piece.ID] {
					g.hold(node)
				}
				g.keepStrip(open)
			}
			if !m.matchAll(open) {
				return nil
			}
			m.keepSeams(open)
			return m
		})
	}
	next, err := p.firstMatch(tries)
	if err != nil || next == nil {
		return nil, err
	}
	now := 0.0
	for _, s := range open {
		d := next.seamDiff(s)
		now += d * d
	}
	if math.Sqrt(now) > math.Sqrt(off)-MatchedTo {
		return nil, nil
	}
	return next, nil
}

// piecesOf lists the pieces that seams sew, in order.
func piecesOf(seams []*Seam) []ID {
	var list []ID
	for _, s := range seams {
		for _, run := range [2]Run{s.A, s.B} {
			for _, u := range run {
				list = append(list, u.Piece)
			}
		}
	}
	return distinct(list)
}

// followsAny reports whether a piece is made of one of others.
func (p *Project) followsAny(piece ID, others []ID) bool {
	for _, of := range others {
		if of != piece && p.follows(piece, of) {
			return true
		}
	}
	return false
}

// sewsFollower reports whether the seam sews a piece that is made of one of others.
func (p *Project) sewsFollower(s *Seam, others []ID) bool {
	for _, id := range piecesOf([]*Seam{s}) {
		if p.followsAny(id, others) {
			return true
		}
	}
	return false
}

// anyFollows reports whether a piece that the seams sew is made of another of them.
func (p *Project) anyFollows(seams []*Seam) bool {
	sewn := piecesOf(seams)
	for _, id := range sewn {
		if p.followsAny(id, sewn) {
			return true
		}
	}
	return false
}

// keepStrip has a strip stay one, where the seams are along one pair of its sides only: its
// ends move as they are, along it.
func (g *givingPiece) keepStrip(seams []*Seam) {
	if !g.piece.isStrip() {
		return
	}
	var along [2]bool // whether an edge of the pair 0 and 2, or 1 and 3, is to change
	for _, s := range seams {
		for _, run := range [2]Run{s.A, s.B} {
			for _, u := range run {
				if u.Piece == g.piece.ID {
					_, i := g.piece.Edge(u.Edge)
					along[i%2] = true
				}
			}
		}
	}
	if along[0] == along[1] {
		return
	}
	end := 0
	if along[0] {
		end = 1
	}
	way := g.piece.endTangent(1-end, EdgeStart)
	g.tieEnd(end, way)
	g.tieEnd(end+2, way)
}
