package export

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
	"hemlet/geom"
)

// readDXF lets ezdxf, a general library for DXF files, read and audit a file: for
// each block (and the model, under the name "") the entities by layer, the areas of
// its closed polylines, and its box.
const readDXF = `
import json, sys, ezdxf
from ezdxf.math import Vec2, area, is_point_in_polygon_2d
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
out = {"version": doc.dxfversion, "errors": [str(e.message) for e in audit.errors], 
       # ezdxf 0.18 takes the end of every polyline in a block for an orphan, in files of its own as well.
       "fixes": [str(e.message) for e in audit.fixes if "SEQEND" not in str(e.message)],
       "layers": sorted(l.dxf.name for l in doc.layers if l.dxf.name != "Defpoints"), "spaces": {}, "inserts": []}
def read(space):
    r = {"count": {}, "area": {}, "box": {}, "points": {}, "texts": [], "within": []}
    outlines = []
    for e in space:
        key = e.dxf.layer + " " + e.dxftype()
        r["count"][key] = r["count"].get(key, 0) + 1
        pts = []
        if e.dxftype() == "POLYLINE":
            pts = [Vec2(v.dxf.location) for v in e.vertices]
            if e.is_closed:
                r["area"].setdefault(e.dxf.layer, []).append(abs(area(pts)))
                if e.dxf.layer == "CUT":
                    outlines.append(pts)
        elif e.dxftype() == "LINE":
            pts = [Vec2(e.dxf.start), Vec2(e.dxf.end)]
        elif e.dxftype() == "POINT":
            pts = [Vec2(e.dxf.location)]
            r["points"].setdefault(e.dxf.layer, []).append([pts[0].x, pts[0].y])
        elif e.dxftype() == "TEXT":
            r["texts"].append(e.dxf.text)
        elif e.dxftype() == "INSERT":
            out["inserts"].append(e.dxf.name)
        for p in pts:
            b = r["box"].setdefault(e.dxf.layer, [p.x, p.y, p.x, p.y])
            b[0], b[1], b[2], b[3] = min(b[0], p.x), min(b[1], p.y), max(b[2], p.x), max(b[3], p.y)
    for e in space:
        if e.dxftype() == "TEXT":
            for pts in outlines:
                if is_point_in_polygon_2d(Vec2(e.dxf.insert), pts) > 0:
                    r["within"].append({"text": e.dxf.text, "area": abs(area(pts))})
    return r
out["spaces"][""] = read(doc.modelspace())
for block in doc.blocks:
    if not block.name.startswith(("*", "$")):
        out["spaces"][block.name] = read(block)
print(json.dumps(out))
`

type dxfRead struct {
	Version         string
	Errors, Fixes   []string
	Layers, Inserts []string
	Spaces          map[string]dxfSpace
}

type dxfSpace struct {
	Count  map[string]int
	Area   map[string][]float64
	Box    map[string][4]float64
	Points map[string][][2]float64
	Texts  []string
	// Within lists the texts that begin within a cut line, with its area.
	Within []struct {
		Text string
		Area float64
	}
}

func ezdxf(t *testing.T, data []byte) dxfRead {
	t.Helper()
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import importlib.util as u; assert u.find_spec('ezdxf')").Run(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3-ezdxf is not installed")
		}
		t.Skip("python3-ezdxf is not installed")
	}
	file := filepath.Join(t.TempDir(), "out.dxf")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	var r dxfRead
	if err := json.Unmarshal(run(t, python, "-c", readDXF, file), &r); err != nil {
		t.Fatal(err)
	}
	if r.Version != "AC1009" || len(r.Errors) > 0 || len(r.Fixes) > 0 {
		t.Errorf("version %s, audit errors %v, fixes %v", r.Version, r.Errors, r.Fixes)
	}
	for _, b := range data {
		if b >= 0x80 {
			t.Fatal("the file is not ASCII")
		}
	}
	return r
}

// areas returns the cut areas of all copies on the curves, in ascending order.
func areas(t *testing.T, p *draft.Project, copies bool) []float64 {
	t.Helper()
	var out []float64
	for _, piece := range p.Pieces {
		n := 1
		if copies {
			n = len(piece.Copies())
		}
		for range n {
			out = append(out, cutArea(t, piece))
		}
	}
	sort.Float64s(out)
	return out
}

func sameAreas(t *testing.T, got, want []float64) {
	t.Helper()
	sort.Float64s(got)
	if len(got) != len(want) {
		t.Fatalf("%d outlines, want %d", len(got), len(want))
	}
	for i := range got {
		near(t, "cut area", got[i], want[i], 1e-5*want[i])
	}
}

