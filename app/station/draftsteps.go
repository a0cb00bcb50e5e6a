package station

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/formula"
	"hemlet/geom"
)

// stepView shows how a block is constructed: the list of its steps at the right, the
// construction as far as one of them on the sheet, and what that step says below it.
type stepView struct {
	s      *Draft
	object fyne.CanvasObject
	detail *fyne.Container

	list   *control.List
	count  *control.Text
	slider *control.Slider
	// at is the step that the construction has come to, -1 for the last.
	at int
	// pointed is the step under the pointer, -1 for none.
	pointed int

	name, value *control.Text
	says        *control.Prose
	formula     *control.Prose
	reads       *fyne.Container

	// parts leads to the chapters, whose titles it offers; heads are the titles by the
	// steps with which they begin.
	parts    *control.Choice
	partsBox fyne.CanvasObject
	chapters []block.Chapter
	titles   []string
	heads    map[int]string

	// steps are those of the draft that is shown.
	steps []block.Step
	index map[string]int
	// aside are the lines that only help: none of a finished piece runs along them.
	// They are looked for once the construction is seen.
	aside map[string]bool
}

// detailWide is how wide the text about a step is, in screen units.
const detailWide = 560

func newStepView(s *Draft) *stepView {
	v := &stepView{s: s, at: -1, pointed: -1, index: map[string]int{}}
	v.count = control.NewText("", 12, false, look.Faint)
	v.slider = control.NewSlider(v.goTo)
	v.list = control.NewList(func() int { return len(v.steps) }, newStepRow, v.fillRow, v.goTo)
	v.list.OnKey = v.key
	v.parts = control.NewChoice("The part of the construction; choose one to go to its first step", nil, func(i int) {
		if i >= 0 && i < len(v.chapters) {
			v.goTo(v.index[v.chapters[i].Step])
		}
	})
	v.partsBox = v.parts.Object()
	before := control.NewButton(control.SmallShape, "", "Before", "The step before (Up)", func() { v.goTo(v.place() - 1) })
	next := control.NewButton(control.SmallShape, "", "Next", "The next step (Down)", func() { v.goTo(v.place() + 1) })
	head := control.Inset(16, 12, 16, 6, control.Stack(6,
		control.NewText("Construction, step by step", control.TitleSize, true, look.Ink),
		v.partsBox, v.slider,
		control.Row(6, v.count, control.Spring(), before, next)))
	v.object = control.Wide(Width, container.NewBorder(head, nil, nil, nil, control.Compact(v.list)))

	v.name = control.NewText("", 14, true, look.Ink).AtLeast(120)
	v.value = control.NewText("", 14, true, look.Chalk).Aligned(fyne.TextAlignTrailing)
	v.says = control.NewProse("", 13, false, look.Ink, detailWide)
	v.formula = control.NewProse("", 12.5, false, look.Level, detailWide)
	v.reads = control.Flow(detailWide, 4)
	rows := control.Stack(4, container.NewBorder(nil, nil, nil, v.value, v.name), v.says, v.formula, v.reads)
	card := newStack(control.NewPlane(look.Card, look.Border, 10), control.Inset(16, 10, 16, 12, rows))
	v.detail = control.Inset(0, 0, 0, 18, container.NewCenter(card))
	v.detail.Hide()
	return v
}

// newStepRow makes a row of the list.
func newStepRow() fyne.CanvasObject {
	name := control.NewText("", 12.5, true, look.Ink).AtLeast(40)
	value := control.NewText("", 12, false, look.Chalk).Aligned(fyne.TextAlignTrailing)
	says := control.NewText("", 11, false, look.Faint).AtLeast(40)
	head := control.Tall(stepHeadHigh, control.Centred(control.NewText("", 11.5, true, look.Level).AtLeast(40)))
	head.Hide()
	return control.Inset(8, 1, 8, 2, control.Stack(0, head, container.NewBorder(nil, nil, nil, value, name), says))
}

// How high a row of the list is, and the title of a chapter above one, in screen units.
const (
	stepRowHigh  = 38
	stepHeadHigh = 26
)

func (v *stepView) fillRow(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(v.steps) {
		return
	}
	st := v.steps[i]
	rows := o.(*fyne.Container).Objects[0].(*fyne.Container).Objects
	head := rows[0].(*fyne.Container)
	head.Objects[0].(*fyne.Container).Objects[0].(*control.Text).Set(v.heads[i])
	show(head, v.heads[i] != "")
	top := rows[1].(*fyne.Container).Objects
	name, value := top[0].(*control.Text), top[1].(*control.Text)
	name.Set(st.Name)
	value.Set(v.shortValue(st, v.s.desk.Project().Unit))
	ink, figure := fyne.ThemeColorName(look.Ink), fyne.ThemeColorName(look.Chalk)
	if i > v.place() { // still to come
		ink, figure = look.Faint, look.Faint
	}
	name.SetColour(ink)
	value.SetColour(figure)
	rows[2].(*control.Text).Set(st.Says)
	o.Refresh()
}

