// Package assets holds what the programs carry inside themselves: the fonts with
// their licence and the icons. It knows nothing of the rest of the house.
package assets

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
)

//go:embed fonts/*.ttf fonts/OFL.txt fonts/NOTICE icons/*.svg
var files embed.FS

// Weight is how heavy a cut of the font is.
type Weight uint8

// The weights that are carried, from light to heavy.
const (
	Regular Weight = iota
	SemiBold
	Bold
)

var fontFiles = [...]string{
	Regular:  "NotoSans-Regular.ttf",
	SemiBold: "NotoSans-SemiBold.ttf",
	Bold:     "NotoSans-Bold.ttf",
}

// Font returns the file name and the bytes of the font in the weight, a TrueType
// font that holds Latin, Greek, Cyrillic, fractions, arrows and a few marks. The
// bytes must not be changed. It panics on a weight that is none of the above.
func Font(w Weight) (name string, ttf []byte) {
	name = fontFiles[w]
	return name, must(files.ReadFile("fonts/" + name))
}

// FontLicence returns the notice of the fonts followed by their licence, to be
// shown to whoever asks.
func FontLicence() string {
	return string(must(files.ReadFile("fonts/NOTICE"))) + "\n" + string(must(files.ReadFile("fonts/OFL.txt")))
}

// Icon returns the SVG of the icon with the name, 24 by 24 units, drawn in the
// colour "currentColor"; what must stand out on a filled shape has the colour
// "knockout". It is an error if there is no such icon.
func Icon(name string) ([]byte, error) {
	svg, err := files.ReadFile("icons/" + name + ".svg")
	if err != nil {
		return nil, fmt.Errorf("no icon %q among the assets", name)
	}
	return svg, nil
}

// Icons returns the names of all icons in alphabetical order.
func Icons() []string {
	entries := must(fs.ReadDir(files, "icons"))
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = strings.TrimSuffix(e.Name(), ".svg")
	}
	return names
}

// must returns v. What the compiler embedded cannot fail to be read, so that an
// error here is a mistake in this file.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
