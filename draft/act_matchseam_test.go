package draft

import (
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// sewnBodice is the bodice with its side and shoulder seams, the side of the front 3 mm
// longer: it reaches further down.
func sewnBodice(t *testing.T) *Project {
	p := bodice()
	p = mustDo(t, p, "link-seam", "a=front.side", "b=back.side", "name=side").Project
	p = mustDo(t, p, "link-seam", "a=front.shoulder", "b=back.shoulder", "name=shoulder", "ratio=60/55", "fuller=a", "fullness=ease").Project
	return mustDo(t, p, "move-nodes", `nodes=front."front.n1"`, "by=0mm,-3mm").Project
}

// chords returns the length of an edge by adding up short chords, which shares no code with
// the lengths that the acts go by. With n chords a curve is short by about its length
// times (turn/n)²/24.
func chords(t fataler, p *Project, edge string) float64 {
	t.Helper()
	ref, err := p.FindEdge(edge)
	if err != nil {
		t.Fatal(err)
	}
	piece := p.Piece(ref.Piece)
	_, i := piece.Edge(ref.Edge)
	nodes := piece.EdgeNodes(i)
	sum := 0.0
	for k := 1; k < len(nodes); k++ {
		a, b := nodes[k-1], nodes[k]
		if piece.dartAt(a.ID, b.ID) != nil {
			continue
		}
		const n = 4000
		last := a.At
		for j := 1; j <= n; j++ {
			u := float64(j) / n
			at := geom.Pt(0, 0)
			for c, q := range [4]geom.Point{a.At, a.At.Add(a.Out), b.At.Add(b.In), b.At} {
				at = at.Add(q.Mul([4]float64{(1 - u) * (1 - u) * (1 - u), 3 * u * (1 - u) * (1 - u), 3 * u * u * (1 - u), u * u * u}[c]))
			}
			sum += math.Hypot(at.X-last.X, at.Y-last.Y)
			last = at
		}
	}
	return sum
}

// whereIs returns where a node lies.
func whereIs(t fataler, p *Project, piece, node ID) geom.Point {
	t.Helper()
	n, _, _ := p.Piece(piece).Node(node)
	if n == nil {
		t.Fatalf("%s has no point %s", piece, node)
	}
	return n.At
}

func TestMatchSeam(t *testing.T) {
	start := sewnBodice(t)
	for _, tc := range []struct {
		name  string
		args  []string
		a, b  float64 // what the sides measure then, 0 for whatever
		stays []ID    // nodes that stay bit for bit
	}{
		{"the front gives", []string{"gives=a"}, 80, 80, []ID{"front.n0", "front.n2", "front.n3", "back.n0", "back.n1", "back.n2", "back.n3"}},
		{"the back gives", []string{"gives=b"}, 83, 83, []ID{"front.n0", "front.n1", "front.n2", "front.n3", "back.n2", "back.n3"}},
		{"they meet between", nil, 0, 0, []ID{"front.n0", "front.n2", "front.n3", "back.n2", "back.n3"}},
		{"at the shoulder", []string{"gives=a", "end=end"}, 80, 80, []ID{"front.n0", "front.n1", "front.n3"}},
		{"bent between its ends", []string{"gives=b", "way=bend"}, 83, 83, []ID{"back.n0", "back.n1", "back.n2", "back.n3", "front.n1"}},
		{"bent, and the longer side is straight", []string{"way=bend"}, 83, 83, []ID{"back.n1", "back.n2", "front.n1", "front.n2"}},
		{"spread", []string{"gives=b", "way=spread"}, 83, 83, []ID{"front.n1", "front.n2"}},
		{"spread over a stretch", []string{"gives=b", "way=spread", "from=20%", "to=0.5"}, 83, 83, []ID{"back.n2", "front.n1", "front.n2"}},
		{"spread, and one side lies across from the fold", []string{"way=spread"}, 83, 83, []ID{"front.n1", "front.n2"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			out := mustDo(t, start, "match-seam", append([]string{"seam=side"}, tc.args...)...)
			q := out.Project
			a, b := chords(t, q, "front.side"), chords(t, q, "back.side")
			if math.Abs(a-b) > MatchedTo || tc.a > 0 && math.Abs(a-tc.a) > MatchedTo || tc.b > 0 && math.Abs(b-tc.b) > MatchedTo {
				t.Errorf("the sides measure %.6f and %.6f, want %g and %g", a, b, tc.a, tc.b)
			}
			if tc.a == 0 && (a < 80.5 || a > 82.5) {
				t.Errorf("the sides meet at %.3f, which is not between", a)
			}
			for i, edge := range []string{"front.shoulder", "back.shoulder"} {
				wantNear(t, edge, chords(t, q, edge), []float64{60, 55}[i], MatchedTo)
			}
			for _, id := range tc.stays {
				piece := ID(strings.Split(string(id), ".")[0])
				if was, is := whereIs(t, start, piece, id), whereIs(t, q, piece, id); was != is {
					t.Errorf("%s moved from %v to %v", id, was, is)
				}
			}
			for i, n := range q.Piece("front").EdgeNodes(3) {
				if n.At.X != 0 {
					t.Errorf("point %d of the fold lies at %v", i, n.At)
				}
			}
			if s := q.Seam(out.Made); s == nil || s.Ratio != 1 || s.Fullness != Plain {
				t.Errorf("the seam means %+v", s)
			}
			if len(out.Says) == 0 || !strings.HasPrefix(out.Says[len(out.Says)-1], "Outlines move by at most") {
				t.Errorf("says %q", out.Says)
			}
		})
	}
}

// The end that moves of itself is the one where nothing else is sewn, and a curve beside
// it that is sewn keeps its length.
func TestMatchSeamKeepsItsNeighbours(t *testing.T) {
	p := sewnBodice(t)
	p = mustDo(t, p, "bend-edge", "edge=front.shoulder", "at=50%", "to=30mm,84mm").Project
	long := chords(t, p, "front.shoulder")
	for _, args := range [][]string{{"gives=a", "end=end"}, {"end=end"}} {
		q := mustDo(t, p, "match-seam", append([]string{"seam=side"}, args...)...).Project
		wantNear(t, "shoulder of the front", chords(t, q, "front.shoulder"), long, MatchedTo)
		wantNear(t, "side", chords(t, q, "front.side"), chords(t, q, "back.side"), MatchedTo)
		if at := whereIs(t, q, "front", "front.n1"); at != whereIs(t, p, "front", "front.n1") {
			t.Errorf("%v: the hem moved to %v", args, at)
		}
	}
}

// Of two ends at which nothing is sewn the one at the hem moves: the armhole is to be sewn
// one day.
func TestMatchSeamMovesTheHem(t *testing.T) {
	p := bodice()
	for _, piece := range []string{"front", "back"} {
		p = mustDo(t, p, "set-kind", "edges="+piece+".hem", "kind=hem").Project
	}
	// Both sides run up, and so does the seam; run down, its start is the other end.
	for _, runs := range [][]string{{"a=front.side", "b=back.side"}, {"a=front.side/reversed", "b=back.side/left/reversed", "ends=as-given"}} {
		q := mustDo(t, p, "link-seam", append(runs, "name=side")...).Project
		q = mustDo(t, q, "move-nodes", `nodes=front."front.n2"`, "by=0mm,3mm").Project
		for _, gives := range []string{"a", "b", "both"} {
			r := mustDo(t, q, "match-seam", "seam=side", "gives="+gives).Project
			for _, id := range []ID{"front.n2", "back.n2"} {
				piece := ID(strings.Split(string(id), ".")[0])
				if was, is := whereIs(t, q, piece, id), whereIs(t, r, piece, id); was != is {
					t.Errorf("%v, %s gives: the upper end moved from %v to %v", runs, gives, was, is)
				}
			}
			wantNear(t, "side", chords(t, r, "front.side"), chords(t, r, "back.side"), MatchedTo)
		}
	}
}

// A ruffle stays a strip, and is as much fuller as it is meant to be.
func TestMatchSeamKeepsAStripAStrip(t *testing.T) {
	p := projectOf(
		polygonPiece("ruffle", 5, geom.Pt(0, 0), geom.Pt(290, 0), geom.Pt(290, 40), geom.Pt(0, 40)),
		polygonPiece("skirt", 5, geom.Pt(0, 100), geom.Pt(200, 100), geom.Pt(190, 250), geom.Pt(10, 250)),
	)
	name(p.Pieces[0], "hem", "end", "heading", "start")
	p = mustDo(t, p, "link-seam", "a=skirt.e0", "b=ruffle.heading", "ratio=1.5", "fuller=b", "name=ruffle").Project
	p = mustDo(t, p, "link-seam", "a=ruffle.start", "b=ruffle.end", "name=back", "ends=as-given").Project
	for _, act := range [][]string{{"match-seam", "seam=ruffle", "gives=b"}, {"match-seams", "seams=ruffle", "pieces=skirt"}} {
		q := mustDo(t, p, act[0], act[1:]...).Project
		r := q.Piece("ruffle")
		for i, want := range []float64{300, 40, 300, 40} {
			wantNear(t, "edge of the strip", r.EdgeLength(i), want, 1e-5)
			if u := r.endTangent(i, EdgeStart); math.Abs(u.X*u.Y) > 1e-9 {
				t.Errorf("%v: edge %d runs %v", act, i, u)
			}
		}
		if q.Piece("skirt") != p.Piece("skirt") {
			t.Errorf("%v: the skirt changed", act)
		}
	}
	// Plain, it is as long as what it is sewn to, and meant to be.
	q := mustDo(t, p, "match-seam", "seam=ruffle", "gives=b", "want=plain").Project
	wantNear(t, "plain band", q.Piece("ruffle").EdgeLength(2), 200, 1e-5)
	if s := q.Seam(q.Seams[0].ID); s.Ratio != 1 || s.Fullness != Plain {
		t.Errorf("it means %+v", s)
	}
}

// A half on the fold counts twice, and so does an edge of a pair.
func TestMatchSeamCountsCopies(t *testing.T) {
	front := polygonPiece("front", 5, geom.Pt(-60, 0), geom.Pt(0, 0), geom.Pt(0, 80), geom.Pt(-20, 95), geom.Pt(-60, 90))
	name(front, "hem", "fold", "neck", "shoulder", "side")
	front.Edges[1].Kind, front.Cut = FoldEdge, CutRule{CutOnFold, 1}
	collar := polygonPiece("collar", 5, geom.Pt(100, 0), geom.Pt(154, 0), geom.Pt(154, 20), geom.Pt(100, 20))
	p := projectOf(front, collar)
	p = mustDo(t, p, "link-seam", "a=front.neck + front.neck/far", "b=collar.e0", "ends=as-given", "name=neck").Project
	slots := NewSlots()
	for _, gives := range []string{"a", "b", "both"} {
		q := mustDo(t, p, "match-seam", "seam=neck", "gives="+gives).Project
		st, err := slots.SeamState(q, q.Seams[0])
		if err != nil || math.Abs(st.Diff) > MatchedTo {
			t.Errorf("%s: %+v, %v", gives, st, err)
		}
		wantNear(t, "collar", chords(t, q, "collar.e0"), 2*chords(t, q, "front.neck"), MatchedTo)
		if at := whereIs(t, q, "front", "front.n2"); at.X != 0 {
			t.Errorf("%s: the neck leaves the fold: %v", gives, at)
		}
	}
}

// The panels of a bag are drawn once, and its two side seams are of the same edges: they
// can be matched only together.
func TestMatchSeamTakesItsFellowsAlong(t *testing.T) {
	panel := polygonPiece("panel", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 150), geom.Pt(0, 147))
	name(panel, "bottom", "right", "top", "left")
	panel.Cut.Count = 2
	p := projectOf(panel)
	p = mustDo(t, p, "link-seam", "a=panel.right/1", "b=panel.left/2", "name=right side").Project
	p = mustDo(t, p, "link-seam", "a=panel.left/1", "b=panel.right/2", "name=left side").Project
	for _, act := range [][]string{{"match-seam", "seam=left side"}, {"match-seam", "seam=left side", "way=spread"}, {"match-seams", "seams=right side"}} {
		out := mustDo(t, p, act[0], act[1:]...)
		for _, s := range out.Project.Seams {
			wantNear(t, s.Name, out.Project.seamDiff(s), 0, MatchedTo)
		}
		if said := strings.Join(out.Says, " "); !strings.Contains(said, " side matches with that.") {
			t.Errorf("%v says %q", act, said)
		}
	}
	// Sewn to itself, an edge is as long as itself.
	p = mustDo(t, p, "link-seam", "a=panel.top/1", "b=panel.top/2", "name=top", "ratio=1.5").Project
	a, _ := ActNamed("match-seam")
	if _, err := a.DoText(p, pairs([]string{"seam=top"})); err == nil || !strings.Contains(err.Error(), "the same edges") {
		t.Errorf("an edge was made longer than itself: %v", err)
	}
}

