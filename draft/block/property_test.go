package block

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft/body"
	"hemlet/draft/formula"
	"hemlet/geom"
)

// Whatever bag is chosen: its outline is simple and counter-clockwise, its area is
// that of the rectangle less two squares, and every seam is as long on one side as
// on the other.
func TestBagProperties(t *testing.T) {
	b := bag(t)
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string, least, most float64) float64 {
			return rapid.OneOf(rapid.Just(least), rapid.Just(most), rapid.Float64Range(least, most)).Draw(t, name)
		}
		w, h := length("bag_width", 20, 2000), length("bag_height", 20, 2000)
		d, c, f := length("depth", 0, 2*w), length("channel", 2, h/2), length("frill", 0, h/4)
		s, err := b.Draft(nil, mm(map[string]float64{"bag_width": w, "bag_height": h, "depth": d, "channel": c, "frill": f}))
		if err != nil {
			t.Fatal(err)
		}
		p := s.Pieces[0]
		path := pathOf(p.Edges)
		if err := path.Simple(); err != nil {
			t.Fatal(err)
		}
		want := (w+d)*(h+d/2) - 2*(d/2)*(d/2)
		if got := path.Area(); math.Abs(got-want) > 1e-9*want+1e-3 {
			t.Fatalf("area %v, not %v", got, want)
		}
		for _, seam := range s.Seams {
			if a, b := runLength(s, seam.A), runLength(s, seam.B); math.Abs(a-b) > 1e-6 {
				t.Fatalf("seam %s: %v and %v", seam.Name, a, b)
			}
		}
		sound(t, s)
	})
}

func runLength(s *Sheet, run []Use) float64 {
	sum := 0.0
	for _, u := range run {
		for _, p := range s.Pieces {
			for i, e := range p.Edges {
				if p.Role == u.Piece && e.Name == u.Edge {
					nodes := edgeNodes(p.Edges, i)
					for k := 1; k < len(nodes); k++ {
						sum += between(nodes[k-1], nodes[k]).Length()
					}
				}
			}
		}
	}
	return sum
}

// failer is what a check of a sheet needs of a test.
type failer interface{ Fatalf(string, ...any) }

// sound fails where a sheet is not what its types promise: names of nodes once in a
// piece, no stretch without length, marks on edges and nodes that are there.
func sound(t failer, s *Sheet) {
	for _, p := range s.Pieces {
		nodes, edges, lines := map[string]bool{}, map[string]bool{}, map[string]bool{}
		take := func(n Node) {
			if nodes[n.Name] {
				t.Fatalf("%s: two nodes %s", p.Role, n.Name)
			}
			nodes[n.Name] = true
		}
		for i, e := range p.Edges {
			edges[e.Name] = true
			for _, n := range e.Nodes {
				take(n)
			}
			list := edgeNodes(p.Edges, i)
			for k := 1; k < len(list); k++ {
				if box := between(list[k-1], list[k]).HandleBounds(); box.W() <= gapSlack/2 && box.H() <= gapSlack/2 {
					t.Fatalf("%s: nothing lies between %s and %s", p.Role, list[k-1].Name, list[k].Name)
				}
			}
		}
		if pathOf(p.Edges).Area() <= 0 {
			t.Fatalf("%s runs clockwise", p.Role)
		}
		for _, l := range p.Lines {
			lines[l.Name] = true
			for _, n := range l.Nodes {
				take(n)
			}
		}
		for _, d := range p.Darts {
			if !edges[d.Edge] || !nodes[d.From] || !nodes[d.To] {
				t.Fatalf("%s: dart %+v hangs in the air", p.Role, d)
			}
		}
		for _, n := range p.Notches {
			if !edges[n.Edge] || !(n.At >= 0) {
				t.Fatalf("%s: notch %+v hangs in the air", p.Role, n)
			}
		}
		for _, span := range p.Spans {
			for _, e := range span.Edges {
				if !edges[e] {
					t.Fatalf("%s: span %+v hangs in the air", p.Role, span)
				}
			}
			for _, l := range span.Lines {
				if !lines[l] {
					t.Fatalf("%s: span %+v hangs in the air", p.Role, span)
				}
			}
		}
	}
}

// The fixture for any body and choices: sound, with names that only come and go but
// never change what they stand for.
func TestWholeProperties(t *testing.T) {
	b := whole(t)
	rapid.Check(t, func(t *rapid.T) {
		g := body.Given{"waist_girth": rapid.Float64Range(30, 3000).Draw(t, "waist")}
		if rapid.Bool().Draw(t, "hips") {
			g["hip_girth"] = g["waist_girth"] * rapid.Float64Range(0.6, 2).Draw(t, "hip")
		}
		s, err := b.Draft(g, Settings{WornUnder: formula.Length{MM: rapid.Float64Range(0, 20).Draw(t, "worn")}})
		if err != nil {
			t.Fatal(err)
		}
		sound(t, s)
		points := map[string]geom.Point{}
		for _, step := range s.Steps {
			if p, ok := step.Value.(formula.Point); ok {
				points["hem."+step.Name], points["waist."+step.Name], points["centre."+step.Name] = p.At, p.At, p.At
			}
		}
		for _, e := range s.Pieces[0].Edges {
			for _, n := range e.Nodes {
				if at, named := points[n.Name]; named && !at.Near(n.At, gapSlack) {
					t.Fatalf("%s is at %v, not %v", n.Name, n.At, at)
				}
			}
		}
	})
}

