package draft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// vestPiece returns the piece of the vest with the role.
func roleOf(p *Project, role string) *Piece {
	for _, piece := range p.Pieces {
		if piece.Derived != nil && piece.Derived.Role == role {
			return piece
		}
	}
	return nil
}

// made returns the piece that the last act made.
func madeBy(t fataler, out Outcome) *Piece {
	t.Helper()
	piece := out.Project.Piece(out.Made)
	if piece == nil {
		t.Fatalf("the act made no piece but %q", out.Made)
	}
	return piece
}

// sameLine reports how far at most two outlines are apart, taken from point to point.
func sameLine(t fataler, a, b *Piece) float64 {
	t.Helper()
	p, q := a.DrawnPath(), b.DrawnPath()
	if len(p) != len(q) {
		t.Fatalf("%d stretches against %d", len(p), len(q))
	}
	most := 0.0
	for i := range p {
		u, v := handlesOf(p[i]), handlesOf(q[i])
		for k := range u {
			most = max(most, u[k].Dist(v[k]))
		}
	}
	return most
}

func TestTracedCopyFollows(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	front := roleOf(p, "front")
	out := mustDo(t, p, "trace-copy", "piece=Front")
	copied := madeBy(t, out)
	if d := sameLine(t, front, copied); d != 0 {
		t.Errorf("the copy is off by %g mm", d)
	}
	if len(copied.Darts) != 1 || len(copied.Notches) != 2 || len(copied.Lines) != 1 || len(copied.Spans) != 0 || copied.Cut != front.Cut {
		t.Errorf("marks of the copy: %+v", copied)
	}
	next := mustDo(t, out.Project, "set-measure", "wearer=Quill", "name=bust_girth", "value=260mm").Project
	if d := sameLine(t, roleOf(next, "front"), next.Piece(copied.ID)); d != 0 {
		t.Errorf("after a changed measure the copy is off by %g mm", d)
	}
	if d := sameLine(t, front, next.Piece(copied.ID)); d < 1 {
		t.Error("the copy has not moved with the measure")
	}
	if f := NewSlots().Check(next).about(copied.ID); strings.Contains(f, "/behind") || strings.Contains(f, "/older") {
		t.Error(f)
	}
}

func (r Report) about(piece ID) string {
	var list []string
	for _, f := range r.Findings {
		if f.Piece == piece {
			list = append(list, f.Key+": "+f.Says)
		}
	}
	return strings.Join(list, "\n")
}

// A copy of a copy of a mirrored copy follows a changed measure in the same step.
func TestChainOfCopiesFollows(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	from := "Back"
	for i, name := range []string{"one", "two", "three"} {
		args := []string{"piece=" + from, "name=" + name}
		if i == 1 {
			args = append(args, "mirrored=yes")
		}
		p = mustDo(t, p, "trace-copy", args...).Project
		from = name
	}
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=226mm").Project
	back := roleOf(p, "back")
	named := func(name string) *Piece {
		ref, err := p.FindPiece(name)
		if err != nil {
			t.Fatal(err)
		}
		return p.Piece(ID(ref))
	}
	if d := sameLine(t, back, named("one")); d != 0 {
		t.Errorf("one is off by %g", d)
	}
	if d := sameLine(t, turnedOver(back), named("two")); d != 0 {
		t.Errorf("two is off by %g", d)
	}
	if d := sameLine(t, named("two"), named("three")); d != 0 {
		t.Errorf("three is off by %g", d)
	}
}

