package draft

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/geom"
)

type everyArg struct {
	Edges  []EdgeRef  `arg:"edges" says:"edges"`
	Width  Length     `arg:"width" says:"width" default:"6mm"`
	By     *Vector    `arg:"by" says:"by"`
	Turn   Angle      `arg:"turn,optional" says:"turn"`
	Kind   *EdgeKind  `arg:"kind" says:"kind"`
	Way    CutWay     `arg:"way,optional" says:"way"`
	Ratio  float64    `arg:"ratio" says:"ratio" default:"1"`
	Count  int        `arg:"count" says:"count" default:"2"`
	Double bool       `arg:"double,optional" says:"double"`
	Note   *string    `arg:"note" says:"note"`
	At     *EdgePlace `arg:"at" says:"at"`
}

func argProject() *Project {
	front := polygonPiece("p1", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 80), geom.Pt(0, 80))
	front.Name = "Front"
	front.Edges[0].Name, front.Edges[1].Name = "hem", "side"
	front.Edges[2].Name, front.Edges[3].Name = "side", "neck/collar"
	lining := polygonPiece("p2", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(0, 80))
	lining.Name = "Front"
	back := polygonPiece("p3", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(0, 80))
	back.Name = "Back. left"
	return projectOf(front, lining, back)
}

func readEvery(texts map[string]string) (everyArg, error) {
	return readArgs[everyArg](argProject(), paramsOf[everyArg](), texts)
}

func TestReadArgs(t *testing.T) {
	got, err := readEvery(map[string]string{
		"edges": `p1.hem + "Back. left".e1;Back. left.e2`, "by": "1cm, -5mm", "turn": "90deg", "kind": "Casing",
		"way": "on-fold", "double": "yes", "note": "", "at": "25% from end", "ratio": "103%",
	})
	if err != nil {
		t.Fatal(err)
	}
	kind, note := CasingEdge, ""
	want := everyArg{
		Edges: []EdgeRef{{"p1", "p1.e0"}, {"p3", "p3.e1"}, {"p3", "p3.e2"}},
		Width: 6, By: &Vector{10, -5}, Turn: math.Pi / 2, Kind: &kind, Way: CutOnFold, Ratio: 1.03, Count: 2,
		Double: true, Note: &note, At: &EdgePlace{At: 0.25, Share: true, FromEnd: true},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestReadArgsRefuses(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"edges", "p1.side", `"side" could be side (p1.e1), side (p1.e2)`},
		{"edges", "Front.hem", `"Front" could be Front (p1), Front (p2)`},
		{"edges", "p1.sleeve", `there is no edge "sleeve"; there is hem (p1.e0)`},
		{"edges", "Sleeve.hem", `there is no piece "Sleeve"`},
		{"edges", "p1.hem++p1.e1", "nothing between two separators"},
		{"edges", `"p1.hem`, "a double quote is not closed"},
		{"edges", "", "edges: is empty"},
		{"width", "6", "6 has no unit"},
		{"by", "10mm", "not two lengths"},
		{"kind", "zip", "seam, hem, fold, casing, raw"},
		{"double", "perhaps", "neither yes nor no"},
		{"count", "two", "not a whole number"},
		{"hight", "6mm", `has no argument "hight"; it takes: edges, width, by`},
	}
	for _, tt := range tests {
		texts := map[string]string{"edges": "p1.hem", tt.name: tt.text}
		if _, err := readEvery(texts); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s=%q: error %v, want it to say %q", tt.name, tt.text, err, tt.says)
		}
	}
	if _, err := readEvery(nil); err == nil || !strings.Contains(err.Error(), "needs edges (edge, one or more: edges)") {
		t.Errorf("missing argument: %v", err)
	}
}

func TestParamsTellWhatIsAllowed(t *testing.T) {
	byName := make(map[string]Param)
	for _, f := range paramsOf[everyArg]() {
		byName[f.Name] = f.Param
	}
	want := map[string]Param{
		"edges": {Name: "edges", Says: "edges", Kind: "edge", Many: true, Needed: true},
		"width": {Name: "width", Says: "width", Kind: "length", Default: "6mm"},
		"way":   {Name: "way", Says: "way", Kind: "word", Allowed: []string{"single", "pairs", "on fold"}},
	}
	for name, p := range want {
		if diff := cmp.Diff(p, byName[name]); diff != "" {
			t.Error(diff)
		}
	}
}

func TestFindParts(t *testing.T) {
	p := argProject()
	p.Pieces[0].Edges[0].Nodes = append(p.Pieces[0].Edges[0].Nodes, Node{ID: "n77", At: geom.Pt(50, 0)})
	p.Pieces[0].Notches = []Notch{{ID: "t1", Edge: "p1.e0", At: 70}, {ID: "t2", Edge: "p1.e0", At: 10}}
	nodes := map[string]ID{
		"p1.n77": "n77", "p1.hem/start": "p1.n0", "p1.hem/end": "p1.n1", "p1.hem/1": "n77", `p1."neck/collar"/end`: "p1.n0",
	}
	for text, want := range nodes {
		if got, err := p.FindNode(text); err != nil || got.Node != want {
			t.Errorf("%s: %v, %v; want %s", text, got, err, want)
		}
	}
	for _, text := range []string{"p1.hem/2", "p1.hem/0", "p1.hem", "p1.n99", "hem"} {
		if got, err := p.FindNode(text); err == nil {
			t.Errorf("%s: found %v", text, got)
		}
	}
	var notch NotchRef
	if err := notch.readArg(p, "p1.hem#1"); err != nil || notch.Notch != "t2" {
		t.Errorf("first notch along the hem: %v, %v", notch, err)
	}
	var handle HandleRef
	if err := handle.readArg(p, "p1.hem/1/out"); err != nil || handle != (HandleRef{"p1", "n77", true}) {
		t.Errorf("handle: %v, %v", handle, err)
	}
	if edge, err := p.FindEdge("p2.e1"); err != nil || edge != (EdgeRef{"p2", "p2.e1"}) {
		t.Errorf("an edge by its id alone: %v, %v", edge, err)
	}
}

func TestRunTextRoundTrips(t *testing.T) {
	p := argProject()
	var run Run
	text := `p1.hem/left/2/reversed + "Back. left".e1/far + p1."neck/collar"`
	if err := run.readArg(p, text); err != nil {
		t.Fatal(err)
	}
	want := Run{
		{Piece: "p1", Edge: "p1.e0", Copy: CopyRef{2, true}, Reversed: true},
		{Piece: "p3", Edge: "p3.e1", Copy: CopyRef{Number: 1}, Half: Far},
		{Piece: "p1", Edge: "p1.e3", Copy: CopyRef{Number: 1}},
	}
	if diff := cmp.Diff(want, run); diff != "" {
		t.Fatal(diff)
	}
	var again Run
	if err := again.readArg(p, p.RunText(run)); err != nil || !sameRun(run, again) {
		t.Errorf("%s reads as %v, %v", p.RunText(run), again, err)
	}
}
