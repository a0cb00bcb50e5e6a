package draft

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// markNotches lists the notches that stand for a mark: piece, edge and place from the start
// of the edge.
func markNotches(p *Project, mark ID) []string {
	var list []string
	for _, piece := range p.Pieces {
		for _, n := range piece.Notches {
			if n.Mark != mark {
				continue
			}
			e, i := piece.Edge(n.Edge)
			list = append(list, fmt.Sprintf("%s.%s@%.3f", piece.Name, e.Name, n.Along(piece.EdgeLength(i))))
		}
	}
	return list
}

func allMarkNotches(p *Project) string {
	var list []string
	for _, s := range p.Seams {
		for _, m := range s.Marks {
			list = append(list, strings.Join(markNotches(p, m.ID), " "))
		}
	}
	return strings.Join(list, "; ")
}

func TestNotchSeamOnBothSides(t *testing.T) {
	// The back's side is drawn from the hem up, as the front's is: of the back the left copy
	// is sewn.
	p := sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"})
	for _, tc := range []struct{ args, want string }{
		{"at=25%", "front.side@20.000 back.side@20.000"},
		{"at=10mm;20mm from end", "front.side@10.000 back.side@10.000; front.side@60.000 back.side@60.000"},
		{"even=3", "front.side@20.000 back.side@20.000; front.side@40.000 back.side@40.000; front.side@60.000 back.side@60.000"},
		{"even=0", ""},
	} {
		q := mustDo(t, p, "notch-seam", "seam=side", tc.args).Project
		if got := allMarkNotches(q); got != tc.want {
			t.Errorf("%s: notches at %s, want %s", tc.args, got, tc.want)
		}
		// Done again, the notches are the same ones but for their ids; kept, they stay.
		again := mustDo(t, q, "notch-seam", "seam=side", tc.args).Project
		if got := allMarkNotches(again); got != tc.want {
			t.Errorf("%s done again: notches at %s, want %s", tc.args, got, tc.want)
		}
		kept := mustDo(t, q, "notch-seam", "seam=side", tc.args, "keep=yes").Project
		if !reflect.DeepEqual(kept.Pieces, q.Pieces) {
			t.Errorf("%s: kept, the notches are others", tc.args)
		}
	}
	mustRefuse(t, p, "no place at", "notch-seam", "seam=side", "at=90mm")
	mustRefuse(t, p, "not both", "notch-seam", "seam=side", "at=9mm", "even=1")
	mustRefuse(t, p, "at most", "notch-seam", "seam=side", "even=101")
}

// Gathers that lie in a stretch of the fuller side leave the rest one to one. By hand: 60 mm
// are sewn to 90, all of the fullness in the middle third of the 90, which is drawn up from
// 30 to nothing but 0: so over the middle two thirds, 15 to 75 mm, 60 mm to 30.
func TestMarksInTheStretchOfTheFullness(t *testing.T) {
	a, b := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 30), geom.Pt(0, 30)), polygonPiece("b", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 30), geom.Pt(0, 30))
	for _, fuller := range []string{"a=a.e0 b=b.e0/reversed", "a=b.e0/reversed b=a.e0"} {
		args := append(strings.Fields(fuller), "ends=as given", "name=top", "ratio=1.5", fmt.Sprintf("from=%v", 15./90), fmt.Sprintf("to=%v", 75./90))
		p := mustDo(t, projectOf(a, b), "link-seam", args...).Project
		s := p.Seams[0]
		m, err := p.matchOf(s)
		if err != nil || !m.sound {
			t.Fatalf("%v, sound %v", err, m != nil && m.sound)
		}
		for _, want := range [][2]float64{{0, 0}, {10, 10}, {15, 15}, {30, 45}, {45, 75}, {50, 80}, {60, 90}} {
			if got := m.across(m.less, want[0]); math.Abs(got-want[1]) > 1e-9 {
				t.Errorf("%s: %g mm is sewn to %g, want %g", fuller, want[0], got, want[1])
			}
			if got := m.across(s.Fuller, want[1]); math.Abs(got-want[0]) > 1e-9 {
				t.Errorf("%s: %g mm of the fuller side is sewn to %g, want %g", fuller, want[1], got, want[0])
			}
		}
	}
}