// What was changed by hand on a linked piece stays changed; what its parent's maker
// does to the parent's edges leads seams and marks on.
func TestLinkedPieceCarriesHandAndSeamsOverADividedEdge(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	out := mustDo(t, p, "trace-copy", "piece=Back", "name=Copy")
	id := madeBy(t, out).ID
	p = mustDo(t, out.Project, "link-seam", "a=Copy.side", "b=Front.side", "name=own").Project
	p = mustDo(t, p, "add-notch", "edge=Copy.side", "at=75%").Project
	p = mustDo(t, p, "move-nodes", "nodes=Copy.armhole/end", "by=2mm,0mm").Project
	before := p.Piece(id)
	_, side := before.Edge(id + ".back.side")
	length := before.EdgeLength(side)

	out = mustDo(t, p, "insert-node", "edge=Back.side", "at=50%")
	out = mustDo(t, out.Project, "corner-node", "nodes=Back."+string(out.Made))
	p = out.Project
	after := p.Piece(id)
	if len(after.Edges) != len(before.Edges)+1 {
		t.Fatalf("the copy has %d edges, %d before", len(after.Edges), len(before.Edges))
	}
	if _, moved := out.Lineage[id+".back.side"]; !moved {
		t.Error("the lineage does not say what became of the copy's side")
	}
	run := p.Seam(seamCalled(t, p, "own")).A
	if len(run) != 2 {
		t.Fatalf("the seam runs along %v", run)
	}
	sum := 0.0
	for _, u := range run {
		_, i := after.Edge(u.Edge)
		sum += after.EdgeLength(i)
	}
	if math.Abs(sum-length) > 1e-5 {
		t.Errorf("the seam is %g long, %g before", sum, length)
	}
	var own *Notch
	for i := range after.Notches {
		if !strings.HasPrefix(string(after.Notches[i].ID), string(id)) {
			own = &after.Notches[i]
		}
	}
	if own == nil || own.Edge != run[1].Edge && own.Edge != run[0].Edge {
		t.Fatalf("the notch lies on %+v", own)
	}
	if _, i := after.Edge(own.Edge); i < 0 || math.Abs(own.Along(after.EdgeLength(i))/after.EdgeLength(i)-0.5) > 1e-3 {
		t.Errorf("the notch is at %+v", own)
	}
	a, _, _ := before.Node(before.EdgeNodes(2)[len(before.EdgeNodes(2))-1].ID)
	b, _, _ := after.Node(a.ID)
	if b == nil || !b.At.Near(a.At, 1e-6) {
		t.Errorf("the point moved by hand was at %v and is at %v", a.At, b)
	}
	// And back: the two become one again.
	p = mustDo(t, p, "delete-node", "nodes=Back.side/end").Project
	if run := p.Seam(seamCalled(t, p, "own")).A; len(run) != 1 {
		t.Errorf("the seam runs along %v", run)
	}
}

func seamCalled(t fataler, p *Project, name string) ID {
	t.Helper()
	ref := new(SeamRef)
	if err := ref.readArg(p, name); err != nil {
		t.Fatal(err)
	}
	return ID(*ref)
}

func TestLinkIsFreedAndTold(t *testing.T) {
	p := mustDo(t, vestFor(t, "231mm", "200mm", "84mm"), "trace-copy", "piece=Back", "name=Copy").Project
	links := func(p *Project) int {
		n := 0
		for _, d := range p.Derivations {
			if d.Kind == pieceKind {
				n++
			}
		}
		return n
	}
	if links(p) != 1 {
		t.Fatalf("%d links", links(p))
	}
	out := mustDo(t, p, "delete-piece", "pieces=Back")
	if links(out.Project) != 0 || !strings.Contains(strings.Join(out.Says, " "), "Copy stays as it is") {
		t.Errorf("after its parent is deleted: %d links, says %v", links(out.Project), out.Says)
	}
	out = mustDo(t, p, "keep-piece", "pieces=Copy")
	if links(out.Project) != 0 {
		t.Error("a kept piece is still linked")
	}
	out = mustDo(t, p, "delete-piece", "pieces=Copy")
	if links(out.Project) != 0 {
		t.Error("the link of a deleted piece is still there")
	}
	for _, act := range [][]string{{"split-piece", "from=Back.side@50%", "to=Back.centre@50%"}, {"mirror-piece", "pieces=Back"}} {
		out = mustDo(t, p, act[0], act[1:]...)
		if links(out.Project) != 0 || !strings.Contains(strings.Join(out.Says, " "), "Copy stays as it is") {
			t.Errorf("after %s: %d links, says %v", act[0], links(out.Project), out.Says)
		}
	}
	free := mustDo(t, p, "trace-copy", "piece=Front", "linked=no")
	if links(free.Project) != 1 || madeBy(t, free).Derived != nil {
		t.Error("a free copy is linked")
	}
}

// A mirrored copy is the mirror image in every point, and its edges are as long.
func TestMirroredCopyIsTheMirrorImage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := drawBody(t, "body")
		p := twoBodies(t, body, body)
		for _, role := range []string{"front", "back"} {
			piece := roleOf(p, role)
			copied := madeBy(t, mustDo(t, p, "trace-copy", "piece="+string(piece.ID), "mirrored=yes"))
			a, b := piece.DrawnPath(), copied.DrawnPath()
			if math.Abs(a.Area()-b.Area()) > 1e-6*a.Area() {
				t.Fatalf("area %g, of the original %g", b.Area(), a.Area())
			}
			for i := range piece.Edges {
				e, k := copied.Edge(copied.ID + "." + piece.Edges[i].ID)
				if e == nil || math.Abs(copied.EdgeLength(k)-piece.EdgeLength(i)) > 1e-6 {
					t.Fatalf("edge %s is not as long", piece.Edges[i].ID)
				}
			}
			for _, e := range piece.Edges {
				for _, n := range e.Nodes {
					m, _, _ := copied.Node(copied.ID + "." + n.ID)
					if m == nil || m.At.X != -n.At.X || m.At.Y != n.At.Y {
						t.Fatalf("node %s at %v is at %v", n.ID, n.At, m)
					}
				}
			}
			if back := turnedOver(turnedOver(piece)); sameLine(t, piece, back) != 0 || len(back.Notches) != len(piece.Notches) {
				t.Fatal("turned over twice it is not as it was")
			}
		}
	})
}

