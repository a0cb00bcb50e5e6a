package shell

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// BenchmarkDragInTheWholeWindow moves a point of one of 200 pieces by a step, with
// tray, inspector and status line listening; painting is package bench's.
func BenchmarkDragInTheWholeWindow(b *testing.B) { dragIn(b, stationShape) }

// BenchmarkDragInTrue is the same with the findings and the table of a hundred seams
// beside the bench.
func BenchmarkDragInTrue(b *testing.B) { dragIn(b, stationTrue) }

func dragIn(b *testing.B, station string) {
	a := test.NewApp()
	s, err := New(a)
	if err != nil {
		b.Fatal(err)
	}
	s.StateDir = b.TempDir()
	var outlines []draft.Outline
	for i := range 200 {
		at := geom.Pt(float64(i%10)*90, float64(i/10)*110)
		path := geom.Polygon(at, at.Add(geom.Pt(70, 0)), at.Add(geom.Pt(60, 80)), at.Add(geom.Pt(10, 90)))
		outlines = append(outlines, draft.Outline{Path: path, Corner: []bool{true, true, true, true}, Name: fmt.Sprint("piece ", i)})
	}
	out, err := draft.ImportOutlines.Do(draft.New("many"), draft.ImportOutlinesArgs{Outlines: outlines, Allowance: 6})
	if err != nil {
		b.Fatal(err)
	}
	project := out.Project
	for i := 0; i+1 < len(project.Pieces); i += 2 {
		use := func(k int) draft.Run {
			p := project.Pieces[k]
			return draft.Run{{Piece: p.ID, Edge: p.Edges[1].ID, Copy: draft.CopyRef{Number: 1}}}
		}
		if out, err = draft.LinkSeam.Do(project, draft.LinkSeamArgs{A: use(i), B: use(i + 1)}); err != nil {
			b.Fatal(err)
		}
		project = out.Project
	}
	s.desk.Open(project, "")
	s.enter(station)
	s.win.Resize(fyne.NewSize(1600, 1000))
	p := s.desk.Project().Pieces[55]
	node := p.Edges[2].Nodes[0].ID
	s.desk.Pick(desk.NodeRef(p.ID, node))
	g := s.desk.Begin()
	i := 0
	for b.Loop() {
		i++
		args := draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: p.ID, Node: node}}, By: draft.Vector{X: float64(i % 7), Y: float64(i % 5)}}
		if err := desk.Move(g, draft.MoveNodes, args); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkHistoryCard takes a step back and does it again while the card lists 500 steps.
func BenchmarkHistoryCard(b *testing.B) {
	s, err := New(test.NewApp())
	if err != nil {
		b.Fatal(err)
	}
	s.StateDir = b.TempDir()
	s.win.Resize(fyne.NewSize(1600, 1000))
	for i := range 500 {
		if err := desk.Run(s.desk, draft.RenameProject, draft.RenameProjectArgs{Name: fmt.Sprint("a project of another name, which takes two lines, ", i)}); err != nil {
			b.Fatal(err)
		}
	}
	s.showHistory()
	back := true
	for b.Loop() {
		if back {
			s.desk.Undo()
		} else {
			s.desk.Redo()
		}
		back = !back
	}
}
