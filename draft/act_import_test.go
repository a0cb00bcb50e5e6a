package draft

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"hemlet/geom"
)

// drawn returns a closed outline whose every segment starts at a corner.
func drawn(name string, path geom.Path, edgeNames ...string) Outline {
	corner := make([]bool, len(path))
	for i := range corner {
		corner[i] = true
	}
	return Outline{Path: path, Corner: corner, Name: name, EdgeNames: edgeNames}
}

func rectangle(x, y, w, h float64) geom.Path {
	return geom.Polygon(geom.Pt(x, y), geom.Pt(x+w, y), geom.Pt(x+w, y+h), geom.Pt(x, y+h))
}

func mustImport(t *testing.T, p *Project, args ImportOutlinesArgs) Outcome {
	t.Helper()
	out, err := ImportOutlines.Do(p, args)
	if err != nil {
		t.Fatal(err)
	}
	if err := Validate(out.Project); err != nil {
		t.Fatal(err)
	}
	return out
}

func edgeNames(p *Piece) string {
	var list []string
	for _, e := range p.Edges {
		list = append(list, e.Name)
	}
	return strings.Join(list, " ")
}

func TestImportStitchLineKeepsTheDrawing(t *testing.T) {
	path := rectangle(10, 20, 100, 50)
	out := mustImport(t, New("x"), ImportOutlinesArgs{Outlines: []Outline{drawn("Front", path, "hem", "side", "", "fold")}, Allowance: 6})
	piece := out.Project.Pieces[0]
	if got := edgeNames(piece); got != "hem side edge 3 fold" {
		t.Errorf("edges %q", got)
	}
	if d := piece.DrawnPath(); len(d) != 4 || d[0] != path[0] || piece.Place != (Placement{}) {
		t.Errorf("drawn line %v at %v", d, piece.Place)
	}
	flat, err := LayFlat(piece)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := flat.Cut.Area(), 112.*62; math.Abs(got-want) > 1e-6 {
		t.Errorf("cut area %g, want %g", got, want)
	}
	if out.Made != piece.ID || out.Step != "Import outlines · Front" {
		t.Errorf("made %s, step %q", out.Made, out.Step)
	}
}

func TestImportTurnsClockwiseOutlines(t *testing.T) {
	path := rectangle(0, 0, 100, 50).Reverse()
	// Reversed, the first segment runs up the left side.
	out := mustImport(t, New("x"), ImportOutlinesArgs{Outlines: []Outline{drawn("Front", path, "left", "top", "right", "bottom")}})
	piece := out.Project.Pieces[0]
	if piece.DrawnPath().Area() < 0 {
		t.Error("the outline runs clockwise")
	}
	if got := edgeNames(piece); got != "left bottom right top" {
		t.Errorf("edges %q", got)
	}
	for name, want := range map[string]geom.Path{"left": path[0:1], "top": path[1:2], "right": path[2:3], "bottom": path[3:4]} {
		for i, e := range piece.Edges {
			if e.Name == name && piece.EdgePath(i)[0] != want.Reverse()[0] {
				t.Errorf("%s runs %v", name, piece.EdgePath(i))
			}
		}
	}
}

