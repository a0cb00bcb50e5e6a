package station

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/body"
)

// menuUnder opens a menu under a cell.
func menuUnder(cell fyne.CanvasObject, items []*fyne.MenuItem) {
	d := fyne.CurrentApp().Driver()
	c := d.CanvasForObject(cell)
	if c == nil {
		return
	}
	at := d.AbsolutePositionForObject(cell).AddXY(0, cell.Size().Height)
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), c, at)
}

// askWide is how wide the field over a cell is at least, in screen units.
const askWide = 104

// askOver lays a field over a cell and takes what is typed there. It goes on Return, on
// Escape and on a press beside it; what cannot be taken stays with the reason.
func (t *fitTable) askOver(cell fyne.CanvasObject, hint, text string, take func(text string) error) {
	d := fyne.CurrentApp().Driver()
	c := d.CanvasForObject(cell)
	if c == nil {
		return
	}
	field := control.NewField(hint, take)
	field.Put(text)
	pop := widget.NewPopUp(control.Compact(control.Wide(max(askWide, cell.Size().Width), field.Object())), c)
	field.Done = func() {
		pop.Hide()
		t.f.ways.Away()
	}
	field.OnKey = func(name fyne.KeyName) bool {
		if name != fyne.KeyEscape {
			return false
		}
		field.Take = nil
		pop.Hide()
		t.f.ways.Away()
		return true
	}
	at := d.AbsolutePositionForObject(cell)
	size := pop.MinSize()
	at.X = min(at.X+cell.Size().Width-size.Width, c.Size().Width-size.Width)
	at.Y = min(at.Y-4, c.Size().Height-size.Height)
	pop.ShowAtPosition(fyne.NewPos(max(at.X, 0), max(at.Y, 0)))
	c.Focus(field)
}

// item is an entry of a menu, marked where it is the one that holds.
func item(word string, on bool, do func()) *fyne.MenuItem {
	i := fyne.NewMenuItem(word, do)
	i.Checked = on
	return i
}

// setSpan changes what a stretch stands for.
func (t *fitTable) setSpan(r fitRow, more ...string) error {
	_, err := t.f.run("set-span", r.args(more...))
	return err
}

// setMeasure changes which measure a stretch stands for, and which part of that with it where
// another part suits it.
func (t *fitTable) setMeasure(r fitRow, measure string) error {
	more := []string{"measure", measure}
	share := t.f.desk.Slots().SuitingShare(t.f.desk.Project(), r.piece, r.span, measure, r.was)
	if share != r.span.Share {
		more = append(more, "share", strconv.FormatFloat(share, 'g', -1, 64))
	}
	return t.setSpan(r, more...)
}

// askMeasure offers the measures of the catalogue by their groups, before them those that
// the length speaks for.
func (t *fitTable) askMeasure(cell fyne.CanvasObject, r fitRow) {
	set := func(name string) func() { return func() { t.f.report(t.setMeasure(r, name)) } }
	var items []*fyne.MenuItem
	first, _ := t.f.guess(r.piece, r.span, r.was).offered()
	for _, g := range first {
		items = append(items, item(measureEntry(g.measure), g.measure == r.span.Measure, set(g.measure)))
	}
	items = append(items, fyne.NewMenuItemSeparator())
	var group *fyne.MenuItem
	for _, m := range body.Catalogue() {
		if group == nil || group.Label != m.Group {
			group = fyne.NewMenuItem(m.Group, nil)
			group.ChildMenu = fyne.NewMenu("")
			items = append(items, group)
		}
		group.ChildMenu.Items = append(group.ChildMenu.Items, item(measureEntry(m.Name), m.Name == r.span.Measure, set(m.Name)))
	}
	menuUnder(cell, items)
}

// askShare offers the parts of a measure.
func (t *fitTable) askShare(cell fyne.CanvasObject, r fitRow) {
	var items []*fyne.MenuItem
	for _, x := range []struct {
		word  string
		share float64
	}{{"all of it", 1}, {"a half", 0.5}, {"a third", 1.0 / 3}, {"a quarter", 0.25}, {"a sixth", 1.0 / 6}, {"an eighth", 0.125}} {
		items = append(items, item(x.word, x.share == r.span.Share, func() { t.f.report(t.setShare(r, x.share)) }))
	}
	items = append(items, fyne.NewMenuItem("another part…", func() {
		t.askOver(cell, "A part of the measure: 0.25, 25% or 1/4", shareWords(r.span.Share), func(text string) error {
			if text == shareWords(r.span.Share) {
				return nil // as it was, not rounded to what is shown of it
			}
			share, err := readShare(text)
			if err != nil {
				return err
			}
			return t.setShare(r, share)
		})
	}))
	menuUnder(cell, items)
}

