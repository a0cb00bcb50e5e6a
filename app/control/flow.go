package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// Flow lays objects in lines, as many to a line as the width holds.
func Flow(width, gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&flow{width, gap}, objects...)
}

type flow struct{ width, gap float32 }

// lay places the objects, if put is not nil, and returns how high they are together.
func (l *flow) lay(objects []fyne.CanvasObject, put func(o fyne.CanvasObject, at fyne.Position, size fyne.Size)) float32 {
	x, y, high := float32(0), float32(0), float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		if x > 0 && x+m.Width > l.width {
			x, y, high = 0, y+high, 0
		}
		if put != nil {
			put(o, fyne.NewPos(x, y), m)
		}
		x += m.Width + l.gap
		high = max(high, m.Height)
	}
	return y + high
}

func (l *flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(l.width, l.lay(objects, nil))
}

func (l *flow) Layout(objects []fyne.CanvasObject, _ fyne.Size) {
	l.lay(objects, func(o fyne.CanvasObject, at fyne.Position, size fyne.Size) {
		o.Move(at)
		o.Resize(size)
	})
}