func TestImportCutLineComesBack(t *testing.T) {
	armhole := geom.Path{
		geom.Line(geom.Pt(0, 0), geom.Pt(90, 0)),
		geom.Line(geom.Pt(90, 0), geom.Pt(95, 60)),
		geom.Cubic(geom.Pt(95, 60), geom.Pt(70, 62), geom.Pt(72, 90), geom.Pt(70, 110)),
		geom.Line(geom.Pt(70, 110), geom.Pt(40, 120)),
		geom.Cubic(geom.Pt(40, 120), geom.Pt(36, 100), geom.Pt(14, 96), geom.Pt(0, 96)),
		geom.Line(geom.Pt(0, 96), geom.Pt(0, 0)),
	}
	notched := geom.Polygon(geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 80), geom.Pt(60, 80), geom.Pt(60, 50), geom.Pt(0, 50))
	for _, tt := range []struct {
		name  string
		path  geom.Path
		width float64
	}{
		{"rectangle", rectangle(0, 0, 100, 50), 6},
		{"bodice", armhole, 5}, {"bodice clockwise", armhole.Reverse(), 5}, {"bodice", armhole, 0},
		{"notched", notched, 6.35},
	} {
		names := []string{"a", "b", "c", "d", "e", "f"}[:len(tt.path)]
		out := mustImport(t, New("x"), ImportOutlinesArgs{
			Outlines: []Outline{drawn(tt.name, tt.path, names...)}, Line: CutDrawn, Allowance: tt.width,
		})
		piece := out.Project.Pieces[0]
		if len(piece.Edges) != len(tt.path) || piece.Edges[0].Name != "a" {
			t.Errorf("%s: edges %s", tt.name, edgeNames(piece))
		}
		if len(out.Says) > 0 {
			t.Errorf("%s: %v", tt.name, out.Says)
		}
		flat, err := LayFlat(piece)
		if err != nil {
			t.Fatal(err)
		}
		if worst := farthest(tt.path, flat.Cut, 4*tt.width); worst > 0.01 {
			t.Errorf("%s: the cut line comes back %.4f mm off", tt.name, worst)
		}
		if want := math.Abs(tt.path.Area()); math.Abs(flat.Cut.Area()-want) > 2e-4*want {
			t.Errorf("%s: cut area %g, drawn %g", tt.name, flat.Cut.Area(), want)
		}
		// Every edge follows the drawn edge whose name it bears.
		drawnBy := make(map[string]geom.Segment)
		for i, s := range tt.path {
			drawnBy[names[i]] = s
		}
		for i, e := range piece.Edges {
			mid := piece.EdgePath(i).AtLength(piece.EdgeLength(i) / 2)
			if _, d := drawnBy[e.Name].Nearest(piece.EdgePath(i).At(mid)); math.Abs(d-tt.width) > 0.01 {
				t.Errorf("%s: the middle of %s lies %.3f mm from its drawn edge, want %g", tt.name, e.Name, d, tt.width)
			}
		}
	}
}

// farthest returns the largest distance in mm from b of points of a that lie at
// least reach mm from the ends of a's segments.
func farthest(a, b geom.Path, reach float64) float64 {
	worst := 0.0
	for _, s := range a {
		for k := range 201 {
			q := s.At(float64(k) / 200)
			if min(q.Dist(s.P0), q.Dist(s.P3)) >= reach {
				_, d := b.Nearest(q)
				worst = max(worst, d)
			}
		}
	}
	return worst
}

func TestImportOfASmoothOutline(t *testing.T) {
	const k = 0.5522847498307936 // 4/3 (sqrt 2 - 1), within 2.8e-4 of the radius
	r := 40.
	oval := geom.Path{
		geom.Cubic(geom.Pt(r, 0), geom.Pt(r, k*r), geom.Pt(k*r, r), geom.Pt(0, r)),
		geom.Cubic(geom.Pt(0, r), geom.Pt(-k*r, r), geom.Pt(-r, k*r), geom.Pt(-r, 0)),
		geom.Cubic(geom.Pt(-r, 0), geom.Pt(-r, -k*r), geom.Pt(-k*r, -r), geom.Pt(0, -r)),
		geom.Cubic(geom.Pt(0, -r), geom.Pt(k*r, -r), geom.Pt(r, -k*r), geom.Pt(r, 0)),
	}
	out := mustImport(t, New("x"), ImportOutlinesArgs{
		Outlines: []Outline{{Path: oval, Corner: make([]bool, 4), Name: "Crown"}}, Line: CutDrawn, Allowance: 5,
	})
	piece := out.Project.Pieces[0]
	if len(piece.Edges) != 1 {
		t.Fatalf("edges %s", edgeNames(piece))
	}
	for _, n := range piece.Edges[0].Nodes {
		if !n.Smooth || math.Abs(n.At.Len()-35) > 0.02 {
			t.Errorf("node %+v, want it smooth and 35 mm from the middle", n)
		}
	}
}

func TestImportLaysSideBySideOnlyWhatWouldOverlap(t *testing.T) {
	out := mustImport(t, New("x"), ImportOutlinesArgs{Allowance: 5, Outlines: []Outline{
		drawn("A", rectangle(0, 0, 50, 50)), drawn("B", rectangle(70, 0, 50, 50)), drawn("C", rectangle(100, 30, 50, 50)),
		drawn("D", rectangle(10, 10, 20, 20)),
		// In the crook of an L its box overlaps but nothing lies on it.
		drawn("E", geom.Polygon(geom.Pt(300, 0), geom.Pt(400, 0), geom.Pt(400, 20), geom.Pt(320, 20), geom.Pt(320, 100), geom.Pt(300, 100))),
		drawn("F", rectangle(340, 40, 50, 50)),
	}})
	var moved []string
	room := benchRoom{}
	for _, piece := range out.Project.Pieces {
		if piece.Place.At != (geom.Point{}) {
			moved = append(moved, piece.Name)
		}
		here := piece.lineOnBench()
		for _, other := range room.lying {
			if here.covers(other) {
				t.Errorf("%s lies on another piece", piece.Name)
			}
		}
		room.add(here)
	}
	if got := strings.Join(moved, ""); got != "CD" {
		t.Errorf("moved %q, want C and D", got)
	}
	again := mustImport(t, out.Project, ImportOutlinesArgs{Outlines: []Outline{drawn("A", rectangle(0, 0, 50, 50))}})
	last := again.Project.Pieces[6]
	if last.Name != "A 2" || last.Place.At.X == 0 {
		t.Errorf("%s at %v", last.Name, last.Place.At)
	}
}

