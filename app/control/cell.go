package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/look"
)

// Cell is a figure or a word in the row of a table that can be changed where it stands:
// pressed it asks for another, and where it may be dragged it grows to the right and
// becomes less to the left. What can be neither looks like plain text. The keys belong to
// the table.
type Cell struct {
	widget.BaseWidget
	// OnTap is told of a press; nil where there is nothing to change.
	OnTap func()
	// OnRow is told of a press where there is nothing to change: it is for the row.
	OnRow func()
	// OnDrag is told how many screen units the pointer has gone to the right since it was
	// pressed, OnDrop that it was let go; nil where nothing can be dragged.
	OnDrag func(by float32)
	OnDrop func()
	Hint   string

	text    string
	size    float32
	bold    bool
	colour  fyne.ThemeColorName
	align   fyne.TextAlign
	hovered bool
	// gone is how far a drag under way has gone.
	gone     float32
	dragging bool
	// shown says whether it was shown as one that can be changed.
	shown bool
}

// NewCell returns an empty cell.
func NewCell(size float32, align fyne.TextAlign) *Cell {
	c := &Cell{size: size, align: align, colour: look.Ink}
	c.ExtendBaseWidget(c)
	return c
}

// Put shows a text in a colour of the theme.
func (c *Cell) Put(text string, colour fyne.ThemeColorName) {
	if live := c.live(); c.text != text || c.colour != colour || c.shown != live {
		c.text, c.colour, c.shown = text, colour, live
		c.Refresh()
	}
}

// Text returns what is shown.
func (c *Cell) Text() string { return c.text }

// Dragging reports whether it is being dragged.
func (c *Cell) Dragging() bool { return c.dragging }

// live reports whether it can be changed.
func (c *Cell) live() bool { return c.OnTap != nil || c.OnDrag != nil }

// Tapped implements fyne.Tappable.
func (c *Cell) Tapped(*fyne.PointEvent) {
	switch {
	case c.OnTap != nil:
		ShowHint("", nil)
		c.OnTap()
	case c.OnRow != nil:
		c.OnRow()
	}
}

// Dragged implements fyne.Draggable.
func (c *Cell) Dragged(e *fyne.DragEvent) {
	if c.OnDrag == nil {
		return
	}
	c.gone += e.Dragged.DX
	c.dragging = true
	c.OnDrag(c.gone)
}

// DragEnd implements fyne.Draggable.
func (c *Cell) DragEnd() {
	was := c.dragging
	c.gone, c.dragging = 0, false
	if was && c.OnDrop != nil {
		c.OnDrop()
	}
	c.Refresh()
}

// Cursor implements desktop.Cursorable.
func (c *Cell) Cursor() desktop.Cursor {
	switch {
	case c.OnDrag != nil:
		return desktop.HResizeCursor
	case c.OnTap != nil:
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// MouseIn implements desktop.Hoverable.
func (c *Cell) MouseIn(*desktop.MouseEvent) {
	if c.hovered = true; c.live() {
		ShowHint(c.Hint, nil)
	}
	c.Refresh()
}

// MouseMoved implements desktop.Hoverable.
func (*Cell) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (c *Cell) MouseOut() {
	if c.hovered = false; c.live() {
		ShowHint("", nil)
	}
	c.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (c *Cell) CreateRenderer() fyne.WidgetRenderer {
	r := &cellRenderer{c: c, ground: canvas.NewRectangle(color.Transparent), text: NewText("", c.size, c.bold, c.colour).AtLeast(10).Aligned(c.align), line: canvas.NewRectangle(color.Transparent)}
	r.Refresh()
	return r
}

type cellRenderer struct {
	c            *Cell
	ground, line *canvas.Rectangle
	text         *Text
}

// What lies about the text of a cell, in screen units.
const (
	cellPadX, cellPadY = 4, 2
	cellLine           = 1
)

func (r *cellRenderer) MinSize() fyne.Size {
	return r.text.MinSize().AddWidthHeight(2*cellPadX, 2*cellPadY)
}

func (r *cellRenderer) Layout(size fyne.Size) {
	r.ground.Resize(size)
	in := fyne.NewSize(max(size.Width-2*cellPadX, 0), max(size.Height-2*cellPadY, 0))
	r.text.Move(fyne.NewPos(cellPadX, cellPadY))
	r.text.Resize(in)
	wide := min(fyne.MeasureText(r.c.text, r.c.size, fyne.TextStyle{}).Width, in.Width)
	x := float32(cellPadX)
	if r.c.align == fyne.TextAlignTrailing {
		x += in.Width - wide
	}
	r.line.Move(fyne.NewPos(x, size.Height-cellPadY))
	r.line.Resize(fyne.NewSize(wide, cellLine))
}

func (r *cellRenderer) Refresh() {
	th, v := r.c.Theme(), variant()
	r.text.Set(r.c.text)
	colour := r.c.colour
	r.ground.CornerRadius = 5
	r.ground.FillColor = color.Transparent
	r.line.FillColor = color.Transparent
	if r.c.live() {
		r.line.FillColor = th.Color(look.Border, v)
		if r.c.hovered || r.c.dragging {
			colour = look.Chalk
			r.ground.FillColor = th.Color(look.ChalkTint, v)
			r.line.FillColor = th.Color(look.Chalk, v)
		}
	}
	r.text.SetColour(colour)
	r.Layout(r.c.Size())
	r.ground.Refresh()
	r.line.Refresh()
	r.text.Refresh()
}

func (r *cellRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.text, r.line}
}

func (r *cellRenderer) Destroy() {}
