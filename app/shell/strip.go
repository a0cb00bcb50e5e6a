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
	card := container.NewStack(control.NewPlane(look.Card, look.Border, 12), control.Inset(8, 3, 8, 3, row))
	t.object = container.New(&topLeft{left: 22, top: 14}, card)
	return t
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

// topLeft keeps an object at its least size near the top left corner.
type topLeft struct{ left, top float32 }

func (l *topLeft) MinSize(o []fyne.CanvasObject) fyne.Size {
	return o[0].MinSize().AddWidthHeight(l.left, l.top)
}

func (l *topLeft) Layout(o []fyne.CanvasObject, _ fyne.Size) {
	o[0].Move(fyne.NewPos(l.left, l.top))
	o[0].Resize(o[0].MinSize())
}
