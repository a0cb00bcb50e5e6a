package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/draft"
)

// topBar is the line at the top: the project, the finder, undo and redo, the unit,
// light and dark.
type topBar struct {
	s            *Shell
	object       fyne.CanvasObject
	name, edited *control.Text
	undo, redo   *control.Button
	history      *control.Button
	toile        *control.Button
	unit         *control.Pill
	look         *control.Button
}

// unitWords are the units as the pill shows them, in the order of draft.Units.
var unitWords = []string{"mm", "cm", "in", "in ¹⁄₃₂"}

func newTopBar(s *Shell) *topBar {
	t := &topBar{s: s}
	t.name = control.NewText("", 16, true, theme.ColorNameForeground).AtLeast(280)
	t.edited = control.NewText("edited", 12, false, theme.ColorNamePlaceHolder)
	find := newFindBox(s)
	t.undo = control.NewButton(control.IconShape, "undo", "", "Undo (Ctrl+Z)", s.takeBack)
	t.redo = control.NewButton(control.IconShape, "redo", "", "Redo (Ctrl+Shift+Z)", s.redo)
	t.toile = control.NewButton(control.IconShape, "notes", "", "Toile: notes of the fitting, and versions of the pattern (F11)", func() { s.showToile(s.toile.which.On()) })
	t.history = control.NewButton(control.IconShape, "history", "", "History: everything that was done, to go back to any step (F9)", s.showHistory)
	t.unit = control.NewPill("The unit in which lengths are shown and typed; nothing changes its size", unitWords, func(i int) { s.setUnit(draft.Units()[i]) })
	t.look = control.NewButton(control.IconShape, "dark", "", "Dark look (Ctrl+L)", func() { s.SetDark(!s.dark()) })
	gap := func() fyne.CanvasObject { return control.Wide(8, control.NewPlane("", "", 0)) }
	right := control.Row(10, t.undo, t.redo, t.history, t.toile, gap(), t.unit, gap(), t.look)
	t.object = control.Tall(52, control.Inset(92, 0, 16, 0, container.New(topRow{}, t.name, t.edited, find, right)))
	return t
}

func (t *topBar) update() {
	t.name.Set(t.s.desk.Project().Name)
	if t.s.desk.Dirty() {
		t.edited.Set("edited")
	} else {
		t.edited.Set("")
	}
	undo, can := t.s.undoes()
	t.undo.SetOff(!can)
	t.undo.Hint = hintFor("Undo", undo, "Ctrl+Z")
	redo, can := t.s.desk.History().CanRedo()
	t.redo.SetOff(!can)
	t.redo.Hint = hintFor("Redo", redo, "Ctrl+Shift+Z")
	t.unit.Put(int(t.s.desk.Project().Unit))
	icon, hint := "dark", "Dark look (Ctrl+L)"
	if t.s.dark() {
		icon, hint = "light", "Light look (Ctrl+L)"
	}
	if t.look.Icon != icon {
		t.look.Icon, t.look.Hint = icon, hint
		t.look.Refresh()
	}
}

// topRow lays out the name, what stands after it, the finder in the middle of what
// room there is, and the rest at the right. Where there is little room the finder
// gives way and then the name.
type topRow struct{}

// Widths of the line at the top in screen units.
const (
	topGap     = 10
	nameLeast  = 60
	editedWide = 48
	findLeast  = 130
	findMost   = 340
)

func (topRow) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(nameLeast+editedWide+findLeast+o[3].MinSize().Width+3*topGap, o[3].MinSize().Height)
}

func (topRow) Layout(o []fyne.CanvasObject, size fyne.Size) {
	put := func(o fyne.CanvasObject, x, w float32) {
		h := o.MinSize().Height
		o.Move(fyne.NewPos(x, (size.Height-h)/2))
		o.Resize(fyne.NewSize(w, h))
	}
	right := o[3].MinSize().Width
	put(o[3], size.Width-right, right)
	room := size.Width - right - editedWide - 3*topGap
	name := o[0].MinSize().Width
	find := max(min(room-name, findMost), findLeast)
	name = max(min(name, room-find), 0)
	put(o[0], 0, name)
	put(o[1], name+topGap, editedWide)
	put(o[2], name+editedWide+2*topGap+(room-name-find)/2, find)
}

func hintFor(verb, step, key string) string {
	if step == "" {
		return verb + " (" + key + ")"
	}
	return verb + ": " + step + " (" + key + ")"
}
