package draft

import (
	"math"

	"hemlet/geom"
)

// belly and tail let the body be rounder in front or behind. By hand the piece is slashed
// up from the hem and across from the middle to the side, and spread: the side swings out,
// and the middle gets longer.
func (a *altering) belly() error {
	return a.rounder(AspectFront, "the front of a bodice, skirt or trousers", "belly")
}

func (a *altering) tail() error {
	return a.rounder(AspectBack, "the back of a bodice, skirt or trousers", "tail", "belly", "hip")
}

// middleShare is by how much the middle gets longer, as a share of what goes round the body
// in front or behind. (Common practice, no source: half.)
const middleShare = 0.5

func (a *altering) rounder(aspect Aspect, what string, levels ...string) error {
	pieces, err := a.takeAll(a.of(covers(aspect, func(t *PieceAnatomy) bool {
		return onTrunk(t) && t.Has(AtSide) && t.Has(AtHem) || hangs(t)
	})), what)
	if err != nil {
		return err
	}
	for _, t := range pieces {
		if hangs(t.PieceAnatomy) {
			a.rounderBelow(t, levels)
			continue
		}
		a.rounderTrunk(t, levels)
	}
	return nil
}

// rounderTrunk swings the sides of a front or back out about the armpit, and lengthens its
// middle at the hem.
func (a *altering) rounderTrunk(t *alteredPiece, levels []string) {
	wide, longer := a.by/2, middleShare*a.by
	t.holdParts(AtNeck, AtShoulder, AtArmhole)
	top, low := t.armpit(), t.lowest(t.bottom())
	if up, ok := t.level(levels...); ok && up > low && up < top {
		low = up
	}
	for _, i := range t.With(AtSide) {
		t.move(i, func(s bodySpot) alteredShift { return shiftBy(wide*wholeOr(fall(top, low, s.up)), free) })
		if k := t.beside(AtArmhole, i); k >= 0 {
			t.moveNode(t.corner(k, i), stays)
		}
		a.keepLength(alteredEdge{t, i})
	}
	far := t.farthestOut(t.bottom())
	t.bend(t.bottom()...)
	for _, i := range t.bottom() {
		t.move(i, func(s bodySpot) alteredShift {
			by := shiftBy(wide*s.out/far, -longer*towardsSide(s.out, far)).guiding()
			if s.out > (1-sideShare)*far {
				by.up, by.guide = free, false // the side keeps its length
			}
			return by
		})
	}
	a.endCentre(t, shiftBy(0, -longer))
	a.holdNeck(t)
}

// sideShare is how near to the side, as a share of the way from the middle, a place of a
// hem goes with the side.
const sideShare = 1e-3

// rounderBelow lets a skirt or trousers be rounder below the waist: the waist rises in the
// middle and stays as long as it is; the side goes out down to the level, and from there on
// straight down for a skirt, or back for a leg.
func (a *altering) rounderBelow(t *alteredPiece, levels []string) {
	wide := a.by / 2
	a.lowerWaist(t, middleShare*a.by)
	waist := t.With(AtWaist)
	a.keepEach(t, AtWaist)
	top, low := t.lowest(waist), t.lowest(t.With(AtSide))
	level, ok := t.level(levels...)
	if !ok || level > top {
		// As far below the waist as half of what is drawn of it is wide; common practice
		// puts the belly at some 8 cm, no source.
		level = top - (t.farthestOut(waist)-t.nearestIn(waist))/2
	}
	level = max(level, low)
	end := low
	if t.Part == PartLeg {
		end = max(level-(top-level), low)
	}
	rule := func(s bodySpot) alteredShift {
		out := wholeOr(fall(top, level, s.up))
		if t.Part == PartLeg && s.up < level {
			out = 1 - wholeOr(fall(level, end, s.up))
		}
		return shiftBy(wide*out, free)
	}
	for _, i := range t.With(AtSide) {
		t.move(i, rule)
		if k := t.beside(AtWaist, i); k >= 0 {
			t.moveNode(t.corner(k, i), stays)
		}
		a.keepLength(alteredEdge{t, i})
	}
	if t.Part == PartLeg {
		return
	}
	far := t.farthestOut(t.With(AtHem))
	for _, i := range t.With(AtHem) {
		t.move(i, func(s bodySpot) alteredShift {
			by := shiftBy(wide*s.out/far, 0)
			if s.out > (1-sideShare)*far {
				by.up = free
			}
			return by
		})
	}
}

