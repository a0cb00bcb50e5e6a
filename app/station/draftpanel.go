package station

import (
	"errors"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/body"
)

// draftPanel is what lies beside the drawing: for whom, the checks, the choices and the
// measures of the block in hand, its explanation, and the button that drafts it.
type draftPanel struct {
	s      *Draft
	object fyne.CanvasObject
	scroll *container.Scroll
	rows   *fyne.Container

	title    *control.Text
	says     *control.Prose
	whom     *control.Choice
	wearers  []draft.ID
	state    *control.Prose
	made     *fyne.Container
	told     *fyne.Container
	choices  *fyne.Container
	measures *fyne.Container
	about    *control.Button
	explain  *control.Prose
	unfolded bool
	renew    fyne.CanvasObject
	button   *control.Button
	pieces   *control.Button

	// shown is the block that the rows are of, toldFor what the checks were told from.
	shown, toldFor string

	choiceRows []*choiceRow
	readRows   []*readRow
}

// choiceRow is a choice: its value, and whether that comes by its formula.
type choiceRow struct {
	choice  block.Choice
	field   *control.Field
	formula *control.Button
}

// readRow is a measure that the block reads.
type readRow struct {
	name  string
	field *control.Field
}

// Widths in screen units.
const (
	choiceWide   = 78
	measuredWide = 96
)

// labelledLong returns a row whose label takes two lines where it must.
func labelledLong(label string, o fyne.CanvasObject) fyne.CanvasObject {
	text := control.NewProse(label, 12, false, look.Faint, inner-o.MinSize().Width-10)
	return container.NewBorder(nil, nil, nil, o, control.Inset(0, 0, 10, 0, control.Centred(text)))
}

func newDraftPanel(s *Draft) *draftPanel {
	p := &draftPanel{s: s}
	p.title = control.NewText("", control.TitleSize, true, look.Ink).AtLeast(inner)
	p.says = control.NewProse("", 11.5, false, look.Faint, inner)
	p.whom = control.NewChoice("Whom the block is drafted for", nil, func(i int) {
		if i >= 0 && i < len(p.wearers) {
			s.For(p.wearers[i])
		}
	})
	p.state = control.NewProse("", 11.5, false, look.Faint, inner)
	p.made = control.Stack(2)
	p.told, p.choices, p.measures = control.Stack(8), control.Stack(6), control.Stack(6)
	p.about = control.NewButton(control.QuietShape, "", "About this block", "How this block is drafted, and why so", func() {
		p.unfolded = !p.unfolded
		p.update()
	})
	p.explain = control.NewProse("", 12, false, look.Ink, inner)
	p.renew = control.Told(control.Note, "The block was changed", "These pieces follow its text as it was when they were drafted.", inner, "", nil,
		control.NewButton(control.SmallShape, "", "Take the present text", "Draft the pieces anew by the block as it now reads; what was drawn by hand is kept", s.renewBlock))
	p.button = control.NewButton(control.WordShape, "draft", "Draft it", "Make the pieces and go on to shape them (Ctrl+Return)", s.DraftIt)
	p.pieces = control.NewButton(control.WordShape, "shape", "To its pieces", "Go to the pieces that this block has made", s.toPieces)
	p.rows = control.Stack(8,
		p.title, p.says,
		control.Inset(0, 4, 0, 0, control.LabelledBy(40, "For", p.whom.Object())),
		p.state, p.made, p.renew, p.told,
		p.choices, p.measures,
		control.Rule(), control.Row(0, p.about), p.explain,
	)
	p.scroll = container.NewVScroll(control.Inset(16, 12, 16, 16, p.rows))
	foot := control.Inset(16, 10, 16, 12, control.Stack(8, p.pieces, p.button))
	line := control.Tall(1, control.NewPlane(look.Border, "", 0))
	p.object = control.Wide(Width, control.Compact(container.NewBorder(nil, control.Stack(0, line, foot), nil, nil, p.scroll)))
	return p
}

