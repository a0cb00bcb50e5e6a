package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// DragCard is a card that can be taken to another place.
type DragCard struct {
	Card
	// OnDrag is told where on the canvas the pointer is while the card is dragged,
	// OnDrop that it was let go of.
	OnDrag func(at fyne.Position)
	OnDrop func()
	// OnTwice, where set, is told of a second press soon after the first; the first one
	// is not held back for it.
	OnTwice func()
	presses presses
}

// NewDragCard returns a card with the content.
func NewDragCard(content fyne.CanvasObject, hint string, tap func()) *DragCard {
	c := &DragCard{Card: Card{content: content, OnTap: tap, fill: theme.ColorNameInputBackground, rim: theme.ColorNameInputBorder, radius: 9}}
	c.heed = heed{Hint: hint, of: c}
	c.ExtendBaseWidget(c)
	return c
}

// Tapped implements fyne.Tappable.
func (c *DragCard) Tapped(e *fyne.PointEvent) {
	if c.presses.twice() && c.OnTwice != nil {
		c.OnTwice()
		return
	}
	c.Card.Tapped(e)
}

// Dragged implements fyne.Draggable.
func (c *DragCard) Dragged(e *fyne.DragEvent) {
	if c.OnDrag != nil {
		c.OnDrag(e.AbsolutePosition)
	}
}

// DragEnd implements fyne.Draggable.
func (c *DragCard) DragEnd() {
	if c.OnDrop != nil {
		c.OnDrop()
	}
}
