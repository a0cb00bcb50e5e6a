package station

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/formula"
)

// trial is a block drafted for a wearer, as the station shows it: of a derivation of the
// project, or only tried.
type trial struct {
	block *block.Block
	// wearer is nil where the project has none.
	wearer *draft.Wearer
	// derivation is what the pieces were made by, nil while the block is only tried.
	derivation *draft.Derivation
	// made are the pieces that the derivation has made, by their roles.
	made     map[string]*draft.Piece
	settings block.Settings
	given    body.Given
	body     *body.Body
	// sheet is nil where the block could not be drafted; err says why, and partly is the
	// sheet as far as the draft came.
	sheet  *block.Sheet
	partly *block.Sheet
	err    error
}

// settingsOf reads the choices that were made for a block; one that it does not know or
// cannot be read is left out.
func settingsOf(b *block.Block, list []draft.Setting) block.Settings {
	out := block.Settings{}
	for _, s := range list {
		c, ok := b.Choice(s.Name)
		if !ok {
			continue
		}
		if v, err := readChoice(c, s.Value, draft.Millimetre); err == nil {
			out[s.Name] = v
		}
	}
	return out
}

// try drafts the block for the wearer.
func try(b *block.Block, w *draft.Wearer, d *draft.Derivation, made []draft.Setting) *trial {
	t := &trial{block: b, wearer: w, derivation: d, given: body.Given{}}
	if d != nil {
		made = d.Settings
	}
	t.settings = settingsOf(b, made)
	if w != nil {
		t.given = w.Given()
		if under := w.WornUnder(); under > 0 {
			t.settings[block.WornUnder] = formula.Length{MM: under}
		}
	}
	t.body = body.Resolve(t.given)
	t.sheet, t.err = b.Draft(t.given, t.settings)
	if t.err != nil {
		t.sheet, t.partly = nil, t.sheet
	}
	return t
}

// fault says in a few words why the block cannot be drafted for the wearer, empty where
// it can or there is none.
func (t *trial) fault() string {
	var missing *block.MissingError
	switch {
	case t.err == nil || t.wearer == nil:
		return ""
	case errors.As(t.err, &missing):
		return wording.Count(len(missing.Measures), "measure") + " still wanted"
	}
	return "it cannot be drafted"
}

// construction returns the sheet whose steps can be shown: the whole one or, where the
// draft came to an end, as far as it came; nil where there is neither.
func (t *trial) construction() *block.Sheet {
	if t.sheet == nil {
		return t.partly
	}
	return t.sheet
}

// like reports whether the other is about the same block, wearer and pieces, so that the
// two can be compared.
func (t *trial) like(o *trial) bool {
	if o == nil || t.block.Name != o.block.Name || (t.wearer == nil) != (o.wearer == nil) {
		return false
	}
	return t.wearer == nil || t.wearer.ID == o.wearer.ID
}

// moved lists the measures and choices in which the other differs, and whether the text
// of the block does.
func (t *trial) moved(o *trial) (names []string, text bool) {
	for _, name := range sortedNames(t.given, o.given) {
		if t.given[name] != o.given[name] {
			names = append(names, name)
		}
	}
	for _, name := range sortedNames(t.settings, o.settings) {
		if !sameValue(t.settings[name], o.settings[name]) {
			names = append(names, name)
		}
	}
	return names, t.block.Text() != o.block.Text()
}

func sortedNames[V any](a, b map[string]V) []string {
	names := slices.AppendSeq(slices.Collect(maps.Keys(a)), maps.Keys(b))
	slices.Sort(names)
	return slices.Compact(names)
}

// chosen returns a choice as the draft used it, or false.
func (t *trial) chosen(name string) (block.Chosen, bool) {
	if s := t.construction(); s != nil {
		for _, c := range s.Choices {
			if c.Name == name {
				return c, true
			}
		}
	}
	return block.Chosen{}, false
}

// reads reports whether the block lists or reads the measure.
func (t *trial) reads(measure string) bool {
	return slices.Contains(t.block.Wants(), measure)
}

// wantsOf lists the measures that the block needs and the wearer lacks, how many of those
// that it reads were taken, and how many are estimated.
func wantsOf(b *block.Block, g body.Given) (needed []string, taken, estimated int) {
	for _, m := range b.Measures() {
		if m.Needed && !(g[m.Name] > 0) {
			needed = append(needed, m.Name)
		}
	}
	for _, name := range b.Wants() {
		switch {
		case g[name] > 0:
			taken++
		case !slices.Contains(needed, name):
			estimated++
		}
	}
	return needed, taken, estimated
}

// wordsOf returns what people call a measure of the block.
func wordsOf(b *block.Block, name string) string {
	for _, m := range b.Measures() {
		if m.Name == name && m.Words != "" {
			return m.Words
		}
	}
	return body.Words(name)
}

// nameOf returns what people call a measure or a choice of the block.
func nameOf(b *block.Block, name string) string {
	if c, ok := b.Choice(name); ok {
		return c.Title
	}
	if name == block.WornUnder {
		return "what is worn under it"
	}
	return wordsOf(b, name)
}

// difference says in a few words what changed from the other to t.
func (t *trial) difference(o *trial, u draft.Unit) string {
	names, text := t.moved(o)
	switch {
	case len(names) == 0 && text:
		return "the block's file was changed"
	case len(names) == 1:
		from, to := o.shows(names[0], u), t.shows(names[0], u)
		return fmt.Sprintf("%s: %s → %s", nameOf(t.block, names[0]), from, to)
	case len(names) > 0:
		return fmt.Sprintf("%d measures or choices changed", len(names))
	}
	return ""
}

// shows returns a measure or choice as the draft used it.
func (t *trial) shows(name string, u draft.Unit) string {
	if c, ok := t.chosen(name); ok {
		return showValue(c.Value, u)
	}
	if v, ok := t.settings[name]; ok {
		return showValue(v, u)
	}
	if k, ok := t.body.Get(name); ok {
		if k.Estimated {
			return "≈ " + u.Format(k.Value)
		}
		return u.Format(k.Value)
	}
	return "none"
}
