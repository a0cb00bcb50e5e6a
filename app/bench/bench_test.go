package bench

import (
	"image"
	"math"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

func TestDragPointIsOneStep(t *testing.T) {
	s := newStage(t, project(t, 4), 800, 600)
	s.click(s.inside(1), 0)
	if got := s.desk.Picked().Last(); got != desk.PieceRef(s.piece(1).ID) {
		t.Fatalf("a click on the piece picks %v", got)
	}
	before, cut := s.piece(1), mustFlat(t, s, 1).Cut
	from := s.corner(1, 3)
	s.drag(from, from.Add(geom.Pt(7, 4)), 0)
	if got, want := s.corner(1, 3), from.Add(geom.Pt(7, 4)); !got.Near(want, 0.3) {
		t.Errorf("the point lies at %v, want %v", got, want)
	}
	if s.steps() != 1 {
		t.Errorf("the drag is %d steps", s.steps())
	}
	if after := mustFlat(t, s, 1).Cut; math.Abs(after.Area()-cut.Area()) < 1 {
		t.Error("the cut line did not follow the point")
	}
	s.desk.Undo()
	if s.piece(1) != before {
		t.Error("undo does not bring the very piece back")
	}
	s.desk.Redo()
	if !s.corner(1, 3).Near(from.Add(geom.Pt(7, 4)), 0.3) {
		t.Error("redo does not move the point again")
	}
}

func mustFlat(t *testing.T, s *stage, i int) *draft.Flat {
	t.Helper()
	flat, err := s.desk.Slots().Flat(s.piece(i))
	if err != nil {
		t.Fatal(err)
	}
	return flat
}

func TestShiftKeepsADragStraight(t *testing.T) {
	s := newStage(t, project(t, 1), 800, 600)
	s.click(s.inside(0), 0)
	from := s.corner(0, 3)
	s.press(from, 0)
	s.mods = fyne.KeyModifierShift
	s.dragTo(from.Add(geom.Pt(9, 2)))
	s.release(from.Add(geom.Pt(9, 2)))
	if got := s.corner(0, 3); got.Y != from.Y || math.Abs(got.X-from.X-9) > 0.3 {
		t.Errorf("the point went from %v to %v", from, got)
	}
}

func TestEscapeTakesADragBack(t *testing.T) {
	s := newStage(t, project(t, 1), 800, 600)
	s.click(s.inside(0), 0)
	before := s.piece(0)
	from := s.corner(0, 2)
	s.press(from, 0)
	s.dragTo(from.Add(geom.Pt(12, 0)))
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	s.dragTo(from.Add(geom.Pt(20, 0)))
	s.release(from)
	if s.piece(0) != before || s.steps() != 0 {
		t.Error("Escape did not take the drag back")
	}
}

func TestDragHandleBendsOneSide(t *testing.T) {
	s := newStage(t, project(t, 1), 800, 600)
	s.click(s.middle(0, 4), 0)
	ref := s.desk.Picked().Last()
	if ref.Kind != desk.Edge || ref.Edge != s.piece(0).Edges[4].ID {
		t.Fatalf("a click on the edge picks %v", ref)
	}
	n := s.piece(0).Edges[4].Nodes[0]
	tip := s.piece(0).Place.Affine().Apply(n.At.Add(n.Out))
	before := s.piece(0).EdgeLength(4)
	s.drag(tip, tip.Add(geom.Pt(-2, 8)), 0)
	after := s.piece(0).Edges[4].Nodes[0]
	if after.At != n.At || after.In != n.In {
		t.Error("more than the handle moved")
	}
	if got := after.Out.Sub(n.Out); !got.Near(geom.Pt(-2, 8), 0.3) {
		t.Errorf("the handle moved by %v", got)
	}
	if s.piece(0).EdgeLength(4) == before || s.steps() != 1 {
		t.Error("the edge is as long as before, or the drag is not one step")
	}
}

func TestDragPieceOnlyPlacesIt(t *testing.T) {
	s := newStage(t, project(t, 2), 800, 600)
	at := s.inside(0)
	outline := s.piece(0).DrawnPath()
	s.drag(at, at.Add(geom.Pt(-30, 15)), 0)
	if got := s.inside(0); !got.Near(at.Add(geom.Pt(-30, 15)), 0.3) {
		t.Errorf("the piece lies at %v", got)
	}
	for i, seg := range s.piece(0).DrawnPath() {
		if seg != outline[i] {
			t.Fatal("the drag changed the piece itself")
		}
	}
}

// A point that is dragged and brought back to where it was is no step, and stays what it
// was.
func TestDragThereAndBackIsNoStep(t *testing.T) {
	s := newStage(t, project(t, 1), 800, 600)
	s.desk.Pick(desk.PieceRef(s.piece(0).ID))
	before, steps, corner := s.desk.Project(), s.steps(), s.corner(0, 0)
	s.press(corner, 0)
	s.dragTo(corner.Add(geom.Pt(12, 9)))
	if s.desk.Project() == before {
		t.Fatal("the drag moves nothing")
	}
	s.dragTo(corner)
	s.release(corner)
	if s.desk.Project() != before || s.steps() != steps {
		t.Errorf("%d steps became %d", steps, s.steps())
	}
}

// A drag by an edge reshapes the piece only once it is picked; before, it moves it.
func TestDragByAnEdge(t *testing.T) {
	for _, picked := range []bool{false, true} {
		s := newStage(t, project(t, 2), 800, 600)
		if picked {
			s.click(s.inside(0), 0)
		}
		body := s.scene.bodies[s.piece(0).ID]
		edge := body.edges[0]
		at := body.place.Apply(edge.At(edge.AtLength(edge.Length() * 0.4)))
		outline := s.piece(0).DrawnPath()
		s.drag(at, at.Add(geom.Pt(-30, 15)), 0)
		reshaped := false
		for i, seg := range s.piece(0).DrawnPath() {
			reshaped = reshaped || seg != outline[i]
		}
		if reshaped != picked || s.steps() != 1 {
			t.Errorf("picked before: %v; reshaped: %v in %d steps", picked, reshaped, s.steps())
		}
		s.desk.Undo()
		s.desk.Pick()
		if s.click(at, 0); s.desk.Picked().Last().Kind != desk.Edge {
			t.Errorf("a click on an edge picks %+v", s.desk.Picked())
		}
	}
}

func TestNudges(t *testing.T) {
	s := newStage(t, project(t, 1), 800, 600)
	s.click(s.inside(0), 0)
	s.click(s.corner(0, 3), 0)
	at := s.corner(0, 3)
	key := func(k fyne.KeyName, mods fyne.KeyModifier) {
		s.mods = mods
		if mods&fyne.KeyModifierControl != 0 {
			s.TypedShortcut(&desktop.CustomShortcut{KeyName: k, Modifier: mods})
		} else {
			s.TypedKey(&fyne.KeyEvent{Name: k})
		}
		s.mods = 0
	}
	key(fyne.KeyRight, 0)
	key(fyne.KeyUp, fyne.KeyModifierShift)
	key(fyne.KeyLeft, fyne.KeyModifierControl)
	if got, want := s.corner(0, 3), at.Add(geom.Pt(0.9, 10)); !got.Near(want, 1e-6) {
		t.Errorf("nudged to %v, want %v", got, want)
	}
	if s.steps() != 1 {
		t.Errorf("nudges in a row are %d steps", s.steps())
	}
}

func TestClicksPick(t *testing.T) {
	s := newStage(t, project(t, 3), 900, 600)
	s.click(s.middle(0, 1), 0)
	s.click(s.middle(2, 1), fyne.KeyModifierShift)
	if got := s.desk.Picked().Of(desk.Edge); len(got) != 2 {
		t.Errorf("Shift and click picks %v", got)
	}
	s.click(s.middle(2, 1), fyne.KeyModifierShift)
	if got := s.desk.Picked().Of(desk.Edge); len(got) != 1 {
		t.Errorf("Shift and click again leaves %v", got)
	}
	s.click(geom.Pt(-40, -40), 0)
	if got := s.desk.Picked(); len(got) != 0 {
		t.Errorf("a click on the bare bench leaves %v", got)
	}
	all := s.scene.bounds()
	s.drag(all.Min.Sub(geom.Pt(5, 5)), geom.Pt(80, all.Max.Y+5), 0)
	if got := s.desk.Picked(); len(got) != 1 || got[0] != desk.PieceRef(s.piece(0).ID) {
		t.Errorf("a box round the first piece picks %v", got)
	}
}

// A press that was let go over something else, so that the bench never hears of it, ends as
// soon as the pointer comes back with no button held: the next click counts again.
func TestAPressLetGoElsewhereEnds(t *testing.T) {
	s := newStage(t, project(t, 2), 900, 700)
	s.press(s.inside(0), 0)
	s.hover(s.inside(1))
	s.now = s.now.Add(time.Second)
	s.click(s.inside(1), 0)
	if got := s.desk.Picked(); len(got) != 1 || got[0] != desk.PieceRef(s.piece(1).ID) {
		t.Errorf("picked is %v", got)
	}
}

func TestDoubleClickPutsAPoint(t *testing.T) {
	s := newStage(t, project(t, 1), 800, 600)
	length, count := s.piece(0).EdgeLength(4), len(s.piece(0).Edges[4].Nodes)
	at := s.middle(0, 4)
	s.press(at, 0)
	now := s.now
	s.release(at)
	s.now = now.Add(doubleTime / 2)
	s.click(at, 0)
	if got := len(s.piece(0).Edges[4].Nodes); got != count+1 {
		t.Fatalf("the edge has %d points, want %d", got, count+1)
	}
	if got := s.piece(0).EdgeLength(4); math.Abs(got-length) > 1e-4 {
		t.Errorf("the edge is %v mm long, before %v", got, length)
	}
	if s.desk.Picked().Last().Kind != desk.Node {
		t.Error("the new point is not picked")
	}
}

func TestZoomKeepsThePointUnderThePointer(t *testing.T) {
	for _, dpr := range []int{1, 2} {
		s := newStage(t, project(t, 4), 700, 500)
		s.Frame(700*dpr, 500*dpr)
		pos := fyne.NewPos(123, 341)
		before := s.view.UnitsToMM(float64(pos.X), float64(pos.Y))
		scale := s.view.Scale
		e := &fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 3*wheelNotch)}
		e.Position = pos
		s.Scrolled(e)
		if s.view.Scale <= scale {
			t.Fatal("the wheel does not zoom")
		}
		if after := s.view.UnitsToMM(float64(pos.X), float64(pos.Y)); !after.Near(before, 1e-9) {
			t.Errorf("at %d px a unit the place under the pointer went from %v to %v", dpr, before, after)
		}
	}
}

