package tracer

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench/paint"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/geom"
)

// Sizes of the magnifier: its side and its distance from the corner in screen units, and
// how many of them a pixel of the picture covers in it.
const (
	loupeSide   = 188
	loupeInset  = 14
	loupeUnits  = 9.0
	loupeCorner = 1.5
)

// loupe shows what lies under the pointer enlarged, in a corner of the pictures, so that
// a mark can be placed exactly without zooming there and back.
type loupe struct {
	r      *Room
	sheet  *sheet.Sheet
	object *fyne.Container
	rim    *canvas.Rectangle
	at     geom.Point
	shown  bool
	right  bool
}

func newLoupe(r *Room) (*loupe, error) {
	l := &loupe{r: r, rim: canvas.NewRectangle(color.Transparent)}
	var err error
	if l.sheet, err = sheet.New(r.palette); err != nil {
		return nil, err
	}
	l.rim.StrokeWidth, l.rim.CornerRadius = loupeCorner, 4
	l.object = container.New(l, l.sheet.Bare(), l.rim)
	l.object.Hide()
	return l, nil
}

// MinSize implements fyne.Layout.
func (*loupe) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

// Layout implements fyne.Layout: the magnifier lies in the lower left corner or, while the
// pointer is near that, in the lower right one.
func (l *loupe) Layout(o []fyne.CanvasObject, size fyne.Size) {
	side := min(loupeSide, size.Width/2, size.Height/2)
	at := fyne.NewPos(loupeInset, size.Height-side-loupeInset)
	if l.right {
		at.X = size.Width - side - loupeInset
	}
	for _, x := range o {
		x.Move(at)
		x.Resize(fyne.NewSquareSize(side))
	}
}

// magnify shows the surroundings of a place enlarged.
func (r *Room) magnify(at geom.Point) {
	l := r.loupe
	pic := r.pictureAt(at)
	if pic == nil {
		pic = r.chosen()
	}
	if pic == nil {
		return
	}
	l.at, l.shown = at, true
	v := r.sheet.View()
	px := v.ToPx(at)
	near := float64(loupeSide+4*loupeInset) * v.DPR
	if right := px.X < near && px.Y > float64(v.H)-near; right != l.right {
		l.right = right
		l.object.Refresh()
	}
	l.sheet.LookAt(at, loupeUnits/pic.Place.ScaleAt(pixelNear(pic.Place, at)))
	l.rim.StrokeColor = theme.Color(look.Chalk)
	l.object.Show()
	l.put()
}

// pixelNear returns the pixel at a place, or the origin where there is none.
func pixelNear(place geom.Homography, at geom.Point) geom.Point {
	back, ok := place.Invert()
	if !ok {
		return geom.Point{}
	}
	if px := back.Apply(at); px.Finite() {
		return px
	}
	return geom.Point{}
}

// unmagnify takes the magnifier away.
func (r *Room) unmagnify() {
	r.loupe.shown = false
	r.loupe.object.Hide()
}

// put shows what the pictures show, with a cross in the middle.
func (l *loupe) put() {
	if !l.shown {
		return
	}
	cross := onLayer(paint.Dot{At: l.at, Kind: paint.Plus, Colour: paint.Of(paint.Pin), Large: true})
	l.sheet.Put(append(l.r.shown[:len(l.r.shown):len(l.r.shown)], cross)...)
}
