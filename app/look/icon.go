package look

import (
	"bytes"
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/assets"
)

// icon is an SVG that takes the colour that its name has in the theme of the
// moment. It is deliberately not one of the toolkit's themed resources: those
// colour fills, and these icons are lines.
type icon struct {
	name   string
	colour fyne.ThemeColorName
	svg    []byte
}

// Icon returns the icon of the assets in the colour with the name, ours or the
// toolkit's: Ink for what can be used, Disabled for what cannot, Chalk for what
// is chosen. A name that is not among the assets is a mistake of the program, and
// panics; a test draws every icon.
func Icon(name string, colour fyne.ThemeColorName) fyne.Resource {
	svg, err := assets.Icon(name)
	if err != nil {
		panic(err)
	}
	return &icon{name: name, colour: colour, svg: svg}
}

// Name tells icons apart by shape and present colour: the toolkit keeps pictures
// by name.
func (i *icon) Name() string {
	return fmt.Sprintf("%s-%s.svg", i.name, hex(theme.Color(i.colour))[1:])
}

// Content returns the SVG in the present colour.
func (i *icon) Content() []byte {
	svg := bytes.ReplaceAll(i.svg, []byte("currentColor"), []byte(hex(theme.Color(i.colour))))
	return bytes.ReplaceAll(svg, []byte("knockout"), []byte(hex(theme.Color(theme.ColorNameForegroundOnError))))
}

// hex returns the colour as #rrggbb, without its opacity.
func hex(c color.Color) string {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	return fmt.Sprintf("#%02x%02x%02x", n.R, n.G, n.B)
}
