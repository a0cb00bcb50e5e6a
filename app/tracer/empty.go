package tracer

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
)

// emptyWide is how wide the card is that is shown while there is no picture, in screen
// units.
const emptyWide = 420

// newEmpty makes what stands in the middle while there is no picture.
func newEmpty(r *Room) fyne.CanvasObject {
	choose := control.NewButton(control.WordShape, "open", "Choose a picture or a PDF…", "Bring in a scan, a photograph, or the pictures of a scanned PDF", r.host.Choose)
	rows := control.Stack(10,
		control.NewText("Trace a picture", 20, true, look.Ink),
		control.NewProse("Scan the pattern or photograph it, and drop the pictures here, several at once if there are several sheets. They become pieces at true size that the bench corrects.", 13, false, look.Faint, emptyWide),
		control.NewProse("A scan at 300 dots an inch is plenty. For a photograph lay the pattern flat on a table, with a sheet of paper or a cutting mat whose size you know in sight, and hold the camera as straight above it as you can.", 13, false, look.Faint, emptyWide),
		control.Inset(0, 4, 0, 0, control.Row(0, choose)),
	)
	return control.On(look.Bench, container.NewCenter(rows))
}

// cardPalette returns the palette with the ground of cards for the bench.
func cardPalette(p paint.Palette) paint.Palette {
	if c, ok := theme.Color(look.Card).(color.NRGBA); ok {
		p[paint.Bench] = c
	}
	return p
}
