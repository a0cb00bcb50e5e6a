package station

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/body"
)

// fitSpans is the part of the first step in which is said which stretches stand for which
// measures: how much is said, what is suggested, and how to say one by hand.
type fitSpans struct {
	f      *Fitting
	object fyne.CanvasObject

	mark  *control.Mark
	sum   *control.Prose
	all   *control.Button
	each  *control.Button
	cards *fyne.Container
	none  *control.Prose
	// hint says that names would tell more; name leads to the field of the first name.
	hint   *control.Prose
	name   *control.Button
	nameIn fyne.CanvasObject
	untold []*draft.Piece
	// looked is the suggestion that is looked at, by its key.
	looked string
	unfold bool
	shown  string
	list   []draft.SpanSuggestion

	pick   *control.Prose
	chips  *fyne.Container
	more   *control.Choice
	moreIn fyne.CanvasObject
	others []guess
	told   string
}

func newFitSpans(f *Fitting) *fitSpans {
	s := &fitSpans{f: f}
	s.mark = control.NewMark(control.Note, 16)
	s.sum = control.NewProse("", 12, false, look.Ink, fitRoom-26)
	s.all = control.NewButton(control.WordShape, "", "Take all that is suggested", "Take every suggestion, as one step to undo; each can be changed or dropped in the table", s.takeAll)
	s.each = control.NewButton(control.SmallShape, "", "Look at each", "List what is suggested, with what speaks for it", func() {
		s.unfold = !s.unfold
		s.f.Update()
	})
	s.cards = control.Stack(6)
	s.none = control.NewProse("", 12, false, look.Faint, fitRoom)
	s.hint = control.NewProse("", 12, false, look.OchreText, fitRoom)
	s.name = control.NewButton(control.SmallShape, "draw", "", "Type a name for this piece", func() {
		if len(s.untold) > 0 {
			f.ways.Name(s.untold[0].ID)
		}
	})
	s.nameIn = control.Row(0, s.name)
	s.pick = control.NewProse("", 12, false, look.Faint, fitRoom)
	s.chips = control.Flow(fitRoom, 5)
	s.more = control.NewChoice("Any other measure of the body", nil, func(i int) {
		if i >= 0 && i < len(s.others) {
			s.add(s.others[i])
		}
	})
	s.more.PlaceHolder = "Another measure…"
	s.moreIn = s.more.Object()
	s.object = control.Stack(8,
		control.NewText("What stands for what", 12.5, true, look.Ink),
		control.Row(8, control.Inset(0, 1, 0, 0, s.mark), s.sum),
		s.all, control.Row(0, s.each), s.cards, s.none, s.hint, s.nameIn,
		control.Inset(0, 4, 0, 0, control.NewText("One by hand", 12.5, true, look.Ink)),
		s.pick, s.chips, s.moreIn)
	return s
}

// spanCount is how much is said.
type spanCount struct {
	spans, known int
	pieces       int
	// without are the pieces of which nothing stands for a measure.
	without []string
	// doubtful tells of the first stretch that is far smaller than the body, "" where none is.
	doubtful string
}

// count counts what is said of the pieces in hand. A piece that follows another, such as a
// lining, needs nothing of its own.
func (s *fitSpans) count() spanCount {
	var n spanCount
	p := s.f.desk.Project()
	sewn := map[draft.ID]bool{}
	var own []*draft.Piece
	for _, piece := range s.f.scope.pieces() {
		if d := derivationOf(p, piece); d != nil && d.Kind == "piece" {
			continue
		}
		n.pieces++
		known := s.f.madeForBody(piece)
		has := false
		for _, x := range piece.Spans {
			if x.Measure == "" {
				continue
			}
			has = true
			n.spans++
			if known != nil {
				if k, ok := known.Get(x.Measure); ok {
					n.known++
					n.doubt(s.f, piece, x, k.Value)
				}
			}
		}
		own = append(own, piece)
		sewn[piece.ID] = has
	}
	sewnOn(p, sewn)
	for _, piece := range own {
		if !sewn[piece.ID] {
			n.without = append(n.without, piece.Name)
		}
	}
	return n
}

// doubt notes a stretch of a piece that is far smaller than its part of the measure.
func (n *spanCount) doubt(f *Fitting, piece *draft.Piece, x draft.Span, measure float64) {
	if n.doubtful != "" {
		return
	}
	was, _ := f.asItCame(piece, x)
	if ease := was - x.Share*measure; farTooSmall(ease, x.Share*measure) {
		n.doubtful = fmt.Sprintf("Doubtful: %s of %s is %s less than %s. Look which measure it stands for, and which part of it.",
			x.Name, piece.Name, f.desk.Project().Unit.Format(-ease), standsFor(x.Measure, x.Share))
	}
}

