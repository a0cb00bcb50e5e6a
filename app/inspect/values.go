package inspect

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// wordsOf returns the words of an enumeration.
func wordsOf[T fmt.Stringer](values []T) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = v.String()
	}
	return out
}

// common returns what all have in common, or empty text.
func common[T any](list []T, of func(T) string) string {
	for i, v := range list {
		if i > 0 && of(v) != of(list[0]) {
			return ""
		}
	}
	if len(list) == 0 {
		return ""
	}
	return of(list[0])
}

// commonIndex returns what all have in common, or -1.
func commonIndex[T any](list []T, of func(T) int) int {
	for i, v := range list {
		if i > 0 && of(v) != of(list[0]) {
			return -1
		}
	}
	if len(list) == 0 {
		return -1
	}
	return of(list[0])
}

// field returns a field whose errors go to the status line.
func (i *Inspector) field(hint string, take func(string) error) *control.Field {
	f := control.NewField(hint, take)
	f.Tell = func(says string) {
		if says != "" {
			i.Say(says)
		}
	}
	return f
}

// lengthField returns a field for a length in the unit of the project. The up and
// down keys change it by a millimetre or its like.
func (i *Inspector) lengthField(hint string, take func(draft.Length) error) *control.Field {
	f := i.field(hint, nil)
	f.Take = func(text string) error {
		mm, err := i.unit().Parse(text)
		if err != nil {
			return err
		}
		return take(draft.Length(mm))
	}
	f.Step = func(by int) {
		mm, err := i.unit().Parse(f.Text)
		if err != nil {
			return
		}
		i.report(take(draft.Length(mm + float64(by)*bigStep(i.unit()))))
	}
	return f
}

// angleField returns a field for an angle in degrees. The up and down keys change it by
// one degree.
func (i *Inspector) angleField(hint string, take func(draft.Angle) error) *control.Field {
	f := i.field(hint, nil)
	set := func(deg float64) error { return take(draft.Angle(deg * math.Pi / 180)) }
	f.Take = func(text string) error {
		deg, err := draft.ParseAngle(text)
		if err != nil {
			return err
		}
		return set(deg)
	}
	f.Step = func(by int) {
		if deg, err := draft.ParseAngle(f.Text); err == nil {
			i.report(set(deg + float64(by)))
		}
	}
	return f
}

// angleOf returns the direction on the bench from the start of a line on a piece to its
// end, in degrees from 0 to 360, empty where it has none.
func angleOf(piece *draft.Piece, path geom.Path) string {
	if len(path) == 0 || path.Closed() {
		return ""
	}
	way := piece.Place.Affine().ApplyVector(path.End().Sub(path.Start()))
	deg := math.Round(way.Angle()*1800/math.Pi) / 10
	if deg < 0 {
		deg += 360
	}
	return strconv.FormatFloat(deg+0, 'f', -1, 64) + "°"
}

// showRow shows the row or hides it.
func showRow(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// bigStep is how far the up and down keys change a length, in mm: a millimetre or
// a sixteenth of an inch.
func bigStep(u draft.Unit) float64 {
	if u == draft.Inch || u == draft.InchFraction {
		return draft.MMPerInch / 16
	}
	return 1
}

// runSaying does an act and shows what else it did than its name promises.
func runSaying[A any](i *Inspector, act *draft.Act[A], args A) error {
	out, err := desk.RunFolded(i.desk, act, args, "")
	if err != nil {
		return err
	}
	if len(out.Says) > 0 {
		i.Say(strings.Join(out.Says, " "))
	}
	return nil
}
