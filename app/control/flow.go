package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// Flow lays objects in lines, as many to a line as the width holds.
func Flow(width, gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&flow{width: width, gap: gap}, objects...)
}

// FlowEnd lays objects in lines like Flow, each line pushed to the right, with the gap
// between the lines as well: buttons at the foot of a card, which never make it wider.
func FlowEnd(width, gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&flow{width: width, gap: gap, between: gap, end: true}, objects...)
}

type flow struct {
	width, gap float32
	// between is the gap between two lines.
	between float32
	// end pushes the lines to the right.
	end bool
}

// flowLine is a line of objects with how wide and high it is.
type flowLine struct {
	objects    []fyne.CanvasObject
	wide, high float32
}

// lines breaks the objects that are to be seen into lines.
func (l *flow) lines(objects []fyne.CanvasObject) []flowLine {
	var out []flowLine
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		last := len(out) - 1
		if last < 0 || out[last].wide+l.gap+m.Width > l.width {
			out = append(out, flowLine{[]fyne.CanvasObject{o}, m.Width, m.Height})
			continue
		}
		line := &out[last]
		line.objects = append(line.objects, o)
		line.wide += l.gap + m.Width
		line.high = max(line.high, m.Height)
	}
	return out
}

func (l *flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	lines := l.lines(objects)
	high := l.between * float32(max(len(lines)-1, 0))
	for _, line := range lines {
		high += line.high
	}
	return fyne.NewSize(l.width, high)
}

func (l *flow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, line := range l.lines(objects) {
		x := float32(0)
		if l.end {
			x = max(size.Width-line.wide, 0)
		}
		for _, o := range line.objects {
			m := o.MinSize()
			o.Move(fyne.NewPos(x, y))
			o.Resize(m)
			x += m.Width + l.gap
		}
		y += line.high + l.between
	}
}
