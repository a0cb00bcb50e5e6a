package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Choice is a box that opens to a list to choose from. Unlike the widget that it is
// made of, setting what it shows does not count as choosing.
type Choice struct {
	widget.Select
	Hint   string
	choose func(index int)
	quiet  bool
	rim    *Rim
}

// NewChoice returns a choice of the options; choose is given the index of what was
// chosen.
func NewChoice(hint string, options []string, choose func(index int)) *Choice {
	c := &Choice{Hint: hint, choose: choose, rim: NewRim()}
	c.Options = options
	c.PlaceHolder = " "
	c.ExtendBaseWidget(c)
	c.OnChanged = func(string) {
		if !c.quiet && c.choose != nil {
			c.choose(c.SelectedIndex())
		}
	}
	return c
}

// Object returns the choice on its ground, with the rim that shows the focus.
func (c *Choice) Object() fyne.CanvasObject { return boxed(c, c.rim) }

// FocusGained implements fyne.Focusable.
func (c *Choice) FocusGained() {
	c.Select.FocusGained()
	c.rim.SetFocused(true)
	ShowHint(c.Hint, nil)
}

// FocusLost implements fyne.Focusable.
func (c *Choice) FocusLost() {
	c.Select.FocusLost()
	c.rim.SetFocused(false)
	ShowHint("", nil)
}

// Put shows an option as chosen, none for an index outside the list.
func (c *Choice) Put(index int) {
	if c.SelectedIndex() == index && (index >= 0 || c.Selected == "") { // which options that are gone leave
		return
	}
	c.quiet = true
	defer func() { c.quiet = false }()
	if index < 0 || index >= len(c.Options) {
		c.ClearSelected()
		return
	}
	c.SetSelectedIndex(index)
}

// Offer replaces the options and shows one of them.
func (c *Choice) Offer(options []string, index int) {
	c.quiet = true
	c.SetOptions(options)
	c.quiet = false
	c.Put(index)
}

// MouseIn implements desktop.Hoverable.
func (c *Choice) MouseIn(e *desktop.MouseEvent) {
	c.Select.MouseIn(e)
	ShowHint(c.Hint, nil)
}

// MouseOut implements desktop.Hoverable.
func (c *Choice) MouseOut() {
	c.Select.MouseOut()
	ShowHint("", nil)
}

// Tapped implements fyne.Tappable.
func (c *Choice) Tapped(e *fyne.PointEvent) {
	c.Select.Tapped(e)
	c.beginAtPresent()
}

// TypedKey implements fyne.Focusable: Return opens the list as Space does.
func (c *Choice) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace, fyne.KeyUp, fyne.KeyDown:
		c.Select.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
		c.beginAtPresent()
	case fyne.KeyLeft, fyne.KeyRight:
		c.Select.TypedKey(e)
	default:
		KeyElsewhere(e)
	}
}

// TypedRune implements fyne.Focusable.
func (*Choice) TypedRune(r rune) { RuneElsewhere(r) }

// beginAtPresent has the keys begin at the present value in the list that was opened,
// and not at its top.
func (c *Choice) beginAtPresent() {
	on := fyne.CurrentApp().Driver().CanvasForObject(c)
	if on == nil {
		return
	}
	list, ok := on.Focused().(*widget.PopUpMenu)
	if !ok {
		return
	}
	for range c.SelectedIndex() + 1 {
		list.ActivateNext()
	}
}
