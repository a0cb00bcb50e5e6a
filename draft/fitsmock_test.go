package draft_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// cutAt returns how wide a piece is drawn at a height, in mm.
func cutAt(p *draft.Piece, y float64) float64 {
	least, most := math.Inf(1), math.Inf(-1)
	box := p.DrawnPath().Bounds()
	level := geom.Line(geom.Pt(box.Min.X-1, y), geom.Pt(box.Max.X+1, y))
	for _, s := range p.DrawnPath() {
		for _, m := range s.Intersections(level) {
			least, most = min(least, m.P.X), max(most, m.P.X)
		}
	}
	return most - least
}

// corner returns where an edge of a piece begins.
func cornerOf(t *testing.T, p *draft.Piece, edge string) geom.Point {
	t.Helper()
	e, _ := p.Edge(edgeNamed(p, edge))
	return e.Nodes[0].At
}

// A smock of a grown person with what it suggests by itself, fitted to each of the puppets,
// is a smock: its neck is as wide in front as behind, its front is no wider across at the
// pit of the neck than it is wide below the arms, its hem hangs level and its sides meet it.
// The shares by which these may differ are our own: what is seen at a glance.
func TestFittedSmockLooksLikeOne(t *testing.T) {
	source := done(t, loadSmock(t), "take-spans")
	for _, w := range assets.SampleWearers() {
		read, _, err := store.DecodeWearer(w.Text)
		if err != nil {
			t.Fatal(err)
		}
		out, err := draft.AddWearerFrom.Do(source, draft.AddWearerFromArgs{Wearer: read})
		if err != nil {
			t.Fatal(err)
		}
		p := done(t, out.Project, "fit-pattern", "wearer", read.Name)
		frontWas, front := pieceNamed(t, source, "Front"), pieceNamed(t, p, "Front")
		backWas, back := pieceNamed(t, source, "Back"), pieceNamed(t, p, "Back")
		// The neck begins at the shoulder and ends in the middle of the body.
		neck := func(q *draft.Piece, middle string) float64 {
			return math.Abs(cornerOf(t, q, "neck").X - cornerOf(t, q, middle).X)
		}
		was, now := neck(frontWas, "centre front")/neck(backWas, "centre back"), neck(front, "centre front")/neck(back, "centre back")
		if math.Abs(now/was-1) > 0.05 {
			t.Errorf("%s: the neck is %.2f times as wide in front as behind, and was %.2f", read.Name, now, was)
		}
		across := func(q *draft.Piece) float64 {
			return cutAt(q, cornerOf(t, q, "centre front").Y) / (math.Abs(cornerOf(t, q, "armhole").X - cornerOf(t, q, "centre front").X))
		}
		if a, b := across(frontWas), across(front); math.Abs(b/a-1) > 0.25 {
			t.Errorf("%s: at the pit of the neck the front is %.2f of its width under the arm, and was %.2f", read.Name, b, a)
		}
		long := func(q *draft.Piece) float64 { return cornerOf(t, q, "neck").Y - cornerOf(t, q, "hem").Y }
		if a, b := long(frontWas)/long(backWas), long(front)/long(back); math.Abs(b/a-1) > 0.02 {
			t.Errorf("%s: from the shoulder to the hem the front is %.3f of the back, and was %.3f", read.Name, b, a)
		}
		if a, b := askew(t, source), askew(t, p); math.Abs(b-a) > 1 {
			t.Errorf("%s: the end of the sleeve lies %.1f degrees off the cross grain, and lay %.1f", read.Name, b, a)
		}
	}
}

// askew returns by how many degrees the end of the sleeve, which no fold holds, is off the
// square of its grain.
func askew(t *testing.T, p *draft.Project) float64 {
	t.Helper()
	q := pieceNamed(t, p, "Sleeve")
	end := cornerOf(t, q, "front seam").Sub(cornerOf(t, q, "wrist")).Unit()
	return math.Asin(end.Dot(q.GrainWay())) * 180 / math.Pi
}

// The pieces of a scan that are numbered after the name of a garment are told apart all the
// same: its bands are no fronts and its cuffs no sleeves, and lie askew as on the glass.
func TestNumberedPiecesOfAScan(t *testing.T) {
	p := moved(asDrawn(fitSmock(t)), 0.4*math.Pi/180, false)
	named := *p
	named.Pieces = nil
	for i, piece := range p.Pieces {
		q := *piece
		q.Name = "smock"
		if i > 0 {
			q.Name += fmt.Sprintf(" %d", i+1)
		}
		named.Pieces = append(named.Pieces, &q)
	}
	got := anatomyOf(&named)
	for i, want := range []string{"trunk front", "trunk back", "sleeve", "unknown", "unknown"} {
		if !strings.HasPrefix(got[i], want) {
			t.Errorf("%s is taken for %s, want %s", named.Pieces[i].Name, got[i], want)
		}
	}
}

// That nothing is sewn is told of a fit, and no more once a seam is linked.
func TestFitTellsThatNothingIsSewn(t *testing.T) {
	p := unsewn(bodyOf(t, smockToFit(t), "Quill", 1, hedgehog...))
	p = done(t, p, "fit-pattern", "wearer", "Quill")
	if list := fitFindings(p, "unsewn"); len(list) != 1 || list[0].Level != draft.LookAgain {
		t.Errorf("of pieces that are sewn to nothing: %v", list)
	}
	p = done(t, p, "link-seam", "a", "Front.side", "b", "Back.side")
	if list := fitFindings(p, "unsewn"); len(list) > 0 {
		t.Errorf("with a seam: %v", list)
	}
	if off := math.Abs(edgeLong(p, "Front", "side") - edgeLong(p, "Back", "side")); off > 1e-4 {
		t.Errorf("the linked sides differ by %g mm", off)
	}
}

// edgeLong returns the length of an edge by its names, in mm.
func edgeLong(p *draft.Project, piece, edge string) float64 {
	for _, q := range p.Pieces {
		if q.Name == piece {
			_, i := q.Edge(edgeNamed(q, edge))
			return q.EdgeLength(i)
		}
	}
	return math.NaN()
}