func TestMiddleDragMovesTheView(t *testing.T) {
	s := newStage(t, project(t, 1), 700, 500)
	before := s.view.UnitsToMM(100, 100)
	e := &desktop.MouseEvent{Button: desktop.MouseButtonTertiary}
	e.Position = fyne.NewPos(100, 100)
	s.MouseDown(e)
	d := &fyne.DragEvent{}
	d.Position = fyne.NewPos(160, 80)
	s.Dragged(d)
	s.DragEnd()
	if after := s.view.UnitsToMM(160, 80); !after.Near(before, 1e-9) {
		t.Errorf("%v is now where %v was taken hold of", after, before)
	}
	if s.steps() != 0 {
		t.Error("moving the view changed the document")
	}
}

// Everything can be reached by keys alone: pieces, then their edges and points.
func TestKeysReachEverything(t *testing.T) {
	s := newStage(t, project(t, 3), 800, 600)
	key := func(k fyne.KeyName) { s.TypedKey(&fyne.KeyEvent{Name: k}) }
	key(fyne.KeyPageDown)
	key(fyne.KeyPageDown)
	if got := s.desk.Picked().Last(); got != desk.PieceRef(s.piece(1).ID) {
		t.Fatalf("Page Down twice picks %v", got)
	}
	s.TypedRune('e')
	s.TypedRune('.')
	if got := s.desk.Picked().Last(); got != desk.EdgeRef(s.piece(1).ID, s.piece(1).Edges[1].ID) {
		t.Errorf("e and . pick %v", got)
	}
	s.TypedRune('p')
	seen := map[draft.ID]bool{}
	for range 12 {
		seen[s.desk.Picked().Last().Node] = true
		s.TypedRune('.')
	}
	if len(seen) != 12 {
		t.Errorf("%d of 12 points can be reached", len(seen))
	}
	key(fyne.KeyEscape)
	key(fyne.KeyEscape)
	if len(s.desk.Picked()) != 0 {
		t.Error("Escape does not get out")
	}
}