func (p *draftPanel) update() {
	s := p.s
	project := s.desk.Project()
	p.putWearers(project)
	t := s.now
	if t == nil {
		p.title.Set("No block is chosen")
		p.says.Put("")
		p.state.Put("")
		p.button.SetOff(true)
		for _, o := range []fyne.CanvasObject{p.pieces, p.made, p.renew, p.told, p.choices, p.measures, p.about, p.explain} {
			o.Hide()
		}
		return
	}
	top, offset := p.choices.Position().Y, p.scroll.Offset.Y
	p.title.Set(t.block.Title)
	p.says.Put(t.block.Says)
	p.putState(project, t)
	p.putTold(t)
	if p.shown != t.block.Text() {
		p.shown = t.block.Text()
		p.rebuild(t.block)
	}
	p.put(t, project.Unit)
	var missing *block.MissingError
	show(p.choices, len(p.choiceRows) > 0 && t.wearer != nil && !errors.As(t.err, &missing))
	show(p.measures, len(p.readRows) > 0)
	p.about.Show()
	p.about.SetChosen(p.unfolded)
	p.explain.Put(explanation(t.block))
	show(p.explain, p.unfolded)
	p.rows.Refresh()
	p.scroll.Refresh()
	// What is told above the fields comes and goes: the fields stay where they are, at
	// least once one has gone down to them.
	if moved := p.choices.Position().Y - top; moved != 0 && offset > 0 && top > 0 {
		p.scroll.ScrollToOffset(fyne.NewPos(0, max(offset+moved, 0)))
	}
}

func explanation(b *block.Block) string {
	text := strings.TrimSpace(paragraphs(b.Explains))
	if b.Source != "" {
		text += "\n\nSource: " + b.Source
	}
	if text == "" {
		return "Its author says nothing more about it."
	}
	return text
}

// paragraphs joins the lines of each paragraph of a text; empty lines stand between.
func paragraphs(text string) string {
	var out []string
	for _, para := range strings.Split(strings.TrimSpace(text), "\n\n") {
		out = append(out, strings.Join(strings.Fields(para), " "))
	}
	return strings.Join(out, "\n\n")
}

func (p *draftPanel) putWearers(project *draft.Project) {
	var names []string
	p.wearers = nil
	at := -1
	for i, w := range project.Wearers {
		p.wearers = append(p.wearers, w.ID)
		names = append(names, w.Name)
		if w.ID == p.s.wearer {
			at = i
		}
	}
	p.whom.Offer(names, at)
}

// putState says whether there are pieces that follow the block.
func (p *draftPanel) putState(project *draft.Project, t *trial) {
	show(p.renew, false)
	show(p.pieces, t.derivation != nil)
	p.putMade(project, t)
	word, shape := "Draft it", control.WordShape
	switch {
	case p.s.library.faulty(p.s.chosen) && t.derivation == nil:
		p.state.Put("Its file cannot be read at the moment; this is how it was before.")
	case t.wearer == nil:
		p.state.Put("There is nobody to draft for yet.")
	case t.derivation != nil:
		p.state.Put("It is drafted. Its pieces follow what you set here:")
		word, shape = "Draft it once more", control.QuietShape
		e, ok := p.s.library.named(t.block.Name)
		show(p.renew, ok && e.Block.Text() != t.derivation.Text)
	default:
		p.state.Put("Not drafted yet: this is a trial.")
	}
	p.button.Word, p.button.Shape = word, shape
	p.button.Refresh()
	p.button.SetOff(t.wearer == nil || t.sheet == nil)
}

