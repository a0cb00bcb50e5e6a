package tracer

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
)

// Widths in screen units: of the side, and of what its rows have.
const (
	Width = 330
	inner = Width - 2*16 - 4
)

// side is the list of steps with the panel of the one that is taken, and what comes next.
type side struct {
	r      *Room
	object fyne.CanvasObject
	rows   []*stepRow
	says   *control.Prose
	body   *fyne.Container
	// compact gives all of it the small size of a panel: what was added since it was last
	// refreshed has that only then.
	compact fyne.CanvasObject
	scroll  *container.Scroll
	next    *control.Button
	// lacks says why the last step cannot be ended yet.
	lacks  *control.Prose
	job    *jobBar
	shown  step
	panels map[step]fyne.CanvasObject
	// low says that there is little height: the steps stand in two columns, without how far
	// each is.
	low bool
}

// lowSide is the height below which the side is low, in screen units.
const lowSide = 600

// sideRoom lays all of the side.
type sideRoom struct{ s *side }

// MinSize implements fyne.Layout.
func (sideRoom) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

// Layout implements fyne.Layout.
func (l sideRoom) Layout(o []fyne.CanvasObject, size fyne.Size) {
	if low := size.Height > 0 && size.Height < lowSide; low != l.s.low {
		l.s.low = low
		for _, row := range l.s.rows {
			show(row.says, !low)
		}
	}
	o[0].Move(fyne.Position{})
	o[0].Resize(size)
	o[0].(*fyne.Container).Layout.Layout(o[0].(*fyne.Container).Objects, size) // the steps may have become lower
}

// stepRows lays the rows of the steps.
type stepRows struct{ s *side }

// stepsApart is what lies between two rows, in screen units.
const stepsApart = 2

// lines returns in how many columns and lines the rows stand, and how high a line is.
func (l stepRows) lines(o []fyne.CanvasObject) (columns, lines int, high float32) {
	for _, row := range o {
		high = max(high, row.MinSize().Height)
	}
	if columns = 1; l.s.low {
		columns = 2
	}
	return columns, (len(o) + columns - 1) / columns, high
}

// MinSize implements fyne.Layout.
func (l stepRows) MinSize(o []fyne.CanvasObject) fyne.Size {
	_, lines, high := l.lines(o)
	return fyne.NewSize(inner, float32(lines)*(high+stepsApart)-stepsApart)
}

// Layout implements fyne.Layout.
func (l stepRows) Layout(o []fyne.CanvasObject, size fyne.Size) {
	columns, lines, high := l.lines(o)
	wide := size.Width / float32(columns)
	for i, row := range o {
		row.Move(fyne.NewPos(float32(i/lines)*wide, float32(i%lines)*(high+stepsApart)))
		row.Resize(fyne.NewSize(wide, high))
	}
}

// stepRing is how wide the ring of a step is, in screen units.
const stepRing = 10

// stepRow is a step in the list. It bears no number: those are the guide's, which leads through
// several stations.
type stepRow struct {
	step   step
	button *control.Card
	yet    fyne.CanvasObject // the ring of what is not done
	name   *control.Text
	says   *control.Text
	mark   *control.Mark
}

func newSide(r *Room) *side {
	s := &side{r: r, panels: map[step]fyne.CanvasObject{}}
	list := container.New(stepRows{s})
	for _, st := range r.steps {
		row := newStepRow(r, st)
		s.rows = append(s.rows, row)
		list.Add(row.button)
	}
	s.says = control.NewProse("", 13, true, look.Ink, inner)
	s.body = container.NewStack()
	s.scroll = container.NewVScroll(control.Inset(16, 10, 16, 14, control.Stack(9, s.says, s.body)))
	s.next = control.NewButton(control.WordShape, "", "Next", "Go on to the next step", s.goOn)
	s.job = newJobBar(r)
	s.lacks = control.NewProse("", 12, false, look.OchreText, inner)
	s.lacks.Hide()
	head := control.Inset(10, 8, 10, 6, list)
	line := func() fyne.CanvasObject { return control.Tall(1, control.NewPlane(look.Border, "", 0)) }
	foot := control.Stack(0, line(), control.Inset(16, 10, 16, 12, control.Stack(8, s.job.object, s.lacks, s.next)))
	s.compact = control.Compact(container.New(sideRoom{s}, control.Column(control.Stack(0, head, line()), s.scroll, foot)))
	s.object = control.Wide(Width, s.compact)
	return s
}

