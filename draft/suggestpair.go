package draft

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hemlet/geom"
)

// What speaks for sewing an edge to another one. The weights are chosen so that a name
// with a length, or a length that no other edge has with corners that run on, is enough.
const (
	sureOfName      = 0.45 // the names say the same line of the garment
	sureOfLength    = 0.30 // the lengths are equal as far as sewing goes
	sureOfOnly      = 0.15 // no other edge is as long
	sureOfRunOn     = 0.15 // the outline runs on over the join
	sureOfHalfRunOn = 0.10 // with a slight corner
	sureOfCurve     = 0.20 // one curve fits into the other
	sureOfLike      = 0.10 // the neighbours are alike
	sureOfTube      = 0.10 // both lie between the same two edges of a piece that is cut in pairs, as a sleeve's do
	sureOfRelation  = 0.10 // the two pieces are sewn to each other elsewhere, the same sides up
	sureOfFold      = 0.60 // the edge lies where the piece that it is sewn to has its fold
	againstCorner   = 0.25 // the outline would have a sharp corner at the join
	againstSelf     = 0.10 // both edges belong to one piece that says nothing
	againstLength   = 0.20 // the lengths differ by as much as they may, or by less in proportion
	sureOfMirror    = 0.85 // a middle seam of a piece that is cut in pairs
)

const (
	// runsOn, runsNearlyOn and cornerOf are by how much, in radians, an outline may turn
	// at a join: 10, 35 and 60 degrees. A hem or a neck is drawn right across. (Common
	// practice, no source.)
	runsOn       = 10 * math.Pi / 180
	runsNearlyOn = 35 * math.Pi / 180
	cornerOf     = 60 * math.Pi / 180
	// nearlyEqual is by how much two edges of one name may differ, as a share, and still
	// be meant for each other: what is eased in, with a slip of the pen.
	nearlyEqual = 0.08
	// clearBy is by how much one partner must be surer than the next.
	clearBy = 0.04
)

// edgePair is one edge held against another, or against its own mirror image.
type edgePair struct {
	a, b *freeEdge
	same bool // as in sewWay
	seam *Seam
	sure float64
	why  string
}

// pairs suggests the seams of one edge to one other.
func (g *suggester) pairs() {
	list := g.allPairs()
	unclear := make(map[edgeKey]bool)
	for i, pair := range list {
		if g.isTaken(pair) || unclear[pair.a.key()] || unclear[pair.b.key()] || !g.agrees(pair) {
			continue
		}
		if _, known := g.relation[relationOf(pair.a.piece, pair.b.piece)]; known {
			pair.sure += sureOfRelation
		}
		if pair.sure < leastSure-slackOfSure {
			continue
		}
		rival := slices.ContainsFunc(list[i+1:], func(other edgePair) bool {
			return other.sure > pair.sure-clearBy && other.shares(pair) && !other.sameEdges(pair) && !g.isTaken(other) && g.agrees(other)
		})
		if rival {
			unclear[pair.a.key()], unclear[pair.b.key()] = true, true
			continue
		}
		g.relation[relationOf(pair.a.piece, pair.b.piece)] = pair.same
		g.take(pair.seam, pair.why, pair.sure)
	}
	g.foldFellows()
}

// allPairs lists what speaks for itself, the surest first.
func (g *suggester) allPairs() []edgePair {
	var list []edgePair
	for i, a := range g.free {
		if own, ok := g.ownMirror(a); ok {
			list = append(list, own)
		}
		for _, b := range g.free[i+1:] {
			list = append(list, g.pair(a, b)...)
		}
	}
	slices.SortStableFunc(list, func(x, y edgePair) int { return cmp.Compare(y.sure, x.sure) })
	return list
}

// pieceRelation is a pair of pieces, in the order of their ids.
type pieceRelation struct{ a, b ID }

func relationOf(a, b *Piece) pieceRelation {
	return pieceRelation{min(a.ID, b.ID), max(a.ID, b.ID)}
}

// agrees reports whether a pair does not contradict what has been taken: two pieces that
// are sewn to each other twice are sewn with the same sides up.
func (g *suggester) agrees(pair edgePair) bool {
	same, known := g.relation[relationOf(pair.a.piece, pair.b.piece)]
	return !known || pair.a.piece == pair.b.piece || same == pair.same
}

