package draft

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// Opening is a place of a made-up garment through which a body must pass: an edge of the
// cloth that runs all round, such as a neck, a hem or a wrist, or a seam that does. All
// lengths are in mm.
type Opening struct {
	// Key is the same from one check to the next as long as the opening is there.
	Key string
	// Name is what people call it: "neck of Front and Back".
	Name    string
	Garment string
	Place   OpenPlace
	// Uses are the edges round it, in order; along a seam, those of the side that is not
	// fuller.
	Uses []EdgeUse
	// Seams are the seams that run round it, empty at an edge of the cloth; Line is the
	// cut-out whose edge it is, else empty.
	Seams []ID
	Line  ID
	// Times is 2 for an opening that is there on both sides of the body.
	Times int
	// Length is how far round it is when all that opens is open, slits counted on both
	// sides, gathers and casings at their flat length. Closed is the same with everything
	// closed and what lies over taken off.
	Length, Closed float64
	// Full says that opened it is one with another opening, as the neck and the hem of a
	// coat are.
	Full bool
	// Closures are the seams that open and end here.
	Closures []ID
	// Passes says what has to pass: the name of a measure or of a part of the wearer, or
	// "nothing"; empty where nothing tells. What is the same in plain words.
	Passes, What string
	// Needs is how much that is, NeedsFrom where the figure is from ("head_girth,
	// estimated"); Known is false where nothing is known of it, and then Wanted names
	// the measure to take.
	Needs     float64
	NeedsFrom string
	Known     bool
	Estimated bool
	Wanted    string
	// Ease is Length less Needs, Wants how much of it there should be at the least, and
	// Holds says that it passes with that, or that nothing has to. Barely says that it
	// passes with less.
	Ease, Wants   float64
	Holds, Barely bool
	// Wearer is whose body it is.
	Wearer ID
}

// passSlack is how much, in mm, an opening may be smaller than what must pass it: the
// width of a pencil line at both ends of a half, and less than any cloth gives.
const passSlack = 0.5

// What passes an opening rubs along its edge, and no hand draws it through a ring of its own
// girth: the ease that it wants is a fiftieth of the girth and at least 2 mm, below a girth
// of 40 mm a twentieth of it. (Common practice, no source.)
const (
	passEase      = 1. / 50
	passEaseLeast = 2. // mm
	passEaseSmall = 1. / 20
)

// passingEase returns how much larger than a girth in mm an opening should be for it.
func passingEase(girth float64) float64 {
	return max(passEase*girth, min(passEaseLeast, passEaseSmall*girth))
}

// Openings returns the openings of a garment: the lines along which its cloth ends that go
// round a body, and the seams that close to a ring. A piece that is sewn to nothing has none,
// nor has what is only a flat piece made of several, such as a cloak.
func (s *Slots) Openings(p *Project, garment string) []Opening {
	var out []Opening
	for _, o := range s.AllOpenings(p) {
		if o.Garment == garment {
			out = append(out, o)
		}
	}
	return out
}

// AllOpenings returns the openings of every garment of the project, in the order of the
// pieces.
func (s *Slots) AllOpenings(p *Project) []Opening {
	p = s.patternOf(p)
	return slotOf(s, "openings", "", slotInputs{p}, func() []Opening {
		var out []Opening
		for _, garment := range p.garments() {
			w := s.garmentOf(p, garment)
			out = append(out, w.openings()...)
		}
		return out
	})
}

// garments returns the names of the garments in the order of their first pieces, the
// pieces that belong to none as "".
func (p *Project) garments() []string {
	var out []string
	for _, piece := range p.Pieces {
		if !slices.Contains(out, piece.Garment) {
			out = append(out, piece.Garment)
		}
	}
	return out
}

// sewnGarment is a garment with its seams as they are worn and as they are when it is
// opened for dressing.
type sewnGarment struct {
	*Project
	slots          *Slots
	name           string
	pieces         []*Piece
	lookup         *lookup
	closed, opened *sewnState
	wearer         *fitted
	passed         []openLoop
	told           []toldPlace
}

