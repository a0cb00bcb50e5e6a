package shell

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
)

// guideBar is the thin line under the top one that says what comes next.
type guideBar struct {
	g      *guide
	object *fyne.Container
	row    *fyne.Container // of the marks
	marks  []*guideMark
	// count says which step it is where there is no room for the marks.
	count *control.Text
	says  *control.Text
	go_   *control.Button
	next  *control.Button
}

// guideMark is the mark of one step.
type guideMark struct {
	card   *control.Card
	number *control.Text
	tick   *control.Icon
	// title is what holds the words of the step.
	title *fyne.Container
}

// Sizes of the bar, in screen units.
const (
	guideHigh  = 44
	guideSign  = 16  // of a tick
	guideSays  = 160 // least width of what is said
	guideSmall = 12
)

func newGuideBar(g *guide) *guideBar {
	b := &guideBar{g: g}
	row := control.Row(2)
	b.row = row
	for i, step := range g.steps {
		m := &guideMark{
			number: control.NewText(strconv.Itoa(i+1), guideSmall, true, look.Faint),
			tick:   control.NewIcon("holds", look.MossText, guideSign),
			title:  control.Centred(control.NewText(step.title, guideSmall, true, look.Ink)),
		}
		sign := control.Wide(guideSign, container.NewStack(container.NewCenter(m.number), container.NewCenter(m.tick)))
		m.card = control.NewCard(control.Inset(7, 4, 8, 4, control.Row(3, sign, m.title)), "Go to this step: "+step.title, func() { g.steps[i].to() })
		m.card.Coloured(look.Paper, look.Paper)
		b.marks = append(b.marks, m)
		row.Add(m.card)
	}
	b.count = control.NewText("", guideSmall, true, look.Chalk)
	b.says = control.NewText("", 12.5, false, look.Ink).AtLeast(guideSays)
	b.go_ = control.NewButton(control.QuietShape, "", "", "Go where this is done", func() {
		if at := g.now(); at < len(g.steps) {
			g.steps[at].to()
		}
	})
	b.next = control.NewButton(control.QuietShape, "", "Next", "This is as it should be: go on to the next step", g.pass)
	shut := control.NewButton(control.IconShape, "close", "", "Put the guide away; nothing else changes", g.end)
	line := control.Tall(1, control.NewPlane(look.Border, "", 0))
	laid := container.New(guideRow{}, row, b.count, b.says, b.go_, b.next, shut)
	b.object = control.Stack(0, control.Tall(guideHigh, control.On(look.Paper, control.Inset(14, 0, 10, 0, laid))), line)
	b.object.Hide()
	return b
}

// update shows the steps as they stand, or takes the bar away.
func (b *guideBar) update() {
	if !b.g.on {
		if b.object.Visible() {
			b.object.Hide()
			b.g.s.relay()
		}
		return
	}
	p, at := b.g.s.desk.Project(), b.g.now()
	for i, m := range b.marks {
		behind := b.g.isDone(i, p) || b.g.passed[i]
		shown(m.tick, behind)
		shown(m.number, !behind)
		shown(m.title, i == at)
		m.number.SetColour(look.Faint)
		m.card.Coloured(look.Paper, look.Paper)
		if i == at {
			m.number.SetColour(look.Chalk)
			m.card.Coloured(look.ChalkTint, look.ChalkTint)
		}
		m.card.Refresh()
	}
	if at < len(b.g.steps) {
		step := b.g.steps[at]
		b.count.Set(fmt.Sprintf("%d of %d", at+1, len(b.g.steps)))
		b.says.Set(step.next(p))
		b.go_.Word = step.word(p)
		where := step.at(p)
		shown(b.go_, b.g.s.station != where || where == stationFit)
		b.next.Word = "Next"
		if at == len(b.g.steps)-1 {
			b.next.Word = "Done"
		}
		shown(b.next, at > 0)
	} else {
		b.count.Set("")
		b.says.Set("All steps are done.")
		b.go_.Hide()
		b.next.Hide()
	}
	b.go_.Refresh()
	b.next.Refresh()
	if !b.object.Visible() {
		b.object.Show()
		b.g.s.relay()
	}
	b.object.Refresh()
}

// guideRow lays out the marks at the left, what comes next in the middle and its buttons at
// the right. Where there is too little room for both, the marks give way to the number of the
// step.
type guideRow struct{}

func (guideRow) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(guideSays, guideHigh-2)
}

func (guideRow) Layout(o []fyne.CanvasObject, size fyne.Size) {
	const gap = 8
	put := func(x fyne.CanvasObject, left, wide float32) {
		high := x.MinSize().Height
		x.Resize(fyne.NewSize(wide, high))
		x.Move(fyne.NewPos(left, (size.Height-high)/2))
	}
	right := size.Width
	for i := len(o) - 1; i >= 3; i-- {
		if !o[i].Visible() {
			continue
		}
		wide := o[i].MinSize().Width
		right -= wide
		put(o[i], right, wide)
		right -= gap
	}
	marks := o[0].MinSize().Width
	left := float32(0)
	const most = 400 // wide, what is said is seldom cut short
	shown(o[0], marks+gap+most <= right)
	shown(o[1], !o[0].Visible())
	if o[0].Visible() {
		put(o[0], 0, marks)
		left = marks + 2*gap
	} else if wide := o[1].MinSize().Width; wide > 0 {
		put(o[1], 0, wide)
		left = wide + gap
	}
	put(o[2], left, max(right-left, 0))
}
