package draft

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hemlet/geom"
)

// drawnPiece draws a piece whose outline is a star about its middle: straight and curved
// stretches, smooth nodes, darts, notches, lines, spans and stretches.
func drawnPiece(t *rapid.T) *Piece {
	n := rapid.IntRange(3, 8).Draw(t, "nodes")
	size := rapid.SampledFrom([]float64{20, 80, 600}).Draw(t, "size")
	ids := &idSource{next: 1}
	p := &Piece{ID: ids.make(kindPiece), Name: "panel", Cut: CutRule{CutSingle, 1}}
	var nodes []Node
	for k := range n {
		angle := 2 * math.Pi * (float64(k) + rapid.Float64Range(-0.2, 0.2).Draw(t, "angle")) / float64(n)
		r := size * rapid.Float64Range(0.7, 1).Draw(t, "radius")
		nodes = append(nodes, Node{ID: ids.make(kindNode), At: geom.Pt(r*math.Cos(angle), r*math.Sin(angle))})
	}
	corner := make([]bool, n)
	for k := range n {
		corner[k] = k == 0 || rapid.IntRange(0, 2).Draw(t, "corner") > 0
		along := nodes[(k+1)%n].At.Sub(nodes[(k+n-1)%n].At).Unit()
		reach := 0.25 * size / float64(n)
		if !corner[k] {
			nodes[k].Smooth = true
			nodes[k].In, nodes[k].Out = along.Mul(-reach*rapid.Float64Range(0.5, 1).Draw(t, "in")), along.Mul(reach*rapid.Float64Range(0.5, 1).Draw(t, "out"))
		} else if rapid.Bool().Draw(t, "curved") {
			nodes[k].Out = nodes[(k+1)%n].At.Sub(nodes[k].At).Mul(0.2).Add(along.Left().Mul(-reach * 0.3))
		}
	}
	for k := range n {
		if corner[k] {
			i := len(p.Edges)
			p.Edges = append(p.Edges, Edge{ID: ids.make(kindEdge), Name: fmt.Sprintf("edge%d", i), Allowance: Even(float64(3 + i))})
		}
		e := &p.Edges[len(p.Edges)-1]
		e.Nodes = append(e.Nodes, nodes[k])
	}
	for i := range p.Edges {
		if rapid.Bool().Draw(t, "notch") {
			p.Notches = append(p.Notches, Notch{ID: ids.make(kindNotch), Edge: p.Edges[i].ID, At: rapid.Float64Range(0, 1).Draw(t, "at"), Share: true})
		}
		if rapid.Bool().Draw(t, "mm notch") {
			p.Notches = append(p.Notches, Notch{ID: ids.make(kindNotch), Edge: p.Edges[i].ID, At: toGrid(p.EdgeLength(i) * rapid.Float64Range(0, 1).Draw(t, "at")), FromEnd: rapid.Bool().Draw(t, "from end")})
		}
		if rapid.Bool().Draw(t, "stretch") {
			from := rapid.Float64Range(0, 0.5).Draw(t, "from")
			p.Stretches = append(p.Stretches, Stretch{ID: ids.make(kindStretch), Edge: p.Edges[i].ID, From: from, To: from + rapid.Float64Range(0.1, 0.5).Draw(t, "long")})
		}
		if rapid.Bool().Draw(t, "span") {
			p.Spans = append(p.Spans, Span{ID: ids.make(kindSpan), Name: p.Edges[i].Name, Measure: "waist_girth", Share: 0.25, Edges: []ID{p.Edges[i].ID}})
		}
	}
	if rapid.Bool().Draw(t, "grain") {
		p.Grain = &Grain{geom.Pt(0, -size/4), geom.Pt(0, size/4)}
	}
	for range rapid.IntRange(0, 2).Draw(t, "lines") {
		l := Line{ID: ids.make(kindLine), Name: "stripe", Kind: PlacementLine}
		for k := range rapid.IntRange(2, 4).Draw(t, "points") {
			x, y := rapid.Float64Range(-0.3, 0.3).Draw(t, "x"), rapid.Float64Range(-0.3, 0.3).Draw(t, "y")
			n := Node{ID: ids.make(kindNode), At: geom.Pt(toGrid(x*size), toGrid(y*size))}
			if k > 0 {
				n.In = geom.Pt(size/20, 0)
			}
			l.Nodes = append(l.Nodes, n)
		}
		p.Lines = append(p.Lines, l)
	}
	i := rapid.IntRange(0, len(p.Edges)-1).Draw(t, "edge of the dart")
	if length := p.EdgeLength(i); rapid.Bool().Draw(t, "dart") {
		at := length * rapid.Float64Range(0.3, 0.5).Draw(t, "mouth")
		from, errA := p.nodeFor(outlinePlace{i, at}, ids)
		to, errB := p.nodeFor(outlinePlace{i, at + length*0.05}, ids)
		_, _, ka := p.Node(from)
		_, _, kb := p.Node(to)
		if errA == nil && errB == nil && kb == ka+1 && ka > 0 {
			a, b := p.nodeAt(i, ka), p.nodeAt(i, kb)
			a.Out, b.In, a.Smooth, b.Smooth = geom.Point{}, geom.Point{}, false, false
			p.Darts = append(p.Darts, Dart{ID: ids.make(kindDart), Name: "dart", Edge: p.Edges[i].ID, From: from, To: to, Apex: a.At.Lerp(b.At, 0.5).Mul(0.6)})
		}
	}
	p, err := rounded(p)
	if err != nil {
		t.Fatal(err)
	}
	if p.DrawnPath().Simple() != nil {
		t.Skip("the outline crosses itself")
	}
	return p
}