func (g *suggester) isTaken(pair edgePair) bool {
	return g.taken[pair.a.key()] || g.taken[pair.b.key()]
}

func (p edgePair) sameEdges(q edgePair) bool { return p.a == q.a && p.b == q.b }

func (p edgePair) shares(q edgePair) bool {
	return p.a == q.a || p.a == q.b || p.b == q.a || p.b == q.b
}

// ownMirror suggests a middle seam of a piece that is cut in pairs.
func (g *suggester) ownMirror(a *freeEdge) (edgePair, bool) {
	if a.piece.Cut.Way != CutPairs || !a.line.ownMirror() {
		return edgePair{}, false
	}
	if lineOfName(a.edge.Name) == noLine && a.part != AtCentreBack && a.part != AtCrotch {
		return edgePair{}, false // a front that is cut twice mostly opens there
	}
	return edgePair{a, a, false, g.middleSeam(a), sureOfMirror, "it lies on the middle of the body, and the piece is cut left and right"}, true
}

// middleSeam is the seam of an edge to its own mirror image.
func (g *suggester) middleSeam(a *freeEdge) *Seam {
	seam := &Seam{A: drawnRun(a.piece.ID, a.edge.ID), B: drawnRun(a.piece.ID, a.edge.ID), Ratio: 1, To: 1}
	g.p.matchOwnMirror(seam)
	g.p.matchEnds(seam)
	return seam
}

// foldFellows suggests the middle seams of pieces whose edges nobody has named: where a
// piece that is cut in pairs is sewn twice to one that is cut on the fold, and has an edge
// in the place of that fold, as a back with a centre seam has beside a front.
func (g *suggester) foldFellows() {
	type place struct{ piece, edge ID }
	votes := make(map[place]int)
	against := make(map[ID]map[ID]bool)
	vote := func(a, b EdgeUse) {
		p, i, errA := g.look.edge(a)
		q, j, errB := g.look.edge(b)
		if errA != nil || errB != nil || p.Cut.Way != CutPairs || q.FoldEdge() < 0 || len(p.Edges) != len(q.Edges) {
			return
		}
		step, n := q.FoldEdge()-j, len(p.Edges)
		if p.Cut.Way == CutPairs && a.Copy.Mirrored == (b.Half == Far) {
			step = -step
		}
		e := p.Edges[((i+step)%n+n)%n].ID
		votes[place{p.ID, e}]++
		if against[p.ID] == nil {
			against[p.ID] = make(map[ID]bool)
		}
		against[p.ID][e] = true
	}
	sewn := func(a, b Run) {
		if len(a) == 1 && len(b) == 1 {
			vote(a[0], b[0])
			vote(b[0], a[0])
		}
	}
	for _, s := range g.p.Seams {
		sewn(s.A, s.B)
	}
	for _, sg := range g.found {
		sewn(sg.A, sg.B)
	}
	for _, f := range g.free {
		if votes[place{f.piece.ID, f.edge.ID}] < 2 || len(against[f.piece.ID]) > 1 || f.line != noLine || g.taken[f.key()] {
			continue
		}
		seam := g.middleSeam(f)
		g.take(seam, "it lies where the piece that it is sewn to has its fold", sureOfFold)
	}
}

