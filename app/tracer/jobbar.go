package tracer

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
)

// jobBar shows how far slow work is, with Stop.
type jobBar struct {
	r      *Room
	object *fyne.Container
	word   *control.Text
	track  *fyne.Container
	layout *filled
}

func newJobBar(r *Room) *jobBar {
	b := &jobBar{r: r, word: control.NewText("", 12, false, look.Ink).AtLeast(leastText), layout: &filled{}}
	stop := control.NewButton(control.SmallShape, "", "Stop", "Leave off; nothing is changed (Esc)", func() {
		r.stop()
		r.update()
	})
	b.track = container.New(b.layout, control.NewPlane(look.Border, "", 2), control.NewPlane(look.Chalk, "", 2))
	b.object = control.Stack(5, container.NewBorder(nil, nil, nil, stop, control.Centred(b.word)), control.Tall(4, b.track))
	b.object.Hide()
	return b
}

// update shows the work under way.
func (b *jobBar) update() {
	j := b.r.job
	if j == nil {
		b.object.Hide()
		return
	}
	says := j.word + " …"
	if j.says != "" {
		says = j.says + " …"
	}
	b.word.Set(says)
	b.layout.share = float32(min(max(j.share, 0), 1))
	show(b.track, j.share > 0)
	b.object.Show()
	b.track.Refresh()
}

// filled lays the second object over a share of the first.
type filled struct{ share float32 }

func (*filled) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, 4) }

func (l *filled) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Resize(size)
	o[1].Resize(fyne.NewSize(size.Width*l.share, size.Height))
}
