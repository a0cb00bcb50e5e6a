package shell

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/look"
)

// chooser asks for a file: its path can be typed, or found in the list below. It is
// ours because the toolkit's own cannot be worked by keys.
type chooser struct {
	s       *Shell
	endings []string
	saving  bool
	field   *control.Field
	list    *control.List
	entries []os.DirEntry
	folder  string
	// name is that of the file that is to be written: it stays while one goes from
	// folder to folder. proposed is the one that was proposed.
	name, proposed string
	// at is the entry that the arrow keys have come to, -1 for none. While they put
	// its name into the field, the list stays.
	at       int
	stepping bool
	said     *control.Text
	q        *question
	take     func(path string)
}

// prefFolder is the preference that keeps the folder that was used last.
const prefFolder = "folder"

// chooseFile asks for an existing file with one of the endings.
func (s *Shell) chooseFile(title, word string, endings []string, take func(path string)) {
	c := &chooser{s: s, endings: endings, take: take}
	c.show(title, word, c.startFolder()+string(filepath.Separator))
}

// chooseTarget asks where to write a file that is to have one of the endings; name
// is what is proposed.
func (s *Shell) chooseTarget(title, word, name string, endings []string, take func(path string)) {
	c := &chooser{s: s, endings: endings, saving: true, take: take}
	if !filepath.IsAbs(name) {
		name = filepath.Join(c.startFolder(), name)
	}
	c.show(title, word, name)
}

func (c *chooser) startFolder() string {
	if f := c.s.app.Preferences().String(prefFolder); f != "" {
		if info, err := os.Stat(f); err == nil && info.IsDir() {
			return f
		}
	}
	if home, err := os.UserHomeDir(); err == nil {
		return home
	}
	return "."
}

func (c *chooser) show(title, word, path string) {
	c.field = control.NewField("The path of the file; the arrow keys go through the list, Backspace after a folder leads out of it", nil)
	c.said = control.NewText("", 12, false, look.Faint).AtLeast(chooserWidth)
	c.list = control.NewList(func() int { return len(c.entries) },
		func() fyne.CanvasObject {
			return control.Inset(8, 0, 8, 0, control.NewText("", 13, false, theme.ColorNameForeground))
		},
		func(i widget.ListItemID, o fyne.CanvasObject) {
			o.(*fyne.Container).Objects[0].(*control.Text).Set(c.label(i))
		}, c.pick)
	c.list.OnKey = c.key
	c.field.OnKey = c.key
	c.field.OnShortcut = c.shortcut
	c.field.OnChanged = func(string) {
		if !c.stepping {
			c.look()
		}
	}
	c.field.OnSubmitted = func(string) { c.accept() }
	c.field.Arrows = func(by int) { c.step(by) }
	if c.saving {
		c.proposed = filepath.Base(path)
		c.name = c.proposed
	}
	c.field.SetText(path)
	c.field.CursorColumn = len([]rune(path))
	c.look()
	ways := control.Row(8, control.NewButton(control.SmallShape, "", "Folder above", "Go to the folder that this one lies in (Alt+Up)", c.up), control.Spring())
	if c.saving {
		ways.Add(control.NewButton(control.SmallShape, "", "New folder…", "Make a folder here and go into it", c.askFolder))
	}
	body := container.NewVBox(
		control.Wide(chooserWidth, c.field.Object()), ways,
		control.Tall(260, container.NewStack(control.NewPlane(look.Card, look.Border, 8), control.Inset(2, 2, 2, 2, c.list))),
		c.said)
	c.q = c.s.ask(title, body, c.field,
		answer{word: "Cancel", out: true},
		answer{word: word, main: true, do: func() bool { return c.done() }})
}

// chooserWidth is in screen units.
const chooserWidth = 560

// look lists what lies in the folder of the path that is typed.
func (c *chooser) look() {
	// A second path typed after the first begins anew.
	if _, anew, twice := strings.Cut(c.field.Text, "//"); twice {
		c.field.SetText("/" + anew)
		c.field.CursorColumn = len([]rune(anew)) + 1
		return
	}
	folder, begin := filepath.Split(c.field.Text)
	all, err := os.ReadDir(folder)
	c.folder, c.at = folder, -1
	switch {
	case !c.saving:
	case begin != "":
		c.name = begin
	case c.name == filepath.Base(filepath.Clean(folder)): // what was typed was a folder
		c.name = c.proposed
	}
	c.entries = c.entries[:0]
	for _, e := range all {
		name := e.Name()
		if strings.HasPrefix(name, ".") || !c.saving && !strings.HasPrefix(strings.ToLower(name), strings.ToLower(begin)) {
			continue
		}
		if e.IsDir() || hasEnding(name, c.endings) {
			c.entries = append(c.entries, e)
		}
	}
	sort.SliceStable(c.entries, func(i, j int) bool { return c.entries[i].IsDir() && !c.entries[j].IsDir() })
	switch {
	case err != nil:
		c.said.Set("There is no such folder.")
	case len(c.entries) == 0:
		c.said.Set("Nothing here ends in " + strings.Join(c.endings, ", ") + ".")
	default:
		c.said.Set("")
	}
	c.list.UnselectAll()
	c.list.ScrollToTop()
	c.list.Refresh()
}

