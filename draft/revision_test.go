package draft_test

import (
	"regexp"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

func revisionSquare() *draft.Piece {
	p := &draft.Piece{ID: "p1", Name: "Pocket", Cut: draft.CutRule{Count: 1}}
	for i, at := range []geom.Point{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 50}, {X: 0, Y: 50}} {
		id := draft.ID(rune('a' + i))
		p.Edges = append(p.Edges, draft.Edge{
			ID: "e" + id, Allowance: draft.Even(6), Nodes: []draft.Node{{ID: "n" + id, At: at}},
		})
	}
	p.Notches = []draft.Notch{{ID: "t1", Edge: "ea", At: 10}}
	return p
}

func revision(t *testing.T, p *draft.Piece) string {
	t.Helper()
	flat, err := draft.LayFlat(p)
	if err != nil {
		t.Fatal(err)
	}
	return draft.Revision(flat)
}

func TestRevisionFollowsTheShapeAlone(t *testing.T) {
	mark := revision(t, revisionSquare())
	if !regexp.MustCompile(`^[0-9a-f]{5}$`).MatchString(mark) {
		t.Fatalf("mark %q is not five hexadecimal figures", mark)
	}
	for name, c := range map[string]struct {
		change func(*draft.Piece)
		same   bool
	}{
		"name":          {func(p *draft.Piece) { p.Name, p.Note, p.Garment = "Bag", "see below", "Coat" }, true},
		"edge name":     {func(p *draft.Piece) { p.Edges[1].Name = "side" }, true},
		"placement":     {func(p *draft.Piece) { p.Place = draft.Placement{At: geom.Pt(300, 20), Turn: 1} }, true},
		"label":         {func(p *draft.Piece) { at := geom.Pt(5, 5); p.LabelAt = &at }, true},
		"below 1 µm":    {func(p *draft.Piece) { p.Edges[2].Nodes[0].At.X += 0.0002 }, true},
		"notch counted": {func(p *draft.Piece) { p.Notches[0] = draft.Notch{ID: "t9", Edge: "ea", At: 30, FromEnd: true} }, true},
		"corner moved":  {func(p *draft.Piece) { p.Edges[2].Nodes[0].At.X += 0.01 }, false},
		"allowance":     {func(p *draft.Piece) { p.Edges[2].Allowance = draft.Even(7) }, false},
		"corner rule":   {func(p *draft.Piece) { p.Edges[2].Corner = draft.Square }, false},
		"notch moved":   {func(p *draft.Piece) { p.Notches[0].At = 11 }, false},
		"cut rule":      {func(p *draft.Piece) { p.Cut.Count = 2 }, false},
		"inner line": {func(p *draft.Piece) {
			p.Lines = []draft.Line{{ID: "l1", Nodes: []draft.Node{{At: geom.Pt(1, 1)}, {At: geom.Pt(9, 1)}}}}
		}, false},
		"grain": {func(p *draft.Piece) { p.Grain = &draft.Grain{To: geom.Pt(0, 9)} }, false},
	} {
		p := revisionSquare()
		c.change(p)
		if got := revision(t, p); (got == mark) != c.same {
			t.Errorf("%s: mark %s after %s, want the same: %t", name, got, mark, c.same)
		}
	}
}