func TestDXFPlain(t *testing.T) {
	p := wardrobe()
	r := ezdxf(t, encode(t, p, Options{Format: DXF}))
	want := []string{"0", "CUT", "GRAIN", "INTERNAL", "NOTCH", "SCALE", "STITCH", "TEXT"}
	if diff := cmp.Diff(want, r.Layers); diff != "" {
		t.Errorf("layers: %s", diff)
	}
	m := r.Spaces[""]
	sameAreas(t, m.Area["CUT"], areas(t, p, false))
	near(t, "scale square", m.Area["SCALE"][0], 2500, 1e-6)
	if len(m.Area["STITCH"]) != len(p.Pieces) || m.Count["NOTCH LINE"] == 0 || m.Count["GRAIN LINE"] == 0 || m.Count["INTERNAL LINE"] == 0 {
		t.Errorf("entities by layer: %v", m.Count)
	}
	if !strings.Contains(strings.Join(m.Texts, "\n"), "Units: mm") {
		t.Errorf("no text names the unit: %q", m.Texts)
	}
}

// TestDXFNamesEveryPiece: a text that is the name of the piece and nothing else begins
// within its cut line, also where the label stands beside it, far away, or all in one
// line.
func TestDXFNamesEveryPiece(t *testing.T) {
	p := wardrobe()
	away := geom.Pt(-300, 0)
	p.Pieces[2].LabelAt = &away
	narrow := strip(3)
	narrow.ID, narrow.Name = "p9", "Binding"
	for i := range narrow.Edges {
		narrow.Edges[i].Nodes[0].At.Y *= 0.12
	}
	p.Pieces = append(p.Pieces, narrow)
	all, splinter := laidOnes(t, p), strip(3)
	if len(all["Binding"].Label.Lines) != 1 || all["Shoulder tab"].Label.Leader == nil || all["Sleeve"].Cut.Contains(all["Sleeve"].Label.bounds().Center()) {
		t.Fatal("the pieces are not labelled as the test needs them")
	}
	// A sliver that no letter fits into.
	splinter.ID, splinter.Name = "p10", "Sliver"
	for i := range splinter.Edges {
		for k := range splinter.Edges[i].Nodes {
			splinter.Edges[i].Nodes[k].At = splinter.Edges[i].Nodes[k].At.Mul(0.05)
		}
	}
	p.Pieces = append(p.Pieces, splinter)
	within := ezdxf(t, encode(t, p, Options{Format: DXF})).Spaces[""].Within
	for _, piece := range p.Pieces {
		want, found := cutArea(t, piece), 0
		for _, w := range within {
			if w.Text == piece.Name && math.Abs(w.Area-want) < 1e-4*want {
				found++
			}
		}
		if found != 1 {
			t.Errorf("%d texts within its cut line name %s, want 1", found, piece.Name)
		}
	}
}

func TestDXFNamesItsUnitInComments(t *testing.T) {
	data := string(encode(t, wardrobe(), Options{Format: DXF, Purpose: Laser}))
	head, _, _ := strings.Cut(data, "SECTION")
	for _, want := range []string{"999\nUnits: millimetres.", "999\nLaser: never cut vinyl (PVC)", "999\nFollow your local rules"} {
		if !strings.Contains(head, want) {
			t.Errorf("the comments do not say %q:\n%s", want, head)
		}
	}
}

func TestDXFForMachines(t *testing.T) {
	p := wardrobe()
	r := ezdxf(t, encode(t, p, Options{Format: DXF, Purpose: Blade}))
	if diff := cmp.Diff([]string{"0", "CUT", "SCALE", "TEXT"}, r.Layers); diff != "" {
		t.Errorf("layers: %s", diff)
	}
	m := r.Spaces[""]
	var outlines []float64
	for _, a := range m.Area["CUT"] {
		if a < 35.99 || a > 36.01 { // the cut-outs for the lamp hook, 6 by 6 mm
			outlines = append(outlines, a)
		}
	}
	if got := len(m.Area["CUT"]) - len(outlines); got != 2 {
		t.Errorf("%d cut-outs, want 2", got)
	}
	sameAreas(t, outlines, areas(t, p, true))
}