func TestImportRefuses(t *testing.T) {
	nan := rectangle(0, 0, 10, 10)
	nan[1].P1.X = math.NaN()
	open := rectangle(0, 0, 10, 10)[:3]
	short := drawn("Cuff", rectangle(0, 0, 10, 10))
	short.Corner = short.Corner[:2]
	for _, tt := range []struct {
		args ImportOutlinesArgs
		says string
	}{
		{ImportOutlinesArgs{}, "no outline"},
		{ImportOutlinesArgs{Outlines: []Outline{drawn("Cuff", nan)}}, "Cuff: its outline holds a number"},
		{ImportOutlinesArgs{Outlines: []Outline{drawn("Cuff", open)}}, "Cuff: its outline is open"},
		{ImportOutlinesArgs{Outlines: []Outline{drawn("Cuff", nil)}}, "Cuff: it has no outline"},
		{ImportOutlinesArgs{Outlines: []Outline{short}}, "Cuff: its outline has 4 segments"},
		{ImportOutlinesArgs{Outlines: []Outline{drawn("Cuff", rectangle(0, 0, 10, 0))}}, "Cuff: its outline encloses nothing"},
		{ImportOutlinesArgs{Outlines: []Outline{drawn("Cuff", rectangle(0, 0, 10, 10))}, Line: CutDrawn, Allowance: 6}, "piece Cuff: with 6 mm"},
		{ImportOutlinesArgs{Outlines: []Outline{drawn("Cuff", rectangle(0, 0, 10, 10))}, Allowance: -1}, "between 0 and 1000 mm"},
		{ImportOutlinesArgs{Outlines: []Outline{drawn("Cuff", rectangle(0, 0, 1e6, 10))}}, "outside the 100 m"},
	} {
		if _, err := ImportOutlines.Do(New("x"), tt.args); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("error %v, want it to say %q", err, tt.says)
		}
	}
}

// Drawn cut lines of our own pieces come back, in a clone as well.
func TestImportCutLinesOfPieces(t *testing.T) {
	comeBack(t, "../testdata/geom/quill_pieces.json", 1.5)
}

// The hundred garment-like outlines lie beside the checkout where the project is
// made, and not in a clone.
func TestImportCutLinesOfManyOutlines(t *testing.T) {
	const many = "../../shared/data/outlines.json"
	if _, err := os.Stat(many); err != nil {
		t.Skip("the outlines are not beside this checkout: ", err)
	}
	comeBack(t, many, 3)
}

// comeBack imports the outlines of a file as cut lines and lays the pieces flat:
// their cut lines are the given ones away from corners, or the act tells.
func comeBack(t *testing.T, file string, width float64) {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var list []struct {
		Name  string
		Edges [][4][2]float64
	}
	if err := json.Unmarshal(data, &list); err != nil {
		t.Fatal(err)
	}
	pt := func(c [2]float64) geom.Point { return geom.Pt(c[0], c[1]) }
	silent := 0
	for _, o := range list {
		var path geom.Path
		for _, e := range o.Edges {
			path = append(path, geom.Cubic(pt(e[0]), pt(e[1]), pt(e[2]), pt(e[3])))
		}
		out, err := ImportOutlines.Do(New("x"), ImportOutlinesArgs{Outlines: []Outline{drawn(o.Name, path)}, Line: CutDrawn, Allowance: width})
		if err != nil {
			t.Errorf("%s: %v", o.Name, err)
			continue
		}
		flat, err := LayFlat(out.Project.Pieces[0])
		if err != nil {
			t.Errorf("%s: %v", o.Name, err)
			continue
		}
		if len(out.Says) == 0 {
			silent++
		}
		// What does not come back must have been told.
		worst := farthest(path, flat.Cut, geom.MitreLimit*width)
		if worst > comeBackSlack && len(out.Says) == 0 {
			t.Errorf("%s: comes back %.4f mm off and says nothing", o.Name, worst)
		}
	}
	t.Logf("%d of %d outlines come back whole at %g mm", silent, len(list), width)
	if silent < len(list)*9/10 {
		t.Errorf("%d of %d outlines come back whole", silent, len(list))
	}
}
