package tool

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/body"
)

// Field is one value of an act that is typed or chosen.
type Field struct {
	draft.Param
	// Label is what the card calls it.
	Label string
	// Choices are the words that can be chosen, nil where the value is typed; the first
	// is empty where the act decides without one. Shown are the same for people.
	Choices, Shown []string
	// Share says that it is a number from 0 to 1 that is shown as a percentage.
	Share bool
}

// Fields returns the values that the card shows, in order.
func (a *Asking) Fields() []Field {
	var out []Field
	params := a.asked.Act.Params()
	for _, name := range a.asked.Fields {
		for _, p := range params {
			if p.Name == name {
				out = append(out, a.field(p))
			}
		}
	}
	return out
}

// LeftOpen is said of what is not given and that an act then settles by itself.
const LeftOpen = "left to Hemlet"

func (a *Asking) field(p draft.Param) Field {
	f := Field{Param: p, Label: a.asked.Labels[p.Name], Share: slices.Contains(a.asked.Shares, p.Name)}
	if hint := a.asked.Hints[p.Name]; hint != "" {
		f.Says = hint
	}
	if f.Label == "" {
		f.Label = strings.ReplaceAll(strings.ToUpper(p.Name[:1])+p.Name[1:], "-", " ")
	}
	if names, ok := namesOf(a.hand.Desk, p.Kind); ok {
		f.Choices, f.Shown = names.ids, names.words
	} else if len(p.Allowed) > 0 && !p.Many {
		f.Choices = append(f.Choices, p.Allowed...)
		f.Shown = f.Choices
	}
	if len(f.Choices) > 0 && !p.Needed && p.Default == "" {
		f.Choices = append([]string{""}, f.Choices...)
		f.Shown = append([]string{cmp.Or(a.asked.Unset[p.Name], LeftOpen)}, f.Shown...)
	}
	return f
}

// offered are things to choose from: how acts name them, and how people do.
type offered struct{ ids, words []string }

// namesOf returns the things of a kind that are chosen by their names.
func namesOf(d *desk.Desk, kind string) (offered, bool) {
	p := d.Project()
	var o offered
	add := func(id draft.ID, name string) {
		o.ids = append(o.ids, pieceText(id))
		o.words = append(o.words, name)
	}
	switch kind {
	case "cloth":
		for _, c := range p.Cloths {
			add(c.ID, c.Name)
		}
	case "wearer":
		for _, w := range p.Wearers {
			add(w.ID, w.Name)
		}
	case "what goes through":
		o.ids, o.words = passers(d)
	case "measure":
		for _, name := range measureNames(p) {
			o.ids, o.words = append(o.ids, name), append(o.words, body.Words(name))
		}
	default:
		return o, false
	}
	return o, len(o.ids) > 0
}

// passers returns what can go through an opening: parts of the wearers, girths, or nothing.
func passers(d *desk.Desk) (ids, words []string) {
	for _, x := range d.Passers(d.Settled().Wearers...) {
		ids, words = append(ids, x.Name), append(words, x.Words)
	}
	return ids, words
}

// measureNames returns the names of the measures that the wearers have, then those of the
// catalogue.
func measureNames(p *draft.Project) []string {
	var names []string
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, w := range p.Wearers {
		for _, m := range w.Measures {
			add(m.Name)
		}
	}
	for _, m := range body.Catalogue() {
		add(m.Name)
	}
	return names
}

// text returns what a field holds, as the act reads it.
func (a *Asking) text(name string) string {
	if a.set[name] {
		return a.texts[name]
	}
	if a.Enough() {
		if text := a.begin(a.start())[name]; text != "" {
			return text
		}
	}
	for _, p := range a.asked.Act.Params() {
		if p.Name == name {
			return p.Default
		}
	}
	return ""
}

// Shown returns what a field shows.
func (a *Asking) Shown(f Field) string {
	text := a.text(f.Name)
	unit := a.hand.Desk.Project().Unit
	if x, err := draft.ParseNumber(text); f.Share && err == nil {
		return figure(math.Round(x*1e4)/1e2) + " %"
	}
	switch f.Kind {
	case kindLength:
		if mm, err := draft.ParseLength(text); err == nil {
			return unit.Format(mm)
		}
	case kindVector:
		x, y, _ := strings.Cut(text, ",")
		mmX, errX := draft.ParseLength(x)
		mmY, errY := draft.ParseLength(y)
		if errX == nil && errY == nil {
			return unit.FormatBare(mmX) + ", " + unit.Format(mmY)
		}
	}
	return text
}

// Called returns what the choices of fields are called for what was given; fields that it
// leaves out are called as they are.
func (a *Asking) Called() map[string][]string {
	if a.asked.Calls == nil || !a.Enough() {
		return nil
	}
	return a.asked.Calls(a.givenIn(a.start()))
}

// Chosen returns which of its choices a field holds, -1 for none.
func (a *Asking) Chosen(f Field) int {
	text := a.text(f.Name)
	for i, c := range f.Choices {
		if c == text {
			return i
		}
	}
	return -1
}

