package block

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"hemlet/draft/body"
	"hemlet/draft/formula"
)

// Settings are the choices that were made, by name, each a formula.Length or a
// formula.Number as the choice wants; and, under WornUnder, how thick in all what
// is worn under the garment is. What is not set takes its default.
type Settings map[string]formula.Value

// Draft drafts the block for a body. The same body and settings always give the
// same sheet. Measures in g that the block does not read are of no account.
//
// The error is a *MissingError where the body lacks a measure that the block needs,
// a *StopError where a guard of the block does not hold, and otherwise an *Error
// with the formula that cannot be worked out and what its names stood for. A choice
// beyond its bounds is drafted at the bound, and that is told.
func (b *Block) Draft(g body.Given, s Settings) (*Sheet, error) {
	d := &drafter{b: b, values: make(formula.Values, len(b.reads)+len(b.asks)+len(b.choices)+len(b.steps)+1), sheet: &Sheet{}}
	for _, act := range []func() error{
		func() error { return d.measures(g) },
		func() error { return d.choices(s) },
		d.steps, d.checks, d.pieces, d.seams,
	} {
		if err := act(); err != nil {
			return nil, err
		}
	}
	return d.sheet, nil
}

// drafter carries one draft.
type drafter struct {
	b      *Block
	values formula.Values
	sheet  *Sheet
	// stretches counts those of the curves of all steps.
	stretches int
	// gone are the edges that have no length for this body, by piece and edge.
	gone map[[2]int]bool
}

// measures takes the measures that the block lists or reads from the body.
func (d *drafter) measures(g body.Given) error {
	b := d.b
	for _, name := range sortedNames(g) {
		if v := g[name]; !(v > 0 && v <= maxCoordinate) && b.wants(name) {
			return &Error{File: b.file, Key: name, Says: fmt.Sprintf("this measure is %v mm; a measure is above 0 and at most 100 m", v)}
		}
	}
	known := b.resolve(g)
	missing := &MissingError{Block: b.Title}
	for _, name := range b.wanted() {
		k, ok := known.Get(name)
		switch {
		case b.needs(name) && (!ok || !taken(name, k)), !ok && slices.Contains(b.reads, name):
			missing.Measures = append(missing.Measures, name)
			missing.Words = append(missing.Words, b.wordsFor(name))
			continue
		case !ok:
			continue
		}
		d.values[name] = formula.Length{MM: k.Value}
		d.sheet.Measures = append(d.sheet.Measures, Used{Name: name, Value: k.Value, Estimated: k.Estimated, By: k.By})
	}
	for _, name := range b.asks {
		k, ok := known.Get(name)
		d.values[formula.GivenKey(name)] = ok && !k.Estimated
	}
	if len(missing.Measures) > 0 {
		return missing
	}
	return nil
}

func (b *Block) resolve(g body.Given) *body.Body {
	if b.estimator == nil {
		return body.Resolve(g)
	}
	return b.estimator.Resolve(g)
}

// taken reports whether a measure was taken, or is the sum or the like of others
// that were.
func taken(name string, k body.Known) bool {
	if !k.Estimated {
		return true
	}
	m, ok := body.Find(name)
	return ok && slices.Contains(m.FromTaken, k.By)
}

