package draft

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// sewnNotch is a notch where a side of a seam runs past it.
type sewnNotch struct {
	piece *Piece
	notch *Notch
	edge  int
	side  Side
	// at is its place along its own side, inA that along side A which is sewn to it, in mm.
	at, inA float64
	met     bool
}

func (n *sewnNotch) text() string { return partText(n.piece.ID, n.notch.ID) }

// missReach is the share of a side within which two notches without a partner are taken
// for a pair that misses each other, and not for two that lack one each.
const missReach = 0.15

// checkNotchPairs finds notches that have no partner where they are sewn, and caps that can
// be set in the wrong way round.
func (s *Slots) checkNotchPairs(p *Project, states []SeamState) []Finding {
	at := s.lookupIn(p)
	var out []Finding
	for _, st := range states {
		pieces, known := at.seamPieces(st.Seam)
		if !known {
			out = append(out, p.notchFindings(st)...)
			continue
		}
		inputs := slotInputs{st.Seam, pieces, notchLimits{st.Limit, st.Diff}, p.Unit}
		out = append(out, slotOf(s, "notches", st.Seam.ID, inputs, func() []Finding {
			// A project of nothing else: there is nothing more to go by.
			return (&Project{Unit: p.Unit, Pieces: pieces.list()}).notchFindings(st)
		})...)
	}
	return out
}

// notchLimits is what the state of a seam has to do with its notches, in mm.
type notchLimits struct{ limit, diff float64 }

// fewPieces are the pieces of a seam or of one end of it, then nil; mostly they are two.
type fewPieces [4]*Piece

// list returns the pieces.
func (f fewPieces) list() []*Piece {
	if n := slices.Index(f[:], nil); n >= 0 {
		return f[:n]
	}
	return f[:]
}

// seamPieces returns the pieces of a seam, false where they are more than a few or one is gone.
func (l *lookup) seamPieces(seam *Seam) (few fewPieces, ok bool) {
	n := 0
	for _, run := range [...]Run{seam.A, seam.B} {
		for _, u := range run {
			piece := l.pieces[u.Piece]
			if piece != nil && slices.Contains(few[:n], piece) {
				continue
			}
			if piece == nil || n == len(few) {
				return fewPieces{}, false
			}
			few[n] = piece
			n++
		}
	}
	return few, true
}

// notchFindings returns what is to be said of the notches along one seam.
func (p *Project) notchFindings(st SeamState) []Finding {
	if !p.hasNotches(st.Seam) {
		return nil
	}
	m, err := p.matchOf(st.Seam)
	if err != nil {
		return nil
	}
	c := notchCheck{p: p, m: m, limit: st.Limit + math.Abs(st.Diff)}
	c.gather()
	if len(c.notches) > mostPaired {
		return nil
	}
	c.pair()
	return append(c.missing(st.Limit), c.alike()...)
}

// hasNotches reports whether there is any notch along the seam, which most have not.
func (p *Project) hasNotches(seam *Seam) bool {
	for _, run := range [...]Run{seam.A, seam.B} {
		for _, u := range run {
			piece := p.Piece(u.Piece)
			if piece != nil && slices.ContainsFunc(piece.Notches, func(n Notch) bool { return n.Edge == u.Edge }) {
				return true
			}
		}
	}
	return false
}

// notchCheck finds what is to be said of the notches along one seam.
type notchCheck struct {
	p *Project
	m *seamMatch
	// limit is how far two notches may miss each other, in mm: what the seam may be off and
	// is off, as that is told of the seam.
	limit   float64
	notches []sewnNotch
	// row are the notches in their order along the seam.
	row []*sewnNotch
}

// mostPaired is how many notches along a seam are held against each other. More than that
// nobody cuts, and to pair them would hold up every step of a drag.
const mostPaired = 2000