// An act on one side puts the notches of the other where they match, as does an act on the
// other; nothing else changes a notch.
func TestMarksFollow(t *testing.T) {
	p := mustDo(t, sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"}), "notch-seam", "seam=side", "at=25%;50%").Project
	for _, tc := range []struct {
		act  string
		args []string
		want string
	}{
		// The front's hem goes down by 20 mm: side a is 100 mm, a quarter of it 25, which
		// is where the back is notched too, though it is short.
		{"move-nodes", []string{"nodes=front.hem/start;front.side/start", "by=0mm,-20mm"}, "front.side@25.000 back.side@25.000; front.side@50.000 back.side@50.000"},
		{"lengthen-piece", []string{"from=front.fold@50%", "to=front.side@50%", "by=20mm"}, "front.side@25.000 back.side@25.000; front.side@50.000 back.side@50.000"},
		{"move-nodes", []string{"nodes=back.hem/start;back.side/start", "by=0mm,-20mm"}, "front.side@20.000 back.side@20.000; front.side@40.000 back.side@40.000"},
		// A corner in the side, and the notches lie on both halves of it.
		{"insert-node", []string{"edge=back.side", "at=30%"}, "front.side@20.000 back.side@20.000; front.side@40.000 back.side@40.000"},
		{"turn-piece", []string{"pieces=back", "by=30deg"}, "front.side@20.000 back.side@20.000; front.side@40.000 back.side@40.000"},
		{"edit-seam", []string{"seam=side", "ratio=1.5", "fuller=b", "fullness=gathers"}, "front.side@20.000 back.side@30.000; front.side@40.000 back.side@60.000"},
	} {
		q := mustDo(t, p, tc.act, tc.args...).Project
		if got := allMarkNotches(q); got != tc.want {
			t.Errorf("after %s the notches are at %s, want %s", tc.act, got, tc.want)
		}
	}
	// A step that has nothing to do with the seam leaves the very pieces.
	q := mustDo(t, p, "rename-project", "name=other").Project
	for i := range p.Pieces {
		if p.Pieces[i] != q.Pieces[i] {
			t.Error("a piece is another although nothing about it changed")
		}
	}
	// And one that changes only what the notches do not hang on leaves them bit for bit.
	q = mustDo(t, p, "set-allowance", "edges=front.hem", "width=20mm").Project
	if !reflect.DeepEqual(q.Pieces[0].Notches, p.Pieces[0].Notches) {
		t.Errorf("the notches of the front are %+v, before %+v", q.Pieces[0].Notches, p.Pieces[0].Notches)
	}
}

// An edge that is divided, and a piece that is cut in two, keep their matching notches.
func TestMarksFollowThroughCuts(t *testing.T) {
	p := mustDo(t, sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"}), "notch-seam", "seam=side", "at=25%;75%").Project
	q := mustDo(t, p, "insert-node", "edge=back.side", "at=50%").Project
	q = mustDo(t, q, "corner-node", "nodes=back.side/1").Project
	if want := 4; countMarked(q) != want || len(q.Seams[0].B) != 2 {
		t.Errorf("%d notches along %d edges: %s", countMarked(q), len(q.Seams[0].B), allMarkNotches(q))
	}
	q = mustDo(t, p, "split-piece", "from=back.middle@50%", "to=back.side@50%").Project
	if len(q.Seams[0].Marks) == 2 && countMarked(q) != 4 {
		t.Errorf("cut in two: %s", allMarkNotches(q))
	}
}

func countMarked(p *Project) int {
	n := 0
	for _, piece := range p.Pieces {
		for _, notch := range piece.Notches {
			if notch.Mark != "" {
				n++
			}
		}
	}
	return n
}

// What is done to one notch of a pair is done to both.
func TestOneNotchOfAPair(t *testing.T) {
	p := mustDo(t, sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"}), "notch-seam", "seam=side", "at=25%;50%").Project
	mark := p.Seams[0].Marks[0].ID
	for _, tc := range []struct {
		act  string
		args []string
		want string
	}{
		{"move-notch", []string{"notch=back.side#1", "at=30mm"}, "front.side@30.000 back.side@30.000; front.side@40.000 back.side@40.000"},
		{"set-notch", []string{"notches=front.side#1", "at=10mm"}, "front.side@10.000 back.side@10.000; front.side@40.000 back.side@40.000"},
		{"move-seam-mark", []string{"mark=" + string(mark), "at=75%"}, "front.side@40.000 back.side@40.000; front.side@60.000 back.side@60.000"},
		{"move-seam-mark", []string{"mark=side#2", "at=10mm from end", "side=b"}, "front.side@20.000 back.side@20.000; front.side@70.000 back.side@70.000"},
		{"delete-notch", []string{"notches=back.side#1"}, "front.side@40.000 back.side@40.000"},
		{"delete-mark", []string{"marks=front.side#2"}, "front.side@20.000 back.side@20.000"},
		{"delete-seam-mark", []string{"marks=side#1;side#2"}, ""},
		{"add-seam-mark", []string{"seam=side", "at=5mm"}, "front.side@5.000 back.side@5.000; front.side@20.000 back.side@20.000; front.side@40.000 back.side@40.000"},
	} {
		q := mustDo(t, p, tc.act, tc.args...).Project
		if got := allMarkNotches(q); got != tc.want {
			t.Errorf("after %s %v: %s, want %s", tc.act, tc.args, got, tc.want)
		}
		if got, want := countMarked(q), strings.Count(tc.want, "@"); got != want {
			t.Errorf("after %s %v: %d notches, want %d", tc.act, tc.args, got, want)
		}
	}
	twice := mustDo(t, p, "set-notch", "notches=front.side#1", "double=yes", "shape=v").Project
	for _, piece := range twice.Pieces {
		if n := piece.Notches[0]; !n.Double || n.Shape != NotchV {
			t.Errorf("%s is marked %+v", piece.Name, n)
		}
	}
	plain := mustDo(t, p, "unlink-seam", "seams=side").Project
	if countMarked(plain) != 0 || len(plain.Pieces[0].Notches) != 2 || len(plain.Pieces[1].Notches) != 2 {
		t.Errorf("the seam taken apart, the notches are %+v and %+v", plain.Pieces[0].Notches, plain.Pieces[1].Notches)
	}
	mustRefuse(t, p, "at this place already", "add-seam-mark", "seam=side", "at=20mm")
	mustRefuse(t, p, "at this place already", "move-seam-mark", "mark=side#1", "at=50%")
	mustRefuse(t, p, "no seam has a mark", "delete-seam-mark", "marks=k99")
	mustRefuse(t, p, "has no mark number", "delete-seam-mark", "marks=side#3")
}

// A notch that was set by hand where a mark comes becomes its notch.
func TestMarksTakeNotches(t *testing.T) {
	p := sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"})
	p = mustDo(t, p, "add-notch", "edge=front.side", "at=20mm", "shape=v").Project
	p = mustDo(t, p, "add-notch", "edge=back.side", "at=26mm").Project
	q := mustDo(t, p, "add-seam-mark", "seam=side", "at=20.2mm").Project
	if got := allMarkNotches(q); got != "front.side@20.200 back.side@20.200" || len(q.Pieces[0].Notches) != 1 || len(q.Pieces[1].Notches) != 2 {
		t.Errorf("notches at %s", got)
	}
	q = mustDo(t, p, "add-seam-mark", "seam=side", "at=20mm", "takes=front.side#1;back.side#1").Project
	if got := allMarkNotches(q); got != "front.side@20.000 back.side@20.000" || countMarked(q) != 2 || len(q.Pieces[1].Notches) != 1 {
		t.Errorf("taken, the notches are at %s", got)
	}
	p = mustDo(t, p, "add-notch", "edge=front.hem", "at=20mm").Project
	mustRefuse(t, p, "lies on another edge", "add-seam-mark", "seam=side", "at=20mm", "takes=front.hem#1")
}

// Where one drawing lies on both sides of a seam, or twice on one side, a mark has one
// notch on it, and a ring has it at both places.
func TestMarksOnOneDrawing(t *testing.T) {
	p := sewn(t, slanting(0, 0), [2]string{"back.middle", "back.middle"})
	p = mustDo(t, p, "notch-seam", "seam=middle", "at=25%").Project
	if got := allMarkNotches(p); got != "back.middle@20.000" {
		t.Errorf("down the middle: %s", got)
	}
	// A waist on the fold is sewn to a band: near and far half are one drawing.
	p = slanting(0, 0)
	band := polygonPiece("band", 6, geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 20), geom.Pt(0, 20))
	p.Pieces = append(p.Pieces, band)
	p = sewn(t, p, [2]string{"front.waist;front.waist/far/reversed", "band.e0"})
	q := mustDo(t, p, "add-seam-mark", "seam=waist to e0", "at=15mm").Project
	if got := allMarkNotches(q); countMarked(q) != 3 || len(q.Seams[0].Marks) != 2 {
		t.Errorf("on the fold: %s", got)
	}
	moved := mustDo(t, q, "move-seam-mark", "mark=waist to e0#1", "at=20mm").Project
	if m := moved.Seams[0].Marks; countMarked(moved) != 3 || math.Abs(m[0].At-20./120) > 1e-6 || math.Abs(m[1].At-100./120) > 1e-6 {
		t.Errorf("moved: %s at %+v", allMarkNotches(moved), m)
	}
	if gone := mustDo(t, q, "delete-seam-mark", "marks=waist to e0#1").Project; countMarked(gone) != 0 || len(gone.Seams[0].Marks) != 0 {
		t.Errorf("deleted: %s", allMarkNotches(gone))
	}
}

func TestLockedPiecesAreNotNotched(t *testing.T) {
	p := mustDo(t, sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"}), "notch-seam", "seam=side", "at=25%").Project
	p = mustDo(t, p, "lock-pieces", "pieces=back").Project
	mustRefuse(t, p, "is locked", "add-seam-mark", "seam=side", "at=40%")
	q := mustDo(t, p, "move-nodes", "nodes=front.hem/start;front.side/start", "by=0mm,-20mm").Project
	if q.Pieces[1] != p.Pieces[1] {
		t.Error("the locked back was changed")
	}
}

// armholeAndCap is a cap sewn into the armhole of a front and a back.
func armholeAndCap(t fataler, fullness ...string) *Project {
	p := slanting(0, 0)
	name(p.Piece("front"), "hem", "side", "armhole", "fold")
	name(p.Piece("back"), "hem", "side", "armhole", "middle")
	sleeve := polygonPiece("sleeve", 6, geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 60), geom.Pt(0, 60))
	name(sleeve, "wrist", "right", "cap", "left")
	sleeve.Cut = CutRule{CutPairs, 1}
	p.Pieces = append(p.Pieces, sleeve)
	p = sewn(t, p, [2]string{"front.side", "back.side"})
	return mustDo(t, p, "link-seam", append([]string{"a=front.armhole;back.armhole/left/reversed", "b=sleeve.cap", "name=armhole"}, fullness...)...).Project
}

// M. G. and I. R. Burton, School Sewing (1916), One-piece foundation sleeve: of an armhole
// of 15 in the points on the cap lie 3 and 6 in along it, one and two fifths. The notches lie
// one fifth from the underarm on either side, so that two fifths in all stay plain.
func TestCapIsNotchedAtFifths(t *testing.T) {
	p := mustDo(t, armholeAndCap(t), "notch-seam", "seam=armhole").Project
	marks := p.Seams[1].Marks
	if len(marks) != 3 {
		t.Fatalf("marks %+v, want three", marks)
	}
	const armhole = 15.0
	if low, high := marks[0].At*armhole, (1-marks[2].At)*armhole; math.Abs(low-3) > 1e-4 || math.Abs(low+high-6) > 1e-4 {
		t.Errorf("of an armhole of 15 in the notches lie %g and %g in from the underarm, want 3 each", low, high)
	}
	if marks[0].Double || !marks[2].Double {
		t.Errorf("front double %v, back double %v, want single and double", marks[0].Double, marks[2].Double)
	}
	// The shoulder seam finds its place on the cap; on the armhole it marks itself.
	if math.Abs(marks[1].At-0.5) > 1e-6 || strings.Join(markNotches(p, marks[1].ID), " ") != "sleeve.cap@60.000" {
		t.Errorf("the shoulder is marked at %g: %v", marks[1].At, markNotches(p, marks[1].ID))
	}
}

func TestPlacesByRule(t *testing.T) {
	for _, tc := range []struct {
		name string
		long float64
		args []string
		want []float64
	}{
		{"short", 60, nil, nil},
		{"side", 200, nil, []float64{0.5}},
		{"long", 1000, nil, []float64{1. / 3, 2. / 3}},
		{"gathers", 60, []string{"ratio=1.5", "fuller=b"}, []float64{0.25, 0.5, 0.75}},
	} {
		a, b := square("a", tc.long, 6), square("b", tc.long, 6)
		p := mustDo(t, projectOf(a, b), "link-seam", append([]string{"a=a.e0", "b=b.e0", "name=seam"}, tc.args...)...).Project
		q := mustDo(t, p, "notch-seam", "seam=seam").Project
		var got []float64
		for _, m := range q.Seams[0].Marks {
			got = append(got, m.At)
		}
		if fmt.Sprintf("%.4f", got) != fmt.Sprintf("%.4f", tc.want) {
			t.Errorf("%s: notched at %v, want %v", tc.name, got, tc.want)
		}
	}
}

// Whatever is drawn and however it is sewn, the two notches of a mark lie where an
// independent count along both sides says.
func TestMarksMatchOnAnySeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		long := func(label string) float64 { return rapid.Float64Range(30, 200).Draw(t, label) }
		a, b := long("a"), long("b")
		p := projectOf(polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(a, 0), geom.Pt(a, 30), geom.Pt(0, 30)), polygonPiece("b", 6, geom.Pt(0, 0), geom.Pt(b, 0), geom.Pt(b, 30), geom.Pt(0, 30)))
		ratio := rapid.Float64Range(1, 3).Draw(t, "ratio")
		p = mustDo(t, p, "link-seam", "a=a.e0", "b=b.e0", "name=seam", fmt.Sprintf("ratio=%.6f", ratio), "fuller=b", "fullness=gathers").Project
		share := rapid.Float64Range(0.05, 0.95).Draw(t, "share")
		p = mustDo(t, p, "add-seam-mark", "seam=seam", fmt.Sprintf("at=%.4f%%", share*100)).Project
		ratio = p.Seams[0].Ratio
		at := p.Seams[0].Marks[0].At * a
		for _, piece := range p.Pieces {
			want := at
			if piece.Name == "b" {
				if want = at * ratio; want > b-2*runJoint {
					if len(piece.Notches) > 0 {
						t.Fatalf("nothing of b is sewn there, and yet it is notched at %v", piece.Notches)
					}
					continue
				}
			}
			n := piece.Notches[0]
			got := n.Along(piece.EdgeLength(0))
			if p.Seams[0].B[0].Reversed && piece.Name == "b" {
				got = b - got
			}
			if math.Abs(got-want) > 1e-5 {
				t.Fatalf("%s is notched %g mm along, want %g", piece.Name, got, want)
			}
		}
	})
}