// garmentOf sews a garment together.
func (s *Slots) garmentOf(p *Project, name string) *sewnGarment {
	// One slot for all: names of garments come and go, and a slot for each would stay.
	all := slotOf(s, "sewn garments", "", slotInputs{p}, func() map[string]*sewnGarment { return make(map[string]*sewnGarment) })
	if all[name] == nil {
		all[name] = s.sewGarment(p, name)
	}
	return all[name]
}

func (s *Slots) sewGarment(p *Project, name string) *sewnGarment {
	g := &sewnGarment{Project: p, slots: s, name: name, lookup: s.lookupIn(p)}
	for _, piece := range p.Pieces {
		if piece.Garment == name {
			g.pieces = append(g.pieces, piece)
		}
	}
	top := s.sewnOf(p, g.pieces)
	g.closed = top.with(func(*Seam) bool { return true })
	g.opened = g.closed
	if slices.ContainsFunc(p.Seams, func(s *Seam) bool { return s.Opens }) {
		g.opened = top.with(func(s *Seam) bool { return !s.Opens })
	}
	g.wearer = s.fittedOf(p, g.pieces)
	g.passed = g.findPassages()
	return g
}

// openLoop is a closed line along which cloth ends, or along which it is sewn.
type openLoop struct {
	uses   []sewnUse
	seams  []*Seam
	line   *Line
	piece  *Piece
	length float64
	part   int
	place  OpenPlace
}

func (g *sewnGarment) openings() []Opening {
	var out []Opening
	opened := g.openedLoops()
	for _, l := range g.passages() {
		o := g.opening(l, opened)
		if k := slices.IndexFunc(out, func(other Opening) bool { return g.mirrors(o, other) }); k >= 0 {
			out[k].Times++
			continue
		}
		out = append(out, o)
	}
	return out
}

// passages returns the lines round which the garment is open when it is closed for
// wearing, and the seams and cut-outs that go round.
func (g *sewnGarment) passages() []openLoop { return g.passed }

func (g *sewnGarment) findPassages() []openLoop {
	st := g.closed
	var loops []openLoop
	count := make(map[int]int)
	for _, uses := range st.loops() {
		l := openLoop{uses: st.withoutShutEnds(uses, st), part: st.part.of(st.face[uses[0].use])}
		l.length = st.runLength(l.uses)
		count[l.part]++
		loops = append(loops, l)
	}
	for _, f := range g.closed.faces {
		for k := range f.piece.Lines {
			if line := &f.piece.Lines[k]; line.Kind == CutoutLine && line.Closed && f.copy == (CopyRef{Number: 1}) {
				line = f.piece.finishedHole(line)
				loops = append(loops, openLoop{line: line, piece: f.piece, length: line.Path().Length(), part: -1})
			}
		}
	}
	// A part of the garment with one edge all round is flat, or a bag.
	cloth := g.clothOfParts()
	loops = slices.DeleteFunc(loops, func(l openLoop) bool {
		return l.part >= 0 && count[l.part] < 2 && !l.bag(cloth[l.part])
	})
	loops = append(loops, g.rings()...)
	for k := range loops {
		loops[k].place = g.placeOfLoop(loops[k])
	}
	return loops
}

// finishedHole returns the line along which a hole with a facing is stitched, of which the
// line that is cut lies inside; without a facing the line itself.
func (p *Piece) finishedHole(cut *Line) *Line {
	name, faced := strings.CutSuffix(cut.Name, " cut")
	for k := range p.Lines {
		if l := &p.Lines[k]; faced && l.Kind == PlacementLine && l.Closed && l.Name == name {
			return l
		}
	}
	return cut
}

// bagFrom is how much more cloth than a disc of the same edge makes a bag: a disc that is
// drawn with a few curves, or has a small dart, is flat still.
const bagFrom = 1.1

// bag reports whether a part of the garment with a single edge, of so many mm² of cloth, is
// a bag or a cap and no flat piece: it holds more cloth than any flat piece with so long an
// edge could, which is a disc (the isoperimetric inequality, 4 pi A <= L²).
func (l openLoop) bag(cloth float64) bool {
	return 4*math.Pi*cloth > bagFrom*l.length*l.length
}

