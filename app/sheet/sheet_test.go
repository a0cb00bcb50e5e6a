package sheet

import (
	"image"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"hemlet/app/bench/paint"
	"hemlet/app/look"
	"hemlet/geom"
)

func newSheet(tb testing.TB, w, h float32, layers ...*Layer) *Sheet {
	tb.Helper()
	test.NewTempApp(tb).Settings().SetTheme(look.NewTheme(look.Light))
	s, err := New(*look.Palette(look.Light.Variant()))
	if err != nil {
		tb.Fatal(err)
	}
	win := test.NewTempWindow(tb, s)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	s.Put(layers...)
	s.Frame(int(w), int(h))
	return s
}

func square(x, y, side float64) geom.Path {
	return geom.Polygon(geom.Pt(x, y), geom.Pt(x+side, y), geom.Pt(x+side, y+side), geom.Pt(x, y+side))
}

func thing(id string, solid bool, p geom.Path) *Thing {
	return &Thing{ID: id, Solid: solid, Marks: []paint.Mark{Filled(p, paint.Of(paint.Cloth), Solid(paint.Ink, 1.4))}}
}

// pos returns the place of the widget at which the point in mm is shown.
func (s *Sheet) pos(p geom.Point) fyne.Position {
	px := s.view.ToPx(p)
	return fyne.NewPos(float32(px.X/s.view.DPR), float32(px.Y/s.view.DPR))
}

func TestWhatLiesUnderThePointer(t *testing.T) {
	body := &Layer{Things: []*Thing{thing("body", true, square(0, 0, 100)), thing("frame", false, square(10, 10, 80))}}
	moved := &Layer{Place: geom.Rotation(math.Pi/2, geom.Point{}).Then(geom.Translation(geom.Pt(200, 0))), Things: []*Thing{
		thing("turned", true, square(0, 0, 50)), // lies from (150, 0) to (200, 50)
		{ID: "dot", Marks: []paint.Mark{Point(geom.Pt(20, 20), paint.Ink)}},
	}}
	silent := &Layer{Things: []*Thing{thing("", true, square(0, 0, 300))}}
	s := newSheet(t, 800, 600, silent, body, moved)
	for _, c := range []struct {
		at   geom.Point
		want string
	}{
		{geom.Pt(50, 50), "body"}, {geom.Pt(90, 40), "frame"}, {geom.Pt(91, 40), "frame"}, {geom.Pt(100, 40), "body"},
		{geom.Pt(160, 40), "turned"}, {geom.Pt(180, 20), "dot"}, {geom.Pt(250, 250), ""}, {geom.Pt(125, 20), ""},
	} {
		if got := s.Under(c.at); got != c.want {
			t.Errorf("under %v lies %q, want %q", c.at, got, c.want)
		}
	}
}

func TestLabelsCanBePointedAt(t *testing.T) {
	s := newSheet(t, 800, 600, &Layer{Things: []*Thing{
		thing("body", true, square(0, 0, 100)),
		{ID: "waist", Marks: []paint.Mark{Label(geom.Pt(0, 50), -8, 4, "waist", paint.Level, paint.End)}},
	}})
	from := s.view.ToPx(geom.Pt(0, 50))
	if got := s.Under(s.view.ToMM(from.Add(geom.Pt(-20, 0)))); got != "waist" {
		t.Errorf("on the label lies %q", got)
	}
	if got := s.Under(s.view.ToMM(from.Add(geom.Pt(-80, 0)))); got != "" {
		t.Errorf("beside the label lies %q", got)
	}
}

func TestHoverAndTap(t *testing.T) {
	s := newSheet(t, 400, 400, &Layer{Things: []*Thing{thing("a", true, square(0, 0, 50)), thing("b", true, square(60, 0, 50))}})
	hovered, tapped := "none", "none"
	s.OnHover = func(id string, _ geom.Point, on bool) { hovered = id }
	s.OnTap = func(id string, at geom.Point) {
		tapped = id
		if id == "b" && !at.Near(geom.Pt(80, 20), 0.5) {
			t.Errorf("tapped at %v", at)
		}
	}
	event := func(p geom.Point) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: s.pos(p)}, Button: desktop.MouseButtonPrimary}
	}
	s.MouseMoved(event(geom.Pt(20, 20)))
	if hovered != "a" || s.Cursor() != desktop.PointerCursor {
		t.Errorf("hovered %q", hovered)
	}
	s.MouseOut()
	if hovered != "" {
		t.Errorf("after leaving, hovered %q", hovered)
	}
	s.MouseDown(event(geom.Pt(80, 20)))
	s.MouseUp(event(geom.Pt(80, 20)))
	if tapped != "b" {
		t.Errorf("tapped %q", tapped)
	}
	// A drag moves the picture and is no tap.
	before := s.view.ToMM(geom.Pt(100, 100))
	tapped = "none"
	e := event(geom.Pt(80, 20))
	s.MouseDown(e)
	s.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: e.Position.AddXY(30, -10)}})
	s.DragEnd()
	s.MouseUp(e)
	if tapped != "none" {
		t.Error("a drag counts as a tap")
	}
	if got := s.view.ToMM(geom.Pt(130, 90)); !got.Near(before, 1e-9) {
		t.Errorf("the picture moved to %v, want %v", got, before)
	}
}

