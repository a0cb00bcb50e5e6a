package bench

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// ctrl keeps the pointer from being caught.
const ctrl = fyne.KeyModifierControl

// penStage is a bench with the pen in hand and one yoke, whose outline begins at 0,0.
func penStage(t *testing.T) *stage {
	t.Helper()
	s := newStage(t, project(t, 1), 900, 700)
	s.SetTool(tool.NewPen(s.hand))
	return s
}

// move moves the pointer with no button held, with keys held.
func (s *stage) move(p geom.Point, mods fyne.KeyModifier) {
	e := &desktop.MouseEvent{Modifier: mods}
	e.Position = s.units(p)
	s.MouseMoved(e)
}

// typeIn types a text at the bench.
func (s *stage) typeIn(text string) {
	for _, r := range text {
		s.TypedRune(r)
	}
}

func (s *stage) key(k fyne.KeyName) { s.TypedKey(&fyne.KeyEvent{Name: k}) }

func (s *stage) lines() []draft.Line { return s.piece(0).Lines }

func TestPenMakesAPieceOfAClosedLine(t *testing.T) {
	s := penStage(t)
	before := s.steps()
	for _, p := range []geom.Point{{X: 80, Y: 0}, {X: 120, Y: 0}, {X: 120, Y: 50}} {
		s.click(p, ctrl)
	}
	s.drag(geom.Pt(80, 50), geom.Pt(70, 40), ctrl) // a curve
	if s.steps() != before {
		t.Fatal("a line under way is in the document")
	}
	s.click(geom.Pt(80.5, 0.5), ctrl) // near the first point
	if s.steps() != before+1 {
		t.Fatalf("%d steps for one piece", s.steps()-before)
	}
	p := s.desk.Project().Pieces[1]
	if len(p.Edges) != 3 || s.desk.Picked().Last() != desk.PieceRef(p.ID) {
		t.Fatalf("%d edges, picked %v", len(p.Edges), s.desk.Picked())
	}
	path := p.DrawnPath()
	if !path[0].P0.Near(geom.Pt(80, 0), 0.2) || path.Area() < 1500 {
		t.Errorf("the outline is %v", path)
	}
	curves := 0
	for _, seg := range path {
		if !seg.Straight {
			curves++
		}
	}
	if curves != 2 {
		t.Errorf("%d curves; the dragged point has one on either side", curves)
	}
	if p.Edges[0].Allowance != draft.Even(6) {
		t.Errorf("its allowance is %v", p.Edges[0].Allowance)
	}
	s.desk.Undo()
	if len(s.desk.Project().Pieces) != 1 {
		t.Error("undo does not take the piece away")
	}
}

func TestPenFromEdgeToEdgeIsAStyleLine(t *testing.T) {
	s := penStage(t)
	a, b := s.middle(0, 1), s.middle(0, 5)
	before := s.steps()
	s.click(a.Add(geom.Pt(0.3, 0)), 0) // near the edge, which catches it
	s.click(s.inside(0), ctrl)
	s.click(b.Sub(geom.Pt(0.3, 0)), 0)
	if len(s.lines()) != 1 || s.steps() != before+1 {
		t.Fatalf("%d lines in %d steps", len(s.lines()), s.steps()-before)
	}
	l := s.lines()[0]
	if l.Kind != draft.StyleLine || len(l.Nodes) != 3 {
		t.Errorf("%+v", l)
	}
	outline := s.piece(0).DrawnPath()
	for _, end := range []geom.Point{l.Path().Start(), l.Path().End()} {
		if _, d := outline.Nearest(end); d > 1e-5 {
			t.Errorf("an end lies %g mm off the edge", d)
		}
	}
	if s.desk.Picked().Last() != desk.ThingRef(desk.Line, s.piece(0).ID, l.ID) {
		t.Errorf("picked is %v", s.desk.Picked())
	}
}

