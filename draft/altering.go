package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"hemlet/geom"
	"hemlet/geom/warp"
)

// altering is an alteration being worked out: which pieces change, what of them is moved,
// what stays, and which lengths are kept.
type altering struct {
	p    *Project
	info AlterationInfo
	by   float64
	// all are the pieces of the garment that may change.
	all    []*PieceAnatomy
	m      *matching
	pieces []*alteredPiece
	// mouths are how wide in mm darts are to open, and points where their points go, of
	// those that change.
	mouths  map[*Dart]float64
	points  map[*Dart]alteredShift
	lengths []alteredLength
	// after is done to pieces once they are changed.
	after []func(*Piece)
	says  []string
}

// alteredLength is a length along edges, in mm, that is to be so.
type alteredLength struct {
	edges []alteredEdge
	want  float64
}

type alteredEdge struct {
	a    *alteredPiece
	edge int
}

// alteredPiece is a piece that is altered, with the directions of the body on it: right is
// to the right of the drawing as it is worn upright, up towards the head.
type alteredPiece struct {
	*PieceAnatomy
	g         *givingPiece
	up, right geom.Point
	// middle is a point on the middle line of the body, and outward 1 or -1 where all of the piece
	// lies on one side of it, to the right or the left; 0 where it lies on both.
	middle  geom.Point
	outward float64
	moved   map[placeKey]alteredShift
	order   []placeKey
	extra   []alteredPlace
	// loose are the stretches that may come to bend the other way.
	loose []int
}

// alteredPlace is a single place of the outline that moves so far in a direction.
type alteredPlace struct {
	stretch int
	t       float64
	along   geom.Point
	by      float64
}

// placeKey names a place of the outline: one of the places of a stretch at which what is
// moved is said.
type placeKey struct{ stretch, place int }

// shiftPlaces are the parameters of a stretch at which a shift is said: four hold a cubic.
var shiftPlaces = [...]float64{0, 1. / 3, 2. / 3}

// alteredShift is by how much a place moves out and up, in mm; what is NaN is free.
type alteredShift struct {
	out, up float64
	// guide says that the place only shows the way between others, and gives before they
	// do.
	guide bool
}

func shiftBy(out, up float64) alteredShift { return alteredShift{out: out, up: up} }

// guiding returns the shift as one that only shows the way.
func (s alteredShift) guiding() alteredShift {
	s.guide = true
	return s
}

// guideWeight is how much a place that only shows the way counts against one that is to be
// met.
const guideWeight = 0.01

// alterRule says how a place moves.
type alterRule func(bodySpot) alteredShift

var free = math.NaN()

// stays is the rule of what does not move.
func stays(bodySpot) alteredShift { return shiftBy(0, 0) }

// bodySpot is a place of a piece on the body: out from the middle, and up, in mm.
type bodySpot struct {
	at      geom.Point
	out, up float64
}

// to returns where the place goes by a shift.
func (t *alteredPiece) to(s bodySpot, by alteredShift) geom.Point {
	return s.at.Add(t.right.Mul(by.out * t.side(s.at))).Add(t.up.Mul(by.up))
}

// take lets a piece change.
func (a *altering) take(piece *PieceAnatomy) (*alteredPiece, error) {
	for _, had := range a.pieces {
		if had.Piece == piece.Piece {
			return had, nil
		}
	}
	if err := mayGive(piece.Piece); err != nil {
		return nil, err
	}
	t := &alteredPiece{PieceAnatomy: piece, up: piece.Up, moved: make(map[placeKey]alteredShift)}
	if t.up == (geom.Point{}) {
		return nil, fmt.Errorf("nothing tells which way up %s is worn; give it a grain line", piece.Piece.label())
	}
	t.right = t.up.Left().Mul(-1)
	t.g = a.m.take(piece.Piece)
	t.g.freeAll()
	t.findMiddle()
	a.pieces = append(a.pieces, t)
	return t, nil
}

// findMiddle finds where the middle of the body is.
func (t *alteredPiece) findMiddle() {
	box := t.boxAcross()
	t.middle = t.right.Mul((box[0] + box[1]) / 2)
	if centre := t.With(AtCentre, AtCentreFront, AtCentreBack); t.Half && len(centre) > 0 {
		t.middle = t.start(centre[0])
		t.outward = 1
		if (box[0]+box[1])/2 < t.middle.Dot(t.right) {
			t.outward = -1
		}
		return
	}
	right, left := 0, 0
	for _, i := range t.With(AtSide) {
		if t.start(i).Lerp(t.finish(i), 0.5).Dot(t.right) < (box[0]+box[1])/2 {
			left++
		} else {
			right++
		}
	}
	switch {
	case right > 0 && left == 0:
		t.outward, t.middle = 1, t.right.Mul(box[0])
	case left > 0 && right == 0:
		t.outward, t.middle = -1, t.right.Mul(box[1])
	}
}

