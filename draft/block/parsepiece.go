package block

import (
	"hemlet/draft/formula"
)

// point, length and number are the kinds that most keys want.
const (
	pointKind  = formula.PointKind
	lengthKind = formula.LengthKind
	numberKind = formula.NumberKind
)

func (p *parser) pieces(list []*table) {
	seen := make(map[string]bool)
	for _, t := range list {
		c := piece{place: t.place, role: t.name("role"), title: t.line("title", maxTitle), note: t.text("note", maxSays)}
		p.once(seen, t.under("role"), c.role)
		if c.title == "" {
			c.title = c.role
		}
		c.cut, c.count, c.layer = t.word("cut", cutWays), t.count("count", maxCount), t.word("layer", layers)
		c.clockwise = t.flag("clockwise")
		c.grain = t.formulas("grain", pointKind)
		if n := len(c.grain); n != 0 && n != 2 {
			p.failf(t.under("grain"), "a grain line has two ends, and %d stand here", n)
		}
		c.label = t.optional("label", pointKind)
		p.pieceEdges(t, &c)
		p.pieceLines(t, &c)
		p.pieceDarts(t, &c)
		p.pieceNotches(t, &c)
		p.pieceSpans(t, &c)
		if p.err != nil {
			return
		}
		p.b.pieces = append(p.b.pieces, c)
	}
}

func (p *parser) pieceEdges(t *table, c *piece) {
	seen := make(map[string]bool)
	folds := 0
	for _, t := range t.list("edges", "name", &edgeKeys, maxEdges) {
		e := edge{place: t.place, name: t.name("name"), kind: t.word("kind", edgeKinds), corner: t.word("corner", corners)}
		p.once(seen, t.under("name"), e.name)
		if e.path = t.formulas("path", pointKind, formula.CurveKind); len(e.path) == 0 {
			p.failf(t.under("path"), "the path is empty; at least the corner at which the edge starts is wanted")
		}
		p.allowance(t, &e)
		if e.kind == "fold" {
			folds++
		}
		if c.clockwise && e.corner == "square" {
			p.failf(t.under("corner"), "a square corner needs an outline that is listed counter-clockwise, for it is square to the edge that starts there")
		}
		c.edges = append(c.edges, e)
	}
	switch {
	case len(c.edges) == 0:
		p.failf(t.place, "the piece has no edges")
	case c.cut == "on fold" && folds != 1:
		p.failf(t.place, "a piece that is cut on fold needs one edge of kind fold, and this one has %d", folds)
	case c.cut != "on fold" && folds > 0:
		p.failf(t.place, "it has an edge of kind fold, and so must be cut on fold")
	}
}

// allowance reads the widths of an edge, or takes the block's choice.
func (p *parser) allowance(t *table, e *edge) {
	widths := t.formulas("allowance", lengthKind)
	switch len(widths) {
	case 0:
		kind, has := p.scope.Kind("allowance")
		if has && kind == lengthKind && e.kind != "fold" && e.kind != "raw" {
			e.start = p.compile(t.place, "allowance", lengthKind)
			e.end = e.start
		}
	case 1:
		e.start, e.end = widths[0], widths[0]
	case 2:
		e.start, e.end = widths[0], widths[1]
	default:
		p.failf(t.under("allowance"), "an edge has one width or two, at its start and at its end, and %d stand here", len(widths))
	}
	e.trimTo = t.optional("trim_to", lengthKind)
}

// edgeNamed returns the index of the edge that a key names.
func (t *table) edgeNamed(key string, c *piece) int { return t.p.edgeIn(t.under(key), t.name(key), c) }

func (p *parser) edgeIn(at place, name string, c *piece) int {
	names := make([]string, len(c.edges))
	for i, e := range c.edges {
		if names[i] = e.name; e.name == name {
			return i
		}
	}
	p.failf(at, "the piece %s has no edge %q; it has %s", c.role, cut(name, maxName), and(names))
	return 0
}

