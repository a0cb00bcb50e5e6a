package draft_test

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/drafttest"
	"hemlet/geom"
)

func TestValidateTakesSoundProjects(t *testing.T) {
	if err := draft.Validate(draft.New("")); err != nil {
		t.Errorf("an empty project: %v", err)
	}
	rapid.Check(t, func(t *rapid.T) {
		if err := draft.Validate(drafttest.Project(t)); err != nil {
			t.Fatal(err)
		}
	})
}

// sound returns a small project with one of everything that can go wrong.
func sound() *draft.Project {
	front := &draft.Piece{
		ID: "p1", Name: "Front", Cloth: "c8", Cut: draft.CutRule{Way: draft.CutOnFold, Count: 1},
		Edges: []draft.Edge{
			{ID: "e2", Name: "hem", Nodes: []draft.Node{
				{ID: "n3", At: geom.Pt(0, 0)}, {ID: "n4", At: geom.Pt(10, 0)}, {ID: "n5", At: geom.Pt(14, 0)},
			}},
			{ID: "e6", Name: "side", Nodes: []draft.Node{{ID: "n7", At: geom.Pt(30, 20)}}},
		},
		Grain:   &draft.Grain{From: geom.Pt(5, 5), To: geom.Pt(5, 15)},
		LabelAt: &geom.Point{X: 8, Y: 8},
		Darts:   []draft.Dart{{ID: "d9", Name: "waist", Edge: "e2", From: "n4", To: "n5", Apex: geom.Pt(12, 9)}},
		Notches: []draft.Notch{{ID: "t10", Edge: "e6", At: 0.5, Share: true}},
		Lines: []draft.Line{
			{ID: "l11", Name: "pocket", Nodes: []draft.Node{{ID: "n12"}, {ID: "n13", At: geom.Pt(1, 1)}}},
			{ID: "l14", Name: "button", Kind: draft.DrillPoint, Nodes: []draft.Node{{ID: "n15"}}},
			{
				ID: "l1.closing", Name: "closing", Kind: draft.FastenLine, Nodes: []draft.Node{{ID: "n1.first"}, {ID: "n1.last", At: geom.Pt(9, 1)}},
				Row: &draft.Row{Kind: draft.Snaps, Count: 3, Size: 5},
			},
		},
		Spans: []draft.Span{
			{ID: "m16", Name: "hem quarter", Measure: "hip_girth", Share: 0.25, Edges: []draft.ID{"e2"}},
			{ID: "m17", Name: "across", Share: 0.5, From: "n3", To: "n12"},
		},
		Stretches: []draft.Stretch{{ID: "g1", Edge: "e6", From: 0.2, To: 1}},
		Derived:   &draft.Derived{Derivation: "r18", Base: []draft.Edge{{ID: "e2", Nodes: []draft.Node{{ID: "n3"}}}}},
	}
	return &draft.Project{
		NextID:      40,
		Wearers:     []*draft.Wearer{{ID: "w20", Name: "Quill", Measures: []draft.Measure{{Name: "bust_girth", Value: 231}}}},
		Cloths:      []*draft.Cloth{{ID: "c8", Name: "linen", Colour: "#aabbcc"}},
		Pieces:      []*draft.Piece{front},
		Derivations: []*draft.Derivation{{ID: "r18", Kind: "block", Inputs: []draft.ID{"w20"}}, {ID: "r19", Kind: "fit", Inputs: []draft.ID{"p1"}}},
		Seams: []*draft.Seam{{
			ID: "s21", Name: "side", Ratio: 1, To: 1,
			A: draft.Run{{Piece: "p1", Copy: draft.CopyRef{Number: 1}, Edge: "e6"}},
			B: draft.Run{{Piece: "p1", Copy: draft.CopyRef{Number: 1}, Edge: "e6", Half: draft.Far}},
		}},
		Pictures: []*draft.Picture{{ID: "i22", Name: "scan", Hash: strings.Repeat("0a", 32), Ext: "png", Place: geom.Plane, Opacity: 1}},
		Waivers:  []draft.Waiver{{Finding: "seam:s21"}},
	}
}

