package bench

import (
	"image"
	"image/color"
	"strings"
	"sync"

	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/desk"
	"hemlet/app/tool"
)

// Cursor implements desktop.Cursorable: the form of the pointer says what a press
// would do.
func (b *Bench) Cursor() desktop.Cursor {
	if b.pointer.space || b.pointer.panning {
		return native(tool.GrabCursor)
	}
	if b.pulled != nil || b.pointer.pressed == 0 && b.guideUnder >= 0 {
		return native(b.guideCursor())
	}
	if t, ok := b.tool.(tool.Pointed); ok {
		return native(t.Cursor(b.over))
	}
	if b.scene.hover.Kind != desk.Nothing {
		return native(tool.PointCursor)
	}
	return native(tool.ArrowCursor)
}

// native returns the driver's own form of the pointer, or one that is drawn where it
// has none.
func native(c tool.Cursor) desktop.Cursor {
	switch c {
	case tool.CrossCursor:
		return desktop.CrosshairCursor
	case tool.PointCursor:
		return desktop.PointerCursor
	case tool.AcrossCursor:
		return desktop.HResizeCursor
	case tool.UprightCursor:
		return desktop.VResizeCursor
	case tool.MoveCursor:
		return moveCursor()
	case tool.GrabCursor:
		return grabCursor()
	}
	return desktop.DefaultCursor
}

// drawnCursor is a form of the pointer that drivers lack. The driver compares
// cursors, so that there is one pointer to each.
type drawnCursor struct {
	img  image.Image
	x, y int
}

// Image implements desktop.Cursor.
func (c *drawnCursor) Image() (image.Image, int, int) { return c.img, c.x, c.y }

// In the drawings # is dark and . light, so that they stand out on any ground.
var (
	moveCursor = sync.OnceValue(func() *drawnCursor {
		return drawn(`
           .
          .#.
         .###.
        .#####.
         ..#..
          .#.
    .     .#.     .
   .#.    .#.    .#.
  .##......#......##.
 .###################.
  .##......#......##.
   .#.    .#.    .#.
    .     .#.     .
          .#.
         ..#..
        .#####.
         .###.
          .#.
           .`)
	})
	grabCursor = sync.OnceValue(func() *drawnCursor {
		return drawn(`
       ..
     ..##....
    .##..##.##..
    .##..##.##.#.
    .###.##.##.##.
     .##.##.##.##.
  .. .##.##.##.##.
 .##..##########.
 .###.###########.
  .##############.
   .#############.
    .###########.
     .##########.
      .########.
      .########.
      ..........`)
	})
)

// drawn makes a cursor of a drawing; its middle points.
func drawn(text string) *drawnCursor {
	rows := strings.Split(strings.Trim(text, "\n"), "\n")
	wide := 0
	for _, r := range rows {
		wide = max(wide, len(r))
	}
	img := image.NewNRGBA(image.Rect(0, 0, wide, len(rows)))
	for y, r := range rows {
		for x, c := range r {
			switch c {
			case '#':
				img.Set(x, y, color.NRGBA{R: 0x20, G: 0x26, B: 0x2b, A: 0xff})
			case '.':
				img.Set(x, y, color.NRGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff})
			}
		}
	}
	return &drawnCursor{img, wide / 2, len(rows) / 2}
}
