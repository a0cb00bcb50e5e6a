package draft

import (
	"cmp"
	"math"
	"slices"

	"hemlet/geom"
)

const (
	// fitsForm is how well, from 0 to 1, the edges of a piece must fit those of a form
	// before it is taken for one, and looksAlike from where on it is held in mind.
	fitsForm   = 0.66
	looksAlike = 0.45
	// seamTells is what a seam adds that joins what belongs together, and takes where it
	// joins what does not; nameTells the same of the name of the piece.
	seamTells = 0.08
	nameTells = 0.12
	// sharpInside is the turn in radians from which on two edges are no longer taken for
	// one: 25 degrees, and not at all at 70.
	sharpInside   = 25 * math.Pi / 180
	sharpestCount = 70 * math.Pi / 180
	// bluntCorner and plainCorner are turns in radians, of 6 and 35 degrees: from the one
	// on an outline has a corner, from the other one edge of a garment surely ends there.
	bluntCorner = 6 * math.Pi / 180
	plainCorner = 35 * math.Pi / 180
	// mostForOne is how many edges of an outline are at most taken for one.
	mostForOne = 4
	// mostEdges is how many edges a piece may have that is held against the forms: what
	// has more is no outline of the trade, and would take long.
	mostEdges = 24
)

// anatomist finds out what the pieces of a project are.
type anatomist struct {
	slots *Slots
	p     *Project
	seams []*Seam
	// looks are the pieces in the order of the pattern.
	looks []*pieceLook
	of    map[ID]*pieceLook
}

// pieceLook is a piece with what it might be.
type pieceLook struct {
	piece   *Piece
	lengths []float64
	told    []edgeTold
	tries   []*formTry // the best first
	chosen  *formTry   // nil: nothing fits
	band    bool       // a long rectangle
}

// edgeTold is what tells of an edge besides its shape.
type edgeTold struct {
	name EdgePart
	// mirror says that it is sewn to its own mirror image, tube that it is sewn to another
	// edge of the same piece, sewn that it is sewn to something.
	mirror, tube, sewn bool
}

// formTry is a piece taken for one of the forms.
type formTry struct {
	form  *anatomyForm
	frame *anatomyFrame
	parts []EdgePart // of the edges of the piece, in its order
	fits  []float64  // how well each edge fits
	score float64
}

// findAnatomy works out what the pieces of a project are.
func (s *Slots) findAnatomy(p *Project) *Anatomy {
	a := &anatomist{slots: s, p: p, of: make(map[ID]*pieceLook)}
	a.seams = a.allSeams()
	for _, piece := range p.Pieces {
		look := &pieceLook{piece: piece, lengths: s.EdgeLengths(piece), told: make([]edgeTold, len(piece.Edges))}
		a.looks = append(a.looks, look)
		a.of[piece.ID] = look
	}
	a.listen()
	for _, look := range a.looks {
		look.band = look.piece.isBandLike()
		look.tryForms()
	}
	a.choose()
	out := &Anatomy{of: make(map[ID]*PieceAnatomy, len(a.looks)), seams: a.seams}
	for _, look := range a.looks {
		pa := look.anatomy()
		out.Pieces = append(out.Pieces, pa)
		out.of[pa.Piece.ID] = pa
	}
	a.aspects(out)
	a.bands(out) // which are known by the necks of a front and a back
	a.hems(out)
	return out
}

// allSeams returns the seams of the project with those that it seems to ask for.
func (a *anatomist) allSeams() []*Seam {
	list := slices.Clone(a.p.Seams)
	for _, g := range a.slots.likelySeams(a.p) {
		list = append(list, &Seam{A: g.A, B: g.B, BothSides: g.BothSides, Ratio: g.Ratio, Fuller: g.Fuller, Fullness: g.Fullness, To: 1})
	}
	return list
}

// listen notes what names and seams tell of the edges.
func (a *anatomist) listen() {
	for _, look := range a.looks {
		for i := range look.piece.Edges {
			look.told[i].name = partOfName(look.piece.Edges[i].Name)
		}
	}
	for _, seam := range a.seams {
		for _, u := range seam.A {
			for _, v := range seam.B {
				a.hear(u, v, len(seam.A) == 1 && len(seam.B) == 1)
			}
		}
	}
}

