package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

func doneBy(t *testing.T, act string, p *Project, args map[string]string) Outcome {
	t.Helper()
	a, err := ActNamed(act)
	if err != nil {
		t.Fatal(err)
	}
	out, err := a.DoText(p, args)
	if err != nil {
		t.Fatal(err)
	}
	if err := Validate(out.Project); err != nil {
		t.Fatal(err)
	}
	return out
}

func TestDrawPiece(t *testing.T) {
	p := projectOf(polygonPiece("a", 4, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60)))
	p.Pieces[0].Garment, p.Pieces[0].Cloth, p.Cloths = "smock", "c1", []*Cloth{{ID: "c1", Name: "linen"}}
	// Clockwise, with a curve that runs on smoothly into a second one: three corners.
	out := doneBy(t, "draw-piece", p, map[string]string{"line": "M0 0 L0 80 C10 100 30 100 40 80 C50 60 70 60 80 80 L80 0 Z"})
	q := out.Project.Piece(out.Made)
	path := q.DrawnPath()
	if path.Area() <= 0 {
		t.Error("it runs clockwise")
	}
	if len(q.Edges) != 4 || len(path) != 5 {
		t.Errorf("%d edges of %d stretches", len(q.Edges), len(path))
	}
	for _, e := range q.Edges {
		if e.Allowance != Even(4) {
			t.Errorf("edge %s has an allowance of %v; the pattern has 4", e.Name, e.Allowance)
		}
	}
	if q.Garment != "smock" || q.Cloth != "c1" {
		t.Errorf("it belongs to %q, of cloth %q; all others are of a smock of c1", q.Garment, q.Cloth)
	}
	if q.Place != (Placement{}) {
		t.Errorf("it was drawn over another piece and lies at %v", q.Place)
	}
	for args, says := range map[string]string{
		"M0 0 L10 0 L10 10":                 "open",
		"M0 0 L40 40 L40 0 L0 40Z":          "itself",
		"M0 0 L40 0 L0 0Z":                  "itself",
		"M0 0 C1000 0 1000 40 0 40Z":        "",
		"M0 0 L0.00001 0 L0.00001 0.00001Z": "nothing",
	} {
		_, err := DrawPiece.DoText(p, map[string]string{"line": args})
		if says == "" && err != nil || says != "" && (err == nil || !strings.Contains(err.Error(), says)) {
			t.Errorf("%s: %v", args, err)
		}
	}
	// A cut line has its allowance inside.
	out = doneBy(t, "draw-piece", p, map[string]string{"line": "M0 0 L100 0 L100 100 L0 100Z", "as": "cut", "allowance": "1cm", "name": "patch"})
	if got := out.Project.Piece(out.Made).DrawnPath().Area(); math.Abs(got-6400) > 1e-3 {
		t.Errorf("inside a cut line of 100 by 100 lie %v mm2", got)
	}
}

// turned is a piece that lies turned on the bench.
func turned() *Project {
	p := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60))
	name(p, "hem", "side", "top", "middle")
	p.Place = Placement{At: geom.Pt(200, 50), Turn: math.Pi / 6}
	other := polygonPiece("b", 6, geom.Pt(0, 0), geom.Pt(30, 0), geom.Pt(0, 30))
	return projectOf(p, other)
}

// A line lies on the bench where it was drawn, whatever the piece's own place.
func TestDrawLineLiesWhereItIsDrawn(t *testing.T) {
	p := turned()
	place := p.Pieces[0].Place.Affine()
	line := geom.Path{
		geom.Line(geom.Pt(10, 10), geom.Pt(40, 20)),
		geom.Cubic(geom.Pt(40, 20), geom.Pt(55, 25), geom.Pt(60, 40), geom.Pt(80, 45)),
	}.Transform(place)
	out := doneBy(t, "draw-line", p, map[string]string{"line": FormatDrawn(line)})
	q := out.Project.Piece("a")
	l := q.Line(out.Made)
	if l == nil {
		t.Fatal("the line is not on the piece on which it lies")
	}
	if l.Kind != StyleLine || l.Name != "style line" || l.Closed || len(l.Nodes) != 3 {
		t.Errorf("%+v", l)
	}
	if !l.Nodes[1].Smooth {
		t.Error("where the straight runs on into the curve the point is no smooth one")
	}
	if d := apart(l.Path().Transform(place), line); d > 1e-5 {
		t.Errorf("it lies %g mm off", d)
	}
	again := doneBy(t, "draw-line", out.Project, map[string]string{"line": FormatDrawn(line), "kind": "gathering", "piece": "a"})
	if got := again.Project.Piece("a").Line(again.Made); got.Kind != GatheringLine || got.Name != "gathering line" {
		t.Errorf("%+v", got)
	}
	for _, c := range []struct{ line, kind, piece, says string }{
		{"M-500 0L-400 0", "style", "", "no piece"},
		{FormatDrawn(line), "style", "b", "beside"},
		{FormatDrawn(line), "cutout", "", "closed"},
		{FormatDrawn(line), "drill", "", "single"},
		{FormatDrawn(line), "fasten", "", "fastenings"},
	} {
		args := map[string]string{"line": c.line, "kind": c.kind}
		if c.piece != "" {
			args["piece"] = c.piece
		}
		if _, err := DrawLine.DoText(p, args); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

// onLineOf returns a project with an open line of three points on its piece.
func onLineOf(t *testing.T) *Project {
	t.Helper()
	p := projectOf(polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60)))
	return doneBy(t, "draw-line", p, map[string]string{"line": "M10 10 L30 10 C40 10 50 20 50 30", "name": "yoke"}).Project
}

