package block

import (
	"bytes"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"hemlet/draft/body"
	"hemlet/draft/formula"
	"hemlet/draft/tomltext"
)

// Parse reads the text of a block file; file is its name for errors. Everything is
// checked that does not depend on a body: the keys, every formula with the kinds of
// what it reads, and that pieces, edges and measures that are named are there.
// Errors are of type *Error.
func Parse(file string, text []byte) (*Block, error) {
	b := &Block{file: file}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	p := &parser{b: b, text: text, scope: formula.NewScope(), later: make(map[string]string), read: make(map[string]bool), asked: make(map[string]bool), weighed: make(map[string]bool), spanned: make(map[string]bool)}
	tree := p.decode()
	if p.err == nil {
		p.block(p.open(place{}, &topKeys, tree))
	}
	if p.err != nil {
		return nil, p.err
	}
	b.text = string(text)
	return b, nil
}

// parser makes a block of a decoded file.
type parser struct {
	b     *Block
	text  []byte
	scope *formula.Scope
	err   *Error
	// later are the names of all choices and steps, each with which of both it is, to
	// tell what stands further down.
	later map[string]string
	// measures are the names of all measures that there are.
	measures map[string]bool
	// read and asked are the names that formulas read and ask about; weighed are those of
	// them whose values matter also where they were not taken.
	read, asked, weighed map[string]bool
	// spanned are the measures that spans stand for.
	spanned  map[string]bool
	formulas int
	// own are the block's own estimates.
	own []body.Own
}

// fail keeps the first error, with its file and line.
func (p *parser) fail(e *Error, at place) {
	if p.err != nil {
		return
	}
	e.File, e.Key = p.b.file, at.key
	if at.path != "" {
		e.Line = tomltext.LineOf(p.text, at.path)
	}
	p.err = e
}

// note remembers what a formula reads.
func (p *parser) note(f *formula.Formula) {
	idle := f.ReadsIfTaken()
	for _, name := range f.Reads() {
		p.read[name] = true
		p.weighed[name] = p.weighed[name] || !slices.Contains(idle, name)
	}
	for _, name := range f.Asks() {
		p.asked[name] = true
	}
}

// decode checks the text and returns its tables.
func (p *parser) decode() map[string]any {
	switch {
	case len(p.text) > MaxTextBytes:
		p.failf(place{}, "it is larger than %d KiB, and no block is", MaxTextBytes>>10)
	case bytes.IndexByte(p.text, 0) >= 0:
		p.unreadable(bytes.IndexByte(p.text, 0), "this is no text in UTF-8, as a block is; save the file as UTF-8")
	case !utf8.Valid(p.text):
		p.unreadable(firstInvalid(p.text), "a character here is not in UTF-8; save the file as UTF-8")
	}
	if p.err != nil {
		return nil
	}
	if err := tomltext.Scan(p.text, &census{}); err != nil {
		p.lined(err)
		return nil
	}
	tree := make(map[string]any)
	if _, err := toml.Decode(string(p.text), &tree); err != nil {
		p.lined(err)
		return nil
	}
	return tree
}

// census bounds what a text may make the decoder build.
type census struct{ tables, keys int }

func (c *census) Heading(parts []string, _ bool, line int) error {
	c.tables++
	return c.Key(parts, line)
}

func (c *census) Key(parts []string, line int) error {
	if c.keys += len(parts); c.keys > maxKeys || c.tables > maxTables {
		return &tomltext.LineError{Line: line, Says: "there are more tables and keys than any block has"}
	}
	return nil
}

func (c *census) Down(bracket byte, line int) error {
	if bracket == '{' {
		c.tables++
	}
	return c.Key(nil, line)
}

func (c *census) Item(line int) error { c.keys++; return c.Key(nil, line) }
func (c *census) Up()                 {}
func (c *census) Value([]byte, int)   {}

