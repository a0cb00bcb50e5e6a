package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/assets"
)

// Mode is the light or the dark look. The desktop's own choice does not count: where
// nobody made one, the toolkit reports dark, and a pattern is paper and ink first.
type Mode uint8

// The modes.
const (
	Light Mode = iota
	Dark
)

// Variant returns the toolkit's word for the mode.
func (m Mode) Variant() fyne.ThemeVariant {
	if m == Dark {
		return theme.VariantDark
	}
	return theme.VariantLight
}

// Theme dresses the toolkit's widgets in our colours, fonts and sizes.
type Theme struct {
	mode Mode
	base fyne.Theme
}

var _ fyne.Theme = (*Theme)(nil)

// NewTheme returns the theme in the mode.
func NewTheme(m Mode) *Theme { return &Theme{mode: m, base: theme.DefaultTheme()} }

// widgetColours says which of our colours stands for each of the toolkit's.
var widgetColours = map[fyne.ThemeColorName]fyne.ThemeColorName{
	theme.ColorNameBackground:          Paper,
	theme.ColorNameButton:              Card,
	theme.ColorNameDisabled:            Disabled,
	theme.ColorNameDisabledButton:      Paper,
	theme.ColorNameError:               PinText,
	theme.ColorNameFocus:               Focus,
	theme.ColorNameForeground:          Ink,
	theme.ColorNameForegroundOnError:   OnPin,
	theme.ColorNameForegroundOnPrimary: OnChalk,
	theme.ColorNameForegroundOnSuccess: OnPin,
	theme.ColorNameForegroundOnWarning: OnPin,
	theme.ColorNameHeaderBackground:    Paper,
	theme.ColorNameHover:               Hover,
	theme.ColorNameHyperlink:           Chalk,
	theme.ColorNameInputBackground:     Card,
	theme.ColorNameInputBorder:         Border,
	theme.ColorNameMenuBackground:      Card,
	theme.ColorNameOverlayBackground:   Paper,
	theme.ColorNamePlaceHolder:         Faint,
	theme.ColorNamePressed:             Pressed,
	theme.ColorNamePrimary:             Chalk,
	theme.ColorNameScrollBar:           ScrollBar,
	theme.ColorNameSelection:           ChalkTint,
	theme.ColorNameSeparator:           Border,
	theme.ColorNameShadow:              Shadow,
	theme.ColorNameSuccess:             MossText,
	theme.ColorNameWarning:             OchreText,
}

// The ink of the toolkit's own texts. Menus show shortcuts in a colour that the
// toolkit makes from the low bytes of this one's 16-bit channels (shortcutColor in
// its widget package, 2.7.1), so that plain ink comes out at a fifth of its
// strength. These two are the nearest to ink that come out as a legible grey there.
var foreground = pair{
	light: color.NRGBA{R: 34, G: 52, B: 54, A: 241},
	dark:  color.NRGBA{R: 229, G: 228, B: 213, A: 238},
}

// Color returns the colour for one of our names or of the toolkit's, in the theme's
// own mode.
func (t *Theme) Color(name fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	v := t.mode.Variant()
	if name == theme.ColorNameForeground {
		if v == theme.VariantDark {
			return foreground.dark
		}
		return foreground.light
	}
	if ours, ok := widgetColours[name]; ok {
		name = ours
	}
	if c, ok := Colour(name, v); ok {
		return c
	}
	return t.base.Color(name, v)
}

// sizes are in screen units.
var sizes = map[fyne.ThemeSizeName]float32{
	theme.SizeNameText:            13,
	theme.SizeNameCaptionText:     11.5,
	theme.SizeNameSubHeadingText:  15,
	theme.SizeNameHeadingText:     20,
	theme.SizeNameInlineIcon:      18,
	theme.SizeNamePadding:         4,
	theme.SizeNameInnerPadding:    7,
	theme.SizeNameInputRadius:     6,
	theme.SizeNameSelectionRadius: 6,
	theme.SizeNameScrollBar:       10,
}

// Size returns the size with the name.
func (t *Theme) Size(name fyne.ThemeSizeName) float32 {
	if s, ok := sizes[name]; ok {
		return s
	}
	return t.base.Size(name)
}

// Icon returns the small icon with the name that the toolkit's widgets ask for;
// our icons come from Icon of this package. The toolkit draws empty check boxes in
// the colour of the borders of fields, which is too faint for something to be
// found and clicked: those are ours.
func (t *Theme) Icon(name fyne.ThemeIconName) fyne.Resource {
	switch name {
	case theme.IconNameCheckButton:
		return Icon("box", Faint)
	case theme.IconNameRadioButton:
		return Icon("ring", Faint)
	}
	return t.base.Icon(name)
}

// fontResource makes a resource of an embedded font once, for the toolkit knows
// fonts by their resource.
func fontResource(w assets.Weight) fyne.Resource {
	name, ttf := assets.Font(w)
	return fyne.NewStaticResource(name, ttf)
}

var (
	regularFont  = fontResource(assets.Regular)
	semiBoldFont = fontResource(assets.SemiBold)
)

// Font returns the font for the style. Bold is the semi-bold cut; slanted text is
// upright, as nothing here is set slanted.
func (t *Theme) Font(style fyne.TextStyle) fyne.Resource {
	switch {
	case style.Monospace, style.Symbol:
		return t.base.Font(style)
	case style.Bold:
		return semiBoldFont
	}
	return regularFont
}
