package shell

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// seeing is the part of the menu of a piece about what is seen and can be changed.
const seeing = "Show, hide or lock"

// commandsUnder lists the commands, by name, that stand in the part of a menu.
func commandsUnder(part string) []string {
	if part == seeing {
		return []string{"Show only these", "Hide", "Lock", "Make a ghost, or a piece again"}
	}
	return nil
}

// menuFor lists the commands, by name, and the parts that the menu of a thing on the
// bench offers.
func menuFor(k desk.Kind) []string {
	switch k {
	case desk.Edge:
		return []string{"Set allowance…", "Give the edge handles", "Link the two picked edges", "Show the other edge", "Walk the seam", "Take apart"}
	case desk.Node, desk.HandleIn, desk.HandleOut:
		return []string{"Corner or smooth", "Delete"}
	case desk.Piece:
		return []string{"Set allowance…", "Grain straight up", "Cut", "Copy", "Duplicate", "Delete", seeing}
	case desk.Line, desk.Dart, desk.Notch, desk.Stretch, desk.Dimension:
		return nil
	case desk.Picture:
		return []string{"Trace this picture", "Lock", "Turn to the left", "Turn to the right", "Delete"}
	default:
		return []string{"Show all", "Show all that is hidden", "Show the others again", "Unlock all", "Pick all", "Bring in a drawing…", "Lay a picture under…", "Acts…"}
	}
}

// contextMenu shows what can be done with what lies under the pointer: what the cutting
// table knows first.
func (s *Shell) contextMenu(r desk.Ref, at geom.Point, pos fyne.Position) {
	if m := s.menuOf(r, at); len(m.Items) > 0 {
		widget.ShowPopUpMenuAtPosition(m, s.win.Canvas(), pos)
	}
}

// menuOf makes the menu of a thing at a place on the bench.
func (s *Shell) menuOf(r desk.Ref, at geom.Point) *fyne.Menu {
	m := fyne.NewMenu("")
	for _, g := range tool.ActsFor(r.Kind) {
		in := m
		if g.Name != "" {
			in = part(m, g.Name)
		}
		for _, asked := range g.Acts {
			in.Items = append(in.Items, fyne.NewMenuItem(asked.Word, func() { s.takeActAt(asked, r, at) }))
		}
	}
	acts := len(m.Items)
	if r.Kind == desk.Edge {
		m.Items = append(m.Items, fyne.NewMenuItem("Put a point here", func() { s.hand.InsertAt(r, at) }))
	}
	if r.Kind == desk.Nothing && s.app.Clipboard().Content() != "" {
		m.Items = append(m.Items, fyne.NewMenuItem("Paste here", func() { s.pasteAt(at) }))
	}
	if piece := s.hand.LockedAt(at); r.Kind == desk.Nothing && piece != nil {
		m.Items = append(m.Items, fyne.NewMenuItem("Unlock "+piece.Name, func() {
			arrange(s, draft.UnlockPieces, draft.ShowPiecesArgs{Pieces: []draft.PieceRef{draft.PieceRef(piece.ID)}})
		}))
	}
	s.listIn(m, menuFor(r.Kind))
	if acts > 0 && len(m.Items) > acts {
		m.Items = slices.Insert(m.Items, acts, fyne.NewMenuItemSeparator())
	}
	return m
}

// listIn adds to a menu the commands of the names that can be given now.
func (s *Shell) listIn(m *fyne.Menu, names []string) {
	for _, name := range names {
		if list := commandsUnder(name); list != nil {
			under := fyne.NewMenu(name)
			if s.listIn(under, list); len(under.Items) > 0 {
				item := fyne.NewMenuItem(name, nil)
				item.ChildMenu = under
				m.Items = append(m.Items, item)
			}
			continue
		}
		if c := s.commandNamed(name); c.can == nil || c.can() {
			item := fyne.NewMenuItem(c.name, c.run)
			item.Shortcut = c.shortcut()
			m.Items = append(m.Items, item)
		}
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