// hear notes that two edges are sewn to each other, alone or as parts of longer runs.
func (a *anatomist) hear(u, v EdgeUse, alone bool) {
	for _, use := range [...]EdgeUse{u, v} {
		look := a.of[use.Piece]
		if look == nil {
			continue
		}
		_, i := look.piece.Edge(use.Edge)
		if i < 0 {
			continue
		}
		look.told[i].sewn = true
		if alone && u.Piece == v.Piece {
			look.told[i].mirror = look.told[i].mirror || u.Edge == v.Edge
			look.told[i].tube = look.told[i].tube || u.Edge != v.Edge && u.Copy == v.Copy
		}
	}
}

// tryForms holds the piece against every form, upright and upside down, as drawn and
// mirrored.
func (look *pieceLook) tryForms() {
	p := look.piece
	if len(p.Edges) < 3 || len(p.Edges) > mostEdges || isTrimming(p.Name) {
		return
	}
	if look.band && !look.named() && look.partByName() == PartUnknown {
		return // a strip may be sewn on anywhere; only seams tell where
	}
	grain := p.GrainWay()
	if grain.Y < 0 || grain.Y == 0 && grain.X < 0 {
		grain = grain.Mul(-1)
	}
	best := make(map[*anatomyForm]*formTry)
	for _, up := range [...]geom.Point{grain, grain.Mul(-1), grain.Left(), grain.Left().Mul(-1)} {
		for _, mirrored := range [...]bool{false, true} {
			f := newAnatomyFrame(p, up, mirrored, look.lengths)
			if f == nil || f.fills > plainRectangle && !look.named() && pieceOfName(p.Name) == PartUnknown {
				return // a plain rectangle may be anything
			}
			for _, form := range anatomyForms {
				try := look.hold(f, form)
				if try == nil {
					continue
				}
				switch {
				case up == grain:
					try.score += drawnUpright
				case up.Dot(grain) == 0 && form.part == PartSkirt:
					continue // a collar looks like a skirt that lies on its side
				case up.Dot(grain) == 0:
					try.score -= cutAcross
				}
				if old := best[form]; old == nil || try.score > old.score {
					best[form] = try
				}
			}
		}
	}
	for _, form := range anatomyForms {
		if try := best[form]; try != nil && try.score >= looksAlike {
			look.tries = append(look.tries, try)
		}
	}
	slices.SortStableFunc(look.tries, func(a, b *formTry) int { return cmp.Compare(b.score, a.score) })
}

// named reports whether most edges of the piece tell by their names what they are.
func (look *pieceLook) named() bool {
	n := 0
	for _, t := range look.told {
		if t.name != EdgeUnknown {
			n++
		}
	}
	return n*2 >= len(look.told)
}

// plainRectangle is from which share of its box on an outline is taken for a rectangle.
const plainRectangle = 0.985

// drawnUpright is what it tells that a piece would lie the way up in which it is drawn, as
// most are.
const drawnUpright = 0.02

// cutAcross is what it takes that a piece would lie with the lengthwise threads across the
// body, as few do that are no bands.
const cutAcross = 0.2

// hold returns the piece taken for a form in the best way, nil where it cannot be.
func (look *pieceLook) hold(f *anatomyFrame, form *anatomyForm) *formTry {
	n, k := len(f.edges), len(form.slots)
	if fold := look.piece.FoldEdge(); fold >= 0 != form.half && fold >= 0 {
		return nil
	}
	var best *formTry
	for first := range n {
		fits, counts := look.align(f, form, first)
		if counts == nil {
			continue
		}
		try := newFormTry(form, f, fits)
		at := first
		looks := make([]*edgeLook, k)
		for s, count := range counts {
			if count == 0 {
				continue
			}
			looks[s] = f.look(at%n, count)
			q := look.fit(f, form.slots[s], at%n, count)
			for range count {
				i := f.edges[at%n].index
				try.parts[i], try.fits[i] = form.slots[s].part, q
				at++
			}
		}
		if form.whole != nil {
			try.score += form.whole(f, looks)
		}
		try.score += look.pieceTells(f, form)
		if best == nil || try.score > best.score {
			best = try
		}
	}
	return best
}