// Set puts what was typed into a field and shows the act with it. A text that cannot be
// read changes nothing.
func (a *Asking) Set(f Field, typed string) error {
	text, err := a.read(f, strings.TrimSpace(typed))
	if err != nil {
		return err
	}
	a.put(f.Name, text)
	return nil
}

// put sets a field by hand, and shows the act with it.
func (a *Asking) put(name, text string) {
	a.texts[name], a.set[name] = text, true
	for _, other := range a.asked.Instead[name] {
		if text == "" {
			delete(a.set, other)
			continue
		}
		a.texts[other], a.set[other] = "", true
	}
	a.try()
	a.changed()
}

// Choose puts one of its choices into a field.
func (a *Asking) Choose(f Field, i int) {
	if i >= 0 && i < len(f.Choices) {
		a.put(f.Name, f.Choices[i])
	}
}

// read turns what was typed into what the act reads: bare figures are in the unit of
// the project.
func (a *Asking) read(f Field, typed string) (string, error) {
	unit := a.hand.Desk.Project().Unit
	if typed == "" {
		return "", nil
	}
	length := func(text string) (string, error) {
		mm, err := unit.Parse(text)
		return lengthText(mm), err
	}
	if f.Share {
		typed, _ = strings.CutSuffix(typed, "%")
		x, err := draft.ParseNumber(strings.TrimSpace(typed))
		return figure(x / 100), err
	}
	switch f.Kind {
	case kindLength:
		return length(typed)
	case kindVector:
		x, y, _ := strings.Cut(typed, ",")
		x, err := length(x)
		if err != nil {
			return "", err
		}
		y, err = length(y)
		return x + "," + y, err
	case kindAlong:
		rest, fromEnd := strings.CutSuffix(typed, "from end")
		if strings.HasSuffix(strings.TrimSpace(rest), "%") {
			return typed, nil
		}
		text, err := length(rest)
		if fromEnd {
			text += " from end"
		}
		return text, err
	case kindNumber:
		x, err := draft.ParseNumber(typed)
		return figure(x), err
	}
	return typed, nil
}

// length returns the first field that is a length, which a drag changes; empty for none.
func (a *Asking) length() string {
	if a.strokes() {
		return ""
	}
	for _, f := range a.Fields() {
		if f.Kind == kindLength && !f.Many {
			return f.Name
		}
	}
	return ""
}

// GivenStep is what a step was given, in words, for the card.
type GivenStep struct {
	// Words say what was given, empty where nothing was yet.
	Words string
	// Now says that the step is the one that is asked.
	Now  bool
	Says string
}

// Steps returns the steps with what each was given.
func (a *Asking) Steps() []GivenStep {
	out := make([]GivenStep, len(a.asked.Steps))
	for i, s := range a.asked.Steps {
		var words []string
		for _, x := range a.got[i] {
			words = append(words, x.words)
		}
		const most = 3
		if len(words) > most {
			words = append(words[:most-1], "and "+figure(float64(len(words)-most+1))+" more")
		}
		says := s.Says
		if s.Many && i == a.step && !a.Ready() {
			says = a.asks(s)
		}
		out[i] = GivenStep{Words: strings.Join(words, ", "), Now: i == a.step, Says: says}
	}
	return out
}

// Awaits reports whether something is asked of the pointer still.
func (a *Asking) Awaits() bool {
	_, asking := a.now()
	return asking
}

// Ready reports whether the act is shown as it would be done.
func (a *Asking) Ready() bool { return a.trial != nil && a.trial.Live() }

// Err returns why the act cannot be done with what it was given, nil where it can or
// where something is still asked for.
func (a *Asking) Err() error { return a.err }

// Tells returns what the act has to say of what it would do.
func (a *Asking) Tells() string {
	var says []string
	for _, s := range a.outcome.Says {
		if s != a.outcome.Left { // which Warns says
			says = append(says, s)
		}
	}
	return strings.Join(says, " ")
}

// Warns says what the act, as it is shown, would take out of what it followed, such as a
// piece out of its fit; empty where there is nothing.
func (a *Asking) Warns() string { return a.outcome.Leaves }

// Pieces returns the pieces of which something was given, and while the act is shown
// those that it makes.
func (a *Asking) Pieces() []draft.ID {
	refs := a.refs()
	if a.Ready() {
		refs = append(refs, desk.Made(a.hand.Desk.Project(), a.outcome.Made)...)
	}
	return desk.Picked(refs).Pieces()
}

// StepBy changes a value by so many small steps, as the arrow keys do.
func (a *Asking) StepBy(f Field, by int) {
	text := a.text(f.Name)
	switch f.Kind {
	case kindLength:
		mm, err := draft.ParseLength(text)
		if err != nil {
			return
		}
		step := a.hand.Desk.Project().Unit.Step() * 5
		text = lengthText(mm + float64(by)*step)
	case kindNumber, kindWhole, kindAngle:
		x, err := draft.ParseNumber(strings.TrimSuffix(text, "°"))
		if err != nil {
			return
		}
		step := 1.0
		if f.Kind == kindNumber {
			step = 0.05
		}
		text = figure(math.Round((x+float64(by)*step)*100) / 100)
	default:
		return
	}
	a.put(f.Name, text)
}