func TestValidateRefuses(t *testing.T) {
	if err := draft.Validate(sound()); err != nil {
		t.Fatalf("the sound project itself: %v", err)
	}
	for _, c := range []struct {
		name  string
		spoil func(p *draft.Project)
		path  string
		says  string
	}{
		{"ghost", func(p *draft.Project) { p.Pieces[0].Ghost = math.NaN() }, "pieces[0]", "opacity of the ghost is NaN"},
		{"fold", func(p *draft.Project) { p.Pieces[0].Darts[0].Fold = 7 }, "pieces[0].darts[0]", "fold is unknown"},
		{"stretch of an edge that is not there", func(p *draft.Project) { p.Pieces[0].Stretches[0].Edge = "e99" }, "pieces[0].stretches[0]", `no edge "e99"`},
		{"stretch backwards", func(p *draft.Project) { p.Pieces[0].Stretches[0].To = 0.1 }, "pieces[0].stretches[0]", "must end after it starts"},
		{"stretch without number", func(p *draft.Project) { p.Pieces[0].Stretches[0].From = math.NaN() }, "pieces[0].stretches[0]", "start of the stretch is NaN"},
		{"stretch beyond", func(p *draft.Project) { p.Pieces[0].Stretches[0].To = 1.5 }, "pieces[0].stretches[0]", "between 0 and 1"},
		{"stretch of a new kind", func(p *draft.Project) { p.Pieces[0].Stretches[0].Kind = 9 }, "pieces[0].stretches[0]", "is unknown"},
		{"stretch with a taken id", func(p *draft.Project) { p.Pieces[0].Stretches[0].ID = "e2" }, "pieces[0].stretches[0]", "taken"},
		{"stretch ahead of the counter", func(p *draft.Project) { p.Pieces[0].Stretches[0].ID = "g40" }, "pieces[0].stretches[0]", "raise next_id"},
		{"fastenings missing", func(p *draft.Project) { p.Pieces[0].Lines[2].Row = nil }, "pieces[0].lines[2]", "says what is set along it"},
		{"fastenings on a drill point", func(p *draft.Project) { p.Pieces[0].Lines[1].Row = &draft.Row{Count: 1} }, "pieces[0].lines[1]", "this one is drill"},
		{"no fastening", func(p *draft.Project) { p.Pieces[0].Lines[2].Row.Count = 0 }, "pieces[0].lines[2]", "1 to 999"},
		{"size of fastenings", func(p *draft.Project) { p.Pieces[0].Lines[2].Row.Size = -1 }, "pieces[0].lines[2]", "size is -1"},
		{"reinforcement of two points", func(p *draft.Project) { p.Pieces[0].Lines[0].Kind = draft.ReinforcePoint }, "pieces[0].lines[0]", "has one node"},
		{"measure without share", func(p *draft.Project) { p.Pieces[0].Spans[0].Share, p.Pieces[0].Spans[0].Measure = 0, "bust_girth" }, "pieces[0].spans[0]", "share of the measure"},
		{"name", func(p *draft.Project) { p.Name = "\xff" }, "", "not UTF-8"},
		{"unit", func(p *draft.Project) { p.Unit = 9 }, "", "unit is unknown"},
		{"counter", func(p *draft.Project) { p.NextID = 22 }, "pictures[0]", "raise next_id"},
		{"huge counter", func(p *draft.Project) { p.NextID = math.MaxInt }, "", "next_id"},
		{"huge id", func(p *draft.Project) { p.Pieces[0].ID = "p99999999999999999999999" }, "pieces[0]", "raise next_id"},
		{"long id", func(p *draft.Project) { p.Pieces[0].ID = draft.ID(strings.Repeat("x", 201)) }, "pieces[0]", "longer than"},
		{"measure", func(p *draft.Project) { p.Wearers[0].Measures[0].Value = math.NaN() }, "wearers[0].measures[0]", "the measure is NaN"},
		{"two levels of one name", func(p *draft.Project) { p.Wearers[0].Levels = []draft.Level{{Name: "belly"}, {Name: "belly"}} }, "wearers[0].levels[1]", "keep one"},
		{"colour", func(p *draft.Project) { p.Cloths[0].Colour = "red" }, "cloths[0]", `"red" is not of the form`},
		{"scrap", func(p *draft.Project) { p.Cloths[0].Scrap = []draft.Node{{ID: "n30"}} }, "cloths[0]", "at least two"},
		{"no edges", func(p *draft.Project) { p.Pieces[0].Edges = nil }, "pieces[0]", "at least one edge"},
		{"layer", func(p *draft.Project) { p.Pieces[0].Layer = -1 }, "pieces[0]", "layer is unknown"},
		{"handle", func(p *draft.Project) { p.Pieces[0].Edges[0].Nodes[1].Out.X = math.Inf(1) }, "pieces[0].edges[0].nodes[1]", "handle that goes out"},
		{"grain", func(p *draft.Project) { p.Pieces[0].Grain.To = p.Pieces[0].Grain.From }, "pieces[0]", "no direction"},
		{"label", func(p *draft.Project) { p.Pieces[0].LabelAt.Y = 1e9 }, "pieces[0]", "place of the label"},
		{"turn", func(p *draft.Project) { p.Pieces[0].Place.Turn = math.NaN() }, "pieces[0]", "turn on the bench"},
		{"taken id", func(p *draft.Project) { p.Pieces[0].Lines[0].ID = "e2" }, "pieces[0].lines[0]", "taken by another thing (edge)"},
		{"dart edge", func(p *draft.Project) { p.Pieces[0].Darts[0].Edge = "e99" }, "pieces[0].darts[0]", `no edge "e99"`},
		{"dart mouth", func(p *draft.Project) { p.Pieces[0].Darts[0].To = "n3" }, "pieces[0].darts[0]", "do not follow each other"},
		{"dart over a corner", func(p *draft.Project) { d := &p.Pieces[0].Darts[0]; d.From, d.To = "n7", "n3" }, "pieces[0].darts[0]", "do not follow each other"},
		{"two darts in a gap", func(p *draft.Project) {
			d := p.Pieces[0].Darts[0]
			d.ID = "d31"
			p.Pieces[0].Darts = append(p.Pieces[0].Darts, d)
		}, "pieces[0].darts[1]", "another dart"},
		{"notch share", func(p *draft.Project) { p.Pieces[0].Notches[0].At = 1.1 }, "pieces[0].notches[0]", "share of the edge"},
		{"drill point", func(p *draft.Project) {
			p.Pieces[0].Lines[1].Nodes = append(p.Pieces[0].Lines[1].Nodes, draft.Node{ID: "n32"})
		}, "pieces[0].lines[1]", "one node"},
		{"line of a node", func(p *draft.Project) { p.Pieces[0].Lines[1].Kind = draft.SlitLine }, "pieces[0].lines[1]", "at least two"},
		{"span edge", func(p *draft.Project) { p.Pieces[0].Spans[0].Edges[0] = "e99" }, "pieces[0].spans[0]", `no edge "e99"`},
		{"span of nothing", func(p *draft.Project) { p.Pieces[0].Spans[0].Edges = nil }, "pieces[0].spans[0]", "needs edges or lines, or two nodes"},
		{"span share", func(p *draft.Project) { p.Pieces[0].Spans[0].Share = 0 }, "pieces[0].spans[0]", "above 0"},
		{"derivation of a piece", func(p *draft.Project) { p.Pieces[0].Derived.Derivation = "r99" }, "pieces[0].derived", `no derivation "r99"`},
		{"base", func(p *draft.Project) { p.Pieces[0].Derived.Base[0].ID = "n3" }, "pieces[0].derived.base[0].nodes[0]", "twice"},
		{"two pieces of one role", func(p *draft.Project) {
			p.Pieces = append(p.Pieces, &draft.Piece{ID: "p33", Cut: draft.CutRule{Count: 1}, Edges: []draft.Edge{{ID: "e34", Nodes: []draft.Node{{ID: "n35"}}}}, Derived: p.Pieces[0].Derived})
		}, "pieces[1].derived", "already"},
		{"kind of a derivation", func(p *draft.Project) { p.Derivations[0].Kind = "guess" }, "derivations[0]", "one of: block, piece, fit"},
		{"input", func(p *draft.Project) { p.Derivations[0].Inputs[0] = "w99" }, "derivations[0]", "no such wearer"},
		{"input of a wrong kind", func(p *draft.Project) { p.Derivations[0].Inputs[0] = "e2" }, "derivations[0]", "(edge)"},
		{"circle over a piece", func(p *draft.Project) { p.Derivations[0].Inputs[0] = "r19" }, "derivations[0]", "in a circle"},
		{"circle of one", func(p *draft.Project) { p.Derivations[1].Inputs[0] = "r19" }, "derivations[1]", "in a circle"},
		{"settings", func(p *draft.Project) { p.Derivations[0].Settings = []draft.Setting{{Name: "a"}, {Name: "a"}} }, "derivations[0]", "given twice"},
		{"empty run", func(p *draft.Project) { p.Seams[0].B = nil }, "seams[0]", "side b holds no edge"},
		{"edge of another piece", func(p *draft.Project) {
			p.Pieces = append(p.Pieces, &draft.Piece{ID: "p33", Cut: draft.CutRule{Count: 1}, Edges: []draft.Edge{{ID: "e34", Nodes: []draft.Node{{ID: "n35"}}}}})
			p.Seams[0].A[0].Edge = "e34"
		}, "seams[0].a[0]", `has no edge "e34"`},
		{"half", func(p *draft.Project) { p.Seams[0].A[0].Half = 2 }, "seams[0].a[0]", "half is unknown"},
		{"copy", func(p *draft.Project) { p.Seams[0].A[0].Copy.Number = 0 }, "seams[0].a[0]", "copies count from 1"},
		{"fullness", func(p *draft.Project) { p.Seams[0].From, p.Seams[0].To = 0.7, 0.2 }, "seams[0]", "must end after it starts"},
		{"ratio", func(p *draft.Project) { p.Seams[0].Ratio = math.NaN() }, "seams[0]", "above 0"},
		{"hash", func(p *draft.Project) { p.Pictures[0].Hash = "../../etc" }, "pictures[0]", "no SHA-256"},
		{"ending", func(p *draft.Project) { p.Pictures[0].Ext = ".png" }, "pictures[0]", "without a dot"},
		{"flat picture", func(p *draft.Project) { p.Pictures[0].Place = geom.Homography{A: 1} }, "pictures[0]", "to nothing"},
		{"picture beyond its horizon", func(p *draft.Project) {
			pic := p.Pictures[0]
			pic.Wide, pic.Place.G = 2000, -1e-3
		}, "pictures[0]", "horizon"},
		{"pictures joined in a ring", func(p *draft.Project) {
			other := *p.Pictures[0]
			other.ID, other.Joined = "i21", &draft.Joint{To: p.Pictures[0].ID}
			p.Pictures[0].Joined = &draft.Joint{To: "i21"}
			p.Pictures = append(p.Pictures, &other)
		}, "pictures[0]", "to itself"},
		{"opacity", func(p *draft.Project) { p.Pictures[0].Opacity = 2 }, "pictures[0]", "opacity"},
		{"waiver", func(p *draft.Project) { p.Waivers[0].Finding = "" }, "waivers[0]", "which finding"},
	} {
		p := sound()
		c.spoil(p)
		err := draft.Validate(p)
		var bad *draft.InvalidError
		if !errors.As(err, &bad) || bad.Path != c.path || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: got %+v (%v); want path %q and %q", c.name, bad, err, c.path, c.says)
		}
	}
}

func TestValidateBoundsNodes(t *testing.T) {
	many := make([]draft.Node, draft.MaxNodes+1)
	for i := range many {
		many[i].ID = draft.ID("x" + strconv.Itoa(i))
	}
	p := sound()
	p.Pieces[0].Edges[0].Nodes = many
	if err := draft.Validate(p); err == nil || !strings.Contains(err.Error(), "at most 100000 fit") {
		t.Errorf("an outline: %v", err)
	}
	p = sound()
	p.Pieces[0].Derived.Base[0].Nodes = many
	if err := draft.Validate(p); err == nil || !strings.Contains(err.Error(), "as they were generated have more than 100000") {
		t.Errorf("a generated outline: %v", err)
	}
}
