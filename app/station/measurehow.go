package station

import (
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft/body"
)

// howCard says how the measure in focus, or under the pointer, is taken.
type howCard struct {
	m      *Measure
	object fyne.CanvasObject
	lines  *fyne.Container
	words  *control.Prose
	term   *control.Prose
	how    *control.Prose
	from   *control.Prose
}

func newHowCard(m *Measure) *howCard {
	h := &howCard{m: m}
	h.words = control.NewProse("", 13, true, look.Ink, 400).Flowing()
	h.term = control.NewProse("", 11.5, false, look.Faint, 400).Flowing()
	h.how = control.NewProse("", 12.5, false, look.Ink, 400).Flowing()
	h.from = control.NewProse("", 11.5, false, look.Faint, 400).Flowing()
	h.lines = control.Stack(3, h.words, h.term, h.how, h.from)
	h.object = pad(h.lines)
	h.update()
	return h
}

// update shows the measure under the pointer, else the one that has the keys.
func (h *howCard) update() {
	defer func() {
		show(h.term, h.term.Text() != "")
		h.lines.Refresh()
	}()
	name := h.m.pointed
	if name == "" {
		name = h.m.focus
	}
	if name == "" {
		h.words.Put("Where each measure is taken")
		h.term.Put("")
		h.how.Put("Point at a line on the figure to see what it measures, and click it to type it. The figure has the proportions of the measures, those that are taken and those that are estimated.")
		h.from.Put("")
		return
	}
	h.words.Put(wording.Sentence(body.Words(name)))
	h.term.Put("")
	h.how.Put(howOwn(name))
	if c, ok := body.Find(name); ok {
		h.how.Put(c.How)
		if c.Term != "" {
			h.term.Put("ISO 8559-1: " + c.Term)
		}
	}
	h.from.Put("")
	x := h.m.form.fields[name]
	if x == nil || !x.known {
		return
	}
	unit := h.m.desk.Project().Unit
	text := unit.Format(x.value.Value) + ", taken."
	if !x.taken {
		text = estimateWords(unit, x.value)
	}
	if o := h.m.compared(); o != nil {
		if k, ok := body.Resolve(o.Given()).Get(name); ok {
			text = o.Name + ": " + approx(k) + unit.Format(k.Value) + " (" + signed(unit, x.value.Value-k.Value) + "). " + text
		}
	}
	h.from.Put(text)
}

// howOwn says how a measure is taken that the catalogue does not know.
func howOwn(name string) string {
	switch {
	case strings.HasSuffix(name, body.HeightOf("")):
		return "From the ground straight up to that level, standing."
	case strings.HasSuffix(name, body.ArcFrontOf("")):
		return "Level across the front at that height, from the middle of one side to that of the other."
	case strings.HasSuffix(name, body.ArcBackOf("")):
		return "Level across the back at that height, from the middle of one side to that of the other."
	case strings.HasSuffix(name, body.GirthOf("")):
		return "Once round the body at that level, with the tape held level."
	default:
		return "A measure of your own; blocks can read it by its name, " + name + "."
	}
}
