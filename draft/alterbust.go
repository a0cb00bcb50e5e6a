package draft

import (
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// bust alters the front for a fuller or flatter bust.
//
// By hand the front is slashed from the waist up to the point of the bust and on to the
// armhole, all but through, and from the side to that point. The part beside the armhole
// turns about the place where the slash ends; what lies below the slash from the side
// comes along level. So an angle opens at the point of the bust, which the dart takes up.
// All parts are rigid: neither armhole nor side change their length.
func (a *altering) bust() error {
	fronts, err := a.takeAll(a.of(covers(AspectFront, func(t *PieceAnatomy) bool {
		return onTrunk(t) && t.Has(AtArmhole) && t.Has(AtSide)
	})), "a front with an armhole and a side")
	if err != nil {
		return err
	}
	for _, t := range fronts {
		t.holdParts(AtNeck, AtShoulder)
		var halves []*slashedFront
		for _, side := range t.With(AtSide) {
			f, err := a.slash(t, side)
			if err != nil {
				return err
			}
			halves = append(halves, f)
		}
		a.bustBottom(t, halves)
		a.bustTucks(t, halves)
	}
	return nil
}

// slashedFront is the half of a front that is slashed and spread for a bust.
type slashedFront struct {
	t *alteredPiece
	// armhole and side are its edges, pivot is where the slash ends at the armhole, and
	// share where on that edge.
	armhole, side int
	pivot         bodySpot
	share         float64
	// dart is the one at the side whose point is the point of the bust, nil without one;
	// mouth is where it opens.
	dart  *Dart
	mouth mouth
	// waist is the dart below that takes in what the front gets wider, nil without one.
	waist *Dart
	// wide is how much wider the front gets at the bust and hem at its lower end; angle is
	// by how much the part at the armhole turns outwards, in radians, and drop how far
	// what lies below comes down, in mm.
	wide, hem, angle, drop float64
}

// slashEnds is where the slash ends at the armhole, as a share of it from the side.
// (Common practice, no source.)
const slashEnds = 1. / 3

// heldArmhole is how much of the armhole, from the shoulder, stays: what lies between that
// and where the slash ends is one curve with what turns, and must give a little.
const heldArmhole = 0.5

// leastAltered is the least width in mm that an alteration leaves a dart: a narrower one
// cannot be sewn.
const leastAltered = 0.5

// slash finds what is slashed of one half and says what moves at its armhole and side.
func (a *altering) slash(t *alteredPiece, side int) (*slashedFront, error) {
	f := &slashedFront{t: t, side: side, armhole: t.beside(AtArmhole, side), wide: a.by / 2}
	if f.armhole < 0 {
		return nil, fmt.Errorf("the side of %s does not begin at its armhole; name its edges by what they are", t.Piece.label())
	}
	f.share = slashEnds
	if f.down() {
		f.share = 1 - slashEnds
	}
	k, at := t.Piece.locate(f.armhole, f.share*t.Piece.EdgeLength(f.armhole))
	f.pivot = t.spot(segment(*t.Piece.nodeAt(f.armhole, k), *t.Piece.nodeAt(f.armhole, k+1)).At(at))
	f.findDarts()
	if f.dart != nil {
		if err := f.turn(); err != nil {
			return nil, err
		}
		opens := f.opens()
		if f.mouth.width()+opens < leastAltered {
			return nil, fmt.Errorf("%s of %s takes up %s and would lose %s; alter by less", f.dart.called(), t.Piece.label(), a.p.Unit.Format(f.mouth.width()), a.p.Unit.Format(-opens))
		}
		a.mouths[f.dart] = f.mouth.width() + opens
		a.points[f.dart] = f.below(t.spot(f.dart.Apex))
		a.say("%s of %s takes up %s instead of %s.", capital(f.dart.called()), t.Piece.label(), a.p.Unit.Format(f.mouth.width()+opens), a.p.Unit.Format(f.mouth.width()))
	} else {
		a.say("%s has no bust dart at its side: it gets wider, and no longer over the bust.", t.Piece.label())
	}
	if f.hem = f.wide; f.waist == nil && a.sewn(t, t.bottom()) {
		f.hem = 0
	}
	f.moves(a)
	if f.dart == nil {
		return f, a.givesWith(t, f.armhole)
	}
	return f, nil
}

// down reports whether the side runs from the armhole down.
func (f *slashedFront) down() bool { return f.t.follows(f.armhole, f.side) }

// findDarts finds the dart at the side that is nearest to the armhole, and the one at the
// lower end that is nearest below its point.
func (f *slashedFront) findDarts() {
	t := f.t
	for i := range t.Piece.Darts {
		d := &t.Piece.Darts[i]
		m, ok := t.Piece.mouthAt(d)
		if !ok || d.Fold != Wedge {
			continue
		}
		switch {
		case m.edge == f.side:
			if f.dart == nil || d.Apex.Dot(t.up) > f.dart.Apex.Dot(t.up) {
				f.dart, f.mouth = d, m
			}
		case slices.Contains(t.bottom(), m.edge) && t.side(m.middle()) == t.side(f.pivot.at) && m.width()+f.wide >= leastAltered:
			if f.waist == nil || f.aside(d) < f.aside(f.waist) {
				f.waist = d
			}
		}
	}
}

// aside returns how far beside the point of the bust a dart at the lower end lies, in mm.
func (f *slashedFront) aside(d *Dart) float64 {
	at := f.pivot.out / 2
	if f.dart != nil {
		at = f.t.spot(f.dart.Apex).out
	}
	return math.Abs(f.t.spot(d.Apex).out - at)
}

// turn finds the angle by which the point of the bust goes out as far as the front is to
// get wider.
func (f *slashedFront) turn() error {
	apex := f.t.spot(f.dart.Apex)
	v := geom.Pt(apex.out-f.pivot.out, apex.up-f.pivot.up)
	r, x := v.Len(), v.X+f.wide
	// A point that lies much beside the armhole rather than below it would turn too far.
	const leastDrop = 0.3 // of the way from the armhole to the point, before and after
	if v.Y > -leastDrop*r || r*r-x*x < leastDrop*leastDrop*r*r {
		return fmt.Errorf("the point of the bust dart of %s lies too high for that; alter by less", f.t.Piece.label())
	}
	y := -math.Sqrt(r*r - x*x)
	f.angle = math.Atan2(y, x) - math.Atan2(v.Y, v.X)
	f.drop = v.Y - y
	return nil
}

// above returns how a place of the part beside the armhole moves.
func (f *slashedFront) above(s bodySpot) alteredShift {
	if f.dart == nil {
		return shiftBy(f.wide, free)
	}
	v := geom.Pt(s.out-f.pivot.out, s.up-f.pivot.up)
	w := geom.Rotation(f.angle, geom.Point{}).Apply(v)
	return shiftBy(w.X-v.X, w.Y-v.Y)
}

// below returns how a place below the slash from the side moves.
func (f *slashedFront) below(s bodySpot) alteredShift {
	if f.hem == f.wide {
		return shiftBy(f.wide, -f.drop)
	}
	from := f.pivot.up
	if f.dart != nil {
		from = min(f.t.spot(f.mouth.from).up, f.t.spot(f.mouth.to).up)
	}
	to := f.t.lowest(f.t.bottom())
	share := (from - s.up) / (from - to)
	return shiftBy(f.wide+(f.hem-f.wide)*min(max(share, 0), 1), -f.drop)
}

// opens returns by how much the mouth of the dart opens, in mm.
func (f *slashedFront) opens() float64 {
	near, far := f.t.spot(f.mouth.from), f.t.spot(f.mouth.to)
	if !f.down() {
		near, far = far, near
	}
	return f.t.to(near, f.above(near)).Dist(f.t.to(far, shiftBy(f.wide, -f.drop))) - f.mouth.width()
}

// moves says what moves at the armhole and the side.
func (f *slashedFront) moves(a *altering) {
	t := f.t
	from, to := 0.0, heldArmhole
	if !f.down() {
		from, to = 1-heldArmhole, 1
	}
	t.movePart(f.armhole, from, to, stays)
	if f.dart != nil {
		a.keepLength(alteredEdge{t, f.armhole})
	}
	armpit := t.corner(f.armhole, f.side)
	t.move(f.side, f.below)
	if f.dart == nil {
		t.moveNode(armpit, f.above)
		return
	}
	first, second := t.Piece.Edges[f.side].Nodes[f.mouth.node], *t.Piece.nodeAt(f.side, f.mouth.node+1)
	share := f.mouth.along / t.Piece.EdgeLength(f.side)
	if f.down() {
		t.movePart(f.side, 0, share, f.above)
		t.moveNode(first, f.above)
		t.moveNode(second, f.below)
		return
	}
	t.movePart(f.side, share, 1, f.above)
	t.moveNode(first, f.below)
	t.moveNode(second, f.above)
}

// bustBottom moves the lower end of a front: down, and out beyond the dart, or more and
// more towards the side.
func (a *altering) bustBottom(t *alteredPiece, halves []*slashedFront) {
	far := t.farthestOut(t.bottom())
	for _, i := range t.bottom() {
		t.move(i, func(s bodySpot) alteredShift {
			f := halfAt(halves, s)
			by := shiftBy(0, -f.drop)
			switch {
			case f.waist == nil:
				by.out = f.hem * s.out / far
			case s.out > t.spot(f.waistMiddle()).out:
				by.out = f.hem
			}
			return by
		})
	}
	for _, f := range halves {
		if f.waist == nil {
			continue
		}
		width := t.Piece.TakeUp(*f.waist)
		a.mouths[f.waist] = width + f.wide
		a.points[f.waist] = shiftBy(f.wide/2, -f.drop)
		a.say("%s of %s takes up %s instead of %s.", capital(f.waist.called()), t.Piece.label(), a.p.Unit.Format(width+f.wide), a.p.Unit.Format(width))
	}
}

// halfAt returns the half on which a place lies.
func halfAt(halves []*slashedFront, s bodySpot) *slashedFront {
	for _, f := range halves {
		if f.t.side(f.pivot.at) == f.t.side(s.at) {
			return f
		}
	}
	return halves[0]
}

// waistMiddle returns the middle of the mouth of the dart below.
func (f *slashedFront) waistMiddle() geom.Point {
	m, _ := f.t.Piece.mouthAt(f.waist)
	return m.middle()
}

// bustTucks lets the darts inside the piece that are pointed at both ends take in at the
// waist what the front gets wider, where no dart at its lower end does.
func (a *altering) bustTucks(t *alteredPiece, halves []*slashedFront) {
	for _, f := range halves {
		if f.waist != nil {
			continue
		}
		for _, l := range t.Piece.Lines {
			if _, _, ok := l.dartSides(); !ok || t.side(l.Nodes[0].At) != t.side(f.pivot.at) {
				continue
			}
			width := l.dartWidth() + f.wide
			if width < leastAltered {
				continue
			}
			a.after = append(a.after, func(q *Piece) {
				if line := q.Line(l.ID); q.ID == t.Piece.ID && line != nil {
					line.widen(width)
				}
			})
			a.say("%s of %s takes up %s instead of %s.", capital(l.Name), t.Piece.label(), a.p.Unit.Format(width), a.p.Unit.Format(l.dartWidth()))
			break // one takes it all in
		}
	}
}