func TestPenOpenLine(t *testing.T) {
	for name, end := range map[string]func(*stage){
		"enter":        func(s *stage) { s.key(fyne.KeyReturn) },
		"double click": func(s *stage) { s.click(geom.Pt(25, 45), ctrl) },
	} {
		s := penStage(t)
		s.click(geom.Pt(15, 15), ctrl)
		s.click(geom.Pt(35, 20), ctrl)
		s.click(geom.Pt(25, 45), ctrl)
		s.now = s.pointer.clickedAt.Add(doubleTime / 2)
		end(s)
		if len(s.lines()) != 1 || len(s.lines()[0].Nodes) != 3 || s.lines()[0].Kind != draft.PlacementLine {
			t.Errorf("%s: %+v", name, s.lines())
		}
	}
}

// Off every piece an open line has nowhere to belong; it stays in hand to be closed.
func TestPenOpenLineBesidePieces(t *testing.T) {
	s := penStage(t)
	s.click(geom.Pt(80, 0), ctrl)
	s.click(geom.Pt(120, 0), ctrl)
	s.click(geom.Pt(120, 40), ctrl)
	s.key(fyne.KeyReturn)
	if len(s.lines()) != 0 || s.steps() != 0 {
		t.Fatal("a line was made of it")
	}
	s.click(geom.Pt(80, 0), ctrl)
	if len(s.desk.Project().Pieces) != 2 {
		t.Error("it cannot be closed any more")
	}
}

func TestPenTypedFigures(t *testing.T) {
	s := penStage(t)
	s.click(geom.Pt(90, 0), ctrl)
	s.move(geom.Pt(120, 3), ctrl)
	s.typeIn("2*1cm<90") // as arithmetic
	if got := s.Tool().Marks(); got.Plate != "2*1cm  ·  90|" {
		t.Errorf("the plate says %q", got.Plate)
	}
	s.key(fyne.KeyReturn)
	s.move(geom.Pt(95, 20), ctrl)
	s.typeIn("15")
	s.key(fyne.KeyTab)
	s.typeIn("180")
	s.key(fyne.KeyReturn)
	s.click(geom.Pt(90, 0), ctrl)
	if len(s.desk.Project().Pieces) != 2 {
		t.Fatal("no piece was made")
	}
	path := s.desk.Project().Pieces[1].DrawnPath()
	from := path[0].P0
	want := []geom.Point{{X: 0, Y: 20}, {X: -15, Y: 20}}
	for i, w := range want {
		if got := path[i].P3.Sub(from); !got.Near(w, 1e-6) {
			t.Errorf("point %d lies %v from the first, want %v", i+1, got, w)
		}
	}
}

// What cannot be read is told, and nothing is made of it.
func TestPenTypedNonsense(t *testing.T) {
	s := penStage(t)
	s.click(geom.Pt(90, 0), ctrl)
	s.move(geom.Pt(120, 3), ctrl)
	s.typeIn("12cm/")
	s.key(fyne.KeyReturn)
	m := s.Tool().Marks()
	if len(m.Dots) != 1 {
		t.Errorf("%d points", len(m.Dots))
	}
	s.key(fyne.KeyEscape) // drops what is typed
	if m = s.Tool().Marks(); len(m.Dots) != 1 || m.Plate == "" {
		t.Error("Escape dropped more than what was typed")
	}
	s.key(fyne.KeyEscape)
	if m = s.Tool().Marks(); len(m.Dots) != 0 {
		t.Error("Escape did not drop the line")
	}
}

// Letters mean tools and commands again once nothing is under way.
func TestPenLeavesTheKeysAlone(t *testing.T) {
	s := penStage(t)
	var got []rune
	s.OnRune = func(r rune) bool { got = append(got, r); return true }
	s.typeIn("1v")
	s.click(geom.Pt(90, 0), ctrl)
	s.typeIn("v1m")
	if string(got) != "1vv" {
		t.Errorf("the window was given %q", string(got))
	}
	if !s.AcceptsTab() {
		t.Error("Tab leaves the bench while a line is drawn")
	}
	s.key(fyne.KeyEscape)
	s.key(fyne.KeyEscape)
	if s.AcceptsTab() {
		t.Error("Tab stays in the bench")
	}
}