// A side that the other one is made of would take it along.
func TestMatchSeamLetsTheFollowerGive(t *testing.T) {
	p := mustDo(t, bodice(), "trace-copy", "piece=back", "name=lining", "linked=yes").Project
	p = mustDo(t, p, "link-seam", "a=back.side", "b=lining.side", "name=bag", "ends=as-given").Project
	lining := p.Piece(p.Pieces[2].ID)
	p = mustDo(t, p, "move-nodes", `nodes="`+string(lining.ID)+`"."`+string(lining.Edges[1].Nodes[0].ID)+`"`, "by=0mm,2mm").Project
	a, _ := ActNamed("match-seam")
	if _, err := a.DoText(p, pairs([]string{"seam=bag", "gives=a"})); err == nil || !strings.Contains(err.Error(), "follows") {
		t.Errorf("the side that is followed gave: %v", err)
	}
	for _, gives := range []string{"both", "b"} {
		q := mustDo(t, p, "match-seam", "seam=bag", "gives="+gives).Project
		wantNear(t, "bag", q.seamDiff(q.Seams[0]), 0, MatchedTo)
		if q.Piece("back") != p.Piece("back") {
			t.Errorf("%s: the back changed", gives)
		}
	}
}

func TestMatchSeamLeavesTheLockedToTheOther(t *testing.T) {
	p := mustDo(t, sewnBodice(t), "lock-pieces", "pieces=front").Project
	q := mustDo(t, p, "match-seam", "seam=side").Project
	wantNear(t, "back", q.Piece("back").EdgeLength(1), 83, MatchedTo)
	if q.Piece("front") != p.Piece("front") {
		t.Error("a locked piece changed")
	}
}

