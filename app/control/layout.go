package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Inset leaves room around an object.
func Inset(left, top, right, bottom float32, o fyne.CanvasObject) *fyne.Container {
	return container.New(&inset{left, top, right, bottom}, o)
}

type inset struct{ left, top, right, bottom float32 }

func (l *inset) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.Size{}
	for _, o := range objects {
		s = s.Max(o.MinSize())
	}
	return s.AddWidthHeight(l.left+l.right, l.top+l.bottom)
}

func (l *inset) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Move(fyne.NewPos(l.left, l.top))
		o.Resize(size.SubtractWidthHeight(l.left+l.right, l.top+l.bottom))
	}
}

// Wide gives an object a fixed width, Tall a fixed height.
func Wide(width float32, o fyne.CanvasObject) *fyne.Container {
	return container.New(&fixed{width: width}, o)
}

// Tall gives an object a fixed height.
func Tall(height float32, o fyne.CanvasObject) *fyne.Container {
	return container.New(&fixed{height: height}, o)
}

type fixed struct{ width, height float32 }

func (l *fixed) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.Size{}
	for _, o := range objects {
		s = s.Max(o.MinSize())
	}
	if l.width > 0 {
		s.Width = l.width
	}
	if l.height > 0 {
		s.Height = l.height
	}
	return s
}

func (l *fixed) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Move(fyne.Position{})
		o.Resize(size)
	}
}

// Stack lays objects under one another, each as wide as there is room and as high
// as it needs, with a gap between. Hidden ones take no room.
func Stack(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&stack{gap}, objects...)
}

type stack struct{ gap float32 }

func (l *stack) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.Size{}
	first := true
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		s.Width = max(s.Width, m.Width)
		s.Height += m.Height
		if !first {
			s.Height += l.gap
		}
		first = false
	}
	return s
}

func (l *stack) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := o.MinSize().Height
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		y += h + l.gap
	}
}

// Row lays objects beside one another in the middle of the height, each as wide as
// it needs; those past the first Spring are pushed to the right.
func Row(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&row{gap}, objects...)
}

// Spring takes what room there is in a Row.
func Spring() fyne.CanvasObject { return layout.NewSpacer() }

func isSpring(o fyne.CanvasObject) bool {
	_, ok := o.(layout.SpacerObject)
	return ok
}

type row struct{ gap float32 }

func (l *row) MinSize(objects []fyne.CanvasObject) fyne.Size {
	s := fyne.Size{}
	n := 0
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		if isSpring(o) {
			continue
		}
		m := o.MinSize()
		s.Width += m.Width
		s.Height = max(s.Height, m.Height)
		n++
	}
	if n > 1 {
		s.Width += l.gap * float32(n-1)
	}
	return s
}

func (l *row) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	springs := 0
	for _, o := range objects {
		if o.Visible() && isSpring(o) {
			springs++
		}
	}
	spare := max(size.Width-l.MinSize(objects).Width, 0)
	x := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		if isSpring(o) {
			x += spare / float32(springs)
			continue
		}
		m := o.MinSize()
		o.Move(fyne.NewPos(x, (size.Height-m.Height)/2))
		o.Resize(m)
		x += m.Width + l.gap
	}
}

// Plane is a rectangle in a colour of the theme, to lie under other things.
type Plane struct {
	widget.BaseWidget
	fill, rim fyne.ThemeColorName
	radius    float32
}

// NewPlane returns a ground in the colour; rim, where not empty, is that of a line
// round it.
func NewPlane(fill, rim fyne.ThemeColorName, radius float32) *Plane {
	p := &Plane{fill: fill, rim: rim, radius: radius}
	p.ExtendBaseWidget(p)
	return p
}

// SetColours changes the colours.
func (p *Plane) SetColours(fill, rim fyne.ThemeColorName) {
	p.fill, p.rim = fill, rim
	p.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (p *Plane) CreateRenderer() fyne.WidgetRenderer {
	return newRectRenderer(func(rect *canvas.Rectangle) {
		th, v := p.Theme(), variant()
		rect.FillColor = color.Transparent
		if p.fill != "" {
			rect.FillColor = th.Color(p.fill, v)
		}
		rect.StrokeWidth = 0
		if p.rim != "" {
			rect.StrokeWidth, rect.StrokeColor = 1, th.Color(p.rim, v)
		}
		rect.CornerRadius = p.radius
	})
}

// rectRenderer draws a widget that is one rectangle and asks for no room.
type rectRenderer struct {
	rect  *canvas.Rectangle
	dress func(*canvas.Rectangle)
}

// newRectRenderer returns a renderer whose rectangle is given its looks by dress.
func newRectRenderer(dress func(*canvas.Rectangle)) fyne.WidgetRenderer {
	r := &rectRenderer{rect: canvas.NewRectangle(color.Transparent), dress: dress}
	r.Refresh()
	return r
}

func (r *rectRenderer) Layout(s fyne.Size)           { r.rect.Resize(s) }
func (r *rectRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (r *rectRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.rect} }
func (r *rectRenderer) Destroy()                     {}

func (r *rectRenderer) Refresh() {
	r.dress(r.rect)
	r.rect.Refresh()
}

// Rule returns a thin line across, with room above and below.
func Rule() fyne.CanvasObject {
	return Inset(0, 6, 0, 6, Tall(1, NewPlane(theme.ColorNameSeparator, "", 0)))
}

// Upright returns a thin line down.
func Upright() fyne.CanvasObject {
	return Wide(1, NewPlane(theme.ColorNameSeparator, "", 0))
}

// On lays an object on a ground in a colour of the theme.
func On(fill fyne.ThemeColorName, o fyne.CanvasObject) *fyne.Container {
	return container.NewStack(NewPlane(fill, "", 0), o)
}

// Column lays three objects under one another without gaps; the middle one gets
// what room there is.
func Column(top, mid, bottom fyne.CanvasObject) *fyne.Container {
	return container.New(column{}, top, mid, bottom)
}

type column struct{}

func (column) MinSize(o []fyne.CanvasObject) fyne.Size {
	s := fyne.Size{}
	for _, x := range o {
		m := x.MinSize()
		s.Width = max(s.Width, m.Width)
		s.Height += m.Height
	}
	return s
}

func (column) Layout(o []fyne.CanvasObject, size fyne.Size) {
	top, bottom := o[0].MinSize().Height, o[2].MinSize().Height
	heights := []float32{top, max(size.Height-top-bottom, 0), bottom}
	y := float32(0)
	for i, x := range o {
		x.Move(fyne.NewPos(0, y))
		x.Resize(fyne.NewSize(size.Width, heights[i]))
		y += heights[i]
	}
}
