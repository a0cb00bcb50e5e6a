package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/look"
	"hemlet/app/wording"
)

// Field is a box to type a value into. The value is taken on Return and when the
// focus leaves; Escape puts back what was there.
type Field struct {
	widget.Entry
	// Take is given what was typed. After an error the text stays for mending.
	Take func(text string) error
	// Step, if set, changes the value by the up and down keys; Arrows gets them
	// without the value being taken first.
	Step, Arrows func(by int)
	// OnKey, if set, gets the keys first, and OnShortcut those with Ctrl or Alt; both say
	// whether they used them.
	OnKey      func(name fyne.KeyName) bool
	OnShortcut func(s fyne.Shortcut) bool
	// Done, if set, is called when Return was pressed and the value was taken.
	Done func()
	// OnFocus, if set, is told when the keys come to the field and leave it.
	OnFocus func(on bool)
	// OnTab, if set, gets the Tab key, back with Shift; it says whether it used it. Else the
	// keys go on to what comes next in the window.
	OnTab func(back bool) bool
	// Tell is given the reason why a text was not taken, and empty text once it is
	// well again.
	Tell func(says string)

	shown string
	wrong bool
	// has says that the keys are at the field, fresh that a press has just brought them.
	has, fresh bool
	rim        *Rim
	// room is what it slides in where its text is wider than its box.
	room *fyne.Container
	// reason says under the field why its text was not taken.
	reason *Prose
	Hint   string
}

// NewField returns an empty field.
func NewField(hint string, take func(string) error) *Field {
	f := &Field{Take: take, Hint: hint, rim: NewRim()}
	f.reason = NewProse("", 11.5, false, look.PinText, usualReasonWidth).Flowing()
	f.reason.Hide()
	f.Wrapping = fyne.TextWrapOff
	f.Scroll = container.ScrollNone
	f.ExtendBaseWidget(f)
	f.OnSubmitted = func(string) {
		if f.take(); !f.wrong && f.Done != nil {
			f.Done()
		}
	}
	return f
}

// Put puts a value into the field, unless somebody is typing there.
func (f *Field) Put(text string) {
	if f.Text != f.shown && f.focused() {
		f.shown = text
		return
	}
	f.shown = text
	f.setWrong("")
	if f.Text != text {
		f.SetText(text)
		if f.room != nil {
			f.slide()
		}
	}
}

// usualReasonWidth is where the reason under a field breaks until the field has been
// laid out, in screen units.
const usualReasonWidth = 150

// Object returns the field on its ground, with the rim that shows the focus, and
// under it, where a value cannot be taken, the reason.
func (f *Field) Object() fyne.CanvasObject {
	f.room = container.New(&slide{f: f}, f)
	f.OnCursorChanged = f.slide
	clip := container.NewClip(f.room)
	clip.MinSize() // from here on it lays out what it holds
	return Stack(3, boxedIn(container.New(&asLarge{f.room}, clip), f.rim), f.reason)
}

// fieldLeast is how narrow a field may become whatever stands in it, in screen units.
const fieldLeast = 120

// asLarge lets what covers it take the size of another object at least.
type asLarge struct{ o fyne.CanvasObject }

// MinSize implements fyne.Layout.
func (l *asLarge) MinSize([]fyne.CanvasObject) fyne.Size { return l.o.MinSize() }

// Layout implements fyne.Layout.
func (*asLarge) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.Position{})
	o[0].Resize(size)
}

// slide lays out a field whose text may be wider than its box: while the keys are at it, the
// place where one types is in sight.
type slide struct{ f *Field }

// MinSize implements fyne.Layout.
func (l *slide) MinSize([]fyne.CanvasObject) fyne.Size {
	m := l.f.MinSize()
	return fyne.NewSize(min(m.Width, fieldLeast), m.Height)
}

// Layout implements fyne.Layout.
func (l *slide) Layout([]fyne.CanvasObject, fyne.Size) { l.f.slide() }

// slide gives the field the width of its text and moves it to where its text begins, or while
// the keys are at it so far that the place where one types is in sight.
func (f *Field) slide() {
	const clear = 14 // right of that place
	size, m := f.room.Size(), f.MinSize()
	own := fyne.NewSize(max(size.Width, m.Width), m.Height)
	if own != f.Size() {
		f.Resize(own)
	}
	to := fyne.NewPos(0, (size.Height-own.Height)/2)
	if letters := []rune(f.Text); f.has && own.Width > size.Width {
		at := min(f.CursorColumn, len(letters))
		typed := fyne.MeasureText(string(letters[:at]), f.Theme().Size(theme.SizeNameText), f.TextStyle).Width
		to.X = max(min(size.Width-clear-typed, 0), size.Width-own.Width)
	}
	if to != f.Position() {
		f.Move(to)
	}
}

// Reason returns why the text that stands in the field was not taken, empty where
// nothing is wrong.
func (f *Field) Reason() string {
	if !f.wrong {
		return ""
	}
	return f.reason.text
}

// boxHigh is how high fields and choices are, in screen units.
const boxHigh = 28

// boxed lays a control on the ground that fields and choices have, with its rim.
func boxed(o fyne.CanvasObject, rim *Rim) fyne.CanvasObject { return boxedIn(Centred(o), rim) }

// boxedIn is boxed for what lies in the height of the box by itself.
func boxedIn(o fyne.CanvasObject, rim *Rim) fyne.CanvasObject {
	return Tall(boxHigh, container.NewStack(NewPlane(theme.ColorNameInputBackground, "", 6), Inset(5, 1, 5, 1, o), rim))
}