// A frame after a change equals a frame painted from nothing.
func TestFramesAreWhole(t *testing.T) {
	s := newStage(t, project(t, 9), 640, 480)
	s.click(s.inside(4), 0)
	from := s.corner(4, 2)
	s.press(from, 0)
	for i := range 6 {
		s.dragTo(from.Add(geom.Pt(float64(i)*3, float64(i)*-2)))
		s.Frame(640, 480)
	}
	s.release(from.Add(geom.Pt(15, -10)))
	got := clone(s.Frame(640, 480))
	fresh := newStage(t, s.desk.Project(), 640, 480)
	fresh.look(s.view)
	fresh.desk.Pick(s.desk.Picked()...)
	fresh.scene.hover = s.scene.hover
	want := fresh.Frame(640, 480)
	for i := range want.Pix {
		if got.Pix[i] != want.Pix[i] {
			t.Fatalf("pixel %d, %d differs", i/4%640, i/4/640)
		}
	}
}

// The pieces fill the bench, clear of what covers its top, until the view is moved.
func TestPiecesAreFittedUntilTheViewIsMoved(t *testing.T) {
	s := newStage(t, project(t, 9), 640, 480)
	s.SetCovered(60)
	for _, size := range []image.Point{{900, 500}, {500, 900}, {1800, 1000}} {
		s.Frame(size.X, size.Y)
		box := s.scene.bounds()
		low, high := s.view.ToPx(box.Min), s.view.ToPx(box.Max)
		top := (60 + fitMargin*float64(size.Y)/s.view.DPR) * s.view.DPR
		left, over := low.X-fitMargin*float64(size.X), high.Y-top
		if left < -0.01 || over < -0.01 || min(left, over) > 0.01 {
			t.Errorf("on %v the pieces lie %.2f px from the side and %.2f px from the top that they may reach", size, left, over)
		}
	}
	s.Scroll(geom.Pt(3, 0))
	before := s.view.Percent()
	s.Frame(900, 500)
	if math.Abs(s.view.Percent()-before) > 1e-9 {
		t.Error("a view that was moved is fitted anew when the bench changes its size")
	}
}