// pair holds two edges against each other, in the one or two ways in which they can be
// sewn; nothing where nothing speaks for them.
func (g *suggester) pair(a, b *freeEdge) []edgePair {
	long, short := max(a.length, b.length), min(a.length, b.length)
	named := a.line == b.line && a.line != noLine
	equal := long-short <= seamLimit(short)
	if a.piece == b.piece && a.piece.Cut.Way == CutSingle && a.piece.Cut.Count > 1 {
		return nil // two panels cut alike are sewn to each other, not each to itself
	}
	if !equal && !(named && long <= short*(1+nearlyEqual)) || !mayMeet(a, b) || !g.partsMeet(a, b) {
		return nil
	}
	sure := 0.0
	var why []string
	if named {
		sure += sureOfName
		why = append(why, a.together(b))
	}
	if equal {
		sure += sureOfLength
		why = append(why, "both are "+g.p.Unit.Format(short)+" long")
		if g.onlyLength(a, b) {
			sure += sureOfOnly
		}
	} else {
		sure -= againstLength * (long/short - 1) / nearlyEqual
		why = append(why, "they differ by "+g.p.Unit.FormatSmall(long-short))
	}
	if a.piece == b.piece && !named {
		if !tube(a, b) {
			return nil
		}
		sure += sureOfTube - againstSelf
	}
	var list []edgePair
	for _, way := range g.waysOf(a, b) {
		sure, why := sure+way.sure, slices.Clone(why)
		if equal && !a.straight && !b.straight && way.fits(a, b) {
			sure += sureOfCurve
			why = append(why, "their curves fit")
		}
		if way.turn <= runsNearlyOn {
			why = append(why, "the outline runs on across the join")
		}
		if sure < leastSure-sureOfRelation-slackOfSure {
			continue
		}
		if seam := g.sewn(a, b, way); seam != nil {
			list = append(list, edgePair{a, b, way.same, seam, sure, strings.Join(why, ", ")})
		}
	}
	return list
}

// slackOfSure is what sums of weights may lose to rounding.
const slackOfSure = 1e-9

// together says why two edges belong to one line.
func (f *freeEdge) together(other *freeEdge) string {
	if lineOfName(f.edge.Name) != noLine && lineOfName(other.edge.Name) != noLine {
		return "the names go together"
	}
	return "each is the " + f.part.String() + " of its piece"
}

// tube reports whether two edges of one piece close it to a tube: a piece that is cut in
// pairs, as sleeves and legs are, and has one edge on either side between them. A
// rectangle has two such pairs.
func tube(a, b *freeEdge) bool {
	n := len(a.piece.Edges)
	return a.piece.Cut.Way == CutPairs && n == 4 && (b.index-a.index+n)%n == 2 && !a.piece.squareCut()
}

// mayMeet reports whether two edges can be sewn to each other as far as their pieces
// and names go.
func mayMeet(a, b *freeEdge) bool {
	if a.piece.Layer != b.piece.Layer || a.piece.Garment != b.piece.Garment && a.piece.Garment != "" && b.piece.Garment != "" {
		return false
	}
	if a.line.round() || b.line.round() {
		return false
	}
	return a.line == b.line || a.line == noLine || b.line == noLine
}

// onlyLength reports whether no other free edge of the garment is as long as the two.
func (g *suggester) onlyLength(a, b *freeEdge) bool {
	limit := seamLimit(a.length)
	for _, other := range g.free {
		if other != a && other != b && other.piece.Garment == a.piece.Garment && other.piece.Layer == a.piece.Layer &&
			math.Abs(other.length-a.length) <= limit && (other.line == noLine || !other.line.round()) {
			return false
		}
	}
	return true
}

// sewWay is which ends of two edges meet.
type sewWay struct {
	// same says that the two are drawn running the same way, so that one of them is
	// meant mirrored.
	same bool
	// turn is by how much, in radians, the outline turns at the join, the worse of the
	// two ends.
	turn float64
	sure float64
}

// tellsEnds is from how many likenesses on the neighbours alone say which ends meet.
const tellsEnds = 2

// waysOf lists the ways in which the ends of two edges can meet. Of one piece, or of
// pieces of which none is mirrored, only edges can that are drawn running against each
// other.
func (g *suggester) waysOf(a, b *freeEdge) []sewWay {
	same, against := g.p.neighboursAlike(drawnRun(a.piece.ID, a.edge.ID), drawnRun(b.piece.ID, b.edge.ID))
	bySame, byAgainst := g.partWays(a, b)
	loose := bySame && g.looseHalf(a.piece) && g.looseHalf(b.piece)
	var ways []sewWay
	if (same-against < tellsEnds || a.piece == b.piece) && !bySame {
		ways = append(ways, sewWay{false, max(offStraight(a.starts+b.ends), offStraight(a.ends+b.starts)), likeness(against - same)})
	}
	if against-same < tellsEnds && a.piece != b.piece && !byAgainst && (mirrors(a.piece) || mirrors(b.piece) || loose) {
		ways = append(ways, sewWay{true, max(offStraight(a.starts+b.starts), offStraight(a.ends+b.ends)), likeness(same - against)})
	}
	for i := range ways {
		switch w := &ways[i]; {
		case w.turn <= runsOn:
			w.sure += sureOfRunOn
		case w.turn <= runsNearlyOn:
			w.sure += sureOfHalfRunOn
		case w.turn > cornerOf:
			w.sure -= againstCorner
		}
	}
	return ways
}

