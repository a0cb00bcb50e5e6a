package tracer

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/bench/paint"
	"hemlet/geom"
	"hemlet/geom/trace/tracetest"
)

// Return and Tab lead from name to name, the last one out of the list.
func TestKeysLeadFromNameToName(t *testing.T) {
	x := newTracing(t, twoPieces())
	var has fyne.Focusable
	x.host.Focus = func(f fyne.Focusable) {
		if f, ok := has.(interface{ FocusLost() }); ok {
			f.FocusLost()
		}
		if has = f; f != nil {
			f.FocusGained()
		}
	}
	x.followed(t)
	rows := x.follow.panels.list.rows
	if len(rows) != 2 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, key := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyTab} {
		x.host.Focus(rows[0].name)
		rows[0].name.SetText("by " + string(key))
		rows[0].name.TypedKey(&fyne.KeyEvent{Name: key})
		if has != fyne.Focusable(rows[1].name) || rows[0].of.name != "by "+string(key) || x.follow.picked != rows[1].of.id {
			t.Errorf("%s: the keys are elsewhere, or %q was not taken", key, rows[0].of.name)
		}
	}
	if !x.follow.panels.list.step(rows[1], -1) || has != fyne.Focusable(rows[0].name) {
		t.Error("back leads elsewhere")
	}
	if x.follow.panels.list.step(rows[1], 1) {
		t.Error("there is a row after the last one")
	}
}

// A row is one line high but for the one that is looked at, whether it is ticked or not.
func TestRowsOfLinesAreLow(t *testing.T) {
	bib := bib()
	bib.Inner = []geom.Path{{geom.Line(geom.Pt(24, 10), geom.Pt(24, 40))}}
	x := newTracing(t, tracetest.Drawn(0.5, bib, cuff()))
	x.followed(t)
	rows := x.follow.panels.list.rows
	low := min(rows[0].card.MinSize().Height, rows[1].card.MinSize().Height)
	for _, r := range rows {
		x.follow.lookAt(r.of)
		x.follow.tick(r.of, false)
	}
	x.follow.pick(nil)
	for i, r := range rows {
		if high := r.card.MinSize().Height; high != low || high > 36 {
			t.Errorf("row %d is %v high, not %v", i, high, low)
		}
	}
}

// In a low window the steps take less of the height, and none lies on another.
func TestStepsInALowWindow(t *testing.T) {
	x := newTracing(t, twoPieces())
	list := x.side.rows[0].button
	for _, high := range []float32{800, 480, 800} {
		x.side.object.Resize(fyne.NewSize(Width, high))
		if low := high < lowSide; x.side.low != low || x.side.rows[0].says.Visible() == low {
			t.Fatalf("%v high: low is %v", high, x.side.low)
		}
		last := float32(0)
		for i, a := range x.side.rows {
			last = max(last, a.button.Position().Y+a.button.Size().Height)
			for _, b := range x.side.rows[:i] {
				p, q := a.button.Position(), b.button.Position()
				if p.X < q.X+b.button.Size().Width && q.X < p.X+a.button.Size().Width && p.Y < q.Y+b.button.Size().Height && q.Y < p.Y+a.button.Size().Height {
					t.Errorf("%v high: %s lies on %s", high, a.step.name(), b.step.name())
				}
			}
		}
		if most := 5 * list.Size().Height; (last > most) == x.side.low {
			t.Errorf("%v high: the steps are %v high", high, last)
		}
	}
}

// A click into another name while one is being typed takes the first, and what is typed next is
// not lost: the field with the keys stays the same through all that the first name changes.
func TestNamesTypedOneAfterAnotherAreKept(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	rows := x.follow.panels.list.rows
	first, second := rows[0], rows[1]
	w := test.NewTempWindow(t, x.side.object)
	w.Resize(fyne.NewSize(Width, 800))
	w.Canvas().Focus(first.name)
	test.Type(first.name, "Front")
	w.Canvas().Focus(second.name)
	test.Type(second.name, "Back")
	x.Room.update()
	if now := x.follow.panels.list.rows; now[0] != first || now[1] != second {
		t.Fatal("the rows are made anew while a name is typed")
	}
	if second.name.Text != "Back" {
		t.Errorf("the second name is %q while it is typed", second.name.Text)
	}
	w.Canvas().Unfocus()
	if first.of.name != "Front" || second.of.name != "Back" {
		t.Errorf("they are called %q and %q", first.of.name, second.of.name)
	}
}

// Looking at an outline that is in sight leaves the view as it is, however small that is; one
// that is not seen whole comes to the middle as large as before.
func TestLookingAtAnOutlineDoesNotZoom(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	small := x.follow.panels.list.rows[1].of
	x.sheet.ZoomBy(0.2)
	before := x.sheet.View()
	x.follow.lookAt(small)
	if x.sheet.View() != before {
		t.Error("it goes near uninvited")
	}
	box := small.Path.Bounds()
	x.sheet.LookAt(box.Max.Add(geom.Pt(20*box.W(), 20*box.H())), before.Scale/before.DPR)
	x.follow.lookAt(small)
	after := x.sheet.View()
	if seen := after.Visible(); math.Abs(after.Scale-before.Scale) > 1e-9 || !seen.Contains(box.Min) || !seen.Contains(box.Max) {
		t.Errorf("at %g pixels a mm after %g, or it is not seen", after.Scale, before.Scale)
	}
}

// What is printed on a pattern can be read, whether or not its outline has a name.
func TestAnOutlineLeavesItsMiddleFree(t *testing.T) {
	x := newTracing(t, twoPieces())
	x.followed(t)
	l := x.follow.panels.list.rows[0].of
	middle, corner := l.Path.Bounds().Center(), l.Path.Bounds().Min
	for _, name := range []string{"", "Front"} {
		l.name = name
		m := x.follow.nameMark(l).(paint.Text)
		if m.At.Near(middle, 1) || !m.At.Near(corner, 1e-9) || m.Plate != (paint.Colour{}) {
			t.Errorf("called %q, %q lies at %v", name, m.Text, m.At)
		}
		if name != "" && m.Text != name {
			t.Errorf("called %q it says %q", name, m.Text)
		}
	}
}