// newFormTry takes every edge for the leg of a dart to begin with: those are not in the frame.
func newFormTry(form *anatomyForm, f *anatomyFrame, score float64) *formTry {
	n := len(f.piece.Edges)
	try := &formTry{form: form, frame: f, score: score, parts: make([]EdgePart, n), fits: make([]float64, n)}
	for i := range try.parts {
		try.parts[i], try.fits[i] = AtDart, 1
	}
	return try
}

// align gives the edges, begun with the first, to the slots of a form one after the other
// so that they fit best: it returns the mean and how many edges each slot gets, nil where
// the form has more edges than the piece.
func (look *pieceLook) align(f *anatomyFrame, form *anatomyForm, first int) (float64, []int) {
	n, k := len(f.edges), len(form.slots)
	const none = -1.
	best := make([][]float64, k+1) // by slots done and edges given
	took := make([][]int, k+1)
	for s := range best {
		best[s], took[s] = make([]float64, n+1), make([]int, n+1)
		for j := range best[s] {
			best[s][j] = none
		}
	}
	best[0][0] = 0
	for s, slot := range form.slots {
		for j := range n + 1 {
			if best[s][j] == none {
				continue
			}
			if slot.without > 0 && best[s][j]+slot.without > best[s+1][j] {
				best[s+1][j], took[s+1][j] = best[s][j]+slot.without, 0
			}
			for count := 1; count <= min(mostForOne, n-j); count++ {
				if q := best[s][j] + look.fit(f, slot, (first+j)%n, count); q > best[s+1][j+count] {
					best[s+1][j+count], took[s+1][j+count] = q, count
				}
			}
		}
	}
	if best[k][n] == none {
		return 0, nil
	}
	counts := make([]int, k)
	for s, j := k, n; s > 0; s-- {
		counts[s-1] = took[s][j]
		j -= took[s][j]
	}
	return best[k][n] / float64(k), counts
}

// toldWeight is how much what names, seams and folds tell counts beside the shape.
const toldWeight = 0.7

// fit says from 0 to 1 how well a row of edges fits a slot: by its shape, and by what else
// tells of it.
func (look *pieceLook) fit(f *anatomyFrame, slot formSlot, first, count int) float64 {
	l := f.look(first, count)
	q := slot.fits(l) * (1 - rise(l.corner, sharpInside, sharpestCount)) * (0.6 + 0.4*rise(math.Abs(l.begins), bluntCorner, plainCorner))
	told, of := 0.0, 0.0
	for k := range count {
		e := &f.edges[(first+k)%len(f.edges)]
		told += look.tells(e.index, slot.part) * e.length
		of += e.length
	}
	if of > 0 {
		told /= of
	}
	if told >= 0 {
		return q + (1-q)*toldWeight*told
	}
	return q * (1 + toldWeight*told)
}

// alsoCalled are the names that an edge may bear besides its own.
var alsoCalled = map[EdgePart][]EdgePart{
	AtHem: {AtWaist, AtAnkle}, AtWrist: {AtHem}, AtAnkle: {AtHem}, AtSide: {AtUnderarm}, AtUnderarm: {AtSide},
	AtCap: {AtArmhole}, AtCrotch: {AtCentre, AtCentreFront, AtCentreBack},
	AtCentre: {AtCentreFront, AtCentreBack},
}

// tells says from -1 to 1 whether name, kind and seams of an edge speak for its being a
// part, or against it.
func (look *pieceLook) tells(i int, part EdgePart) float64 {
	e, told := &look.piece.Edges[i], look.told[i]
	middle := part.Middle()
	if e.Kind == FoldEdge && look.piece.Cut.Way == CutOnFold {
		if middle {
			return 1
		}
		return -1
	}
	if told.name != EdgeUnknown {
		if told.name == part || slices.Contains(alsoCalled[part], told.name) {
			return 1
		}
		return -1
	}
	open := part == AtHem || part == AtWrist || part == AtAnkle
	switch {
	case told.mirror:
		if middle || part == AtCrotch {
			return 0.8
		}
		return -0.6
	case told.tube:
		if part == AtUnderarm || part == AtInsideLeg {
			return 0.8
		}
		return -0.6
	case e.Kind == HemEdge || e.Kind == CasingEdge:
		if open {
			return 0.6
		}
		return -0.6
	case told.sewn && open:
		return -0.1
	}
	return 0
}

