package block

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"hemlet/draft/body"
	"hemlet/draft/formula"
)

// measures takes the measures that matter to the block from the body.
func (d *drafter) measures(g body.Given) error {
	if err := d.b.impossible(g); err != nil {
		return err
	}
	known := d.b.resolve(g)
	needed, unknown := &MissingError{Block: d.b.Title}, &MissingError{Block: d.b.Title}
	d.sheet.Measures = make([]Used, 0, len(d.b.wanted))
	for _, w := range d.b.wanted {
		k, ok := known.Get(w.name)
		switch {
		case w.needed && !k.Taken():
			needed.add(w.name, d.b.wordsFor(w.name))
			continue
		case w.read && !ok:
			unknown.add(w.name, d.b.wordsFor(w.name))
			continue
		case !ok:
			continue
		}
		d.values[w.name] = formula.Length{MM: k.Value}
		d.sheet.Measures = append(d.sheet.Measures, Used{Name: w.name, Value: k.Value, Estimated: k.Estimated, Summed: k.Summed, By: k.By, Idle: w.idle && k.Estimated})
	}
	for _, name := range d.b.asks {
		k, _ := known.Get(name)
		d.values[formula.GivenKey(name)] = k.Taken()
	}
	// What cannot be estimated may only lack what is needed anyway.
	switch {
	case len(needed.Measures) > 0:
		return needed
	case len(unknown.Measures) > 0:
		return unknown
	}
	return nil
}

// impossible returns an error for the first measure, by name, that is none. It looks
// also at those that only estimates read: what follows from them would be no less
// wrong.
func (b *Block) impossible(g body.Given) error {
	first := ""
	for name, v := range g {
		if v > 0 && v <= maxCoordinate || first != "" && first < name {
			continue
		}
		_, catalogued := body.Find(name)
		if catalogued || slices.ContainsFunc(b.measures, func(m Measure) bool { return m.Name == name }) {
			first = name
		}
	}
	if first == "" {
		return nil
	}
	return &Error{Key: first, Says: fmt.Sprintf("this measure is %v mm; a measure is above 0 and at most 100 m", g[first])}
}

func (b *Block) resolve(g body.Given) *body.Body {
	if b.estimator == nil {
		return body.Resolve(g)
	}
	return b.estimator.Resolve(g)
}

// wordsFor returns the measure in plain words.
func (b *Block) wordsFor(name string) string {
	for _, m := range b.measures {
		if m.Name == name {
			return m.Words
		}
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
				return &Error{Key: name, Says: "what is worn under must be a length from 0 to 100 m"}
			}
		case !known:
			return &Error{Key: name, Says: "the block " + d.b.Title + " has no choice of this name; " + d.b.choiceNames()}
		case !isKind(s[name], c.Kind):
			return &Error{Key: name, Says: "the choice " + name + " is " + article(c.Kind)}
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
	if err := d.bounds(c, &out); err != nil {
		return err
	}
	out.Value = within(v, out.Least, out.Most)
	if set && math.Abs(figure(out.Value)-figure(v)) > choiceSlack {
		than := "more"
		if figure(v) < figure(out.Value) {
			than = "less"
		}
		d.tell(c.Name, "%s: %s is %s than this body allows; it is drafted with %s.", c.Title, show(v), than, show(out.Value))
	}
	d.values[c.Name] = out.Value
	d.sheet.Choices = append(d.sheet.Choices, out)
	return nil
}

// choiceSlack is how far, in mm or as a number, a choice may be beyond its bounds
// without a word: far above rounding, far below what anybody chooses.
const choiceSlack = 1e-6

// bounds works out between which values a choice has to lie.
func (d *drafter) bounds(c *choice, out *Chosen) error {
	var err error
	if c.least != nil {
		if out.Least, err = d.value(c.least); err != nil {
			return err
		}
	}
	if c.most == nil {
		return nil
	}
	if out.Most, err = d.value(c.most); err != nil {
		return err
	}
	if c.least != nil && figure(out.Least) > figure(out.Most)+choiceSlack {
		return d.failed(c.most, fmt.Errorf("the most, %s, is below the least, %s", show(out.Most), show(out.Least)))
	}
	return nil
}

// within returns the value, or the bound that it is beyond; nil is no bound.
func within(v, least, most formula.Value) formula.Value {
	if most != nil && figure(v) > figure(most) {
		v = most
	}
	if least != nil && figure(v) < figure(least) {
		v = least
	}
	return v
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
