package draft

const (
	// leastShaping is how much in mm a body has to be smaller at the waist than at the bust
	// for the darts at the waist to follow that: below it a ratio says nothing.
	leastShaping = 10
	// mostShaping is by how many times a dart may grow by that rule.
	mostShaping = 5
)

// mouth returns how wide the mouth of a dart is to be: 0 where it follows the scale of the
// whole. A dart at the waist takes in what the waist is smaller than the bust, and so
// follows that; it does not go below leastIntake, for a dart that is to go has to be taken
// out. (Common practice, no source.)
func (f *fitPlan) mouth(piece *Piece, d Dart, basis *fitBasis, bodies fitBodies) fitGoal {
	key := fitPart{piece.ID, d.ID}
	goal := fitGoal{key: key, weight: 1}
	if width, ok := f.intakes[key]; ok {
		goal.want = width
		return goal
	}
	if f.scaledDarts[key] || !basis.atWaist(piece, d) {
		return goal
	}
	old, now := bodies.old[piece.ID], bodies.new
	if old == nil || now == nil {
		return goal
	}
	was, is := shapingOf(old), shapingOf(now)
	if was < leastShaping {
		return goal
	}
	goal.want = max(leastIntake, piece.TakeUp(d)*min(is/was, mostShaping))
	return goal
}

// shapingOf returns by how much in mm a body is smaller at the waist than at the bust, 0
// where one of them is not known.
func shapingOf(b interface{ MM(string) float64 }) float64 {
	bust, waist := b.MM("bust_girth"), b.MM("waist_girth")
	if bust <= 0 || waist <= 0 {
		return 0
	}
	return bust - waist
}

// atWaist reports whether a dart opens at the waist: its edge is called so, or is sewn to
// one that is, or a span that measures the waist runs along it.
func (b *fitBasis) atWaist(piece *Piece, d Dart) bool {
	e, _ := piece.Edge(d.Edge)
	if e == nil {
		return false
	}
	if lineOfName(e.Name) == waistLine {
		return true
	}
	for _, s := range piece.Spans {
		if s.Measure != "waist_girth" {
			continue
		}
		for _, id := range s.Edges {
			if id == e.ID {
				return true
			}
		}
	}
	for _, s := range b.source.Seams {
		for _, sides := range [2][2]Run{{s.A, s.B}, {s.B, s.A}} {
			if b.sewsEdge(sides[0], piece.ID, e.ID) && b.calledWaist(sides[1]) {
				return true
			}
		}
	}
	return false
}

func (b *fitBasis) sewsEdge(run Run, piece, edge ID) bool {
	for _, u := range run {
		if u.Piece == piece && u.Edge == edge {
			return true
		}
	}
	return false
}

func (b *fitBasis) calledWaist(run Run) bool {
	for _, u := range run {
		if q := b.source.Piece(u.Piece); q != nil {
			if e, _ := q.Edge(u.Edge); e != nil && lineOfName(e.Name) == waistLine {
				return true
			}
		}
	}
	return false
}
