package draft

import (
	"maps"
	"math"

	"hemlet/geom/adjust"
	"hemlet/geom/warp"
)

// lengths sums up sides of seams: a factor for every stretch that may change, and what
// lies on pieces that do not.
type lengths struct {
	m       *matching
	factors map[stretchKey]float64
	order   []stretchKey
	rest    float64
	// parts are parts of stretches that belong to the sum as well.
	parts []lengthPart
}

// lengthPart is a part of a stretch, from one parameter to another.
type lengthPart struct {
	stretchKey
	from, to float64
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

// addPart adds what of edge i of a piece lies between two places in mm along it.
func (l *lengths) addPart(piece *Piece, i int, from, to float64) {
	g := l.m.at[piece.ID]
	at := 0.0
	for k := range piece.Edges[i].Nodes {
		key := stretchKey{g.shape, g.first[i] + k}
		if g.mouth(key.stretch) {
			continue
		}
		s := segment(g.nodes[key.stretch], g.nodes[g.next(key.stretch)])
		length := s.Length()
		lo, hi := max(from-at, 0), min(to-at, length)
		at += length
		switch {
		case hi-lo < Grid:
		case lo < Grid && length-hi < Grid:
			if _, known := l.factors[key]; !known {
				l.order = append(l.order, key)
			}
			l.factors[key]++
		default:
			part := lengthPart{key, 0, 1}
			if lo >= Grid {
				part.from = s.AtLength(lo)
			}
			if length-hi >= Grid {
				part.to = s.AtLength(hi)
			}
			l.parts = append(l.parts, part)
		}
	}
}

// warpTerms returns the sum as geom/warp has it.
func (l *lengths) warpTerms() []warp.Term { return l.scaledWarpTerms(1) }

// scaledWarpTerms returns the sum, factor times.
func (l *lengths) scaledWarpTerms(factor float64) []warp.Term {
	var terms []warp.Term
	for _, key := range l.order {
		if f := l.factors[key] * factor; f != 0 {
			terms = append(terms, warp.Term{Shape: key.shape, Stretch: key.stretch, To: 1, Factor: f})
		}
	}
	for _, p := range l.parts {
		terms = append(terms, warp.Term{Shape: p.shape, Stretch: p.stretch, From: p.from, To: p.to, Factor: factor})
	}
	return terms
}

// sameParameter is how near two parameters of a stretch are that are one place: the two
// notches that a place and its mirror image have.
const sameParameter = 1e-6

// same reports whether two sums are of the same stretches and parts, in any order.
func (l *lengths) same(o *lengths) bool {
	if !maps.Equal(l.factors, o.factors) || len(l.parts) != len(o.parts) {
		return false
	}
	taken := make([]bool, len(o.parts))
	for _, p := range l.parts {
		found := false
		for k, q := range o.parts {
			if !taken[k] && p.stretchKey == q.stretchKey && math.Abs(p.from-q.from) < sameParameter && math.Abs(p.to-q.to) < sameParameter {
				taken[k], found = true, true
				break
			}
		}
		if !found {
			return false
		}
	}
	return true
}
