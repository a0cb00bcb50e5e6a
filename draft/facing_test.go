package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// checkFacing holds a facing along one edge without darts against its piece: the faced
// edge is the very line, the inner edge lies as far away as the facing is wide, and
// the ends lie on the edges beside.
func checkFacing(t fataler, piece, made *Piece, edge string, width float64) {
	t.Helper()
	id := ID("")
	for _, e := range piece.Edges {
		if e.Name == edge {
			id = e.ID
		}
	}
	_, i := piece.Edge(id)
	_, k := made.Edge(made.ID + "." + id)
	line := piece.EdgePath(i)
	if _, most := distances(made.EdgePath(k), line, 0); most > 1e-6 || math.Abs(made.EdgeLength(k)-piece.EdgeLength(i)) > 1e-5 {
		t.Fatalf("the faced edge is off by %g", most)
	}
	_, inner := made.Edge(made.ID + "." + id + "~inner")
	path := made.EdgePath(inner)
	for _, off := range []int{1, len(made.Edges) - 1} { // the edge after, and that before
		side := made.EdgePath((k + off) % len(made.Edges))
		parent := piece.EdgePath((i + off + len(piece.Edges)) % len(piece.Edges))
		if off > 1 {
			parent = piece.EdgePath((i + len(piece.Edges) - 1) % len(piece.Edges))
		}
		if _, most := distances(side, parent, 0); most > geom.ParallelTolerance {
			t.Fatalf("the end of the facing is %g off the edge beside", most)
		}
	}
	// An inner place is as far from the line as the facing is wide, but where the line is
	// run on beyond its end, or cut off at a corner.
	for j := range 41 {
		q := path.At(path.AtLength(path.Length() * float64(j) / 40))
		place, d := line.Nearest(q)
		if place == (geom.Place{}) || place.Seg == len(line)-1 && place.T == 1 {
			if d < width-geom.ParallelTolerance {
				t.Fatalf("the inner edge is only %g from the end of the edge, want %g", d, width)
			}
			continue
		}
		if math.Abs(d-width) > geom.ParallelTolerance+1e-6 {
			t.Fatalf("the inner edge is %g away, want %g", d, width)
		}
	}
	whole := piece.DrawnPath()
	for j, s := range path {
		if l := s.Length(); len(path) > 1 && l > 0 && l < longestStub && 100*l < path.Length() {
			t.Fatalf("line %d of the inner edge is a stub of %g mm", j, s.Length())
		}
	}
	if made.DrawnPath().Area() >= whole.Area() {
		t.Fatal("the facing is larger than the piece")
	}
}

func TestFacingOfTheVest(t *testing.T) {
	p := vestFor(t, "231mm", "231mm", "84mm")
	out := mustDo(t, p, "face-edge", "edges=Front.neck", "width=12mm")
	front := madeBy(t, out)
	out = mustDo(t, out.Project, "face-edge", "edges=Back.neck", "width=12mm")
	back, p := madeBy(t, out), out.Project
	checkFacing(t, roleOf(p, "front"), front, "neck", 12)
	checkFacing(t, roleOf(p, "back"), back, "neck", 12)
	if front.Cut.Way != CutOnFold || back.Cut.Way != CutPairs || front.FoldEdge() < 0 {
		t.Errorf("cut %v and %v", front.Cut, back.Cut)
	}
	t.Log(out.Says)
	for _, name := range []string{"neck of Front to facing", "neck of Back to facing", "shoulder facing"} {
		seamCalled(t, p, name)
	}
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=bust_girth", "value=300mm").Project
	checkFacing(t, roleOf(p, "front"), p.Piece(front.ID), "neck", 12)
	checkFacing(t, roleOf(p, "back"), p.Piece(back.ID), "neck", 12)
}

func TestFacingAtAnyScale(t *testing.T) {
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		body := drawBody(t, "body")
		p := twoBodies(t, body, body)
		piece := roleOf(p, rapid.SampledFrom([]string{"front", "back"}).Draw(t, "role"))
		edge := rapid.SampledFrom([]string{"neck", "armhole", "side", "shoulder"}).Draw(t, "edge")
		width := toGrid(rapid.Float64Range(0.02, 0.2).Draw(t, "width") * body.length)
		_, made, err := p.link(piece.ID, facing{edges: []ID{piece.ID + "." + ID(edge)}, width: width})
		if err != nil {
			return // told: too wide for the edge beside it
		}
		done++
		checkFacing(t, piece, made, edge, width)
	})
	if done < 50 && !testing.Short() {
		t.Errorf("only %d facings were made", done)
	}
}

