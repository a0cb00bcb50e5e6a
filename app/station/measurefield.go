package station

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/body"
)

// rowGap is the room between the columns of a row, in screen units.
const rowGap = 8

// bodyField is one measure: its words, its field, what can be wrong with it and,
// where wearers are compared, what the other one measures.
type bodyField struct {
	f      *measureForm
	name   string
	object *fyne.Container
	field  *control.Field
	under  *control.Text
	wrong  *fyne.Container
	other  *fyne.Container
	// bare says that the unit stands elsewhere; put, where set, notes a value.
	bare   bool
	put    func(mm float64) error
	theirs *control.Text
	differ *control.Text

	// taken is whether the wearer has the measure; value is it, or its estimate, and
	// known whether there is either.
	taken bool
	known bool
	value body.Known
	slips []body.Slip
}

// newBodyField makes the row of a measure of the catalogue.
func newBodyField(f *measureForm, name string) *bodyField {
	x := newBareField(f, name)
	words := control.NewProse(wording.Sentence(body.Words(name)), 12.5, false, look.Ink, 100).Flowing()
	x.under = control.NewText("", 10.5, false, look.Faint).AtLeast(10)
	left := control.Centred(control.Stack(0, words, x.under))
	right := container.NewBorder(nil, nil, nil, x.buildOther(), control.Wide(fieldWide, x.field.Object()))
	x.wrong = control.Stack(4)
	x.wrong.Hide()
	x.object = control.Stack(4, container.New(halves{}, left, right), x.wrong)
	return x
}

// newBareField makes the field of a measure alone.
func newBareField(f *measureForm, name string) *bodyField {
	x := &bodyField{f: f, name: name}
	x.field = control.NewField("", x.take)
	x.field.Hint = wording.Sentence(body.Words(name)) + ": a length or a sum, such as 3 1/2in + 2mm; empty where it was not taken"
	x.field.Done = func() { f.step(slices.Index(f.order, x), 1) }
	x.field.Arrows = func(by int) { f.step(slices.Index(f.order, x), -by) }
	x.field.OnFocus = func(on bool) {
		if on {
			f.m.focus = name
			f.m.showFocus()
			f.reveal(x.field)
			x.field.TypedShortcut(&fyne.ShortcutSelectAll{})
		} else if f.m.focus == name {
			f.m.focus = ""
			f.m.showFocus()
		}
	}
	return x
}

// buildOther makes the column of the wearer that is compared with.
func (x *bodyField) buildOther() fyne.CanvasObject {
	x.theirs = control.NewText("", 12, false, look.Ink).Aligned(fyne.TextAlignTrailing).AtLeast(10)
	x.differ = control.NewText("", 11, false, look.Faint).Aligned(fyne.TextAlignTrailing).AtLeast(10)
	x.other = control.Wide(otherWide+rowGap, control.Centred(control.Stack(0, x.theirs, x.differ)))
	x.other.Hide()
	return x.other
}

// halves lays one object at the right, as wide as it needs, and one in what is left.
type halves struct{}

func (halves) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(a.Width+rowGap+b.Width, max(a.Height, b.Height))
}

func (halves) Layout(o []fyne.CanvasObject, size fyne.Size) {
	right := o[1].MinSize()
	o[1].Move(fyne.NewPos(size.Width-right.Width, (size.Height-right.Height)/2))
	o[1].Resize(right)
	o[0].Move(fyne.Position{})
	o[0].Resize(fyne.NewSize(max(size.Width-right.Width-rowGap, 0), size.Height))
}

// take notes what was typed: a length, or nothing where the measure was not taken.
func (x *bodyField) take(text string) error {
	f := x.f
	if strings.TrimSpace(text) == "" {
		if !x.taken {
			return nil
		}
		return f.act(draft.ClearMeasure.Do(f.m.desk.Project(), draft.ClearMeasureArgs{Wearer: f.ref(), Name: x.name}))
	}
	mm, err := f.m.desk.Project().Unit.Parse(text)
	if err != nil {
		return err
	}
	return x.set(mm)
}

