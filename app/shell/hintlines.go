package shell

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
)

// hintLines is a text in one line where there is room for it, or else in two.
type hintLines struct {
	object        *fyne.Container
	text          string
	first, second *control.Text
}

func newHintLines() *hintLines {
	line := func() *control.Text {
		return control.NewText("", hintSize, false, theme.ColorNamePlaceHolder).AtLeast(10)
	}
	h := &hintLines{first: line(), second: line()}
	h.object = container.New(h, h.first, h.second)
	return h
}

// hintSize is that of the letters.
const hintSize = 12

// set shows a text in a colour of the theme.
func (h *hintLines) set(text string, colour fyne.ThemeColorName) {
	h.first.SetColour(colour)
	h.second.SetColour(colour)
	if h.text != text {
		h.text = text
		h.Layout(nil, h.object.Size())
	}
}

// MinSize implements fyne.Layout: both lines.
func (h *hintLines) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(10, 2*h.lineHigh())
}

func (h *hintLines) lineHigh() float32 {
	return fyne.MeasureText("Ag", hintSize, fyne.TextStyle{}).Height
}

// Layout implements fyne.Layout.
func (h *hintLines) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	a, b := h.broken(size.Width)
	high := h.lineHigh()
	y := (size.Height - high) / 2
	if shown(h.second, b != ""); b != "" {
		y -= high / 2
	}
	for i, t := range []*control.Text{h.first, h.second} {
		t.Set([]string{a, b}[i])
		t.Move(fyne.NewPos(0, y+float32(i)*high))
		t.Resize(fyne.NewSize(size.Width, high))
	}
}

// broken returns the text as one line or two: the first as full as it can be.
func (h *hintLines) broken(width float32) (first, second string) {
	const slack = 0.5 // units lost to rounding
	wide := func(s string) float32 { return fyne.MeasureText(s, hintSize, fyne.TextStyle{}).Width }
	if wide(h.text) <= width+slack {
		return h.text, ""
	}
	words := strings.Fields(h.text)
	n := 1
	for n < len(words) && wide(strings.Join(words[:n+1], " ")) <= width+slack {
		n++
	}
	return strings.Join(words[:n], " "), strings.Join(words[n:], " ")
}
