package shell

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/tool"
	"hemlet/app/wording"
)

// actCard lies over the bench while an act is asking for what it needs: what it was
// given, what is to be set, what it would do, and why it cannot.
type actCard struct {
	s      *Shell
	object *fyne.Container
	card   *fyne.Container
	asking *tool.Asking

	given *fyne.Container
	says  *control.Prose
	told  *control.Prose
	// warns stands out from what else is told: what the act costs, in warn.
	warn   *control.Prose
	warns  *fyne.Container
	do     *control.Button
	fields []cardField
	// rows are what scrolls where the bench is too low for the card.
	rows   *fyne.Container
	scroll *container.Scroll
	// top holds what is asked and given; it never gets lower while the card is up, so that
	// the fields stay where they are.
	top *control.Kept
	// at is where the card lies, room what it was laid into, and about what it keeps clear
	// of; laid says that these hold.
	at    fyne.Position
	room  fyne.Size
	about clearance
	laid  bool
	// touch are the places, thing by thing, at which what is asked for can be clicked.
	touch map[desk.Ref][]fyne.Position
	// pointer is where the pointer was on the bench, nil for elsewhere.
	pointer *fyne.Position
	// moved says that the user has laid it there, where it stays.
	moved bool
}

// cardField is one value on the card.
type cardField struct {
	of     tool.Field
	typed  *control.Field  // nil where it is chosen
	choice *control.Choice // nil where it is typed
}

// The card in screen units: how wide it and what it holds is, and what stays free
// around it.
const (
	actCardWide  = 274
	actCardInner = actCardWide - 2*14
	actCardClear = 12
)

func newActCard(s *Shell) *actCard {
	c := &actCard{s: s, card: container.NewStack()}
	c.object = container.New(&actPlace{c}, c.card)
	c.object.Hide()
	return c
}

// show puts the card up for an act that was taken up.
func (c *actCard) show(a *tool.Asking) {
	for _, other := range c.s.rightCards() {
		other.stepAside(true)
	}
	c.asking, c.laid = a, false
	c.build()
	a.OnChange = c.update
	c.object.Show()
	c.update()
	c.s.draw(c.object)
}

// hide takes the card away.
func (c *actCard) hide() {
	if c.asking == nil {
		return
	}
	c.asking.OnChange = nil
	c.asking = nil
	c.object.Hide()
	for _, other := range c.s.rightCards() {
		other.stepAside(false)
	}
}

// build makes the card for the act in hand.
func (c *actCard) build() {
	asked := c.asking.Asked()
	head := control.Row(8, control.NewIcon(asked.Icon, look.Chalk, 20), control.NewProse(asked.Word, control.TitleSize, true, look.Ink, actCardInner-28))
	c.given = control.Stack(3)
	c.says = control.NewProse("", 12.5, false, look.Ink, actCardInner)
	c.told = control.NewProse("", 12, false, look.Faint, actCardInner)
	c.warn = control.NewProse("", 12, false, look.OchreText, actCardInner-22)
	c.warns = control.Row(7, control.Inset(0, 1, 0, 0, control.NewMark(control.LookAgain, 15)), c.warn)
	c.top = control.NewKept(control.Stack(8, c.given, c.says))
	rows := control.Stack(8, c.top.Object())
	c.fields = nil
	for _, f := range c.asking.Fields() {
		row, field := c.field(f)
		c.fields = append(c.fields, field)
		rows.Add(row)
	}
	c.do = control.NewButton(control.WordShape, "", "Do it", "Take it as it is shown (Enter)", func() { c.asking.Enter() })
	away := control.NewButton(control.QuietShape, "", "Leave it", "Leave everything as it was (Esc, step by step)", c.s.putAway)
	// What the act tells comes last, so that nothing moves with it.
	foot := control.Inset(0, 8, 0, 0, control.Stack(8, control.Row(10, away, control.Spring(), c.do), c.warns, c.told))
	c.rows, c.scroll = rows, container.NewVScroll(rows)
	ground := control.NewGround(look.Paper, look.Border, 12)
	ground.OnDrag, ground.OnTwice, ground.Hint = c.drag, c.letGo, "Drag the card out of the way; press it twice, and it finds a place by itself again"
	grip := control.Stack(0, control.Row(0, control.Spring(), control.Inset(0, 13, 0, 0, control.NewIcon("grip", look.Faint, 14))))
	c.card.Objects = []fyne.CanvasObject{ground, grip, control.Compact(control.Inset(14, 11, 14, 12, container.NewBorder(control.Inset(0, 0, 0, 8, head), foot, nil, nil, c.scroll)))}
	c.card.Refresh()
}

