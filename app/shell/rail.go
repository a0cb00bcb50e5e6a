package shell

import (
	"fyne.io/fyne/v2"

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
	stack := control.Stack(14)
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
