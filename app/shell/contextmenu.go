package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/geom"
)

// menuFor lists the commands, by name, that the menu of a thing on the bench offers.
func menuFor(k desk.Kind) []string {
	switch k {
	case desk.Edge:
		return []string{"Set allowance…", "Give the edge handles", "Link the two picked edges", "Show the other edge", "Take apart"}
	case desk.Node, desk.HandleIn, desk.HandleOut:
		return []string{"Corner or smooth", "Delete"}
	case desk.Piece:
		return []string{"Set allowance…", "Grain straight up", "Cut", "Copy", "Duplicate", "Delete", "Show only these", "Hide", "Lock", "Make a ghost, or a piece again"}
	case desk.Line, desk.Dart, desk.Notch, desk.Stretch:
		return nil
	case desk.Picture:
		return []string{"Lock", "Turn to the left", "Turn to the right", "Delete"}
	default:
		return []string{"Show all", "Show all that is hidden", "Show the others again", "Unlock all", "Pick all", "Bring in a drawing…", "Lay a picture under…", "Acts…"}
	}
}

// contextMenu shows what can be done with what lies under the pointer: what the cutting
// table knows first.
func (s *Shell) contextMenu(r desk.Ref, at geom.Point, pos fyne.Position) {
	var items []*fyne.MenuItem
	for _, asked := range tool.ActsFor(r.Kind) {
		items = append(items, fyne.NewMenuItem(asked.Word, func() { s.takeActAt(asked, r, at) }))
	}
	if len(items) > 0 {
		items = append(items, fyne.NewMenuItemSeparator())
	}
	if r.Kind == desk.Edge {
		items = append(items, fyne.NewMenuItem("Put a point here", func() { s.hand.InsertAt(r, at) }))
	}
	if r.Kind == desk.Nothing && s.app.Clipboard().Content() != "" {
		items = append(items, fyne.NewMenuItem("Paste here", func() { s.pasteAt(at) }))
	}
	for _, name := range menuFor(r.Kind) {
		if c := s.commandNamed(name); c.can == nil || c.can() {
			item := fyne.NewMenuItem(c.name, c.run)
			item.Shortcut = c.shortcut()
			items = append(items, item)
		}
	}
	if n := len(items); n > 0 && items[n-1].IsSeparator {
		items = items[:n-1]
	}
	if len(items) > 0 {
		widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), s.win.Canvas(), pos)
	}
}

// commandNamed returns the command with the name; a name that is none is a mistake
// of the program, and panics.
func (s *Shell) commandNamed(name string) *command {
	for _, c := range s.commands {
		if c.name == name {
			return c
		}
	}
	panic("there is no command " + name)
}
