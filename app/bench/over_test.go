package bench

import (
	"bytes"
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
	text := func(strong bool) paint.Text {
		for _, m := range spanMarks(s.scene.bodies[p.ID], SpanMark{Piece: p.ID, Span: span, Text: "61", Colour: paint.Level, Strong: strong}) {
			if x, ok := m.(paint.Text); ok {
				return x
			}
		}
		t.Fatal("it bears no text")
		return paint.Text{}
	}
	if text(false).Room == 0 || text(true).Room != 0 {
		t.Error("its text has the wrong room")
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
		for _, m := range spanMarks(b, SpanMark{Piece: p.ID, Span: span, Colour: paint.Level}) {
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
