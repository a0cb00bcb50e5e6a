package draft_test

import (
	"math"
	"testing"

	"hemlet/draft"
	"hemlet/draft/body/bodytest"
	"hemlet/geom"
)

// The oracle of the bust: the front slashed and spread by hand, as stiff paper would be. It
// knows the outline by dots alone, and finds the turn by trying.

// turnedAbout returns a point turned about another one.
func turnedAbout(at, pivot geom.Point, angle float64) geom.Point {
	s, c := math.Sincos(angle)
	v := at.Sub(pivot)
	return pivot.Add(geom.Pt(v.X*c-v.Y*s, v.X*s+v.Y*c))
}

// atShare returns the dot at a share of the length of a row of dots.
func atShare(list []geom.Point, share float64) geom.Point {
	whole := 0.0
	for k := 1; k < len(list); k++ {
		whole += list[k].Dist(list[k-1])
	}
	sum := 0.0
	for k := 1; k < len(list); k++ {
		if sum += list[k].Dist(list[k-1]); sum >= share*whole {
			return list[k]
		}
	}
	return list[len(list)-1]
}

// spreadFront is what comes of the hand's work on the left half of a front.
type spreadFront struct {
	pivot geom.Point
	angle float64
	down  geom.Point // how what lies below the slash moves
}

// spreadByHand turns the point of the dart about the lower third of the armhole, clockwise
// on the drawing, until it has gone out by wide mm: to the left.
func spreadByHand(t *testing.T, armhole []geom.Point, apex geom.Point, wide float64) spreadFront {
	t.Helper()
	s := spreadFront{pivot: atShare(armhole, 2./3)} // the armhole runs down
	low, high := -0.8, 0.8
	for range 100 {
		s.angle = (low + high) / 2
		if apex.X-turnedAbout(apex, s.pivot, s.angle).X < wide {
			high = s.angle
		} else {
			low = s.angle
		}
	}
	s.down = turnedAbout(apex, s.pivot, s.angle).Sub(apex)
	if math.Abs(s.down.X+wide) > 1e-6 {
		t.Fatalf("by hand it goes out by %g mm, wanted %g", -s.down.X, wide)
	}
	return s
}

// bustDart returns the dart at the side of a front, or nil.
func bustDart(a *alteredBy, p *draft.Piece) *draft.Dart {
	for i := range p.Darts {
		if p.Darts[i].Edge == p.Edges[a.edge("side")].ID {
			return &p.Darts[i]
		}
	}
	return nil
}

func nodeAt(p *draft.Piece, id draft.ID) geom.Point {
	n, _, _ := p.Node(id)
	return n.At
}

// dartedFronts are bodices of the survey that have a dart at the side.
func dartedFronts(t *testing.T) []*draft.Project {
	t.Helper()
	var list []*draft.Project
	for _, g := range bodytest.Sample(t) {
		p := bodiceOf(t, g)
		if a := pieceAltered(t, p, p, "Front"); bustDart(a, a.was) != nil {
			list = append(list, p)
		}
		if len(list) == 4 {
			break
		}
	}
	if len(list) == 0 {
		t.Fatal("no body of the sample has a bust dart")
	}
	return list
}

