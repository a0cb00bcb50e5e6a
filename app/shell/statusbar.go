package shell

import (
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/wording"
	"hemlet/geom"
)

// statusBar is the line at the bottom: what the tool in hand does or what there is
// to say, where the pointer is, the scale, and how the checks stand.
type statusBar struct {
	s      *Shell
	object fyne.CanvasObject
	line   *hintLines
	where  *control.Text
	scale  *control.Button
	checks *control.Button
	mark   *control.Mark

	said   string
	saidAt time.Time
	timers []*time.Timer // end what was said last
	hinted string
	// at is the finding that was jumped to last.
	at int
}

func newStatusBar(s *Shell) *statusBar {
	b := &statusBar{s: s, at: -1}
	b.line = newHintLines()
	b.where = control.NewText("", 12.5, false, theme.ColorNameForeground).Aligned(fyne.TextAlignTrailing)
	shape := control.Shape{Size: fyne.NewSize(56, 24), Text: 12.5, Icon: 14, Radius: 6, Beside: true}
	b.scale = control.NewButton(shape, "", "100 %", "Show all (0)", func() {
		if s.seat.fit != nil {
			s.seat.fit()
		}
	})
	b.mark = control.NewMark(control.Holds, 14)
	b.checks = control.NewButton(shape, "", "", "Go to the next thing that the checks found (F8)", s.nextFinding)
	place := control.Wide(150, b.where)
	right := control.Row(12, place, b.scale, control.Row(0, b.mark, b.checks))
	b.object = control.Tall(36, control.Inset(92, 0, 12, 0, container.New(statusRoom{place}, b.line.object, right)))
	return b
}

// statusRoom lays what is said at the left and how things stand at the right. In a small
// window the place of the pointer gives way, so that two lines hold what is said.
type statusRoom struct{ place fyne.CanvasObject }

// statusRoomy is the room, in screen units, from which on the place of the pointer is told.
const statusRoomy = 800

// MinSize implements fyne.Layout.
func (statusRoom) MinSize(o []fyne.CanvasObject) fyne.Size { return ends{}.MinSize(o) }

// Layout implements fyne.Layout.
func (l statusRoom) Layout(o []fyne.CanvasObject, size fyne.Size) {
	shown(l.place, size.Width >= statusRoomy)
	ends{}.Layout(o, size)
}

// ends lays one object at the left, as wide as there is room, and one at the right.
type ends struct{}

func (ends) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(a.Width+b.Width, max(a.Height, b.Height))
}

func (ends) Layout(o []fyne.CanvasObject, size fyne.Size) {
	right := o[1].MinSize()
	o[1].Move(fyne.NewPos(size.Width-right.Width, (size.Height-right.Height)/2))
	o[1].Resize(right)
	h := o[0].MinSize().Height
	o[0].Move(fyne.NewPos(0, (size.Height-h)/2))
	o[0].Resize(fyne.NewSize(max(size.Width-right.Width-16, 0), h))
}

// say shows a text for a while, or until the next one.
func (b *statusBar) say(text string) {
	b.said, b.saidAt = strings.TrimSpace(text), time.Now()
	b.hinted = "" // news come before what the thing in focus is for
	b.show()
	for _, t := range b.timers {
		t.Stop()
	}
	b.timers = b.timers[:0]
	const late = 50 * time.Millisecond
	for _, d := range []time.Duration{newsFor, sayFor} {
		b.timers = append(b.timers, time.AfterFunc(d+late, func() { control.OnMain(b.show) }))
	}
}

// quiet ends what was said.
func (b *statusBar) quiet() {
	b.said = ""
	b.show()
}

// hint shows what a control is for; empty text ends it.
func (b *statusBar) hint(text string) {
	b.hinted = text
	b.show()
}

func (b *statusBar) show() {
	colour := theme.ColorNamePlaceHolder
	text := ""
	if b.s.seat != nil && b.s.seat.says != nil {
		text = b.s.seat.says()
	}
	switch since := time.Since(b.saidAt); {
	case b.hinted != "" && (b.said == "" || since >= newsFor):
		text = b.hinted
	case b.said != "" && since < sayFor:
		text, colour = wording.Sentence(b.said), theme.ColorNameForeground
	}
	b.line.set(text, colour)
}

// pointer shows where the pointer is.
func (b *statusBar) pointer(at geom.Point, on bool) {
	if !on {
		b.where.Set("")
		return
	}
	u := b.s.desk.Project().Unit
	b.where.Set(u.FormatBare(at.X) + ", " + u.Format(at.Y))
}

func (b *statusBar) view() {
	if b.s.seat == nil || b.s.seat.percent == nil {
		return
	}
	percent := b.s.seat.percent()
	if percent == 0 {
		b.scale.Hide()
		return
	}
	b.scale.Show()
	b.scale.SetWord(fmt.Sprintf("%.0f %%", percent))
}

func (b *statusBar) update() {
	if b.s.seat == nil || b.s.seat.percent == nil {
		b.scale.Hide()
		b.where.Hide()
	} else {
		b.scale.Show()
		b.where.Show()
	}
	if b.s.seat != nil && b.s.seat.quiet {
		b.mark.Hide()
		b.checks.Hide()
		b.view()
		b.show()
		return
	}
	b.mark.Show()
	b.checks.Show()
	n := b.s.desk.SettledCount()
	var parts []string
	level := control.Holds
	if n.Notes > 0 && n.Problems == 0 && n.LookAgain == 0 {
		parts, level = append(parts, wording.Count(n.Notes, "note")), control.Note
	}
	if n.LookAgain > 0 {
		level = control.LookAgain
	}
	if n.Problems > 0 {
		parts, level = append(parts, wording.Count(n.Problems, "problem")), control.Problem
	}
	if n.LookAgain > 0 {
		parts = append(parts, fmt.Sprintf("%d to look at", n.LookAgain))
	}
	if fault := b.s.fault(); fault != "" {
		parts, level = append(parts, fault), control.Problem
	}
	if len(parts) == 0 {
		parts = []string{"all checks hold"}
	}
	b.mark.Put(level)
	b.checks.SetWord(strings.Join(parts, ", "))
	b.view()
	b.show()
}