// clothOfParts returns how much cloth, in mm², each part of the garment has.
func (g *sewnGarment) clothOfParts() map[int]float64 {
	cloth := make(map[int]float64)
	for f := range g.closed.faces {
		piece := g.closed.faces[f].piece
		a := math.Abs(piece.DrawnPath().Area())
		if piece.FoldEdge() >= 0 {
			a *= 2
		}
		cloth[g.closed.part.of(f)] += a
	}
	return cloth
}

// rings returns the seams, or rows of seams of one place, that go all the way round.
func (g *sewnGarment) rings() []openLoop {
	st := g.closed
	var out []openLoop
	row := make(map[OpenPlace][]*sewnArc)
	var places []OpenPlace
	for k := range st.arcs {
		arc := &st.arcs[k]
		if arc.seam.Opens || !st.isSewn(arc.a[0].use) {
			continue
		}
		a, b := g.ends(arc)
		if a == b {
			if !g.flatAlong(arc) {
				out = append(out, g.ring([]*sewnArc{arc}))
			}
			continue
		}
		at := g.placeOfArc(arc)
		if at == OpenElsewhere {
			continue
		}
		if row[at] == nil {
			places = append(places, at)
		}
		row[at] = append(row[at], arc)
	}
	slices.Sort(places)
	for _, at := range places {
		for _, arcs := range g.closedRows(row[at]) {
			out = append(out, g.ring(arcs))
		}
	}
	return out
}

// flatAlong reports whether a seam is sewn to itself from one point, as along a fold.
func (g *sewnGarment) flatAlong(arc *sewnArc) bool { return g.closed.runLength(arc.a) == 0 }

// ends returns the points of the garment at which a seam begins and ends.
func (g *sewnGarment) ends(arc *sewnArc) (from, to int) {
	v := g.closed.vertex
	return v.of(arc.a[0].first()), v.of(arc.a[len(arc.a)-1].last())
}

// closedRows returns those seams that together go round: rows at each of whose points
// exactly two seams meet.
func (g *sewnGarment) closedRows(arcs []*sewnArc) [][]*sewnArc {
	at := make(map[int][]int)
	for i, arc := range arcs {
		a, b := g.ends(arc)
		at[a] = append(at[a], i)
		at[b] = append(at[b], i)
	}
	var out [][]*sewnArc
	done := make([]bool, len(arcs))
	for i := range arcs {
		if done[i] {
			continue
		}
		var row []*sewnArc
		start, v := g.ends(arcs[i])
		k, round := i, false
		for {
			done[k] = true
			row = append(row, arcs[k])
			if v == start {
				round = true
				break
			}
			meets := at[v]
			if len(meets) != 2 {
				break
			}
			next := meets[0]
			if next == k {
				next = meets[1]
			}
			if done[next] {
				break
			}
			a, b := g.ends(arcs[next])
			if k = next; a == v {
				v = b
			} else {
				v = a
			}
		}
		if round && len(at[start]) == 2 {
			out = append(out, row)
		}
	}
	return out
}

// ring returns the line along seams that go round, as long as their sides that are not
// fuller.
func (g *sewnGarment) ring(arcs []*sewnArc) openLoop {
	st := g.closed
	l := openLoop{part: st.part.of(st.face[arcs[0].a[0].use])}
	for _, arc := range arcs {
		side := arc.a
		if a, b := st.runLength(arc.a), st.runLength(arc.b); b < a {
			side = arc.b
		}
		l.uses = append(l.uses, side...)
		l.length += st.runLength(side)
		l.seams = append(l.seams, arc.seam)
	}
	return l
}

// placeOfArc returns where a seam is worn.
func (g *sewnGarment) placeOfArc(arc *sewnArc) OpenPlace {
	if at := placeIn(arc.seam.Name, edgePlaceWords); at != OpenElsewhere {
		return at
	}
	for _, run := range [...][]sewnUse{arc.a, arc.b} {
		if at := g.placeOf(run, edgePlaceWords); at != OpenElsewhere {
			return at
		}
	}
	return OpenElsewhere
}

