package tracer

import (
	"fmt"

	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft/tracing"
	"hemlet/geom"
)

// useWords are the uses that can be said of a line inside an outline, from
// tracing.AsPlacement on.
var useWords = []string{"placement line", "notch", "grain line", "dart or style line", "leave out"}

// say says what a line inside becomes. A piece has one grain line: what was it before is a
// placement line again.
func (l *line) say(i int, as tracing.Use) {
	uses := make([]tracing.Use, len(l.Inner))
	copy(uses, l.uses)
	if as == tracing.AsGrain {
		for k, was := range tracing.Uses(l.Outline, l.uses) {
			if was == as {
				uses[k] = tracing.AsPlacement
			}
		}
	}
	uses[i] = as
	l.uses = uses
	if len(l.took) == 0 {
		l.offered = false // what is upright goes by the grain
	}
}

// grain returns the line inside that becomes the grain line, nil for none.
func (l *line) grain() geom.Path {
	for i, as := range tracing.Uses(l.Outline, l.uses) {
		if as == tracing.AsGrain {
			return l.Inner[i].Path
		}
	}
	return nil
}

// up returns the direction of the grain, zero where none is drawn.
func (l *line) up() geom.Point {
	p := l.grain()
	if p == nil {
		return geom.Point{}
	}
	return p.End().Sub(p.Start())
}

// grainSays tells of which outlines a line inside is taken for the grain line although
// nobody said so, empty for none.
func (f *finds) grainSays() string {
	var names []string
	for _, l := range f.taken() {
		if tracing.Grained(l.Outline, l.uses) {
			names = append(names, l.called())
		}
	}
	if len(names) == 0 {
		return ""
	}
	if len(names) > 1 {
		return fmt.Sprintf("Long lines inside %d outlines are taken for grain lines; the rows can say otherwise.", len(names))
	}
	return fmt.Sprintf("The long straight line inside %s is taken for its grain line; its row can say otherwise.", names[0])
}

// mostUses bounds the lines inside an outline that are listed.
const mostUses = 12

// useRows are the lines inside an outline with what each is.
type useRows struct {
	w       *ways
	object  *fyne.Container
	choices []*control.Choice
}

func newUseRows(w *ways) *useRows { return &useRows{w: w, object: control.Stack(4)} }

// update shows the lines inside an outline, if that is the one that is looked at.
func (u *useRows) update(x *line) {
	if x.id != u.w.picked || len(x.Inner) == 0 {
		return
	}
	if n := min(len(x.Inner), mostUses); len(u.choices) != n {
		u.object.RemoveAll()
		u.choices = nil
		for i := range n {
			c := control.NewChoice("What this line inside the outline is; its number stands in the picture", useWords, func(at int) {
				if at >= 0 && i < len(x.Inner) {
					x.say(i, tracing.AsPlacement+tracing.Use(at))
					u.w.finds.changed()
					u.w.Room.update()
				}
			})
			u.choices = append(u.choices, c)
			u.object.Add(control.LabelledBy(useLabel, fmt.Sprintf("Line %d", i+1), c.Object()))
		}
	}
	uses := tracing.Uses(x.Outline, x.uses)
	for i, c := range u.choices {
		c.Put(int(uses[i] - tracing.AsPlacement))
	}
}

// useLabel is the width of the labels, in screen units.
const useLabel = 56

// grainMarks name the line inside that becomes the grain line.
func grainMarks(x *line) []paint.Mark {
	p := x.grain()
	if p == nil {
		return nil
	}
	a, b := p.Start(), p.End()
	if b.Y < a.Y {
		a, b = b, a
	}
	return []paint.Mark{
		paint.Arrow{A: a, B: b, Both: true, Line: over(look.Chalk, 1, 1.8, noDash)},
		paint.Text{At: a.Lerp(b, 0.2), DX: 12, DY: 4, Text: "grain line", Size: 11, Colour: inked(look.Ink, 1), Plate: inked(look.Card, 0.85), Room: a.Dist(b)},
	}
}

// useMarks number the lines inside an outline.
func useMarks(x *line) []paint.Mark {
	var out []paint.Mark
	for i, in := range x.Inner[:min(len(x.Inner), mostUses)] {
		if len(in.Path) > 0 {
			out = append(out, paint.Text{
				At: middleOf(in.Path), DX: 8, DY: 4, Text: fmt.Sprint(i + 1), Size: 11, Weight: paint.SemiBold,
				Colour: inked(look.Ink, 1), Plate: inked(look.Card, 0.85),
			})
		}
	}
	return out
}
