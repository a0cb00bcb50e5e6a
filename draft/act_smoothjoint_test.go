package draft

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// smoothTo is how near to one direction, in degrees, two lines must come.
const smoothTo = 0.01

// checkSmoothed does the act and checks what it promises: one direction, every point where
// it was, every edge but the two lines as it was.
func checkSmoothed(t fataler, p *Project, seam string, end EdgeEnd) *Project {
	t.Helper()
	before := jointOf(t, p, seam, end)
	q := mustDo(t, p, "smooth-joint", "seam="+seam, fmt.Sprintf("end=%s", end)).Project
	if j := jointOf(t, q, seam, end); math.Abs(j.Degrees()) > smoothTo {
		t.Fatalf("seam %s, %s: a kink of %g° is left of %g°", seam, end, j.Degrees(), before.Degrees())
	}
	for i, piece := range p.Pieces {
		after := q.Pieces[i]
		for k := range piece.Edges {
			e := piece.Edges[k].ID
			line := before.A.Piece.ID == piece.ID && before.A.Line == e || before.B.Piece.ID == piece.ID && before.B.Line == e
			for m, s := range piece.EdgePath(k) {
				was, is := handlesOf(s), handlesOf(after.EdgePath(k)[m])
				for c := range was {
					// What was not drawn on the grid is rounded to it.
					if (!line || c == 0 || c == 3) && was[c].Dist(is[c]) > 2*Grid {
						t.Fatalf("edge %s of %s moved from %v to %v", piece.Edges[k].Name, piece.Name, was, is)
					}
				}
			}
		}
	}
	return q
}

func TestSmoothJoint(t *testing.T) {
	for _, tc := range []struct{ front, back float64 }{{6, 6}, {9, 2}, {-8, 1}, {24, 20}} {
		p := sewn(t, slanting(tc.front, tc.back), [2]string{"front.side", "back.side"})
		q := checkSmoothed(t, p, "side", EdgeStart)
		if found := findingsAbout(NewSlots().Check(q), "/kink start"); len(found) != 0 {
			t.Errorf("smoothed, and still told: %+v", found)
		}
		// The hem leaves the fold and the middle as it did.
		for i := range p.Pieces {
			if was, is := p.Pieces[i].leaving(0, EdgeStart), q.Pieces[i].leaving(0, EdgeStart); was.Dist(is) > 1e-6 {
				t.Errorf("the hem of %s leaves its other end at %v, before at %v", p.Pieces[i].Name, is, was)
			}
		}
		if again := mustDo(t, q, "smooth-joint", "seam=side", "end=start").Project; jointOf(t, again, "side", EdgeStart).Degrees() > smoothTo {
			t.Error("smoothed twice, it has a kink again")
		}
	}
}

// A line that crosses its own mirror image becomes square to the seam.
func TestSmoothJointAtOwnMirror(t *testing.T) {
	p := slanting(0, 0)
	p.Piece("back").Edges[0].Nodes[0].At = geom.Pt(0, -8)
	p = checkSmoothed(t, sewn(t, p, [2]string{"back.middle", "back.middle"}), "middle", EdgeFinish)
	hem := p.Piece("back").leaving(0, EdgeStart)
	if math.Abs(math.Atan2(hem.Y, hem.X)) > smoothTo*math.Pi/180 {
		t.Errorf("the hem leaves the middle at %v, want square to it", hem)
	}
}

// The ends of one line may meet each other, as those of a wrist do.
func TestSmoothJointOfOneLine(t *testing.T) {
	p := projectOf(polygonPiece("sleeve", 6, geom.Pt(8, 0), geom.Pt(92, 0), geom.Pt(100, 80), geom.Pt(0, 80)))
	name(p.Pieces[0], "wrist", "right", "cap", "left")
	p.Pieces[0].Edges[0].Kind = HemEdge
	p = sewn(t, p, [2]string{"sleeve.right", "sleeve.left"})
	q := checkSmoothed(t, p, "right to left", EdgeStart)
	wrist := q.Pieces[0].EdgePath(0)
	if a, b := wrist[0].P1, wrist[0].P2; math.Abs(a.X-8-(92-b.X)) > 1e-6 || math.Abs(a.Y-b.Y) > 1e-6 {
		t.Errorf("the wrist is bent unevenly: handles at %v and %v", a, b)
	}
}

