package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// nextPlace gives the keys to the next part of the window: the middle, what lies at the
// left, the panel at the right.
func (s *Shell) nextPlace() {
	places := []fyne.CanvasObject{s.left, s.side}
	focused, _ := s.win.Canvas().Focused().(fyne.CanvasObject)
	at := 0
	for i, place := range places {
		if focused != nil && holds(place, focused) {
			at = i + 1
		}
	}
	for _, place := range places[min(at, len(places)):] {
		if first := firstFocus(place); first != nil {
			s.win.Canvas().Focus(first)
			return
		}
	}
	s.focusBench()
}

// openMenus gives the keys to the menus, where the window draws them itself.
func (s *Shell) openMenus() {
	if c, ok := s.win.Canvas().(interface{ ToggleMenu() }); ok {
		c.ToggleMenu()
	}
}

// inside returns what an object is made of, as far as focus can be in it.
func inside(o fyne.CanvasObject) []fyne.CanvasObject {
	switch x := o.(type) {
	case *fyne.Container:
		return x.Objects
	case *container.ThemeOverride:
		return []fyne.CanvasObject{x.Content}
	case *container.Scroll:
		return []fyne.CanvasObject{x.Content}
	case interface{ Content() fyne.CanvasObject }:
		return []fyne.CanvasObject{x.Content()}
	}
	return nil
}

// firstFocus returns the first thing in an object that can have the keys.
func firstFocus(o fyne.CanvasObject) fyne.Focusable {
	if !o.Visible() {
		return nil
	}
	if f, ok := o.(fyne.Focusable); ok {
		if d, ok := o.(fyne.Disableable); !ok || !d.Disabled() {
			return f
		}
	}
	for _, part := range inside(o) {
		if f := firstFocus(part); f != nil {
			return f
		}
	}
	return nil
}

// holds reports whether what lies somewhere in the object.
func holds(o, what fyne.CanvasObject) bool {
	if o == what {
		return true
	}
	for _, part := range inside(o) {
		if holds(part, what) {
			return true
		}
	}
	return false
}