func TestMatchSeamRefuses(t *testing.T) {
	start := sewnBodice(t)
	matched := mustDo(t, start, "match-seam", "seam=side").Project
	locked := mustDo(t, start, "lock-pieces", "pieces=front").Project
	for _, tc := range []struct {
		name string
		p    *Project
		args []string
		says string
	}{
		{"what matches", matched, []string{"seam=side"}, "match already"},
		{"a locked side", locked, []string{"seam=side", "gives=a"}, "front is locked"},
		{"to shorten a straight side by bending", start, []string{"seam=side", "way=bend", "gives=a"}, "a straight side is the shortest"},
		{"a stretch that ends before it begins", start, []string{"seam=side", "way=spread", "from=0.5", "to=0.4"}, "from 0.5 to 0.4"},
		{"to spread across from a fold", start, []string{"seam=side", "way=spread", "gives=a"}, "nothing lies straight across"},
		{"an unknown side", start, []string{"seam=side", "gives=c"}, "c"},
		{"an unknown seam", start, []string{"seam=hem"}, "hem"},
	} {
		a, _ := ActNamed("match-seam")
		_, err := a.DoText(tc.p, pairs(tc.args))
		if err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: %v, want %q", tc.name, err, tc.says)
		}
	}
}

// The dart of a side goes along as it is when all of its piece may change.
func TestMatchedPieceKeepsItsDarts(t *testing.T) {
	p := sewnBodice(t)
	p = mustDo(t, p, "add-dart", "edge=front.side", "at=40mm", "intake=8mm", "length=25mm").Project
	legs := func(p *Project) (a, b, mouth float64) {
		q := p.Piece("front")
		m, ok := q.mouthAt(&q.Darts[0])
		if !ok {
			t.Fatal("the dart has no mouth")
		}
		return m.from.Dist(q.Darts[0].Apex), m.to.Dist(q.Darts[0].Apex), m.width()
	}
	a, b, mouth := legs(p)
	for _, act := range [][]string{{"match-seam", "seam=side", "gives=a"}, {"match-seams"}, {"match-seams", `points=front."front.n1"`}} {
		q := mustDo(t, p, act[0], act[1:]...).Project
		a2, b2, mouth2 := legs(q)
		if math.Abs(a-a2)+math.Abs(b-b2)+math.Abs(mouth-mouth2) > 1e-5 {
			t.Errorf("%v: legs %g and %g, mouth %g; were %g, %g, %g", act, a2, b2, mouth2, a, b, mouth)
		}
		wantNear(t, "side", chords(t, q, "front.side"), chords(t, q, "back.side"), MatchedTo)
	}
}
