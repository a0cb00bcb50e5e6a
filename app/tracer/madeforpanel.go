package tracer

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/body"
)

// originPanel is the panel of the step.
type originPanel struct {
	o      *origin
	object fyne.CanvasObject
	lines  [2]*lineCard
	width  *fyne.Container
	inside *control.Field
	words  *control.Prose
	name   *control.Field
	size   *control.Field
	rows   *fyne.Container
	more   *control.Choice
	// listed are the measures that the rows are of, offered those that more offers.
	listed  []string
	fields  []*control.Field
	offered []string
}

// lineCard is one of the two answers to what the lines are.
type lineCard struct {
	card *control.Card
	sign *control.Icon
}

// saysLine explains the two kinds of lines, by draft.DrawnLine.
var saysLine = [2]string{
	draft.StitchDrawn: "Sew on it: the allowance comes outside.",
	draft.CutDrawn:    "Cut on it: the allowance lies inside.",
}

func newOriginPanel(o *origin) *originPanel {
	p := &originPanel{o: o}
	for _, l := range []draft.DrawnLine{draft.CutDrawn, draft.StitchDrawn} {
		p.lines[l] = p.newLineCard(l)
	}
	m := func() *madeFor { return &o.finds.made }
	p.inside = control.NewField("How wide the allowance is, the same on every edge; edges that differ are set on the bench", func(text string) error {
		mm, err := o.unit().Parse(text)
		if err != nil {
			return err
		}
		if !(mm >= 0 && mm <= draft.MaxAllowance) {
			return fmt.Errorf("between 0 and %s", o.unit().Format(draft.MaxAllowance))
		}
		if m().line == draft.CutDrawn {
			m().inside, m().insideSaid = mm, true
		} else {
			m().outside = mm
		}
		o.Room.update()
		return nil
	})
	p.words = faintly("")
	p.width = control.Stack(4, control.LabelledBy(labelWide, "Allowance", p.inside.Object()), p.words)
	p.name = control.NewField("What the pattern is called", func(text string) error { m().name = strings.TrimSpace(text); return nil })
	p.size = control.NewField("The size that it states, in its own words, such as 14, M, or for a 30 cm doll", func(text string) error { m().size = strings.TrimSpace(text); return nil })
	p.rows = control.Stack(6)
	p.more = control.NewChoice("A measure of the body that the pattern states", nil, func(i int) {
		if i >= 0 && i < len(p.offered) {
			p.add(p.offered[i])
		}
	})
	p.more.PlaceHolder = "Add a measure…"
	p.object = control.Stack(8,
		control.Heading("The lines are"), p.lines[draft.CutDrawn].card, p.lines[draft.StitchDrawn].card, p.width,
		control.Rule(),
		control.LabelledBy(labelWide, "Pattern", p.name.Object()),
		control.LabelledBy(labelWide, "Size it states", p.size.Object()),
		control.Rule(),
		control.Heading("The body it was made for"),
		faintly("Only what the pattern says; all may be left out. Fitting it to your wearer goes by the difference."),
		p.rows, p.more.Object(),
		faintly("Which edge stands for which measure is said later, at Fit: most of them suggest themselves."),
	)
	return p
}

func (p *originPanel) newLineCard(l draft.DrawnLine) *lineCard {
	c := &lineCard{sign: control.NewIcon("holds", look.Chalk, 16)}
	text := control.Stack(1, control.NewText(wording.Sentence(lineWord(l)), 13, true, look.Ink),
		control.NewProse(saysLine[l], 11.5, false, look.Faint, inner-44))
	content := container.NewBorder(nil, nil, nil, control.Wide(18, container.NewCenter(c.sign)), text)
	c.card = control.NewCard(control.Inset(12, 8, 12, 8, content), saysLine[l], func() {
		m := &p.o.finds.made
		if m.line, m.said = l, true; l == draft.StitchDrawn && m.outside == 0 {
			m.outside = usualAllowance
		}
		p.o.Room.update()
		if l == draft.CutDrawn && !m.insideSaid {
			p.o.host.Focus(p.inside)
		}
	})
	return c
}