// pieceTells is what the piece itself tells of a form: its name and the way it is cut.
func (look *pieceLook) pieceTells(f *anatomyFrame, form *anatomyForm) float64 {
	sum := 0.0
	p := look.piece
	if named := look.partByName(); named == form.part {
		sum += nameTells
	} else if named != PartUnknown {
		sum -= nameTells
	}
	if form.part == PartSleeve && aspectOfName(p.Name) != AspectUnknown && pieceOfName(p.Name) != PartSleeve {
		sum -= nameTells
	}
	switch {
	case p.Cut.Way == CutOnFold && !form.half:
		sum -= nameTells
	case p.Cut.Way == CutPairs && form.name == "a whole front or back":
		sum -= nameTells
	}
	if look.band && look.partByName() != form.part {
		sum -= nameTells
	}
	return sum - 2*nameTells*(1-rise(f.fills, 0.35, 0.5))
}

// bandShape is how many times as long as wide a rectangle is that is taken for a band.
const bandShape = 1.4

// bandBends is by how much, as a share of its length, an edge of a band may bend.
const bandBends = 0.1

// isBandLike reports whether the piece is a long rectangle, or nearly: what is sewn on as a
// band. Its long edges may be shaped a little, as those of a collar are.
func (p *Piece) isBandLike() bool {
	if len(p.Edges) != 4 {
		return false
	}
	var l [4]float64
	for i := range l {
		if offStraight(2*p.cornerAngle(i)) > runsNearlyOn {
			return false
		}
		if l[i] = p.EdgeLength(i); bend(p.EdgePath(i)) > bandBends*l[i] {
			return false
		}
	}
	long, short := l[0]+l[2], l[1]+l[3]
	return max(long, short) >= bandShape*min(long, short)
}

// choose takes each piece for one of the forms it looks like, so that the edges that are
// sewn to each other go together.
func (a *anatomist) choose() {
	for _, look := range a.looks {
		if len(look.tries) > 0 && look.tries[0].score >= fitsForm {
			look.chosen = look.tries[0]
		}
	}
	const rounds = 4 // each piece looks at its neighbours; a garment is few pieces deep
	for range rounds {
		changed := false
		for _, look := range a.looks {
			var best *formTry
			most := fitsForm
			for _, try := range look.tries {
				if score := try.score + a.agreement(look, try); score >= most {
					best, most = try, score+Grid
				}
			}
			if best != look.chosen {
				look.chosen, changed = best, true
			}
		}
		if !changed {
			return
		}
	}
}

// agreement is what the seams of a piece say of its being taken for a form.
func (a *anatomist) agreement(look *pieceLook, try *formTry) float64 {
	sum := 0.0
	for _, seam := range a.seams {
		for _, u := range seam.A {
			for _, v := range seam.B {
				if u.Piece != look.piece.ID && v.Piece != look.piece.ID {
					continue
				}
				sum += seamTells * goTogether(a.partIn(u, look, try), a.partIn(v, look, try))
			}
		}
	}
	return min(max(sum, -3*seamTells), 3*seamTells)
}

// partIn returns what the edge of a use is where a piece is taken for a form.
func (a *anatomist) partIn(u EdgeUse, look *pieceLook, try *formTry) EdgePart {
	of := a.of[u.Piece]
	if of == nil {
		return EdgeUnknown
	}
	if of != look {
		try = of.chosen
	}
	_, i := of.piece.Edge(u.Edge)
	if i < 0 {
		return EdgeUnknown
	}
	if try == nil {
		return of.told[i].name
	}
	return try.parts[i]
}

