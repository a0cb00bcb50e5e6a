package shell

import (
	"fmt"
	"regexp"

	"hemlet/app/desk"
	"hemlet/app/wording"
	"hemlet/draft"
)

// guide leads through the making-to-fit of a pattern that somebody else drew: it looks at
// the project, tells what comes next and goes there. Nothing has to be done in its order,
// and nothing waits for it.
type guide struct {
	s     *Shell
	steps []guideStep
	// on says that it leads; passed are the steps that the maker has put behind.
	on     bool
	passed map[int]bool
	bar    *guideBar
}

// guideStep is one step of the way.
type guideStep struct {
	title string
	// done reports whether the project shows that the step is done; of a step that only the
	// maker can judge it is nil.
	done func(p *draft.Project) bool
	// next says what to do, word what the button says that goes there, and to goes there.
	next func(p *draft.Project) string
	word func(p *draft.Project) string
	to   func()
	// at returns the station at which the step is done.
	at func(p *draft.Project) string
}

func newGuide(s *Shell) *guide {
	g := &guide{s: s, passed: map[int]bool{}}
	says := func(text string) func(*draft.Project) string { return func(*draft.Project) string { return text } }
	g.steps = []guideStep{
		{title: "Pattern", done: hasPattern, next: g.sayPattern, word: g.wordPattern, to: g.toPattern, at: says(stationTrace)},
		{title: "Cutting", done: saysCutting, word: says("Shape"), at: says(stationShape), to: g.station(stationShape), next: sayCutting},
		{title: "Sewing", done: allSewn, word: says("True"), at: says(stationTrue), to: g.toSewing, next: saySewing},
		{title: "Made for", done: saysMadeFor, word: says("Made for"), at: says(stationFit), to: func() { g.fit(fitMade) }, next: sayMadeFor},
		{title: "For whom", done: isFitted, next: g.sayWhom, word: g.wordWhom, to: g.toWhom, at: whomAt},
		{title: "See it", word: says("See it"), at: says(stationFit), to: func() { g.fit(fitSeen) },
			next: says("Compare before and after, then put right what the new size asks for, such as allowances.")},
		{title: "Print", word: says("Make"), at: says(stationMake), to: g.station(stationMake),
			next: says("Look at the pages, print them, and sew a toile of cheap cloth to try on.")},
	}
	g.bar = newGuideBar(g)
	return g
}

// The steps of the station Fit.
const (
	fitMade = iota
	fitWhom
	fitSeen
)

// station returns what goes to a station.
func (g *guide) station(name string) func() { return func() { g.s.enter(name) } }

// fit goes to a step of the station Fit.
func (g *guide) fit(step int) {
	g.s.enter(stationFit)
	g.s.fitting.OpenStep(step)
}

// begin begins to lead.
func (g *guide) begin() {
	g.on, g.passed = true, map[int]bool{}
	g.keep()
	g.bar.update()
}

// end leads no more.
func (g *guide) end() {
	g.on = false
	g.keep()
	g.bar.update()
	g.s.focusBench()
}

// now returns the step that comes next: the first that is neither done nor put behind.
// Past the last one it is their number.
func (g *guide) now() int {
	p := g.s.desk.Project()
	for i := range g.steps {
		if !g.isDone(i, p) && !g.passed[i] {
			return i
		}
	}
	return len(g.steps)
}

func (g *guide) isDone(i int, p *draft.Project) bool {
	return g.steps[i].done != nil && g.steps[i].done(p)
}

// pass puts the step that comes next behind, and goes where the one after it is done.
func (g *guide) pass() {
	g.passed[g.now()] = true
	g.keep()
	if at := g.now(); at < len(g.steps) {
		g.steps[at].to()
		g.bar.update()
		return
	}
	g.end()
}

// changed lets the guide see a change of the document. Another document is led through if
// it was when it was left, from where that was.
func (g *guide) changed(c desk.Change) {
	if c.Has(desk.Opened) {
		g.recall()
		g.bar.update()
	}
	if !g.on {
		return
	}
	if c.Has(desk.File) && !c.Has(desk.Opened) {
		g.keep() // saved, perhaps under another name
	}
	if c.Has(desk.Opened | desk.Document) {
		g.bar.update()
	}
}

// entered lets the guide see that another station was entered.
func (g *guide) entered() {
	if g.on {
		g.bar.update()
	}
}

// patternOf returns the pieces that are drawn and not made from others.
func patternOf(p *draft.Project) []*draft.Piece {
	var list []*draft.Piece
	for _, piece := range p.Pieces {
		if piece.Ghost > 0 {
			continue
		}
		if d := derivationOf(p, piece); d != nil && d.Kind == "piece" {
			continue
		}
		list = append(list, piece)
	}
	return list
}

func derivationOf(p *draft.Project, piece *draft.Piece) *draft.Derivation {
	if piece.Derived == nil {
		return nil
	}
	return p.Derivation(piece.Derived.Derivation)
}

func hasPattern(p *draft.Project) bool { return len(patternOf(p)) > 0 }

func (g *guide) sayPattern(p *draft.Project) string {
	if len(p.Pictures) > 0 {
		return "Make the pictures true to size, follow their lines, and put the pieces on the bench."
	}
	return "Bring in the pattern: a drawing, a scan, a photograph or a scanned PDF."
}

func (g *guide) wordPattern(p *draft.Project) string {
	if len(p.Pictures) > 0 {
		return "Trace"
	}
	return "Choose a file…"
}

func (g *guide) toPattern() {
	if len(g.s.desk.Project().Pictures) > 0 {
		g.s.trace()
		return
	}
	g.s.askPattern(false)
}

