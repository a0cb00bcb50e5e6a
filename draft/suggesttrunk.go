package draft

import (
	"fmt"
	"math"
	"slices"

	"hemlet/draft/body"
	"hemlet/geom"
)

const (
	// gatheredNeck is from how many times the girth of the neck on a neckline is taken for
	// one that is drawn in, so that its width and depth say nothing of the body.
	gatheredNeck = 1.3
	// followsBody is up to how many times the girth of the body a garment is taken to
	// follow it at a level; a looser one hangs from above.
	followsBody = 1.2
	// atLevel is how far, as a share of the length from nape to waist, an edge may lie from
	// a level of the body and be taken to lie there.
	atLevel = 0.1
	// goneIn is by how much, as a share, a piece must be narrower at its narrowest place
	// than above and below before it is taken for the waist, where nothing is known of the
	// body.
	goneIn = 0.03
	// longShoulder is up to how many times the shoulder a seam is taken for one, dropped as
	// it may be; a longer one runs on along the arm.
	longShoulder = 2
	// sixth is the share of the girth of the neck that its width and its depth are drawn by.
	// (Baldt, Clothing for Women, 1916, figures 44 to 46.)
	sixth = 1. / 6
)

// trunk suggests the spans of the pieces that cover the trunk.
func (f *spanFinder) trunk(g spanGroup) {
	if len(g) == 0 {
		return
	}
	t := &trunkSpans{spanFinder: f, group: g, middles: make(map[ID]*middleEnds)}
	t.findWaist()
	for _, pa := range g {
		t.neck(pa)
		t.shoulder(pa)
		t.armhole(pa)
		t.bust(pa)
		t.lengths(pa)
		t.below(pa)
	}
}

// trunkSpans is the work on the trunk of one garment.
type trunkSpans struct {
	*spanFinder
	group spanGroup
	// waist is how far below the point under the arm the waist lies in mm; known says that
	// something tells.
	waist float64
	known bool
	// fitted says that the garment follows the body at the waist.
	fitted bool
	// middles are those of the pieces that are drawn whole, nil where they have none.
	middles map[ID]*middleEnds
}

// top returns the place at the top of the middle of a piece: nape or pit of the neck.
func (t *trunkSpans) top(pa *PieceAnatomy) (geom.Point, bool) {
	if n := pa.NeckMiddle(); n != nil {
		return n.At, true
	}
	if pa.Half {
		return geom.Point{}, false
	}
	// Of a piece that is drawn whole, the lowest place of the neck.
	var lowest geom.Point
	least := math.Inf(1)
	for _, i := range pa.With(AtNeck) {
		for _, q := range pa.Piece.EdgePath(i).Flatten(levelFlat) {
			if h := pa.height(q); h < least {
				lowest, least = q, h
			}
		}
	}
	return lowest, !math.IsInf(least, 1)
}

// levelFlat is how far, in mm, chords may lie from a curve whose highest or lowest place
// is looked for.
const levelFlat = 0.05

// underarm returns how high the point under the arm lies.
func (t *trunkSpans) underarm(pa *PieceAnatomy) (float64, bool) {
	corners := pa.Corners(AtArmhole, AtSide)
	if len(corners) == 0 {
		return 0, false
	}
	sum := 0.0
	for _, c := range corners {
		sum += pa.height(c.At)
	}
	return sum / float64(len(corners)), true
}

// findWaist works out where on the pieces the waist of the body lies: at an edge that is
// the waist, at the length of the body below the nape, or at the narrowest place.
func (t *trunkSpans) findWaist() {
	for _, back := range [...]bool{true, false} {
		for _, pa := range t.group {
			under, ok := t.underarm(pa)
			if !ok || t.known || back != (pa.Aspect == AspectBack) {
				continue
			}
			top, okTop := t.top(pa)
			measure := "front_waist_length"
			if pa.Aspect == AspectBack {
				measure = "back_waist_length"
			}
			switch length := t.mm(pa.Piece, measure); {
			case pa.Has(AtWaist):
				t.waist, t.known = under-t.bottom(pa), true
			case okTop && length > 0:
				t.waist, t.known = under-(pa.height(top)-length), true
			default:
				t.waist, t.known = t.narrowest(pa, under)
			}
		}
	}
	if t.known {
		t.fitted = t.follows("waist", t.waist)
	}
}