// sewnOn adds to the pieces that have stretches those that are sewn to them, to what is sewn
// to those, and so on: the seams say then how long they are to be there.
func sewnOn(p *draft.Project, has map[draft.ID]bool) {
	for more := true; more; {
		more = false
		for _, seam := range p.Seams {
			refs := desk.SeamRefs(seam)
			if !slices.ContainsFunc(refs, func(r desk.Ref) bool { return has[r.Piece] }) {
				continue
			}
			for _, r := range refs {
				if !has[r.Piece] {
					has[r.Piece], more = true, true
				}
			}
		}
	}
}

// derivationOf returns how a piece came to be, or nil.
func derivationOf(p *draft.Project, piece *draft.Piece) *draft.Derivation {
	if piece.Derived == nil {
		return nil
	}
	return p.Derivation(piece.Derived.Derivation)
}

func (s *fitSpans) update() {
	s.tellCount()
	s.list = s.f.desk.Slots().SuggestSpans(s.f.desk.Project(), s.f.scope.ids())
	s.all.SetWord(fmt.Sprintf("Take all %d suggestions", len(s.list)))
	if len(s.list) == 1 {
		s.all.SetWord("Take the suggestion")
	}
	show(s.all, len(s.list) > 0)
	show(s.each, len(s.list) > 0)
	s.each.SetWord(map[bool]string{false: "Look at each", true: "Fold the list"}[s.unfold])
	show(s.none, len(s.list) == 0 && len(s.f.scope.pieces()) > 0)
	s.none.Put("Nothing more is suggested. The table below lists what stands for what: press a word or a figure to change it.")
	s.tellUntold()
	s.listCards()
	s.tellPicked()
}

// tellUntold says where names would tell more.
func (s *fitSpans) tellUntold() {
	without := s.count().without
	s.untold = nil
	for _, p := range s.f.desk.Slots().Untold(s.f.desk.Project()) {
		if slices.Contains(without, p.Name) {
			s.untold = append(s.untold, p)
		}
	}
	show(s.hint, len(s.untold) > 0)
	show(s.nameIn, len(s.untold) > 0)
	if len(s.untold) > 0 {
		s.hint.Put(untoldWords(s.untold))
		s.name.SetWord("Name " + s.untold[0].Name)
	}
}

func (s *fitSpans) tellCount() {
	n := s.count()
	switch {
	case n.pieces == 0:
		s.mark.Put(control.Note)
		s.sum.Put("There are no pieces.")
	case n.spans == 0:
		s.mark.Put(control.LookAgain)
		s.sum.Put("Nothing yet. A pattern is fitted by what its stretches stand for: a quarter of the bust, the length of the back.")
	case n.known == 0:
		s.mark.Put(control.LookAgain)
		s.sum.Put("Give a measure of the body above, so that there is something to compare the wearer with.")
	case n.doubtful != "":
		s.mark.Put(control.LookAgain)
		s.sum.Put(n.doubtful)
	case len(n.without) > 0:
		s.mark.Put(control.LookAgain)
		s.sum.Put(fmt.Sprintf("Nothing on %s yet: what nothing is said of goes along with the rest.", wording.List(quoted(n.without, 4))))
	default:
		s.mark.Put(control.Holds)
		s.sum.Put("Enough to fit by. More make the fit closer.")
	}
}

// quoted returns at most so many of the words, and how many more there are.
func quoted(words []string, most int) []string {
	if len(words) > most {
		return append(slices.Clone(words[:most]), fmt.Sprintf("%d more", len(words)-most))
	}
	return words
}

// suggestionTitle2 says in a few words what a suggestion would say.
func spanSuggestionTitle(g draft.SpanSuggestion) string {
	return g.Piece.Name + ": " + standsFor(g.Span.Measure, g.Span.Share)
}

// listCards lists the suggestions one by one, where that was asked for.
func (s *fitSpans) listCards() {
	show(s.cards, s.unfold && len(s.list) > 0)
	key := ""
	if s.unfold {
		for _, g := range s.list {
			key += g.Key() + g.Why + s.f.desk.Project().Unit.Format(g.Length) + "\n"
		}
	}
	if key == s.shown {
		return
	}
	s.shown = key
	s.cards.Objects = nil
	if s.unfold {
		for _, g := range s.list {
			s.cards.Add(s.card(g))
		}
	}
	s.cards.Refresh()
}

