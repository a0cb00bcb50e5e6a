package draft

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hemlet/geom"
)

// Cutting a piece in two and joining the parts along the seam of the cut leads back: the
// way it is cut, its edges and names, and everything that is sewn.
func TestSplitThenJoin(t *testing.T) {
	for _, way := range []CutWay{CutSingle, CutPairs, CutOnFold} {
		for _, cut := range [][2]string{
			{"from=Front.shoulder@50%", "to=Front.hem@60%"},
			{"from=Front.hem@60%", "to=Front.shoulder@50%"},
			{"from=Front.middle@40%", "to=Front.side@30%"},
			{"from=Front.neck@0%", "to=Front.hem@100%"},
			{"from=Front.neck@40%", "to=Front.hem@50%"},
			{"from=Front.hem@0%", "to=Front.side@100%"},
		} {
			p := panel(way)
			p = doneAct(t, p, "link-seam", "a=Front.side", "b=Back.side").Project
			p = doneAct(t, p, "link-seam", "a=Front.hem", "b=Back.hem", "name=bag").Project
			p = doneAct(t, p, "link-seam", "a=Front.shoulder", "b=Back.shoulder").Project
			p = doneAct(t, p, "add-notch", "edge=Front.side", "at=50mm from end").Project
			split := doneAct(t, p, "split-piece", cut[0], cut[1])
			if n := len(split.Project.Seams); n != 4 {
				t.Fatalf("%v %v: %d seams", way, cut, n)
			}
			joined := doneAct(t, split.Project, "join-pieces", "seam=cut").Project
			a, b := p.Pieces[0], joined.Pieces[0]
			if len(joined.Pieces) != 2 || b.Name != a.Name && b.Name != "Front 2" || a.Cut != b.Cut {
				t.Errorf("%v %v: %d pieces, %s, %v", way, cut, len(joined.Pieces), b.Name, b.Cut)
			}
			if diff := cmp.Diff(seamTexts(p), seamTexts(joined)); diff != "" {
				t.Errorf("%v %v: %s", way, cut, diff)
			}
			sameOutline(t, a, b)
		}
	}
}

// sameOutline compares two pieces by their edges.
func sameOutline(t rapid.TB, a, b *Piece) {
	t.Helper()
	if len(a.Edges) != len(b.Edges) {
		t.Fatalf("%d edges came back as %d", len(a.Edges), len(b.Edges))
	}
	shift := 0
	for shift < len(b.Edges)-1 && b.Edges[shift].Name != a.Edges[0].Name {
		shift++
	}
	for i := range a.Edges {
		k := (i + shift) % len(a.Edges)
		e, f := a.Edges[i], b.Edges[k]
		if e.Name != f.Name || e.Kind != f.Kind || math.Abs(e.Allowance.Start-f.Allowance.Start) > Grid || math.Abs(e.Allowance.End-f.Allowance.End) > Grid {
			t.Errorf("edge %s, %v, %v came back as %s, %v, %v", e.Name, e.Kind, e.Allowance, f.Name, f.Kind, f.Allowance)
		}
		if d := outlinesApart(a.EdgePath(i), b.EdgePath(k)); d > 1e-6 {
			t.Errorf("edge %s came back %v mm away", e.Name, d)
		}
		if d := math.Abs(a.EdgeLength(i) - b.EdgeLength(k)); d > 5e-6 {
			t.Errorf("edge %s came back %v mm longer", e.Name, d)
		}
	}
}

// The same of random pieces, each edge of which is sewn to a strip.
func TestRandomPiecesComeBack(t *testing.T) {
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		piece := drawnPiece(t)
		p := randomlySewn(piece)
		a, b := drawnCut(t, piece)
		out, err := SplitPiece.Do(p, SplitPieceArgs{From: placeRef(piece, a), To: placeRef(piece, b)})
		if err != nil {
			t.Skip(err)
		}
		soundProject(t, out.Project)
		x, y := out.Project.Piece(piece.ID), out.Project.Piece(out.Made)
		if sum, area := x.DrawnPath().Area()+y.DrawnPath().Area(), piece.DrawnPath().Area(); math.Abs(sum-area) > 1e-6*piece.DrawnPath().Length() {
			t.Fatalf("the parts have %v mm2 of %v", sum, area)
		}
		seam := out.Project.Seams[len(out.Project.Seams)-1]
		joined, err := JoinPieces.Do(out.Project, JoinPiecesArgs{Seam: (*SeamRef)(&seam.ID), Gap: 0.001})
		if err != nil {
			t.Fatal(err)
		}
		soundProject(t, joined.Project)
		done++
		q := joined.Project.Piece(piece.ID)
		sameOutline(t, piece, q)
		if len(q.Notches) != len(piece.Notches) || len(q.Darts) != len(piece.Darts) || len(q.Stretches) != len(piece.Stretches) {
			t.Fatalf("of %d notches, %d darts, %d stretches came back %d, %d, %d", len(piece.Notches), len(piece.Darts), len(piece.Stretches), len(q.Notches), len(q.Darts), len(q.Stretches))
		}
		if diff := cmp.Diff(seamTexts(p), seamTexts(joined.Project)); diff != "" {
			t.Fatal(diff)
		}
	})
	if done == 0 && !testing.Short() {
		t.Error("nothing was ever cut")
	}
}

// randomlySewn returns a project of the piece and of a strip beside it with as many edges,
// each sewn to one of the piece.
func randomlySewn(piece *Piece) *Project {
	p := projectOf(piece)
	p.NextID = 10_000
	ids := p.newIDs()
	strip := &Piece{ID: ids.make(kindPiece), Name: "strip", Cut: CutRule{CutSingle, 1}}
	n := len(piece.Edges)
	for i := range n + 2 {
		at := geom.Pt(2000+10*float64(i), 0)
		if i >= n {
			at = geom.Pt(2000+10*float64(2*n-i), 50)
		}
		strip.Edges = append(strip.Edges, Edge{ID: ids.make(kindEdge), Name: string(rune('a' + i)), Nodes: []Node{{ID: ids.make(kindNode), At: at}}})
	}
	p.Pieces = append(p.Pieces, strip)
	for i := range n {
		p.Seams = append(p.Seams, &Seam{ID: ids.make(kindSeam), Name: piece.Edges[i].Name, A: drawnRun(piece.ID, piece.Edges[i].ID), B: drawnRun(strip.ID, strip.Edges[i].ID).reversed(), Ratio: 1, To: 1})
	}
	p.NextID = ids.next
	return p
}

func placeRef(p *Piece, at outlinePlace) *PlaceRef {
	return &PlaceRef{Piece: p.ID, Edge: p.Edges[at.edge].ID, At: EdgePlace{At: at.along}}
}

func soundProject(t rapid.TB, p *Project) {
	t.Helper()
	if err := Validate(p); err != nil {
		t.Fatal(err)
	}
	if err := p.usesExist(); err != nil {
		t.Fatal(err)
	}
}