// boxAcross returns from where to where the piece reaches to the right, in mm.
func (t *alteredPiece) boxAcross() [2]float64 { return t.reach(t.right) }

// reach returns from where to where the piece reaches in a direction, in mm.
func (t *alteredPiece) reach(way geom.Point) [2]float64 {
	turn := geom.Rotation(-way.Angle(), geom.Point{})
	box := t.Piece.DrawnPath().Transform(turn).Bounds()
	return [2]float64{box.Min.X, box.Max.X}
}

func (t *alteredPiece) start(i int) geom.Point { return t.Piece.EdgePath(i).Start() }

func (t *alteredPiece) finish(i int) geom.Point { return t.Piece.EdgePath(i).End() }

// side returns 1 where a point lies to the right of the middle of the body, else -1.
func (t *alteredPiece) side(at geom.Point) float64 {
	if t.outward != 0 {
		return t.outward
	}
	if at.Sub(t.middle).Dot(t.right) < 0 {
		return -1
	}
	return 1
}

// spot returns where on the body a point lies.
func (t *alteredPiece) spot(at geom.Point) bodySpot {
	return bodySpot{at: at, out: at.Sub(t.middle).Dot(t.right) * t.side(at), up: at.Dot(t.up)}
}

// move says of edge i how its places move; of those that lie between two shares of its
// length only. What was said of a place before no longer holds.
func (t *alteredPiece) move(i int, rule alterRule) { t.movePart(i, 0, 1, rule) }

func (t *alteredPiece) movePart(i int, from, to float64, rule alterRule) {
	length := t.Piece.EdgeLength(i)
	along := 0.0
	n := len(t.Piece.Edges[i].Nodes)
	for k := range n {
		at := t.g.first[i] + k
		s := segment(t.g.nodes[at], t.g.nodes[t.g.next(at)])
		gap := t.g.mouth(at)
		for place, param := range shiftPlaces {
			if place > 0 && (gap || s.Straight) {
				continue
			}
			here := along
			if !gap {
				here += s.LengthTo(param)
			}
			t.movePlace(placeKey{at, place}, s.At(param), here/length, from, to, rule)
		}
		if !gap {
			along += s.Length()
		}
	}
	t.movePlace(placeKey{t.g.end(i), 0}, t.finish(i), 1, from, to, rule)
}

// partSlack is by how much, as a share of an edge, a place may lie beyond the end of a
// part of it and belong to it.
const partSlack = 1e-9

func (t *alteredPiece) movePlace(key placeKey, at geom.Point, share, from, to float64, rule alterRule) {
	if share < from-partSlack || share > to+partSlack {
		return
	}
	if _, had := t.moved[key]; !had {
		t.order = append(t.order, key)
	}
	t.moved[key] = rule(t.spot(at))
}

// hold keeps edges where they are.
func (t *alteredPiece) hold(edges ...int) {
	for _, i := range edges {
		t.move(i, stays)
	}
}

// holdParts keeps the edges that are one of the parts where they are.
func (t *alteredPiece) holdParts(parts ...EdgePart) { t.hold(t.With(parts...)...) }

// moveNode says how a corner or another point of the outline moves.
func (t *alteredPiece) moveNode(n Node, rule alterRule) {
	for k := range t.g.nodes {
		if t.g.nodes[k].ID == n.ID {
			t.movePlace(placeKey{k, 0}, n.At, 0, 0, 1, rule)
		}
	}
}

// push says that a corner moves so far in a direction of the piece, and is free across it.
func (t *alteredPiece) push(n Node, along geom.Point, by float64) {
	for k := range t.g.nodes {
		if t.g.nodes[k].ID == n.ID {
			t.moveNode(n, func(bodySpot) alteredShift { return shiftBy(free, free) })
			t.extra = append(t.extra, alteredPlace{k, 0, along, by})
		}
	}
}

