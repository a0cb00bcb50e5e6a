package station

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
)

// Whatever the room, a row shows all columns of its step, clear of one another and in the row.
func TestNoColumnIsLost(t *testing.T) {
	f, _ := fitted(t)
	for _, wide := range []float32{420, 644, 900, 1500} {
		win := test.NewTempWindow(t, container.NewStack(f.table.object))
		win.SetPadded(false)
		win.Resize(fyne.NewSize(wide, 240))
		for step := range stepCount {
			f.Open(step)
			f.Update()
			line := f.table.newLine().(*fyne.Container)
			line.Resize(fyne.NewSize(wide, line.MinSize().Height))
			f.table.fill(0, line)
			seen := 0
			for i, o := range line.Objects[:fitColumnCount] {
				if !o.Visible() {
					continue
				}
				seen++
				if o.Position().X < 0 || o.Position().Y < 0 || o.Position().X+o.Size().Width > wide || o.Position().Y+o.Size().Height > line.Size().Height || o.Size().Width < 20 {
					t.Errorf("%v wide, %s: column %q lies at %v, %v large", wide, stepTitles[step], fitColumnWords[i], o.Position(), o.Size())
				}
				for k, other := range line.Objects[:i] {
					if other.Visible() && meet(o, other) {
						t.Errorf("%v wide, %s: column %q lies over %q", wide, stepTitles[step], fitColumnWords[i], fitColumnWords[k])
					}
				}
			}
			want := 1 // the name
			for c, w := range fitColumnWide[step] {
				if w > 0 && !(f.table.two && fitColumn(c) == fitPiece) { // which is named with the stretch
					want++
				}
			}
			if seen != want {
				t.Errorf("%v wide, %s: %d columns, not %d", wide, stepTitles[step], seen, want)
			}
			if name := line.Objects[fitName].(*control.Cell).Text(); f.table.two != (name == f.table.rows[0].piece.Name+", "+f.table.rows[0].span.Name) {
				t.Errorf("%v wide: the stretch is called %q", wide, name)
			}
		}
	}
}

func meet(a, b fyne.CanvasObject) bool {
	p, q := a.Position(), b.Position()
	return p.X < q.X+b.Size().Width && q.X < p.X+a.Size().Width && p.Y < q.Y+b.Size().Height && q.Y < p.Y+a.Size().Height
}
