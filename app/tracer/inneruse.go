package tracer

import (
	"fmt"

	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft/tracing"
)

// useWords are the uses that can be said of a line inside an outline, from
// tracing.AsPlacement on.
var useWords = []string{"placement line", "notch", "grain line", "dart or style line", "leave out"}

// use returns what a line inside becomes.
func (l *line) use(i int) tracing.Use {
	if i < len(l.uses) && l.uses[i] != tracing.Unsaid {
		return l.uses[i]
	}
	return tracing.Uses(l.Outline)[i]
}

// say says what a line inside becomes. A piece has one grain line: what was it before is a
// placement line again.
func (l *line) say(i int, as tracing.Use) {
	uses := make([]tracing.Use, len(l.Inner))
	copy(uses, l.uses)
	if as == tracing.AsGrain {
		for k := range uses {
			if uses[k] == as {
				uses[k] = tracing.AsPlacement
			}
		}
	}
	uses[i] = as
	l.uses = uses
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
	show(u.object, x.id == u.w.picked && len(x.Inner) > 0)
	if !u.object.Visible() {
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
	for i, c := range u.choices {
		c.Put(int(x.use(i) - tracing.AsPlacement))
	}
}

// useLabel is the width of the labels, in screen units.
const useLabel = 56

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
