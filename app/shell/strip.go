package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/tool"
)

// toolStrip lies over the bench and holds the tools.
type toolStrip struct {
	s       *Shell
	object  fyne.CanvasObject
	buttons []*control.Button
	card    *fyne.Container
	row     *fyne.Container
	// all are the buttons of tools and commands, words what they say where there is
	// room.
	all    []*control.Button
	words  []string
	narrow bool
}

func newToolStrip(s *Shell) *toolStrip {
	t := &toolStrip{s: s}
	row := control.Row(2)
	for _, group := range s.toolGroups {
		for _, tl := range group {
			b := t.button(tl)
			t.buttons = append(t.buttons, b)
			row.Add(b)
		}
		row.Add(stripGap())
	}
	for _, c := range s.commands {
		if c.strip {
			row.Add(control.NewButton(control.ToolShape, c.icon, c.short, c.hintText(), func() {
				c.run()
				s.focusBench()
			}))
		}
	}
	t.row = container.New(&stripRows{gap: stripGapWide}, row.Objects...)
	for _, o := range row.Objects {
		if b, ok := o.(*control.Button); ok {
			t.all, t.words = append(t.all, b), append(t.words, b.Word)
		}
	}
	t.card = container.NewStack(control.NewGround(look.Card, look.Border, 12), control.Inset(stripPad, 3, stripPad, 3, t.row))
	t.object = container.New(&stripPlace{strip: t}, t.card)
	return t
}

// Where the strip lies on the bench and what it leaves free inside, in screen units.
const (
	stripLeft, stripTop = 22, 14
	stripTight          = 8 // at the left, where there is little room
	stripPad            = 8
)

// narrowShape is that of the tools where there is no room for their words.
var narrowShape = control.Shape{Size: fyne.NewSize(33, 36), Icon: 20, Radius: 8}

// setNarrow takes the words off the tools, or puts them back.
func (t *toolStrip) setNarrow(on bool) {
	if t.narrow == on {
		return
	}
	t.narrow = on
	for i, b := range t.all {
		b.Shape, b.Word = control.ToolShape, t.words[i]
		if on {
			b.Shape, b.Word = narrowShape, ""
		}
		b.Refresh()
	}
}

// stripPlace keeps the strip near the top left corner: with words, or else without,
// or else in as many rows as it takes.
type stripPlace struct {
	strip *toolStrip
	wide  float32 // with the words
}

func (*stripPlace) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l *stripPlace) Layout(o []fyne.CanvasObject, size fyne.Size) {
	t := l.strip
	if l.wide == 0 {
		l.wide = rowWidth(t.row.Objects) + 2*stripPad
	}
	left := float32(stripLeft)
	if t.setNarrow(l.wide+2*left > size.Width); t.narrow {
		left = stripTight
	}
	rows := t.row.Layout.(*stripRows)
	wide := min(rowWidth(t.row.Objects), size.Width-2*left-2*stripPad)
	high := rows.place(t.row.Objects, wide, nil)
	card := fyne.NewSize(wide+2*stripPad, high+6)
	o[0].Move(fyne.NewPos(left, stripTop))
	o[0].Resize(card)
	t.s.bench.SetCovered(stripTop + card.Height)
}

// rowWidth returns how wide the tools are in one row.
func rowWidth(objects []fyne.CanvasObject) float32 {
	w := float32(0)
	for _, o := range objects {
		w += o.MinSize().Width + stripGapWide
	}
	return w - stripGapWide
}

// stripGapWide is what lies between two tools, in screen units.
const stripGapWide = 2

// stripRows lays the tools in rows, as many to a row as there is room for.
type stripRows struct{ gap float32 }

func (l *stripRows) place(objects []fyne.CanvasObject, wide float32, put func(o fyne.CanvasObject, pos fyne.Position, size fyne.Size)) float32 {
	const slack = 0.5 // units lost to rounding
	x, y, high := float32(0), float32(0), float32(0)
	for _, o := range objects {
		high = max(high, o.MinSize().Height)
	}
	for _, o := range objects {
		m := o.MinSize()
		if x > 0 && x+m.Width > wide+slack {
			x, y = 0, y+high+l.gap
		}
		if put != nil {
			put(o, fyne.NewPos(x, y+(high-m.Height)/2), m)
		}
		x += m.Width + l.gap
	}
	return y + high
}

func (*stripRows) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l *stripRows) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.place(objects, size.Width, func(o fyne.CanvasObject, pos fyne.Position, m fyne.Size) {
		o.Move(pos)
		o.Resize(m)
	})
}

func (t *toolStrip) button(tl tool.Tool) *control.Button {
	info := tl.Info()
	return control.NewButton(control.ToolShape, info.Icon, info.Name, info.Name+" ("+info.Key+"): "+info.Hint, func() {
		t.s.takeTool(tl)
		t.s.focusBench()
	})
}

func stripGap() fyne.CanvasObject {
	return control.Inset(5, 0, 5, 0, control.Wide(1, control.Tall(36, control.NewPlane(look.Border, "", 0))))
}

func (t *toolStrip) update() {
	for i, tl := range t.s.tools {
		t.buttons[i].SetChosen(t.s.bench.Tool() == tl)
	}
}
