package tracer

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench/paint"
	"hemlet/app/look"
)

// grade says how far a line lies off the ink, held against the tolerance that was asked
// for: 0 is hardly at all, the last one far beyond it.
type grade int

// gradeLimits are the upper bounds of the grades as shares of the tolerance; the last
// grade has none.
var gradeLimits = [...]float64{0.25, 0.5, 1, 2}

// grades is how many there are.
const grades = grade(len(gradeLimits) + 1)

// gradeOf returns the grade of a distance in mm, with its sign or without.
func gradeOf(by, tol float64) grade {
	for g, limit := range gradeLimits {
		if math.Abs(by) <= limit*tol {
			return grade(g)
		}
	}
	return grades - 1
}

// width is that of the line in screen units: the farther off, the wider, so that colour
// is not alone in telling.
func (g grade) width() float64 { return [grades]float64{2, 2.6, 3.4, 4.6, 6}[g] }

// colour leads from moss over ochre to pin. Pictures are of paper by day and by night, so
// that what is laid over them has the colours of the day.
func (g grade) colour() color.NRGBA {
	moss, ochre, pin := byDay(look.Moss), byDay(look.Ochre), byDay(look.Pin)
	return [grades]color.NRGBA{moss, mixed(moss, ochre), ochre, mixed(ochre, pin), pin}[g]
}

// line returns how a stretch of the grade is drawn.
func (g grade) line() paint.Line {
	return paint.Line{Colour: paint.Custom(g.colour()), Width: g.width(), Join: paint.Round, Cap: paint.Butt}
}

// byDay returns one of our colours as it is in the light set.
func byDay(name fyne.ThemeColorName) color.NRGBA {
	c, _ := look.Colour(name, theme.VariantLight)
	return c
}

// mixed returns the colour half way between two.
func mixed(a, b color.NRGBA) color.NRGBA {
	half := func(x, y uint8) uint8 { return uint8((int(x) + int(y)) / 2) }
	return color.NRGBA{R: half(a.R, b.R), G: half(a.G, b.G), B: half(a.B, b.B), A: 255}
}

// inked returns a colour for what is laid over pictures, at an opacity from 0 to 1.
func inked(name fyne.ThemeColorName, opacity float64) paint.Colour {
	c := byDay(name)
	c.A = uint8(255*opacity + 0.5)
	return paint.Custom(c)
}