// What was asked to be shown before the bench was ever seen is shown once it is.
func TestPickedPiecesAreFittedOnceThereIsRoom(t *testing.T) {
	s := newStage(t, project(t, 9), 640, 480)
	s.view, s.sized = paint.NewView(1, 1, 1), false
	a, b := s.desk.Project().Pieces[3].ID, s.desk.Project().Pieces[4].ID
	s.desk.Pick(desk.PieceRef(a), desk.PieceRef(b))
	s.FitPicked()
	for _, size := range []image.Point{{900, 500}, {1800, 1000}} {
		s.Frame(size.X, size.Y)
		if want := s.fitted(a, b); s.view != want {
			t.Errorf("on %v the view is %v, not %v", size, s.view, want)
		}
	}
	s.Fit()
	if s.Frame(900, 500); s.view != s.fitted() {
		t.Error("all pieces are not shown again")
	}
}

// The letter of a seam on a band that is too shallow for it stands clear of the
// band at any scale, that on a roomy piece inside it.
func TestLettersStayOffTheLines(t *testing.T) {
	band := func(high float64) draft.Outline {
		return draft.Outline{Path: geom.Polygon(geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(80, high), geom.Pt(0, high)), Corner: []bool{true, true, true, true}}
	}
	for high, outside := range map[float64]bool{8: true, 60: false} {
		out, err := draft.ImportOutlines.Do(draft.New("test"), draft.ImportOutlinesArgs{Outlines: []draft.Outline{band(high)}, Allowance: 4})
		if err != nil {
			t.Fatal(err)
		}
		piece := out.Project.Pieces[0]
		body := newBody(draft.NewSlots(), piece)
		text := (&pieceDrawing{body: body}).letter(0, 80, seamMark{letter: "A", share: letterShare}, piece.Edges[0].Allowance)
		const capHigh = 8                             // of a letter, in units
		for _, scale := range []float64{0.5, 2, 20} { // units to a mm
			middle := text.At.Add(geom.Pt(text.DX, letterDrop-text.DY).Mul(1 / scale))
			_, off := body.cut.Nearest(middle)
			if body.cut.Contains(middle) == outside || off*scale < capHigh/2+cutWidth {
				t.Errorf("a band %v mm high at %v units a mm: the letter stands %.1f units off the cut line, outside wanted: %v", high, scale, off*scale, outside)
			}
		}
	}
}