// arm lets a sleeve be wider under the arm. By hand it is slashed down its middle and
// across under the cap, and spread: the cap gets lower, and stays as long as it is.
func (a *altering) arm() error {
	sleeves, err := a.takeAll(a.of(func(t *PieceAnatomy) bool { return t.Part == PartSleeve && t.Has(AtCap) && t.Has(AtUnderarm) }),
		"a sleeve with a cap and a seam")
	if err != nil {
		return err
	}
	for _, t := range sleeves {
		t.holdParts(AtWrist, AtHem)
		corners, err := t.corners(AtCap, AtUnderarm)
		if err != nil {
			return err
		}
		wide := a.by / (2 * float64(len(sleeves)))
		for _, n := range corners {
			t.moveNode(n, func(bodySpot) alteredShift { return shiftBy(wide, free) })
		}
		var caps []alteredEdge
		for _, i := range t.With(AtCap) {
			caps = append(caps, alteredEdge{t, i})
		}
		a.keepLength(caps...)
		a.keepEach(t, AtUnderarm)
	}
	return nil
}

// foot lets the pieces of a foot be wider across the ball: as far from the middle as they
// reach there, each by its share of it; the heel stays.
func (a *altering) foot() error {
	var list []*PieceAnatomy
	for _, t := range a.all {
		if isFoot(t.Piece) {
			list = append(list, t)
		}
	}
	if len(list) == 0 {
		return a.lacks("a sole or another piece of a foot")
	}
	for _, piece := range list {
		long := *piece
		long.Up = footUp(piece)
		t, err := a.take(&long)
		if err != nil {
			return err
		}
		if !t.Half {
			across := t.reach(t.right)
			t.outward, t.middle = 0, t.right.Mul((across[0]+across[1])/2)
		}
		a.footMoves(t, a.by/float64(len(list)))
	}
	return nil
}

// footWords are the words for pieces that cover a foot. (Common practice, no source.)
var footWords = []string{"foot", "sole", "insole", "sock", "shoe", "boot", "slipper", "upper", "vamp", "toe", "paw"}

func isFoot(p *Piece) bool { return saysAny(p.Name, footWords) }

// footUp returns the direction from the heel to the toes: along the piece, towards its
// wider end.
func footUp(t *PieceAnatomy) geom.Point {
	path := t.Piece.DrawnPath()
	points := path.Flatten(footTol)
	var from, to geom.Point
	for _, p := range points {
		for _, q := range points {
			if p.Dist(q) > from.Dist(to) {
				from, to = p, q
			}
		}
	}
	up := to.Sub(from).Unit()
	for _, way := range [...]geom.Point{t.Up, t.Up.Left()} {
		if math.Abs(way.Dot(up)) > math.Cos(math.Pi/12) {
			up = way.Mul(math.Copysign(1, way.Dot(up)))
		}
	}
	middle := from.Lerp(to, 0.5).Dot(up)
	low, high := 0.0, 0.0
	for _, p := range points {
		aside := math.Abs(p.Sub(from).Cross(up))
		if p.Dot(up) < middle {
			low = max(low, aside)
		} else {
			high = max(high, aside)
		}
	}
	if low > high {
		return up.Mul(-1)
	}
	return up
}

// footTol is how far in mm the corners may lie off the outline between which the length of
// a foot is sought.
const footTol = 0.5

// heelShare and ballShare are where on the length of a foot, from the heel, a wider foot
// begins to be wider and is so wholly.
const heelShare, ballShare = 1. / 3, 2. / 3

// footMoves moves all of the outline out from the middle line of the foot.
func (a *altering) footMoves(t *alteredPiece, wide float64) {
	heel, toe := t.reachUp()
	most := 0.0
	for i := range t.Edges {
		for _, s := range t.Piece.EdgePath(i) {
			for k := 0; k <= 8; k++ {
				most = max(most, t.spot(s.At(float64(k)/8)).out)
			}
		}
	}
	rule := func(s bodySpot) alteredShift {
		x := min(max(((s.up-heel)/(toe-heel)-heelShare)/(ballShare-heelShare), 0), 1)
		grows := x * x * (3 - 2*x) // without a kink at either end
		return shiftBy(wide/2*grows*math.Min(s.out/most, 1), 0)
	}
	for i := range t.Edges {
		t.move(i, rule)
	}
}

// reachUp returns from where to where the piece reaches upwards, in mm.
func (t *alteredPiece) reachUp() (low, high float64) {
	r := t.reach(t.up)
	return r[0], r[1]
}
