package bench

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// workroom returns a project of 200 pieces with all that a pattern bears: seams from
// each piece to the next, notches, a line, a gathered stretch, buttons and a dimension.
func workroom(tb testing.TB) *draft.Project {
	tb.Helper()
	p := wide(tb, 200)
	marked := *p
	marked.Pieces = nil
	for i, piece := range p.Pieces {
		q := *piece
		id := func(kind string) draft.ID { return draft.ID(fmt.Sprint(kind, 100000+i*10)) }
		at := func(x, y float64) draft.Node {
			return draft.Node{ID: id("n") + draft.ID(fmt.Sprint(int(x)+int(y))), At: q.Edges[0].Nodes[0].At.Add(geom.Pt(x, y))}
		}
		for k, e := range q.Edges[:4] {
			q.Notches = append(q.Notches, draft.Notch{ID: id("t") + draft.ID(fmt.Sprint(k)), Edge: e.ID, At: 0.4, Share: true, Double: k == 2, Shape: draft.NotchShape(k % 3)})
		}
		q.Stretches = []draft.Stretch{{ID: id("g"), Edge: q.Edges[0].ID, From: 0.2, To: 0.8}}
		q.Lines = []draft.Line{
			{ID: id("l"), Name: "yoke line", Kind: draft.StyleLine, Nodes: []draft.Node{at(5, 30), at(50, 32)}},
			{ID: id("l") + "1", Kind: draft.FastenLine, Nodes: []draft.Node{at(12, 10), at(12, 60)}, Row: &draft.Row{Kind: draft.Buttons, Count: 5, Size: 5, First: 4, Last: 4}},
		}
		q.Spans = []draft.Span{{ID: id("m"), Edges: []draft.ID{q.Edges[1].ID}}}
		marked.Pieces = append(marked.Pieces, &q)
	}
	for i := range 199 {
		a, b := p.Pieces[i], p.Pieces[i+1]
		run := func(piece *draft.Piece, k int) draft.Run {
			return draft.Run{{Piece: piece.ID, Edge: piece.Edges[k].ID, Copy: draft.CopyRef{Number: 1}}}
		}
		marked.Seams = append(marked.Seams, &draft.Seam{ID: draft.ID(fmt.Sprint("s", 200000+i)), Name: "seam", A: run(a, 1), B: run(b, 1), Ratio: 1})
	}
	return &marked
}

// wide returns n pieces in rows of 20.
func wide(tb testing.TB, n int) *draft.Project {
	tb.Helper()
	var outlines []draft.Outline
	for i := range n {
		outlines = append(outlines, yoke(geom.Pt(float64(i%20)*90, float64(i/20)*110), ""))
	}
	out, err := draft.ImportOutlines.Do(draft.New("test"), draft.ImportOutlinesArgs{Outlines: outlines, Allowance: 6})
	if err != nil {
		tb.Fatal(err)
	}
	return out.Project
}

func workstage(b *testing.B) *stage {
	s := newStage(b, workroom(b), 1920, 1080)
	s.Fit()
	s.Frame(1920, 1080)
	return s
}

// The bars for 200 pieces at 1920 by 1080 are 12 ms for a pan or a zoom, 4 ms for a
// step of a drag, and 20 ms for a step that is undone.

func BenchmarkPan200(b *testing.B) {
	s := workstage(b)
	shift := 3.0
	for b.Loop() {
		shift = -shift
		s.look(s.view.Pan(shift, 0))
		s.Frame(1920, 1080)
	}
}

func BenchmarkZoom200(b *testing.B) {
	s := workstage(b)
	notch := &fyne.ScrollEvent{}
	notch.Position = fyne.NewPos(700, 500)
	in := true
	for i := 0; b.Loop(); i++ {
		notch.Scrolled = fyne.NewDelta(0, wheelNotch)
		if !in {
			notch.Scrolled = fyne.NewDelta(0, -wheelNotch)
		}
		if i%8 == 7 { // eight notches in, eight out: through several buckets of chords
			in = !in
		}
		s.Scrolled(notch)
		s.Frame(1920, 1080)
	}
}

func BenchmarkDragStep200(b *testing.B) {
	s := workstage(b)
	s.click(s.inside(105), 0)
	from := s.corner(105, 3)
	s.press(from, 0)
	s.dragTo(from.Add(geom.Pt(3, 3)))
	for i := 0; b.Loop(); i++ {
		s.dragTo(from.Add(geom.Pt(3+float64(i%7), 3+float64(i%5))))
		s.Frame(1920, 1080)
	}
	s.release(from)
}

func BenchmarkHover200(b *testing.B) {
	s := workstage(b)
	s.desk.Pick(desk.PieceRef(s.piece(105).ID))
	from := s.corner(105, 3)
	for i := 0; b.Loop(); i++ {
		s.hover(from.Add(geom.Pt(float64(i%7)-3, float64(i%5)-2)))
		s.Frame(1920, 1080)
	}
}

func BenchmarkUndo200(b *testing.B) {
	s := workstage(b)
	s.click(s.inside(105), 0)
	from := s.corner(105, 3)
	s.drag(from, from.Add(geom.Pt(7, 4)), 0)
	for b.Loop() {
		s.desk.Undo()
		s.Frame(1920, 1080)
		s.desk.Redo()
		s.Frame(1920, 1080)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(2*b.N)/1e6, "ms/step")
}

// BenchmarkUndoAll200 undoes a step that has changed every piece.
func BenchmarkUndoAll200(b *testing.B) {
	s := workstage(b)
	s.PickAll()
	s.hand.Nudge(geom.Pt(5, 0))
	s.desk.Pick()
	for b.Loop() {
		s.desk.Undo()
		s.Frame(1920, 1080)
		s.desk.Redo()
		s.Frame(1920, 1080)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(2*b.N)/1e6, "ms/step")
}
