package draft

import (
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// Both seams of the bodice are off, and are matched together.
func TestMatchSeams(t *testing.T) {
	p := sewnBodice(t)
	p = mustDo(t, p, "move-nodes", `nodes=back."back.n3"`, "by=-2mm,1mm").Project
	for _, tc := range []struct {
		args  []string
		stays []ID
	}{
		{nil, nil},
		{[]string{"seams=side + shoulder"}, nil},
		{[]string{`points=front."front.n1" + back."back.n3"`}, []ID{"front.n1", "back.n3"}},
		{[]string{"pieces=front"}, []ID{"front.n0", "front.n1", "front.n2", "front.n3"}},
	} {
		q := mustDo(t, p, "match-seams", tc.args...).Project
		wantNear(t, "side", chords(t, q, "front.side"), chords(t, q, "back.side"), MatchedTo)
		wantNear(t, "shoulder", chords(t, q, "front.shoulder"), 60./55*chords(t, q, "back.shoulder"), MatchedTo)
		for _, id := range tc.stays {
			piece := ID(strings.Split(string(id), ".")[0])
			if was, is := whereIs(t, p, piece, id), whereIs(t, q, piece, id); was != is {
				t.Errorf("%v: %s moved from %v to %v", tc.args, id, was, is)
			}
		}
		for i, n := range q.Piece("front").EdgeNodes(3) {
			if n.At.X != 0 {
				t.Errorf("%v: point %d of the fold lies at %v", tc.args, i, n.At)
			}
		}
		if piece := q.Piece("front"); tc.args != nil && tc.args[0] == "pieces=front" && piece != p.Piece("front") {
			t.Error("a piece that was to stay changed")
		}
	}
}

// A seam that is not named stays as far off as it is.
func TestMatchSeamsLeavesOthersAsTheyAre(t *testing.T) {
	p := sewnBodice(t)
	p = mustDo(t, p, "move-nodes", `nodes=back."back.n3"`, "by=-2mm,1mm").Project
	off := p.seamDiff(p.Seams[1])
	q := mustDo(t, p, "match-seams", "seams=side").Project
	wantNear(t, "side", q.seamDiff(q.Seams[0]), 0, MatchedTo)
	wantNear(t, "shoulder, as far off as before", q.seamDiff(q.Seams[1]), off, MatchedTo)
}

// What cannot be had is missed by as little as can be, and told: the two sides of a seam
// between points that all stay.
func TestMatchSeamsTellsWhatCannotBe(t *testing.T) {
	p := sewnBodice(t)
	act, _ := ActNamed("match-seams")
	_, err := act.DoText(p, pairs([]string{"seams=side", `points=front."front.n1" + front."front.n2" + back."back.n1" + back."back.n2"`}))
	if err == nil || !strings.Contains(err.Error(), "what has to stay") {
		t.Errorf("it was done: %v", err)
	}
	// One band cannot be as long as two edges that stay and are not of one length: the
	// least squares lie halfway, or where the lengths share what is missed.
	a := polygonPiece("a", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 50), geom.Pt(0, 50))
	b := polygonPiece("b", 5, geom.Pt(0, 100), geom.Pt(106, 100), geom.Pt(106, 150), geom.Pt(0, 150))
	band := polygonPiece("band", 5, geom.Pt(0, 200), geom.Pt(90, 200), geom.Pt(90, 220), geom.Pt(0, 220))
	q := projectOf(a, b, band)
	q = mustDo(t, q, "link-seam", "a=a.e0", "b=band.e0", "name=under").Project
	q = mustDo(t, q, "link-seam", "a=b.e0", "b=band.e0", "name=over").Project
	out := mustDo(t, q, "match-seams", "pieces=a + b")
	wantNear(t, "band", chords(t, out.Project, "band.e0"), 103, 1e-3)
	said := strings.Join(out.Says, " ")
	for _, want := range []string{"Seam under is still off by 3 mm", "Seam over is still off by 3 mm"} {
		if !strings.Contains(said, want) {
			t.Errorf("says %q, want %q", said, want)
		}
	}
}