// likeness turns a count of what is alike, from -4 to 4, into how sure it makes.
func likeness(n int) float64 { return sureOfLike * float64(n) / 4 }

// mirrors reports whether a piece has another side that is its mirror image.
func mirrors(p *Piece) bool { return p.Cut.Way == CutPairs || p.Cut.Way == CutOnFold }

// offStraight returns by how much two angles that lie side by side differ from a
// straight line.
func offStraight(sum float64) float64 { return math.Abs(sum - math.Pi) }

// sewn returns the seam of two edges whose ends meet in a way, nil where it cannot be
// sewn.
func (g *suggester) sewn(a, b *freeEdge, way sewWay) *Seam {
	seam := &Seam{A: drawnRun(a.piece.ID, a.edge.ID), B: drawnRun(b.piece.ID, b.edge.ID), Ratio: 1, To: 1}
	if way.same {
		if other, ok := g.p.mirrored(seam.B); ok {
			seam.B = other
		} else if other, ok := g.p.mirrored(seam.A); ok {
			seam.A = other
		}
	}
	if loose := way.same && !mirrors(a.piece) && !mirrors(b.piece); !loose && seam.A[0].forward() == seam.B[0].forward() {
		seam.B = seam.B.reversed()
	}
	seam.Fuller = g.p.longer(seam)
	if g.p.checkRuns(seam) != nil {
		return nil
	}
	_ = g.p.setBothSides(seam, nil, &Outcome{}) // without a wish it cannot be refused
	return seam
}

const (
	// curveSteps is in how many places two curves are held against each other.
	curveSteps = 16
	// curveFits is by how much they may lie apart, as a share of their length.
	curveFits = 0.01
)

// fits reports whether the curve of one edge is that of the other where they meet, beside
// it or upon it.
func (w sewWay) fits(a, b *freeEdge) bool {
	pa, pb := geom.NewRun(a.piece.EdgeParts(a.index)...), geom.NewRun(b.piece.EdgeParts(b.index)...)
	if !w.same {
		pb = pb.Reverse()
	}
	at := func(r geom.Run, share float64) geom.Point {
		place, ok := r.At(share * r.Length())
		if !ok {
			return geom.Point{}
		}
		return r.Point(place)
	}
	frame := func(r geom.Run) func(geom.Point) geom.Point {
		start := at(r, 0)
		along := at(r, 1).Sub(start).Unit()
		return func(q geom.Point) geom.Point {
			v := q.Sub(start)
			return geom.Pt(v.Dot(along), along.Cross(v))
		}
	}
	fa, fb := frame(pa), frame(pb)
	// The two sides of one cut fit beside each other, two like pieces one on the other.
	beside, upon := true, true
	for i := 1; i < curveSteps; i++ {
		share := float64(i) / curveSteps
		u, v := fa(at(pa, share)), fb(at(pb, share))
		beside = beside && u.Dist(v) <= curveFits*a.length
		upon = upon && u.Dist(geom.Pt(v.X, -v.Y)) <= curveFits*a.length
	}
	return beside || upon
}

// cornerAngle returns the angle in radians within the piece at the corner where edge i
// starts: pi where the outline runs on.
func (p *Piece) cornerAngle(i int) float64 {
	n := len(p.Edges)
	before, after := p.EdgePath((i+n-1)%n), p.EdgePath(i)
	u, v := before[len(before)-1].Tangent(1), after[0].Tangent(0)
	return math.Pi - math.Atan2(u.Cross(v), u.Dot(v))
}

// squareCut reports whether a piece is a plain rectangle, two edges of which are always
// equal.
func (p *Piece) squareCut() bool {
	if len(p.Edges) != 4 {
		return false
	}
	for i := range p.Edges {
		if offStraight(2*p.cornerAngle(i)) > runsOn || bend(p.EdgePath(i)) > plainlyStraight*p.EdgeLength(i) {
			return false
		}
	}
	return true
}