func TestExtendLine(t *testing.T) {
	p := onLineOf(t)
	// From its end, smoothly on.
	out := doneBy(t, "extend-line", p, map[string]string{"line": "a.yoke", "by": "M50 30 C50 40 60 50 70 50"})
	l := out.Project.Pieces[0].Lines[0]
	if len(l.Nodes) != 4 || !l.Nodes[2].Smooth || l.Path().End() != geom.Pt(70, 50) || l.Nodes[0].ID != p.Pieces[0].Lines[0].Nodes[0].ID {
		t.Errorf("gone on with at its end: %+v", l)
	}
	if old := p.Pieces[0].Lines[0].Path(); apart(l.Path()[:2], old) > 1e-6 {
		t.Error("what was there has changed")
	}
	// From its start.
	out = doneBy(t, "extend-line", p, map[string]string{"line": "a.yoke", "by": "M10 10 L5 20"})
	if l = out.Project.Pieces[0].Lines[0]; len(l.Nodes) != 4 || l.Path().End() != geom.Pt(5, 20) || l.Path().Start() != geom.Pt(50, 30) {
		t.Errorf("gone on with at its start: %+v", l.Path())
	}
	// To its other end.
	out = doneBy(t, "extend-line", p, map[string]string{"line": "a.yoke", "by": "M50 30 L20 50 L10 10"})
	if l = out.Project.Pieces[0].Lines[0]; !l.Closed || len(l.Nodes) != 4 || !l.Path().Closed() {
		t.Errorf("led round to its start: %+v", l)
	}
	if got, want := l.Path().Length(), p.Pieces[0].Lines[0].Path().Length()+math.Hypot(30, 20)+math.Hypot(10, 40); math.Abs(got-want) > 1e-5 {
		t.Errorf("%.6f long, want %.6f", got, want)
	}
	if _, err := ExtendLine.DoText(out.Project, map[string]string{"line": "a.yoke", "by": "M10 10L20 20"}); err == nil {
		t.Error("a closed line is gone on with")
	}
	// From a place beside its end a straight stretch leads on.
	out = doneBy(t, "extend-line", p, map[string]string{"line": "a.yoke", "by": "M60 30 L70 30"})
	if l = out.Project.Pieces[0].Lines[0]; len(l.Nodes) != 5 {
		t.Errorf("from beside its end: %+v", l)
	}
}

func TestSetLine(t *testing.T) {
	p := onLineOf(t)
	out := doneBy(t, "set-line", p, map[string]string{"line": "a.yoke", "kind": "cutout", "closed": "yes", "name": "ear"})
	l := out.Project.Pieces[0].Lines[0]
	if l.Kind != CutoutLine || !l.Closed || l.Name != "ear" || !l.Path().Closed() {
		t.Errorf("%+v", l)
	}
	back := doneBy(t, "set-line", out.Project, map[string]string{"line": "a.ear", "kind": "placement", "closed": "no"})
	if l = back.Project.Pieces[0].Lines[0]; l.Closed || l.Kind != PlacementLine || l.Path().Closed() {
		t.Errorf("%+v", l)
	}
	if apart(l.Path(), p.Pieces[0].Lines[0].Path()) > 1e-9 {
		t.Error("closing and opening have changed it")
	}
	for _, args := range []map[string]string{
		{"line": "a.ear", "closed": "no"}, {"line": "a.ear", "name": ""}, {"line": "a.ear", "kind": "reinforce"},
	} {
		if _, err := SetLine.DoText(out.Project, args); err == nil {
			t.Errorf("%v is done", args)
		}
	}
}

