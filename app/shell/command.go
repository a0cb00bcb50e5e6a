package shell

import (
	"runtime"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// command is one thing that can be asked for: from a menu, by a key, by its name in
// the finder, or from the tool strip.
type command struct {
	// name is what the menu says, short what the strip says, says one line about it.
	name, short, says string
	// also is by what other words the finder finds it.
	also string
	menu string
	// under is the part of the menu in which it stands with others like it.
	under string
	icon  string
	// key with mod is its shortcut. A key without mod is a plain one, heard by the
	// bench; rune is the same for letters.
	key  fyne.KeyName
	mod  fyne.KeyModifier
	rune rune
	// typing says that it is about what is being typed, where anything is; other
	// commands have that taken first.
	typing bool
	// strip puts it on the tool strip, gap a line above it in the menu.
	strip, gap bool
	do         func()
	// can, where set, says whether it can be done now.
	can func() bool
	// open says that no question is in the way; all commands share it.
	open func() bool
	item *fyne.MenuItem
}

// looks reports whether the command changes nothing but what is seen.
func (c *command) looks() bool { return c.typing || c.menu == menuView || c.menu == menuHelp }

func (c *command) run() {
	if (c.open == nil || c.open()) && (c.can == nil || c.can()) {
		c.do()
	}
}

// keyText returns the shortcut as people write it.
func (c *command) keyText() string {
	if c.rune != 0 {
		return strings.ToUpper(string(c.rune))
	}
	if c.key == "" {
		return ""
	}
	var parts []string
	if c.mod&fyne.KeyModifierShortcutDefault != 0 {
		if runtime.GOOS == "darwin" {
			parts = append(parts, "Cmd")
		} else {
			parts = append(parts, "Ctrl")
		}
	}
	if c.mod&fyne.KeyModifierAlt != 0 {
		parts = append(parts, "Alt")
	}
	if c.mod&fyne.KeyModifierShift != 0 {
		parts = append(parts, "Shift")
	}
	return strings.Join(append(parts, keyName(c.key)), "+")
}

func keyName(k fyne.KeyName) string {
	switch k {
	case fyne.KeyDelete:
		return "Del"
	case fyne.KeyEscape:
		return "Esc"
	default:
		return string(k)
	}
}

// hintText is what is shown while the pointer is on its button.
func (c *command) hintText() string {
	text := strings.TrimSuffix(c.name, "…")
	if k := c.keyText(); k != "" {
		text += " (" + k + ")"
	}
	return text + ": " + c.says
}

// shortcut returns the shortcut as menus show it.
func (c *command) shortcut() fyne.Shortcut {
	key := c.key
	if c.rune != 0 {
		key = fyne.KeyName(strings.ToUpper(string(c.rune)))
	}
	// Plain keys are shown and never bound: no key without a modifier comes as a
	// shortcut. Where the desktop draws the menu it would bind them, so that there
	// they are left out.
	if key == "" || c.mod == 0 && runtime.GOOS == "darwin" {
		return nil
	}
	return &desktop.CustomShortcut{KeyName: key, Modifier: c.mod}
}

// The menus in order.
const (
	menuFile    = "File"
	menuEdit    = "Edit"
	menuCutting = "Cutting table"
	menuMarks   = "Marks"
	menuPiece   = "Pieces"
	menuArrange = "Arrange"
	menuPoint   = "Points"
	menuSeam    = "Seams"
	menuView    = "View"
	menuHelp    = "Help"
)

const ctrl = fyne.KeyModifierShortcutDefault

// mainMenu makes the menus out of the commands.
func (s *Shell) mainMenu() *fyne.MainMenu {
	var menus []*fyne.Menu
	for _, title := range []string{menuFile, menuEdit, menuCutting, menuMarks, menuPiece, menuArrange, menuPoint, menuSeam, menuView, menuHelp} {
		m := fyne.NewMenu(title)
		for _, c := range s.commands {
			if c.menu != title {
				continue
			}
			if c.gap && len(m.Items) > 0 {
				m.Items = append(m.Items, fyne.NewMenuItemSeparator())
			}
			c.item = fyne.NewMenuItem(c.name, c.run)
			c.item.Shortcut = c.shortcut()
			if c.under != "" {
				part(m, c.under).Items = append(part(m, c.under).Items, c.item)
				continue
			}
			m.Items = append(m.Items, c.item)
			if c == s.files.recentAfter {
				s.files.recent = fyne.NewMenuItem("Open recent", nil)
				s.files.recent.ChildMenu = s.files.recentMenu()
				m.Items = append(m.Items, s.files.recent)
			}
		}
		menus = append(menus, m)
	}
	return fyne.NewMainMenu(menus...)
}

// part returns the part of a menu with the name, which is put at its end where there is
// none yet.
func part(m *fyne.Menu, name string) *fyne.Menu {
	for _, item := range m.Items {
		if item.ChildMenu != nil && item.Label == name {
			return item.ChildMenu
		}
	}
	item := fyne.NewMenuItem(name, nil)
	item.ChildMenu = fyne.NewMenu(name)
	m.Items = append(m.Items, item)
	return item.ChildMenu
}

// updateCommands greys out what cannot be done now.
func (s *Shell) updateCommands() {
	changed := false
	for _, c := range s.commands {
		if c.item == nil || c.can == nil {
			continue
		}
		if off := !c.can(); off != c.item.Disabled {
			c.item.Disabled = off
			changed = true
		}
	}
	if changed && s.menu != nil {
		s.menu.Refresh()
	}
}

// addShortcuts lets the canvas hear the shortcuts, for the moments in which the
// menu does not.
func (s *Shell) addShortcuts(c fyne.Canvas) {
	for _, cmd := range s.commands {
		if sc := cmd.shortcut(); sc != nil && cmd.mod != 0 {
			c.AddShortcut(sc, func(fyne.Shortcut) { cmd.run() })
		}
	}
	c.AddShortcut(&fyne.ShortcutSelectAll{}, func(fyne.Shortcut) { s.commandNamed("Pick all").run() })
	c.AddShortcut(&fyne.ShortcutCut{}, func(fyne.Shortcut) { s.commandNamed("Cut").run() })
	c.AddShortcut(&fyne.ShortcutCopy{}, func(fyne.Shortcut) { s.commandNamed("Copy").run() })
	c.AddShortcut(&fyne.ShortcutPaste{}, func(fyne.Shortcut) { s.commandNamed("Paste").run() })
	c.AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { s.undo() })
	c.AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { s.redo() })
}

// key does what a plain key stands for.
func (s *Shell) key(name fyne.KeyName) bool {
	for _, c := range s.commands {
		if c.key == name && c.mod == 0 && c.rune == 0 {
			c.run()
			return true
		}
	}
	return false
}

// letter does what a letter stands for: a tool or a command.
func (s *Shell) letter(r rune) bool {
	if s.station == stationShape {
		for _, t := range s.tools {
			if strings.EqualFold(t.Info().Key, string(r)) {
				s.takeTool(t)
				return true
			}
		}
	}
	if r == '=' { // the plus of most keyboards, without Shift
		r = '+'
	}
	for _, c := range s.commands {
		if c.rune == r {
			c.run()
			return true
		}
	}
	return false
}