// A hem with a dart is faced with the dart closed: the facing's edge is as long as the
// hem, and its inner edge runs at one distance from that.
func TestFacingClosesDarts(t *testing.T) {
	p := vestFor(t, "260mm", "180mm", "84mm")
	piece := roleOf(p, "front")
	if len(piece.Darts) != 1 {
		t.Fatal("the vest has no dart for this body")
	}
	out := mustDo(t, p, "face-edge", "edges=Front.hem", "width=8mm")
	made := madeBy(t, out)
	if len(made.Darts) != 0 {
		t.Error("the facing has a dart")
	}
	_, i := piece.Edge("front.hem")
	_, k := made.Edge(made.ID + ".front.hem")
	if d := math.Abs(made.EdgeLength(k) - piece.EdgeLength(i)); d > 1e-5 {
		t.Errorf("the faced edge is %g off the hem", d)
	}
	_, inner := made.Edge(made.ID + ".front.hem~inner")
	// By hand: a dart of the angle a at the tip, closed, turns what is after it by a.
	d := piece.Darts[0]
	from, to := nodeOf(piece, string(d.From)).Sub(d.Apex), nodeOf(piece, string(d.To)).Sub(d.Apex)
	angle := math.Acos(from.Dot(to) / from.Len() / to.Len())
	// Where the dart is closed the hem has a corner, and the inner edge a mitre.
	least, most := distances(made.EdgePath(inner), made.EdgePath(k), 0.1)
	if math.Abs(least-8) > 0.011 || most > 8/math.Cos(angle/2)+0.011 {
		t.Errorf("the inner edge lies %g to %g away", least, most)
	}
	path := made.EdgePath(k)
	u, v := path[0].Tangent(0), path[len(path)-1].Tangent(1)
	w, x := piece.EdgePath(i)[0].Tangent(0), piece.EdgePath(i)[2].Tangent(1)
	turned := math.Atan2(u.Cross(v), u.Dot(v)) - math.Atan2(w.Cross(x), w.Dot(x))
	if math.Abs(math.Abs(turned)-angle) > 1e-6 {
		t.Errorf("the edge is turned by %g, the dart has %g", turned, angle)
	}
	for _, e := range made.Edges {
		if len(e.Nodes) == 0 {
			t.Errorf("edge %s has no nodes", e.Name)
		}
	}
}

func TestFacingAlongNeighbouringEdges(t *testing.T) {
	p := vestFor(t, "231mm", "231mm", "84mm")
	out := mustDo(t, p, "face-edge", "edges=Back.neck;Back.centre", "width=6mm", "interface=yes")
	made := madeBy(t, out)
	back := roleOf(p, "back")
	for _, name := range []string{"neck", "centre"} {
		_, i := back.Edge(back.ID + "." + ID(name))
		_, k := made.Edge(made.ID + "." + back.ID + "." + ID(name))
		if k < 0 || math.Abs(made.EdgeLength(k)-back.EdgeLength(i)) > 1e-5 {
			t.Errorf("%s is not faced", name)
		}
	}
	inner := made.Edges[len(made.Edges)-2]
	if inner.Name != "inner edge" || inner.Kind != RawEdge {
		t.Errorf("%+v", inner)
	}
	_, k := made.Edge(inner.ID)
	whole := append(back.EdgePath(4), back.EdgePath(5)...)
	least, most := distances(made.EdgePath(k), whole, 0.02)
	if math.Abs(least-6) > 0.011 || most > 6*math.Sqrt2+0.1 {
		t.Errorf("the inner edge lies %g to %g away", least, most)
	}
	if len(out.Project.LinksOf(made)) != 1 {
		t.Error("no interfacing follows the facing")
	}
	for _, bad := range [][2]string{{"Back.neck;Back.side", "do not follow"}, {"Back.neck;Front.neck", "more than one piece"}, {"Front.fold", "fold"}, {"Back.*", "all round"}} {
		_, err := faceEdges(p, bad[0])
		if err == nil || !strings.Contains(err.Error(), bad[1]) {
			t.Errorf("%s: %v", bad[0], err)
		}
	}
}

func faceEdges(p *Project, edges string) (Outcome, error) {
	return FaceEdge.DoText(p, map[string]string{"edges": edges, "width": "6mm"})
}
