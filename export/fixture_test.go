package export

import (
	"bytes"
	"context"
	"math"
	"os"
	"os/exec"
	"testing"
	"time"

	"hemlet/draft"
	"hemlet/geom"
)

// when is the time that every test file bears.
var when = time.Date(2026, 2, 3, 4, 5, 6, 0, time.UTC)

func clock() time.Time { return when }

// maker numbers the nodes and edges of invented pieces.
type maker struct{ next int }

func (m *maker) id(kind string) draft.ID {
	m.next++
	return draft.ID(kind + string(rune('a'+m.next/26%26)) + string(rune('a'+m.next%26)))
}

func (m *maker) edge(name string, kind draft.EdgeKind, allowance float64, nodes ...draft.Node) draft.Edge {
	for i := range nodes {
		nodes[i].ID = m.id("n")
	}
	return draft.Edge{ID: draft.ID(name), Name: name, Kind: kind, Allowance: draft.Even(allowance), Nodes: nodes}
}

func corner(x, y float64) draft.Node { return draft.Node{At: geom.Pt(x, y)} }

func handled(x, y, inX, inY, outX, outY float64) draft.Node {
	return draft.Node{At: geom.Pt(x, y), In: geom.Pt(inX, inY), Out: geom.Pt(outX, outY)}
}

// wardrobe is an invented project: a lamplighter's coat for a hedgehog puppet of
// 36 cm, with a back on the fold, fronts in pairs with a dart, a sleeve, a tab that
// is too small for its label, and a cloak that no page holds.
func wardrobe() *draft.Project {
	p := draft.New("Quill's lamplighter coat")
	p.Cloths = []*draft.Cloth{{ID: "c1", Name: "Brown wool flannel"}, {ID: "c2", Name: "Cotton lawn"}}
	p.Pieces = []*draft.Piece{backPiece(), frontPiece(), sleevePiece(), tabPiece(), cloakPiece()}
	use := func(piece, edge draft.ID) draft.EdgeUse {
		return draft.EdgeUse{Piece: piece, Copy: draft.CopyRef{Number: 1}, Edge: edge}
	}
	p.Seams = []*draft.Seam{
		{ID: "s1", Name: "side", Ratio: 1, To: 1, BothSides: true, A: draft.Run{use("p1", "back.side")}, B: draft.Run{use("p2", "front.side")}},
		{ID: "s2", Name: "shoulder", Ratio: 1, To: 1, BothSides: true, A: draft.Run{use("p1", "back.shoulder")}, B: draft.Run{use("p2", "front.shoulder")}},
		{ID: "s3", Name: "armhole", Ratio: 1, To: 1, BothSides: true, A: draft.Run{use("p2", "front.armhole"), use("p1", "back.armhole")}, B: draft.Run{use("p3", "sleeve.cap")}},
	}
	return p
}

func backPiece() *draft.Piece {
	m := &maker{}
	p := &draft.Piece{ID: "p1", Name: "Back", Cloth: "c1", Cut: draft.CutRule{Way: draft.CutOnFold, Count: 1}, Note: "Spines stand out through the slits; face them before the lining goes in."}
	p.Edges = []draft.Edge{
		m.edge("back.hem", draft.HemEdge, 12, corner(0, 0)),
		m.edge("back.side", draft.SeamEdge, 6, handled(62, 4, 0, 0, 4, 20), handled(58, 52, 2, -18, -2, 10)),
		m.edge("back.armhole", draft.SeamEdge, 6, handled(55, 74, 0, 0, -10, 4)),
		m.edge("back.shoulder", draft.SeamEdge, 6, handled(44, 112, -3, -12, 0, 0)),
		m.edge("back.neck", draft.SeamEdge, 5, handled(18, 118, 0, 0, -3, -6)),
		m.edge("back.fold", draft.FoldEdge, 0, handled(0, 110, 6, 0, 0, 0)),
	}
	p.Grain = &draft.Grain{From: geom.Pt(14, 20), To: geom.Pt(14, 70)}
	p.Notches = []draft.Notch{
		{ID: "t1", Edge: "back.armhole", At: 0.5, Share: true, Double: true},
		{ID: "t2", Edge: "back.side", At: 20, Shape: draft.NotchV},
	}
	p.Lines = []draft.Line{
		{ID: "l1", Name: "slit", Kind: draft.SlitLine, Nodes: []draft.Node{corner(30, 84), corner(30, 96)}},
		{ID: "l2", Name: "lamp hook", Kind: draft.CutoutLine, Closed: true, Nodes: []draft.Node{corner(40, 20), corner(46, 20), corner(46, 26), corner(40, 26)}},
	}
	return p
}