func (p *originPanel) update() {
	m, u := &p.o.finds.made, p.o.unit()
	for l, c := range p.lines {
		on := m.said && int(m.line) == l
		c.card.SetChosen(on)
		show(c.sign, on)
	}
	show(p.width, m.said)
	switch {
	case m.line == draft.CutDrawn && !m.insideSaid:
		p.inside.Put("")
		p.words.PutAs("How wide it is inside the cut line: measure it on the pattern. 0 if there is none.", look.OchreText)
	case m.line == draft.CutDrawn:
		p.inside.Put(u.Format(m.inside))
		p.words.PutAs("It is taken off inside the drawn line, so that the piece has its stitching line.", look.Faint)
	default:
		p.inside.Put(u.Format(m.outside))
		p.words.PutAs("It is added outside the drawn line.", look.Faint)
	}
	p.name.Put(m.name)
	p.size.Put(m.size)
	p.putMeasures(u)
	p.object.Refresh()
}

func (p *originPanel) putMeasures(u draft.Unit) {
	m := &p.o.finds.made
	var listed []string
	for _, x := range m.measures {
		listed = append(listed, x.Name)
	}
	if strings.Join(listed, " ") != strings.Join(p.listed, " ") || p.offered == nil {
		p.listed = listed
		p.rebuild()
	}
	for i, x := range m.measures {
		if x.Value > 0 {
			p.fields[i].Put(u.Format(x.Value))
		}
	}
}

// rebuild makes the rows of the measures anew, and offers those that have none.
func (p *originPanel) rebuild() {
	p.rows.RemoveAll()
	p.fields = nil
	used := map[string]bool{}
	for _, name := range p.listed {
		used[name] = true
		p.rows.Add(p.newRow(name))
	}
	var words []string
	p.offered = []string{}
	for _, m := range append(body.Asked(), body.Catalogue()...) {
		if !used[m.Name] {
			used[m.Name] = true
			p.offered = append(p.offered, m.Name)
			words = append(words, wording.Sentence(body.Words(m.Name)))
		}
	}
	p.more.Offer(words, -1)
}

// measureWide is the width of the field of a measure, in screen units.
const measureWide = 92

func (p *originPanel) newRow(name string) fyne.CanvasObject {
	field := control.NewField(wording.Sentence(body.Words(name))+" of the body that the pattern was made for", func(text string) error {
		mm, err := p.o.unit().Parse(text)
		if err != nil {
			return err
		}
		if !(mm > 0 && mm <= draft.MaxCoordinate) {
			return fmt.Errorf("no body measures %s there", p.o.unit().Format(mm))
		}
		p.set(name, mm)
		return nil
	})
	p.fields = append(p.fields, field)
	away := control.NewButton(control.TinyShape, "remove", "", "Leave this measure out", func() { p.remove(name) })
	words := control.NewProse(wording.Sentence(body.Words(name)), 12, false, look.Ink, inner-measureWide-40)
	return container.NewBorder(nil, nil, nil, control.Row(4, control.Wide(measureWide, field.Object()), away), control.Centred(words))
}

func (p *originPanel) add(name string) {
	m := &p.o.finds.made
	m.measures = append(m.measures, draft.OriginMeasure{Name: name})
	p.o.Room.update()
	p.o.host.Focus(p.fields[len(p.fields)-1])
}

func (p *originPanel) set(name string, mm float64) {
	for i, x := range p.o.finds.made.measures {
		if x.Name == name {
			p.o.finds.made.measures[i].Value = mm
		}
	}
	p.o.Room.update()
}

func (p *originPanel) remove(name string) {
	m := &p.o.finds.made
	var left []draft.OriginMeasure
	for _, x := range m.measures {
		if x.Name != name {
			left = append(left, x)
		}
	}
	m.measures = left
	p.o.Room.update()
}
