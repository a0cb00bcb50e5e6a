package bench

import (
	"bytes"
	"slices"
	"testing"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// overStage is a bench with a yoke, and a stretch of it between two corners.
func overStage(t *testing.T) (*stage, *draft.Piece, draft.Span) {
	t.Helper()
	s := newStage(t, project(t, 1), 900, 700)
	p := s.desk.Project().Pieces[0]
	first, second := p.EdgePath(0), p.EdgePath(2)
	span := draft.Span{ID: "x", Name: "bust", Measure: "bust_girth", Share: 0.25}
	for _, e := range p.Edges {
		for _, n := range e.Nodes {
			switch n.At {
			case first.Start():
				span.From = n.ID
			case second.Start():
				span.To = n.ID
			}
		}
	}
	if span.From == "" || span.To == "" {
		t.Fatal("the yoke has no such points")
	}
	return s, p, span
}

func TestWhatIsLaidOverIsDrawn(t *testing.T) {
	s, p, span := overStage(t)
	plain := bytes.Clone(s.Frame(900, 700).Pix)
	frame := func(o *Over) []byte {
		s.ShowOver(o)
		return s.Frame(900, 700).Pix
	}
	square := geom.Polygon(geom.Pt(10, 10), geom.Pt(40, 10), geom.Pt(40, 40), geom.Pt(10, 40))
	for name, o := range map[string]*Over{
		"patch":   {Patches: []Patch{{Piece: p.ID, Path: square, Colour: paint.Of(paint.Ochre)}}},
		"outline": {Outlines: []Outline{{Path: square, Line: paint.Line{Colour: paint.Of(paint.Chalk), Width: 2}}}},
		"stretch": {Spans: []SpanMark{{Piece: p.ID, Span: span, Text: "61", Colour: paint.Level}}},
		"note":    {Notes: []OverNote{{Piece: p.ID, At: geom.Pt(30, 30), Text: "4 % longer"}}},
	} {
		if bytes.Equal(frame(o), plain) {
			t.Errorf("the %s is not to be seen", name)
		}
		if !bytes.Equal(frame(nil), plain) {
			t.Errorf("the %s stays", name)
		}
	}
	if gone := (&Over{Spans: []SpanMark{{Piece: "gone", Span: span}}}); !bytes.Equal(frame(gone), plain) {
		t.Error("a stretch of a piece that is gone is drawn")
	}
}

func TestStretchInHandBearsItsTextWhateverItsRoom(t *testing.T) {
	s, p, span := overStage(t)
	b := s.scene.bodies[p.ID]
	text := func(strong bool) paint.Text {
		_, f := spanMarks(b, SpanMark{Piece: p.ID, Span: span, Text: "61", Colour: paint.Level, Strong: strong})
		return f.text(b, f.path.Tape(), 0.5)
	}
	if text(false).Room == 0 || text(true).Room != 0 {
		t.Error("its text has the wrong room")
	}
}

// figuresOf returns where the texts that items bear stand on the screen.
func figuresOf(s *stage, items []*paint.Item, said ...string) []geom.Rect {
	var boxes []geom.Rect
	for _, item := range items {
		for _, m := range item.Marks {
			if text, ok := m.(paint.Text); ok && (len(said) == 0 || slices.Contains(said, text.Text)) {
				if box, shown := textBox(s.view, item.Place, text); shown {
					boxes = append(boxes, box)
				}
			}
		}
	}
	return boxes
}

// Several stretches of the same run crowd: their figures stand apart, clear of the name of
// the piece, which is written over their lines once more.
func TestFiguresKeepApart(t *testing.T) {
	s, p, span := overStage(t)
	s.Frame(900, 700)
	o := &Over{}
	for _, text := range []string{"61.25", "62.5", "63.75"} {
		o.Spans = append(o.Spans, SpanMark{Piece: p.ID, Span: span, Text: text, Colour: paint.Level})
	}
	s.ShowOver(o)
	items := s.overItems()
	if n := len(figuresOf(s, items, "61.25", "62.5", "63.75")); n != 3 {
		t.Errorf("%d of three figures are to be seen on a piece with room for all", n)
	}
	if len(figuresOf(s, items, p.Name)) != 1 {
		t.Error("the name of the piece is not written over the stretches")
	}
	boxes := figuresOf(s, items)
	for i, a := range boxes {
		for _, b := range boxes[i+1:] {
			if a.Overlaps(b) {
				t.Errorf("texts at %v and %v cover one another", a, b)
			}
		}
	}
}

// Where there is no room for all, some are left out, and never that of the stretch in hand.
func TestCrowdedFiguresAreLeftOut(t *testing.T) {
	s, p, span := overStage(t)
	s.Frame(900, 700)
	o := &Over{}
	for i := range 40 {
		o.Spans = append(o.Spans, SpanMark{Piece: p.ID, Span: span, Text: "61.25", Colour: paint.Level, Strong: i == 39})
	}
	o.Spans[39].Text = "in hand"
	s.ShowOver(o)
	items := s.overItems()
	if n := len(figuresOf(s, items, "61.25")); n == 0 || n >= len(figureShares) {
		t.Errorf("%d of 39 figures in one place are to be seen", n)
	}
	if len(figuresOf(s, items, "in hand")) != 1 {
		t.Error("the figure of the stretch in hand is left out")
	}
}

// A depth is drawn along the grain, from one point to the height of the other.
func TestDepthIsDrawnAlongTheGrain(t *testing.T) {
	s, p, span := overStage(t)
	b := s.scene.bodies[p.ID]
	from, to := p.AnyNode(span.From).At, p.AnyNode(span.To).At
	up := p.GrainWay()
	for way, want := range map[draft.SpanWay]geom.Point{
		draft.Straight: to.Sub(from), draft.AlongGrain: up.Mul(to.Sub(from).Dot(up)), draft.AcrossGrain: to.Sub(from).Sub(up.Mul(to.Sub(from).Dot(up))),
	} {
		span.Way = way
		var got geom.Point
		marks, _ := spanMarks(b, SpanMark{Piece: p.ID, Span: span, Colour: paint.Level})
		for _, m := range marks {
			if a, ok := m.(paint.Arrow); ok {
				got = a.B.Sub(a.A)
			}
		}
		if got.Sub(want).Len() > 1e-9 {
			t.Errorf("%s it is drawn as %v, not %v", way, got, want)
		}
	}
}

func TestRefsOfAStretch(t *testing.T) {
	span := draft.Span{Edges: []draft.ID{"e1", "e2"}}
	if got := desk.Picked(SpanRefs("p", span)); len(got.Of(desk.Edge)) != 2 {
		t.Errorf("along edges it is %v", got)
	}
	if got := desk.Picked(SpanRefs("p", draft.Span{From: "n1", To: "n2"})); len(got.Of(desk.Node)) != 2 {
		t.Errorf("between points it is %v", got)
	}
}

// Notes at places near to one another do not cover one another.
func TestNotesKeepClearOfOneAnother(t *testing.T) {
	s, p, _ := overStage(t)
	s.Frame(900, 700)
	var o Over
	middle := p.DrawnPath().Bounds().Center()
	for i := range 4 {
		o.Notes = append(o.Notes, OverNote{Piece: p.ID, At: middle.Add(geom.Pt(float64(i), 0)), Text: "29 % longer"})
	}
	s.ShowOver(&o)
	boxes := figuresOf(s, s.overItems(), "29 % longer")
	if len(boxes) != 4 {
		t.Fatalf("%d of 4 notes are drawn", len(boxes))
	}
	for i, box := range boxes {
		if slices.ContainsFunc(boxes[:i], box.Overlaps) {
			t.Errorf("note %d covers another", i)
		}
	}
}