// block reads the tables in the order in which formulas may read them.
func (p *parser) block(t *table) {
	if v, _ := t.get("format"); v != int64(Format) && p.err == nil {
		p.failf(t.under("format"), "this Hemlet reads blocks of format %d, and this one is of %v; open it with a newer Hemlet", Format, v)
	}
	b := p.b
	b.Name = t.line("name", maxName)
	if b.Name != "" && !isBlockName(b.Name) {
		p.failf(t.under("name"), "%q cannot be the name of a block; it is a small letter followed by small letters, digits and -", b.Name)
	}
	b.Title = t.line("title", maxTitle)
	if b.Garment = t.line("garment", maxTitle); b.Garment == "" {
		b.Garment = b.Title
	}
	b.Says = t.text("says", maxSays)
	b.Explains = t.text("explains", maxExplains)
	b.Source = t.text("source", maxSays)
	p.announce(t)
	p.bodyMeasures(t.list("measures", "name", &measureKeys, maxMeasures))
	p.wearing()
	p.choices(t.list("choices", "name", &choiceKeys, maxChoices))
	p.steps(t.list("steps", "name", &stepKeys, maxSteps))
	p.checks(t.list("checks", "name", &checkKeys, maxChecks))
	p.pieces(t.list("pieces", "role", &pieceKeys, maxPieces))
	p.seams(t.list("seams", "name", &seamKeys, maxSeams))
	p.finish()
}

// announce notes the names of what formulas may read only further down.
func (p *parser) announce(t *table) {
	for _, kind := range []string{"step", "choice"} {
		list, _ := t.values[kind+"s"].([]map[string]any)
		for _, values := range list {
			if name, ok := values["name"].(string); ok {
				p.later[name] = kind
			}
		}
	}
}