// bottom returns how high the lower edge of a piece lies, at the middle of the body.
func (t *trunkSpans) bottom(pa *PieceAnatomy) float64 {
	for _, part := range [...]EdgePart{AtWaist, AtHem} {
		if n := pa.middleOf(part); n != nil {
			return pa.height(n.At)
		}
	}
	least := math.Inf(1)
	for _, i := range pa.With(AtWaist, AtHem) {
		for _, q := range pa.Piece.EdgePath(i).Flatten(levelFlat) {
			least = min(least, pa.height(q))
		}
	}
	if math.IsInf(least, 1) {
		least = 0
		for i, q := range pa.Piece.DrawnPath().Flatten(levelFlat) {
			if h := pa.height(q); i == 0 || h < least {
				least = h
			}
		}
	}
	return least
}

// narrowest returns how far below the arm a piece is narrowest, where it goes in there.
func (t *trunkSpans) narrowest(pa *PieceAnatomy, under float64) (float64, bool) {
	bottom := t.bottom(pa)
	const steps = 40
	step := (under - bottom) / steps
	if !(step > 0) {
		return 0, false
	}
	least, at := math.Inf(1), 0.0
	for k := 1; k < steps; k++ {
		if w := pa.widthAt(under - float64(k)*step); w > 0 && w < least {
			least, at = w, float64(k)*step
		}
	}
	above, below := pa.widthAt(under-step/2), pa.widthAt(bottom+step/2)
	return at, least < (1-goneIn)*above && least < (1-goneIn)*below
}

// follows reports whether the garment follows the body at a level so far below the arm.
func (t *trunkSpans) follows(level string, below float64) bool {
	sum, girth := 0.0, 0.0
	for _, pa := range t.group {
		under, ok := t.underarm(pa)
		if !ok {
			return false
		}
		sum += pa.widthAt(max(under-below, t.bottom(pa)+shortestStretch)) * pa.times()
		girth = t.mm(pa.Piece, body.GirthOf(level))
	}
	if girth == 0 {
		return true // its shape has told where the waist lies
	}
	return sum <= followsBody*girth
}

// side returns a word for the piece: its aspect.
func (pa *PieceAnatomy) side() string {
	if pa.Aspect == AspectUnknown {
		return "piece"
	}
	return pa.Aspect.String()
}

// neck suggests the neckline with its width and depth.
func (t *trunkSpans) neck(pa *PieceAnatomy) {
	if !pa.Has(AtNeck) {
		return
	}
	if t.isBanded(pa, AtNeck) {
		t.gatheredWidth(pa) // the band has the span of how long it is
		return
	}
	girth := t.mm(pa.Piece, "neck_base_girth")
	if t.group.oneSided() {
		if girth > 0 {
			t.neckWidth(pa)
		}
		return
	}
	whole := 0.0
	for _, other := range t.group {
		_, l := t.edges(other, AtNeck)
		whole += l * other.times()
	}
	ids, length := t.edges(pa, AtNeck)
	why := "its share of the neck, by its part of the whole neckline"
	gathered := girth > 0 && whole > gatheredNeck*girth
	if gathered {
		why = fmt.Sprintf("its share of the neck; the neckline measures %.1f times the neck, and what it has more is ease or gathers", whole/girth)
	}
	t.suggest(pa, spanDraft{Span{Name: "neck", Measure: "neck_base_girth", Share: shareIn(length, whole), Edges: ids}, nil, why, 0.95})
	switch {
	case gathered:
		t.gatheredWidth(pa)
	case girth > 0:
		t.neckWidth(pa)
	}
}

// gatheredWidth suggests how wide a neckline that is drawn in is cut: as wide against the
// neck as it was. How long front and back are together says nothing of either, and one
// would become wide and the other deep.
func (t *trunkSpans) gatheredWidth(pa *PieceAnatomy) {
	points := pa.Corners(AtNeck, AtShoulder)
	span := Span{Name: "neck width", Measure: "neck_base_girth", Way: AcrossGrain}
	switch middle := pa.NeckMiddle(); {
	case len(points) == 2 && !pa.Half:
		span.From, span.To = points[0].ID, points[1].ID
	case len(points) == 1 && middle != nil:
		span.From, span.To = points[0].ID, middle.ID
	default:
		return
	}
	t.suggest(pa, spanDraft{span, nil, "cut as wide against the neck as it was, before it is drawn in; style decides", 0.75})
}