// putMade lists the pieces that the block has made, and what sets them apart from what
// it makes now.
func (p *draftPanel) putMade(project *draft.Project, t *trial) {
	p.made.RemoveAll()
	dotted := false
	if t.derivation != nil {
		findings := p.s.desk.Findings()
		for _, piece := range project.PiecesOf(t.derivation) {
			says := otherwise(piece, findings)
			icon := "holds"
			if says != "" {
				icon, dotted = "shape", true
			}
			p.made.Add(container.NewBorder(nil, nil,
				control.Inset(0, 0, 6, 0, control.Centred(control.NewIcon(icon, look.Faint, 13))),
				control.Centred(control.NewText(says, 11.5, false, look.OchreText)),
				control.Centred(control.NewText(piece.Name, 12, true, look.Ink).AtLeast(40))))
		}
	}
	if dotted {
		p.made.Add(control.NewProse("They are drawn here as they stand; where the block makes them otherwise, that is dotted.", 11.5, false, look.Faint, inner))
	}
	show(p.made, len(p.made.Objects) > 0)
}

// levels are the marks of what the checks of a block say.
var levels = map[string]control.Level{"problem": control.Problem, "look again": control.LookAgain, "note": control.Note}

// told returns the checks of the block that do not hold for the wearer as it is
// dressed.
func (t *trial) told() []block.Told {
	var list []block.Told
	if t.sheet == nil {
		return nil
	}
	for _, told := range t.sheet.Told {
		if t.wearer == nil || !t.wearer.TakesOff(told.Measures) {
			list = append(list, told)
		}
	}
	return list
}

// putTold lists the checks of the block that do not hold, and what cannot be drafted.
func (p *draftPanel) putTold(t *trial) {
	key := fmt.Sprint(t.block.Name, t.err, t.wearer == nil)
	told := t.told()
	key += fmt.Sprint(told)
	if key == p.toldFor {
		return
	}
	p.toldFor = key
	p.told.RemoveAll()
	if t.err != nil && t.wearer != nil {
		p.told.Add(control.Told(control.Problem, wording.Sentence(t.fault()), wording.Sentence(t.err.Error()), inner, "", nil))
	}
	for _, told := range told {
		title := wording.Sentence(strings.ReplaceAll(told.Name, "_", " "))
		if c, ok := t.block.Choice(told.Name); ok {
			title = c.Title
		}
		if n := len(told.Measures); n > 0 && n <= mostNamed {
			told.Says = strings.TrimSuffix(told.Says, ".") + " (" + listed(t.block, told.Measures) + ")."
		}
		p.told.Add(control.Told(levels[told.Level], title, told.Says, inner, "", nil))
	}
	show(p.told, len(p.told.Objects) > 0)
}

// mostNamed is how many measures a check names at most; what concerns more says so in
// its own words.
const mostNamed = 3

// listed names measures as a sentence does.
func listed(b *block.Block, names []string) string {
	words := make([]string, len(names))
	for i, n := range names {
		words[i] = nameOf(b, n)
	}
	return wording.List(words)
}

// rebuild makes the rows of a block.
func (p *draftPanel) rebuild(b *block.Block) {
	p.choices.RemoveAll()
	p.measures.RemoveAll()
	p.choiceRows, p.readRows = nil, nil
	p.choices.Add(control.Stack(6, control.Rule(), control.Heading("Choices")))
	p.measures.Add(control.Stack(6, control.Rule(), control.Heading("Measures it reads")))
	for _, c := range b.Choices() {
		r := p.newChoiceRow(c)
		p.choiceRows = append(p.choiceRows, r)
		ends := control.Row(6, control.Wide(choiceWide, r.field.Object()), r.formula)
		p.choices.Add(labelledLong(c.Title, ends))
	}
	for _, name := range b.Wants() {
		r := p.newReadRow(b, name)
		p.readRows = append(p.readRows, r)
		p.measures.Add(labelledLong(wording.Sentence(wordsOf(b, name)), control.Wide(measuredWide, r.field.Object())))
	}
	p.scroll.ScrollToTop()
}

// formulaShape is that of the small button that says whether a choice comes by its
// formula.
var formulaShape = control.Shape{Size: fyne.NewSize(30, 26), Text: 12.5, Radius: 6, Beside: true, Framed: true}

