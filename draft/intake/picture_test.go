package intake

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"golang.org/x/image/vector"
	"hemlet/draft"
	"hemlet/geom"
)

// How far a picture of ours may be from one by librsvg. Both cover a pixel by
// the share of it that lies inside; librsvg counts on a coarse grid within the
// pixel and flattens curves to a tenth of a pixel, which costs up to 0.13 in
// single pixels. An outline off by 0.02 mm, a fifth of a pixel, would show along
// its whole length.
const (
	pxPerMM   = 10
	worstDiff = 0.16
	meanDiff  = 0.0002
)

// TestSVGPictures compares what is read with pictures of the same files by
// rsvg-convert (librsvg, a renderer of its own).
func TestSVGPictures(t *testing.T) {
	tool, err := exec.LookPath("rsvg-convert")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("rsvg-convert is missing")
		}
		t.Skip("rsvg-convert is missing")
	}
	for _, c := range []struct {
		file     string
		w, h     float64 // the page in mm
		outlines int
	}{
		{"paths.svg", 100, 80, 16},
		{"transforms.svg", 100, 80, 11},
		{"references.svg", 100, 80, 13},
		{"aspect.svg", 100, 80, 4},
		{"inches.svg", 101.6, 76.2, 3},
	} {
		t.Run(c.file, func(t *testing.T) {
			d := readFixture(t, c.file, Options{})
			outlines, warnings, err := d.Outlines(draft.StitchDrawn)
			if err != nil || len(d.Warnings)+len(warnings) > 0 || d.Scale.Assumed {
				t.Fatal(err, d.Warnings, warnings)
			}
			if len(outlines) != c.outlines {
				t.Errorf("%d outlines, want %d", len(outlines), c.outlines)
			}
			w, h := int(math.Round(c.w*pxPerMM)), int(math.Round(c.h*pxPerMM))
			ours := image.NewAlpha(image.Rect(0, 0, w, h))
			for _, o := range outlines {
				fill(ours, o.Path)
			}
			compare(t, ours, rendered(t, tool, c.file, w, h))
		})
	}
}

// fill adds the inside of an outline to a picture, y down.
func fill(dst *image.Alpha, path geom.Path) {
	r := vector.NewRasterizer(dst.Rect.Dx(), dst.Rect.Dy())
	at := func(p geom.Point) (x, y float32) { return float32(p.X * pxPerMM), float32(-p.Y * pxPerMM) }
	r.MoveTo(at(path.Start()))
	for _, p := range path.Flatten(0.001) {
		r.LineTo(at(p))
	}
	r.ClosePath()
	r.DrawOp = draw.Over
	r.Draw(dst, dst.Rect, image.NewUniform(color.Opaque), image.Point{})
}

// rendered returns the coverage that rsvg-convert gives each pixel.
func rendered(t *testing.T, tool, file string, w, h int) *image.Alpha {
	cmd := exec.Command(tool, "-w", strconv.Itoa(w), "-h", strconv.Itoa(h), filepath.Join(fixtures, file))
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, &stderr)
	}
	img, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	if img.Bounds() != image.Rect(0, 0, w, h) {
		t.Fatalf("the picture is %v, want %d × %d", img.Bounds(), w, h)
	}
	a := image.NewAlpha(img.Bounds())
	draw.Draw(a, a.Rect, img, image.Point{}, draw.Src)
	return a
}

func compare(t *testing.T, ours, theirs *image.Alpha) {
	var worst, sum float64
	var at image.Point
	for i := range ours.Pix {
		diff := math.Abs(float64(ours.Pix[i])-float64(theirs.Pix[i])) / 255
		sum += diff
		if diff > worst {
			worst, at = diff, image.Pt(i%ours.Stride, i/ours.Stride)
		}
	}
	mean := sum / float64(len(ours.Pix))
	t.Logf("worst %.3f at %v px, mean %.6f", worst, at, mean)
	if worst > worstDiff || mean > meanDiff {
		t.Errorf("the pictures differ by %.3f at %v px and by %.5f in the mean", worst, at, mean)
	}
}