// A line that is sewn keeps its length where it has a curve to keep it with.
func TestSmoothJointKeepsSewnLengths(t *testing.T) {
	p := slanting(5, 4)
	for _, piece := range p.Pieces {
		piece.Edges[2].Nodes[0].Out, piece.Edges[3].Nodes[0].In = geom.Pt(-15, -4), geom.Pt(15, -9)
	}
	band := polygonPiece("band", 6, geom.Pt(0, 0), geom.Pt(140, 0), geom.Pt(140, 20), geom.Pt(0, 20))
	p.Pieces = append(p.Pieces, band)
	p = sewn(t, p, [2]string{"front.side", "back.side"}, [2]string{"front.waist;back.waist/left/reversed", "band.e0"})
	q := checkSmoothed(t, p, "side", EdgeFinish)
	for i := range 2 {
		if was, is := p.Pieces[i].EdgeLength(2), q.Pieces[i].EdgeLength(2); math.Abs(was-is) > 1e-5 {
			t.Errorf("the waist of %s was %g mm long and is %g", p.Pieces[i].Name, was, is)
		}
	}
}

// Of all ways to share the kink the one that moves the two lines least is taken: the sum of
// the squared movements along both, by an independent sum over many places, is no larger
// than with another share.
func TestSmoothJointChangesLeast(t *testing.T) {
	for _, handles := range [][2]float64{{20, 20}, {10, 30}, {5, 12}} {
		p := slanting(6, 5)
		for i, piece := range p.Pieces {
			// The back's handle bends up a little, the front's down.
			piece.Edges[1].Nodes[0].In = geom.Pt(-handles[i], float64(i)-0.5)
			piece.Edges[0].Nodes[0].Out = geom.Pt(18, 0)
		}
		p = sewn(t, p, [2]string{"front.side", "back.side"})
		j := jointOf(t, p, "side", EdgeStart)
		moved := func(by [2]float64) float64 {
			sum := 0.0
			for i, s := range [2]JointSide{j.A, j.B} {
				q := s.Piece.clone()
				if err := (jointBend{s, by[i]}).do(q, false); err != nil {
					t.Fatal(err)
				}
				sum += movedAlong(s.Piece.EdgePath(s.lineIndex()), q.EdgePath(s.lineIndex()))
			}
			return sum
		}
		bends, err := shareKink(j)
		if err != nil {
			t.Fatal(err)
		}
		best := moved([2]float64{bends[0].by, bends[1].by})
		for _, other := range []float64{-0.1, -0.03, 0.03, 0.1} {
			by := [2]float64{bends[0].by + other*j.Kink, bends[1].by - other*j.Kink}
			if got := moved(by); got < best {
				t.Errorf("handles %v: shared by %g and %g the lines move %g, by %g and %g only %g", handles, bends[0].by, bends[1].by, best, by[0], by[1], got)
			}
		}
	}
}

// movedAlong returns the integral of the squared distance between the places with the same
// parameter, along the first path.
func movedAlong(a, b geom.Path) float64 {
	sum := 0.0
	const steps = 400
	for i := range a {
		for k := range steps {
			t0, t1 := float64(k)/steps, float64(k+1)/steps
			d := a[i].At((t0 + t1) / 2).Dist(b[i].At((t0 + t1) / 2))
			sum += d * d * a[i].At(t0).Dist(a[i].At(t1))
		}
	}
	return sum
}

// Of random lines and slants the kink goes, and only it.
func TestSmoothJointOfAnyLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
		p := slanting(draw("front", -12, 12), draw("back", -12, 12))
		for _, piece := range p.Pieces {
			if rapid.Bool().Draw(t, "curved") {
				piece.Edges[1].Nodes[0].In = geom.Pt(draw("x", -30, -4), draw("y", -6, 6))
				piece.Edges[0].Nodes[0].Out = geom.Pt(draw("x", 4, 20), 0)
			}
		}
		p = sewn(t, p, [2]string{"front.side", "back.side"})
		if math.Abs(jointOf(t, p, "side", EdgeStart).Degrees()) > kinkMost {
			return
		}
		checkSmoothed(t, p, "side", EdgeStart)
	})
}

func TestSmoothJointRefuses(t *testing.T) {
	p := sewn(t, slanting(6, 6), [2]string{"front.side", "back.side"}, [2]string{"back.middle", "back.middle"})
	mustRefuse(t, sewn(t, slanting(50, 50), [2]string{"front.side", "back.side"}), "corner of 100°", "smooth-joint", "seam=side", "end=start")
	mustRefuse(t, p, "needs end", "smooth-joint", "seam=side")
	lock := func(names ...string) *Project {
		q := p.shallow()
		q.Pieces = nil
		for _, piece := range p.Pieces {
			c := piece.clone()
			for _, n := range names {
				c.Locked = c.Locked || c.Name == n
			}
			q.Pieces = append(q.Pieces, c)
		}
		return q
	}
	mustRefuse(t, lock("front", "back"), "are locked", "smooth-joint", "seam=side", "end=start")
	one := lock("front")
	q := checkSmoothed(t, one, "side", EdgeStart)
	if q.Pieces[0] != one.Pieces[0] {
		t.Error("the locked front was changed")
	}
}
