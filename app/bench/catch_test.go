package bench

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// A point that is dragged near a point of another piece comes to lie on it, and with
// Ctrl where the pointer is.
func TestDraggedPointsAreCaught(t *testing.T) {
	for _, held := range []bool{false, true} {
		s := newStage(t, project(t, 2), 900, 600)
		s.click(s.inside(0), 0)
		from, other := s.corner(0, 1), s.corner(1, 0)
		to := other.Add(geom.Pt(4, -3).Mul(s.view.MM(1)))
		mods := fyne.KeyModifier(0)
		if held {
			mods = fyne.KeyModifierControl
		}
		s.press(from, 0)
		s.mods = mods
		s.dragTo(from.Lerp(to, 0.5))
		s.dragTo(to)
		if got := s.tool.Marks().Caught.Kind; (got == tool.CaughtPoint) == held {
			t.Errorf("Ctrl held: %v, caught by %v", held, got)
		}
		s.release(to)
		want, slack := other, 1e-6
		if held {
			want, slack = to, 0.3
		}
		if got := s.corner(0, 1); !got.Near(want, slack) {
			t.Errorf("Ctrl held: %v; the point lies at %v, want %v", held, got, want)
		}
	}
}

// A piece that is taken by its corner is laid corner on corner.
func TestPiecesAreLaidCornerOnCorner(t *testing.T) {
	s := newStage(t, project(t, 2), 900, 600)
	from, to := s.corner(0, 1), s.corner(1, 0)
	s.drag(from, to.Add(geom.Pt(3, 3).Mul(s.view.MM(1))), 0)
	if got := s.corner(0, 1); !got.Near(to, 1e-6) {
		t.Errorf("the corner lies at %v, want %v", got, to)
	}
	if got := s.desk.Picked().Last(); got.Kind != desk.Piece {
		t.Errorf("the drag moved %+v", got)
	}
}

// marked returns a stage with one piece that bears one of everything.
func marked(t *testing.T) (*stage, *draft.Piece) {
	p := project(t, 1)
	piece := p.Pieces[0]
	do := func(name string, args map[string]string) {
		t.Helper()
		for _, act := range draft.Acts() {
			if act.Info().Name == name {
				out, err := act.DoText(p, args)
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				p = out.Project
				return
			}
		}
		t.Fatalf("no act %s", name)
	}
	edge := func(i int) string { return piece.Name + "." + string(piece.Edges[i].ID) }
	do("add-notch", map[string]string{"edge": edge(2), "at": "50%", "shape": "v"})
	do("add-stretch", map[string]string{"edge": edge(0), "from": "30%", "to": "70%"})
	do("draw-line", map[string]string{"line": "M 10 30 L 50 34", "piece": piece.Name, "name": "yoke"})
	do("add-mark", map[string]string{"piece": piece.Name, "at": "20mm,45mm"})
	do("add-dart", map[string]string{"edge": edge(3), "at": "50%", "intake": "6mm", "length": "14mm"})
	do("add-dimension", map[string]string{"edges": edge(2), "name": "top"})
	s := newStage(t, p, 900, 600)
	return s, s.piece(0)
}