// gather lists the notches of both sides. One that lies where two edges of its side meet is
// left out: the seam there says the same.
func (c *notchCheck) gather() {
	for _, side := range [...]Side{SideA, SideB} {
		row := &c.m.rows[side]
		for k, u := range row.run {
			piece := row.pieces[k]
			for i := range piece.Notches {
				n := &piece.Notches[i]
				if n.Edge != u.Edge || n.Along(row.lengths[k]) > row.lengths[k] {
					continue // what lies beyond its edge is told by itself
				}
				at := row.along(k, n.Along(row.lengths[k]))
				if c.atJoint(row, at) {
					continue
				}
				found := sewnNotch{piece: piece, notch: n, edge: row.edges[k], side: side, at: at, inA: at}
				if side == SideB {
					found.inA = c.m.across(SideB, at)
				}
				found.met = c.atJoint(&c.m.rows[side.other()], c.m.across(side, at))
				c.notches = append(c.notches, found)
			}
		}
	}
	for i := range c.notches {
		c.row = append(c.row, &c.notches[i])
	}
	slices.SortStableFunc(c.row, func(a, b *sewnNotch) int { return cmp.Compare(a.inA, b.inA) })
}

// atJoint reports whether two edges meet near a place of a run, or the run ends there.
func (c *notchCheck) atJoint(row *seamRow, at float64) bool {
	near := func(end float64) bool { return math.Abs(at-end) <= c.limit }
	return near(0) || slices.ContainsFunc(row.ends, near)
}

// pair has notches meet that match, the nearest ones first.
func (c *notchCheck) pair() {
	for {
		a, b := c.nearest()
		if a == nil || math.Abs(a.inA-b.inA) > c.limit {
			return
		}
		a.met, b.met = true, true
	}
}

// nearest returns the two notches of the two sides without partners that lie nearest to
// each other, or nil. Nothing lies between those: it would be nearer to one of them.
func (c *notchCheck) nearest() (a, b *sewnNotch) {
	best := math.Inf(1)
	var before *sewnNotch
	for _, n := range c.row {
		if n.met {
			continue
		}
		if before != nil && before.side != n.side && n.inA-before.inA < best {
			a, b, best = before, n, n.inA-before.inA
		}
		before = n
	}
	if a != nil && a.side == SideB {
		a, b = b, a
	}
	return a, b
}

// missing tells of the notches that are left: first of those that miss each other.
func (c *notchCheck) missing(limit float64) []Finding {
	var out []Finding
	told := make(map[string]bool)
	tell := func(f Finding) {
		if !told[f.Key] {
			told[f.Key] = true
			out = append(out, f)
		}
	}
	for {
		a, b := c.nearest()
		if a == nil || math.Abs(a.inA-b.inA) > missReach*c.m.rows[SideA].length() || a.notch.Mark != "" || b.notch.Mark != "" {
			break
		}
		a.met, b.met = true, true
		f := c.finding(a, "notches apart", a.notch.ID, b.notch.ID)
		f.Value, f.Limit = math.Abs(a.inA-b.inA), limit
		f.Says = fmt.Sprintf("The notch on the %s and that on the %s are to meet and miss each other by %s: pinned notch to notch, one side would pucker. Move one of them.",
			c.sideOf(a), c.sideOf(b), c.p.Unit.FormatSmall(f.Value))
		takes := a.text() + ";" + b.text()
		f.mend("Move the notch on the "+c.sideOf(b), "add-seam-mark", "seam", idText(c.m.seam.ID), "side", a.side.String(), "at", c.share(a), "takes", takes)
		f.mend("Move the notch on the "+c.sideOf(a), "add-seam-mark", "seam", idText(c.m.seam.ID), "side", b.side.String(), "at", c.share(b), "takes", takes)
		tell(f)
	}
	for i := range c.notches {
		if n := &c.notches[i]; !n.met {
			tell(c.alone(n))
		}
	}
	return out
}

// alone tells of a notch that has no partner, and where that should be.
func (c *notchCheck) alone(n *sewnNotch) Finding {
	f := c.finding(n, "notch alone", n.notch.ID)
	far := &c.m.rows[n.side.other()]
	there := far.spot(c.m.across(n.side, n.at))
	f.Says = fmt.Sprintf("The notch on the %s has no partner: on the %s one belongs %s. Without it nobody knows what it is pinned to. Notch the other side, or take it away.",
		c.sideOf(n), edgeOfPiece(there.piece, there.edge), c.p.fromCorner(there))
	if n.notch.Mark == "" {
		f.mend("Notch the "+edgeOfPiece(there.piece, there.edge)+" there", "add-seam-mark", "seam", idText(c.m.seam.ID), "side", n.side.String(), "at", c.share(n),
			"double", yesNo(n.notch.Double), "shape", n.notch.Shape.String(), "takes", n.text())
	} else if there.piece.Locked {
		f.mend("Unlock "+there.piece.label(), "unlock-pieces", "pieces", idText(there.piece.ID))
	}
	f.mend("Take the notch away", "delete-notch", "notches", n.text())
	return f
}

