package draft

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
)

// wearerOf returns a wearer with the measures of a body.
func wearerOf(name string, g body.Given) *Wearer {
	w := &Wearer{Name: name}
	for _, m := range body.Catalogue() {
		if mm, ok := g[m.Name]; ok {
			w.setFigure(m.Name, toGrid(mm))
		}
	}
	return w
}

// The bodice, drafted for odd bodies, edited by hand and drafted for a body like it
// and back, loses nothing and comes back as it was.
func TestBodiceKeepsWhatWasDoneByHand(t *testing.T) {
	var count tally
	rapid.Check(t, func(t *rapid.T) {
		g := bodytest.Odd(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "body"), 1)))
		like := bodytest.Scale(g, rapid.Float64Range(0.85, 1.2).Draw(t, "scale"))
		for _, name := range []string{"belly_girth", "waist_girth", "bust_girth", "back_waist_length"} {
			if _, given := like[name]; given {
				like[name] *= rapid.Float64Range(0.93, 1.08).Draw(t, name)
			}
		}
		p := New("winter show")
		for _, w := range []*Wearer{wearerOf("Quill", g), wearerOf("Tansy", like)} {
			out, err := AddWearerFrom.Do(p, AddWearerFromArgs{w})
			if err != nil {
				t.Fatal(err)
			}
			p = out.Project
		}
		out, err := DraftBlock.Do(p, DraftBlockArgs{Block: "bodice", Wearer: WearerRef(p.Wearers[0].ID)})
		if err != nil {
			t.Skip(err)
		}
		p = out.Project
		box := p.Pieces[0].DrawnPath().Bounds()
		for range rapid.IntRange(0, 5).Draw(t, "edits") {
			if out, err := someEdit(t, p, math.Sqrt(box.W()*box.H())/60); err == nil {
				p = out.Project
			}
		}
		there := forWearer(t, p, 1)
		again := forWearer(t, there, 0)
		for i, mine := range p.Pieces {
			next, back := there.Pieces[i], again.Pieces[i]
			count.all++
			if next == mine || !equalEdges(back.Derived.Base, mine.Derived.Base) {
				continue // not drafted for that body, or not carried there or back
			}
			count.carried++
			holdsAll(t, mine, next)
			sameShape(t, mine, back)
		}
		for _, s := range p.Seams {
			if q := again.Seam(s.ID); q == nil || !equalSeams(s, q) {
				t.Fatalf("seam %s: %+v became %+v", s.Name, s, q)
			}
		}
	})
	count.check(t, 0.7)
}

// A point or handle inside a smooth curve of the bodice keeps its way, its turn and
// its length, and the curve stays smooth.
func TestSmoothPointsOfTheBodiceStaySmooth(t *testing.T) {
	p := bodiceFor(t)
	tried := 0
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			for _, n := range e.Nodes {
				if !n.Smooth {
					continue
				}
				tried++
				handle := n.Out.Mul(1.3).Add(n.Out.Left().Mul(0.2))
				out, err := MoveHandle.Do(p, MoveHandleArgs{HandleRef{piece.ID, n.ID, true}, Vector(handle)})
				if err != nil {
					t.Fatal(err)
				}
				mine, _, _ := out.Project.Piece(piece.ID).Node(n.ID)
				next := mustDo(t, out.Project, "set-measure", "wearer=Quill", "name=belly_girth", "value=285mm").Project
				fresh := mustDo(t, p, "set-measure", "wearer=Quill", "name=belly_girth", "value=285mm").Project
				a, _, _ := fresh.Piece(piece.ID).Node(n.ID)
				b, i, k := next.Piece(piece.ID).Node(n.ID)
				if a == nil || b == nil {
					t.Fatalf("%s is gone", n.ID)
				}
				if b.At != a.At {
					t.Errorf("%s has moved", n.ID)
				}
				before, after := next.Piece(piece.ID).nodesAround(i, k)
				u, v := segment(*before, *b).Tangent(1), segment(*b, *after).Tangent(0)
				if math.Abs(u.Cross(v)) > 1e-6 {
					t.Errorf("%s has a kink of %g", n.ID, u.Cross(v))
				}
				if got, want := b.Out.Len()-a.Out.Len(), mine.Out.Len()-n.Out.Len(); math.Abs(got-want) > offSlack {
					t.Errorf("the handle of %s is longer by %g, want %g", n.ID, got, want)
				}
			}
		}
	}
	if tried == 0 {
		t.Error("the bodice has no smooth points; this test needs another block")
	}
}

// A larger belly changes the bodice about the belly and nowhere else, and a neckline
// that was lowered by hand stays where it is.
func TestLargerBellyLeavesTheNeckAlone(t *testing.T) {
	p := bodiceFor(t)
	front := p.Pieces[slices.IndexFunc(p.Pieces, func(q *Piece) bool { return q.Derived.Role == "front" })]
	_, neck := front.Edge(front.ID + ".neck")
	if neck < 0 {
		t.Fatalf("the front of the bodice has no edge called neck: %v", front.Edges)
	}
	nodes := front.EdgeNodes(neck)
	// The end of the neck on the fold: the one that lies lower.
	low := nodes[0]
	if last := nodes[len(nodes)-1]; last.At.Y < low.At.Y {
		low = last
	}
	out, err := MoveNodes.Do(p, MoveNodesArgs{[]NodeRef{{front.ID, low.ID}}, Vector{Y: -5}})
	if err != nil {
		t.Fatal(err)
	}
	mine := out.Project.Piece(front.ID)
	next := mustDo(t, out.Project, "set-measure", "wearer=Quill", "name=belly_girth", "value=300mm").Project.Piece(front.ID)
	if next == mine {
		t.Fatal("the belly changes nothing")
	}
	_, i := next.Edge(front.ID + ".neck")
	if i < 0 || !slices.Equal(next.EdgeNodes(i), mine.EdgeNodes(neck)) {
		t.Errorf("the neck was %v and is %v", mine.EdgeNodes(neck), next.EdgeNodes(i))
	}
}