// placeOf returns the place that most of a row of edges tells; with words, by their names
// alone.
func (g *sewnGarment) placeOf(run []sewnUse, words []wordsOfPlace) OpenPlace {
	sum := make([]float64, len(openPlaceNames))
	for _, u := range run {
		e, piece := g.closed.edges[u.use], g.closed.faces[g.closed.face[u.use]].piece
		at := OpenElsewhere
		if words != nil {
			at = placeIn(e.Name, words)
		} else {
			at = placeOfEdge(piece, e)
		}
		sum[at] += g.closed.lengths[u.use]
	}
	best := OpenElsewhere
	for at := OpenElsewhere + 1; int(at) < len(sum); at++ {
		if sum[at] > 0 && (best == OpenElsewhere || sum[at] > sum[best]) {
			best = at
		}
	}
	return best
}

// openedLoops returns the open lines of the garment opened for dressing, by each of the
// edges on them.
func (g *sewnGarment) openedLoops() map[int]*openLoop {
	st := g.opened
	by := make(map[int]*openLoop)
	for _, uses := range st.loops() {
		l := &openLoop{uses: st.withoutShutEnds(uses, g.closed)}
		l.length = st.runLength(l.uses)
		for _, u := range uses {
			by[u.use] = l
		}
	}
	return by
}

// opening measures one passage.
func (g *sewnGarment) opening(l openLoop, opened map[int]*openLoop) Opening {
	o := g.named(l)
	if l.line != nil {
		return g.cutoutOpening(o, l)
	}
	o.Closed -= g.slitSides(l)
	g.openUp(&o, l, opened)
	o.Place = l.place
	g.passes(&o)
	return o
}

// placeOfLoop returns where a passage is worn.
func (g *sewnGarment) placeOfLoop(l openLoop) OpenPlace {
	if len(l.seams) == 0 {
		at := g.placeOf(l.uses, nil)
		if at == OpenHem || at == OpenElsewhere {
			if beside := g.placeBeside(l); beside != OpenElsewhere {
				return beside
			}
		}
		return at
	}
	for k := range g.closed.arcs {
		if arc := &g.closed.arcs[k]; slices.Contains(l.seams, arc.seam) {
			if at := g.placeOfArc(arc); at != OpenElsewhere {
				return at
			}
		}
	}
	return OpenElsewhere
}

// placeBeside returns where the nearest piece is worn that tells, from the pieces round an
// edge on: the hem of a frill is that of the cuff, the skirt or the neck to which it is sewn.
func (g *sewnGarment) placeBeside(l openLoop) OpenPlace {
	if g.told == nil {
		g.tellPlaces()
	}
	best := toldPlace{}
	for _, u := range l.uses {
		if t := g.told[g.closed.face[u.use]]; t.place != OpenElsewhere && (best.place == OpenElsewhere || t.away < best.away) {
			best = t
		}
	}
	return best.place
}

// toldPlace is where a copy is worn by what the piece tells that lies nearest, so many seams
// away.
type toldPlace struct {
	place OpenPlace
	away  int
}

// tellPlaces finds for every copy the nearest piece that tells where it is worn.
func (g *sewnGarment) tellPlaces() {
	st := g.closed
	g.told = make([]toldPlace, len(st.faces))
	beside := make([][]int, len(st.faces))
	for k := range st.arcs {
		arc := &st.arcs[k]
		if !st.isSewn(arc.a[0].use) {
			continue
		}
		for _, u := range arc.a {
			for _, v := range arc.b {
				a, b := st.face[u.use], st.face[v.use]
				beside[a], beside[b] = append(beside[a], b), append(beside[b], a)
			}
		}
	}
	for f := range st.faces {
		g.told[f].place = placeOfPiece(st.faces[f].piece)
	}
	g.tellFrills()
	var row []int
	for f := range st.faces {
		if g.told[f].place != OpenElsewhere {
			row = append(row, f)
		}
	}
	for k := 0; k < len(row); k++ {
		now := g.told[row[k]]
		for _, f := range beside[row[k]] {
			if g.told[f].place == OpenElsewhere {
				g.told[f] = toldPlace{now.place, now.away + 1}
				row = append(row, f)
			}
		}
	}
}

