package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// slanting is a skirt of a front on the fold and a back in pairs, 80 mm long and 60 wide at
// the waist, whose sides slant by the two angles in degrees and whose hems are drawn
// straight across.
func slanting(front, back float64) *Project {
	piece := func(name string, slant float64) *Piece {
		out := 80 * math.Tan(slant*math.Pi/180)
		p := polygonPiece(name, 6, geom.Pt(0, 0), geom.Pt(60+out, 0), geom.Pt(60, 80), geom.Pt(0, 80))
		p.Edges[0].Kind = HemEdge
		return p
	}
	f, b := piece("front", front), piece("back", back)
	name(f, "hem", "side", "waist", "fold")
	name(b, "hem", "side", "waist", "middle")
	f.Edges[3].Kind, f.Cut = FoldEdge, CutRule{CutOnFold, 1}
	b.Cut = CutRule{CutPairs, 1}
	return projectOf(f, b)
}

func sewn(t fataler, p *Project, seams ...[2]string) *Project {
	t.Helper()
	for _, s := range seams {
		p = mustDo(t, p, "link-seam", "a="+s[0], "b="+s[1]).Project
	}
	return p
}

func jointOf(t fataler, p *Project, seam string, end EdgeEnd) SeamJoint {
	t.Helper()
	for _, s := range p.Seams {
		if s.Name == seam {
			if j, ok := NewSlots().Joint(p, s.ID, end); ok {
				return j
			}
		}
	}
	t.Fatalf("seam %s has no joint at its %s", seam, end)
	return SeamJoint{}
}

// Two hems drawn straight across make a point as sharp as both sides slant together: each
// corner lacks what its side slants by (closed form).
func TestKinkOfFlaredHems(t *testing.T) {
	for _, tc := range []struct {
		front, back float64
		level       string
	}{
		{0, 0, ""}, {2, 2, ""}, {2, 4, "look again"}, {9, 7, "look again"}, {-6, -4, "look again"}, {20, 14, "note"}, {40, 30, ""},
	} {
		p := sewn(t, slanting(tc.front, tc.back), [2]string{"front.side", "back.side"})
		hem := jointOf(t, p, "side", EdgeStart)
		if want := tc.front + tc.back; math.Abs(hem.Degrees()-want) > 1e-9 || hem.What != "hem" || len(hem.Between) > 0 {
			t.Errorf("sides slant by %g and %g: kink %g of the %s, want %g of the hem", tc.front, tc.back, hem.Degrees(), hem.What, want)
		}
		if waist := jointOf(t, p, "side", EdgeFinish); math.Abs(waist.Degrees()+tc.front+tc.back) > 1e-9 {
			t.Errorf("kink %g of the waist, want %g", waist.Degrees(), -tc.front-tc.back)
		}
		found := findingsAbout(NewSlots().Check(p), "/kink start")
		if len(found) != min(len(tc.level), 1) {
			t.Errorf("sides slant by %g and %g: found %+v, want level %q", tc.front, tc.back, found, tc.level)
			continue
		}
		if len(found) == 1 && (found[0].Level.String() != tc.level || !strings.Contains(found[0].Says, "hem")) {
			t.Errorf("found %+v", found[0])
		}
		if len(found) == 1 {
			out, err := p.Do(found[0].Mends[0])
			if err != nil {
				t.Fatal(err)
			}
			if left := findingsAbout(NewSlots().Check(out.Project), "/kink start"); len(left) != 0 {
				t.Errorf("mended, and still told: %+v", left)
			}
		}
	}
}

// A seam down the middle meets its own mirror image: the line that crosses it has twice
// what its corner lacks of a right angle.
func TestKinkAtOwnMirror(t *testing.T) {
	p := slanting(0, 0)
	p.Piece("back").Edges[0].Nodes[0].At = geom.Pt(0, -8)
	p = sewn(t, p, [2]string{"back.middle", "back.middle"})
	want := -2 * math.Atan2(8, 60) * 180 / math.Pi
	if j := jointOf(t, p, "middle", EdgeFinish); math.Abs(j.Degrees()+want) > 1e-9 {
		t.Errorf("kink %g of the hem, want %g", j.Degrees(), -want)
	}
}

// Where a gusset comes to a point between two pieces all three are laid together, and both
// of its seams have one joint, told once.
func TestThreePiecesInARow(t *testing.T) {
	p := slanting(0, 0)
	gusset := polygonPiece("gusset", 6, geom.Pt(0, 0), geom.Pt(20, 0), geom.Pt(10, 80))
	name(gusset, "hem", "right", "left")
	p.Pieces = append(p.Pieces, gusset)
	p = sewn(t, p, [2]string{"front.side", "gusset.left/reversed"}, [2]string{"back.side/left", "gusset.right"})
	point := 2 * math.Atan2(10, 80) * 180 / math.Pi
	n := 0
	for _, j := range NewSlots().Joints(p) {
		if len(j.Between) == 0 {
			continue
		}
		n++
		if math.Abs(j.Degrees()+point) > 1e-9 || len(j.Between) != 1 || j.Between[0].Piece.ID != "gusset" || j.What != "waist" {
			t.Errorf("kink %g of the %s with %d between, want %g of the waist with the gusset between", j.Degrees(), j.What, len(j.Between), -point)
		}
		// All three meet at one place and lie edge to edge.
		checkLaid(t, append(append([]JointSide{j.A}, j.Between...), j.B), j)
	}
	if n != 2 {
		t.Errorf("%d joints with three pieces, want one at each of the gusset's seams", n)
	}
	if found := findingsAbout(NewSlots().Check(p), "/kink end"); len(found) != 1 {
		t.Errorf("found %+v, want the one kink told once", found)
	}
}