func TestPenBackspace(t *testing.T) {
	s := penStage(t)
	for _, p := range []geom.Point{{X: 80, Y: 0}, {X: 120, Y: 0}, {X: 120, Y: 40}} {
		s.click(p, ctrl)
	}
	s.key(fyne.KeyBackspace)
	if n := len(s.Tool().Marks().Dots); n != 2 {
		t.Errorf("%d points are left", n)
	}
	s.typeIn("12")
	s.key(fyne.KeyBackspace)
	if m := s.Tool().Marks(); len(m.Dots) != 2 || m.Plate[:2] != "1|" {
		t.Errorf("%d points, %q", len(m.Dots), m.Plate)
	}
}

func TestPenShiftHoldsTheAngle(t *testing.T) {
	s := penStage(t)
	s.click(geom.Pt(90, 0), ctrl)
	s.click(geom.Pt(120, 9), ctrl|fyne.KeyModifierShift)
	s.click(geom.Pt(105, 30), ctrl)
	s.click(geom.Pt(90, 0), ctrl)
	path := s.desk.Project().Pieces[1].DrawnPath()
	way := path[0].P3.Sub(path[0].P0)
	if got := way.Angle() * 180 / math.Pi; math.Abs(got-15) > 1e-4 {
		t.Errorf("it runs at %.5f degrees", got)
	}
}

// A held key counts at once, though the pointer stands still; the driver tells the
// bench so, and says nothing of it with a move.
func TestPenSeesHeldKeys(t *testing.T) {
	s := penStage(t)
	s.click(geom.Pt(90, 0), ctrl)
	s.mods = fyne.KeyModifierShift
	s.move(geom.Pt(120, 9), 0)
	held := s.Tool().Marks().Plate
	s.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	free := s.Tool().Marks().Plate
	s.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	again := s.Tool().Marks().Plate
	if !strings.HasSuffix(held, "15°") || strings.HasSuffix(free, "15°") || again != held {
		t.Errorf("held %q, let go %q, held again %q", held, free, again)
	}
}

// From an edge Shift holds the line square to it, whatever way the edge lies.
func TestPenShiftIsSquareToTheEdge(t *testing.T) {
	s := penStage(t)
	p := s.piece(0)
	path := p.EdgePath(1)
	place := path.AtLength(path.Length() * 0.4)
	s.click(path.At(place), 0)
	l := penLast(s)
	near, _ := path.Nearest(l)
	out := path.Tangent(near).Left()
	s.move(l.Add(geom.Rotation(0.04, geom.Point{}).ApplyVector(out.Mul(20))), fyne.KeyModifierShift)
	m := s.Tool().Marks()
	way := m.PlateAt.Sub(l)
	if math.Abs(way.Unit().Cross(out)) > 1e-6 {
		t.Errorf("it is %.4f degrees off square", math.Asin(way.Unit().Cross(out))*180/math.Pi)
	}
	if want := "square to " + p.Edges[1].Name; m.Plate[len(m.Plate)-len(want):] != want {
		t.Errorf("the plate says %q", m.Plate)
	}
}

func penLast(s *stage) geom.Point {
	dots := s.Tool().Marks().Dots
	return dots[len(dots)-1].At
}

func TestPenGoesOnWithALine(t *testing.T) {
	s := penStage(t)
	s.click(geom.Pt(15, 15), ctrl)
	s.click(geom.Pt(35, 20), ctrl)
	s.key(fyne.KeyReturn)
	s.click(geom.Pt(35.4, 20.2), 0)
	s.click(geom.Pt(30, 40), ctrl)
	s.key(fyne.KeyReturn)
	if len(s.lines()) != 1 || len(s.lines()[0].Nodes) != 3 {
		t.Fatalf("%+v", s.lines())
	}
	// And round to its start.
	s.click(geom.Pt(30, 40), 0)
	s.click(geom.Pt(15, 15), ctrl)
	if l := s.lines()[0]; !l.Closed || len(l.Nodes) != 3 {
		t.Errorf("%+v", l)
	}
}

