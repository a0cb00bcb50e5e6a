package tracer

import (
	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/tracing"
)

// usualAllowance is what is proposed for stitching lines, in mm: the middle of what
// puppets are given (common practice, no source).
const usualAllowance = 6.0

// madeFor is what the maker has said of the pattern. What the lines are is asked and
// never guessed.
type madeFor struct {
	// line says what the lines are, once it was said.
	said bool
	line draft.DrawnLine
	// inside is the allowance inside a cut line, once that was said; outside what is added
	// to a stitching line.
	insideSaid      bool
	inside, outside float64
	name, size      string
	measures        []draft.OriginMeasure // 0 where the figure is not typed yet
}

// lacks says what has to be said before there can be pieces, empty for nothing.
func (m *madeFor) lacks() string {
	switch {
	case !m.said:
		return "Say first, in “Made for”, whether the lines are cut lines or stitching lines: that decides on which side the allowance lies."
	case m.line == draft.CutDrawn && !m.insideSaid:
		return "Say first, in “Made for”, how much allowance lies inside the cut line: 0 if there is none."
	}
	return ""
}

// allowance returns that which belongs to the line.
func (m *madeFor) allowance() float64 {
	if m.line == draft.CutDrawn {
		return m.inside
	}
	return m.outside
}

// toTrace returns it as an act takes it.
func (m *madeFor) toTrace() tracing.MadeFor {
	out := tracing.MadeFor{Line: m.line, Allowance: m.allowance(), Name: m.name, Size: m.size}
	for _, x := range m.measures {
		if x.Value > 0 {
			out.Measures = append(out.Measures, x)
		}
	}
	return out
}

// origin is the step in which is said what the pattern was made for.
type origin struct {
	plain
	finds  *finds
	panels *originPanel
}

func newMadeFor(f *finds) *origin { return &origin{plain: plain{f.Room}, finds: f} }

func (*origin) name() string { return stepMadeFor }

func (*origin) says() string {
	return "Say what the lines are and for which body the pattern was made. Nothing of this is guessed."
}

func (*origin) hint() string {
	return "Made for: look at the pattern itself, most say on the sheet whether the allowance is in. All of it but the kind of line and its allowance may be left out."
}

func (o *origin) standing() standing {
	if len(o.pictures()) == 0 {
		return standing{idle: true}
	}
	m := &o.finds.made
	if m.lacks() != "" {
		return standing{}
	}
	return standing{done: true, says: lineWord(m.line)}
}

func (o *origin) panel() fyne.CanvasObject {
	o.panels = newOriginPanel(o)
	return o.panels.object
}

func (o *origin) update() {
	o.finds.recall()
	if o.panels != nil {
		o.panels.update()
	}
}

// layers draws the lines that are to become pieces as printed patterns have them: cut lines
// solid, stitching lines dashed, and plain while that is not said.
func (o *origin) layers() []*sheet.Layer {
	m := &o.finds.made
	line := over(look.Chalk, 1, 2.2, noDash)
	if m.said && m.line == draft.StitchDrawn {
		line = over(look.Chalk, 1, 2.2, notYet)
	}
	l := &sheet.Layer{Aside: true}
	for _, x := range o.finds.taken() {
		l.Things = append(l.Things, &sheet.Thing{Marks: []paint.Mark{
			paint.Shape{Path: x.Path, Line: over(look.Card, 0.7, 4.6, noDash)},
			paint.Shape{Path: x.Path, Line: line},
		}})
	}
	return []*sheet.Layer{l}
}

// lineWord is the word for a kind of line.
func lineWord(l draft.DrawnLine) string {
	if l == draft.CutDrawn {
		return "cut line"
	}
	return "stitching line"
}