func isBlockName(s string) bool {
	return s[0] >= 'a' && s[0] <= 'z' && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

// add puts a name into the scope.
func (p *parser) add(at place, name string, k formula.Kind) {
	if p.err != nil {
		return
	}
	if err := p.scope.Add(name, k); err != nil {
		p.failf(at, "%v", err)
	}
}

// wearing lets formulas read what is worn under.
func (p *parser) wearing() { p.add(place{}, WornUnder, formula.LengthKind) }

// bodyMeasures reads the measures of the block and puts all that there are into the
// scope: those of the catalogue and, as they come, the block's own.
func (p *parser) bodyMeasures(list []*table) {
	p.measures = make(map[string]bool)
	for _, m := range body.Catalogue() {
		p.measures[m.Name] = true
		p.add(place{}, m.Name, formula.LengthKind)
		p.scope.AddGiven(m.Name)
	}
	listed := make(map[string]bool)
	for _, t := range list {
		var m Measure
		m.Name, m.Needed, m.Says = t.name("name"), t.flag("needed"), t.text("says", maxSays)
		m.Words, m.How = t.line("words", maxTitle), t.text("how", maxSays)
		if listed[m.Name] {
			p.failf(t.under("name"), "the measure %s is listed twice", m.Name)
		}
		listed[m.Name] = true
		estimate := t.optional("estimate", formula.LengthKind)
		p.measure(t, &m, estimate)
		if p.err != nil {
			return
		}
		p.b.measures = append(p.b.measures, m)
	}
	// What only estimates read is the body's business and not the draft's.
	clear(p.read)
	clear(p.asked)
	clear(p.weighed)
}

// measure adds one listed measure to the scope and to what the body is asked for.
func (p *parser) measure(t *table, m *Measure, estimate *expression) {
	if estimate != nil {
		if estimate.Effort(nil) > body.MaxEstimateEffort {
			p.fail(&Error{Formula: estimate.Source(), Says: "this takes too long for an estimate; searches such as sweep_true belong into steps"}, estimate.place)
		}
		m.Estimate = estimate.Source()
		p.own = append(p.own, body.Own{Name: m.Name, Estimates: []string{m.Estimate}})
	}
	if known, ok := body.Find(m.Name); ok {
		if m.Words != "" || m.How != "" {
			p.failf(t.place, "Hemlet knows how %s is called and taken; leave out “words” and “how”, or give the measure another name", m.Name)
		}
		m.Words, m.How = known.Words, known.How
		return
	}
	m.Own = true
	switch {
	case p.err != nil:
		return
	case m.Name == WornUnder:
		p.failf(t.under("name"), "%s is how thick in all what is worn under is, for every block; give the measure another name", WornUnder)
	case m.Words == "":
		p.failf(t.place, "Hemlet does not know the measure %s. If it is the block's own, say in “words” what it is called and in “how” how it is taken; if not, see the spelling%s", m.Name, p.near(m.Name))
	case !m.Needed && estimate == nil:
		p.failf(t.place, "a measure of the block's own that is not needed must have an estimate, or nothing can be drafted without it")
	}
	p.measures[m.Name] = true
	p.add(t.under("name"), m.Name, formula.LengthKind)
	p.scope.AddGiven(m.Name)
}

func (p *parser) choices(list []*table) {
	for _, t := range list {
		c := choice{place: t.place}
		c.Name, c.Title, c.Says = t.name("name"), t.line("title", maxTitle), t.text("says", maxSays)
		if c.Title == "" {
			c.Title = c.Name
		}
		if c.preset = t.optional("default", formula.LengthKind, formula.NumberKind); c.preset == nil {
			return
		}
		c.Kind, c.Default = c.preset.Kind(), c.preset.Source()
		if c.least = t.optional("least", formula.LengthKind, formula.NumberKind); c.least != nil {
			c.Least = c.least.Source()
		}
		if c.most = t.optional("most", formula.LengthKind, formula.NumberKind); c.most != nil {
			c.Most = c.most.Source()
		}
		p.oneKind(&c)
		p.add(t.under("name"), c.Name, c.Kind)
		p.b.choices = append(p.b.choices, c)
	}
}

func (p *parser) steps(list []*table) {
	for _, t := range list {
		name := t.name("name")
		e := t.optional("is")
		if e == nil {
			return
		}
		p.add(t.under("name"), name, e.Kind())
		p.b.steps = append(p.b.steps, step{name, t.text("says", maxSays), e})
	}
}

func (p *parser) checks(list []*table) {
	seen := make(map[string]bool)
	p.b.guards = make(map[int][]int)
	stepAt := make(map[string]int, len(p.b.steps))
	for i, s := range p.b.steps {
		stepAt[s.name] = i
	}
	for _, t := range list {
		c := check{place: t.place, name: t.line("name", maxTitle), level: t.word("level", levels), says: t.text("says", maxSays), guard: t.flag("guard")}
		p.once(seen, t.under("name"), c.name)
		c.measures = p.measureNames(t, "measures")
		if c.holds = t.optional("holds", formula.TruthKind); c.holds == nil {
			return
		}
		if c.guard {
			before := 0
			for _, name := range c.holds.Reads() {
				if i, isStep := stepAt[name]; isStep {
					before = max(before, i+1)
				}
			}
			p.b.guards[before] = append(p.b.guards[before], len(p.b.checks))
		}
		p.b.checks = append(p.b.checks, c)
	}
}

// measureNames returns the names of measures in a list.
func (p *parser) measureNames(t *table, key string) []string {
	names, places := t.texts(key, maxMeasures)
	for i, name := range names {
		p.knownMeasure(places[i], name)
	}
	return names
}

func (p *parser) knownMeasure(at place, name string) {
	if !p.measures[name] {
		p.failf(at, "there is no measure %q%s", cut(name, maxName), p.near(name))
	}
}

// once refuses a name that was there before.
func (p *parser) once(seen map[string]bool, at place, name string) { p.onceWhen(seen, at, name, nil) }

// onceWhen refuses a name that was there before, unless both are there only for some
// bodies. seen holds true for the names of what is always there.
func (p *parser) onceWhen(seen map[string]bool, at place, name string, when *expression) {
	always, there := seen[name]
	if there && (always || when == nil) {
		p.failf(at, "the name %q is taken", name)
	}
	seen[name] = always || when == nil
}

// idle reports whether a measure changes nothing unless it was taken: formulas ask whether
// it was, and read it only then.
func (p *parser) idle(name string) bool {
	return p.asked[name] && !p.weighed[name] && !p.spanned[name]
}

// finish works out which measures the block reads.
func (p *parser) finish() {
	if p.err != nil {
		return
	}
	listed := make(map[string]bool)
	for _, m := range p.b.measures {
		listed[m.Name] = true
		p.b.wanted = append(p.b.wanted, wanted{m.Name, m.Needed, p.read[m.Name], p.idle(m.Name)})
	}
	for _, name := range p.scope.Names() {
		if !p.measures[name] {
			continue
		}
		if !listed[name] && (p.read[name] || p.spanned[name]) {
			p.b.wanted = append(p.b.wanted, wanted{name, false, p.read[name], p.idle(name)})
		}
		if p.asked[name] {
			p.b.asks = append(p.b.asks, name)
		}
	}
	if len(p.own) == 0 {
		return
	}
	var err error
	if p.b.estimator, err = body.NewEstimator(p.own...); err != nil {
		p.failf(place{}, "%v", err)
	}
}