func TestAlterBustAgainstSlashAndSpread(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, p := range dartedFronts(t) {
		for _, by := range [...]float64{20, 40, -10} {
			out, err := draft.Alter.Do(p, draft.AlterArgs{What: draft.AlterBust, By: draft.Length(by)})
			if err != nil {
				if by < 0 {
					continue // its dart takes up too little
				}
				t.Fatal(err)
			}
			soundlyAltered(t, p, out.Project)
			a := pieceAltered(t, p, out.Project, "Front")
			dart, now := bustDart(a, a.was), bustDart(a, a.now)
			s := spreadByHand(t, dots(a.was, a.edge("armhole")), dart.Apex, by/2)
			// What stays.
			a.stays("neck", "shoulder")
			a.keeps("armhole", "side")
			if out.Project.Pieces[1] != p.Pieces[1] {
				t.Error("the back is another one")
			}
			// What turns with the armhole, and what comes down.
			near := func(what string, got, want geom.Point) {
				t.Helper()
				if off := got.Dist(want); off > 0.1+math.Abs(by)/100 {
					t.Errorf("by %g: %s lies %.3f mm beside where the paper lies", by, what, off)
				}
			}
			above, below := dart.From, dart.To // the side runs down
			near("the dart's upper leg at the side", nodeAt(a.now, above), turnedAbout(nodeAt(a.was, above), s.pivot, s.angle))
			near("its lower leg", nodeAt(a.now, below), nodeAt(a.was, below).Add(s.down))
			near("its point", now.Apex, dart.Apex.Add(s.down))
			armpit := func(q *draft.Piece) geom.Point { return q.EdgePath(a.edge("armhole")).End() }
			near("the armpit", armpit(a.now), turnedAbout(armpit(a.was), s.pivot, s.angle))
			corner := func(q *draft.Piece) geom.Point { return q.EdgePath(a.edge("side")).End() }
			near("the side's corner at the hem", corner(a.now), corner(a.was).Add(s.down))
			a.about("the centre gets longer", a.grew("centre"), -s.down.Y)
			// The dart opens by the turn.
			wide := func(q *draft.Piece) float64 { return nodeAt(q, above).Dist(nodeAt(q, below)) }
			paper := turnedAbout(nodeAt(a.was, above), s.pivot, s.angle).Dist(nodeAt(a.was, below).Add(s.down))
			a.about("the mouth of the bust dart", wide(a.now)-wide(a.was), paper-wide(a.was))
			if legs := nodeAt(a.now, above).Dist(now.Apex) - nodeAt(a.now, below).Dist(now.Apex); math.Abs(legs) > 0.01 {
				t.Errorf("the legs of the dart differ by %.4f mm", legs)
			}
		}
	}
}

// The oracle of the sway back: what lies below the waist turned about the side there, until
// the fold takes up the amount at the centre.
func TestAlterSwayBackAgainstTheFold(t *testing.T) {
	for _, p := range humans(t) {
		const by = 12
		after := alteredTo(t, p, draft.AlterSwayBack, by)
		a := pieceAltered(t, p, after, "Back")
		hem := a.edge("hem")
		was, now := dots(a.was, hem), dots(a.now, hem) // from the centre to the side
		wide := was[len(was)-1].X - was[0].X
		paper := make([]geom.Point, len(was))
		pivot := was[len(was)-1]
		for k, at := range was {
			paper[k] = turnedAbout(at, pivot, -math.Asin(by/wide))
		}
		// The fold leaves a hem that is straight but for its old curve; drawn square to the
		// centre anew, it lies between that and level with where the centre came to.
		for k := range now {
			low, high := paper[k].Y, was[k].Y+by
			if now[k].Y < low-0.5 || now[k].Y > high+0.5 {
				t.Fatalf("a place of the hem lies at %.2f, by the fold between %.2f and %.2f", now[k].Y, low, high)
			}
		}
		if got := math.Abs(chords(a.now, hem) - chords(a.was, hem)); got > by/4. {
			t.Errorf("the hem is longer or shorter by %.2f mm", got)
		}
	}
}

// A front that is drawn whole is altered on both sides alike, as its half is.
func TestAlterDrawnWhole(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	half := smock(t, "sound.hemlet")
	whole := mustRun(t, half, "unfold-piece", "piece=Front")
	for _, what := range [...]draft.Alteration{draft.AlterShoulderSlope, draft.AlterShoulderWidth, draft.AlterBelly, draft.AlterTorso} {
		one, other := alteredTo(t, half, what, 3), alteredTo(t, whole, what, 3)
		a, b := pieceAltered(t, half, one, "Front"), pieceAltered(t, whole, other, "Front")
		// Every point of the half has one at its place on the whole, which moved as it did.
		for i := range a.was.Edges {
			for k, n := range a.was.Edges[i].Nodes {
				moved := a.now.Edges[i].Nodes[k].At.Sub(n.At)
				for j := range b.was.Edges {
					for l, m := range b.was.Edges[j].Nodes {
						if m.At.Dist(n.At) > 1e-6 {
							continue
						}
						if off := b.now.Edges[j].Nodes[l].At.Sub(m.At).Dist(moved); off > 0.15 {
							t.Errorf("%s: point %v moves by %v on the half, and %.3f mm beside that on the whole", what, n.At, moved, off)
						}
					}
				}
			}
		}
	}
}