// neckWidth suggests how wide a neck is cut, and on a front how deep.
func (t *trunkSpans) neckWidth(pa *PieceAnatomy) {
	if points := pa.Corners(AtNeck, AtShoulder); !pa.Half && len(points) == 2 {
		t.suggest(pa, spanDraft{
			Span{Name: "neck width", Measure: "neck_base_girth", Share: 2 * sixth, From: points[0].ID, To: points[1].ID, Way: AcrossGrain}, nil,
			"a neck is drawn as wide as a third of its girth, and a little more", 0.8,
		})
	}
	point, middle := pa.NeckPoint(), pa.NeckMiddle()
	if point == nil || middle == nil {
		return
	}
	t.suggest(pa, spanDraft{
		Span{Name: "neck width", Measure: "neck_base_girth", Share: sixth, From: point.ID, To: middle.ID, Way: AcrossGrain}, nil,
		"half a neck is drawn as wide as a sixth of its girth, and a little more", 0.8,
	})
	if pa.Aspect == AspectFront {
		t.suggest(pa, spanDraft{
			Span{Name: "neck depth", Measure: "neck_base_girth", Share: sixth, From: point.ID, To: middle.ID, Way: AlongGrain}, nil,
			"a front neck is drawn as deep as a sixth of the neck's girth, and more the lower it is worn", 0.75,
		})
	}
}

// shoulder suggests the shoulder seam and how far it falls.
func (t *trunkSpans) shoulder(pa *PieceAnatomy) {
	ids, length := t.edges(pa, AtShoulder)
	if len(ids) == 0 {
		return
	}
	if n := len(pa.Corners(AtNeck, AtShoulder)); n > 1 {
		length /= float64(n)
	}
	own := t.mm(pa.Piece, "shoulder_length")
	if own > 0 && length > longShoulder*own {
		t.suggest(pa, spanDraft{Span{Name: "over the arm", Measure: "arm_length", Edges: ids}, nil, "it runs over the shoulder and on along the arm", 0.6})
		return
	}
	why := "from the neck to the tip of the shoulder"
	if own > 0 && length > 1.1*own {
		why += "; the seam runs beyond the tip by what it has more"
	}
	span := Span{Name: "shoulder", Measure: "shoulder_length", Share: 1, Edges: ids}
	if n := len(pa.Corners(AtNeck, AtShoulder)); n > 1 {
		span.Share = float64(n)
	}
	t.suggest(pa, spanDraft{span, nil, why, 0.95})
	points, tips := pa.Corners(AtNeck, AtShoulder), pa.Corners(AtShoulder, AtArmhole)
	if len(points) == 0 || len(points) != len(tips) {
		return
	}
	// Of a piece that is drawn whole, those of one side: a neck point and the nearer tip.
	tip := tips[0]
	for _, other := range tips[1:] {
		if other.At.Dist(points[0].At) < tip.At.Dist(points[0].At) {
			tip = other
		}
	}
	t.suggest(pa, spanDraft{
		Span{Name: "fall of the shoulder", Measure: "shoulder_drop", Share: 1, From: tip.ID, To: points[0].ID, Way: AlongGrain}, nil,
		"how far the tip lies below the neck", 0.8,
	})
}

// armhole suggests how long the armhole is, and on the back how deep it lies.
func (t *trunkSpans) armhole(pa *PieceAnatomy) {
	ids, length := t.edges(pa, AtArmhole)
	if len(ids) == 0 {
		return
	}
	if !t.group.oneSided() {
		whole := 0.0
		for _, other := range t.group {
			_, l := t.edges(other, AtArmhole)
			whole += l * other.times()
		}
		t.suggest(pa, spanDraft{
			Span{Name: "armhole", Measure: "armscye_girth", Share: 2 * shareIn(length, whole), Edges: ids}, nil,
			"its share of the way round the arm, by its part of the whole armhole", 0.85,
		})
	}
	under := pa.Corners(AtArmhole, AtSide)
	if pa.Aspect != AspectBack || len(under) == 0 {
		return
	}
	if nape := t.middle(pa); nape != nil {
		t.suggest(pa, spanDraft{
			Span{Name: "depth of the armhole", Measure: "armscye_depth", Share: 1, From: nape.top, To: under[0].ID, Way: AlongGrain}, nape.lines,
			"from the nape down to the level under the arm", 0.9,
		})
	}
}

