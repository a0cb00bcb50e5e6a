package export

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

var update = flag.Bool("update", false, "write the files that the tests compare with anew")

// lantern is a project whose cut lines follow from its drawing by straight lines or
// not at all, so that the files do not depend on how a parallel curve is fitted.
func lantern() *draft.Project {
	p := draft.New("Lantern & cover")
	p.Cloths = []*draft.Cloth{{ID: "c1", Name: "Waxed cotton"}}
	m := &maker{}
	panel := strip(8, draft.Notch{ID: "t1", At: 40}, draft.Notch{ID: "t2", At: 0.8, Share: true, Shape: draft.NotchV, Double: true})
	panel.Name, panel.Cloth, panel.Cut = "Panel", "c1", draft.CutRule{Way: draft.CutPairs, Count: 2}
	panel.Grain = &draft.Grain{From: geom.Pt(10, 8), To: geom.Pt(10, 32)}
	panel.Lines = []draft.Line{{ID: "l1", Name: "window", Kind: draft.CutoutLine, Closed: true, Nodes: []draft.Node{corner(70, 15), corner(85, 15), corner(85, 25), corner(70, 25)}}}
	base := &draft.Piece{ID: "p2", Name: "Base", Cut: draft.CutRule{Way: draft.CutOnFold, Count: 1}}
	base.Edges = []draft.Edge{
		m.edge("rim", draft.RawEdge, 0, handled(0, -30, 0, 0, 22, 0), handled(40, 0, 0, -18, 0, 18), handled(0, 30, 22, 0, 0, 0)),
		m.edge("middle", draft.FoldEdge, 0, corner(0, 30)),
	}
	base.Edges[0].Nodes = base.Edges[0].Nodes[:2]
	base.Edges[1].Nodes[0].In = geom.Pt(22, 0)
	p.Pieces = []*draft.Piece{panel, base}
	return p
}

// TestFilesStayAsTheyAre compares with the files of testdata/export, whose time is
// that of every test. Numbers may differ by what another processor rounds.
func TestFilesStayAsTheyAre(t *testing.T) {
	for name, o := range map[string]Options{
		"lantern.svg":       {Format: SVG},
		"lantern-laser.svg": {Format: SVG, Purpose: Laser, CutNotches: true},
		"lantern.dxf":       {Format: DXF},
		"lantern-blade.dxf": {Format: DXF, Purpose: Blade},
		"lantern-d6673.dxf": {Format: DXF, DXF: D6673},
		"lantern-pdf.txt":   {Format: PDF},
	} {
		got := encode(t, lantern(), o)
		if o.Format == PDF {
			got = printable(inflatePages(t, got))
		}
		file := filepath.Join("..", "testdata", "export", name)
		if *update {
			if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := sameButForRounding(got, want); err != nil {
			t.Errorf("%s: %v; if it is meant to, run the test with -update and look at the difference", name, err)
		}
	}
}

// printable writes bytes that are no text as \xNN, and one drawing command a line.
func printable(data []byte) []byte {
	var out bytes.Buffer
	for _, b := range data {
		if b >= ' ' && b < 0x7f || b == '\n' {
			out.WriteByte(b)
		} else {
			fmt.Fprintf(&out, `\x%02x`, b)
		}
	}
	return regexp.MustCompile(` ([a-zA-Z]{1,2}|f\*) `).ReplaceAll(out.Bytes(), []byte(" $1\n"))
}

var numbers = regexp.MustCompile(`-?[0-9]+\.[0-9]+`)

// rounding is what numbers in millimetres may differ by.
const rounding = 2e-5

func sameButForRounding(got, want []byte) error {
	a, b := numbers.FindAllIndex(got, -1), numbers.FindAllIndex(want, -1)
	strip := func(data []byte) []byte { return numbers.ReplaceAll(data, []byte("#")) }
	if ga, wa := strip(got), strip(want); !bytes.Equal(ga, wa) {
		i := 0
		for i < len(ga) && i < len(wa) && ga[i] == wa[i] {
			i++
		}
		return fmt.Errorf("the text differs at %.80q, want %.80q", ga[max(0, i-20):], wa[max(0, i-20):])
	}
	for i := range a {
		x, _ := strconv.ParseFloat(string(got[a[i][0]:a[i][1]]), 64)
		y, _ := strconv.ParseFloat(string(want[b[i][0]:b[i][1]]), 64)
		if !(math.Abs(x-y) <= rounding) {
			return fmt.Errorf("number %d is %g, want %g", i, x, y)
		}
	}
	return nil
}