// setShare changes the part; where the body is known the ease is what is left. Of a fitted
// piece an ease would say how long the stretch is wanted now, and here it is about the
// pattern as it came.
func (t *fitTable) setShare(r fitRow, share float64) error {
	more := []string{"share", strconv.FormatFloat(share, 'g', -1, 64)}
	if r.then > 0 && !r.came {
		more = append(more, "ease", mmText(r.was-share*r.then))
	}
	return t.setSpan(r, more...)
}

// readShare reads a part: 1/4, 25% or 0.25.
func readShare(text string) (float64, error) {
	if text = strings.TrimSpace(text); text == "all" {
		return 1, nil
	}
	over, under, ok := strings.Cut(text, "/")
	if !ok {
		return draft.ParseNumber(text)
	}
	a, err := draft.ParseNumber(strings.TrimSpace(over))
	if err != nil {
		return 0, err
	}
	b, err := draft.ParseNumber(strings.TrimSpace(under))
	if err != nil || b == 0 {
		return 0, fmt.Errorf("%q is no part", text)
	}
	return a / b, nil
}

func (t *fitTable) askEase(cell fyne.CanvasObject, r fitRow) {
	u := t.f.desk.Project().Unit
	t.askOver(cell, "How much larger than that part of the body it is, below 0 where cloth stretches", u.Format(r.span.Ease), func(text string) error {
		mm, err := u.Parse(text)
		if err != nil {
			return err
		}
		return t.setSpan(r, "ease", mmText(mm))
	})
}

func (t *fitTable) askName(cell fyne.CanvasObject, r fitRow) {
	t.askOver(cell, "What the stretch is called", r.span.Name, func(text string) error { return t.setSpan(r, "name", text) })
}

// dropSpan says no longer that a stretch stands for anything.
func (t *fitTable) dropSpan(r fitRow) {
	t.f.drop()
	t.f.report(desk.Run(t.f.desk, draft.DeleteMark, draft.DeleteMarkArgs{Marks: []draft.MarkRef{{Piece: r.key.piece, Mark: r.key.span}}}))
}

// setTarget changes what is wanted of a stretch.
func (t *fitTable) setTarget(r fitRow, more ...string) error {
	_, err := t.f.run("set-fit-target", r.args(more...))
	return err
}

// askLength asks how long a stretch is to be.
func (t *fitTable) askLength(cell fyne.CanvasObject, r fitRow) {
	u := t.f.desk.Project().Unit
	text := u.Format(r.target.Wants)
	if !r.target.Known {
		text = u.Format(r.target.Reached)
	}
	t.askOver(cell, "How long it is to be: a length or a sum, such as 120mm + 1/4in", text, func(text string) error {
		mm, err := u.Parse(text)
		if err != nil {
			return err
		}
		return t.setTarget(r, "by", draft.TargetLength.String(), "value", mmText(mm))
	})
}

// askRule offers the rules by which a stretch gets its length.
func (t *fitTable) askRule(cell fyne.CanvasObject, r fitRow) {
	u := t.f.desk.Project().Unit
	by := r.target.By
	if !r.target.Given {
		by = draft.TargetAsFit
	}
	set := func(by draft.TargetBy) func() {
		return func() { t.f.report(t.setTarget(r, "by", by.String())) }
	}
	items := []*fyne.MenuItem{
		item("as the whole fit", by == draft.TargetAsFit, set(draft.TargetAsFit)),
		item("with the body, its ease too", by == draft.TargetScaled, set(draft.TargetScaled)),
		item("the same ease as before", by == draft.TargetKept, set(draft.TargetKept)),
		item("an ease of…", by == draft.TargetEase, func() {
			ease := r.target.Wants - r.span.Share*r.target.New
			t.askOver(cell, "How much larger than that part of the wearer it is to be", u.Format(ease), func(text string) error {
				mm, err := u.Parse(text)
				if err != nil {
					return err
				}
				return t.setTarget(r, "by", draft.TargetEase.String(), "value", mmText(mm))
			})
		}),
		item("a length of…", by == draft.TargetLength, func() { t.askLength(cell, r) }),
		fyne.NewMenuItemSeparator(),
		item("nothing: it goes along", by == draft.TargetFree, set(draft.TargetFree)),
	}
	if r.span.Measure == "" {
		items = slices.Delete(items, 1, 4)
	}
	menuUnder(cell, items)
}

// askWeight offers how much a stretch counts.
func (t *fitTable) askWeight(cell fyne.CanvasObject, r fitRow) {
	var items []*fyne.MenuItem
	for _, c := range countsWords {
		items = append(items, item(c.word, c.weight == r.target.Weight, func() {
			by := r.target.By
			if !r.target.Given {
				by = draft.TargetAsFit
			}
			more := []string{"by", by.String(), "weight", strconv.FormatFloat(c.weight, 'g', -1, 64)}
			if by == draft.TargetEase || by == draft.TargetLength {
				more = append(more, "value", mmText(r.target.Value))
			}
			t.f.report(t.setTarget(r, more...))
		}))
	}
	menuUnder(cell, items)
}
