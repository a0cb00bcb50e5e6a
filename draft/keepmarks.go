package draft

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// keepMarks puts the notches that stand for the marks of seams where those are, on both
// sides: of every seam that is another than before, or whose pieces are.
func (p *Project) keepMarks(before *Project) *Project {
	var was map[ID]*Piece
	next := p
	for _, s := range p.Seams {
		if len(s.Marks) == 0 {
			continue
		}
		if was == nil {
			was = make(map[ID]*Piece, len(before.Pieces))
			for _, piece := range before.Pieces {
				was[piece.ID] = piece
			}
		}
		old := before.Seam(s.ID)
		if old == s && next.sameAlong(s, was) {
			continue
		}
		if t := s.turnedFrom(old); t != s {
			next, s = next.withSeam(t), t
		}
		next = next.withMarksKept(s)
	}
	return next
}

// turnedFrom returns the seam with its marks told from the other end, where side A runs the
// other way than it did, so that the notches on it stay; else the seam itself.
func (s *Seam) turnedFrom(old *Seam) *Seam {
	if old == nil || sameRun(old.A, s.A) || !sameRun(old.A, s.A.reversed()) || !slices.Equal(old.Marks, s.Marks) {
		return s
	}
	t := *s
	t.Marks = slices.Clone(s.Marks)
	slices.Reverse(t.Marks)
	for i := range t.Marks {
		t.Marks[i].At = toGrid(1 - t.Marks[i].At)
	}
	return &t
}

// sameAlong reports whether every piece that the seam runs along is the one that it was.
func (p *Project) sameAlong(s *Seam, was map[ID]*Piece) bool {
	for _, run := range [...]Run{s.A, s.B} {
		for _, u := range run {
			if p.Piece(u.Piece) != was[u.Piece] {
				return false
			}
		}
	}
	return true
}

// notchWish is where a notch has to be for a mark.
type notchWish struct {
	mark SeamMark
	side Side
	spot
	met bool
}

// notchTogether is how near, in mm, two places of one drawn edge are one notch: a place and
// its mirror image on the other half or copy are one place of the drawing.
const notchTogether = 1e-3

// notchAdopts is how near, in mm, a notch that was set by hand is to a mark to be taken for
// its notch: half a millimetre is less than what a snip is wide.
const notchAdopts = 0.5

// wishes lists the notches that the marks of a seam ask for. Where a side has a joint of its
// own there is none, and none on a fold.
func (m *seamMatch) wishes() []notchWish {
	var list []notchWish
	for _, mark := range m.seam.Marks {
		for _, side := range [...]Side{SideA, SideB} {
			row := &m.rows[side]
			at := mark.At * m.rows[SideA].length()
			if side == SideB {
				at = m.across(SideA, at)
			}
			if row.atJoint(at) {
				continue
			}
			w := notchWish{mark: mark, side: side, spot: row.spot(at)}
			if w.piece.Edges[w.edge].Kind == FoldEdge || slices.ContainsFunc(list, w.sameSpot) {
				continue
			}
			list = append(list, w)
		}
	}
	return list
}

func (w notchWish) sameSpot(o notchWish) bool {
	return w.piece == o.piece && w.edge == o.edge && math.Abs(w.at-o.at) < notchTogether
}

// place writes the wish into a notch.
func (w *notchWish) place(n Notch) Notch {
	at, length := w.at, w.piece.EdgeLength(w.edge)
	if w.fromEnd {
		at = length - at
	}
	n.Edge, n.At, n.Share, n.FromEnd = w.piece.Edges[w.edge].ID, toGrid(at), false, w.fromEnd
	if at > MaxCoordinate { // on an edge longer than any length that is written
		n.At, n.Share = shareAlong(at, length), true
	}
	n.Shape, n.Double, n.Mark = w.mark.Shape, w.mark.Double, w.mark.ID
	return n
}

// withMarksKept returns p with the notches of one seam where its marks are. Locked pieces
// and ghosts stay as they are, and so does all where the seam cannot be matched.
func (p *Project) withMarksKept(s *Seam) *Project {
	m, err := p.matchOf(s)
	if err != nil {
		return p
	}
	wishes := m.wishes()
	next := p
	for i, piece := range p.Pieces {
		if piece.Locked || piece.Ghost > 0 {
			continue
		}
		notches := piece.notchesFor(s, wishes)
		for k := range wishes {
			if w := &wishes[k]; w.piece == piece && !w.met {
				notches = append(slices.Clip(notches), w.place(Notch{ID: next.notchID(w)}))
			}
		}
		if slices.Equal(notches, piece.Notches) {
			continue
		}
		if next == p {
			next = p.shallow()
			next.Pieces = slices.Clone(p.Pieces)
		}
		q := piece.clone()
		q.Notches = orNil(notches)
		next.Pieces[i] = q
	}
	return next
}