// tellFrills has what is sewn to the armhole, the neck or another hole of the trunk end
// there, and not where the trunk does.
func (g *sewnGarment) tellFrills() {
	st := g.closed
	trunk := func(run []sewnUse) bool { return placeOfPiece(st.faces[st.face[run[0].use]].piece) == OpenHem }
	for k := range st.arcs {
		arc := &st.arcs[k]
		at := g.placeOfArc(arc)
		if !st.isSewn(arc.a[0].use) || at == OpenElsewhere || at == OpenWaist {
			continue
		}
		for _, sides := range [...][2][]sewnUse{{arc.a, arc.b}, {arc.b, arc.a}} {
			if !trunk(sides[0]) {
				continue
			}
			for _, u := range sides[1] {
				if f := st.face[u.use]; placeOfPiece(st.faces[f].piece) == OpenElsewhere {
					g.told[f].place = at
				}
			}
		}
	}
}

// named returns a passage with its edges, its name and its key.
func (g *sewnGarment) named(l openLoop) Opening {
	o := Opening{Garment: g.name, Times: 1, Length: l.length, Closed: l.length}
	for _, s := range l.seams {
		if !slices.Contains(o.Seams, s.ID) {
			o.Seams = append(o.Seams, s.ID)
		}
	}
	for _, u := range l.uses {
		use := g.closed.uses[u.use]
		use.Reversed = u.reversed
		o.Uses = append(o.Uses, use)
	}
	if l.line == nil {
		o.Name, o.Key = g.openingName(o), g.openingKey(o)
	}
	return o
}

// cutoutOpening names what has to pass a hole in a piece.
func (g *sewnGarment) cutoutOpening(o Opening, l openLoop) Opening {
	o.Line, o.Times = l.line.ID, l.piece.Cut.Copies()
	o.Place = placeIn(l.line.Name, edgePlaceWords)
	o.Name = l.line.label() + " of " + l.piece.label()
	o.Key = "opening/" + string(l.piece.ID) + "/" + string(l.line.ID)
	g.passes(&o)
	return o
}

// openUp works out how large the passage is opened and closed.
func (g *sewnGarment) openUp(o *Opening, l openLoop, opened map[int]*openLoop) {
	if g.opened == g.closed {
		return
	}
	// Where it is cut by a seam that opens, one passes by the open line there.
	var largest *openLoop
	for _, e := range g.openEnds(l) {
		if open := opened[e]; open != nil && (largest == nil || open.length > largest.length) {
			largest = open
		}
	}
	if largest == nil {
		return
	}
	for _, u := range largest.uses {
		if seam := g.openSeamAt(u.use); seam != nil && !slices.Contains(o.Closures, seam.ID) && g.endsAt(seam, l) {
			o.Closures = append(o.Closures, seam.ID)
		}
	}
	o.Closed = max(o.Closed-g.lapsOn(l), 0)
	if len(l.seams) > 0 {
		o.Length += g.gaps(l)
		return
	}
	o.Length = max(largest.length, l.length)
	own := 0
	for _, u := range largest.uses {
		if !g.closed.isSewn(u.use) {
			own++
		}
	}
	o.Full = own > len(l.uses)
}

// slitSides returns how long the sides of the slits on a passage are, which lie together when
// it is closed.
func (g *sewnGarment) slitSides(l openLoop) float64 {
	sum := 0.0
	for _, u := range l.uses {
		piece := g.closed.faces[g.closed.face[u.use]].piece
		if e := g.closed.edges[u.use]; len(l.seams) == 0 && piece.SlitSide(piece.indexOf(e.ID)) {
			sum += g.closed.lengths[u.use]
		}
	}
	return sum
}

// openEnds returns the edges of the opened garment that lie on the passage, or that end
// on it.
func (g *sewnGarment) openEnds(l openLoop) []int {
	if len(l.seams) == 0 {
		out := make([]int, len(l.uses))
		for i, u := range l.uses {
			out[i] = u.use
		}
		return out
	}
	on := g.vertices(l)
	var out []int
	for u := range g.closed.uses {
		if g.openSeamAt(u) != nil && (on[g.closed.vertex.of(sewnStart(u))] || on[g.closed.vertex.of(sewnEnd(u))]) {
			out = append(out, u)
		}
	}
	return out
}

// vertices returns the points of the garment that lie on the passage.
func (g *sewnGarment) vertices(l openLoop) map[int]bool {
	on := make(map[int]bool, 2*len(l.uses))
	for _, u := range l.uses {
		on[g.closed.vertex.of(u.first())] = true
		on[g.closed.vertex.of(u.last())] = true
	}
	return on
}