// bust suggests the width at the level under the arm, from the middle or from side to side.
func (t *trunkSpans) bust(pa *PieceAnatomy) {
	span, ok := t.acrossUnderarm(pa)
	if !ok {
		return
	}
	width := func(o *PieceAnatomy) float64 {
		s, ok := t.acrossUnderarm(o)
		if !ok {
			return 0
		}
		return t.slots.SpanLength(o.Piece, s)
	}
	span.Name = "bust"
	if span.Measure, span.Share, ok = t.group.round(pa, "bust", width); !ok {
		return
	}
	t.suggest(pa, spanDraft{span, nil, "the " + pa.side() + " across, at the level under the arm", 0.95})
}

// acrossUnderarm returns the span across the piece at the level under the arm.
func (t *trunkSpans) acrossUnderarm(pa *PieceAnatomy) (Span, bool) {
	corners := pa.Corners(AtArmhole, AtSide)
	switch {
	case len(corners) == 2 && !pa.Half:
		return Span{From: corners[0].ID, To: corners[1].ID, Way: AcrossGrain}, true
	case len(corners) != 1:
		return Span{}, false
	}
	node := pa.middleNode(corners[0].At)
	if node == nil {
		return Span{}, false
	}
	return Span{From: corners[0].ID, To: node.ID, Way: AcrossGrain}, true
}

// middleNode returns the node in the middle of the body that lies nearest to the height of
// a place.
func (pa *PieceAnatomy) middleNode(at geom.Point) *Node {
	var best *Node
	for _, i := range pa.With(AtCentre, AtCentreFront, AtCentreBack) {
		nodes := pa.Piece.EdgeNodes(i)
		for k := range nodes {
			if best == nil || math.Abs(pa.height(at)-pa.height(nodes[k].At)) < math.Abs(pa.height(at)-pa.height(best.At)) {
				best = &nodes[k]
			}
		}
	}
	return best
}

// middleEnds are the ends of the middle of a piece, from the neck down to its lower edge.
type middleEnds struct {
	top, bottom         ID
	topHigh, bottomHigh float64
	// lines are drawn first where no corners lie there.
	lines []Line
}

// middle returns the ends of the middle of a piece: those of its edge there or, on a piece
// that is drawn whole, of a line that is drawn down from the lowest place of the neck.
func (t *trunkSpans) middle(pa *PieceAnatomy) *middleEnds {
	hem := pa.middleOf(AtWaist)
	if hem == nil {
		hem = pa.middleOf(AtHem)
	}
	if top := pa.NeckMiddle(); top != nil && hem != nil {
		return &middleEnds{top: top.ID, bottom: hem.ID, topHigh: pa.height(top.At), bottomHigh: pa.height(hem.At)}
	}
	if m, known := t.middles[pa.Piece.ID]; known || pa.Half {
		return m
	}
	m := t.drawMiddle(pa)
	t.middles[pa.Piece.ID] = m
	return m
}

// drawMiddle draws the middle of a piece that is drawn whole.
func (t *trunkSpans) drawMiddle(pa *PieceAnatomy) *middleEnds {
	top, ok := t.top(pa)
	if !ok {
		return nil
	}
	right := pa.right(top)
	upright := geom.Line(pa.at(right, pa.height(top)), pa.at(right, pa.height(top)-pa.Piece.DrawnPath().Bounds().W()-pa.Piece.DrawnPath().Bounds().H()))
	low, found := 0.0, false
	for _, i := range pa.With(AtWaist, AtHem) {
		for _, s := range pa.Piece.EdgePath(i) {
			for _, meet := range s.Intersections(upright) {
				low, found = pa.height(meet.P), true
			}
		}
	}
	if !found {
		return nil
	}
	l := Line{ID: t.ids.make(kindLine), Name: unusedName("middle", pa.Piece.hasLineName)}
	for _, h := range [...]float64{pa.height(top), low} {
		l.Nodes = append(l.Nodes, Node{ID: t.ids.make(kindNode), At: onGrid(pa.at(right, h))})
	}
	return &middleEnds{top: l.Nodes[0].ID, bottom: l.Nodes[1].ID, topHigh: pa.height(top), bottomHigh: low, lines: []Line{l}}
}

