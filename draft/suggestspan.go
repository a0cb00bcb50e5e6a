package draft

import (
	"math"
	"slices"

	"hemlet/draft/body"
	"hemlet/geom"
)

// SpanSuggestion is a span that nobody has recorded and that a piece seems to ask for.
type SpanSuggestion struct {
	Piece *Piece
	// Span is as it would be recorded, with the id that it would get in this project. Its
	// ease is what the stretch measures more than its share of the measure of the body for
	// which the pattern was made, 0 where nothing is known of that body.
	Span Span
	// Lines are drawn across the piece first, since nothing lies at that level; none where
	// the span needs none. Several suggestions of a piece may share them.
	Lines []Line
	// Length is what the stretch measures in mm.
	Length float64
	// Old is the measure in mm of the body for which the pattern was made; Known is false
	// where nothing is known of it, and Estimated says that it was worked out from others.
	Old              float64
	Known, Estimated bool
	// Why says in a few words what speaks for it, Sure from above 0 to 1 how much does.
	Why  string
	Sure float64
}

// Key names the suggestion among all of its project: by its piece and the name of the span.
func (g SpanSuggestion) Key() string { return string(g.Piece.ID) + "/" + g.Span.Name }

// SuggestSpans returns the spans that the named pieces ask for, those of every piece of
// the pattern where none is named: which stretches stand for which measures of the body,
// and for which share. What a piece has a span for already is left out. They are in the
// order of the pieces; all of one piece go from the neck down.
//
// Widths and depths are measured across and along the grain between corners of the outline
// wherever there are some; only where the waist or the hips of the body lie inside a piece
// is a line drawn there first. A fit carries such a line along, and the span goes on to
// measure the same cloth.
func (s *Slots) SuggestSpans(p *Project, pieces []ID) []SpanSuggestion {
	all := s.suggestedSpans(s.patternOf(p)).list
	if len(pieces) == 0 {
		return all
	}
	var out []SpanSuggestion
	for _, g := range all {
		if slices.Contains(pieces, g.Piece.ID) {
			out = append(out, g)
		}
	}
	return out
}

// suggested are all suggestions of a project, and the number that the next new thing gets
// after them.
type suggested struct {
	list []SpanSuggestion
	next int
}

func (s *Slots) suggestedSpans(p *Project) *suggested {
	return slotOf(s, "suggested spans", "", slotInputs{p}, func() *suggested { return s.findSpans(p) })
}

// measureOf finds a measure of a body, false where it is not known.
type measureOf func(measure string) (body.Known, bool)

// spanFinder is the work of one call.
type spanFinder struct {
	slots   *Slots
	p       *Project
	anatomy *Anatomy
	ids     *idSource
	bodies  map[ID]measureOf
	// banded are the edges that are gathered to a band, which has the span in their place.
	banded map[edgeKey]bool
	found  map[ID][]SpanSuggestion
	drawn  map[ID][]*drawnLevel
}

// findSpans works out all suggestions of a project.
func (s *Slots) findSpans(p *Project) *suggested {
	f := &spanFinder{
		slots: s, p: p, anatomy: s.Anatomy(p), ids: p.newIDs(), bodies: make(map[ID]measureOf),
		banded: make(map[edgeKey]bool), found: make(map[ID][]SpanSuggestion), drawn: make(map[ID][]*drawnLevel),
	}
	f.findBanded()
	for _, group := range f.groups() {
		f.trunk(group.with(PartTrunk))
		f.skirt(group.with(PartSkirt))
		f.legs(group.with(PartLeg))
		for _, pa := range group {
			switch pa.Part {
			case PartSleeve:
				f.sleeve(pa)
			case PartNeckBand, PartCuff, PartWaistBand:
				f.band(pa)
			}
		}
	}
	var out []SpanSuggestion
	for _, piece := range p.Pieces {
		out = append(out, f.found[piece.ID]...)
	}
	return &suggested{out, f.ids.next}
}

// spanGroup are pieces that are worn as one: those of one layer of a garment.
type spanGroup []*PieceAnatomy

func (g spanGroup) with(part PiecePart) spanGroup {
	var out spanGroup
	for _, pa := range g {
		if pa.Part == part {
			out = append(out, pa)
		}
	}
	return out
}