// Every kind of mark is touched at any zoom over a width of 9 screen units at least, and
// a click takes what hovering has shown.
func TestMarksAreTouchedAtAnyZoom(t *testing.T) {
	s, p := marked(t)
	place := p.Place.Affine()
	dart := p.Darts[0]
	from, _, _ := p.Node(dart.From)
	stretch := s.scene.bodies[p.ID].part(desk.ThingRef(desk.Stretch, p.ID, p.Stretches[0].ID)).paths[0]
	middle := stretch.AtLength(stretch.Length() / 2)
	notch := s.scene.bodies[p.ID].part(desk.ThingRef(desk.Notch, p.ID, p.Notches[0].ID))
	dimension := p.Spans[len(p.Spans)-1]
	along := s.scene.bodies[p.ID].part(desk.ThingRef(desk.Dimension, p.ID, dimension.ID)).paths[0]
	third := along.AtLength(along.Length() / 3)
	line, drill := &p.Lines[0], &p.Lines[1]
	leg := dart.Apex.Sub(from.At).Unit()
	for _, zoom := range []float64{1, 3, 8} {
		s.Fit()
		s.look(s.view.ZoomAt(geom.Pt(450, 300), zoom))
		u := s.view.MM(1)
		for _, c := range []struct {
			what   string
			ref    desk.Ref
			at     geom.Point // in the piece
			across geom.Point
			half   float64
		}{
			{"line", desk.ThingRef(desk.Line, p.ID, line.ID), line.Nodes[0].At.Lerp(line.Nodes[1].At, 0.3), geom.Pt(0, 1), 4.5},
			{"drill point", desk.ThingRef(desk.Line, p.ID, drill.ID), drill.Nodes[0].At, geom.Pt(1, 0), 4.5},
			{"dart", desk.ThingRef(desk.Dart, p.ID, dart.ID), from.At.Lerp(dart.Apex, 0.6), leg.Left(), 4.5},
			{"notch", desk.ThingRef(desk.Notch, p.ID, p.Notches[0].ID), notch.notch.Add(notch.out.Mul(notchLength / 2 * u)), notch.out.Left(), 4.5},
			{"stretch", desk.ThingRef(desk.Stretch, p.ID, p.Stretches[0].ID), stretch.At(middle).Add(stretch.Tangent(middle).Left().Mul((stretchInset + 1) * u)), stretch.Tangent(middle).Left(), 4.4},
			{"dimension", desk.ThingRef(desk.Dimension, p.ID, dimension.ID), along.At(third).Add(along.Tangent(third).Left().Mul(dimensionInset * u)), along.Tangent(third).Left(), 4.5},
		} {
			for _, off := range []float64{-c.half, 0, c.half} {
				at := place.Apply(c.at.Add(c.across.Mul(off * u)))
				if got := s.scene.hitAt(at, u, takesOf(nil)); got.ref != c.ref {
					t.Errorf("zoom %v: %.1f units off the %s lies %+v", zoom, off, c.what, got.ref)
				}
			}
			at := place.Apply(c.at)
			s.hover(at)
			shown := s.scene.hover
			s.click(at, 0)
			if got := s.desk.Picked().Last(); got != shown {
				t.Errorf("hovering shows %+v and a click takes %+v", shown, got)
			}
			s.Frame(900, 600)
			s.desk.Pick()
		}
	}
}

// Locked pieces are not touched, hidden ones are neither drawn nor touched nor catch
// anything.
func TestLockedAndHiddenPieces(t *testing.T) {
	p := project(t, 2)
	locked, hidden := *p.Pieces[0], *p.Pieces[1]
	locked.Locked, hidden.Hidden = true, true
	q := *p
	q.Pieces = []*draft.Piece{&locked, &hidden}
	s := newStage(t, &q, 900, 600)
	for i := range 2 {
		if got := s.scene.hitAt(s.inside(i), s.view.MM(1), takesOf(nil)).ref; got.Kind != desk.Nothing {
			t.Errorf("piece %d is touched: %+v", i, got)
		}
	}
	near := func(i int) tool.Catch {
		return s.catch(tool.Reach{At: s.corner(i, 0).Add(geom.Pt(1, 1)), MM: s.view.MM(1)})
	}
	if near(0).Kind != tool.CaughtPoint || near(1).Kind == tool.CaughtPoint {
		t.Errorf("caught by %+v of the locked and %+v of the hidden piece", near(0), near(1))
	}
	if got := len(s.scene.still()); got != 1 {
		t.Errorf("%d pieces are drawn", got)
	}
}

// A guide is pulled out from the left border and catches what is dragged; pushed back
// over the border it is gone, and Escape puts it where it was.
func TestGuides(t *testing.T) {
	s := newStage(t, project(t, 1), 900, 600)
	s.view = s.view.Pan(0, 0)
	high := s.raster.Size().Height / 2
	place := func(x float32) geom.Point { return s.view.UnitsToMM(float64(x), float64(high)) }
	s.drag(place(2), place(40), fyne.KeyModifierControl)
	if len(s.guides) != 1 || math.Abs(s.guides[0].At.X-place(40).X) > 0.3 || s.guides[0].Dir != geom.Pt(0, 1) {
		t.Fatalf("guides %+v", s.guides)
	}
	if s.steps() != 0 || len(s.desk.Picked()) != 0 {
		t.Error("pulling a guide did more")
	}
	if got := s.catch(tool.Reach{At: place(43), MM: s.view.MM(1)}); got.Kind != tool.CaughtGuide {
		t.Errorf("beside the guide the pointer is caught by %+v", got)
	}
	was := s.guides[0]
	s.press(place(40), fyne.KeyModifierControl)
	s.dragTo(place(60))
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	s.release(place(60))
	if len(s.guides) != 1 || s.guides[0] != was {
		t.Errorf("after Escape the guides are %+v", s.guides)
	}
	s.drag(place(40), place(3), fyne.KeyModifierControl)
	if len(s.guides) != 0 {
		t.Errorf("pushed over the border, %+v is left", s.guides)
	}
}

