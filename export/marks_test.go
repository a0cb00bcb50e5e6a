package export

import (
	"bytes"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// markedPiece is a rectangle of 100 by 140 mm with one of every mark.
func markedPiece(way draft.CutWay) *draft.Piece {
	p := &draft.Piece{ID: "p1", Name: "Front", Cut: draft.CutRule{Way: way, Count: 1}}
	for i, at := range []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 140}, {X: 0, Y: 140}} {
		id := string(rune('a' + i))
		p.Edges = append(p.Edges, draft.Edge{ID: draft.ID("e" + id), Name: id, Allowance: draft.Even(8), Nodes: []draft.Node{{ID: draft.ID("n" + id), At: at}}})
	}
	if way == draft.CutOnFold {
		p.Edges[3].Kind, p.Edges[3].Allowance = draft.FoldEdge, draft.Allowance{}
	}
	line := func(id string, kind draft.LineKind, pts ...geom.Point) *draft.Line {
		l := draft.Line{ID: draft.ID(id), Name: id, Kind: kind}
		for i, at := range pts {
			l.Nodes = append(l.Nodes, draft.Node{ID: draft.ID(id + string(rune('0'+i))), At: at})
		}
		p.Lines = append(p.Lines, l)
		return &p.Lines[len(p.Lines)-1]
	}
	row := func(kind draft.RowKind, x float64, across bool) {
		line(kind.String(), draft.FastenLine, geom.Pt(x, 20), geom.Pt(x, 120)).Row = &draft.Row{Kind: kind, Count: 5, Size: 6, First: 10, Last: 10, Across: across}
	}
	for i, kind := range draft.RowKinds() {
		row(kind, 12+12*float64(i), kind == draft.Buttonholes)
	}
	line("slit-end", draft.ReinforcePoint, geom.Pt(94, 70))
	line("eye", draft.DrillPoint, geom.Pt(94, 100))
	line("yoke", draft.StyleLine, geom.Pt(0, 130), geom.Pt(100, 130))
	p.Stretches = []draft.Stretch{
		{ID: "g1", Edge: "ea", Kind: draft.GatherStretch, From: 0.2, To: 0.8}, {ID: "g2", Edge: "ec", Kind: draft.EaseStretch, From: 0, To: 0.5},
		{ID: "g3", Edge: "eb", Kind: draft.StayStretch, From: 0.1, To: 0.9},
	}
	p.Spans = []draft.Span{{ID: "m1", Name: "across", From: "na", To: "nc"}, {ID: "m2", Measure: "bust_girth", Share: 0.25, From: "na", To: "nb"}}
	return p
}

func markedProject(way draft.CutWay) *draft.Project {
	p := draft.New("marks")
	p.NextID, p.Pieces = 100, []*draft.Piece{markedPiece(way)}
	return p
}

func TestMarksInSVG(t *testing.T) {
	for _, c := range []struct {
		way   draft.CutWay
		times int
	}{{draft.CutSingle, 1}, {draft.CutOnFold, 2}} {
		p := markedProject(c.way)
		if err := draft.Validate(p); err != nil {
			t.Fatal(err)
		}
		g := readSVG(t, encode(t, p, Options{Format: SVG})).pieces()[0]
		kinds := make(map[string]int)
		for _, q := range g.Paths {
			switch q.Class {
			case "cut", "stitch", "fold", "grain", "notch", "internal", "leader":
			default:
				t.Errorf("class %q is none that scripts know", q.Class)
			}
			kinds[q.Kind]++
		}
		for kind, want := range map[string]int{
			"button": 5, "buttonhole": 5, "hook": 5, "eye": 5, "snap": 5, "eyelet": 5, "exit": 5, "fasten": 7,
			"reinforce": 1, "style": 1, "gather": 2, "ease": 2, "stay": 2,
		} {
			if kinds[kind] != want*c.times {
				t.Errorf("%s: %d signs of kind %s, want %d", c.way, kinds[kind], kind, want*c.times)
			}
		}
		if kinds["dimension"] != 2 {
			t.Errorf("%s: %d lines of the dimension, want 2", c.way, kinds["dimension"])
		}
		texts := strings.Join(g.Texts, "|")
		for _, want := range []string{"gather", "buttons"} {
			if !strings.Contains(texts, want) {
				t.Errorf("%s: %q is not written on it: %s", c.way, want, texts)
			}
		}
	}
	// The drawn length is that between the points, by Pythagoras.
	g := readSVG(t, encode(t, markedProject(draft.CutSingle), Options{Format: SVG})).pieces()[0]
	if texts := strings.Join(g.Texts, "|"); !strings.Contains(texts, "across 172") {
		t.Errorf("the dimension is not told: %s", texts)
	}
}

// A buttonhole is as long as it is, square to its row.
func TestButtonholesAreTrueToSize(t *testing.T) {
	g := readSVG(t, encode(t, markedProject(draft.CutSingle), Options{Format: SVG})).pieces()[0]
	cut := readPath(t, g.of("cut")[0].D).box()
	n := 0
	for _, q := range g.Paths {
		if q.Kind != "buttonhole" {
			continue
		}
		box := readPath(t, q.D).box()
		near(t, "length of a buttonhole", box.W(), 6, 1e-4)
		near(t, "its middle from the cut line", box.Center().X-cut.Min.X, 8+24, 1e-4)
		near(t, "its height above the cut line", cut.Max.Y-box.Center().Y, 8+30+20*float64(n), 1e-4)
		n++
	}
	if n != 5 {
		t.Errorf("%d buttonholes", n)
	}
}

