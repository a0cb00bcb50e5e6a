package station

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/draft"
)

// layerWays is what a list of layers asks of where it stands.
type layerWays struct {
	unit func() draft.Unit
	// set changes layer i of those that are shown, or adds one behind them; forget takes one
	// away.
	set    func(i int, u draft.Worn) error
	forget func(i int)
	focus  func(fyne.Focusable)
	// named says that a layer cannot go without a name; what is said of one that has none,
	// which may be the only one.
	named bool
	what  func(alone bool) string
	// row lays a layer out, add the two fields for the next one.
	row func(name string, thick, gone fyne.CanvasObject) fyne.CanvasObject
	add func(name, thick fyne.CanvasObject) fyne.CanvasObject
	// goneShape is that of the button that takes a layer away.
	goneShape control.Shape
	goneIcon  string
}

// layerRows lists what is worn under a garment, layer by layer, with two fields for another.
type layerRows struct {
	ways   layerWays
	object *fyne.Container
	rows   *fyne.Container
	shows  []draft.Worn
	unit   draft.Unit
	made   bool
	name   *control.Field
	thick  *control.Field
	thicks []*control.Field
}

func newLayerRows(hint string, ways layerWays) *layerRows {
	l := &layerRows{ways: ways, rows: control.Stack(5)}
	l.name = control.NewField(hint, nil)
	l.name.Take = func(string) error { l.name.Put(l.name.Text); return nil }
	l.name.SetPlaceHolder("what …")
	l.name.Done = func() { ways.focus(l.thick) }
	l.thick = control.NewField("How thick it is, pressed as it is worn; with Return it is added", l.add)
	l.thick.SetPlaceHolder("how thick")
	l.object = control.Stack(6, l.rows, ways.add(l.name.Object(), l.thick.Object()))
	return l
}

// add adds the layer whose thickness is typed; nothing is none.
func (l *layerRows) add(text string) error {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	if l.ways.named && strings.TrimSpace(l.name.Text) == "" {
		return errors.New("say first what is worn")
	}
	mm, err := l.ways.unit().Parse(text)
	if err != nil {
		return err
	}
	if err := l.ways.set(len(l.shows), draft.Worn{Name: l.name.Text, Thickness: mm}); err != nil {
		return err
	}
	l.name.Put("")
	l.thick.Put("")
	l.ways.focus(l.name) // for the next layer
	return nil
}

// update shows the layers, and reports whether that was needed.
func (l *layerRows) update(layers []draft.Worn) bool {
	unit := l.ways.unit()
	if l.made && slices.Equal(l.shows, layers) && l.unit == unit {
		return false
	}
	l.made, l.shows, l.unit, l.thicks = true, slices.Clone(layers), unit, nil
	l.rows.RemoveAll()
	for i, u := range layers {
		l.rows.Add(l.row(i, u))
	}
	show(l.rows, len(layers) > 0)
	return true
}

func (l *layerRows) row(i int, u draft.Worn) fyne.CanvasObject {
	name := u.Name
	if name == "" && l.ways.what != nil {
		name = l.ways.what(len(l.shows) == 1)
	}
	thick := control.NewField("How thick it is", func(text string) error {
		mm, err := l.unit.Parse(text)
		if err != nil {
			return err
		}
		return l.ways.set(i, draft.Worn{Name: u.Name, Thickness: mm})
	})
	thick.Put(l.unit.Format(u.Thickness))
	l.thicks = append(l.thicks, thick)
	gone := control.NewButton(l.ways.goneShape, l.ways.goneIcon, "", "Forget "+name, func() { l.ways.forget(i) })
	return l.ways.row(name, thick.Object(), gone)
}
