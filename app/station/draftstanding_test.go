package station

import (
	"strings"
	"testing"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// On the wearer the pieces lie as they stand; what was changed by hand is named, and how
// the block makes it is dotted.
func TestPreviewShowsPiecesAsTheyStand(t *testing.T) {
	x := newDrafting(t, round())
	x.DraftIt()
	x.Update()
	if n := len(x.now.ownLines(placing{pieces: make([]geom.Affine, 2)})); n != 0 {
		t.Errorf("%d pieces as drafted are drawn otherwise", n)
	}
	for i, p := range x.now.drawn() {
		own := &x.now.sheet.Pieces[i]
		if p == own || !samePaths(outlineOf(p), outlineOf(own)) || len(innerMarks(p)) != len(innerMarks(own)) || len(spanThings(p)) != len(spanThings(own)) {
			t.Errorf("%s as it stands is drawn other than the block makes it", own.Title)
		}
	}
	front := x.desk.Project().Piece("front")
	node := front.Edges[front.FoldEdge()].Nodes[0]
	err := desk.Run(x.desk, draft.MoveNodes, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: "front", Node: node.ID}}, By: draft.Vector{Y: -3}})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(x.now.ownLines(placing{pieces: make([]geom.Affine, 2)})); n != 1 {
		t.Errorf("%d pieces are dotted", n)
	}
	for i, p := range x.now.drawn() {
		at, ok := nodeOf(p, string(node.ID))
		if x.now.sheet.Pieces[i].Role == "front" && (!ok || at.Dist(node.At.Add(geom.Pt(0, -3)).Add(onSheet(&x.now.sheet.Pieces[i]))) > sameLine) {
			t.Errorf("the point that was moved is drawn at %v", at)
		}
	}
	words := map[string]string{}
	for _, p := range x.desk.Project().Pieces {
		words[p.Name] = otherwise(p, x.desk.Findings())
	}
	if words["Front"] != "changed by hand" || words["Back"] != "" {
		t.Errorf("said %v", words)
	}
	if says := x.hintFor(pieceIDs + "front"); !strings.Contains(says, "as it stands") {
		t.Errorf("of the front is said %q", says)
	}
}

// The legend tells the dotted line from the dashed one, and only where it is drawn.
func TestLegendOfTheBlocksOwnLine(t *testing.T) {
	x := newDrafting(t, round())
	x.DraftIt()
	x.choice(t, "ease").field.Take("20")
	if !x.legend.object.Visible() || x.legend.own.Visible() {
		t.Fatalf("legend %v, with the block's own line %v", x.legend.object.Visible(), x.legend.own.Visible())
	}
	front := x.desk.Project().Piece("front")
	node := front.Edges[front.FoldEdge()].Nodes[0]
	err := desk.Run(x.desk, draft.MoveNodes, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: "front", Node: node.ID}}, By: draft.Vector{Y: -3}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []bool{showBoth: true, showBefore: false, showNow: true} {
		x.legend.choose(showing(i))
		if got := x.legend.own.Visible(); got != want {
			t.Errorf("shown as %d, the legend tells of the block's own line: %v", i, got)
		}
	}
}