func (p *draftPanel) newChoiceRow(c block.Choice) *choiceRow {
	r := &choiceRow{choice: c}
	r.field = control.NewField(choiceHint(c), func(text string) error {
		if strings.TrimSpace(text) == "" {
			return p.s.clearChoice(c)
		}
		return p.s.setChoice(c, text)
	})
	r.field.Step = func(by int) { p.s.stepChoice(c, by) }
	r.formula = control.NewButton(formulaShape, "", "ƒ", "", func() {
		if err := p.s.clearChoice(c); err != nil {
			p.s.host.Say(err.Error())
		}
	})
	return r
}

func choiceHint(c block.Choice) string {
	says := c.Title
	if c.Says != "" {
		says += ": " + c.Says
	}
	return says + " Up and Down change it; empty it to have it by formula."
}

func (p *draftPanel) newReadRow(b *block.Block, name string) *readRow {
	r := &readRow{name: name}
	hint := wording.Sentence(wordsOf(b, name)) + ". "
	for _, m := range b.Measures() {
		if m.Name == name && m.How != "" {
			hint += m.How + " "
		}
	}
	if m, ok := body.Find(name); ok && !strings.Contains(hint, m.How) {
		hint += m.How
	}
	r.field = control.NewField(hint, func(text string) error { return p.s.setMeasure(name, text) })
	r.field.Step = func(by int) { p.s.stepMeasure(name, by) }
	r.field.OnFocus = func(on bool) {
		p.s.sheet.Highlight()
		if on {
			p.s.sheet.Highlight(measureID(name))
		}
	}
	return r
}

// put shows the values.
func (p *draftPanel) put(t *trial, u draft.Unit) {
	for _, r := range p.choiceRows {
		_, set := t.settings[r.choice.Name]
		if c, ok := t.chosen(r.choice.Name); ok {
			r.field.Put(showValue(c.Value, u))
			r.formula.Hint = formulaHint(r.choice, c, set, u)
		} else if v, ok := t.settings[r.choice.Name]; ok {
			r.field.Put(showValue(v, u))
		} else {
			r.field.Put("")
		}
		r.formula.SetChosen(!set)
	}
	for _, r := range p.readRows {
		switch k, ok := p.known(t, r.name); {
		case !ok:
			r.field.Put("")
		case k.Estimated:
			r.field.Put("≈ " + u.Format(k.Value))
		default:
			r.field.Put(u.Format(k.Value))
		}
		r.field.SetPlaceHolder("wanted")
	}
}

// known returns a measure as the draft used it, or as it is known of the wearer.
func (p *draftPanel) known(t *trial, name string) (body.Known, bool) {
	if t.sheet != nil {
		for _, m := range t.sheet.Measures {
			if m.Name == name {
				return body.Known{Value: m.Value, Estimated: m.Estimated, By: m.By}, true
			}
		}
	}
	return t.body.Get(name)
}

func formulaHint(c block.Choice, now block.Chosen, set bool, u draft.Unit) string {
	says := "By formula: " + c.Default
	if set {
		says = "Set by hand. Press to have it by formula again: " + c.Default
	}
	if now.Least != nil && now.Most != nil {
		says += fmt.Sprintf(". For this body from %s to %s", showValue(now.Least, u), showValue(now.Most, u))
	}
	return says
}

// focusMeasure gives the keys to the field of a measure.
func (p *draftPanel) focusMeasure(name string) {
	for _, r := range p.readRows {
		if r.name != name {
			continue
		}
		if c := fyne.CurrentApp().Driver().CanvasForObject(r.field); c != nil {
			p.reveal(r.field)
			c.Focus(r.field)
		}
		return
	}
}

// reveal scrolls the panel so that the object is in sight.
func (p *draftPanel) reveal(o fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	y := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(p.scroll).Y
	if y < 0 || y+o.Size().Height > p.scroll.Size().Height {
		p.scroll.ScrollToOffset(fyne.NewPos(0, max(p.scroll.Offset.Y+y-p.scroll.Size().Height/2, 0)))
	}
}
