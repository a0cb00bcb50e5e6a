package draft

import "math"

// swayBack takes out a fold across the small of the back, which runs out to nothing at the
// side. The centre, which the fold would bend, is drawn straight again.
func (a *altering) swayBack() error {
	backs, err := a.takeAll(a.of(covers(AspectBack, func(t *PieceAnatomy) bool { return onTrunk(t) && t.Has(AtSide) || hangs(t) })), "a back with a side")
	if err != nil {
		return err
	}
	for _, t := range backs {
		if hangs(t.PieceAnatomy) {
			a.lowerWaist(t, -a.by)
			continue
		}
		t.holdParts(AtNeck, AtShoulder, AtArmhole)
		far := t.farthestOut(t.bottom())
		t.bend(t.bottom()...)
		for _, i := range t.bottom() {
			t.move(i, func(s bodySpot) alteredShift { return shiftBy(0, a.by*towardsSide(s.out, far)).guiding() })
		}
		t.holdParts(AtSide)
		top, waist := t.armpit(), t.waist()
		for _, i := range t.centre() {
			t.move(i, func(s bodySpot) alteredShift { return shiftBy(free, a.by*wholeOr(fall(top, waist, s.up))) })
		}
		a.holdNeck(t)
		a.endCentre(t, shiftBy(0, a.by))
	}
	return nil
}

// holdNeck keeps the neck's end of the middle of the body where it is.
func (a *altering) holdNeck(t *alteredPiece) {
	for _, middle := range [...]EdgePart{AtCentre, AtCentreFront, AtCentreBack} {
		for _, n := range t.Corners(AtNeck, middle) {
			t.moveNode(n, stays)
		}
	}
}

// endCentre moves the lower end of the middle of the body.
func (a *altering) endCentre(t *alteredPiece, by alteredShift) {
	for _, middle := range [...]EdgePart{AtCentre, AtCentreFront, AtCentreBack} {
		for _, end := range [...]EdgePart{AtHem, AtWaist} {
			for _, n := range t.Corners(end, middle) {
				t.moveNode(n, func(bodySpot) alteredShift { return by })
			}
		}
	}
}

// fall returns 0 at and above one height, 1 at and below another, and what lies between
// by its share.
func fall(top, low, up float64) float64 {
	if !(top > low) {
		return 0
	}
	return min(max((top-up)/(top-low), 0), 1)
}

// wholeOr returns a share that is 0 or 1, and leaves free what lies between: there the change
// spreads by itself, without a kink at either end.
func wholeOr(share float64) float64 {
	if share > 0 && share < 1 {
		return free
	}
	return share
}

// lowerWaist raises the waist of what hangs from there at the middle of the body, less and
// less towards the side.
func (a *altering) lowerWaist(t *alteredPiece, by float64) {
	t.holdParts(AtSide, AtHem, AtInsideLeg, AtAnkle)
	far := t.farthestOut(t.With(AtWaist))
	near := t.nearestIn(t.With(AtWaist))
	t.bend(t.With(AtWaist)...)
	for _, i := range t.With(AtWaist) {
		t.move(i, func(s bodySpot) alteredShift {
			shift := shiftBy(0, by*towardsSide(s.out-near, far-near))
			if slack := sideShare * (far - near); s.out < near+slack || s.out > far-slack {
				return shift
			}
			return shift.guiding()
		})
	}
}

// nearestIn returns how near to the middle the edges come, in mm.
func (t *alteredPiece) nearestIn(edges []int) float64 {
	least := math.Inf(1)
	if t.outward == 0 {
		return 0
	}
	for _, i := range edges {
		least = min(least, t.spot(t.start(i)).out, t.spot(t.finish(i)).out)
	}
	return least
}

// armpit returns the height of the armpit on the piece, in mm: of the lower end of its
// armhole, or where it has none of its side's upper end.
func (t *alteredPiece) armpit() float64 {
	if holes := t.With(AtArmhole); len(holes) > 0 {
		return t.lowest(holes)
	}
	high := math.Inf(-1)
	for _, i := range t.With(AtSide) {
		high = max(high, t.start(i).Dot(t.up), t.finish(i).Dot(t.up))
	}
	return high
}

// waist returns the height of the waist on the piece, in mm: that of a line that is called
// so, or else of its lower end.
func (t *alteredPiece) waist() float64 {
	if up, ok := t.level("waist"); ok {
		return up
	}
	if waist := t.With(AtWaist); len(waist) > 0 {
		return t.lowest(waist)
	}
	return t.lowest(t.With(AtHem))
}

// torso cuts front and back across between armpit and waist, and spreads evenly. Bust
// darts stay: the cut lies below them.
func (a *altering) torso() error {
	pieces, err := a.takeAll(a.of(func(t *PieceAnatomy) bool {
		return onTrunk(t) && t.Has(AtHem, AtWaist) && t.Has(AtSide, AtCentre, AtCentreFront, AtCentreBack)
	}), "a front or back that reaches to the waist")
	if err != nil {
		return err
	}
	for _, t := range pieces {
		t.holdParts(AtNeck, AtShoulder, AtArmhole)
		top, waist := t.belowDarts(t.armpit()), t.waist()
		rule := func(s bodySpot) alteredShift { return shiftBy(0, -a.by*wholeOr(fall(top, waist, s.up))) }
		for i, e := range t.Edges {
			if e.Part == AtNeck || e.Part == AtShoulder || e.Part == AtArmhole {
				continue
			}
			t.move(i, rule)
		}
		// Sides of front and back slant unlike: their lower ends give so that they stay
		// equally long.
		for _, end := range [...]EdgePart{AtHem, AtWaist} {
			for _, n := range t.Corners(AtSide, end) {
				t.moveNode(n, func(bodySpot) alteredShift { return shiftBy(0, free) })
			}
		}
		for i := range t.Piece.Darts {
			d := &t.Piece.Darts[i]
			a.points[d] = rule(t.spot(d.Apex))
		}
	}
	return nil
}

// belowDarts returns the height below the darts that open at the side above the waist, or
// the height given where that is lower.
func (t *alteredPiece) belowDarts(up float64) float64 {
	waist := t.waist()
	for i := range t.Piece.Darts {
		m, ok := t.Piece.mouthAt(&t.Piece.Darts[i])
		if !ok || t.Edges[m.edge].Part != AtSide {
			continue
		}
		if low := min(m.from.Dot(t.up), m.to.Dot(t.up)); low < up && low > waist {
			up = low
		}
	}
	return up
}