// bothWays is one outline, listed both ways round.
const bothWays = `format = 1
name = "turned"
title = "Turned"
says = "The same outline, listed both ways round."

[[choices]]
name = "w"
default = "100*mm"

[[choices]]
name = "h"
default = "60*mm"

[[steps]]
name = "arc"
is = "hook(at(w, 0*mm), at(w, h), at(0*mm, h), 0.55)"

[[pieces]]
role = "one"
[[pieces.edges]]
name = "round"
path = ["arc"]
allowance = ["3*mm", "5*mm"]
[[pieces.edges]]
name = "left"
path = ["at(0*mm, h)"]
corner = "turned back"
[[pieces.edges]]
name = "bottom"
path = ["at(0*mm, 0*mm)"]
[[pieces.notches]]
edge = "round"
at = "length(arc)/4"

[[pieces]]
role = "other"
clockwise = true
[[pieces.edges]]
name = "bottom"
path = ["at(w, 0*mm)"]
[[pieces.edges]]
name = "left"
path = ["at(0*mm, 0*mm)"]
[[pieces.edges]]
name = "round"
path = ["reverse(arc)"]
allowance = ["5*mm", "3*mm"]
corner = "turned back"
[[pieces.notches]]
edge = "round"
at = "length(arc)/4"
from_end = true
`

// Listed clockwise or counter-clockwise, a piece is the same piece.
func TestBothWaysRoundAreOne(t *testing.T) {
	b := parse(t, bothWays)
	rapid.Check(t, func(t *rapid.T) {
		s, err := b.Draft(nil, mm(map[string]float64{
			"w": rapid.Float64Range(1, 1000).Draw(t, "w"), "h": rapid.Float64Range(1, 1000).Draw(t, "h"),
		}))
		if err != nil {
			t.Fatal(err)
		}
		one, other := map[string]Edge{}, map[string]Edge{}
		for k, p := range s.Pieces {
			for i, e := range p.Edges {
				e.Nodes = edgeNodes(p.Edges, i)
				for n := range e.Nodes {
					e.Nodes[n].Name = ""
				}
				[2]map[string]Edge{one, other}[k][e.Name] = e
			}
		}
		for name, e := range one {
			o := other[name]
			if len(o.Nodes) != len(e.Nodes) || o.Start != e.Start || o.End != e.End || o.Corner != e.Corner {
				t.Fatalf("%s: %+v and %+v", name, e, o)
			}
			for i := range e.Nodes {
				a, b := e.Nodes[i], o.Nodes[i]
				if !a.At.Near(b.At, 1e-9) || !a.In.Near(b.In, 1e-9) || !a.Out.Near(b.Out, 1e-9) {
					t.Fatalf("%s: node %+v and %+v", name, a, b)
				}
			}
		}
		if a, b := s.Pieces[0].Notches[0], s.Pieces[1].Notches[0]; a.FromEnd != b.FromEnd || a.At != b.At {
			t.Fatalf("notches %+v and %+v", a, b)
		}
	})
}

// Points that fall together become one, whatever their number, and the corner keeps
// its name.
func TestMergedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		edges := 0
		var stops []stop
		for i := range n {
			s := stop{name: "e." + itoa(i), rank: namedRank, at: geom.Pt(float64(rapid.IntRange(0, 2).Draw(t, "x")), 0)}
			if i == 0 || rapid.Bool().Draw(t, "corner") {
				s.rank = cornerRank
				edges++
			}
			s.edge = edges - 1
			stops = append(stops, s)
		}
		before := append([]stop(nil), stops...)
		out := merged(append([]stop(nil), stops...), true)
		for i := range out {
			next := out[(i+1)%len(out)]
			if len(out) > 1 && together(out[i], next) {
				t.Fatalf("%v and %v are one", out[i], next)
			}
		}
		// What stays is the line as it was: the places in order, without repeats.
		var want, got []float64
		for _, s := range before {
			if len(want) == 0 || want[len(want)-1] != s.at.X {
				want = append(want, s.at.X)
			}
		}
		for len(want) > 1 && want[len(want)-1] == want[0] {
			want = want[:len(want)-1]
		}
		for _, s := range out {
			got = append(got, s.at.X)
		}
		if len(want) != len(got) {
			t.Fatalf("%v became %v", want, got)
		}
		for i := range want {
			if want[i] != got[i] {
				t.Fatalf("%v became %v", want, got)
			}
		}
		// An edge of which something is left starts with its corner.
		seen := map[int]bool{}
		for _, s := range out {
			if !seen[s.edge] && s.rank != cornerRank {
				t.Fatalf("edge %d starts with %+v", s.edge, s)
			}
			seen[s.edge] = true
		}
	})
}
