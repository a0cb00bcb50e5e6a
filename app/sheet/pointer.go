package sheet

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/control"
	"hemlet/geom"
)

// wheelNotch is what the driver reports for one notch of the wheel, in units,
// zoomNotch how much one notch zooms, and wheelAcross how many units the view moves
// across for each that the driver reports.
const (
	wheelNotch  = 25
	zoomNotch   = 1.2
	wheelAcross = 2
)

// MouseDown implements desktop.Mouseable.
func (s *Sheet) MouseDown(e *desktop.MouseEvent) {
	s.takeFocus()
	if s.pressed == 0 && (e.Button == desktop.MouseButtonPrimary || e.Button == desktop.MouseButtonTertiary) {
		s.pressed, s.dragged, s.last = e.Button, false, e.Position
		s.taken = e.Button == desktop.MouseButtonPrimary && s.OnPress != nil && s.OnPress(s.placeOf(e.Position))
	}
}

// placeOf returns the place in mm of one of the widget.
func (s *Sheet) placeOf(pos fyne.Position) geom.Point {
	return s.view.UnitsToMM(float64(pos.X), float64(pos.Y))
}

// MouseUp implements desktop.Mouseable.
func (s *Sheet) MouseUp(e *desktop.MouseEvent) {
	if e.Button != s.pressed {
		return
	}
	tap := e.Button == desktop.MouseButtonPrimary && !s.dragged && !s.taken
	s.endDrag()
	if tap && s.OnTap != nil {
		id, at := s.at(e.Position)
		s.OnTap(id, at)
	}
}

// Dragged implements fyne.Draggable.
func (s *Sheet) Dragged(e *fyne.DragEvent) {
	if s.pressed == 0 {
		return
	}
	s.dragged = true
	if s.taken {
		s.last = e.Position
		if s.OnDrag != nil {
			s.OnDrag(s.placeOf(e.Position))
		}
		return
	}
	dpr := s.view.DPR
	s.look(s.view.Pan(float64(e.Position.X-s.last.X)*dpr, float64(e.Position.Y-s.last.Y)*dpr))
	s.last = e.Position
}

// DragEnd implements fyne.Draggable. The driver loses MouseUp when the button is let
// go over something else, so that either of the two ends the drag.
func (s *Sheet) DragEnd() { s.endDrag() }

func (s *Sheet) endDrag() {
	drop := s.taken
	s.pressed, s.dragged, s.taken = 0, false, false
	if drop && s.OnDrop != nil {
		s.OnDrop(s.placeOf(s.last))
	}
}

// Scrolled zooms at the pointer; with Shift, which the driver turns into a wheel
// across, it moves the view.
func (s *Sheet) Scrolled(e *fyne.ScrollEvent) {
	v := s.view
	if e.Scrolled.DX != 0 {
		v = v.Pan(float64(e.Scrolled.DX)*wheelAcross*v.DPR, 0)
	}
	if e.Scrolled.DY != 0 {
		px := geom.Pt(float64(e.Position.X)*v.DPR, float64(e.Position.Y)*v.DPR)
		v = v.ZoomAt(px, math.Pow(zoomNotch, float64(e.Scrolled.DY)/wheelNotch))
	}
	s.look(v)
}

// MouseIn implements desktop.Hoverable.
func (s *Sheet) MouseIn(e *desktop.MouseEvent) { s.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (s *Sheet) MouseMoved(e *desktop.MouseEvent) {
	if s.pressed != 0 {
		return
	}
	id, at := s.at(e.Position)
	s.setHover(id)
	if s.OnHover != nil {
		s.OnHover(id, at, true)
	}
}

// MouseOut implements desktop.Hoverable.
func (s *Sheet) MouseOut() {
	s.setHover("")
	if s.OnHover != nil {
		s.OnHover("", geom.Point{}, false)
	}
}

func (s *Sheet) setHover(id string) {
	if s.hover != id {
		s.hover, s.moving = id, nil
		s.redraw()
	}
}

// Cursor implements desktop.Cursorable.
func (s *Sheet) Cursor() desktop.Cursor {
	if s.Pointer != nil {
		return s.Pointer()
	}
	if s.hover != "" && s.OnTap != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// takeFocus asks the canvas for the keys: a click alone does not.
func (s *Sheet) takeFocus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil && c.Focused() != fyne.Focusable(s) {
		c.Focus(s)
	}
}

// FocusGained implements fyne.Focusable.
func (s *Sheet) FocusGained() {}

// FocusLost implements fyne.Focusable.
func (s *Sheet) FocusLost() {}

// TypedRune implements fyne.Focusable.
func (s *Sheet) TypedRune(r rune) {
	if s.OnRune != nil && s.OnRune(r) {
		return
	}
	switch r {
	case '+', '=':
		s.ZoomBy(zoomNotch)
	case '-':
		s.ZoomBy(1 / zoomNotch)
	case '0':
		s.Fit()
	}
}

// TypedShortcut implements fyne.Shortcutable: the driver takes every key with Ctrl or Alt
// for a shortcut, the arrows too.
func (s *Sheet) TypedShortcut(sc fyne.Shortcut) {
	if k, ok := sc.(*desktop.CustomShortcut); ok && s.OnKey != nil {
		switch k.KeyName {
		case fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight:
			if s.OnKey(k.KeyName) {
				return
			}
		}
	}
	if c, ok := fyne.CurrentApp().Driver().CanvasForObject(s).(fyne.Shortcutable); ok {
		c.TypedShortcut(sc)
	}
}

// TypedKey implements fyne.Focusable.
func (s *Sheet) TypedKey(e *fyne.KeyEvent) {
	if s.OnKey == nil || !s.OnKey(e.Name) {
		control.KeyElsewhere(e)
	}
}