// lengths suggests the length from the neck to the waist, or to the lower edge of what
// hangs loose.
func (t *trunkSpans) lengths(pa *PieceAnatomy) {
	if pa.Aspect == AspectUnknown || !pa.Has(AtNeck) {
		return
	}
	m := t.middle(pa)
	if m == nil {
		return
	}
	measure, name := "front_waist_length", "front length"
	if pa.Aspect == AspectBack {
		measure, name = "back_waist_length", "back length"
	}
	span := Span{Name: name, Measure: measure, From: m.top, To: m.bottom, Way: AlongGrain}
	trunk := t.mm(pa.Piece, measure)
	under, okUnder := t.underarm(pa)
	waist := under - t.waist
	if pa.Has(AtWaist) || t.known && okUnder && math.Abs(waist-m.bottomHigh) <= atLevel*max(trunk, t.waist) {
		span.Share = 1
		t.suggest(pa, spanDraft{span, m.lines, "from the neck down the middle to the waist, where it ends", 0.9})
		return
	}
	if t.known && okUnder && t.fitted && waist > m.bottomHigh {
		if level := t.level(pa, "waist", waist, atLevel*t.waist); level != nil {
			span.Share, span.To = 1, level.middle
			t.suggest(pa, spanDraft{span, append(slices.Clone(m.lines), level.lines...), "from the neck down the middle to the waist", 0.85})
			t.belowWaist(pa, level, m)
			return
		}
	}
	t.looseLength(pa, span, m)
}

// looseLength suggests the length of what hangs from the shoulders: by the trunk where it
// ends above the crotch, by the height above the ground where it hangs lower. It goes from
// the neck at the shoulder, so that the hem hangs level in front and behind however deep
// each is cut at the neck.
func (t *trunkSpans) looseLength(pa *PieceAnatomy, span Span, m *middleEnds) {
	neck, crotch := t.mm(pa.Piece, "neck_height"), t.mm(pa.Piece, "inside_leg")
	why := "as long for the trunk as it was; style decides"
	top := m.topHigh
	if points := pa.Corners(AtNeck, AtShoulder); len(points) > 0 {
		span.From, top = points[0].ID, pa.height(points[0].At)
	}
	if neck > 0 && neck-(top-m.bottomHigh) < crotch {
		span.Measure = "neck_height"
		why = "its hem hangs at the same share of the height above the ground; style decides"
	}
	t.suggest(pa, spanDraft{span, m.lines, why, 0.8})
}

// belowWaist suggests how far a fitted garment goes on below the waist.
func (t *trunkSpans) belowWaist(pa *PieceAnatomy, level *drawnLevel, m *middleEnds) {
	span := Span{Name: "below the waist", Measure: "waist_to_hip", From: level.middle, To: m.bottom, Way: AlongGrain}
	drop := level.height - m.bottomHigh
	why := "its hem lies at the same share of the way to the hips; style decides"
	if hip := t.mm(pa.Piece, "waist_to_hip"); hip == 0 || drop > followsBody*hip {
		span.Measure = "waist_height"
		why = "its hem hangs at the same share of the height above the ground; style decides"
	}
	t.suggest(pa, spanDraft{span, append(slices.Clone(m.lines), level.lines...), why, 0.75})
}

// below suggests the widths from the waist down.
func (t *trunkSpans) below(pa *PieceAnatomy) {
	if pa.Has(AtWaist) {
		ids, _ := t.edges(pa, AtWaist)
		t.roundEdges(pa, "waist", "waist", ids, AtWaist, "its share of the waist, where it ends", 0.95)
	}
	under, ok := t.underarm(pa)
	if !ok || !pa.Has(AtHem) {
		return
	}
	bottom := t.bottom(pa)
	if !t.known {
		t.hem(pa, t.widest(), 0.6)
		return
	}
	waist := under - t.waist
	trunk := max(t.mm(pa.Piece, "back_waist_length"), t.waist)
	if math.Abs(waist-bottom) <= atLevel*trunk {
		t.hem(pa, "waist", 0.9)
		return
	}
	if waist < bottom {
		t.hem(pa, "bust", 0.6)
		return
	}
	if t.fitted {
		t.acrossLevel(pa, "waist", t.waist, 0.9)
	}
	t.roundHips(pa, waist-bottom, atLevel*trunk)
}

