package draft

import "math"

// The rules by which a seam is notched. They are common practice without a source but for
// what is said of a cap.
const (
	// handsWidth is a hand's width in mm on a person of handsStature mm; on a smaller wearer
	// it is as much smaller. A plain seam that is shorter needs no notch: it is pinned at
	// its ends.
	handsWidth, handsStature = 85.0, 1650.0
	// notchEvery is how many hands' widths of a long plain seam are pinned between notches.
	notchEvery = 4
	// mostByRule bounds the notches that the rule puts on one seam.
	mostByRule = 12
	// gatherParts is into how many parts a gathered side is divided: each quarter is drawn
	// up on its own.
	gatherParts = 4
	// capPart is the share of the armhole from the underarm up to the notch at which the
	// ease of a cap begins: M. G. and I. R. Burton, School Sewing (1916), One-piece
	// foundation sleeve, divides the armhole at one fifth and two fifths.
	capPart = 1. / 5
)

// handFor returns a hand's width in mm on the wearer for whom a seam is sewn, or on a
// person of handsStature where nothing is known of one.
func (p *Project) handFor(s *Seam) float64 {
	w := p.wearerOf(s)
	if w == nil {
		return handsWidth
	}
	stature, ok := NewSlots().Body(w).Get("stature")
	if !ok || !(stature.Value > 0) {
		return handsWidth
	}
	return handsWidth * stature.Value / handsStature
}

// wearerOf returns the wearer for whom the first piece of a seam was drafted, else the
// first of the project, or nil.
func (p *Project) wearerOf(s *Seam) *Wearer {
	if piece := p.Piece(s.A[0].Piece); piece != nil && piece.Derived != nil {
		if d := p.Derivation(piece.Derived.Derivation); d != nil {
			if w := p.WearerOf(d); w != nil {
				return w
			}
		}
	}
	if len(p.Wearers) == 0 {
		return nil
	}
	return p.Wearers[0]
}

// placesByRule returns the places along side A that a maker would notch, in mm: where an
// edge of one side ends and that of the other goes on, so that a shoulder seam finds its
// place on a cap; the ends of the ease of a cap; the quarters of what is gathered, pleated
// or sewn all round; and the middle, or every few hands' widths, of a plain seam.
func (m *seamMatch) placesByRule(hand float64) []float64 {
	length := m.rows[SideA].length()
	var list []float64
	apart := false // whether two that would read as a double one are one too many
	add := func(at float64) {
		for _, have := range list {
			if math.Abs(have-at) < notchLeast*hand || apart && m.readsDouble(have, at) {
				return
			}
		}
		if at > runJoint && at < length-runJoint && len(list) < mostByRule {
			list = append(list, at)
		}
	}
	for _, at := range m.balance() {
		add(at)
	}
	apart = true // what follows is less needed than the joins
	switch {
	case m.isCap():
		add(capPart * length)
		add((1 - capPart) * length)
	case m.seam.Fullness == Gathers || m.seam.Fullness == Pleats || m.isRing():
		for k := 1; k < gatherParts; k++ {
			add(length * float64(k) / gatherParts)
		}
	case length >= hand:
		parts := max(2, int(length/(notchEvery*hand)+0.5))
		for k := 1; k < parts; k++ {
			add(length * float64(k) / float64(parts))
		}
	}
	return list
}

// readsDouble reports whether on either side of the seam two notches at places along side A
// lie so near to each other that they read as a double one.
func (m *seamMatch) readsDouble(a, b float64) bool {
	const near = 2 * NotchSpacing
	return math.Abs(a-b) < near || math.Abs(m.across(SideA, a)-m.across(SideA, b)) < near
}

// notchLeast is how near to each other, in hands' widths, two notches by rule may be.
const notchLeast = 0.15

// balance returns the places along side A at which two edges of one side meet and the other
// side goes on: the seam there is matched with a notch on the other side.
func (m *seamMatch) balance() []float64 {
	var list []float64
	for _, side := range [...]Side{SideA, SideB} {
		row, far := &m.rows[side], &m.rows[side.other()]
		for k := 0; k < len(row.ends)-1; k++ {
			at := row.ends[k]
			there := m.across(side, at)
			if far.atJoint(there) {
				continue
			}
			if side == SideB {
				at = there
			}
			list = append(list, at)
		}
	}
	return list
}

// isCap reports whether the seam sets a sleeve into an armhole of several edges: side A or
// B is one edge of one piece, the other runs over front and back.
func (m *seamMatch) isCap() bool {
	for _, side := range [...]Side{SideA, SideB} {
		row, far := &m.rows[side], &m.rows[side.other()]
		if len(row.run) < 2 || len(far.run) != 1 {
			continue
		}
		front, back := false, false
		for k, piece := range row.pieces {
			if lineOfName(piece.Edges[row.edges[k]].Name) != armholeLine {
				return false
			}
			switch piece.tells(&piece.Edges[row.edges[k]]) {
			case -1:
				front = true
			case 1:
				back = true
			}
		}
		return front && back
	}
	return false
}

// isRing reports whether a side goes all round: over both halves or copies of an edge.
func (m *seamMatch) isRing() bool {
	for _, row := range m.rows {
		seen := make(map[edgeKey]bool)
		for _, u := range row.run {
			key := edgeKey{u.Piece, u.Edge}
			if seen[key] {
				return true
			}
			seen[key] = true
		}
	}
	return false
}

// behind reports whether a notch at a place along side A gets two ticks, as the names of
// what lies there on both sides tell: front single, behind double.
func (m *seamMatch) behind(at float64) bool {
	sum := 0
	for _, side := range [...]Side{SideA, SideB} {
		row, own := &m.rows[side], at
		if side == SideB {
			own = m.across(SideA, at)
		}
		s := row.spot(own)
		if row.atJoint(own) && own > runJoint && own < row.length()-runJoint {
			continue // where front and back meet
		}
		sum += s.piece.tells(&s.piece.Edges[s.edge])
	}
	return sum > 0
}
