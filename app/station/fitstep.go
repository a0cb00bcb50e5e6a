package station

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
)

// stepHead heads a step: what it is called, and how it stands. Steps of a station bear no
// numbers: those are the guide's, which leads through several stations.
type stepHead struct {
	object fyne.CanvasObject
	card   *control.Card
	disc   *control.Plane
	tick   *control.Icon
	title  *control.Text
	says   *control.Text
	sign   *control.Text
	is     bool
}

// stepDisc is how wide the ground of the tick is, in screen units.
const stepDisc = 22

func newStepHead(title, hint string, open func()) *stepHead {
	h := &stepHead{disc: control.NewPlane(look.Card, look.Border, stepDisc/2)}
	h.tick = control.NewIcon("holds", look.MossText, stepDisc-4)
	h.title = control.NewText(title, 14, true, look.Ink)
	h.says = control.Faint("").AtLeast(10).Aligned(fyne.TextAlignTrailing)
	h.sign = control.NewText("▸", foldSign, false, look.Faint)
	disc := control.Wide(stepDisc, control.Tall(stepDisc, container.NewStack(h.disc, container.NewCenter(h.tick))))
	row := container.NewBorder(nil, nil, control.Row(9, disc, h.title), control.Inset(8, 0, 2, 0, control.Centred(h.sign)), control.Inset(10, 0, 0, 0, control.Centred(h.says)))
	h.card = control.NewCard(control.Inset(8, 6, 8, 6, row), hint, open)
	h.object = h.card
	h.tick.Hide()
	return h
}

// open marks the head as that of the open step, or not.
func (h *stepHead) open(on bool) {
	h.is = on
	h.sign.Set(map[bool]string{false: "▸", true: "▾"}[on])
	if on {
		h.card.Coloured(look.ChalkTint, look.ChalkTint)
	} else {
		h.card.Coloured(look.Paper, look.Border)
	}
	h.card.Refresh()
}

// put says how the step stands.
func (h *stepHead) put(says string, done bool) {
	h.says.Set(says)
	show(h.tick, done)
	if done {
		h.disc.SetColours(look.MossTint, look.Moss)
	} else {
		h.disc.SetColours(look.Card, look.Border)
	}
}
