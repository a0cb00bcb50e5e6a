package control

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/look"
)

// No letter of a text is cut below its line at the sizes that the window uses. Letters of the
// typeface reach 0.24 of their size below it, measured in its file.
func TestNoLetterIsCutBelow(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	const below, unseen = 0.24, 0.15
	cut := func(size float32, bold bool) bool {
		high, line := fyne.CurrentApp().Driver().RenderedTextSize("g", size, fyne.TextStyle{Bold: bold}, nil)
		return math.Ceil(float64(line))+below*float64(size) > math.Round(float64(high.Height))+unseen
	}
	for _, size := range []float32{11, 11.5, 12, 12.5, 13, 14, TitleSize} {
		for _, bold := range []bool{false, true} {
			if cut(size, bold) {
				t.Errorf("at %g letters are cut below their line", size)
			}
		}
	}
	if !cut(15, true) {
		t.Error("15 cuts no letter any more: the title may have that size again")
	}
}