// card tells one suggestion; looked at, it is shown on the bench.
func (s *fitSpans) card(g draft.SpanSuggestion) fyne.CanvasObject {
	u := s.f.desk.Project().Unit
	const pad, button = 9, 56
	says := u.Format(g.Length)
	if g.Known {
		says += ", " + easeWords(u, g.Span.Ease)
	}
	lines := control.Stack(1,
		control.NewProse(spanSuggestionTitle(g), 12, true, look.Ink, fitRoom-2*pad-button),
		control.NewProse(says, 11.5, false, look.Ink, fitRoom-2*pad-button),
		control.NewProse(g.Why, 11.5, false, look.Faint, fitRoom-2*pad-button))
	take := control.NewButton(control.SmallShape, "", "Take", "Take this one", func() { s.take(g.Key()) })
	row := control.Row(6, lines, control.Spring(), take)
	c := control.NewCard(control.Inset(pad, 5, pad, 6, row), "Show it on the bench: "+spanSuggestionTitle(g), func() { s.f.ways.Pick(desk.PieceRef(g.Piece.ID)) })
	c.OnLook = func(on bool) {
		switch {
		case on:
			s.looked = g.Key()
		case s.looked == g.Key():
			s.looked = ""
		}
		s.f.drawOver()
	}
	return c
}

// easeWords says how much larger than the body a stretch is.
func easeWords(u draft.Unit, ease float64) string {
	switch {
	case ease > u.Step()/2:
		return u.Format(ease) + " of ease"
	case ease < -u.Step()/2:
		return u.Format(-ease) + " less than the body"
	}
	return "no ease"
}

// takeAll takes every suggestion as one step.
func (s *fitSpans) takeAll() {
	if s.run("") == nil {
		s.f.ways.Say("Taken. Look through them in the table; each can be changed or dropped.")
	}
}

// take takes one suggestion.
func (s *fitSpans) take(key string) {
	s.looked = ""
	_ = s.run(key) // told already
}

// run takes the suggestion of the key, or all.
func (s *fitSpans) run(key string) error {
	a := draft.TakeSpansArgs{}
	for _, id := range s.f.scope.ids() {
		a.Pieces = append(a.Pieces, draft.PieceRef(id))
	}
	if key != "" {
		a.Only = []string{key}
	}
	s.f.drop()
	err := desk.Run(s.f.desk, draft.TakeSpans, a)
	s.f.report(err)
	return err
}

// stretch is what is picked on the bench and can stand for a measure.
type stretch struct {
	piece  *draft.Piece
	args   draft.AddSpanArgs
	words  string
	span   draft.Span
	length float64
	// cameLong says that the length is that of the pattern as it came, before its fit.
	cameLong bool
}

// guess returns what is known of a stretch of a piece, to guess what it stands for.
func (f *Fitting) guess(piece *draft.Piece, span draft.Span, length float64) guessing {
	return guessing{
		known: f.madeForBody(piece), wearer: f.wearerAs(piece), length: length, runs: spanCourse(piece, span, length),
		suits: f.desk.Slots().SuitingMeasures(f.desk.Project(), piece, span),
	}
}

// asItCame returns how long a stretch was in the pattern as it came where its piece is fitted,
// else how long it is. It is false of a stretch that the pattern did not have.
func (f *Fitting) asItCame(piece *draft.Piece, span draft.Span) (mm float64, came bool) {
	if d := f.desk.Project().FitOf(piece); d != nil && d.Source != nil {
		if was := d.Source.Piece(piece.ID); was != nil {
			if mm := f.desk.Slots().SpanLength(was, span); mm > 0 {
				return mm, true
			}
		}
	}
	return f.desk.Slots().SpanLength(piece, span), false
}

