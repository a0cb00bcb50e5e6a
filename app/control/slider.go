package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Slider is a knob on a line from 0 to a whole number. Keys other than left and right
// mean the same as anywhere in the window.
type Slider struct {
	widget.Slider
	quiet bool
}

// NewSlider returns a slider; move is told where it was moved by hand.
func NewSlider(move func(at int)) *Slider {
	s := &Slider{}
	s.Step, s.Max = 1, 1
	s.OnChanged = func(x float64) {
		if !s.quiet && move != nil {
			move(int(x))
		}
	}
	s.ExtendBaseWidget(s)
	return s
}

// Object returns the slider for a place in a panel, whose small fields have no border: its
// line is as thick as that.
func (s *Slider) Object() fyne.CanvasObject { return container.NewThemeOverride(s, lined{}) }

// lined is the theme of a panel with the border that the window has.
type lined struct{ compact }

func (l lined) Size(n fyne.ThemeSizeName) float32 {
	if n == theme.SizeNameInputBorder {
		return outer().Size(n)
	}
	return l.compact.Size(n)
}

// Put shows a place out of so many.
func (s *Slider) Put(at, most int) {
	s.quiet = true
	defer func() { s.quiet = false }()
	s.Max = float64(most)
	s.SetValue(float64(at))
}

// TypedKey implements fyne.Focusable.
func (s *Slider) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft, fyne.KeyRight:
		s.Slider.TypedKey(e)
	default:
		KeyElsewhere(e)
	}
}

// TypedRune implements fyne.Focusable.
func (*Slider) TypedRune(r rune) { RuneElsewhere(r) }
