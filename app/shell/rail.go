package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
)

// rail lists the stations that there are.
type rail struct {
	s       *Shell
	object  fyne.CanvasObject
	buttons map[string]*control.Button
}

func newRail(s *Shell) *rail {
	r := &rail{s: s, buttons: map[string]*control.Button{}}
	stack := container.New(railStack{})
	for _, st := range s.seats {
		if st.icon == "" {
			continue
		}
		b := control.NewButton(control.RailShape, st.icon, st.name, st.hint, func() { s.enter(st.name) })
		r.buttons[st.name] = b
		stack.Add(b)
	}
	r.object = control.Wide(76, control.Inset(8, 14, 8, 8, stack))
	return r
}

func (r *rail) update() {
	for name, b := range r.buttons {
		b.SetChosen(name == r.s.station || r.s.seat != nil && name == r.s.seat.under)
	}
}

// railStack lays the stations under one another, closer together where the window is low.
type railStack struct{}

// The room between two stations, in screen units.
const railGapLeast, railGap = 2, 14

// MinSize implements fyne.Layout.
func (railStack) MinSize(o []fyne.CanvasObject) fyne.Size {
	size := fyne.Size{}
	for i, x := range o {
		m := x.MinSize()
		size.Width = max(size.Width, m.Width)
		size.Height += m.Height
		if i > 0 {
			size.Height += railGapLeast
		}
	}
	return size
}

// Layout implements fyne.Layout.
func (l railStack) Layout(o []fyne.CanvasObject, size fyne.Size) {
	gap := float32(railGap)
	if n := len(o) - 1; n > 0 {
		gap = min(railGapLeast+(size.Height-l.MinSize(o).Height)/float32(n), railGap)
	}
	y := float32(0)
	for _, x := range o {
		high := x.MinSize().Height
		x.Move(fyne.NewPos(0, y))
		x.Resize(fyne.NewSize(size.Width, high))
		y += high + max(gap, railGapLeast)
	}
}