func TestMatchSeamsRefuses(t *testing.T) {
	p := sewnBodice(t)
	holds := mustDo(t, p, "match-seams").Project
	for _, tc := range []struct {
		p    *Project
		args []string
		says string
	}{
		{holds, nil, "every seam holds"},
		{holds, []string{"seams=side"}, "match already"},
		{p, []string{"seams=hem"}, "hem"},
		{p, []string{"pieces=sleeve"}, "sleeve"},
	} {
		act, _ := ActNamed("match-seams")
		if _, err := act.DoText(tc.p, pairs(tc.args)); err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%v: %v, want %q", tc.args, err, tc.says)
		}
	}
}

// A lining follows its piece: matched with it, it would change twice. Its own seams hold
// when it has followed.
func TestMatchSeamsLetsLiningsFollow(t *testing.T) {
	p := sewnBodice(t)
	for _, piece := range []string{"front", "back"} {
		p = mustDo(t, p, "line-piece", "piece="+piece).Project
	}
	var lined []*Seam
	for _, s := range p.Seams {
		if math.Abs(p.seamDiff(s)) > MatchedTo {
			lined = append(lined, s)
		}
	}
	if len(lined) < 2 {
		t.Fatalf("%d seams are off", len(lined))
	}
	for _, act := range [][]string{{"match-seams"}, {"match-seam", "seam=side"}, {"match-seam", "seam=side", "gives=a"}} {
		q := mustDo(t, p, act[0], act[1:]...).Project
		for _, s := range q.Seams {
			if off := q.seamDiff(s); math.Abs(off) > MatchedTo && (act[0] == "match-seams" || math.Abs(off) > math.Abs(p.seamDiff(p.Seam(s.ID)))+MatchedTo) {
				t.Errorf("%v: seam %s is off by %g", act, s.Name, off)
			}
		}
		for _, piece := range q.Pieces {
			if piece.Derived != nil && piece.ByHand() != p.Piece(piece.ID).ByHand() {
				t.Errorf("%v: %s was changed by hand", act, piece.Name)
			}
		}
	}
}

// The five-gore skirt of Ella A. Bennett, The Perfect Dressmaking System, 1914: her gores
// make a hem of 80 inches, and she gives the sweep as 2 1/4 yards, which is 81. A facing of
// that sweep, sewn to the hems, is an inch too long; the seam says so, and matched it is
// 80 inches long.
func TestTheMissingInchOfTheFiveGoreSkirt(t *testing.T) {
	const inch = 25.4
	p, gores := fiveGores(t)
	facing := polygonPiece("facing", 10, geom.Pt(0, -500), geom.Pt(81*inch, -500), geom.Pt(81*inch, -440), geom.Pt(0, -440))
	next := *p
	next.Pieces = append(append([]*Piece(nil), p.Pieces...), facing)
	var hems Run
	for _, id := range gores {
		q := p.Piece(id)
		hems = append(hems, EdgeUse{Piece: id, Copy: CopyRef{Number: 1}, Edge: q.Edges[levelEdge(q, 0)].ID})
	}
	out, err := LinkSeam.Do(&next, LinkSeamArgs{
		A: hems, B: Run{{Piece: "facing", Copy: CopyRef{Number: 1}, Edge: "facing.e2"}}, Ends: EndsAsGiven, Name: "sweep",
	})
	if err != nil {
		t.Fatal(err)
	}
	st, err := NewSlots().SeamState(out.Project, out.Project.Seam(out.Made))
	if err != nil || st.Holds {
		t.Fatalf("%+v, %v", st, err)
	}
	wantNear(t, "what is missing", st.Diff, inch, 1e-4)
	found := false
	for _, f := range NewSlots().Check(out.Project).Findings {
		found = found || f.Seam == out.Made && f.Level == Problem && math.Abs(f.Value-inch) < 1e-4
	}
	if !found {
		t.Error("no finding tells of the inch")
	}
	q := mustDo(t, out.Project, "match-seam", "seam=sweep", "gives=b").Project
	wantNear(t, "facing", q.Piece("facing").EdgeLength(2), 80*inch, MatchedTo)
	wantNear(t, "its other side", q.Piece("facing").EdgeLength(0), 80*inch, MatchedTo)
}