// A lining has the notches of its piece, follows when those move by a change on the other
// side of the seam, and is not taken for one that was changed by hand.
func TestLiningFollowsMovedMarks(t *testing.T) {
	p := mustDo(t, sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"}), "notch-seam", "seam=side", "at=25%;50%").Project
	p = mustDo(t, p, "line-piece", "piece=back").Project
	p = mustDo(t, p, "line-piece", "piece=front").Project
	q := mustDo(t, p, "move-nodes", "nodes=front.hem/start;front.side/start", "by=0mm,-20mm").Project
	for i, r := range []*Project{p, q} {
		lining := r.Pieces[2]
		gap := r.Piece("back").Notches[1].At - r.Piece("back").Notches[0].At
		if lining.ByHand() || len(lining.Notches) != 2 || math.Abs(lining.Notches[1].At-lining.Notches[0].At-gap) > 1e-6 {
			t.Errorf("project %d: lining by hand %v, notches %+v, those of the piece %+v", i, lining.ByHand(), lining.Notches, r.Piece("back").Notches)
		}
		for _, n := range lining.Notches {
			if n.Mark != "" {
				t.Errorf("project %d: a notch of the lining stands for a mark of the shell's seam", i)
			}
		}
	}
	if f := findingsAbout(NewSlots().Check(q), "/lag"); len(f) != 0 {
		t.Errorf("found %+v", f)
	}
}

// A seam that is told from its other end keeps its notches where they are.
func TestMarksOfATurnedSeamStay(t *testing.T) {
	p := mustDo(t, sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"}), "notch-seam", "seam=side", "at=25%;40%").Project
	a, b := p.RunText(p.Seams[0].A.reversed()), p.RunText(p.Seams[0].B.reversed())
	q := mustDo(t, p, "edit-seam", "seam=side", "a="+a, "b="+b).Project
	for i := range p.Pieces {
		_, e := p.Pieces[i].Edge(p.Pieces[i].Notches[0].Edge)
		length := p.Pieces[i].EdgeLength(e)
		for k := range p.Pieces[i].Notches {
			if was, is := p.Pieces[i].Notches[k].Along(length), q.Pieces[i].Notches[k].Along(length); math.Abs(was-is) > 1e-4 {
				t.Errorf("a notch of %s is at %g, before at %g", p.Pieces[i].Name, is, was)
			}
		}
	}
	if m := q.Seams[0].Marks; m[0].At != 0.6 || m[1].At != 0.75 {
		t.Errorf("the marks are %+v", m)
	}
}