// openSeamAt returns the seam that opens of which a use is a part, or nil.
func (g *sewnGarment) openSeamAt(use int) *Seam {
	if !g.closed.isSewn(use) || g.opened.isSewn(use) {
		return nil
	}
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		for _, run := range [...][]sewnUse{arc.a, arc.b} {
			if slices.ContainsFunc(run, func(u sewnUse) bool { return u.use == use }) {
				return arc.seam
			}
		}
	}
	return nil
}

// endsAt reports whether a seam ends on the passage.
func (g *sewnGarment) endsAt(seam *Seam, l openLoop) bool {
	on := g.vertices(l)
	for k := range g.closed.arcs {
		if arc := &g.closed.arcs[k]; arc.seam == seam {
			if a, b := g.ends(arc); on[a] || on[b] {
				return true
			}
		}
	}
	return false
}

// lapsOn returns by how much what lies over makes a passage shorter when it is closed: at
// each of its points by the widest lap of those that meet there, for the back of a coat and
// the ends of its collar lap as one.
func (g *sewnGarment) lapsOn(l openLoop) float64 {
	on := g.vertices(l)
	at := make(map[int]float64)
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		if !arc.seam.Opens || arc.seam.Lap <= 0 {
			continue
		}
		a, b := g.ends(arc)
		for _, v := range [...]int{a, b} {
			if on[v] {
				at[v] = max(at[v], arc.seam.Lap)
			}
		}
	}
	sum := 0.0
	for _, v := range slices.Sorted(maps.Keys(at)) {
		sum += at[v]
	}
	return sum
}

// openingName names an opening by its longest edge and the pieces round it.
func (g *sewnGarment) openingName(o Opening) string {
	if len(o.Uses) == 0 {
		return "opening"
	}
	what, longest := "", -1.0
	var pieces []string
	sums := make(map[string]float64)
	for _, u := range o.Uses {
		piece, i, err := g.lookup.edge(u)
		if err != nil {
			continue
		}
		name := piece.Edges[i].label()
		if piece.Edges[i].Name == "" || isSlitName(name) {
			name = "edge"
		}
		sums[name] += g.slots.EdgeLengths(piece)[i]
		if sums[name] > longest {
			what, longest = name, sums[name]
		}
		if label := piece.label(); !slices.Contains(pieces, label) {
			pieces = append(pieces, label)
		}
	}
	if len(o.Seams) > 0 {
		what = "seam " + g.Seam(o.Seams[0]).label()
		return what
	}
	switch n := len(pieces); {
	case n == 1:
		return what + " of " + pieces[0]
	case n > 3:
		return what
	default:
		return what + " of " + strings.Join(pieces[:n-1], ", ") + " and " + pieces[n-1]
	}
}

// isSlitName reports whether an edge is called as those of slits are.
func isSlitName(name string) bool { return name == "slit" || strings.HasPrefix(name, "slit ") }

// openingKey makes a key of the first edge in the order of ids, so that it is the same
// wherever the row is begun.
func (g *sewnGarment) openingKey(o Opening) string {
	if len(o.Seams) > 0 {
		return "opening/seam/" + string(slices.Min(o.Seams))
	}
	least := o.Uses[0]
	for _, u := range o.Uses[1:] {
		if u.Piece < least.Piece || u.Piece == least.Piece && u.Edge < least.Edge {
			least = u
		}
	}
	return fmt.Sprintf("opening/%s/%s", least.Piece, least.Edge)
}

// mirrors reports whether two openings are the same on two sides of the body.
func (g *sewnGarment) mirrors(o, other Opening) bool {
	if o.Key != other.Key || len(o.Uses) != len(other.Uses) || math.Abs(o.Length-other.Length) > Grid {
		return false
	}
	edges := make(map[edgeKey]int)
	for k := range o.Uses {
		edges[edgeKey{o.Uses[k].Piece, o.Uses[k].Edge}]++
		edges[edgeKey{other.Uses[k].Piece, other.Uses[k].Edge}]--
	}
	for _, n := range edges {
		if n != 0 {
			return false
		}
	}
	return true
}
