package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

func TestLengthenAPanel(t *testing.T) {
	for _, way := range []CutWay{CutSingle, CutOnFold} {
		for _, sides := range []string{"trued", "as cut"} {
			p := panel(way)
			p = doneAct(t, p, "link-seam", "a=Front.side", "b=Back.side").Project
			p = doneAct(t, p, "add-notch", "edge=Front.side", "at=150mm").Project
			out := doneAct(t, p, "lengthen-piece", "from=Front.middle@50%", "to=Front.side@85mm", "by=30mm", "sides="+sides)
			a, b := p.Pieces[0], out.Project.Pieces[0]
			if grown := b.DrawnPath().Area() - a.DrawnPath().Area(); math.Abs(grown-3000) > 1e-3 {
				t.Errorf("%v, %s: it grew by %v mm2, want 100 by 30", way, sides, grown)
			}
			if d := b.EdgeLength(1) - a.EdgeLength(1); math.Abs(d-30) > 1e-6 || len(b.Edges) != len(a.Edges) || b.Cut != a.Cut {
				t.Errorf("%v, %s: the side is %v mm longer", way, sides, d)
			}
			if d := b.notchPoint(b.Notches[0]).Y - a.notchPoint(a.Notches[0]).Y; math.Abs(d-30) > 1e-5 {
				t.Errorf("%v, %s: the notch has moved by %v mm", way, sides, d)
			}
			if len(out.Says) != 1 || !strings.Contains(out.Says[0], "Seam side no longer fits") {
				t.Errorf("%v, %s: it says %q", way, sides, out.Says)
			}
			if n := len(out.Project.Seams); n != 1 {
				t.Errorf("%d seams", n)
			}
		}
	}
}

// Between two lines the piece is stretched evenly: what lies between keeps its share.
func TestLengthenBetweenTwoLines(t *testing.T) {
	p := panel(CutPairs)
	p.Pieces[0].Lines = []Line{{ID: "waist", Name: "waist", Nodes: []Node{{ID: "w1", At: geom.Pt(10, 75)}, {ID: "w2", At: geom.Pt(90, 75)}}}}
	out := doneAct(t, p, "lengthen-piece", "from=Front.middle@120mm", "to=Front.side@50mm", "by=-20mm", "second=70mm")
	q := out.Project.Pieces[0]
	if d := q.EdgeLength(1); math.Abs(d-180) > 1e-6 {
		t.Errorf("the side is %v mm", d)
	}
	if y := q.Lines[0].Nodes[0].At.Y; math.Abs(y-(50+25*30./50)) > 1e-6 {
		t.Errorf("the waist lies at %v", y)
	}
}

// Lengthening a piece at a level line and shortening it there again leads back to it.
func TestLengthenAndShorten(t *testing.T) {
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		piece := drawnPiece(t)
		p := randomlySewn(piece)
		box := piece.DrawnPath().Bounds()
		y := toGrid(box.Min.Y + box.H()*rapid.Float64Range(0.2, 0.8).Draw(t, "height"))
		by := toGrid(box.H() * rapid.Float64Range(0.02, 0.5).Draw(t, "by"))
		from, to, ok := levelPlaces(piece, y)
		if !ok {
			t.Skip("no level line across")
		}
		longer, err := LengthenPiece.Do(p, LengthenPieceArgs{From: from, To: to, By: Length(by)})
		if err != nil {
			t.Skip(err)
		}
		soundProject(t, longer.Project)
		q := longer.Project.Piece(piece.ID)
		if h := q.DrawnPath().Bounds().H(); h < box.H() {
			t.Fatalf("a piece of %v mm became %v", box.H(), h)
		}
		from, to, ok = levelPlaces(q, y)
		if !ok {
			t.Skip("no level line across any more")
		}
		shorter, err := LengthenPiece.Do(longer.Project, LengthenPieceArgs{From: from, To: to, By: Length(-by)})
		if err != nil {
			t.Fatal(err)
		}
		soundProject(t, shorter.Project)
		done++
		back := shorter.Project.Piece(piece.ID)
		for i := range piece.Edges {
			for k, n := range piece.Edges[i].Nodes {
				if m := back.Edges[i].Nodes[k]; n.At.Dist(m.At) > 5e-6 {
					t.Fatalf("point %s was at %v and came back at %v", n.ID, n.At, m.At)
				}
			}
			if d := outlinesApart(piece.EdgePath(i), back.EdgePath(i)); d > 2e-5 {
				t.Fatalf("edge %s came back %v mm away", piece.Edges[i].Name, d)
			}
		}
		for k, n := range piece.Notches {
			if d := piece.notchPoint(n).Dist(back.notchPoint(back.Notches[k])); d > 1e-4 {
				t.Fatalf("notch %s came back %v mm away", n.ID, d)
			}
		}
	})
	if done == 0 && !testing.Short() {
		t.Error("nothing was ever lengthened")
	}
}

// levelPlaces returns where a level line at a height crosses a piece, from right to left, so
// that what lies below moves.
func levelPlaces(p *Piece, y float64) (from, to PlaceRef, ok bool) {
	box := p.DrawnPath().Bounds()
	line := geom.Path{geom.Line(geom.Pt(box.Max.X+1, y), geom.Pt(box.Min.X-1, y))}
	meets := line.Intersections(p.DrawnPath())
	if len(meets) != 2 {
		return from, to, false
	}
	a, b := p.placeAt(meets[0].P), p.placeAt(meets[1].P)
	// A place that means a corner near it would tilt the line.
	ok = p.pointAt(a).Dist(meets[0].P) < 1e-9 && p.pointAt(b).Dist(meets[1].P) < 1e-9
	return *placeRef(p, a), *placeRef(p, b), ok
}