// goTogether says whether two edges that are sewn to each other may be these parts: 1
// where they belong together, -1 where they do not, 0 where nothing is known.
func goTogether(a, b EdgePart) float64 {
	if a == EdgeUnknown || b == EdgeUnknown {
		return 0
	}
	if a > b {
		a, b = b, a
	}
	switch {
	case a.Middle() && b.Middle():
		return 1
	case a == b:
		if a == AtNeck || a == AtHem || a == AtCap {
			return -1
		}
		return 1
	case a == AtArmhole && b == AtCap:
		return 1
	case a == AtWaist && b == AtHem, a == AtCrotch && b.Middle(), a.Middle() && b == AtCrotch:
		return 0.5
	case a == AtEnd || b == AtEnd || a == AtOuter || b == AtOuter:
		return 0
	case a == AtSide && b == AtUnderarm, a == AtHem && b == AtWrist, a == AtArmhole && b == AtUnderarm:
		return 0
	}
	return -1
}

// anatomy returns what the piece was taken for.
func (look *pieceLook) anatomy() *PieceAnatomy {
	p := look.piece
	out := &PieceAnatomy{Piece: p, Up: p.GrainWay(), Edges: make([]EdgeAnatomy, len(p.Edges)), Aspect: aspectOfName(p.Name)}
	if out.Up.Y < 0 {
		out.Up = out.Up.Mul(-1)
	}
	named := 0
	for i := range p.Edges {
		out.Edges[i].Edge = p.Edges[i].ID
		if look.told[i].name != EdgeUnknown {
			named++
		}
	}
	try := look.chosen
	if try == nil {
		look.byNames(out)
		return out
	}
	out.Part, out.Half, out.Up = try.form.part, try.form.half, try.frame.up
	out.Sure = rise(try.score, fitsForm-0.16, 0.98)
	out.Why = "its edges follow each other as those of " + try.form.name + " do"
	if named*2 > len(p.Edges) {
		out.Why = "its edges are named as those of " + try.form.name
	}
	for i, part := range try.parts {
		e := &out.Edges[i]
		e.Part, e.Sure, e.Why = part, out.Sure*try.fits[i], "by its shape and its place on the piece"
		switch {
		case look.told[i].name == part || slices.Contains(alsoCalled[part], look.told[i].name):
			e.Why = "by its name"
			if look.told[i].name != part && part != AtCap && part != AtUnderarm && part != AtSide && part != AtCrotch {
				e.Part = look.told[i].name
			}
			if part == AtWrist || part == AtAnkle {
				e.Part = part
			}
		case p.Edges[i].Kind == FoldEdge && part.Middle():
			e.Why = "it lies on the fold"
		case look.told[i].sewn:
			e.Why = "by its shape, and by what it is sewn to"
		}
	}
	return out
}

// sureOfNames is how sure names alone make.
const sureOfNames = 0.7

// byNames takes the piece for what its name and those of its edges say.
func (look *pieceLook) byNames(out *PieceAnatomy) {
	p := look.piece
	if isTrimming(p.Name) {
		return
	}
	out.Part = look.partByName()
	has := make(map[EdgePart]bool)
	for i := range p.Edges {
		e, part := &out.Edges[i], look.told[i].name
		if part == EdgeUnknown && p.Edges[i].Kind == HemEdge {
			part = AtHem
		}
		if part == EdgeUnknown && p.Edges[i].Kind == FoldEdge && !look.band {
			part = AtCentre
		}
		if part != EdgeUnknown {
			e.Part, e.Sure, e.Why = part, sureOfNames, "by its name"
		}
		has[part] = true
	}
	if out.Part == PartUnknown {
		switch {
		case has[AtCap] || has[AtWrist] && has[AtUnderarm]:
			out.Part = PartSleeve
		case has[AtNeck] && (has[AtShoulder] || has[AtArmhole] || has[AtSide]), has[AtArmhole] && has[AtSide]:
			out.Part = PartTrunk
		case has[AtInsideLeg] || has[AtCrotch]:
			out.Part = PartLeg
		case has[AtWaist] && has[AtHem] && has[AtSide]:
			out.Part = PartSkirt
		}
	}
	out.Half = p.Cut.Way == CutOnFold || has[AtCentre] || has[AtCentreBack] || has[AtCentreFront]
	if out.Part != PartUnknown {
		out.Sure, out.Why = sureOfNames, "its name and those of its edges say so"
	}
}