// groups returns the pieces by garment and layer, without those that follow other pieces,
// as linings do: they are fitted with them.
func (f *spanFinder) groups() []spanGroup {
	type key struct {
		garment string
		layer   Layer
	}
	at := make(map[key]int)
	var out []spanGroup
	for _, pa := range f.anatomy.Pieces {
		if f.isLinked(pa.Piece) {
			continue
		}
		k := key{pa.Piece.Garment, pa.Piece.Layer}
		i, known := at[k]
		if !known {
			i = len(out)
			at[k] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], pa)
	}
	return out
}

// isLinked reports whether a piece follows another one.
func (f *spanFinder) isLinked(piece *Piece) bool {
	if piece.Derived == nil {
		return false
	}
	d := f.p.Derivation(piece.Derived.Derivation)
	return d != nil && d.Kind == pieceKind
}

// old returns a measure of the body for which a piece was made, false where nothing is
// known of it.
func (f *spanFinder) old(piece *Piece, measure string) (body.Known, bool) {
	key := piece.Origin
	if piece.Derived != nil {
		key = piece.Derived.Derivation
	}
	get, ok := f.bodies[key]
	if !ok {
		get = f.madeFor(piece)
		f.bodies[key] = get
	}
	return get(measure)
}

// madeFor returns what finds a measure of the body for which a piece was made: that of the
// wearer for a piece that was drafted or fitted, that which its origin states for others.
func (f *spanFinder) madeFor(piece *Piece) measureOf {
	if piece.Derived != nil {
		if d := f.p.Derivation(piece.Derived.Derivation); d != nil && f.p.WearerOf(d) != nil {
			_, get := f.slots.measuresFor(f.p, piece)
			return get
		}
	}
	b := f.p.Origin(piece.Origin).Body()
	if b == nil {
		return func(string) (body.Known, bool) { return body.Known{}, false }
	}
	return b.Get
}

// mm returns an old measure in mm, 0 where it is not known.
func (f *spanFinder) mm(piece *Piece, measure string) float64 {
	k, _ := f.old(piece, measure)
	return k.Value
}

// spanDraft is a span before it is looked at whether the piece has it already.
type spanDraft struct {
	span  Span
	lines []Line
	why   string
	sure  float64
}

// styleShare is by which figure a share is rounded that style decides, to four digits: what
// is rounded off of a length of 3 m is less than a line is wide.
const styleShare = 1e4

// suggest puts a span on the list unless the piece has one for the same already.
func (f *spanFinder) suggest(pa *PieceAnatomy, g spanDraft) {
	piece := pa.Piece
	if g.span.Way != Straight && math.Abs(pa.Up.Dot(piece.GrainWay())) < 0.5 {
		// The piece is cut with the grain across the body.
		g.span.Way = AlongGrain + AcrossGrain - g.span.Way
	}
	if f.has(piece, g.span) {
		return
	}
	drawn := piece
	if len(g.lines) > 0 {
		q := *piece
		q.Lines = append(slices.Clone(piece.Lines), g.lines...)
		drawn = &q
	}
	length := f.slots.SpanLength(drawn, g.span)
	if !(length > shortestStretch) {
		return
	}
	k, known := f.old(piece, g.span.Measure)
	if g.span.Share == 0 { // as style has it
		if !known {
			return
		}
		g.span.Share = math.Round(length/k.Value*styleShare) / styleShare
	}
	if !(g.span.Share > 0 && g.span.Share <= maxShare) {
		return
	}
	if known {
		g.span.Ease = toGrid(length - g.span.Share*k.Value)
	}
	g.span.ID = f.ids.make(kindSpan)
	f.found[piece.ID] = append(f.found[piece.ID], SpanSuggestion{
		Piece: piece, Span: g.span, Lines: g.lines, Length: length,
		Old: k.Value, Known: known, Estimated: known && !k.Taken(), Why: g.why, Sure: g.sure * max(pa.Sure, 0.5),
	})
}

// has reports whether the piece has a span already that stands for the same: of the same
// measure, of another part of the same level, or of a level along the same edges.
func (f *spanFinder) has(piece *Piece, span Span) bool {
	level := levelOfMeasure(span.Measure)
	for _, o := range piece.Spans {
		if o.Measure == "" {
			continue
		}
		if level != "" && levelOfMeasure(o.Measure) == level {
			return true
		}
		if level != "" && levelOfMeasure(o.Measure) != "" && len(span.Edges) > 0 && slices.Equal(o.Edges, span.Edges) {
			return true // it goes round the body there by another level
		}
		same := o.From == span.From && o.To == span.To || o.From == span.To && o.To == span.From
		if o.Measure == span.Measure && o.Way == span.Way && slices.Equal(o.Edges, span.Edges) && slices.Equal(o.Lines, span.Lines) && same {
			return true
		}
	}
	return false
}