func TestWheelZoomsAboutThePointer(t *testing.T) {
	s := newSheet(t, 400, 400, &Layer{Things: []*Thing{thing("a", true, square(0, 0, 50))}})
	at := s.view.UnitsToMM(120, 80)
	scale := s.view.Scale
	s.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(120, 80)}, Scrolled: fyne.NewDelta(0, wheelNotch)})
	if got := s.view.UnitsToMM(120, 80); !got.Near(at, 1e-9) || math.Abs(s.view.Scale/scale-zoomNotch) > 1e-9 {
		t.Errorf("the pointer is on %v, want %v; zoomed by %v", got, at, s.view.Scale/scale)
	}
}

// The drawing keeps its place while it changes a little, and is fitted anew where it
// is out of sight.
func TestPutKeepsTheViewWhileItCan(t *testing.T) {
	s := newSheet(t, 400, 400, &Layer{Things: []*Thing{thing("a", true, square(0, 0, 50))}})
	v := s.view
	s.Put(&Layer{Things: []*Thing{thing("a", true, square(0, 0, 48))}})
	s.Frame(400, 400)
	if s.view != v {
		t.Error("a small change moved the view")
	}
	s.Put(&Layer{Things: []*Thing{thing("a", true, square(0, 0, 500))}})
	s.Frame(400, 400)
	if s.view.Visible().Max.X < 500 {
		t.Error("what outgrew the view is not fitted")
	}
	s.Put(&Layer{Things: []*Thing{thing("a", true, square(0, 0, 20))}})
	s.Frame(400, 400)
	if s.view.Visible().W() > 60 {
		t.Error("what became small is not fitted")
	}
	s.ZoomBy(2)
	v = s.view
	s.Put(&Layer{Things: []*Thing{thing("a", true, square(0, 0, 5000))}})
	s.Frame(400, 400)
	if s.view != v {
		t.Error("a view that was moved by hand was moved")
	}
}

// What lies aside does not count for the fit.
func TestAsideIsNotFitted(t *testing.T) {
	s := newSheet(t, 400, 400, &Layer{Things: []*Thing{thing("a", true, square(0, 0, 50))}},
		&Layer{Aside: true, Things: []*Thing{thing("b", true, square(0, 0, 900))}})
	if s.view.Visible().W() > 80 {
		t.Errorf("%v mm are seen", s.view.Visible().W())
	}
}

func differing(a, b *image.RGBA) (n int) {
	for i := 0; i < len(a.Pix); i += 4 {
		if a.Pix[i] != b.Pix[i] || a.Pix[i+1] != b.Pix[i+1] || a.Pix[i+2] != b.Pix[i+2] {
			n++
		}
	}
	return n
}

func copied(img *image.RGBA) *image.RGBA {
	c := image.NewRGBA(img.Rect)
	copy(c.Pix, img.Pix)
	return c
}

// Highlighting changes the picture where the thing is, and taking it away brings back
// the very same picture.
func TestHighlight(t *testing.T) {
	s := newSheet(t, 400, 400, &Layer{Things: []*Thing{thing("a", true, square(0, 0, 50)), thing("b", true, square(60, 0, 50))}})
	plain := copied(s.Frame(400, 400))
	s.Highlight("a")
	lit := copied(s.Frame(400, 400))
	if differing(plain, lit) < 100 {
		t.Error("nothing lights up")
	}
	b := s.view.ToPx(geom.Pt(60, 25))
	if plain.RGBAAt(int(b.X), int(b.Y)) != lit.RGBAAt(int(b.X), int(b.Y)) {
		t.Error("the other thing lights up too")
	}
	s.Highlight()
	if n := differing(plain, s.Frame(400, 400)); n != 0 {
		t.Errorf("%d pixels stay different", n)
	}
}

func TestNothingIsPaintedTwice(t *testing.T) {
	l := &Layer{Things: []*Thing{thing("a", true, square(0, 0, 50))}}
	s := newSheet(t, 400, 400, l)
	still := s.stillScene()
	s.Put(l)
	s.Highlight("a")
	if s.stillScene() != still {
		t.Error("the still layer is made anew though nothing of it changed")
	}
}

func TestPicture(t *testing.T) {
	p, err := NewPainter()
	if err != nil {
		t.Fatal(err)
	}
	pal := look.Palette(look.Light.Variant())
	img := p.Picture(pal, 80, 60, 1, 4, &Layer{Things: []*Thing{thing("", false, square(1000, 1000, 50))}})
	if img.RGBAAt(40, 30) == img.RGBAAt(1, 1) {
		t.Error("the drawing is not in the picture")
	}
}

// A frame of a figure of 60 lines after a change of view: the bar is one frame of 60
// a second, 16 ms.
func BenchmarkFrame(b *testing.B) {
	l := &Layer{}
	for i := range 60 {
		l.Things = append(l.Things, thing("x", false, square(float64(i), float64(i), 500)))
	}
	s := newSheet(b, 1100, 800, l)
	b.ReportAllocs()
	for b.Loop() {
		s.view = s.view.Pan(1, 0)
		s.Frame(1100, 800)
	}
}