func (p *parser) pieceLines(t *table, c *piece) {
	seen := make(map[string]bool)
	for _, e := range c.edges {
		seen[e.name] = true
	}
	for _, t := range t.list("lines", "name", &lineKeys, maxMarks) {
		l := line{place: t.place, name: t.name("name"), kind: t.word("kind", lineKinds), closed: t.flag("closed")}
		l.when = t.optional("when", formula.TruthKind)
		p.onceWhen(seen, t.under("name"), l.name, l.when)
		l.closed = l.closed || l.kind == "cutout"
		l.path = t.formulas("path", pointKind, formula.CurveKind)
		switch {
		case len(l.path) == 0:
			p.failf(t.under("path"), "the path is empty")
		case l.kind == "drill" && (len(l.path) != 1 || l.path[0].Kind() != pointKind):
			p.failf(t.under("path"), "a drill mark is one point")
		}
		c.lines = append(c.lines, l)
	}
}

func (p *parser) pieceDarts(t *table, c *piece) {
	seen := make(map[string]bool)
	for _, t := range t.list("darts", "name", &dartKeys, maxMarks) {
		d := dart{place: t.place, name: t.name("name"), press: t.word("press", presses), edge: t.edgeNamed("edge", c)}
		d.when = t.optional("when", formula.TruthKind)
		p.onceWhen(seen, t.under("name"), d.name, d.when)
		d.from, d.to, d.apex = t.optional("from", pointKind), t.optional("to", pointKind), t.optional("apex", pointKind)
		c.darts = append(c.darts, d)
	}
}

func (p *parser) pieceNotches(t *table, c *piece) {
	seen := make(map[string]bool)
	for i, t := range t.list("notches", "name", &notchKeys, maxMarks) {
		n := notch{place: t.place, name: t.name("name"), edge: t.edgeNamed("edge", c), fromEnd: t.flag("from_end"), double: t.flag("double")}
		if n.name == "" {
			n.name = "notch " + itoa(i+1)
		}
		n.when = t.optional("when", formula.TruthKind)
		p.onceWhen(seen, t.under("name"), n.name, n.when)
		n.at = t.optional("at", lengthKind, numberKind, pointKind)
		if n.at != nil && n.at.Kind() == pointKind && n.fromEnd {
			p.failf(t.under("from_end"), "a point lies where it lies; leave out from_end")
		}
		c.notches = append(c.notches, n)
	}
}

func (p *parser) pieceSpans(t *table, c *piece) {
	seen := make(map[string]bool)
	for _, t := range t.list("spans", "name", &spanKeys, maxMarks) {
		s := span{place: t.place, name: t.name("name"), measure: t.line("measure", maxName)}
		s.when = t.optional("when", formula.TruthKind)
		p.onceWhen(seen, t.under("name"), s.name, s.when)
		p.knownMeasure(t.under("measure"), s.measure)
		p.spanned[s.measure] = true
		s.share, s.ease = t.optional("share", numberKind), t.optional("ease", lengthKind)
		p.spanStretch(t, &s, c)
		c.spans = append(c.spans, s)
	}
}

// spanStretch reads what a span measures: edges, lines, or the way between points.
func (p *parser) spanStretch(t *table, s *span, c *piece) {
	names, places := t.texts("edges", maxEdges)
	for i, name := range names {
		s.edges = append(s.edges, p.edgeIn(places[i], name, c))
	}
	names, places = t.texts("lines", maxMarks)
	for i, name := range names {
		p.lineIn(places[i], name, c)
		s.lines = append(s.lines, name)
	}
	s.from, s.to = t.optional("from", pointKind), t.optional("to", pointKind)
	if s.way = t.word("way", spanWays); s.way != spanWays[0] && s.from == nil {
		p.failf(t.under("way"), "only a span from one point to another has a way")
	}
	ways := 0
	for _, there := range []bool{len(s.edges) > 0, len(s.lines) > 0, s.from != nil || s.to != nil} {
		if there {
			ways++
		}
	}
	if ways != 1 || (s.from == nil) != (s.to == nil) {
		p.failf(t.place, "a span measures edges, or lines, or the way from one point to another: one of the three")
	}
}

// lineIn refuses a line that the piece does not have.
func (p *parser) lineIn(at place, name string, c *piece) {
	names := make([]string, len(c.lines))
	for i, l := range c.lines {
		if names[i] = l.name; l.name == name {
			return
		}
	}
	if len(names) == 0 {
		names = []string{"none"}
	}
	p.failf(at, "the piece %s has no line %q; it has %s", c.role, cut(name, maxName), and(names))
}