func hasEnding(name string, endings []string) bool {
	for _, e := range endings {
		if strings.EqualFold(filepath.Ext(name), e) {
			return true
		}
	}
	return false
}

func (c *chooser) label(i int) string {
	if c.entries[i].IsDir() {
		return c.entries[i].Name() + string(filepath.Separator)
	}
	return c.entries[i].Name()
}

// pick goes into a folder or takes a file's name into the field.
func (c *chooser) pick(i widget.ListItemID) {
	if i >= len(c.entries) {
		return
	}
	if c.entries[i].IsDir() {
		c.enter(c.folder + c.label(i))
		return
	}
	c.put(c.folder + c.label(i))
	c.s.win.Canvas().Focus(c.field)
}

// enter goes into a folder, whose path ends in a separator.
func (c *chooser) enter(folder string) {
	c.put(folder + c.name)
	c.s.win.Canvas().Focus(c.field)
}

// up goes to the folder that the present one lies in.
func (c *chooser) up() {
	above := filepath.Dir(filepath.Clean(c.folder))
	if !strings.HasSuffix(above, string(filepath.Separator)) {
		above += string(filepath.Separator)
	}
	c.enter(above)
}

// key leads out of the folder by Backspace, where there is no letter before the mark to
// take away.
func (c *chooser) key(name fyne.KeyName) bool {
	if name != fyne.KeyBackspace {
		return false
	}
	typing := c.s.win.Canvas().Focused() == fyne.Focusable(c.field)
	if typing && (c.field.SelectedText() != "" || !strings.HasSuffix(c.field.Text, string(filepath.Separator)) || c.field.CursorColumn < len([]rune(c.field.Text))) {
		return false
	}
	c.up()
	return true
}

// shortcut leads out of the folder by Alt and Up.
func (c *chooser) shortcut(s fyne.Shortcut) bool {
	if k, ok := s.(*desktop.CustomShortcut); !ok || k.KeyName != fyne.KeyUp || k.Modifier != fyne.KeyModifierAlt {
		return false
	}
	c.up()
	return true
}

// askFolder asks for the name of a new folder, makes it in the present one and goes into
// it.
func (c *chooser) askFolder() {
	c.s.askText(asking{
		title: "New folder", label: "Name", word: "Make it", hint: "What the folder is called", says: "It is made in " + filepath.Clean(c.folder) + ".",
		take: func(name string) error {
			if name == "" || name != fileName(name) || strings.Trim(name, ".") == "" {
				return errors.New("that is no name for a folder")
			}
			path := filepath.Join(c.folder, name)
			if err := os.Mkdir(path, 0o755); err != nil {
				return fmt.Errorf("it could not be made: %w", err)
			}
			c.s.later(func() { c.enter(path + string(filepath.Separator)) })
			return nil
		},
		out: func() { c.s.later(func() { c.s.win.Canvas().Focus(c.field) }) },
	})
}

// put writes a path into the field, the mark at its end.
func (c *chooser) put(path string) {
	c.field.SetText(path)
	c.field.CursorColumn = len([]rune(path))
	c.field.Refresh()
}

// step goes up or down the list, round and round, without leaving the field.
func (c *chooser) step(by int) {
	n := len(c.entries)
	if n == 0 {
		return
	}
	switch {
	case c.at >= 0:
		c.at = (c.at - by + n) % n
	case by < 0:
		c.at = 0
	default:
		c.at = n - 1
	}
	c.stepping = true
	defer func() { c.stepping = false }()
	c.list.Put(c.at)
	c.put(c.folder + c.label(c.at))
}

func (c *chooser) accept() {
	if c.done() {
		c.q.close()
	}
}

// done takes the path, if it will do.
func (c *chooser) done() bool {
	path := strings.TrimSpace(c.field.Text)
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		name := c.name
		if filepath.Base(path) == name { // a folder of that name was typed
			name = c.proposed
		}
		c.put(strings.TrimSuffix(path, string(filepath.Separator)) + string(filepath.Separator) + name)
		return false
	}
	switch {
	case path == "":
		c.said.Set("Type a path, or pick a file from the list.")
		return false
	case c.saving && !hasEnding(path, c.endings):
		path += c.endings[0]
	case !c.saving:
		if _, err := os.Stat(path); err != nil {
			c.said.Set("There is no such file.")
			return false
		}
	}
	c.s.app.Preferences().SetString(prefFolder, filepath.Dir(path))
	// The next question opens once this one is gone.
	c.q.close()
	c.take(path)
	return false
}