// A blade cuts no buttonhole unless it is asked to, and nothing else of the marks ever.
func TestBladesLeaveMarksAlone(t *testing.T) {
	for _, asked := range []bool{false, true} {
		p := markedProject(draft.CutPairs)
		for _, g := range readSVG(t, encode(t, p, Options{Format: SVG, Purpose: Blade, CutButtonholes: asked})).pieces() {
			want := 0
			if asked {
				want = 10 // buttonholes and exits
			}
			if len(g.Paths) != 1+want || len(g.of("slit")) != want {
				t.Errorf("asked %t: %d paths, %d slits, want %d", asked, len(g.Paths), len(g.of("slit")), want)
			}
			for _, q := range g.of("slit") {
				box := readPath(t, q.D).box()
				near(t, "length of a cut hole", max(box.W(), box.H()), 6, 1e-4)
			}
		}
		r := ezdxf(t, encode(t, p, Options{Format: DXF, Purpose: Blade, CutButtonholes: asked}))
		want := 0
		if asked {
			want = 20
		}
		if count := r.Spaces[""].Count; count["CUT LINE"] != want || count["CUT POLYLINE"] != 2 {
			t.Errorf("asked %t: the DXF holds %v, want two outlines and %d holes", asked, count, want)
		}
	}
}

// Numbered layers: a cutter drills where buttons, snaps, eyelets and marked points are.
func TestMarksInD6673(t *testing.T) {
	r := ezdxf(t, encode(t, markedProject(draft.CutSingle), Options{Format: DXF, DXF: D6673}))
	front := r.Spaces[r.Inserts[0]]
	points := front.Points[layerDrill]
	if len(points) != 3*5+2 {
		t.Fatalf("%d drill points, want %d: %v", len(points), 17, points)
	}
	// Three rows of five, 20 mm apart.
	columns := make(map[int][]float64)
	for _, p := range points {
		columns[int(math.Round(p[0]))] = append(columns[int(math.Round(p[0]))], p[1])
	}
	rows := 0
	for _, ys := range columns {
		if len(ys) != 5 {
			continue
		}
		rows++
		for i := 1; i < len(ys); i++ {
			near(t, "distance of two fastenings", math.Abs(ys[i]-ys[i-1]), 20, 1e-4)
		}
	}
	if rows != 3 {
		t.Errorf("%d rows are drilled, want 3: %v", rows, columns)
	}
	if _, any := front.Box[layerCutout]; any {
		t.Error("something is cut out")
	}
}

// What is on paper is what is in the other files: the words by pdftotext, the ink by
// counting it.
func TestMarksOnPaperAndInPictures(t *testing.T) {
	p := markedProject(draft.CutSingle)
	outside(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "marks.pdf")
	if err := os.WriteFile(file, encode(t, p, Options{Format: PDF}), 0o600); err != nil {
		t.Fatal(err)
	}
	words := string(run(t, "pdftotext", file, "-"))
	for _, want := range []string{"gather", "buttons", "eyelets"} {
		if !strings.Contains(words, want) {
			t.Errorf("the paper does not say %q", want)
		}
	}
	ink := func(p *draft.Project) float64 {
		img, err := png.Decode(bytes.NewReader(encode(t, p, Options{Format: PNG, DPI: 100})))
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
			for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
				r, _, _, a := img.At(x, y).RGBA()
				sum += 1 - float64(r)/0xffff*float64(a)/0xffff - (1 - float64(a)/0xffff)
			}
		}
		return sum
	}
	bare := markedProject(draft.CutSingle)
	bare.Pieces[0].Lines, bare.Pieces[0].Stretches, bare.Pieces[0].Spans = nil, nil, nil
	if with, without := ink(p), ink(bare); with < 1.3*without {
		t.Errorf("with marks there are %v dots of ink, without %v", with, without)
	}
}

// A piece with no room keeps its label beside it, whatever is marked on it.
func TestSmallMarkedPieceHasItsLabelBesideIt(t *testing.T) {
	p := draft.New("small")
	tab := markedPiece(draft.CutSingle)
	tab.Name = "Tab of the lantern"
	scale := func(nodes []draft.Node) {
		for i := range nodes {
			nodes[i].At = nodes[i].At.Mul(0.12)
		}
	}
	for i := range tab.Edges {
		scale(tab.Edges[i].Nodes)
		tab.Edges[i].Allowance = draft.Even(2)
	}
	for i := range tab.Lines {
		scale(tab.Lines[i].Nodes)
		if r := tab.Lines[i].Row; r != nil {
			r.Size, r.First, r.Last = 0.7, 1, 1
		}
	}
	p.Pieces = []*draft.Piece{tab}
	sheet, err := laySheet(t.Context(), p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	l := sheet.Pieces[0]
	if len(l.Label.Leader) == 0 || len(l.Label.Lines) == 0 {
		t.Fatal("its label has no leader")
	}
	for _, text := range l.Label.Lines {
		if text.Size < smallestLetters || text.Bounds().Min.X < l.Cut.Bounds().Max.X {
			t.Errorf("%q stands at %v, %v mm large", text.Words, text.At, text.Size)
		}
	}
	if !l.Cut.Contains(l.Label.Leader.Start()) {
		t.Error("the leader does not begin on the piece")
	}
}
