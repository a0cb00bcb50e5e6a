package draft

import "hemlet/geom/adjust"

// lengths sums up sides of seams: a factor for every stretch that may change, and what
// lies on pieces that do not.
type lengths struct {
	m       *matching
	factors map[stretchKey]float64
	order   []stretchKey
	rest    float64
}

func (m *matching) newLengths() *lengths {
	return &lengths{m: m, factors: make(map[stretchKey]float64)}
}

// add adds a run, factor times. An edge that is in it twice, as on both halves of a piece
// on the fold or on both copies of a pair, counts twice.
func (l *lengths) add(run Run, factor float64) {
	for _, use := range run {
		piece := l.m.p.Piece(use.Piece)
		if piece == nil {
			continue
		}
		_, i := piece.Edge(use.Edge)
		if i < 0 {
			continue
		}
		g := l.m.at[use.Piece]
		if g == nil {
			l.rest += factor * piece.EdgeLength(i)
			continue
		}
		for k := range piece.Edges[i].Nodes {
			at := g.first[i] + k
			if g.mouth(at) {
				continue
			}
			key := stretchKey{g.shape, at}
			if _, known := l.factors[key]; !known {
				l.order = append(l.order, key)
			}
			l.factors[key] += factor
		}
	}
}

// wish returns the wish that the sum be so many mm.
func (l *lengths) wish(want, weight float64) adjust.Wish {
	w := adjust.Wish{Want: want - l.rest, Weight: weight}
	for _, key := range l.order {
		if f := l.factors[key]; f != 0 {
			w.Terms = append(w.Terms, adjust.Term{Shape: key.shape, Stretch: key.stretch, Factor: f})
		}
	}
	return w
}

// addSeam adds the fuller side, less what it is to measure.
func (l *lengths) addSeam(s *Seam) {
	full, other := s.B, s.A
	if s.Fuller == SideA {
		full, other = other, full
	}
	l.add(full, 1)
	l.add(other, -s.Ratio)
}

// wish adds a wish, unless nothing that may change has a part in it.
func (m *matching) wish(w adjust.Wish) bool {
	if len(w.Terms) == 0 {
		return false
	}
	m.wishes = append(m.wishes, w)
	return true
}