// drawnCut draws two places of a piece.
func drawnCut(t *rapid.T, p *Piece) (a, b outlinePlace) {
	place := func(what string) outlinePlace {
		i := rapid.IntRange(0, len(p.Edges)-1).Draw(t, what+" edge")
		share := rapid.OneOf(rapid.SampledFrom([]float64{0, 1, 0.5}), rapid.Float64Range(0, 1)).Draw(t, what+" share")
		return outlinePlace{i, share * p.EdgeLength(i)}
	}
	return place("from"), place("to")
}

func straightCut(p *Piece, a, b outlinePlace) geom.Path {
	return geom.Path{geom.Line(p.pointAt(a), p.pointAt(b))}
}

// outlinesApart returns how far at most one of two closed lines is from the other, at places along
// both.
func outlinesApart(p, q geom.Path) float64 {
	most := 0.0
	for _, pair := range [2][2]geom.Path{{p, q}, {q, p}} {
		for _, s := range pair[0] {
			for k := range 16 {
				_, d := pair[1].Nearest(s.At(float64(k) / 16))
				most = max(most, d)
			}
		}
	}
	return most
}

// A piece that is cut in two and put together again is what it was, with all that lies on
// it; its area is that of its parts.
func TestSeverAndRejoin(t *testing.T) {
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawnPiece(t)
		a, b := drawnCut(t, p)
		before := p.clone()
		ids := &idSource{next: 1000}
		left, right, err := p.sever(a, b, straightCut(p, a, b), "cut", ids)
		if err != nil {
			t.Skip(err)
		}
		if diff := cmp.Diff(before, p); diff != "" {
			t.Fatalf("the piece itself was changed: %s", diff)
		}
		done++
		sum := left.piece.DrawnPath().Area() + right.piece.DrawnPath().Area()
		if area := p.DrawnPath().Area(); math.Abs(sum-area) > 1e-9*area {
			t.Fatalf("parts of %v and %v mm2 of %v", left.piece.DrawnPath().Area(), right.piece.DrawnPath().Area(), area)
		}
		for _, h := range []half{left, right} {
			if err := h.piece.DrawnPath().Simple(); err != nil {
				t.Fatalf("a half: %v", err)
			}
		}
		la, lb := left.piece.EdgePath(left.cut), right.piece.EdgePath(right.cut)
		if d := outlinesApart(la, lb); d > 1e-12*600 || la.Start() != lb.End() {
			t.Fatalf("the two sides of the cut are %v mm apart", d)
		}
		q, lin, err := rejoin(left, right, geom.Identity, ids)
		if err != nil {
			t.Fatal(err)
		}
		sameAgain(t, p, q, lin)
	})
	if done == 0 && !testing.Short() {
		t.Error("nothing was ever cut")
	}
}

