package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// Compact gives the fields and choices in an object the small size of a panel.
func Compact(o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewThemeOverride(o, compact{})
}

// compact is the theme of the window with smaller fields.
type compact struct{}

func outer() fyne.Theme { return fyne.CurrentApp().Settings().Theme() }

func (compact) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	return outer().Color(n, v)
}
func (compact) Font(s fyne.TextStyle) fyne.Resource     { return outer().Font(s) }
func (compact) Icon(n fyne.ThemeIconName) fyne.Resource { return outer().Icon(n) }

func (compact) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return 13
	case theme.SizeNameInnerPadding:
		return 4.5
	case theme.SizeNameInlineIcon:
		return 16
	case theme.SizeNameInputRadius:
		return 6
	case theme.SizeNameInputBorder:
		return 0 // fields and choices have a rim of our own
	}
	return outer().Size(n)
}
