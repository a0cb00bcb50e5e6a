package draft

// shoulders lists the pieces that have a shoulder and an armhole.
func (a *altering) shoulders() ([]*alteredPiece, error) {
	return a.takeAll(a.of(func(t *PieceAnatomy) bool {
		return t.Part == PartTrunk && t.Has(AtShoulder) && t.Has(AtArmhole)
	}), "a piece with a shoulder and an armhole")
}

// shoulderWidth moves the tips of the shoulders out along them. By hand the piece is
// slashed down from the shoulder and out to the armhole, and the part beside the armhole
// swung about it: so the armhole keeps its length.
func (a *altering) shoulderWidth() error {
	pieces, err := a.shoulders()
	if err != nil {
		return err
	}
	for _, t := range pieces {
		t.holdParts(AtNeck, AtCentre, AtCentreFront, AtCentreBack, AtSide, AtHem, AtWaist)
		tips, err := t.corners(AtShoulder, AtArmhole)
		if err != nil {
			return err
		}
		for _, i := range t.With(AtArmhole) {
			t.holdHalf(i)
			a.keepLength(alteredEdge{t, i})
		}
		for _, n := range tips {
			along := t.alongShoulder(n)
			t.push(n, t.to(bodySpot{at: n.At}, along).Sub(n.At), a.by)
		}
	}
	return nil
}

// swingsAbout is the place of an armhole about which its upper part swings, as a share of
// it from the shoulder. (Common practice, no source: at the notch.)
const swingsAbout = 2. / 3

// holdHalf keeps the lower part of an armhole where it is.
func (t *alteredPiece) holdHalf(i int) {
	if k := t.beside(AtShoulder, i); k >= 0 && t.follows(k, i) {
		t.movePart(i, swingsAbout, 1, stays)
		return
	}
	t.movePart(i, 0, 1-swingsAbout, stays)
}

// alongShoulder returns the direction of the shoulder towards its tip: a unit shift.
func (t *alteredPiece) alongShoulder(tip Node) alteredShift {
	for _, i := range t.With(AtShoulder) {
		from, to := t.start(i), t.finish(i)
		if t.Piece.Edges[i].Nodes[0].ID == tip.ID {
			from, to = to, from
		} else if t.Piece.nodeAt(i, len(t.Piece.Edges[i].Nodes)).ID != tip.ID {
			continue
		}
		u := to.Sub(from).Unit()
		return shiftBy(u.Dot(t.right)*t.side(to), u.Dot(t.up))
	}
	return shiftBy(1, 0)
}

// shoulderSlope lowers the tips of the shoulders, and the armholes with them. The shoulder
// keeps its length and swings about the neck.
func (a *altering) shoulderSlope() error {
	pieces, err := a.shoulders()
	if err != nil {
		return err
	}
	for _, t := range pieces {
		t.holdParts(AtNeck, AtCentre, AtCentreFront, AtCentreBack, AtHem, AtWaist)
		a.keepEach(t, AtShoulder)
		for _, i := range t.With(AtArmhole) {
			t.move(i, func(bodySpot) alteredShift { return shiftBy(free, -a.by) })
			a.keepLength(alteredEdge{t, i})
			if side := t.beside(AtSide, i); side >= 0 {
				t.holdBelow(i, side)
				slide := t.slide(i, side, -a.by)
				t.moveNode(t.corner(i, side), func(bodySpot) alteredShift { return slide })
			}
		}
	}
	return nil
}

// holdBelow keeps the side where it is from its first dart on, or else its lower half.
func (t *alteredPiece) holdBelow(armhole, side int) {
	from := 0.5
	length := t.Piece.EdgeLength(side)
	down := t.follows(armhole, side)
	for i := range t.Piece.Darts {
		m, ok := t.Piece.mouthAt(&t.Piece.Darts[i])
		if !ok || m.edge != side {
			continue
		}
		share := m.along / length
		if !down {
			share = 1 - share
		}
		from = min(from, share)
	}
	if down {
		t.movePart(side, from, 1, stays)
		return
	}
	t.movePart(side, 0, 1-from, stays)
}

// slide returns how the corner of armhole and side moves that goes up or down along the
// side by so many mm of height.
func (t *alteredPiece) slide(armhole, side int, up float64) alteredShift {
	end := EdgeFinish
	if t.follows(armhole, side) {
		end = EdgeStart
	}
	u := t.Piece.endTangent(side, end)
	const level = 0.2 // the sine below which a side is no way up or down
	if rise := u.Dot(t.up); rise > level || rise < -level {
		u = u.Mul(up / rise)
		return shiftBy(u.Dot(t.right)*t.side(t.corner(armhole, side).At), up)
	}
	return shiftBy(0, up)
}

// forwardNeck moves the hole for the neck forward as a whole: up on the back, down on the
// front. At the shoulder that is square to it, so that both shoulders stay as long as each
// other.
func (a *altering) forwardNeck() error {
	pieces, err := a.takeAll(a.of(func(t *PieceAnatomy) bool {
		return t.Part == PartTrunk && t.Aspect != AspectUnknown && t.Has(AtNeck)
	}), "a front or back with a neck")
	if err != nil {
		return err
	}
	var necks []alteredEdge
	for _, t := range pieces {
		by := a.by
		if t.Aspect == AspectFront {
			by = -by
		}
		t.holdParts(AtSide, AtHem, AtWaist, AtArmhole)
		a.forwardMiddle(t, by)
		ends, err := t.corners(AtNeck, AtShoulder)
		if err != nil {
			return err
		}
		for _, n := range ends {
			along := t.alongShoulder(t.shoulderTip(n))
			t.moveNode(n, func(bodySpot) alteredShift { return shiftBy(-along.up*by, along.out*by) })
		}
		for _, i := range t.With(AtNeck) {
			necks = append(necks, alteredEdge{t, i})
		}
	}
	a.keepLength(necks...)
	return nil
}

// shoulderTip returns the other end of the shoulder that begins or ends at a corner.
func (t *alteredPiece) shoulderTip(neck Node) Node {
	for _, i := range t.With(AtShoulder) {
		first, last := t.Piece.Edges[i].Nodes[0], *t.Piece.nodeAt(i, len(t.Piece.Edges[i].Nodes))
		if first.ID == neck.ID {
			return last
		}
		if last.ID == neck.ID {
			return first
		}
	}
	return neck
}

// forwardMiddle moves the neck at the middle of the body up: its corner there or, of a
// piece that is drawn whole, the place of the neck that lies nearest to the middle.
func (a *altering) forwardMiddle(t *alteredPiece, by float64) {
	found := false
	for _, middle := range [...]EdgePart{AtCentre, AtCentreFront, AtCentreBack} {
		for _, n := range t.Corners(AtNeck, middle) {
			found = true
			t.moveNode(n, func(bodySpot) alteredShift { return shiftBy(0, by) })
		}
	}
	if found {
		return
	}
	for _, i := range t.With(AtNeck) {
		t.moveMiddle(i, by)
	}
}

// moveMiddle moves the place of an edge that lies on the middle of the body.
func (t *alteredPiece) moveMiddle(i int, by float64) {
	k, at := t.Piece.locate(i, t.Piece.EdgeLength(i)/2)
	t.extra = append(t.extra, alteredPlace{t.g.first[i] + k, at, t.up, by})
}
