package draft

import "math"

// followStretches returns the stretches of q after its edges have become others. A
// stretch that lies on several heirs becomes one on each; parts of one kind that meet on
// one edge become one.
func followStretches(q *Piece, lin Lineage) []Stretch {
	var out, moved []Stretch
	for _, s := range q.Stretches {
		heirs, gone := lin[s.Edge]
		if !gone {
			out = append(out, s)
			continue
		}
		first := true
		for _, h := range heirs {
			part, ok := q.partOf(s, h)
			if !ok {
				continue
			}
			if !first {
				// The same wherever the same edge is parted, so that what was generated
				// can be told apart from what a hand did.
				part.ID = blockIDs{s.ID}.made("." + string(h.Edge))
			}
			moved, first = append(moved, part), false
		}
	}
	return append(out, mergedStretches(moved)...)
}

// partOf returns what of a stretch lies on an heir of its edge, false where nothing does.
func (p *Piece) partOf(s Stretch, h Heir) (Stretch, bool) {
	lo, hi := max(s.From, h.Old0), min(s.To, h.Old1)
	if e, _ := p.Edge(h.Edge); e != nil && h.Old0 == h.Old1 && s.From < h.Old0 && h.Old0 < s.To {
		// New cloth within the stretch is part of it.
		s.Edge, s.From, s.To = h.Edge, clampShare(h.lowest()), clampShare(h.highest())
		return s, s.From < s.To
	}
	if e, _ := p.Edge(h.Edge); e == nil || hi-lo <= shareSlack {
		return s, false
	}
	s.Edge = h.Edge
	a, b := between(lo, h.Old0, h.Old1, h.New0, h.New1), between(hi, h.Old0, h.Old1, h.New0, h.New1)
	s.From, s.To = clampShare(min(a, b)), clampShare(max(a, b))
	return s, s.From < s.To
}

func clampShare(x float64) float64 { return min(max(x, 0), 1) }

// mergedStretches makes one stretch of those of one kind that meet on one edge.
func mergedStretches(list []Stretch) []Stretch {
	var out []Stretch
	for _, s := range list {
		joined := false
		for i := range out {
			o := &out[i]
			if o.Edge != s.Edge || o.Kind != s.Kind {
				continue
			}
			if math.Abs(o.To-s.From) <= shareSlack || math.Abs(s.To-o.From) <= shareSlack {
				if len(s.ID) < len(o.ID) { // the stretch itself rather than a part of it
					o.ID = s.ID
				}
				o.From, o.To, joined = min(o.From, s.From), max(o.To, s.To), true
				break
			}
		}
		if !joined {
			out = append(out, s)
		}
	}
	return out
}

// equalStretches reports whether two stretches say the same.
func equalStretches(a, b Stretch) bool {
	return a.Edge == b.Edge && a.Kind == b.Kind && math.Abs(a.From-b.From) <= shareChange && math.Abs(a.To-b.To) <= shareChange
}

// stretchOf carries a stretch that the maker has changed or put in.
func (m *marksMerge) stretchOf(was, mine, now *Stretch) (Stretch, bool) {
	s := *mine
	if was != nil && now != nil {
		s.Kind = merged(mine.Kind, was.Kind, now.Kind)
		if mine.Edge == was.Edge && equalStretches(Stretch{From: mine.From, To: mine.To}, Stretch{From: was.From, To: was.To}) {
			s.Edge, s.From, s.To = now.Edge, now.From, now.To
		}
	}
	if e, _ := m.out.Edge(s.Edge); e == nil {
		m.fail("a stretch that is %s lies on the edge %s, which is no longer there", s.Kind.done(), m.mine.edgeLabel(s.Edge))
	}
	return s, true
}

// done says what was done to the cloth.
func (k StretchKind) done() string {
	switch k {
	case EaseStretch:
		return "eased"
	case StayStretch:
		return "held"
	case ClipStretch:
		return "clipped"
	}
	return "gathered"
}