// share writes the place of a notch along its side.
func (c *notchCheck) share(n *sewnNotch) string {
	share := min(n.at/c.m.rows[n.side].length(), 1)
	return strconv.FormatFloat(share*100, 'f', 9, 64) + "%"
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// finding returns a finding about a notch, to be filled in. Its key has the notches by their
// ids.
func (c *notchCheck) finding(n *sewnNotch, what string, ids ...ID) Finding {
	at := n.piece.pointAt(outlinePlace{edge: n.edge, along: n.notch.Along(n.piece.EdgeLength(n.edge))})
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = string(id)
	}
	return Finding{
		Key:   "seam/" + string(c.m.seam.ID) + "/" + what + " " + strings.Join(words, " "),
		Level: LookAgain, About: "seam " + c.m.seam.label(),
		Piece: n.piece.ID, Edge: n.notch.Edge, Seam: c.m.seam.ID, At: &at,
	}
}

func (c *notchCheck) sideOf(n *sewnNotch) string { return edgeOfPiece(n.piece, n.edge) }

func edgeOfPiece(p *Piece, i int) string { return p.Edges[i].label() + " of " + p.label() }

// fromCorner says how far a place of an edge lies from the nearer end of it, and what begins
// there: "12 mm from the hem".
func (p *Project) fromCorner(s spot) string {
	n, length := len(s.piece.Edges), s.piece.EdgeLength(s.edge)
	at, beside := s.at, (s.edge+n-1)%n
	if s.at > length/2 {
		at, beside = length-s.at, (s.edge+1)%n
	}
	return p.Unit.Format(at) + " from the " + s.piece.Edges[beside].label()
}

// alike tells that the two halves of a cap bear the same number of ticks: front single,
// behind double is how a sleeve is told from the other one. (Common practice, no source.)
func (c *notchCheck) alike() []Finding {
	if !c.m.isCap() {
		return nil
	}
	double := map[int]bool{} // by what the name of the piece tells
	var behind []*sewnNotch
	for i := range c.notches {
		n := &c.notches[i]
		where := n.piece.tells(&n.piece.Edges[n.edge])
		if where == 0 {
			continue
		}
		double[where] = double[where] || n.notch.Double
		if where > 0 {
			behind = append(behind, n)
		}
	}
	if len(double) < 2 || double[1] != double[-1] || len(behind) == 0 {
		return nil
	}
	f := c.finding(behind[0], "notches alike")
	f.Key, f.Level = "seam/"+string(c.m.seam.ID)+"/notches alike", Remark
	ticks := "one tick"
	if double[1] {
		ticks = "two ticks"
	}
	f.Says = fmt.Sprintf("The notches at the front and at the back of the cap have %s each, so that a sleeve can be set in the wrong way round. Give those at the back two, and those at the front one.", ticks)
	if !double[1] {
		f.mend("Give the notches at the back two ticks", "set-notch", "notches", c.withPartners(behind), "double", "yes")
	} else if front := c.infront(); len(front) > 0 {
		f.mend("Give the notches at the front one tick", "set-notch", "notches", c.withPartners(front), "double", "no")
	}
	return []Finding{f}
}

func (c *notchCheck) infront() []*sewnNotch {
	var list []*sewnNotch
	for i := range c.notches {
		if n := &c.notches[i]; n.piece.tells(&n.piece.Edges[n.edge]) < 0 {
			list = append(list, n)
		}
	}
	return list
}

// withPartners writes the notches and those of the other side that meet them.
func (c *notchCheck) withPartners(list []*sewnNotch) string {
	var words []string
	add := func(n *sewnNotch) {
		if !slices.Contains(words, n.text()) {
			words = append(words, n.text())
		}
	}
	for _, n := range list {
		add(n)
		for i := range c.notches {
			if o := &c.notches[i]; o.side != n.side && math.Abs(o.inA-n.inA) <= c.limit {
				add(o)
			}
		}
	}
	slices.SortFunc(words, cmp.Compare[string])
	return strings.Join(words, ";")
}