// focused reports whether the field has the keys. What was not drawn yet, or not for a minute,
// knows of no canvas: then it counts what the field was told last.
func (f *Field) focused() bool {
	if c := fyne.CurrentApp().Driver().CanvasForObject(f); c != nil {
		return c.Focused() == fyne.Focusable(f)
	}
	return f.has
}

// Typing reports whether the field holds something that is not taken yet.
func (f *Field) Typing() bool { return f.Text != f.shown }

// Settle takes what was typed, if anything was, and reports whether the field holds
// a value that could be taken.
func (f *Field) Settle() bool {
	f.take()
	return !f.wrong
}

func (f *Field) take() {
	if f.Text == f.shown && !f.wrong {
		return
	}
	typed := f.Text
	if f.Take == nil {
		return
	}
	// The value may come back rounded or in another unit while it is taken.
	before := f.shown
	f.shown = typed
	if err := f.Take(typed); err != nil {
		f.shown = before
		f.setWrong(err.Error())
		return
	}
	f.setWrong("")
	if f.Text != f.shown {
		f.SetText(f.shown)
	}
}

func (f *Field) setWrong(says string) {
	if says == "" && !f.wrong {
		return
	}
	f.wrong = says != ""
	f.rim.SetWrong(f.wrong)
	f.reason.Put(wording.Sentence(says))
	if f.wrong {
		f.reason.Show()
	} else {
		f.reason.Hide()
	}
	if f.Tell != nil {
		f.Tell(says)
	}
}

// Wrong reports whether the field holds a value that cannot be taken.
func (f *Field) Wrong() bool { return f.wrong }

// FocusGained picks the whole value, so that typing replaces it.
func (f *Field) FocusGained() {
	f.Entry.FocusGained()
	f.has = true
	f.pickAll()
	f.rim.SetFocused(true)
	ShowHint(f.Hint, nil)
	if f.OnFocus != nil {
		f.OnFocus(true)
	}
}

// pickAll picks the whole value unless somebody is typing.
func (f *Field) pickAll() {
	if !f.Typing() {
		f.Entry.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
}

// MouseDown implements desktop.Mouseable.
func (f *Field) MouseDown(e *desktop.MouseEvent) {
	f.fresh = !f.has && e.Button == desktop.MouseButtonPrimary
	f.Entry.MouseDown(e)
}

// MouseUp picks the whole value where the press has brought the keys to the field and
// picked no part of it; the next click sets the cursor.
func (f *Field) MouseUp(e *desktop.MouseEvent) {
	f.Entry.MouseUp(e)
	if f.fresh && f.SelectedText() == "" {
		f.pickAll()
	}
	f.fresh = false
}

// FocusLost takes what was typed.
func (f *Field) FocusLost() {
	f.Entry.FocusLost()
	f.has = false
	f.rim.SetFocused(false)
	ShowHint("", nil)
	f.take()
	if f.room != nil {
		f.slide() // back to where the text begins
	}
	if f.OnFocus != nil {
		f.OnFocus(false)
	}
}

// AcceptsTab implements fyne.Tabbable.
func (f *Field) AcceptsTab() bool { return f.OnTab != nil }

// tab gives the Tab key to whom it may concern.
func (f *Field) tab(back bool) {
	if f.OnTab(back) {
		return
	}
	c := fyne.CurrentApp().Driver().CanvasForObject(f)
	switch {
	case c == nil:
	case back:
		c.FocusPrevious()
	default:
		c.FocusNext()
	}
}

// TypedKey implements fyne.Focusable.
func (f *Field) TypedKey(e *fyne.KeyEvent) {
	switch {
	case e.Name == fyne.KeyTab && f.OnTab != nil:
		f.tab(shiftHeld())
	case f.OnKey != nil && f.OnKey(e.Name):
	case e.Name == fyne.KeyEscape:
		f.SetText(f.shown)
		f.setWrong("")
		KeyElsewhere(e)
	case functionKey(e.Name):
		KeyElsewhere(e)
	case e.Name == fyne.KeyUp && f.Arrows != nil:
		f.Arrows(1)
	case e.Name == fyne.KeyDown && f.Arrows != nil:
		f.Arrows(-1)
	case e.Name == fyne.KeyUp && f.Step != nil:
		f.take()
		f.Step(1)
	case e.Name == fyne.KeyDown && f.Step != nil:
		f.take()
		f.Step(-1)
	default:
		f.Entry.TypedKey(e)
	}
}

// TypedShortcut implements fyne.Shortcutable.
func (f *Field) TypedShortcut(s fyne.Shortcut) {
	if f.OnShortcut == nil || !f.OnShortcut(s) {
		f.Entry.TypedShortcut(s)
	}
}

// labelWidth is how much of a row its label takes.
const labelWidth = 98

// Labelled returns a row: the label at the left, the control at the right.
func Labelled(label string, o fyne.CanvasObject) *fyne.Container {
	return LabelledBy(labelWidth, label, o)
}

// LabelledBy returns a row like Labelled whose label takes the width.
func LabelledBy(width float32, label string, o fyne.CanvasObject) *fyne.Container {
	text := NewText(label, 12.5, false, theme.ColorNamePlaceHolder)
	return container.NewBorder(nil, nil, Wide(width, container.New(&middle{}, text)), nil, o)
}

// middle lays an object in the middle of the height over the whole width.
type middle struct{}

func (middle) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

func (middle) Layout(o []fyne.CanvasObject, size fyne.Size) {
	h := o[0].MinSize().Height
	o[0].Move(fyne.NewPos(0, (size.Height-h)/2))
	o[0].Resize(fyne.NewSize(size.Width, h))
}

// Centred lays an object in the middle of the height over the whole width.
func Centred(o fyne.CanvasObject) *fyne.Container { return container.New(&middle{}, o) }