func newStepRow(r *Room, st step) *stepRow {
	row := &stepRow{
		step: st, yet: control.Wide(stepRing, control.Tall(stepRing, control.NewPlane("", look.Border, stepRing/2))),
		name: control.NewText(st.name(), 13, false, look.Ink),
		says: control.NewText("", 11.5, false, look.Faint).AtLeast(leastText).Aligned(fyne.TextAlignTrailing),
		mark: control.NewMark(control.Holds, 14),
	}
	sign := control.Wide(18, container.NewStack(container.NewCenter(row.yet), container.NewCenter(row.mark)))
	line := container.NewBorder(nil, nil, control.Row(8, sign, row.name), nil, control.Inset(10, 0, 0, 0, control.Centred(row.says)))
	row.button = control.NewCard(control.Inset(8, 3, 8, 3, line), st.says(), func() { r.goTo(st.name()) })
	row.button.Coloured(look.Paper, look.Paper)
	return row
}

// update shows the step that is taken and how far all are.
func (s *side) update() {
	for _, row := range s.rows {
		row.update(row.step == s.r.step)
	}
	if st := s.r.step; s.shown != st {
		s.shown = st
		if s.panels[st] == nil {
			s.panels[st] = control.Compact(st.panel()) // which was made after the side was
		}
		s.body.Objects = []fyne.CanvasObject{s.panels[st]}
		s.scroll.ScrollToTop()
	}
	s.says.Put(s.r.step.says())
	s.updateNext()
}

func (r *stepRow) update(taken bool) {
	at := r.step.standing()
	r.says.Set(at.says)
	show(r.mark, at.done)
	show(r.yet, !at.done)
	fill, rim := look.Paper, look.Paper
	if taken {
		fill, rim = look.ChalkTint, look.ChalkTint
	}
	r.button.Coloured(fill, rim)
	r.button.Refresh()
}

// following returns the step that comes after the one that is taken, past those that
// have nothing to do; nil after the last.
func (s *side) following() step {
	past := false
	for _, row := range s.rows {
		if past && !row.step.standing().idle {
			return row.step
		}
		past = past || row.step == s.r.step
	}
	return nil
}

// ender is a step that ends in a deed, not in another step: its word, why it cannot be
// done yet, and what does it.
type ender interface {
	deed() (word, lacks string, do func())
}

func (s *side) updateNext() {
	s.lacks.Hide()
	if e, ok := s.r.step.(ender); ok {
		word, lacks, _ := e.deed()
		s.lacks.Put(lacks)
		show(s.lacks, lacks != "")
		s.next.SetWord(word)
		s.next.SetOff(lacks != "")
		s.next.Hint = "Make pieces of the lines, where they lie over the picture, and go to the bench"
		s.next.Show()
		return
	}
	s.next.Hint = "Go on to the next step"
	next := s.following()
	if next == nil {
		s.next.Hide()
		return
	}
	s.next.Show()
	s.next.SetWord("Next: " + next.name())
	s.next.SetOff(len(s.r.pictures()) == 0)
}

func (s *side) goOn() {
	if e, ok := s.r.step.(ender); ok {
		if _, lacks, do := e.deed(); lacks == "" && do != nil {
			do()
		}
		return
	}
	if next := s.following(); next != nil {
		s.r.goTo(next.name())
	}
}

// showJob shows the slow work under way, or that there is none.
func (s *side) showJob() { s.job.update() }

// reveal scrolls the panel until an object in it is seen.
func (s *side) reveal(o fyne.CanvasObject) {
	const margin = 8
	s.scroll.Refresh() // which lays out what has grown
	d := fyne.CurrentApp().Driver()
	top := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(s.scroll.Content).Y - margin
	at := s.scroll.Offset
	at.Y = max(at.Y, top+o.MinSize().Height+2*margin-s.scroll.Size().Height)
	at.Y = max(min(at.Y, top), 0)
	if at != s.scroll.Offset {
		s.scroll.ScrollToOffset(at)
	}
}
