package draft

import "fmt"

// followLineage moves everything that points at an edge to the edge's heirs:
// seams, notches, spans and darts. It is the one place that does so. A reference
// that would have to end in the middle of a new edge is refused, with its name.
func followLineage(before, after *Project, lin Lineage) (*Project, error) {
	next := after.shallow()
	if err := followSeams(next, lin); err != nil {
		return nil, err
	}
	next.Pieces = append([]*Piece(nil), after.Pieces...)
	for i, p := range next.Pieces {
		// What has come from another piece lies on its edge already.
		old := before.Piece(p.ID)
		own := lin.of(old)
		if !p.pointsInto(own) {
			continue
		}
		q, err := followPiece(old, p.clone(), own)
		if err != nil {
			return nil, err
		}
		next.Pieces[i] = q
	}
	return next, nil
}

func (p *Piece) pointsInto(lin Lineage) bool {
	for _, n := range p.Notches {
		if _, hit := lin[n.Edge]; hit {
			return true
		}
	}
	for _, d := range p.Darts {
		if _, hit := lin[d.Edge]; hit {
			return true
		}
	}
	for _, s := range p.Stretches {
		if _, hit := lin[s.Edge]; hit {
			return true
		}
	}
	for _, s := range p.Spans {
		for _, e := range s.Edges {
			if _, hit := lin[e]; hit {
				return true
			}
		}
	}
	return false
}

func followSeams(next *Project, lin Lineage) error {
	seams := make([]*Seam, 0, len(next.Seams))
	for _, s := range next.Seams {
		moved := *s
		var err error
		if moved.A, err = next.followRun(s.A, lin); err == nil {
			moved.B, err = next.followRun(s.B, lin)
		}
		if err != nil {
			return fmt.Errorf("seam %s %w", s.label(), err)
		}
		if sameRun(moved.A, s.A) && sameRun(moved.B, s.B) {
			seams = append(seams, s)
			continue
		}
		if len(moved.A) > 0 && len(moved.B) > 0 {
			seams = append(seams, &moved)
		}
	}
	next.Seams = seams
	return nil
}

// part is an edge use that so far covers only the shares from lo to hi.
type part struct {
	use    EdgeUse
	lo, hi float64
}

func followRun(run Run, lin Lineage) (Run, error) { return (*Project)(nil).followRun(run, lin) }

// followRun moves a run to the heirs of its edges. Pieces that the heirs lie on are
// looked up in p, which may be nil where none lies on another piece.
func (p *Project) followRun(run Run, lin Lineage) (Run, error) {
	var parts []part
	for _, use := range run {
		heirs, gone := lin[use.Edge]
		if !gone {
			parts = append(parts, part{use, 0, 1})
			continue
		}
		for i := range heirs {
			h := heirs[i]
			if use.Reversed {
				h = heirs[len(heirs)-1-i]
			}
			u := use
			u.Edge = h.Edge
			u.Reversed = use.Reversed != (h.New0 > h.New1)
			u = p.followSide(u, h)
			parts = appendPart(parts, part{u, min(h.New0, h.New1), max(h.New0, h.New1)})
		}
	}
	out := make(Run, 0, len(parts))
	for _, p := range parts {
		if p.lo > shareSlack || p.hi < 1-shareSlack {
			return nil, errEndsInside
		}
		out = append(out, p.use)
	}
	return out, nil
}

// followSide puts the use of an heir on its piece and on its side of the body: what was
// the far half is the left copy where the heir's piece is cut in pairs.
func (p *Project) followSide(u EdgeUse, h Heir) EdgeUse {
	if h.Piece != "" {
		u.Piece = h.Piece
	}
	if p == nil || h.Piece == "" && !h.Across {
		return u
	}
	piece := p.Piece(u.Piece)
	if piece == nil {
		return u
	}
	other := (u.Half == Far) != u.Copy.Mirrored != h.Across
	switch piece.Cut.Way {
	case CutPairs:
		u.Half, u.Copy.Mirrored = Near, other
	case CutOnFold:
		u.Half, u.Copy.Mirrored = Near, false
		if other {
			u.Half = Far
		}
	}
	return u
}