// saysCutting reports whether the pieces have names and it was said how they are cut: of every
// piece or, where the pattern is being sewn already, of any, for some are truly cut once.
func saysCutting(p *draft.Project) bool {
	if len(nameless(p)) > 0 {
		return false
	}
	all, left := len(patternOf(p)), len(uncut(p))
	return all > 0 && (left == 0 || left < all && len(p.Seams) > 0)
}

// uncut returns the names of the pieces of which nobody has said how they are cut: they are
// cut once, as everything is at first.
func uncut(p *draft.Project) []string {
	var names []string
	for _, piece := range patternOf(p) {
		if piece.Cut.Way == draft.CutSingle && piece.Cut.Count <= 1 && piece.Derived == nil {
			names = append(names, piece.Name)
		}
	}
	return names
}

// numbered is what a piece is called until it is named.
var numbered = regexp.MustCompile(`^Piece \d+$`)

// nameless returns what the pieces are called that nobody has named.
func nameless(p *draft.Project) []string {
	var names []string
	for _, piece := range patternOf(p) {
		if piece.Derived == nil && numbered.MatchString(piece.Name) {
			names = append(names, piece.Name)
		}
	}
	return names
}

// sayNames asks for the names of pieces. Names tell of seams and measures, so it says that.
func sayNames(names []string) string {
	has, it := "has no name", "type what it is, such as Cuff or Neck band"
	if len(names) > 1 {
		has, it = "have no names", "type what they are, such as Cuff or Neck band"
	}
	list := wording.List(names)
	if n := len(names); n > 3 {
		list = fmt.Sprintf("%s, %s and %d more", names[0], names[1], n-2)
	}
	return list + " " + has + " yet: " + it + ", and more seams are found."
}

func sayCutting(p *draft.Project) string {
	names, all := uncut(p), len(patternOf(p))
	if list := nameless(p); len(list) > 0 && (len(list) < all || len(names) < all) {
		return sayNames(list)
	}
	switch n := len(names); {
	case n == 0 || n == all:
		return "Name the pieces, and say how each is cut: on a fold, in pairs, how often."
	case n == 1:
		return names[0] + " is cut once. If that is right, press Next."
	case n == 2:
		return names[0] + " and " + names[1] + " are cut once. If that is right, press Next."
	default:
		return fmt.Sprintf("%s, %s and %d more are cut once. If that is right, press Next.", names[0], names[1], n-2)
	}
}

// unsewn returns how many edges that are to be sewn have no partner.
func unsewn(p *draft.Project) int {
	type edge struct{ piece, edge draft.ID }
	sewn := make(map[edge]bool)
	for _, seam := range p.Seams {
		for _, run := range []draft.Run{seam.A, seam.B} {
			for _, u := range run {
				sewn[edge{u.Piece, u.Edge}] = true
			}
		}
	}
	n := 0
	for _, piece := range patternOf(p) {
		for i := range piece.Edges {
			if e := &piece.Edges[i]; e.Kind == draft.SeamEdge && !sewn[edge{piece.ID, e.ID}] {
				n++
			}
		}
	}
	return n
}

// toSewing goes to the edges that have no partner.
func (g *guide) toSewing() {
	g.s.enter(stationTrue)
	g.s.truing.ShowUnsewn()
}

func unpaired(n int) string {
	if n == 1 {
		return "1 edge has"
	}
	return fmt.Sprintf("%d edges have", n)
}

func allSewn(p *draft.Project) bool { return hasPattern(p) && unsewn(p) == 0 }

func saySewing(p *draft.Project) string {
	if len(p.Seams) > 0 {
		return fmt.Sprintf("%s no partner. Sew them if they are to be sewn; hems and ends may stay so.", unpaired(unsewn(p)))
	}
	return fmt.Sprintf("%s no partner yet: True suggests whom to sew them to.", unpaired(unsewn(p)))
}

// saysMadeFor reports whether it is known for whom all pieces were made, and whether any
// stretch stands for a measure.
func saysMadeFor(p *draft.Project) bool {
	pieces := patternOf(p)
	return len(pieces) > 0 && bodiesKnown(p, pieces) && spansOf(pieces) > 0
}

func bodiesKnown(p *draft.Project, pieces []*draft.Piece) bool {
	for _, piece := range pieces {
		if d := derivationOf(p, piece); d != nil && d.Kind == "block" {
			continue
		}
		if o := p.Origin(piece.Origin); o == nil || len(o.Measures) == 0 {
			return false
		}
	}
	return true
}

func spansOf(pieces []*draft.Piece) int {
	n := 0
	for _, piece := range pieces {
		for _, s := range piece.Spans {
			if s.Measure != "" {
				n++
			}
		}
	}
	return n
}

func sayMadeFor(p *draft.Project) string {
	if !bodiesKnown(p, patternOf(p)) {
		return "Say for which body it was made: a few of the measures that are printed on it will do."
	}
	return "Say which stretches stand for which measures: one press takes those that suggest themselves."
}

// isFitted reports whether the pattern is fitted to somebody.
func isFitted(p *draft.Project) bool {
	for _, d := range p.Derivations {
		if d.Source != nil {
			return true
		}
	}
	return false
}

func (g *guide) sayWhom(p *draft.Project) string {
	if len(p.Wearers) == 0 {
		return "Note the measures of the body that it is to fit: ten at most."
	}
	return "Choose whom it is to fit, and have it fitted. Seams stay true."
}

func (g *guide) wordWhom(p *draft.Project) string {
	if len(p.Wearers) == 0 {
		return "Measure"
	}
	return "For whom"
}

func whomAt(p *draft.Project) string {
	if len(p.Wearers) == 0 {
		return stationMeasure
	}
	return stationFit
}

func (g *guide) toWhom() {
	if len(g.s.desk.Project().Wearers) == 0 {
		g.s.measureNewToFit()
		return
	}
	g.fit(fitWhom)
}
