package tracer

import (
	"errors"
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/geom"
)

// byResolution makes a scan true by how many of its pixels cover an inch.
type byResolution struct {
	s     *trueStep
	all   *fyne.Container
	says  *control.Prose
	take  *control.Button
	field *control.Field
}

func newByResolution(s *trueStep) *byResolution {
	w := &byResolution{s: s}
	w.says = control.NewProse("", 12, false, look.Faint, inner)
	w.take = control.NewButton(control.WordShape, "holds", "", "Believe what the file says", func() {
		if pic := s.chosen(); pic != nil {
			w.apply(pic, s.read(pic).dpi)
		}
	})
	w.field = control.NewField("How many pixels of the scan cover an inch", func(text string) error {
		dpi, err := draft.ParseNumber(text)
		if err != nil {
			return err
		}
		pic := s.chosen()
		if pic == nil {
			return nil
		}
		if !w.apply(pic, dpi) {
			return errors.New("no scanner has that many dots an inch")
		}
		return nil
	})
	w.all = control.Stack(10, w.says, control.Row(0, w.take), control.Labelled("Dots an inch", w.field.Object()))
	return w
}

func (*byResolution) word() string { return "Resolution" }

func (*byResolution) asks() string {
	return "For a scan from a flat scanner: how many dots an inch it was scanned at. A photograph has no resolution."
}

func (w *byResolution) panel() fyne.CanvasObject { return w.all }
func (*byResolution) taken(*draft.Picture)       {}

func (w *byResolution) update(pic *draft.Picture) {
	read := w.s.read(pic)
	switch {
	case read.fault != "":
		w.says.Put(read.fault)
	case read.image == nil:
		w.says.Put("The file is being read.")
	case read.dpi > 0:
		mm := draft.MMPerInch / read.dpi
		u := w.s.unit()
		w.says.Put(fmt.Sprintf("The file says %s dots an inch: the picture would be %s wide and %s high. Files are often wrong about that; does it look right?",
			dots(read.dpi), u.Format(float64(pic.Wide)*mm), u.Format(float64(pic.High)*mm)))
		w.take.SetWord("Take " + dots(read.dpi) + " dots an inch")
	default:
		w.says.Put(fmt.Sprintf("The picture itself does not say at how many dots an inch it was scanned; it is shown as if at %.0f. Look at the settings of the scanner, or take a known length instead.", draft.MMPerInch/pic.Scale()))
	}
	show(w.take, read.dpi > 0)
	w.field.Put(dots(draft.MMPerInch / pic.Scale()))
}

// dots writes dots an inch.
func dots(dpi float64) string { return strconv.FormatFloat(dpi, 'f', -1, 32) }

func (w *byResolution) apply(pic *draft.Picture, dpi float64) bool {
	return w.s.trueBy(pic, draft.TruePictureArgs{DPI: &dpi}, "")
}

func (*byResolution) layers(*draft.Picture) []*sheet.Layer   { return nil }
func (*byResolution) spots() *spots                          { return nil }
func (*byResolution) tapped(*draft.Picture, geom.Point)      {}
func (*byResolution) moved(*draft.Picture, geom.Point, bool) {}
func (*byResolution) key(fyne.KeyName) bool                  { return false }

func (*byResolution) hint() string {
	return "a scan is as large as its dots an inch say. Check it afterwards by a length that you know."
}