// sameAgain compares a piece with what came of cutting it and joining the parts.
func sameAgain(t *rapid.T, p, q *Piece, lin Lineage) {
	if len(q.Edges) != len(p.Edges) {
		t.Fatalf("%d edges came back as %d", len(p.Edges), len(q.Edges))
	}
	for i := range p.Edges {
		e, f := p.Edges[i], q.Edges[i]
		if e.Name != f.Name || e.Kind != f.Kind || e.Corner != f.Corner || math.Abs(e.Allowance.Start-f.Allowance.Start) > 1e-9 || math.Abs(e.Allowance.End-f.Allowance.End) > 1e-9 {
			t.Fatalf("edge %+v came back as %+v", e, f)
		}
		if d := outlinesApart(p.EdgePath(i), q.EdgePath(i)); d > 1e-6 {
			t.Fatalf("edge %s came back %v mm away", e.Name, d)
		}
		if d := p.EdgeLength(i) - q.EdgeLength(i); math.Abs(d) > 1e-6 {
			t.Fatalf("edge %s came back %v mm longer", e.Name, d)
		}
		if len(e.Nodes) != len(f.Nodes) {
			t.Fatalf("edge %s had %d nodes and has %d", e.Name, len(e.Nodes), len(f.Nodes))
		}
		// A run along the edge is a run along what it is now.
		run, err := followRun(Run{{Piece: p.ID, Edge: e.ID}}, lin)
		if err != nil || len(run) != 1 || run[0].Edge != f.ID {
			t.Fatalf("a seam along %s goes along %v, %v", e.Name, run, err)
		}
	}
	if len(q.Notches) != len(p.Notches) || len(q.Darts) != len(p.Darts) || len(q.Lines) != len(p.Lines) || len(q.Spans) != len(p.Spans) || len(q.Stretches) != len(p.Stretches) {
		t.Fatalf("of %d notches, %d darts, %d lines, %d spans, %d stretches came back %d, %d, %d, %d, %d", len(p.Notches), len(p.Darts), len(p.Lines), len(p.Spans), len(p.Stretches), len(q.Notches), len(q.Darts), len(q.Lines), len(q.Spans), len(q.Stretches))
	}

	for k, n := range p.Notches {
		if m := q.Notches[k]; m.ID != n.ID || p.notchPoint(n).Dist(q.notchPoint(m)) > 1e-5 {
			t.Fatalf("notch %+v at %v came back as %+v at %v", n, p.notchPoint(n), m, q.notchPoint(m))
		}
	}
	for k, d := range p.Darts {
		e := q.Darts[k]
		d.Edge, e.Edge = "", ""
		if d != e {
			t.Fatalf("dart %+v came back as %+v", d, e)
		}
	}
	for k, l := range p.Lines {
		if m := q.Lines[k]; m.ID != l.ID || m.Closed != l.Closed || len(m.Nodes) != len(l.Nodes) || outlinesApart(l.Path(), m.Path()) > 1e-6 {
			t.Fatalf("line %+v came back as %+v", l, m)
		}
	}
	for k, s := range p.Stretches {
		if r := q.Stretches[k]; r.ID != s.ID || math.Abs(r.From-s.From) > 1e-6 || math.Abs(r.To-s.To) > 1e-6 {
			t.Fatalf("stretch %+v came back as %+v", s, r)
		}
	}
	if diff := cmp.Diff(p.Grain, q.Grain); diff != "" {
		t.Fatalf("the grain came back another: %s", diff)
	}
}

func (p *Piece) notchPoint(n Notch) geom.Point {
	_, i := p.Edge(n.Edge)
	at := n.Along(p.EdgeLength(i))
	nodes := p.EdgeNodes(i)
	k, t := p.locate(i, at)
	return segment(nodes[k], nodes[k+1]).At(t)
}
