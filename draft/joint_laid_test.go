package draft

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// Every line and every seam of a joint that is laid together sets out from the joint, the
// two sides of the seam in one direction, and the lines at the angle that is told.
func TestJointIsLaidAtItsPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		front := rapid.Float64Range(-20, 20).Draw(t, "front")
		back := rapid.Float64Range(-20, 20).Draw(t, "back")
		p := slanting(front, back)
		p.Pieces[1].Place = Placement{geom.Pt(rapid.Float64Range(-99, 99).Draw(t, "x"), 5), rapid.Float64Range(-3, 3).Draw(t, "turn")}
		p = sewn(t, p, [2]string{"front.side", "back.side"})
		for _, j := range NewSlots().Joints(p) {
			var ways [2][2]geom.Point // of the lines and of the seam
			for i, s := range j.Sides() {
				line, seam := s.LinePath(), s.SewnPath()
				if line.Start().Dist(j.At) > 1e-9 || seam.Start().Dist(j.At) > 1e-9 {
					t.Fatalf("%s sets out from %v and %v, want %v", s.Piece.Name, line.Start(), seam.Start(), j.At)
				}
				ways[0][i], ways[1][i] = firstWay(line), firstWay(seam)
			}
			if ways[1][0].Dist(ways[1][1]) > 1e-9 {
				t.Fatalf("the sides of the seam set out at %v", ways[1])
			}
			on := ways[0][0].Mul(-1)
			if got := math.Acos(min(max(on.Dot(ways[0][1]), -1), 1)); math.Abs(got-math.Abs(j.Kink)) > 1e-6 {
				t.Fatalf("the lines meet at %g rad, the kink is %g", got, j.Kink)
			}
		}
	})
}

// Of a piece on the fold both halves are laid, the far one as the mirror image about the
// fold where that now lies.
func TestLaidJointHasBothHalves(t *testing.T) {
	p := sewn(t, slanting(3, 5), [2]string{"front.side", "back.side"})
	laid := jointOf(t, p, "side", EdgeStart).Laid()
	if len(laid) != 3 || laid[0].Half != Near || laid[1].Half != Far || laid[1].Piece != laid[0].Piece || laid[2].Piece.ID != "back" {
		t.Fatalf("laid are %+v, want the two halves of the front and the back", laid)
	}
	// The fold is the front's line x = 0.
	for _, at := range []geom.Point{geom.Pt(60, 0), geom.Pt(7, 80)} {
		if near, far := laid[0].Map.Apply(geom.Pt(-at.X, at.Y)), laid[1].Map.Apply(at); near.Dist(far) > 1e-9 {
			t.Errorf("the far half has %v at %v, want %v", at, far, near)
		}
	}
}

// Where a gusset comes to a point in between, each piece lies edge to edge with the next.
func TestRowIsLaidEdgeToEdge(t *testing.T) {
	p := slanting(0, 0)
	gusset := polygonPiece("gusset", 6, geom.Pt(0, 0), geom.Pt(20, 0), geom.Pt(10, 80))
	name(gusset, "hem", "right", "left")
	p.Pieces = append(p.Pieces, gusset)
	p = sewn(t, p, [2]string{"front.side", "gusset.left/reversed"}, [2]string{"back.side/left", "gusset.right"})
	rows := 0
	for _, j := range NewSlots().Joints(p) {
		if len(j.Between) == 0 {
			continue
		}
		rows++
		before := j.A.SewnPath()
		for _, s := range j.Sides()[1:] {
			if at, way := s.SewnPath().Start(), firstWay(s.SewnPath()); at.Dist(j.At) > 1e-9 || way.Dist(firstWay(before)) > 1e-9 {
				t.Errorf("%s lies at %v in the direction %v, want %v in %v", s.Piece.Name, at, way, j.At, firstWay(before))
			}
			before = s.LinePath()
		}
	}
	if rows != 2 {
		t.Errorf("%d joints with a piece between, want 2", rows)
	}
}

// Of both ends of a seam that with the greater kink comes first; a corner, and what is
// gathered, comes after it.
func TestSeamJointsWorstFirst(t *testing.T) {
	p := slanting(2, 4)
	p.Piece("front").Edges[1].Nodes[0].At.Y = -4 // a deeper point at the hem
	p = sewn(t, p, [2]string{"front.side", "back.side"})
	s := p.Seams[0].ID
	list := NewSlots().SeamJoints(p, s)
	if len(list) != 2 || !list[0].Kinked() || math.Abs(list[0].Kink) < math.Abs(list[1].Kink) {
		t.Fatalf("joints %+v, want the greater kink first", list)
	}
	// Drawn up, the greater kink is seen no more.
	frill := polygonPiece("frill", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 20), geom.Pt(0, 20))
	p.Pieces = append(p.Pieces, frill)
	p = mustDo(t, p, "link-seam", "a=front."+string(list[0].A.Line), "b=frill.e0", "ratio=1.5", "fuller=a").Project
	if now := NewSlots().SeamJoints(p, s); len(now) != 2 || now[0].End != list[1].End || now[1].Kinked() {
		t.Errorf("joints %+v, want the end that is not gathered first", now)
	}
}

func TestKinkAt(t *testing.T) {
	p := sewn(t, slanting(4, 5), [2]string{"front.side", "back.side"})
	var got []EdgeEnd
	for _, f := range NewSlots().Check(p).Findings {
		if end, ok := KinkAt(f); ok {
			got = append(got, end)
			if _, ok := NewSlots().Joint(p, f.Seam, end); !ok {
				t.Errorf("%s tells of no joint", f.Key)
			}
		}
	}
	if len(got) != 2 || got[0] == got[1] {
		t.Errorf("kinks at %v, want one at either end", got)
	}
	if end, ok := KinkAt(Finding{Key: "seam/s1/length", Seam: "s1"}); ok {
		t.Errorf("a length is told as a kink at the %s", end)
	}
}