// A part on the left of a line and the part on its right are together the whole, each
// bounded by the outline and the line; and both follow a changed measure.
func TestTracedPartsAreTheWhole(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	rapid.Check(t, func(t *rapid.T) {
		body := drawBody(t, "body")
		p := twoBodies(t, body, likeBody(t, body))
		role := rapid.SampledFrom([]string{"front", "back"}).Draw(t, "role")
		piece := roleOf(p, role)
		share := func(label string) string {
			return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.3f", rapid.Float64Range(5, 95).Draw(t, label)), "0"), ".") + "%"
		}
		from, to := string(piece.ID)+".side@"+share("from"), string(piece.ID)+"."+map[string]string{"front": "fold", "back": "centre"}[role]+"@"+share("to")
		args := []string{"piece=" + string(piece.ID), "from=" + from, "to=" + to}
		out, err := traceCopyText(p, append(args, "side=left"))
		if err != nil {
			return // a cut that leaves the piece, or through a dart
		}
		left := madeBy(t, out).ID
		out, err = traceCopyText(out.Project, append(args, "side=right"))
		if err != nil {
			t.Fatal(err)
		}
		right := madeBy(t, out).ID
		check := func(p *Project) {
			piece, a, b := p.Piece(piece.ID), p.Piece(left), p.Piece(right)
			sum, whole := a.DrawnPath().Area()+b.DrawnPath().Area(), piece.DrawnPath().Area()
			if math.Abs(sum-whole) > 1e-5*math.Sqrt(whole) {
				t.Fatalf("the parts have %g mm2 together, the whole %g", sum, whole)
			}
			for _, e := range piece.Edges {
				length := 0.0
				for _, part := range []*Piece{a, b} {
					for i := range part.Edges {
						if id := part.Edges[i].ID; id == part.ID+"."+e.ID || strings.HasPrefix(string(id), string(part.ID+"."+e.ID+"~")) {
							length += part.EdgeLength(i)
						}
					}
				}
				_, i := piece.Edge(e.ID)
				if want := piece.EdgeLength(i); math.Abs(length-want) > 1e-5 {
					t.Fatalf("the parts have %g mm of edge %s, the whole %g", length, e.Name, want)
				}
			}
			for _, part := range []*Piece{a, b} {
				if (part.Cut.Way == CutOnFold) != (part.FoldEdge() >= 0) {
					t.Fatalf("%s is %s", part.Name, part.Cut)
				}
			}
		}
		check(out.Project)
		next := forWearer(t, out.Project, 1)
		if f := NewSlots().Check(next); strings.Contains(f.about(left)+f.about(right), "follow") {
			return // the line crosses the changed dart
		}
		check(next)
	})
}

func traceCopyText(p *Project, args []string) (Outcome, error) {
	return TraceCopy.DoText(p, pairs(args))
}

func TestTracedPartAlongALine(t *testing.T) {
	p := vestFor(t, "231mm", "231mm", "84mm")
	place := roleOf(p, "back").Place.Affine()
	a, b := place.Apply(geom.Pt(-1, 50)), place.Apply(geom.Pt(52, 60))
	p = mustDo(t, p, "draw-line", "piece=Back", fmt.Sprintf("line=M %g %g L %g %g", a.X, a.Y, b.X, b.Y), "kind=style", "name=yoke line").Project
	out := mustDo(t, p, "trace-copy", "piece=Back", "line=Back.yoke line", "name=Yoke")
	yoke := madeBy(t, out)
	if yoke.Cut.Way != CutPairs || yoke.DrawnPath().Area() >= roleOf(p, "back").DrawnPath().Area() {
		t.Errorf("%+v", yoke.Cut)
	}
	// The line goes: the part stays as it is, and says so.
	out = mustDo(t, out.Project, "delete-mark", "marks=Back.yoke line")
	if !strings.Contains(strings.Join(out.Says, " "), "Yoke cannot follow") && !strings.Contains(strings.Join(out.Says, " "), "Yoke could not follow") {
		t.Errorf("says %v", out.Says)
	}
	if f := NewSlots().Check(out.Project).about(yoke.ID); !strings.Contains(f, "/behind") {
		t.Errorf("findings: %s", f)
	}
	if sameLine(t, yoke, out.Project.Piece(yoke.ID)) != 0 {
		t.Error("it has changed all the same")
	}
}