// The points of a line are named, moved, put in, bent and taken away like those of an
// outline.
func TestPointsOfALine(t *testing.T) {
	p := onLineOf(t)
	path := func(q *Project) geom.Path { return q.Pieces[0].Lines[0].Path() }
	out := doneBy(t, "move-nodes", p, map[string]string{"nodes": "a.yoke/1", "by": "3mm,4mm"})
	if got := out.Project.Pieces[0].Lines[0].Nodes[1]; got.At != geom.Pt(33, 14) || math.Abs(got.Out.Cross(geom.Pt(23, 4))) > 1e-4 {
		t.Errorf("moved: %+v; its handle goes on in the line of the straight", got)
	}
	out = doneBy(t, "move-handle", p, map[string]string{"handle": "a.yoke/end/in", "to": "0mm,-20mm"})
	if got := out.Project.Pieces[0].Lines[0].Nodes[2].In; got != geom.Pt(0, -20) {
		t.Errorf("the handle is %v", got)
	}
	if _, err := MoveHandle.DoText(p, map[string]string{"handle": "a.yoke/end/out", "to": "0mm,-20mm"}); err == nil {
		t.Error("beyond its end the line is bent")
	}
	out = doneBy(t, "insert-line-node", p, map[string]string{"line": "a.yoke", "at": "70%"})
	if l := out.Project.Pieces[0].Lines[0]; len(l.Nodes) != 4 || apart(l.Path(), path(p)) > 1e-5 {
		t.Errorf("put in: %+v", l)
	}
	back := doneBy(t, "delete-node", out.Project, map[string]string{"nodes": "a." + string(out.Made)})
	if apart(path(back.Project), path(p)) > 1e-4 {
		t.Error("a point that was put in and taken away again leaves another line")
	}
	out = doneBy(t, "delete-node", p, map[string]string{"nodes": "a.yoke/start"})
	if got := path(out.Project); len(got) != 1 || apart(got, path(p)[1:]) > 1e-6 {
		t.Errorf("without its first point: %v", got)
	}
	if _, err := DeleteNode.DoText(out.Project, map[string]string{"nodes": "a.yoke/start"}); err == nil {
		t.Error("of two points one is taken away")
	}
	out = doneBy(t, "corner-node", p, map[string]string{"nodes": "a.yoke/1"})
	out = doneBy(t, "move-handle", out.Project, map[string]string{"handle": "a.yoke/1/out", "to": "0mm,10mm"})
	out = doneBy(t, "smooth-node", out.Project, map[string]string{"nodes": "a.yoke/1"})
	if n := out.Project.Pieces[0].Lines[0].Nodes[1]; !n.Smooth || math.Abs(n.In.Unit().Cross(n.Out.Unit())) > 1e-6 {
		t.Errorf("made smooth: %+v", n)
	}
	if _, err := SmoothNode.DoText(p, map[string]string{"nodes": "a.yoke/end"}); err == nil {
		t.Error("an end is made smooth")
	}
	out = doneBy(t, "bend-line", p, map[string]string{"line": "a.yoke", "at": "10mm", "to": "20mm,2mm"})
	if _, d := path(out.Project).Nearest(geom.Pt(20, 2)); d > 1e-5 {
		t.Errorf("bent, it misses the point by %g", d)
	}
	out = doneBy(t, "set-line-length", p, map[string]string{"line": "a.yoke", "length": "25mm"})
	if got := path(out.Project).Length(); math.Abs(got-25) > 1e-5 {
		t.Errorf("%v long", got)
	}
	out = doneBy(t, "delete-mark", p, map[string]string{"marks": "a.yoke"})
	if len(out.Project.Pieces[0].Lines) != 0 {
		t.Error("the line is still there")
	}
}

// Taking a closed line's points away leaves a closed line through the rest.
func TestPointsOfAClosedLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := projectOf(polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 60), geom.Pt(0, 60)))
		out, err := DrawShape.DoText(p, map[string]string{"shape": "oval", "from": "20mm,20mm", "to": "50mm,40mm", "on": "a", "name": "eye"})
		if err != nil {
			t.Fatal(err)
		}
		nodes := out.Project.Pieces[0].Lines[0].Nodes
		k := rapid.IntRange(0, 3).Draw(t, "node")
		next, err := DeleteNode.Do(out.Project, DeleteNodeArgs{Nodes: []NodeRef{{"a", nodes[k].ID}}})
		if err != nil {
			t.Fatal(err)
		}
		l := next.Project.Pieces[0].Lines[0]
		if len(l.Nodes) != 3 || !l.Path().Closed() {
			t.Fatalf("%+v", l)
		}
		for _, n := range l.Nodes {
			if math.Abs(n.In.Unit().Cross(n.Out.Unit())) > 1e-6 {
				t.Fatalf("a corner at %v", n.At)
			}
		}
	})
}