// roundHips suggests the widths of what reaches down by drop mm from the waist, at the belly,
// the hips and the hem. Levels within slack of each other are one.
func (t *trunkSpans) roundHips(pa *PieceAnatomy, drop, slack float64) {
	belly, hip := t.mm(pa.Piece, "waist_to_belly"), t.mm(pa.Piece, "waist_to_hip")
	if hip == 0 {
		t.hem(pa, t.widest(), 0.6)
		return
	}
	switch {
	case drop < belly+(hip-belly)/2:
		t.hem(pa, "belly", 0.75)
		return
	case drop > hip+slack && t.follows("hip", t.waist+hip):
		if t.hasBelly(pa) {
			t.acrossLevel(pa, "belly", t.waist+belly, 0.7)
		}
		t.acrossLevel(pa, "hip", t.waist+hip, 0.85)
		t.hem(pa, "hip", 0.6)
		return
	}
	if t.fitted && t.hasBelly(pa) && drop > belly+slack {
		t.acrossLevel(pa, "belly", t.waist+belly, 0.7)
	}
	if t.follows("hip", t.waist+hip) {
		t.hem(pa, "hip", 0.8)
		return
	}
	t.hem(pa, t.widest(), 0.8)
}

// widest returns the level by whose girth the hem goes of what hangs loose past the hips: the
// belly where a wearer of the project is widest there. Across the belly itself the sides would
// bulge, which nobody sews.
func (t *trunkSpans) widest() string {
	for _, w := range t.p.Wearers {
		if bellyStandsOut(t.slots.Body(w)) {
			return "belly"
		}
	}
	return "hip"
}

// bellyStandsOut reports whether a body was measured to be wider at the belly than at waist
// and hips.
func bellyStandsOut(b *body.Body) bool {
	girth := func(level string) body.Known {
		k, _ := b.Get(body.GirthOf(level))
		return k
	}
	belly := girth("belly")
	return belly.Taken() && belly.Value > girth("waist").Value && belly.Value > girth("hip").Value
}

// hasBelly reports whether the belly was measured on the body for which a piece was made.
func (t *trunkSpans) hasBelly(pa *PieceAnatomy) bool {
	k, ok := t.old(pa.Piece, body.GirthOf("belly"))
	return ok && k.Taken()
}

// acrossLevel suggests the width at a level that lies so far below the arm inside the piece.
func (t *trunkSpans) acrossLevel(pa *PieceAnatomy, level string, below, sure float64) {
	width := func(o *PieceAnatomy) float64 {
		under, ok := t.underarm(o)
		if !ok {
			return 0
		}
		return o.widthAt(under - below)
	}
	under, _ := t.underarm(pa)
	l := t.level(pa, level, under-below, atLevel*t.waist)
	if l == nil {
		return
	}
	span, ok := Span{Name: level, Lines: l.ids}, false
	if span.Measure, span.Share, ok = t.group.round(pa, level, width); !ok {
		return
	}
	t.suggest(pa, spanDraft{span, l.lines, "the " + pa.side() + " across, at the level of the " + level, sure})
}

// hem suggests the width of the lower edge, as its share of the level at which it lies.
func (t *trunkSpans) hem(pa *PieceAnatomy, level string, sure float64) {
	ids, _ := t.edges(pa, AtHem)
	name, why := "hem", "its share of the way round the hips, with the fullness that it has"
	switch level {
	case "waist":
		name, why = "waist", "its share of the waist, where it ends"
	case "belly":
		why = "its share of the way round the belly, with the fullness that it has"
	case "bust":
		why = "its share of the way round the bust, below which it ends"
	}
	t.roundEdges(pa, name, level, ids, AtHem, why, sure)
}

// roundEdges suggests edges that go round the body at a level.
func (t *trunkSpans) roundEdges(pa *PieceAnatomy, name, level string, ids []ID, part EdgePart, why string, sure float64) {
	width := func(o *PieceAnatomy) float64 {
		_, l := t.edges(o, part)
		return l
	}
	span, ok := Span{Name: name, Edges: ids}, false
	if span.Measure, span.Share, ok = t.group.round(pa, level, width); !ok {
		return
	}
	t.suggest(pa, spanDraft{span, nil, why, sure})
}