// Two fingers on a pad move the view, a wheel zooms.
func TestTwoFingersMoveTheView(t *testing.T) {
	s := newStage(t, project(t, 2), 900, 600)
	scroll := func(dx, dy float32) {
		e := &fyne.ScrollEvent{Scrolled: fyne.NewDelta(dx, dy)}
		e.Position = fyne.NewPos(300, 200)
		s.Scrolled(e)
	}
	before := s.view
	scroll(3.5, -7.25)
	scroll(0, wheelNotch) // still under the fingers
	if s.view.Scale != before.Scale || math.Abs(s.view.X-before.X-3.5) > 1e-6 || math.Abs(s.view.Y-before.Y-(wheelNotch-7.25)) > 1e-6 {
		t.Errorf("two fingers moved the view from %+v to %+v", before, s.view)
	}
	s.now = s.now.Add(2 * fingersTime)
	scroll(0, wheelNotch)
	if s.view.Scale <= before.Scale {
		t.Error("a wheel does not zoom after it")
	}
	s.mods = fyne.KeyModifierControl
	scale := s.view.Scale
	scroll(0, 3.5)
	if s.view.Scale <= scale {
		t.Error("Ctrl and two fingers do not zoom")
	}
}

// What is picked is shown as large as there is room: an edge, or about a point.
func TestZoomToWhatIsPicked(t *testing.T) {
	s := newStage(t, project(t, 9), 900, 600)
	p := s.piece(4)
	s.desk.Pick(desk.EdgeRef(p.ID, p.Edges[2].ID))
	s.FitPicked()
	seen := s.view.Visible()
	box := p.EdgePath(2).Transform(p.Place.Affine()).Bounds()
	if !seen.Contains(box.Min) || !seen.Contains(box.Max) || seen.H() > 2*(box.H()+closest) {
		t.Errorf("an edge %v is shown in %v", box, seen)
	}
	n := p.Edges[2].Nodes[0]
	s.desk.Pick(desk.NodeRef(p.ID, n.ID))
	s.FitPicked()
	if got := s.view.Visible(); !got.Contains(p.Place.Affine().Apply(n.At)) || got.H() > 2*closest {
		t.Errorf("a point is shown in %v", got)
	}
}

// A point that is dragged to about where a seam at it has its length is drawn to that
// very place.
func TestDraggedPointsTrueTheirSeams(t *testing.T) {
	s := newStage(t, project(t, 2), 900, 600)
	s.desk.Pick(desk.EdgeRef(s.piece(0).ID, s.piece(0).Edges[1].ID), desk.EdgeRef(s.piece(1).ID, s.piece(1).Edges[1].ID))
	s.hand.LinkPicked()
	s.desk.Pick(desk.PieceRef(s.piece(0).ID))
	from := s.corner(0, 1)
	s.drag(from, from.Add(geom.Pt(-9, 14)), fyne.KeyModifierControl)
	seam := s.desk.Project().Seams[0]
	diff := func() float64 {
		state, err := s.desk.Slots().SeamState(s.desk.Project(), seam)
		if err != nil {
			t.Fatal(err)
		}
		return state.Diff
	}
	if math.Abs(diff()) < 1 {
		t.Fatalf("the seam is off by %v mm only", diff())
	}
	// Straight back up the edge it is as long as the other.
	at := s.corner(0, 1)
	s.press(at, 0)
	s.dragTo(at.Lerp(from, 0.5))
	near := from.Add(geom.Pt(-9, 4.2))
	s.dragTo(near)
	if got := s.tool.Marks().Caught; got.Kind != tool.CaughtLength || got.Word != "with the grain, seam A holds" {
		t.Errorf("caught by %+v, the seam is off by %v", got, diff())
	}
	s.release(near)
	if math.Abs(diff()) > 1e-3 {
		t.Errorf("the seam is off by %v mm", diff())
	}
}