func TestFigures(t *testing.T) {
	s := newStage(t, project(t, 1), 900, 700)
	s.SetTool(tool.NewShape(s.hand))
	s.drag(geom.Pt(80, 0), geom.Pt(120, 30), ctrl)
	pieces := s.desk.Project().Pieces
	if len(pieces) != 2 || len(pieces[1].Edges) != 4 || math.Abs(pieces[1].DrawnPath().Area()-1200) > 20 {
		t.Fatalf("a rectangle: %d pieces", len(pieces))
	}
	s.typeIn("r") // now an oval, by two clicks
	s.click(geom.Pt(80, 40), ctrl)
	s.move(geom.Pt(110, 65), ctrl|fyne.KeyModifierShift)
	s.click(geom.Pt(110, 65), ctrl|fyne.KeyModifierShift)
	pieces = s.desk.Project().Pieces
	if len(pieces) != 3 || len(pieces[2].Edges) != 1 {
		t.Fatalf("an oval: %d pieces", len(pieces))
	}
	if box := pieces[2].DrawnPath().Bounds(); math.Abs(box.W()-box.H()) > 1e-4 || math.Abs(box.W()-30) > 0.3 {
		t.Errorf("with Shift it is %v by %v", box.W(), box.H())
	}
	// Inside a piece it is a line on it, with typed figures.
	s.click(geom.Pt(20, 20), ctrl)
	s.move(geom.Pt(25, 24), ctrl)
	s.typeIn("8<6")
	s.key(fyne.KeyReturn)
	if len(s.lines()) != 1 {
		t.Fatal("an oval on a piece is no line on it")
	}
	if box := s.lines()[0].Path().Bounds(); math.Abs(box.W()-8) > 1e-5 || math.Abs(box.H()-6) > 1e-5 {
		t.Errorf("typed 8 by 6, it is %v by %v", box.W(), box.H())
	}
	// An arc has its ends first, then its rise.
	s.typeIn("r")
	s.click(geom.Pt(80, 80), ctrl)
	s.click(geom.Pt(120, 80), ctrl)
	s.move(geom.Pt(100, 86), ctrl)
	s.typeIn("10")
	s.key(fyne.KeyReturn)
	pieces = s.desk.Project().Pieces
	if len(pieces) != 4 || len(pieces[3].Edges) != 2 {
		t.Fatalf("an arc: %d pieces", len(pieces))
	}
	if h := pieces[3].DrawnPath().Bounds().H(); math.Abs(h-10) > 1e-3 {
		t.Errorf("it rises %v", h)
	}
	if s.steps() != 4 {
		t.Errorf("%d steps for four figures", s.steps())
	}
}

func TestBendPullsAnEdge(t *testing.T) {
	s := newStage(t, project(t, 1), 900, 700)
	s.SetTool(tool.NewBend(s.hand))
	at := s.middle(0, 1)
	before := s.piece(0)
	to := at.Add(geom.Pt(6, 1))
	s.drag(at, to, ctrl)
	if s.steps() != 1 {
		t.Fatalf("%d steps", s.steps())
	}
	if _, d := s.piece(0).EdgePath(1).Nearest(to); d > 0.3 {
		t.Errorf("the edge passes the pointer by %g mm", d)
	}
	for _, i := range []int{0, 3, 4, 5} {
		if a, b := s.piece(0).EdgePath(i), before.EdgePath(i); a[0] != b[0] || a[1] != b[1] {
			t.Errorf("edge %d has changed", i)
		}
	}
	s.desk.Undo()
	length := s.piece(0).EdgeLength(1)
	s.drag(at, to, ctrl|fyne.KeyModifierShift)
	if got := s.piece(0).EdgeLength(1); math.Abs(got-length) > 1e-5 {
		t.Errorf("with Shift it went from %.6f to %.6f", length, got)
	}
	s.desk.Undo()
	s.press(at, ctrl)
	s.dragTo(to)
	s.key(fyne.KeyEscape)
	s.release(to)
	if s.piece(0) != before {
		t.Error("Escape did not take the pull back")
	}
}

func TestBendPullsALine(t *testing.T) {
	s := penStage(t)
	s.click(geom.Pt(15, 15), ctrl)
	s.click(geom.Pt(45, 20), ctrl)
	s.key(fyne.KeyReturn)
	s.SetTool(tool.NewBend(s.hand))
	s.desk.Pick()
	s.drag(geom.Pt(30, 17.5), geom.Pt(28, 30), ctrl)
	if _, d := s.lines()[0].Path().Nearest(geom.Pt(28, 30)); d > 0.3 {
		t.Errorf("the line passes the pointer by %g mm", d)
	}
}