// checkLaid checks that the corners of a row of pieces lie on one point and that the angle
// between the two lines in the joint's plane is the kink.
func checkLaid(t fataler, row []JointSide, j SeamJoint) {
	t.Helper()
	for _, s := range row {
		_, i := s.Piece.Edge(s.Line)
		if at := s.Map.Apply(s.Piece.cornerAt(i, s.LineEnd)); at.Dist(j.At) > 1e-9 {
			t.Fatalf("%s lies with its corner at %v, want %v", s.Piece.Name, at, j.At)
		}
	}
	a, b := j.A, j.B
	u := a.Map.ApplyVector(a.Piece.leaving(a.lineIndex(), a.LineEnd)).Mul(-1)
	v := b.Map.ApplyVector(b.Piece.leaving(b.lineIndex(), b.LineEnd))
	if got := math.Abs(math.Atan2(u.Cross(v), u.Dot(v))); math.Abs(got-math.Abs(math.Remainder(j.Kink, 2*math.Pi))) > 1e-9 {
		t.Fatalf("laid together the lines meet at %g rad, the kink is %g", got, j.Kink)
	}
}

// However two pieces lie on the bench, whichever copies are sewn and in which direction,
// laid together they meet at a point, edge along edge, each on its own side, and the kink
// is the same.
func TestJointsAreLaidTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		slant := func(label string) float64 { return rapid.Float64Range(-30, 30).Draw(t, label) }
		front, back := slant("front"), slant("back")
		p := slanting(front, back)
		p = sewn(t, p, rapid.SampledFrom([][2]string{
			{"front.side", "back.side"}, {"front.side/far", "back.side"}, {"front.side", "back.side/left"}, {"back.side/left", "front.side/reversed"},
		}).Draw(t, "runs"))
		for _, piece := range p.Pieces {
			piece.Place = Placement{geom.Pt(rapid.Float64Range(-100, 100).Draw(t, "x"), 7), rapid.Float64Range(-3, 3).Draw(t, "turn")}
		}
		for _, j := range NewSlots().Joints(p) {
			want := front + back
			if j.What == "waist" {
				want = -want
			}
			if math.Abs(j.Degrees()-want) > 1e-9 {
				t.Fatalf("kink %g of the %s, want %g", j.Degrees(), j.What, want)
			}
			checkLaid(t, []JointSide{j.A, j.B}, j)
			checkSides(t, j)
		}
	})
}

// checkSides checks that the two pieces of a joint share the seam's direction and lie on
// its two sides.
func checkSides(t fataler, j SeamJoint) {
	t.Helper()
	var ways [2]geom.Point
	var middles [2]float64
	for i, s := range [2]JointSide{j.A, j.B} {
		_, k := s.Piece.Edge(s.Use.Edge)
		end := EdgeStart
		if s.Piece.cornerAt(k, EdgeStart).Dist(s.Piece.cornerAt(s.lineIndex(), s.LineEnd)) > 1e-9 {
			end = EdgeFinish
		}
		ways[i] = s.Map.ApplyVector(s.Piece.leaving(k, end))
		box := s.Piece.DrawnPath().Bounds()
		middles[i] = ways[0].Cross(s.Map.Apply(box.Min.Lerp(box.Max, 0.5)).Sub(j.At))
	}
	if ways[0].Dist(ways[1]) > 1e-9 || middles[0]*middles[1] >= 0 {
		t.Fatalf("the seam leaves at %v and %v, and the pieces lie at %v beside it", ways[0], ways[1], middles)
	}
}

func TestNoJointOnAFoldOrInGathers(t *testing.T) {
	// The waist of a front on the fold ends at the fold: nothing runs on across it there.
	p := slanting(0, 0)
	band := polygonPiece("band", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 20), geom.Pt(0, 20))
	name(band, "waist", "end", "top", "fold")
	band.Edges[3].Kind, band.Cut = FoldEdge, CutRule{CutOnFold, 1}
	p.Pieces = append(p.Pieces, band)
	p = sewn(t, p, [2]string{"front.waist", "band.waist"})
	if list := NewSlots().Joints(p); len(list) != 1 || list[0].End != EdgeStart {
		t.Errorf("joints %+v, want one, at the end that is not on the fold", list)
	}
	// A kinked hem that is gathered is not told.
	p = sewn(t, slanting(6, 6), [2]string{"front.side", "back.side"})
	frill := polygonPiece("frill", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 20), geom.Pt(0, 20))
	p.Pieces = append(p.Pieces, frill)
	p = mustDo(t, p, "link-seam", "a=front.hem", "b=frill.e0", "ratio=1.5", "fuller=a").Project
	if found := findingsAbout(NewSlots().Check(p), "/kink start"); len(found) != 0 {
		t.Errorf("a gathered hem is told: %+v", found)
	}
}

// An armhole of two pieces is one line in the run of the sleeve's seam; the side seam that
// the sleeve's own seam runs on in is none.
func TestSewnLinesRunOn(t *testing.T) {
	p := slanting(3, 3)
	sleeve := polygonPiece("sleeve", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(120, 60), geom.Pt(-20, 60))
	name(sleeve, "wrist", "right", "cap", "left")
	sleeve.Cut = CutRule{CutPairs, 1}
	p.Pieces = append(p.Pieces, sleeve)
	p = sewn(t, p, [2]string{"front.side", "back.side"}, [2]string{"sleeve.right", "sleeve.left"},
		[2]string{"front.waist;back.waist/left/reversed", "sleeve.cap"})
	var got []string
	for _, j := range NewSlots().Joints(p) {
		got = append(got, j.What)
	}
	if want := "hem waist wrist cap"; strings.Join(got, " ") != want {
		t.Errorf("joints of %v, want %s", got, want)
	}
}
