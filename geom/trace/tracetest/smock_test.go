package tracetest_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/tracetest"
)

const (
	smockDPI  = 300
	smockSeed = 8
)

func TestSmockIsSewnTogether(t *testing.T) {
	pieces := tracetest.Smock()
	edge := func(piece, n int) float64 { return pieces[piece].Outline[n].Length() }
	front, back, sleeve, band, cuff := 0, 1, 2, 3, 4
	for _, c := range []struct {
		what string
		a, b float64
	}{
		{"side", edge(front, 1), edge(back, 1)},
		{"shoulder", edge(front, 3), edge(back, 3)},
		{"sleeve", edge(sleeve, 1), edge(sleeve, 4)},
		{"cap", 1.5 * (edge(front, 2) + edge(back, 2)), edge(sleeve, 2) + edge(sleeve, 3)},
		{"neck", 2 * (edge(front, 4) + edge(back, 4)), 1.5 * edge(band, 0)},
		{"wrist", edge(sleeve, 0), 1.5 * edge(cuff, 0)},
	} {
		if math.Abs(c.a-c.b) > 1e-3 {
			t.Errorf("%s: %.4f to %.4f mm", c.what, c.a, c.b)
		}
	}
	for _, p := range pieces {
		if err := p.Outline.Simple(); err != nil || p.Outline.Area() <= 0 {
			t.Errorf("%s: %v, area %v", p.Name, err, p.Outline.Area())
		}
	}
}

func TestSmockLiesOnItsPage(t *testing.T) {
	page, rule, err := tracetest.SmockPage()
	if err != nil {
		t.Fatal(err)
	}
	if d := rule[0].Dist(rule[1]) * tracetest.SmockScale; math.Abs(d-tracetest.SmockLine) > 1e-9 {
		t.Errorf("the line is %v mm long", d)
	}
	paper := geom.RectOf(geom.Pt(5, 5), geom.Pt(page.W-5, page.H-5))
	for i, p := range page.Pieces {
		b := p.Outline.Bounds()
		if !paper.Contains(b.Min) || !paper.Contains(b.Max) {
			t.Errorf("%s lies at %v", p.Name, b)
		}
		for _, q := range page.Pieces[:i] {
			if b.Overlaps(q.Outline.Bounds().Grow(4)) {
				t.Errorf("%s lies on %s", p.Name, q.Name)
			}
		}
	}
}

// TestDrawSmock writes the page of the smock as a scan, smock.jpg, the smock at true size,
// smock.svg, and what is true of both, smock.json.
func TestDrawSmock(t *testing.T) {
	if *drawTo == "" {
		t.Skip("draws only where -draw names a folder")
	}
	page, rule, err := tracetest.SmockPage()
	if err != nil {
		t.Fatal(err)
	}
	scan := tracetest.Plain(smockDPI, smockSeed)
	scan.JPEG = 0 // it is squeezed below
	pic, err := scan.See(page)
	if err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, pic.Image, &jpeg.Options{Quality: 80}); err != nil {
		t.Fatal(err)
	}
	type edges map[string][]float64
	truth := struct {
		Rule     [2]geom.Point      `json:"rule_px"`
		RuleMM   float64            `json:"rule_mm"`
		Edges    edges              `json:"edges_mm"`
		Measures map[string]float64 `json:"measures_mm"`
	}{[2]geom.Point{pic.Back.Apply(rule[0]), pic.Back.Apply(rule[1])}, tracetest.SmockLine, edges{}, map[string]float64{}}
	for _, p := range tracetest.Smock() {
		for _, s := range p.Outline {
			truth.Edges[p.Name] = append(truth.Edges[p.Name], s.Length())
		}
	}
	for _, m := range tracetest.SmockMeasures {
		truth.Measures[m.Name] = m.MM
	}
	text, err := json.MarshalIndent(truth, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string][]byte{"smock.jpg": file.Bytes(), "smock.json": text, "smock.svg": []byte(smockSVG())} {
		if err := os.WriteFile(filepath.Join(*drawTo, name), content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// smockSVG draws the pieces side by side at true size.
func smockSVG() string {
	const apart, wide, high = 40.0, 2020.0, 1000.0
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%gmm\" height=\"%gmm\" viewBox=\"0 0 %g %g\">\n", wide, high, wide, high)
	b.WriteString("  <title>Smock for a bust of 94 cm</title>\n  <desc>Stitching lines at true size, one unit a millimetre. Front: half, the fold at its left; back: half, open at its left.</desc>\n")
	b.WriteString("  <g fill=\"none\" stroke=\"#24303A\" stroke-width=\"0.5\">\n")
	x := apart
	for _, p := range tracetest.Smock() {
		box := p.Outline.Bounds()
		at := func(q geom.Point) string {
			return fmt.Sprintf("%.7g %.7g", x+q.X-box.Min.X, high-apart-(q.Y-box.Min.Y))
		}
		fmt.Fprintf(&b, "    <path d=\"M%s", at(p.Outline[0].P0))
		for _, s := range p.Outline {
			if s.Straight {
				fmt.Fprintf(&b, " L%s", at(s.P3))
			} else {
				fmt.Fprintf(&b, " C%s %s %s", at(s.P1), at(s.P2), at(s.P3))
			}
		}
		fmt.Fprintf(&b, " Z\"><title>%s</title></path>\n", p.Name)
		x += box.W() + apart
	}
	b.WriteString("  </g>\n</svg>\n")
	return b.String()
}