func TestDXFNumbered(t *testing.T) {
	p := wardrobe()
	r := ezdxf(t, encode(t, p, Options{Format: DXF, DXF: D6673}))
	wantBlocks := []string{"BACK", "FRONT", "SLEEVE", "SHOULDER_TAB", "CLOAK"}
	if diff := cmp.Diff(wantBlocks, r.Inserts); diff != "" {
		t.Errorf("inserts: %s", diff)
	}
	for i, name := range wantBlocks {
		b, ok := r.Spaces[name]
		if !ok {
			t.Fatalf("no block %s", name)
		}
		sameAreas(t, b.Area["1"], []float64{cutArea(t, p.Pieces[i])})
		// The box of the boundary against the box on the curves.
		want, got := flatOf(t, p.Pieces[i]).Cut.Bounds(), b.Box["1"]
		near(t, name+" width", got[2]-got[0], want.W(), 0.001)
		near(t, name+" height", got[3]-got[1], want.H(), 0.001)
		if len(b.Area["14"]) != 1 {
			t.Errorf("%s has %d sew lines", name, len(b.Area["14"]))
		}
		text := strings.Join(b.Texts, "\n")
		if !strings.Contains(text, "Piece Name: "+p.Pieces[i].Name) || !strings.Contains(text, "Quantity: ") {
			t.Errorf("%s: piece text is %q", name, text)
		}
	}
	back, front, tab := r.Spaces["BACK"], r.Spaces["FRONT"], r.Spaces["SHOULDER_TAB"]
	if back.Count["6 LINE"] != 1 || back.Count["7 LINE"] != 1 || back.Count["4 LINE"] == 0 || back.Count["8 LINE"] != 0 || front.Count["13 POINT"] != 1 {
		t.Errorf("back: %v, front: %v", back.Count, front.Count)
	}
	if tab.Count["4 LINE"] != 0 || tab.Count["8 LINE"] != 1 {
		t.Errorf("a notch in an allowance of 3 mm stands on the layer that is cut: %v", tab.Count)
	}
	if !strings.Contains(strings.Join(front.Texts, "\n"), "Quantity: 1,1") {
		t.Errorf("front: %q", front.Texts)
	}
	style := strings.Join(r.Spaces[""].Texts, "\n")
	if !strings.Contains(style, "ASTM/D6673") || !strings.Contains(style, "Units: METRIC") {
		t.Errorf("style text is %q", style)
	}
	// The tab: two corners at the straight end, two where the tip begins, all other
	// vertices on the curve.
	if n := len(tab.Points["2"]); n != 4 {
		t.Errorf("the tab has %d turn points, want 4: %v", n, tab.Points["2"])
	}
}

// TestDXFChords holds the chords against the curves that they stand for, and those
// against the chords.
func TestDXFChords(t *testing.T) {
	for _, piece := range wardrobe().Pieces {
		flat := flatOf(t, piece)
		pts := corners(flat.Cut)
		chords := make([]geom.Point, len(pts))
		for i, p := range pts {
			chords[i] = geom.Pt(p.X, p.Y)
			if _, off := flat.Cut.Nearest(chords[i]); off > chordTolerance {
				t.Fatalf("%s: a corner lies %g mm off at %v", piece.Name, off, chords[i])
			}
		}
		polygon := geom.Polygon(chords...)
		near(t, piece.Name+" area of chords", polygon.Area(), flat.Cut.Area(), 1e-7*flat.Cut.Area())
		tape := flat.Cut.Tape()
		for d := 0.0; d < tape.Length(); d += 0.5 {
			q := flat.Cut.At(tape.At(d))
			if _, off := polygon.Nearest(q); off > chordTolerance {
				t.Fatalf("%s: chords stray by %g mm at %v", piece.Name, off, q)
			}
		}
		if len(pts) > 600 {
			t.Errorf("%s has %d corners", piece.Name, len(pts))
		}
	}
}

func TestDXFHostileNames(t *testing.T) {
	p := wardrobe()
	p.Name = "Größe\n0\nEOF"
	for i, name := range []string{"Ärmel / links", "Ärmel / links", "袖", "袖", strings.Repeat("x", 80)} {
		p.Pieces[i].Name = name
	}
	r := ezdxf(t, encode(t, p, Options{Format: DXF, DXF: D6673}))
	if len(r.Inserts) != 5 {
		t.Errorf("%d inserts, want 5", len(r.Inserts))
	}
	seen := make(map[string]bool)
	for _, name := range r.Inserts {
		if seen[name] || len(name) > 31 {
			t.Errorf("block name %q is double or too long", name)
		}
		seen[name] = true
	}
}