// bend lets the straight stretches of edges become curves, and curves bend the other way:
// what was straight across the piece is to be square to its middle and yet lower there than
// at the side, and what rose a little may have to dip.
func (t *alteredPiece) bend(edges ...int) {
	for _, i := range edges {
		for k := range t.Piece.Edges[i].Nodes {
			at := t.g.first[i] + k
			if t.g.mouth(at) {
				continue
			}
			t.loose = append(t.loose, at)
			if !t.g.straight(at) {
				continue
			}
			a, b := &t.g.nodes[at], &t.g.nodes[t.g.next(at)]
			third := b.At.Sub(a.At).Mul(1. / 3)
			a.Out, b.In = third, third.Mul(-1)
		}
	}
}

// shifts returns what is moved as geom/warp has it.
func (t *alteredPiece) shifts() []warp.Shift {
	var out []warp.Shift
	add := func(stretch int, at float64, by alteredShift) {
		here := segment(t.g.nodes[stretch], t.g.nodes[t.g.next(stretch)]).At(at)
		on := warp.Spot{Shape: t.g.shape, On: &warp.Place{Shape: t.g.shape, Stretch: stretch, T: at}}
		out = append(out, t.shift(on, here, by)...)
	}
	for _, key := range t.order {
		add(key.stretch, shiftPlaces[key.place], t.moved[key])
	}
	for _, x := range t.extra {
		on := warp.Spot{Shape: t.g.shape, On: &warp.Place{Shape: t.g.shape, Stretch: x.stretch, T: x.t}}
		out = append(out, warp.Shift{At: on, Along: x.along, By: x.by, Weight: 1})
	}
	return out
}

// shift returns how a spot moves that lies at a point.
func (t *alteredPiece) shift(spot warp.Spot, at geom.Point, by alteredShift) []warp.Shift {
	var out []warp.Shift
	weight := 1.0
	if by.guide {
		weight = guideWeight
	}
	if !math.IsNaN(by.out) {
		out = append(out, warp.Shift{At: spot, Along: t.right.Mul(t.side(at)), By: by.out, Weight: weight})
	}
	if !math.IsNaN(by.up) {
		out = append(out, warp.Shift{At: spot, Along: t.up, By: by.up, Weight: weight})
	}
	return out
}

// keepLength keeps edges as long as they are together.
func (a *altering) keepLength(edges ...alteredEdge) {
	want := 0.0
	for _, e := range edges {
		want += e.a.Piece.EdgeLength(e.edge)
	}
	if len(edges) > 0 {
		a.lengths = append(a.lengths, alteredLength{edges, want})
	}
}

// keepEach keeps each edge that is one of the parts as long as it is.
func (a *altering) keepEach(t *alteredPiece, parts ...EdgePart) {
	for _, i := range t.With(parts...) {
		a.keepLength(alteredEdge{t, i})
	}
}

// givesWith lets the pieces that are sewn to an edge change with it: the sleeve with an
// armhole that gets longer. What is not beside the seam stays.
func (a *altering) givesWith(t *alteredPiece, edge int) error {
	ref := EdgeRef{t.Piece.ID, t.Piece.Edges[edge].ID}
	for _, s := range a.p.Seams {
		side, _, k := useOf(s, ref)
		if k < 0 {
			continue
		}
		for _, u := range s.run(side.other()) {
			i := slices.IndexFunc(a.all, func(x *PieceAnatomy) bool { return x.Piece.ID == u.Piece })
			if i < 0 {
				continue
			}
			had := len(a.pieces)
			other, err := a.take(a.all[i])
			if err != nil {
				return err
			}
			if len(a.pieces) == had {
				continue
			}
			other.holdParts(AtWrist, AtHem, AtNeck, AtShoulder, AtWaist, AtCentre, AtCentreFront, AtCentreBack)
		}
	}
	return nil
}

// say adds a sentence to what the alteration tells.
func (a *altering) say(format string, args ...any) {
	a.says = append(a.says, fmt.Sprintf(format, args...))
}

// of returns the pieces of the garment for which a condition holds.
func (a *altering) of(is func(*PieceAnatomy) bool) []*PieceAnatomy {
	return slices.DeleteFunc(slices.Clone(a.all), func(t *PieceAnatomy) bool { return !is(t) })
}

// lacks returns the error that the garment has not what the alteration needs.
func (a *altering) lacks(what string) error {
	if len(a.all) == 0 {
		return errors.New("there is no piece to alter")
	}
	var names []string
	for _, t := range a.all {
		names = append(names, t.Piece.label())
	}
	const most = 6
	if len(names) > most {
		names = append(names[:most], "more")
	}
	return fmt.Errorf("of %s none is known as %s; name the pieces and their edges by what they are", strings.Join(names, ", "), what)
}

// bottom lists the edges at the lower end of a piece of the trunk.
func (t *alteredPiece) bottom() []int { return t.With(AtHem, AtWaist) }