// notchesFor returns the notches of the piece with those of the seam's marks where they are
// wished, without those that no wish is left for. Notches that were set by hand at a wished
// place are taken.
func (p *Piece) notchesFor(s *Seam, wishes []notchWish) []Notch {
	out := slices.Clone(p.Notches)
	taken := make([]bool, len(out))
	ours := func(n *Notch, w *notchWish) bool { return n.Mark == w.mark.ID }
	along := func(n *Notch, w *notchWish) bool { return n.Edge == p.Edges[w.edge].ID }
	p.meet(wishes, out, taken, func(n *Notch, w *notchWish) bool { return ours(n, w) && along(n, w) })
	p.meet(wishes, out, taken, ours)
	p.meet(wishes, out, taken, func(n *Notch, w *notchWish) bool {
		return n.Mark == "" && along(n, w) && w.off(n) <= notchAdopts
	})
	kept := out[:0]
	for i, n := range out {
		if taken[i] || n.Mark == "" || !s.hasMark(n.Mark) {
			kept = append(kept, n)
		}
	}
	return kept
}

// meet has notches of the piece that fit wishes meet these, those first that are nearest to
// one: a mark may have several notches on an edge, as where that is sewn to itself in another
// copy, and none of them is to jump to the place of another.
func (p *Piece) meet(wishes []notchWish, notches []Notch, taken []bool, fits func(*Notch, *notchWish) bool) {
	type pair struct {
		wish  *notchWish
		notch int
		off   float64
	}
	var pairs []pair
	for k := range wishes {
		w := &wishes[k]
		if w.piece != p || w.met {
			continue
		}
		for i := range notches {
			if !taken[i] && fits(&notches[i], w) {
				pairs = append(pairs, pair{w, i, w.off(&notches[i])})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.off, b.off) })
	for _, c := range pairs {
		if c.wish.met || taken[c.notch] {
			continue
		}
		taken[c.notch], c.wish.met = true, true
		notches[c.notch] = c.wish.place(notches[c.notch])
	}
}

// off is how far in mm along the edge of the wish a notch lies from where it is wished.
func (w *notchWish) off(n *Notch) float64 {
	return math.Abs(n.Along(w.piece.EdgeLength(w.edge)) - w.at)
}

// notchID returns the id of a new notch for a wish. It is made of that of the mark and not
// from the project's counter: an act that is done again when a block is drafted anew makes
// the same ids as before, with seams or without.
func (p *Project) notchID(w *notchWish) ID {
	stem := ID(string(w.mark.ID) + "." + w.side.String())
	taken := func(id ID) bool {
		return slices.ContainsFunc(p.Pieces, func(q *Piece) bool { return q.notchIndex(id) >= 0 })
	}
	id := stem
	for n := 2; taken(id); n++ {
		id = ID(string(stem) + strconv.Itoa(n))
	}
	return id
}

// withoutMarks returns p without the marks and without the notches that stand for them.
func (p *Project) withoutMarks(gone map[ID]bool) *Project {
	if len(gone) == 0 {
		return p
	}
	next := p.shallow()
	next.Seams, next.Pieces = slices.Clone(p.Seams), slices.Clone(p.Pieces)
	for i, s := range next.Seams {
		if !slices.ContainsFunc(s.Marks, func(m SeamMark) bool { return gone[m.ID] }) {
			continue
		}
		t := *s
		t.Marks = orNil(slices.DeleteFunc(slices.Clone(s.Marks), func(m SeamMark) bool { return gone[m.ID] }))
		next.Seams[i] = &t
	}
	for i, piece := range next.Pieces {
		if !slices.ContainsFunc(piece.Notches, func(n Notch) bool { return gone[n.Mark] }) {
			continue
		}
		q := piece.clone()
		q.Notches = orNil(slices.DeleteFunc(q.Notches, func(n Notch) bool { return gone[n.Mark] }))
		next.Pieces[i] = q
	}
	return next
}

// orNil returns the list, nil where it is empty, as a project that is read has it.
func orNil[T any](list []T) []T {
	if len(list) == 0 {
		return nil
	}
	return list
}