func clone(img *image.RGBA) *image.RGBA {
	out := image.NewRGBA(img.Rect)
	copy(out.Pix, img.Pix)
	return out
}

func TestSeamsBearTheSameLetter(t *testing.T) {
	s := newStage(t, project(t, 3), 900, 600)
	s.click(s.middle(0, 1), 0)
	s.click(s.middle(2, 5), fyne.KeyModifierShift)
	s.Bench.hand.LinkPicked()
	seams := s.desk.Project().Seams
	if len(seams) != 1 {
		t.Fatalf("%d seams", len(seams))
	}
	for i, edge := range map[int]int{0: 1, 2: 5} {
		id := s.piece(i).Edges[edge].ID
		if got := (*s.scene.marks)[id]; len(got) != 1 || got[0].letter != "A" {
			t.Errorf("the edge of piece %d bears %v", i, got)
		}
	}
	s.desk.Undo()
	if len(s.desk.Project().Seams) != 0 {
		t.Error("linking a seam is more than one step")
	}
}

// A notch that is dragged goes along its edge in one step, told the way it was told.
func TestNotchToolMovesNotches(t *testing.T) {
	for _, fromEnd := range []bool{false, true} {
		s := newStage(t, project(t, 1), 800, 600)
		s.SetTool(tool.NewNotch(s.hand))
		piece := s.piece(0)
		length := piece.EdgeLength(1)
		err := desk.Run(s.desk, draft.AddNotch, draft.AddNotchArgs{
			Edge: draft.EdgeRef{Piece: piece.ID, Edge: piece.Edges[1].ID}, At: draft.EdgePlace{At: 0.25, Share: true, FromEnd: fromEnd},
		})
		if err != nil {
			t.Fatal(err)
		}
		at := func(along float64) geom.Point {
			path := s.piece(0).EdgePath(1)
			return s.piece(0).Place.Affine().Apply(path.At(path.AtLength(along)))
		}
		steps := s.steps()
		from, to := s.piece(0).Notches[0].Along(length), 0.6*length
		s.drag(at(from), at(to), 0)
		n := s.piece(0).Notches[0]
		if got := n.Along(length); len(s.piece(0).Notches) != 1 || math.Abs(got-to) > 0.3 {
			t.Errorf("dragged to %v mm, the notch is at %v", to, got)
		}
		if n.FromEnd != fromEnd || !n.Share || s.steps() != steps+1 {
			t.Errorf("the notch is %+v after %d steps", n, s.steps()-steps)
		}
		s.press(at(to), 0)
		s.dragTo(at(0.8 * length))
		s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		s.release(at(0.8 * length))
		if got := s.piece(0).Notches; len(got) != 1 || got[0] != n {
			t.Errorf("after Escape the notches are %+v", got)
		}
	}
}

