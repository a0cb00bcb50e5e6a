package export

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
)

func TestWriteKeepsTheTargetOnError(t *testing.T) {
	broken := wardrobe()
	back := backPiece()
	back.Edges[5].Kind = draft.SeamEdge // cut on the fold without a fold
	broken.Pieces = append([]*draft.Piece{sleevePiece()}, back)
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	for _, f := range Formats() {
		path := filepath.Join(t.TempDir(), "out."+f.String())
		if err := os.WriteFile(path, []byte("before"), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := Write(context.Background(), path, broken, Options{}); err == nil || !strings.Contains(err.Error(), "Back") {
			t.Errorf("%s: a piece without its fold gave %v", f, err)
		}
		if _, err := Write(cancelled, path, wardrobe(), Options{}); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: cancelled, it gave %v", f, err)
		}
		if _, err := Write(context.Background(), path, draft.New("empty"), Options{}); err == nil {
			t.Errorf("%s: an empty project was written", f)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != "before" {
			t.Errorf("%s: the target now holds %q (%v)", f, got, err)
		}
		entries, err := os.ReadDir(filepath.Dir(path))
		if err != nil || len(entries) != 1 {
			t.Errorf("%s: files are left behind: %v (%v)", f, entries, err)
		}
	}
}

func TestWriteReplacesTheTarget(t *testing.T) {
	for _, f := range Formats() {
		path := filepath.Join(t.TempDir(), "out."+strings.ToUpper(f.String()))
		if err := os.WriteFile(path, []byte("before"), 0o600); err != nil {
			t.Fatal(err)
		}
		steps := 0
		report, err := Write(context.Background(), path, wardrobe(), Options{Clock: clock, Progress: func(done, total int) { steps = done }})
		if err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		want := encode(t, wardrobe(), Options{Format: f})
		if f == PDF {
			// The font library stamps its subsets with the second of the clock on
			// the wall, so that two files may differ in their fonts.
			got, want = inflatePages(t, got), inflatePages(t, want)
		}
		if len(got) == 0 || !bytes.Equal(got, want) {
			t.Errorf("%s: file and stream differ", f)
		}
		if report.Format != f || len(report.Pieces) != 5 || steps != max(5*boolInt(f != PDF), report.Pages) {
			t.Errorf("%s: report %+v after %d steps", f, report, steps)
		}
	}
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func TestWriteRefusesUnknownEndings(t *testing.T) {
	for _, path := range []string{"out", "out.eps", "out.svg.bak"} {
		if _, err := Write(context.Background(), filepath.Join(t.TempDir(), path), wardrobe(), Options{}); err == nil || !strings.Contains(err.Error(), ".svg") {
			t.Errorf("%s gave %v", path, err)
		}
	}
}

func TestChosenPieces(t *testing.T) {
	p := wardrobe()
	f := readSVG(t, encode(t, p, Options{Format: SVG, Pieces: []draft.ID{"p3", "p1"}}))
	if got := f.pieces(); len(got) != 2 || got[0].Name != "Back" || got[1].Name != "Sleeve" {
		t.Errorf("pieces %v", got)
	}
	if _, err := Encode(context.Background(), &bytes.Buffer{}, p, Options{Pieces: []draft.ID{"p9"}}); err == nil {
		t.Error("a piece that is not there was written")
	}
}

func TestNoticesAreReported(t *testing.T) {
	for purpose, want := range map[Purpose]string{Blade: "blade", Laser: "chlorinated plastics"} {
		report, err := Encode(context.Background(), &bytes.Buffer{}, wardrobe(), Options{Purpose: purpose})
		all := strings.Join(report.Notices, "\n")
		if err != nil || !strings.Contains(all, want) || !strings.Contains(all, "Follow your local rules") {
			t.Errorf("%s: %q, %v", purpose, all, err)
		}
	}
	if n := Pen.Notices(); n != nil {
		t.Errorf("the pen has cautions: %q", n)
	}
}

// TestPNG holds size and resolution of a picture against the sheet; pHYs after ISO
// 15948, 11.3.5.3.
func TestPNG(t *testing.T) {
	for _, dpi := range []float64{0, 72, 300} {
		var b bytes.Buffer
		p := wardrobe()
		p.Pieces = p.Pieces[:4]
		report, err := Encode(context.Background(), &b, p, Options{Format: PNG, DPI: dpi})
		if err != nil {
			t.Fatal(err)
		}
		if dpi == 0 {
			dpi = DefaultDPI
		}
		img, err := png.Decode(bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "width in pixels", float64(img.Bounds().Dx()), report.Width/25.4*dpi, 0.51)
		near(t, "height in pixels", float64(img.Bounds().Dy()), report.Height/25.4*dpi, 0.51)
		at := bytes.Index(b.Bytes(), []byte("pHYs"))
		if at < 0 || at > bytes.Index(b.Bytes(), []byte("IDAT")) {
			t.Fatal("no pHYs before the picture")
		}
		chunk := b.Bytes()[at+4:]
		perMetre := float64(binary.BigEndian.Uint32(chunk))
		near(t, "pixels per metre", perMetre, dpi/0.0254, 0.5)
		if chunk[8] != 1 {
			t.Errorf("unit %d, want 1, the metre", chunk[8])
		}
		if img.Bounds().Dx() > 0 && inked(img.Bounds().Dx(), img.Bounds().Dy(), func(x, y int) bool {
			v, _, _, _ := img.At(x, y).RGBA()
			return v < 0x8000
		}) < 1000 {
			t.Error("the picture is all but blank")
		}
	}
}

func inked(w, h int, dark func(x, y int) bool) int {
	n := 0
	for y := range h {
		for x := range w {
			if dark(x, y) {
				n++
			}
		}
	}
	return n
}

func TestPNGRefusesTooManyPixels(t *testing.T) {
	for _, dpi := range []float64{5000, math.Inf(1), math.NaN(), -3, 1e-9} {
		_, err := Encode(context.Background(), &bytes.Buffer{}, wardrobe(), Options{Format: PNG, DPI: dpi})
		if err == nil {
			t.Errorf("%g pixels per inch were taken", dpi)
		}
	}
}

func TestRenderPage(t *testing.T) {
	plan, err := LayPages(context.Background(), wardrobe(), Options{Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	for i, page := range plan.Pages {
		img, err := plan.RenderPage(i, 50)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "width in pixels", float64(img.Bounds().Dx()), page.Width/25.4*50, 0.51)
	}
}