// centre lists the edges in the middle of the body.
func (t *alteredPiece) centre() []int { return t.With(AtCentre, AtCentreFront, AtCentreBack) }

// corner returns the corner at which edges i and k meet, one of which follows the other.
func (t *alteredPiece) corner(i, k int) Node {
	if (i+1)%len(t.Edges) == k {
		return t.Piece.Edges[k].Nodes[0]
	}
	return t.Piece.Edges[i].Nodes[0]
}

// follows reports whether edge k begins where edge i ends.
func (t *alteredPiece) follows(i, k int) bool { return (i+1)%len(t.Edges) == k }

// beside returns the edge next to edge i that is a part of the garment, or -1.
func (t *alteredPiece) beside(part EdgePart, i int) int {
	n := len(t.Edges)
	for _, k := range [2]int{(i + 1) % n, (i + n - 1) % n} {
		if t.Edges[k].Part == part {
			return k
		}
	}
	return -1
}

// sewn reports whether one of the edges is sewn.
func (a *altering) sewn(t *alteredPiece, edges []int) bool {
	return slices.ContainsFunc(edges, func(i int) bool { return a.p.sewn(t.Piece.ID, t.Piece.Edges[i].ID) })
}

// farthestOut returns how far from the middle the edges reach, in mm.
func (t *alteredPiece) farthestOut(edges []int) float64 {
	most := 0.0
	for _, i := range edges {
		most = max(most, t.spot(t.start(i)).out, t.spot(t.finish(i)).out)
	}
	return most
}

// towardsSide is a share that falls from 1 at the middle of the body to 0 as far out as a place
// lies, and leaves the middle level.
func towardsSide(out, far float64) float64 {
	share := min(max(out/far, 0), 1)
	return 1 - share*share
}

// onTrunk reports whether a piece covers the trunk from the armpit up.
func onTrunk(t *PieceAnatomy) bool {
	return t.Part == PartTrunk && t.Has(AtArmhole, AtNeck, AtShoulder)
}

// hangs reports whether a piece hangs from the waist: its waist is its upper end.
func hangs(t *PieceAnatomy) bool {
	return (t.Part == PartSkirt || t.Part == PartLeg) && t.Has(AtWaist) && t.Has(AtSide)
}

// covers returns the condition that a piece lies in front or behind. A piece of which
// nothing tells is neither.
func covers(aspect Aspect, is func(*PieceAnatomy) bool) func(*PieceAnatomy) bool {
	return func(t *PieceAnatomy) bool { return t.Aspect == aspect && is(t) }
}

// takeAll takes pieces, and returns an error where there is none.
func (a *altering) takeAll(list []*PieceAnatomy, what string) ([]*alteredPiece, error) {
	if len(list) == 0 {
		return nil, a.lacks(what)
	}
	var out []*alteredPiece
	for _, piece := range list {
		t, err := a.take(piece)
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}

// corners returns the corners at which two parts meet, or the error that there is none.
func (t *alteredPiece) corners(one, other EdgePart) ([]Node, error) {
	list := t.Corners(one, other)
	if len(list) == 0 {
		return nil, fmt.Errorf("%s has no corner where its %s meets its %s; name its edges by what they are", t.Piece.label(), one, other)
	}
	return list, nil
}

// level returns how high on the piece a level of the body lies, in mm: that of a line
// inside it that is called so or that a span of that measure goes along; false where there
// is none.
func (t *alteredPiece) level(words ...string) (up float64, ok bool) {
	called := func(name string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(strings.ToLower(name), w) })
	}
	sum, n := 0.0, 0
	for _, l := range t.Piece.Lines {
		if l.Kind == DartLine || l.Closed || !called(l.Name) && !t.spanned(l.ID, called) {
			continue
		}
		for _, node := range l.Nodes {
			sum += node.At.Dot(t.up)
			n++
		}
	}
	return sum / float64(max(n, 1)), n > 0
}

// spanned reports whether a span goes along a line whose measure is one that is called so.
func (t *alteredPiece) spanned(line ID, called func(string) bool) bool {
	return slices.ContainsFunc(t.Piece.Spans, func(s Span) bool { return called(s.Measure) && slices.Contains(s.Lines, line) })
}

// lowest returns the height in mm of the lowest end of edges.
func (t *alteredPiece) lowest(edges []int) float64 {
	low := math.Inf(1)
	for _, i := range edges {
		low = min(low, t.start(i).Dot(t.up), t.finish(i).Dot(t.up))
	}
	return low
}