// picked returns the stretch that is picked: two points of a piece, or edges or lines of
// one; false where it is none.
func (s *fitSpans) picked() (stretch, bool) {
	p, picked := s.f.desk.Project(), s.f.desk.Picked()
	pieces := picked.Pieces()
	if len(pieces) != 1 || p.Piece(pieces[0]) == nil {
		return stretch{}, false
	}
	x := stretch{piece: p.Piece(pieces[0])}
	span := draft.Span{}
	nodes := picked.Of(desk.Node)
	switch edges, lines := picked.Edges(), picked.Of(desk.Line); {
	case len(nodes) == 2:
		from, to := draft.NodeRef{Piece: x.piece.ID, Node: nodes[0].Node}, draft.NodeRef{Piece: x.piece.ID, Node: nodes[1].Node}
		x.args.From, x.args.To = &from, &to
		span.From, span.To = from.Node, to.Node
		x.words = "the way between two points"
	case len(edges) > 0 && len(edges) == len(picked):
		x.args.Edges = edges
		for _, e := range edges {
			span.Edges = append(span.Edges, e.Edge)
		}
		x.words = strings.Join(edgeNames(x.piece, span.Edges), " and ")
	case len(lines) > 0 && len(lines) == len(picked):
		for _, l := range lines {
			x.args.Lines = append(x.args.Lines, draft.LineRef{Piece: l.Piece, Line: l.Thing})
			span.Lines = append(span.Lines, l.Thing)
		}
		x.words = wording.Count(len(lines), "line")
	default:
		return stretch{}, false
	}
	x.span = span
	x.length, x.cameLong = s.f.asItCame(x.piece, span)
	return x, x.length > 0
}

// edgeNames returns the names of edges of a piece.
func edgeNames(p *draft.Piece, ids []draft.ID) []string {
	var out []string
	for _, id := range ids {
		if e, _ := p.Edge(id); e != nil {
			name := e.Name
			if name == "" {
				name = "an edge"
			}
			out = append(out, name)
		}
	}
	return out
}

// spanCourse returns how a span runs in the cloth.
func spanCourse(p *draft.Piece, span draft.Span, length float64) course {
	if len(span.Edges) == 0 && len(span.Lines) == 0 {
		from, to := p.AnyNode(span.From), p.AnyNode(span.To)
		if from == nil || to == nil {
			return runsBent
		}
		return courseOf(p, from.At, to.At, length)
	}
	if len(span.Edges) > 0 {
		if _, i := p.Edge(span.Edges[0]); i >= 0 {
			path := p.EdgePath(i)
			if len(span.Edges) == 1 && len(path) > 0 {
				return courseOf(p, path.Start(), path.End(), length)
			}
		}
	}
	return runsBent
}

// mostChips is how many measures are offered to be pressed.
const mostChips = 6

// tellPicked offers what the picked stretch may stand for.
func (s *fitSpans) tellPicked() {
	x, ok := s.picked()
	show(s.chips, ok)
	show(s.moreIn, ok)
	u := s.f.desk.Project().Unit
	if !ok {
		s.told = ""
		s.pick.PutAs("Pick two points of a piece, the second with Shift, or one edge or several, on the bench; then say here what they stand for.", look.Faint)
		return
	}
	says := fmt.Sprintf("%s: %s, %s", x.piece.Name, x.words, u.Format(x.length))
	if x.cameLong {
		says += " in the pattern as it came"
	}
	s.pick.PutAs(says+". It stands for:", look.Ink)
	first, others := s.f.guess(x.piece, x.span, x.length).offered()
	key := fmt.Sprint(x.piece.ID, x.words, x.length, u, first)
	if key == s.told {
		return
	}
	s.told = key
	s.chips.Objects = nil
	for _, g := range first {
		hint := "Say that it stands for " + shareWords(g.share) + " of " + body.Words(g.measure)
		if g.ease != 0 {
			hint += ", with " + easeWords(u, g.ease)
		}
		s.chips.Add(control.Inset(0, 0, 0, 5, control.NewButton(control.SmallShape, "", standsFor(g.measure, g.share), hint, func() { s.add(g) })))
	}
	s.chips.Refresh()
	s.others = others
	slices.SortStableFunc(s.others, func(a, b guess) int { return strings.Compare(measureShort(a.measure), measureShort(b.measure)) })
	words := make([]string, len(s.others))
	for i, g := range s.others {
		words[i] = measureEntry(g.measure)
	}
	s.more.Offer(words, -1)
}

// add says what the picked stretch stands for.
func (s *fitSpans) add(g guess) {
	x, ok := s.picked()
	if !ok {
		return
	}
	a := x.args
	a.Measure, a.Share, a.Ease = draft.MeasureRef(g.measure), g.share, draft.Length(g.ease)
	s.f.drop()
	out, err := draft.AddSpan.Do(s.f.desk.Project(), a)
	if err != nil {
		s.f.report(err)
		return
	}
	s.f.desk.Take(out, "")
	s.f.table.choose(rowKey{x.piece.ID, out.Made}, false)
	s.f.Update()
}