func TestNotchToolMarksAndTakesAway(t *testing.T) {
	s := newStage(t, project(t, 1), 800, 600)
	s.SetTool(tool.NewNotch(s.hand))
	at := s.middle(0, 1)
	want := s.piece(0).EdgeLength(1) * 0.25
	s.click(at, 0)
	notches := s.piece(0).Notches
	if len(notches) != 1 || math.Abs(notches[0].Along(s.piece(0).EdgeLength(1))-want) > 0.3 {
		t.Fatalf("notches %+v, want one at %v mm", notches, want)
	}
	s.click(at, 0)
	if got := len(s.piece(0).Notches); got != 0 {
		t.Errorf("a click on the notch leaves %d", got)
	}
	s.click(at, fyne.KeyModifierShift)
	if got := s.piece(0).Notches; len(got) != 1 || !got[0].Double {
		t.Errorf("Shift and click marks %+v", got)
	}
}

func TestTapeMeasures(t *testing.T) {
	s := newStage(t, project(t, 1), 800, 600)
	tape := tool.NewTape(s.hand)
	s.SetTool(tape)
	out := s.scene.bounds().Min.Sub(geom.Pt(20, 20)) // clear of everything
	s.drag(out, out.Add(geom.Pt(3, 4)), 0)
	if got := tape.Marks().Plate; !strings.HasPrefix(got, "5 mm") { // 3, 4, 5
		t.Errorf("the tape reads %q", got)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if tape.Marks().Plate != "" || s.steps() != 0 {
		t.Error("the tape stays after Escape, or changed the document")
	}
}

// BenchmarkRepaint paints the whole bench anew, as after a change of the view; a move by
// whole pixels would paint its new strip alone.
func BenchmarkRepaint(b *testing.B) {
	s := newStage(b, project(b, 100), 1600, 1000)
	s.Fit()
	s.Frame(1600, 1000)
	shift := 0.5
	for b.Loop() {
		shift = -shift
		s.view = s.view.Pan(shift, 0)
		s.Frame(1600, 1000)
	}
}

// BenchmarkDragStep moves a point by a step: the act, the cut line, the checks, and
// what has to be painted again.
func BenchmarkDragStep(b *testing.B) {
	s := newStage(b, project(b, 100), 1600, 1000)
	s.click(s.inside(55), 0)
	from := s.corner(55, 3)
	s.press(from, 0)
	s.dragTo(from.Add(geom.Pt(3, 3)))
	i := 0
	for b.Loop() {
		i++
		s.dragTo(from.Add(geom.Pt(3+float64(i%7), 3+float64(i%5))))
		s.Frame(1600, 1000)
	}
	s.release(from)
}

// What an act has made out of sight is shown together with what it was made from.
func TestShowBringsPiecesIntoSightTogether(t *testing.T) {
	s := newStage(t, project(t, 20), 800, 600)
	s.ZoomBy(8)
	first, last := s.piece(0).ID, s.piece(19).ID
	s.show(first, last)
	for _, id := range []draft.ID{first, last} {
		pos, size, ok := s.Where(id)
		if !ok || pos.X < 0 || pos.Y < 0 || pos.X+size.Width > 800 || pos.Y+size.Height > 600 {
			t.Errorf("piece %s lies at %v, %v large", id, pos, size)
		}
	}
	before := s.view
	s.show(first)
	if s.view != before {
		t.Error("what is in sight already is moved")
	}
}
