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

func cutArea(t *testing.T, p *draft.Piece) float64 {
	t.Helper()
	flat, err := draft.LayFlat(p)
	if err != nil {
		t.Fatal(err)
	}
	return flat.Cut.Area()
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

func TestSVGHoldsWhatScriptsRelyOn(t *testing.T) {
	p := wardrobe()
	f := readSVG(t, encode(t, p, Options{Format: SVG}))
	box := strings.Fields(f.ViewBox)
	if len(box) != 4 || box[0] != "0" || box[1] != "0" || f.Width != box[2]+"mm" || f.Height != box[3]+"mm" {
		t.Errorf("size %s by %s does not agree with viewBox %s", f.Width, f.Height, f.ViewBox)
	}
	pieces := f.pieces()
	if len(pieces) != len(p.Pieces) {
		t.Fatalf("%d pieces, want %d", len(pieces), len(p.Pieces))
	}
	page := geom.RectOf(geom.Point{}, geom.Pt(millimetres(t, f.Width), millimetres(t, f.Height)))
	for i, g := range pieces {
		piece := p.Pieces[i]
		if g.Name != piece.Name {
			t.Errorf("piece %d is named %q, want %q", i, g.Name, piece.Name)
		}
		cut, stitch := g.of("cut"), g.of("stitch")
		if len(cut) != 1 || len(stitch) != 1 || len(g.Texts) == 0 {
			t.Fatalf("%s has %d cut and %d stitching lines and %d texts", g.Name, len(cut), len(stitch), len(g.Texts))
		}
		for _, q := range g.Paths {
			o := readPath(t, q.D)
			if b := o.box(); !page.Contains(b.Min) || !page.Contains(b.Max) {
				t.Errorf("%s: a %s line leaves the sheet", g.Name, q.Class)
			}
			if (q.Class == "cut" || q.Class == "stitch") && (o.closed != 1 || o.strokes != 1) {
				t.Errorf("%s: its %s line is not one closed path", g.Name, q.Class)
			}
		}
		area := cutArea(t, piece)
		near(t, g.Name+" cut area", readPath(t, cut[0].D).area(), area, 1e-6*area)
		flat, _ := draft.LayFlat(piece)
		sewn := flat.Stitch.Area()
		near(t, g.Name+" stitched area", readPath(t, stitch[0].D).area(), sewn, 1e-6*sewn)
	}
}

func TestSVGMarks(t *testing.T) {
	f := readSVG(t, encode(t, wardrobe(), Options{Format: SVG}))
	want := map[string]map[string]int{
		"Back":         {"fold": 1, "grain": 1, "notch": 4, "internal": 4, "leader": 0},
		"Front":        {"fold": 0, "grain": 1, "notch": 3, "internal": 3, "leader": 0},
		"Sleeve":       {"grain": 1, "notch": 2, "leader": 0},
		"Shoulder tab": {"grain": 0, "notch": 1, "leader": 1},
	}
	for _, g := range f.pieces() {
		for class, n := range want[g.Name] {
			if got := len(g.of(class)); got != n {
				t.Errorf("%s has %d lines of class %s, want %d", g.Name, got, class, n)
			}
		}
	}
}

func TestSVGStitchEqualsCutWithoutAllowance(t *testing.T) {
	p := draft.New("patch")
	p.Pieces = []*draft.Piece{tabPiece()}
	for i := range p.Pieces[0].Edges {
		p.Pieces[0].Edges[i].Allowance = draft.Even(0)
	}
	g := readSVG(t, encode(t, p, Options{Format: SVG})).pieces()[0]
	if cut, stitch := g.of("cut")[0].D, g.of("stitch")[0].D; cut != stitch {
		t.Errorf("cut line %s\nand stitching line %s differ", cut, stitch)
	}
}

func TestSVGScaleSquare(t *testing.T) {
	for _, purpose := range []Purpose{Pen, Blade, Laser} {
		f := readSVG(t, encode(t, wardrobe(), Options{Format: SVG, Purpose: purpose}))
		found := false
		for _, g := range f.Groups {
			if g.Class != "scale" {
				continue
			}
			found = true
			if len(g.Paths) != 1 || g.Paths[0].Class == "cut" {
				t.Fatalf("%s: the scale is not one line that is not cut", purpose)
			}
			b := readPath(t, g.Paths[0].D).box()
			near(t, "scale width", b.W(), 50, 1e-9)
			near(t, "scale height", b.H(), 50, 1e-9)
		}
		if !found {
			t.Errorf("%s: no scale", purpose)
		}
	}
}

func TestSVGForMachines(t *testing.T) {
	p := wardrobe()
	for _, purpose := range []Purpose{Blade, Laser} {
		f := readSVG(t, encode(t, p, Options{Format: SVG, Purpose: purpose}))
		if !strings.Contains(f.Desc, "Follow your local rules") {
			t.Errorf("%s: the file does not carry the cautions", purpose)
		}
		count := make(map[string]int)
		mirrored := make(map[string]int)
		var boxes []geom.Rect
		for _, g := range f.pieces() {
			count[g.Name]++
			if g.Mirrored == "true" {
				mirrored[g.Name]++
			}
			if len(g.of("cut")) != 1 || len(g.Texts) != 0 {
				t.Errorf("%s: %s has %d cut lines and %d texts", purpose, g.Name, len(g.of("cut")), len(g.Texts))
			}
			for _, q := range g.Paths {
				if q.Class != "cut" && q.Class != "cutout" && q.Class != "slit" {
					t.Errorf("%s: %s holds a %s line", purpose, g.Name, q.Class)
				}
			}
			boxes = append(boxes, readPath(t, g.of("cut")[0].D).box())
		}
		for i, a := range boxes {
			for _, b := range boxes[:i] {
				if a.Overlaps(b) {
					t.Errorf("%s: two copies overlap: %v and %v", purpose, a, b)
				}
			}
		}
		want := map[string]int{"Back": 1, "Front": 2, "Sleeve": 2, "Shoulder tab": 3, "Cloak": 1}
		for name, n := range want {
			if count[name] != n {
				t.Errorf("%s: %d copies of %s, want %d", purpose, count[name], name, n)
			}
		}
		if mirrored["Front"] != 1 || mirrored["Sleeve"] != 1 || mirrored["Back"] != 0 {
			t.Errorf("%s: mirrored copies %v", purpose, mirrored)
		}
	}
}

// TestSVGMirrorsCopies holds the left front against the right: turned over, one is
// the other.
func TestSVGMirrorsCopies(t *testing.T) {
	p := draft.New("fronts")
	p.Pieces = []*draft.Piece{frontPiece()}
	g := readSVG(t, encode(t, p, Options{Format: SVG, Purpose: Blade})).pieces()
	right, left := readPath(t, g[0].of("cut")[0].D), readPath(t, g[1].of("cut")[0].D)
	near(t, "mirrored area", left.area(), right.area(), 1e-5*right.area())
	rb, lb := right.box(), left.box()
	for i, q := range right.points {
		if i%97 != 0 { // a sample, odd so that it falls all along the curves
			continue
		}
		image := geom.Pt(lb.Max.X-(q.X-rb.Min.X), lb.Min.Y+(q.Y-rb.Min.Y))
		best := math.Inf(1)
		for _, r := range left.points {
			best = math.Min(best, image.Dist(r))
		}
		// Straight edges have points at their ends only, and those coincide.
		if best > 0.05 {
			t.Fatalf("(%g, %g) has no image on the left copy: %g mm off", q.X, q.Y, best)
		}
	}
}

func TestSVGCutsNotchesOnlyWhereAsked(t *testing.T) {
	p := draft.New("sleeve and tab")
	p.Pieces = []*draft.Piece{sleevePiece(), tabPiece()}
	for _, asked := range []bool{false, true} {
		for _, g := range readSVG(t, encode(t, p, Options{Format: SVG, Purpose: Laser, CutNotches: asked})).pieces() {
			want := 0
			if asked && g.Name == "Sleeve" { // the tab's allowance is too narrow
				want = 2
			}
			if got := len(g.of("slit")); got != want {
				t.Errorf("asked %t: %s has %d slits, want %d", asked, g.Name, got, want)
			}
		}
	}
}

// TestSVGRaster fills cut lines with rsvg-convert and holds the area that it paints
// against the area on the curves.
func TestSVGRaster(t *testing.T) {
	for _, piece := range []*draft.Piece{backPiece(), frontPiece(), sleevePiece(), tabPiece()} {
		p := draft.New("raster")
		piece.Lines = nil
		p.Pieces = []*draft.Piece{piece}
		data := encode(t, p, Options{Format: SVG})
		f := readSVG(t, data)
		// Nothing but the cut line, filled.
		w, h := millimetres(t, f.Width), millimetres(t, f.Height)
		bare := `<svg xmlns="http://www.w3.org/2000/svg" width="` + f.Width + `" height="` + f.Height + `" viewBox="` + f.ViewBox + `"><path fill="black" d="` + f.pieces()[0].of("cut")[0].D + `"/></svg>`
		file := filepath.Join(t.TempDir(), "bare.svg")
		if err := os.WriteFile(file, []byte(bare), 0o600); err != nil {
			t.Fatal(err)
		}
		const pxPerMM = 5
		out := run(t, "rsvg-convert", "-w", number(math.Round(w*pxPerMM)), "-h", number(math.Round(h*pxPerMM)), file)
		img, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		b := img.Bounds()
		for y := b.Min.Y; y < b.Max.Y; y++ {
			for x := b.Min.X; x < b.Max.X; x++ {
				_, _, _, a := img.At(x, y).RGBA()
				sum += float64(a) / 0xffff
			}
		}
		got := sum * w * h / float64(b.Dx()*b.Dy())
		want := cutArea(t, piece)
		near(t, piece.Name+" painted area", got, want, 2e-3*want)
	}
}

func TestSVGEscapesWords(t *testing.T) {
	p := draft.New(`<Quill> & "spines"`)
	piece := sleevePiece()
	piece.Name = "Sleeve \"A\" <&> ' \x00 \u2028 Ärmel"
	piece.Note = "]]> <!-- & -->"
	p.Pieces = []*draft.Piece{piece}
	f := readSVG(t, encode(t, p, Options{Format: SVG}))
	if f.Title != p.Name {
		t.Errorf("title %q, want %q", f.Title, p.Name)
	}
	if got, want := f.pieces()[0].Name, strings.ReplaceAll(piece.Name, "\x00", "\uFFFD"); got != want {
		t.Errorf("name %q, want %q", got, want)
	}
}
