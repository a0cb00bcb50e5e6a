package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// List is a list of rows of which one can be chosen. Unlike the widget that it is made
// of, it has no mark of its own that the keys move beside the chosen row: OnKey gets
// them, and what that has no use for means the same as anywhere in the window.
type List struct {
	widget.List
	// OnKey gets the keys and says whether it used them; nil uses none.
	OnKey func(name fyne.KeyName) bool
	quiet bool
	// put is the row that was shown last.
	put widget.ListItemID
}

// NewList returns a list of so many rows; row makes one, fill puts the one with the
// number into it, and choose is told which was chosen by hand.
func NewList(length func() int, row func() fyne.CanvasObject, fill func(widget.ListItemID, fyne.CanvasObject), choose func(widget.ListItemID)) *List {
	l := &List{}
	l.Length, l.CreateItem, l.UpdateItem = length, row, fill
	l.HideSeparators = true
	l.OnSelected = func(i widget.ListItemID) {
		if !l.quiet && choose != nil {
			choose(i)
		}
	}
	l.ExtendBaseWidget(l)
	return l
}

// Put shows a row as the chosen one, without choosing it, and brings it into sight.
func (l *List) Put(i widget.ListItemID) {
	l.quiet = true
	defer func() { l.quiet = false }()
	l.put = i
	l.Select(i)
}

// Resize implements fyne.CanvasObject. A list without room cannot tell where its chosen
// row would be seen and scrolls past it, so that is brought into sight with the room.
func (l *List) Resize(size fyne.Size) {
	unseen := l.Size().Height < l.MinSize().Height
	l.List.Resize(size)
	if unseen {
		l.ScrollToTop()
		l.ScrollTo(l.put)
	}
}

// FocusGained implements fyne.Focusable.
func (*List) FocusGained() {}

// FocusLost implements fyne.Focusable.
func (*List) FocusLost() {}

// TypedKey implements fyne.Focusable.
func (l *List) TypedKey(e *fyne.KeyEvent) {
	if l.OnKey == nil || !l.OnKey(e.Name) {
		KeyElsewhere(e)
	}
}

// TypedRune implements fyne.Focusable.
func (*List) TypedRune(r rune) { RuneElsewhere(r) }

// ScrollToTop shows the first rows, also of a list that was not seen yet.
func (l *List) ScrollToTop() { l.ScrollToOffset(0) }