// levelOfMeasure returns the level round which a measure goes, "" for others.
func levelOfMeasure(measure string) string {
	for _, level := range body.Levels {
		switch measure {
		case body.GirthOf(level), body.ArcFrontOf(level), body.ArcBackOf(level):
			return level
		}
	}
	return ""
}

// times is how often what is drawn goes round the body: a half twice, else as often as
// the piece is cut.
func (pa *PieceAnatomy) times() float64 {
	if pa.Half {
		return 2 * float64(max(pa.Piece.Cut.Count, 1))
	}
	return float64(max(pa.Piece.Cut.Copies(), 1))
}

// edges returns the ids of the edges of the parts, and their length in mm.
func (f *spanFinder) edges(pa *PieceAnatomy, parts ...EdgePart) ([]ID, float64) {
	lengths := f.slots.EdgeLengths(pa.Piece)
	var ids []ID
	sum := 0.0
	for _, i := range pa.With(parts...) {
		ids = append(ids, pa.Piece.Edges[i].ID)
		sum += lengths[i]
	}
	return ids, sum
}

// round returns the measure and the share of it for which a stretch stands that is one of
// several round the body: a part of the front or of the back where the pieces are told
// apart, of the whole girth where they are not. It is false where nothing tells how wide
// another of the pieces is there.
func (g spanGroup) round(pa *PieceAnatomy, level string, width func(*PieceAnatomy) float64) (string, float64, bool) {
	whole, own := 0.0, 0.0
	apart := true
	for _, other := range g {
		w := width(other) * other.times()
		if !(w > 0) {
			return "", 0, false
		}
		whole += w
		if other.Aspect == pa.Aspect {
			own += w
		}
		apart = apart && other.Aspect != AspectUnknown
	}
	switch {
	case !apart:
		return body.GirthOf(level), shareIn(width(pa), whole), true
	case pa.Aspect == AspectFront:
		return body.ArcFrontOf(level), shareIn(width(pa), own), true
	}
	return body.ArcBackOf(level), shareIn(width(pa), own), true
}

// oneSided reports whether the pieces cover only the front of the body, or only the back:
// what goes round it can then not be told.
func (g spanGroup) oneSided() bool {
	for _, pa := range g {
		if pa.Aspect == AspectUnknown || pa.Aspect != g[0].Aspect {
			return false
		}
	}
	return true
}

// shareIn is the part of a whole, so that equal parts come out exactly and all add up to 1.
func shareIn(part, whole float64) float64 {
	if !(whole > 0) {
		return 1
	}
	const digits = 1e9
	return math.Round(part/whole*digits) / digits
}

// findBanded notes which edges are gathered to a band.
func (f *spanFinder) findBanded() {
	for _, seam := range f.anatomy.seams {
		if seam.Ratio <= mostLetIn {
			continue
		}
		full, band := seam.A, seam.B
		if seam.Fuller == SideB {
			full, band = band, full
		}
		if len(band) == 0 {
			continue
		}
		on := f.anatomy.of[band[0].Piece]
		if on == nil || on.Part != PartNeckBand && on.Part != PartCuff && on.Part != PartWaistBand {
			continue
		}
		for _, u := range full {
			f.banded[edgeKey{u.Piece, u.Edge}] = true
		}
	}
}

// isBanded reports whether the first edge of a part is gathered to a band.
func (f *spanFinder) isBanded(pa *PieceAnatomy, part EdgePart) bool {
	for _, i := range pa.With(part) {
		if f.banded[edgeKey{pa.Piece.ID, pa.Piece.Edges[i].ID}] {
			return true
		}
	}
	return false
}

// across returns how far two places lie apart across the body.
func (pa *PieceAnatomy) across(a, b geom.Point) float64 { return math.Abs(b.Sub(a).Cross(pa.Up)) }

// height returns how high a place lies, in the piece's own millimetres, and right how far
// to the right as it is worn by whoever looks at it.
func (pa *PieceAnatomy) height(at geom.Point) float64 { return at.Dot(pa.Up) }
func (pa *PieceAnatomy) right(at geom.Point) float64  { return at.Dot(geom.Pt(pa.Up.Y, -pa.Up.X)) }

// at returns the place in the piece's own millimetres.
func (pa *PieceAnatomy) at(right, height float64) geom.Point {
	return pa.Up.Mul(height).Add(geom.Pt(pa.Up.Y, -pa.Up.X).Mul(right))
}