func frontPiece() *draft.Piece {
	m := &maker{next: 100}
	p := &draft.Piece{ID: "p2", Name: "Front", Cloth: "c1", Cut: draft.CutRule{Way: draft.CutPairs, Count: 1}}
	side := m.edge("front.side", draft.SeamEdge, 6, handled(78, 4, 0, 0, 5, 20), corner(76, 40), corner(74, 52), handled(72, 74, 1, -8, 0, 0))
	side.Nodes = side.Nodes[:3]
	p.Edges = []draft.Edge{
		m.edge("front.hem", draft.HemEdge, 12, corner(0, 0)),
		side,
		m.edge("front.armhole", draft.SeamEdge, 6, handled(72, 74, 0, 0, -12, 4)),
		m.edge("front.shoulder", draft.SeamEdge, 6, handled(52, 110, -4, -12, 0, 0)),
		m.edge("front.neck", draft.SeamEdge, 5, handled(28, 116, 0, 0, -4, -14)),
		m.edge("front.opening", draft.RawEdge, 3, handled(0, 94, 12, 0, 0, 0)),
	}
	p.Darts = []draft.Dart{{ID: "d1", Name: "belly dart", Edge: "front.side", From: side.Nodes[1].ID, To: side.Nodes[2].ID, Apex: geom.Pt(46.2, 41.2), Press: draft.PressToStart}}
	p.Grain = &draft.Grain{From: geom.Pt(12, 14), To: geom.Pt(12, 80)}
	p.Notches = []draft.Notch{
		{ID: "t1", Edge: "front.armhole", At: 0.5, Share: true},
		{ID: "t2", Edge: "front.side", At: 20, Shape: draft.NotchV},
		{ID: "t3", Edge: "front.opening", At: 30, FromEnd: true, Shape: draft.NotchT},
	}
	p.Lines = []draft.Line{
		{ID: "l1", Name: "button", Kind: draft.DrillPoint, Nodes: []draft.Node{corner(6, 60)}},
		{ID: "l2", Name: "pocket", Kind: draft.PlacementLine, Nodes: []draft.Node{corner(30, 18), corner(56, 20)}},
	}
	return p
}

func sleevePiece() *draft.Piece {
	m := &maker{next: 200}
	p := &draft.Piece{ID: "p3", Name: "Sleeve", Cloth: "c1", Cut: draft.CutRule{Way: draft.CutPairs, Count: 1}}
	p.Edges = []draft.Edge{
		m.edge("sleeve.hem", draft.HemEdge, 10, corner(8, 0)),
		m.edge("sleeve.front", draft.SeamEdge, 6, corner(62, 0)),
		m.edge("sleeve.cap", draft.SeamEdge, 6, handled(70, 60, 0, 0, -14, 2), draft.Node{At: geom.Pt(35, 86), In: geom.Pt(13, 0), Out: geom.Pt(-13, 0), Smooth: true}),
		m.edge("sleeve.back", draft.SeamEdge, 6, handled(0, 60, 14, 2, 0, 0)),
	}
	p.Grain = &draft.Grain{From: geom.Pt(35, 10), To: geom.Pt(35, 60)}
	p.Notches = []draft.Notch{{ID: "t1", Edge: "sleeve.cap", At: 0.3, Share: true}, {ID: "t2", Edge: "sleeve.cap", At: 0.7, Share: true, Double: true}}
	return p
}

func tabPiece() *draft.Piece {
	m := &maker{next: 300}
	p := &draft.Piece{ID: "p4", Name: "Shoulder tab", Cloth: "c2", Layer: draft.Lining, Cut: draft.CutRule{Way: draft.CutSingle, Count: 3}}
	p.Edges = []draft.Edge{
		m.edge("tab.end", draft.SeamEdge, 3, corner(0, 0)),
		m.edge("tab.right", draft.SeamEdge, 3, corner(9, 0)),
		m.edge("tab.tip", draft.SeamEdge, 3, handled(9, 16, 0, 0, 0, 6)),
		m.edge("tab.left", draft.SeamEdge, 3, handled(0, 16, 0, 6, 0, 0)),
	}
	p.Notches = []draft.Notch{{ID: "t1", Edge: "tab.left", At: 6}}
	return p
}

func cloakPiece() *draft.Piece {
	m := &maker{next: 400}
	p := &draft.Piece{ID: "p5", Name: "Cloak", Cloth: "c1", Cut: draft.CutRule{Way: draft.CutSingle, Count: 1}}
	k := 4.0 / 3 * (math.Sqrt2 - 1)
	p.Edges = []draft.Edge{
		m.edge("cloak.neck", draft.SeamEdge, 5, handled(0, 60, 0, 0, 60*k, 0)),
		m.edge("cloak.front", draft.HemEdge, 10, handled(60, 0, 0, 60*k, 0, 0)),
		m.edge("cloak.hem", draft.HemEdge, 10, handled(340, 0, 0, 0, 0, 340*k)),
		m.edge("cloak.back", draft.SeamEdge, 10, handled(0, 340, 340*k, 0, 0, 0)),
	}
	p.Grain = &draft.Grain{From: geom.Pt(40, 100), To: geom.Pt(40, 280)}
	return p
}

// encode writes the project and stops the test on an error.
func encode(t *testing.T, p *draft.Project, o Options) []byte {
	t.Helper()
	o.Clock = clock
	var b bytes.Buffer
	if _, err := Encode(context.Background(), &b, p, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// outside returns the path of a program that is no part of this project. In CI it
// must be there; elsewhere the test is skipped.
func outside(t *testing.T, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err == nil {
		return path
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed", program)
	}
	t.Skipf("%s is not installed", program)
	return ""
}

// run runs an outside program and returns what it printed.
func run(t *testing.T, program string, args ...string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	cmd := exec.Command(outside(t, program), args...)
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", program, err, errs.String())
	}
	return out.Bytes()
}