// field makes the row of one value.
func (c *actCard) field(f tool.Field) (fyne.CanvasObject, cardField) {
	hint := wording.Sentence(f.Says)
	if len(f.Choices) > 0 {
		choice := control.NewChoice(hint, f.Shown, func(i int) { c.asking.Choose(f, i) })
		return control.Labelled(f.Label, choice.Object()), cardField{of: f, choice: choice}
	}
	field := control.NewField(hint, func(text string) error {
		if c.asking == nil {
			return nil
		}
		return c.asking.Set(f, text)
	})
	field.PlaceHolder = tool.LeftOpen
	if f.Needed {
		field.PlaceHolder = ""
	}
	// The act is shown anew with every letter that makes sense.
	field.OnChanged = func(text string) {
		if field.Typing() && c.asking != nil {
			_ = c.asking.Set(f, text) // told once the value is taken
		}
	}
	field.Done = func() {
		if c.asking != nil {
			c.asking.Enter()
		}
	}
	field.OnKey = func(name fyne.KeyName) bool {
		if name != fyne.KeyEscape || c.asking == nil {
			return false
		}
		c.s.focusBench()
		if c.asking != nil { // which taking the value can end
			c.asking.Cancel()
		}
		return true
	}
	field.Step = func(by int) {
		if c.asking != nil {
			c.asking.StepBy(f, by)
		}
	}
	return control.Labelled(f.Label, field.Object()), cardField{of: f, typed: field}
}

// update shows what the act was given and would do.
func (c *actCard) update() {
	a := c.asking
	if a == nil {
		return
	}
	had := len(c.given.Objects)
	c.given.Objects = nil
	asks := ""
	for _, s := range a.Steps() {
		if s.Words != "" {
			c.given.Add(control.Row(7, control.NewMark(control.Holds, 13), control.NewProse(s.Words, 12.5, false, look.Ink, actCardInner-20)))
		}
		if s.Now {
			asks = s.Says
		}
	}
	if len(c.given.Objects) > had {
		c.s.status.quiet() // that a click gave nothing before
	}
	shown(c.given, len(c.given.Objects) > 0)
	c.says.Put(asks)
	shown(c.says, asks != "")
	called := a.Called()
	for _, f := range c.fields {
		if f.choice != nil {
			f.call(called[f.of.Name], a.Chosen(f.of))
			continue
		}
		f.typed.Put(a.Shown(f.of))
	}
	told, colour := a.Tells(), look.Faint
	if err := a.Err(); err != nil {
		told, colour = wording.Sentence(err.Error()), look.PinText
	}
	c.warn.Put(a.Warns())
	shown(c.warns, a.Warns() != "")
	c.told.PutAs(told, colour)
	shown(c.told, told != "")
	shown(c.top.Object(), len(c.asking.Asked().Steps) > 0)
	c.do.SetOff(!a.Ready())
	c.card.Refresh()
	c.object.Refresh()
	c.s.status.show()
	c.s.bench.Redraw()
	if a.Enough() && !a.Dragging() && c.s.win.Canvas().Focused() == fyne.Focusable(c.s.bench) {
		c.s.later(c.focusField)
	}
}

// call puts a choice, called for what was given, empty for as it is called by itself.
func (f cardField) call(words []string, at int) {
	if words == nil {
		words = f.of.Shown
	}
	if slices.Equal(words, f.choice.Options) {
		f.choice.Put(at)
		return
	}
	f.choice.Offer(words, at)
}

// shown shows an object or hides it.
func shown(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// focusField gives the keys to the first value that is typed, so that a figure can be
// typed at once.
func (c *actCard) focusField() {
	if c.asking == nil || c.s.question != nil || c.asking.Dragging() {
		return
	}
	for _, f := range c.fields {
		if f.typed != nil {
			c.s.win.Canvas().Focus(f.typed)
			f.typed.TypedShortcut(&fyne.ShortcutSelectAll{})
			return
		}
	}
}