// place returns the step that the construction has come to, as a number in the list.
func (v *stepView) place() int {
	if v.at < 0 || v.at >= len(v.steps) {
		return len(v.steps) - 1
	}
	return v.at
}

// goTo draws the construction as far as a step.
func (v *stepView) goTo(i int) {
	if len(v.steps) == 0 {
		return
	}
	i = min(max(i, 0), len(v.steps)-1)
	if i == v.place() && v.at >= 0 {
		return
	}
	v.at = i
	v.show()
	v.draw()
}

// update takes in the draft that is shown.
func (v *stepView) update() {
	v.steps = nil
	clear(v.index)
	if t := v.s.now; t != nil && t.construction() != nil {
		v.steps = t.construction().Steps
		for i, st := range v.steps {
			v.index[st.Name] = i
		}
	}
	v.aside = nil
	v.takeChapters()
	if v.at < 0 && len(v.steps) > 0 {
		v.at = 0
	}
	v.show()
	if v.s.stepwise {
		v.draw()
	}
}

// show brings list, slider and text to the present step.
func (v *stepView) show() {
	on := len(v.steps) > 0 && v.s.stepwise
	show(v.detail, on)
	if !on {
		return
	}
	at := v.place()
	v.slider.Put(at, len(v.steps)-1)
	v.count.Set(fmt.Sprintf("step %d of %d", at+1, len(v.steps)))
	v.parts.Put(v.chapterAt(at))
	v.list.Put(at)
	v.list.Refresh()
	v.tell(at)
}

// tell writes about a step under the drawing.
func (v *stepView) tell(i int) {
	st := v.steps[i]
	u := v.s.desk.Project().Unit
	v.name.Set(fmt.Sprintf("%d  %s", i+1, st.Name))
	v.value.Set(v.valueWords(st, u))
	v.says.Put(v.saysOf(i))
	v.formula.Put(st.Name + " = " + st.Formula)
	v.putReads(st, u)
	v.detail.Refresh()
}

// saysOf returns what a step says and, of the last that could be worked out where the
// draft came to an end, why it ends there.
func (v *stepView) saysOf(i int) string {
	says := v.steps[i].Says
	if t := v.s.now; t.sheet == nil && i == len(v.steps)-1 {
		says = strings.TrimSpace(says + "\nThe draft ends here. " + sentence(t.err.Error()))
	}
	return says
}

// readBy lists the steps, choices and measures that the formula of a step reads.
func (v *stepView) readBy(st block.Step) []string {
	return readBy(st.Formula, func(name string) bool { return v.valueOf(name, draft.Millimetre) != "" })
}

func (v *stepView) valueOf(name string, u draft.Unit) string {
	t := v.s.now
	if i, ok := v.index[name]; ok {
		return showValue(v.steps[i].Value, u)
	}
	if c, ok := t.chosen(name); ok {
		return showValue(c.Value, u)
	}
	if name == block.WornUnder {
		if x, ok := t.settings[name]; ok {
			return showValue(x, u)
		}
		return u.Format(0)
	}
	if t.reads(name) {
		if k, ok := v.s.panel.known(t, name); ok {
			if k.Estimated {
				return "≈ " + u.Format(k.Value)
			}
			return u.Format(k.Value)
		}
	}
	return ""
}

// draw puts the construction on the sheet: the finished block faintly, what the steps so
// far have made, the points that the present one reads, and that itself.
func (v *stepView) draw() {
	t := v.s.now
	if t == nil || t.construction() == nil || len(v.steps) == 0 {
		v.s.sheet.Put()
		return
	}
	at := v.place()
	layers := []*sheet.Layer{v.ghost(t.construction()), v.soFar(at), v.present(at)}
	v.s.sheet.Put(layers...)
}

// ghost draws the finished pieces faintly: one sees where the construction leads.
func (v *stepView) ghost(s *block.Sheet) *sheet.Layer {
	l := &sheet.Layer{}
	for i := range s.Pieces {
		l.Things = append(l.Things, &sheet.Thing{Marks: []paint.Mark{
			sheet.Filled(outlineOf(&s.Pieces[i]), paint.Faded(paint.Cloth, 0.4), sheet.Fainter(sheet.Dotted(paint.Faint, 1), 0.7)),
		}})
	}
	return l
}