func (x *bodyField) set(mm float64) error {
	f := x.f
	if x.put != nil {
		return x.put(mm)
	}
	return f.act(draft.SetMeasure.Do(f.m.desk.Project(), draft.SetMeasureArgs{Wearer: f.ref(), Name: x.name, Value: draft.Length(mm)}))
}

// update shows the measure of a wearer, of whom everything is resolved.
func (x *bodyField) update(w *draft.Wearer, resolved, other *body.Body, slips []body.Slip) {
	unit := x.f.m.desk.Project().Unit
	x.value, x.known = resolved.Get(x.name)
	x.taken = x.known && !x.value.Estimated
	format := unit.Format
	if x.bare {
		format = unit.FormatBare
	}
	text, hold := "", ""
	switch {
	case x.taken:
		text = format(x.value.Value)
	case x.known:
		hold = "≈ " + format(x.value.Value)
	}
	if x.field.PlaceHolder != hold {
		x.field.SetPlaceHolder(hold)
	}
	x.field.Put(text)
	if x.under != nil {
		under := x.underWords(w)
		x.under.Set(under)
		show(x.under, under != "")
	}
	x.updateOther(unit, other)
	x.updateSlips(slips)
}

// underWords is what stands small under the words of the measure: the term of the
// standard, and where the value comes from.
func (x *bodyField) underWords(w *draft.Wearer) string {
	var parts []string
	if m, ok := body.Find(x.name); ok && m.Term != "" && !strings.EqualFold(m.Term, m.Words) {
		parts = append(parts, m.Term)
	}
	if kept, ok := w.Measure(x.name); ok && kept.Estimated {
		parts = append(parts, "estimated, as its file says")
	} else if !x.taken && x.known {
		parts = append(parts, "estimated")
	}
	return strings.Join(parts, " · ")
}

func (x *bodyField) updateOther(unit draft.Unit, other *body.Body) {
	if x.other == nil {
		return
	}
	show(x.other, other != nil)
	if other == nil {
		return
	}
	k, ok := other.Get(x.name)
	theirs, differ := "", ""
	if ok {
		theirs = approx(k) + unit.Format(k.Value)
	}
	if ok && x.known {
		differ = signed(unit, x.value.Value-k.Value)
	}
	x.theirs.Set(theirs)
	x.theirs.SetColour(look.Ink)
	if k.Estimated {
		x.theirs.SetColour(look.Faint)
	}
	x.differ.Set(differ)
}

// approx returns the sign before what was estimated.
func approx(k body.Known) string {
	if k.Estimated {
		return "≈ "
	}
	return ""
}

// signed returns a difference with its sign, and an equals sign where it is less than
// can be shown.
func signed(unit draft.Unit, mm float64) string {
	switch {
	case mm >= unit.Step()/2:
		return "+" + unit.Format(mm)
	case mm <= -unit.Step()/2:
		return "−" + unit.Format(-mm)
	default:
		return "="
	}
}

// updateSlips shows what is wrong under the row.
func (x *bodyField) updateSlips(slips []body.Slip) {
	if x.wrong == nil || slices.EqualFunc(x.slips, slips, func(a, b body.Slip) bool { return a.Key == b.Key && a.Says == b.Says }) {
		return
	}
	x.slips = slips
	x.wrong.RemoveAll()
	for _, s := range slips {
		// A slip of several measures is told once, at the first of them.
		if s.Measures[0] == x.name {
			x.wrong.Add(x.f.slipCard(s))
		}
	}
	show(x.wrong, len(x.wrong.Objects) > 0)
}

// estimateWords says how a value was worked out, in words: formulas are for the
// construction.
func estimateWords(unit draft.Unit, k body.Known) string {
	var from []string
	for _, n := range k.From {
		from = append(from, body.Words(n))
	}
	text := fmt.Sprintf("≈ %s, estimated", unit.Format(k.Value))
	if len(from) > 0 {
		text += " from " + strings.Join(from, ", ")
	}
	return text + "."
}