func sortedNames(g body.Given) []string {
	names := make([]string, 0, len(g))
	for name := range g {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// wanted returns the measures that a sheet tells of: those that the block lists, in
// its order, and the others that it reads.
func (b *Block) wanted() []string {
	names := make([]string, 0, len(b.measures)+len(b.reads))
	for _, m := range b.measures {
		names = append(names, m.Name)
	}
	for _, name := range b.reads {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

func (b *Block) wants(name string) bool {
	return slices.Contains(b.reads, name) || b.listed(name) != nil
}

func (b *Block) needs(name string) bool {
	m := b.listed(name)
	return m != nil && m.Needed
}

func (b *Block) listed(name string) *measure {
	for i := range b.measures {
		if b.measures[i].Name == name {
			return &b.measures[i]
		}
	}
	return nil
}

// wordsFor returns the measure in plain words.
func (b *Block) wordsFor(name string) string {
	if m := b.listed(name); m != nil {
		return m.Words
	}
	return body.Words(name)
}

// choices settles every choice, within its bounds.
func (d *drafter) choices(s Settings) error {
	worn := formula.Value(formula.Length{})
	for _, name := range sortedSettings(s) {
		c, known := d.b.Choice(name)
		switch {
		case name == WornUnder:
			worn = s[name]
			if l, ok := worn.(formula.Length); !ok || !(l.MM >= 0 && l.MM <= maxCoordinate) {
				return &Error{File: d.b.file, Key: name, Says: "what is worn under must be a length from 0 to 100 m"}
			}
		case !known:
			return &Error{File: d.b.file, Key: name, Says: "the block " + d.b.Title + " has no choice of this name; " + d.b.choiceNames()}
		case !isKind(s[name], c.Kind):
			return &Error{File: d.b.file, Key: name, Says: "the choice " + name + " is " + article(c.Kind)}
		}
	}
	d.values[WornUnder] = worn
	for i := range d.b.choices {
		if err := d.choose(&d.b.choices[i], s); err != nil {
			return err
		}
	}
	return nil
}

func sortedSettings(s Settings) []string {
	names := make([]string, 0, len(s))
	for name := range s {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

func (b *Block) choiceNames() string {
	if len(b.choices) == 0 {
		return "it has no choices"
	}
	names := make([]string, len(b.choices))
	for i, c := range b.choices {
		names[i] = c.Name
	}
	return "its choices are " + and(names)
}

// isKind reports whether v is a finite value of a length or number kind.
func isKind(v formula.Value, k formula.Kind) bool {
	var x float64
	switch v := v.(type) {
	case formula.Length:
		x = v.MM
		if k != formula.LengthKind || math.Abs(x) > maxCoordinate {
			return false
		}
	case formula.Number:
		x = v
		if k != formula.NumberKind {
			return false
		}
	default:
		return false
	}
	return !math.IsNaN(x - x)
}

// choose settles one choice.
func (d *drafter) choose(c *choice, s Settings) error {
	v, set := s[c.Name]
	if !set {
		var err error
		if v, err = d.value(c.preset); err != nil {
			return err
		}
	}
	out := Chosen{Name: c.Name, Default: !set}
	bounds := [2]*formula.Value{&out.Least, &out.Most}
	for i, e := range [2]*expression{c.least, c.most} {
		if e == nil {
			continue
		}
		bound, err := d.value(e)
		if err != nil {
			return err
		}
		*bounds[i] = bound
		over := figure(v) - figure(bound)
		if i == 0 {
			over = -over
		}
		if over <= 0 {
			continue
		}
		if set {
			d.tell(c.Name, "%s: %s is %s than this body allows; it is drafted with %s.", c.Title, show(v), [2]string{"less", "more"}[i], show(bound))
		}
		v = bound
	}
	out.Value = v
	d.values[c.Name] = v
	d.sheet.Choices = append(d.sheet.Choices, out)
	return nil
}

// tell notes something that the maker should look at again.
func (d *drafter) tell(name, format string, args ...any) {
	d.sheet.Told = append(d.sheet.Told, Told{Name: name, Level: "look again", Says: fmt.Sprintf(format, args...)})
}

// figure returns the figure of a length or a number.
func figure(v formula.Value) float64 {
	if l, ok := v.(formula.Length); ok {
		return l.MM
	}
	return v.(formula.Number)
}

// steps works out the construction, and looks at each guard as soon as it can.
func (d *drafter) steps() error {
	if err := d.guard(0); err != nil {
		return err
	}
	d.sheet.Steps = make([]Step, 0, len(d.b.steps))
	for i := range d.b.steps {
		s := &d.b.steps[i]
		v, err := d.value(s.is)
		if err != nil {
			return err
		}
		if c, isCurve := v.(formula.Curve); isCurve {
			if d.stretches += len(c.Path); d.stretches > maxAllStretches {
				return d.failed(s.is, fmt.Errorf("the curves of all steps have more than %d stretches", maxAllStretches))
			}
		}
		d.values[s.name] = v
		d.sheet.Steps = append(d.sheet.Steps, Step{Name: s.name, Formula: s.is.Source(), Says: s.says, Value: v})
		if err := d.guard(i + 1); err != nil {
			return err
		}
	}
	return nil
}

// guard looks at the guards that come before step i.
func (d *drafter) guard(i int) error {
	for _, k := range d.b.guards[i] {
		c := &d.b.checks[k]
		v, err := d.value(c.holds)
		if err != nil {
			return err
		}
		if v != formula.Value(true) && c.level == "problem" {
			return &StopError{File: d.b.file, Line: d.b.lineOf(c.place), Told: c.told()}
		}
	}
	return nil
}

func (c *check) told() Told {
	return Told{Name: c.name, Level: c.level, Says: c.says, Measures: append([]string(nil), c.measures...)}
}

// checks notes the checks that do not hold.
func (d *drafter) checks() error {
	for i := range d.b.checks {
		c := &d.b.checks[i]
		v, err := d.value(c.holds)
		if err != nil {
			return err
		}
		if v != formula.Value(true) {
			d.sheet.Told = append(d.sheet.Told, c.told())
		}
	}
	return nil
}

// value works out a formula.
func (d *drafter) value(e *expression) (formula.Value, error) {
	v, err := e.Value(d.values)
	if err != nil {
		return nil, d.failed(e, err)
	}
	return v, nil
}

// mostShown bounds the names whose values an error shows.
const mostShown = 12

// failed puts the place, the formula and the values that it read into an error.
func (d *drafter) failed(e *expression, err error) error {
	out := &Error{File: d.b.file, Line: d.b.lineOf(e.place), Key: e.key, Formula: e.Source(), Says: err.Error(), Err: err}
	var f *formula.Error
	if errors.As(err, &f) {
		out.Column, out.Says = f.Column, f.Says
	}
	var shown []string
	for _, name := range e.Reads() {
		if len(shown) == mostShown {
			shown = append(shown, "...")
			break
		}
		if v, there := d.values[name]; there {
			shown = append(shown, name+" is "+show(v))
		}
	}
	if len(shown) > 0 {
		out.Says += " (here " + strings.Join(shown, ", ") + ")"
	}
	return out
}

// show returns a value as an error shows it: "12.5 mm", "(3, 40) mm", "35°".
func show(v formula.Value) string {
	switch v := v.(type) {
	case formula.Number:
		return round(v, 4)
	case formula.Length:
		return round(v.MM, 2) + " mm"
	case formula.Area:
		return round(v.MM2, 1) + " mm²"
	case formula.Angle:
		return round(v.Rad*180/math.Pi, 2) + "°"
	case formula.Truth:
		if v {
			return "yes"
		}
		return "no"
	case formula.Point:
		return fmt.Sprintf("(%s, %s) mm", round(v.At.X, 2), round(v.At.Y, 2))
	case formula.Curve:
		length := 0.0
		for _, s := range v.Path {
			length += s.Length()
		}
		return "a curve of " + round(length, 2) + " mm"
	}
	return "nothing"
}

// round returns a figure with at most so many decimals.
func round(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
