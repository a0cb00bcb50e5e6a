package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Check is a box to tick. Keys other than Space mean the same as anywhere in the window.
type Check struct {
	widget.Check
	quiet bool
}

// NewCheck returns a box with a word; changed is told when it was ticked or cleared by
// hand.
func NewCheck(word string, changed func(on bool)) *Check {
	c := &Check{}
	c.Text = word
	c.OnChanged = func(on bool) {
		if !c.quiet && changed != nil {
			changed(on)
		}
	}
	c.ExtendBaseWidget(c)
	return c
}

// Put ticks or clears the box without that counting as a choice.
func (c *Check) Put(on bool) {
	c.quiet = true
	defer func() { c.quiet = false }()
	c.SetChecked(on)
}

// TypedKey implements fyne.Focusable.
func (c *Check) TypedKey(e *fyne.KeyEvent) {
	if e.Name != fyne.KeySpace { // which comes as a letter
		KeyElsewhere(e)
	}
}

// TypedRune implements fyne.Focusable.
func (c *Check) TypedRune(r rune) {
	if r == ' ' {
		c.Check.TypedRune(r)
		return
	}
	RuneElsewhere(r)
}