var errEndsInside = fmt.Errorf("ends at this corner; take the seam apart first, or keep the corner")

// shareSlack is how far shares of a length may be apart and still be the same
// place: far above rounding, far below any stitch.
const shareSlack = 1e-9

// appendPart adds p, or lengthens the last part where p goes on from it in the
// direction of the run.
func appendPart(parts []part, p part) []part {
	if len(parts) == 0 {
		return append(parts, p)
	}
	last := &parts[len(parts)-1]
	if last.use != p.use {
		return append(parts, p)
	}
	switch {
	case !p.use.Reversed && near(last.hi, p.lo):
		last.hi = p.hi
	case p.use.Reversed && near(last.lo, p.hi):
		last.lo = p.lo
	default:
		return append(parts, p)
	}
	return parts
}

func near(a, b float64) bool { return a-b <= shareSlack && b-a <= shareSlack }

func sameRun(a, b Run) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// followPiece moves the notches, spans and darts of q, a copy that may be written
// to, from the edges of old to their heirs.
func followPiece(old, q *Piece, lin Lineage) (*Piece, error) {
	notches := q.Notches[:0]
	for _, n := range q.Notches {
		if m, ok := followNotch(old, q, n, lin); ok {
			notches = append(notches, m)
		}
	}
	q.Notches = notches
	for i, d := range q.Darts {
		if _, hit := lin[d.Edge]; hit {
			if _, e, _ := q.Node(d.From); e >= 0 {
				q.Darts[i].Edge = q.Edges[e].ID
			}
		}
	}
	q.Stretches = followStretches(q, lin)
	spans := q.Spans[:0]
	for _, s := range q.Spans {
		run := make(Run, len(s.Edges))
		for i, e := range s.Edges {
			run[i] = EdgeUse{Edge: e}
		}
		moved, err := followRun(run, lin)
		if err != nil {
			return nil, fmt.Errorf("stretch %s %w", s.Name, err)
		}
		if len(s.Edges) > 0 && len(moved) == 0 {
			continue
		}
		s.Edges = nil
		for _, u := range moved {
			s.Edges = append(s.Edges, u.Edge)
		}
		spans = append(spans, s)
	}
	q.Spans = spans
	return q, nil
}

// followNotch returns the notch at the same place of the heir on which it now
// lies, or false if that stretch is gone.
func followNotch(old, q *Piece, n Notch, lin Lineage) (Notch, bool) {
	heirs, gone := lin[n.Edge]
	if !gone || old == nil {
		return n, true
	}
	_, oldIndex := old.Edge(n.Edge)
	if oldIndex < 0 {
		return n, false
	}
	length := old.EdgeLength(oldIndex)
	if length == 0 {
		return n, false
	}
	at := n.Along(length) / length
	for _, h := range heirs {
		if at < h.Old0-shareSlack || at > h.Old1+shareSlack || h.Old1 == h.Old0 {
			continue
		}
		// Held within the heir: on one that is hardly longer than the slack, the
		// slack itself would lead beyond its end.
		share := between(min(max(at, h.Old0), h.Old1), h.Old0, h.Old1, h.New0, h.New1)
		_, i := q.Edge(h.Edge)
		if i < 0 {
			return n, false
		}
		n.Edge = h.Edge
		n.FromEnd = n.FromEnd != (h.New0 > h.New1)
		if n.FromEnd {
			share = 1 - share
		}
		if at := share * q.EdgeLength(i); !n.Share && at <= MaxCoordinate {
			n.At = toGrid(at)
		} else {
			n.At, n.Share = share, true
		}
		return n, true
	}
	return n, false
}

// Along returns the place of the notch in mm from the start of an edge of the
// given length; places beyond an end are put at that end.
func (n Notch) Along(length float64) float64 {
	at := n.At
	if n.Share {
		at *= length
	}
	if n.FromEnd {
		at = length - at
	}
	return min(max(at, 0), length)
}