// soFar draws the points and curves of the steps before the present one.
func (v *stepView) soFar(at int) *sheet.Layer {
	l := &sheet.Layer{}
	for i := range at {
		st := v.steps[i]
		t := &sheet.Thing{ID: stepIDs + st.Name}
		switch x := st.Value.(type) {
		case formula.Point:
			t.Marks = []paint.Mark{smallPoint(x.At)}
			t.Lit = []paint.Mark{
				paint.Dot{At: x.At, Kind: paint.SmoothNode, Colour: paint.Of(paint.Chalk), Fill: paint.Of(paint.Node)},
				sheet.Strong(x.At, 9, -7, st.Name, 11.5, paint.Chalk, paint.Start),
			}
		case formula.Curve:
			if len(x.Path) == 0 {
				continue
			}
			line := sheet.Fainter(sheet.Solid(paint.Ink, 1.3), 0.8)
			if v.helps(st.Name, x) {
				line = sheet.Fainter(sheet.Solid(paint.Faint, 1), 0.4)
			}
			t.Marks = []paint.Mark{sheet.Lined(x.Path, line)}
			middle := x.Path.At(x.Path.AtLength(x.Path.Length() / 2))
			t.Lit = []paint.Mark{
				sheet.Lined(x.Path, sheet.Solid(paint.Chalk, 2.6)),
				sheet.Strong(middle, 9, -7, st.Name, 11.5, paint.Chalk, paint.Start),
			}
		default:
			continue
		}
		l.Things = append(l.Things, t)
	}
	return l
}

// helps reports whether a line only helps: no finished piece has it, and once past it
// draws back.
func (v *stepView) helps(name string, c formula.Curve) bool {
	if v.aside == nil {
		v.aside = map[string]bool{}
	}
	aside, known := v.aside[name]
	if !known {
		aside = v.s.now.sheet != nil && !leads(c.Path, v.s.now.sheet)
		v.aside[name] = aside
	}
	return aside
}

// smallPoint is a point of the construction that is done with.
func smallPoint(at geom.Point) paint.Mark {
	return paint.Dot{At: at, Kind: paint.HandleEnd, Colour: paint.Faded(paint.Ink, 0.55)}
}

// present draws what the present step reads and makes.
func (v *stepView) present(at int) *sheet.Layer {
	l := &sheet.Layer{}
	st := v.steps[at]
	for _, name := range v.readBy(st) {
		i, ok := v.index[name]
		if !ok || i >= at {
			continue
		}
		if marks := markedStep(v.steps[i], paint.Ochre, paint.OchreText); len(marks) > 0 {
			l.Things = append(l.Things, &sheet.Thing{ID: stepIDs + name, Marks: marks})
		}
	}
	if marks := markedStep(st, paint.Chalk, paint.Chalk); len(marks) > 0 {
		l.Things = append(l.Things, &sheet.Thing{ID: stepIDs + st.Name, Marks: marks})
	}
	return l
}

// markedStep draws a step strongly, with its name.
func markedStep(st block.Step, t, text paint.Token) []paint.Mark {
	switch x := st.Value.(type) {
	case formula.Point:
		return []paint.Mark{
			paint.Dot{At: x.At, Kind: paint.SmoothNode, Colour: paint.Of(t), Fill: paint.Of(t), Large: t == paint.Chalk},
			sheet.Strong(x.At, 10, -8, st.Name, 12, text, paint.Start),
		}
	case formula.Curve:
		if len(x.Path) == 0 {
			return nil
		}
		middle := x.Path.At(x.Path.AtLength(x.Path.Length() / 2))
		return []paint.Mark{
			sheet.Lined(x.Path, sheet.Solid(t, 2.8)),
			sheet.Strong(middle, 10, -8, st.Name, 12, text, paint.Start),
		}
	}
	return nil
}

// hovered tells of the step whose point or line is under the pointer.
func (v *stepView) hovered(id string) {
	if !v.s.stepwise || len(v.steps) == 0 {
		return
	}
	at := -1
	if name, ok := cutID(id, stepIDs); ok {
		if i, ok := v.index[name]; ok {
			at = i
		}
	}
	if at == v.pointed {
		return
	}
	if v.pointed = at; at >= 0 {
		v.tell(at)
		return
	}
	v.tell(v.place())
}

// tapped goes to the step whose point or line was clicked.
func (v *stepView) tapped(id string) {
	if name, ok := cutID(id, stepIDs); ok {
		if i, ok := v.index[name]; ok {
			v.goTo(i)
		}
	}
}

// key goes through the steps.
func (v *stepView) key(name fyne.KeyName) bool {
	const page = 10
	by := map[fyne.KeyName]int{
		fyne.KeyUp: -1, fyne.KeyLeft: -1, fyne.KeyDown: 1, fyne.KeyRight: 1,
		fyne.KeyPageUp: -page, fyne.KeyPageDown: page, fyne.KeyHome: -len(v.steps), fyne.KeyEnd: len(v.steps),
	}
	n, ok := by[name]
	if ok {
		v.goTo(v.place() + n)
	}
	return ok
}
