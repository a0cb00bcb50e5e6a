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
	return draft.Revision(p)
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
		"grain":  {func(p *draft.Piece) { p.Grain = &draft.Grain{To: geom.Pt(0, 9)} }, false},
		"handle": {func(p *draft.Piece) { p.Edges[0].Nodes[0].Out = geom.Pt(9, -1) }, false},
		"hem":    {func(p *draft.Piece) { p.Edges[0].Kind = draft.HemEdge }, false},
		"fold":   {func(p *draft.Piece) { p.Edges[0].Kind = draft.FoldEdge }, false},
		"taper":  {func(p *draft.Piece) { p.Edges[2].Allowance.End = 1 }, false},
	} {
		p := revisionSquare()
		c.change(p)
		if got := revision(t, p); (got == mark) != c.same {
			t.Errorf("%s: mark %s after %s, want the same: %t", name, got, mark, c.same)
		}
	}
}

// The way a dart is pressed shapes the cloth at its mouth.
func TestRevisionFollowsTheDart(t *testing.T) {
	p := revisionSquare()
	p.Edges[0].Nodes = append(p.Edges[0].Nodes, draft.Node{ID: "x", At: geom.Pt(15, 0)}, draft.Node{ID: "y", At: geom.Pt(25, 0)})
	plain := draft.Revision(p)
	p.Darts = []draft.Dart{{ID: "d1", Edge: "ea", From: "x", To: "y", Apex: geom.Pt(20, 20)}}
	start := draft.Revision(p)
	p.Darts[0].Press = draft.PressOpen
	if open := draft.Revision(p); plain == start || start == open || plain == open {
		t.Errorf("without the dart %s, pressed to the start %s, open %s", plain, start, open)
	}
}

// A mark that is printed has to be the mark of the same piece for ever, on any
// machine. These were made when the marks were; inches give coordinates that lie
// halfway between two thousandths.
func TestRevisionsStayWhatTheyAre(t *testing.T) {
	half := revisionSquare()
	half.Cut.Way, half.Edges[3].Kind = draft.CutOnFold, draft.FoldEdge
	for i := range half.Edges {
		at := &half.Edges[i].Nodes[0].At
		at.X, at.Y = at.X+draft.MMPerInch/16, at.Y*draft.MMPerInch/16
	}
	for want, p := range map[string]*draft.Piece{"e897b": revisionSquare(), "6a1d4": half} {
		if got := draft.Revision(p); got != want {
			t.Errorf("mark %s, want %s", got, want)
		}
	}
}
