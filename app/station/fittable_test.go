package station

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/draft/body"
)

// Whatever the room, a row shows all columns of its step, clear of one another and in the row.
func TestNoColumnIsLost(t *testing.T) {
	f, _ := fitted(t)
	for _, wide := range []float32{420, 644, 900, 1500} {
		win := test.NewTempWindow(t, container.NewStack(f.table.object))
		win.SetPadded(false)
		win.Resize(fyne.NewSize(wide, 240))
		for step := range stepCount {
			f.Open(step)
			f.Update()
			line := f.table.newLine().(*fyne.Container)
			line.Resize(fyne.NewSize(wide, line.MinSize().Height))
			f.table.fill(0, line)
			seen := 0
			for i, o := range line.Objects[:fitColumnCount] {
				if !o.Visible() {
					continue
				}
				seen++
				if o.Position().X < 0 || o.Position().Y < 0 || o.Position().X+o.Size().Width > wide || o.Position().Y+o.Size().Height > line.Size().Height || o.Size().Width < 20 {
					t.Errorf("%v wide, %s: column %q lies at %v, %v large", wide, stepTitles[step], fitColumnWords[i], o.Position(), o.Size())
				}
				for k, other := range line.Objects[:i] {
					if other.Visible() && meet(o, other) {
						t.Errorf("%v wide, %s: column %q lies over %q", wide, stepTitles[step], fitColumnWords[i], fitColumnWords[k])
					}
				}
			}
			want := 1 // the name
			for c, w := range fitColumnWide[step] {
				if w > 0 && !(f.table.two && fitColumn(c) == fitPiece) { // which is named with the stretch
					want++
				}
			}
			if seen != want {
				t.Errorf("%v wide, %s: %d columns, not %d", wide, stepTitles[step], seen, want)
			}
			if name := line.Objects[fitName].(*control.Cell).Text(); f.table.two != (name == f.table.rows[0].piece.Name+", "+f.table.rows[0].span.Name) {
				t.Errorf("%v wide: the stretch is called %q", wide, name)
			}
		}
	}
}

func meet(a, b fyne.CanvasObject) bool {
	p, q := a.Position(), b.Position()
	return p.X < q.X+b.Size().Width && q.X < p.X+a.Size().Width && p.Y < q.Y+b.Size().Height && q.Y < p.Y+a.Size().Height
}

// Another measure brings the part that suits it: what was half of the arc of the back is a
// quarter of the girth, with the ease that is left of that. A stretch that is far smaller than
// what it is said to stand for is no more ticked, and told.
func TestAnotherMeasureBringsItsPart(t *testing.T) {
	f, _ := fitting(t)
	if err := f.made.spans.run(""); err != nil {
		t.Fatal(err)
	}
	f.Open(stepMade)
	hem := func() fitRow {
		for _, r := range f.table.rows {
			if r.piece.Name == "Back" && r.span.Name == "hem" {
				return r
			}
		}
		t.Fatal("no hem of the back")
		return fitRow{}
	}
	r := hem()
	if r.span.Measure != "belly_arc_back" || r.span.Share != 0.5 || r.level != control.Holds {
		t.Fatalf("at first it is %v of %s, %v", r.span.Share, r.span.Measure, r.level)
	}
	for _, x := range []struct {
		measure string
		share   float64
	}{{"hip_girth", 0.25}, {"hip_arc_back", 0.5}, {"belly_girth", 0.25}, {"back_waist_length", 1}, {"hip_girth", 0.25}} {
		if err := f.table.setMeasure(hem(), x.measure); err != nil {
			t.Fatal(err)
		}
		r := hem()
		if r.span.Measure != x.measure || r.span.Share != x.share {
			t.Errorf("as %s it is %v of %s, want %v", x.measure, r.span.Share, r.span.Measure, x.share)
		}
		if want := r.was - x.share*r.then; math.Abs(r.span.Ease-want) > 0.01 {
			t.Errorf("as %s its ease is %.2f, want %.2f", x.measure, r.span.Ease, want)
		}
	}
	if r := hem(); r.level != control.Holds {
		t.Errorf("a quarter of the hips is %v", r.level)
	}
	if err := f.table.setShare(hem(), 0.5); err != nil {
		t.Fatal(err)
	}
	if r := hem(); r.level != control.LookAgain || !strings.Contains(f.made.spans.sum.Text(), "hem of Back") {
		t.Errorf("with an ease of %.1f it is %v, and told is %q", r.span.Ease, r.level, f.made.spans.sum.Text())
	}
}

// The list of measures has the words of the table, whatever else it says.
func TestMeasuresAreOfferedByTheWordsOfTheTable(t *testing.T) {
	for _, m := range body.Catalogue() {
		if got := measureEntry(m.Name); !strings.HasPrefix(strings.ToLower(got), strings.ToLower(measureShort(m.Name))) || !strings.Contains(strings.ToLower(got), strings.ToLower(m.Words)) {
			t.Errorf("%s is offered as %q", m.Name, got)
		}
	}
}
