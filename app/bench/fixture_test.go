package bench

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// yoke returns an outline of 12 cubics, about 100 mm across, whose lower left is at
// the place: half of a yoke with a hollow neck and armhole.
func yoke(at geom.Point, name string) draft.Outline {
	corners := []geom.Point{{X: 0, Y: 0}, {X: 60, Y: 2}, {X: 64, Y: 40}, {X: 50, Y: 72}, {X: 20, Y: 80}, {X: 0, Y: 60}}
	// The curve bulges out of the chord (positive) or hollows into it.
	bulge := []float64{-1, -2, 3, -1, 4, -0.5}
	var path geom.Path
	var corner []bool
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		chord := b.Sub(a)
		in := chord.Left().Unit().Mul(bulge[i])
		p1, p2 := a.Lerp(b, 1./3).Add(in), a.Lerp(b, 2./3).Add(in)
		first, second := geom.Cubic(a.Add(at), p1.Add(at), p2.Add(at), b.Add(at)).Split(0.5)
		path = append(path, first, second)
		corner = append(corner, true, false)
	}
	return draft.Outline{Path: path, Corner: corner, Name: name}
}

// project returns a project of n pieces in a square, with an allowance of 6 mm.
func project(tb testing.TB, n int) *draft.Project {
	tb.Helper()
	var outlines []draft.Outline
	for i := range n {
		outlines = append(outlines, yoke(geom.Pt(float64(i%10)*90, float64(i/10)*110), ""))
	}
	out, err := draft.ImportOutlines.Do(draft.New("test"), draft.ImportOutlinesArgs{Outlines: outlines, Allowance: 6})
	if err != nil {
		tb.Fatal(err)
	}
	return out.Project
}

// stage is a bench in a window of the toolkit's test driver.
type stage struct {
	*Bench
	desk *desk.Desk
	mods fyne.KeyModifier
	now  time.Time
}

func newStage(tb testing.TB, p *draft.Project, w, h float32) *stage {
	tb.Helper()
	a := test.NewApp()
	tb.Cleanup(func() { test.NewApp() })
	a.Settings().SetTheme(look.NewTheme(look.Light))
	d := desk.New(p)
	b, err := New(d, *look.Palette(1))
	if err != nil {
		tb.Fatal(err)
	}
	s := &stage{Bench: b, desk: d, now: time.Unix(1e9, 0)}
	b.Modifiers = func() fyne.KeyModifier { return s.mods }
	b.Now = func() time.Time { return s.now }
	b.SetTool(tool.NewSelect(b.Hand(func(text string) { tb.Log(text) })))
	win := test.NewWindow(b)
	tb.Cleanup(win.Close)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	b.Frame(int(w), int(h))
	return s
}

// units returns where a place on the bench lies in the widget.
func (s *stage) units(p geom.Point) fyne.Position {
	px := s.view.ToPx(p)
	return fyne.NewPos(float32(px.X/s.view.DPR), float32(px.Y/s.view.DPR))
}

// press and drag do with the left button what the driver would; drags come in
// steps, as from a hand.
func (s *stage) press(p geom.Point, mods fyne.KeyModifier) {
	s.mods = mods
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, Modifier: mods}
	e.Position = s.units(p)
	s.MouseDown(e)
}

func (s *stage) release(p geom.Point) {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, Modifier: s.mods}
	e.Position = s.units(p)
	s.MouseUp(e)
	s.DragEnd()
	s.now = s.now.Add(time.Second)
	s.mods = 0
}

func (s *stage) click(p geom.Point, mods fyne.KeyModifier) {
	s.press(p, mods)
	s.release(p)
}

func (s *stage) drag(from, to geom.Point, mods fyne.KeyModifier) {
	s.press(from, mods)
	for i := 1; i <= 5; i++ {
		s.dragTo(from.Lerp(to, float64(i)/5))
	}
	s.release(to)
}

func (s *stage) dragTo(p geom.Point) {
	e := &fyne.DragEvent{}
	e.Position = s.units(p)
	s.Dragged(e)
}

// hover moves the pointer with no button held.
func (s *stage) hover(p geom.Point) {
	e := &desktop.MouseEvent{Modifier: s.mods}
	e.Position = s.units(p)
	s.MouseMoved(e)
}

func (s *stage) piece(i int) *draft.Piece { return s.desk.Project().Pieces[i] }

// corner returns where the corner at which edge i of a piece starts lies.
func (s *stage) corner(piece, i int) geom.Point {
	p := s.piece(piece)
	return p.Place.Affine().Apply(p.Edges[i].Nodes[0].At)
}

// middle returns a place clear of handles on edge i of a piece on the bench.
func (s *stage) middle(piece, i int) geom.Point {
	p := s.piece(piece)
	path := p.EdgePath(i)
	return p.Place.Affine().Apply(path.At(path.AtLength(path.Length() * 0.25)))
}

// inside returns a place in the middle of a piece.
func (s *stage) inside(piece int) geom.Point {
	p := s.piece(piece)
	c, _ := p.DrawnPath().Centroid()
	return p.Place.Affine().Apply(c)
}

func (s *stage) steps() int {
	_, at := s.desk.History().Steps()
	return at
}
