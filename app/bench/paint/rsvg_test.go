package paint

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"strings"
	"testing"

	"hemlet/geom"
)

// rsvg renders an SVG with librsvg, an independent renderer. Without it the test
// is skipped, except in CI, which must have it.
func rsvg(t *testing.T, svg string) image.Image {
	t.Helper()
	path, err := exec.LookPath("rsvg-convert")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("rsvg-convert is missing")
		}
		t.Skip("rsvg-convert (librsvg2-bin) is not installed")
	}
	cmd := exec.Command(path)
	cmd.Stdin = strings.NewReader(svg)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// pathData writes the path in pixels of the view.
func pathData(p geom.Path, v View) string {
	var b strings.Builder
	q := p.Transform(v.Affine())
	fmt.Fprintf(&b, "M%.4f %.4f", q[0].P0.X, q[0].P0.Y)
	for _, s := range q {
		fmt.Fprintf(&b, "C%.4f %.4f %.4f %.4f %.4f %.4f", s.P1.X, s.P1.Y, s.P2.X, s.P2.Y, s.P3.X, s.P3.Y)
	}
	if p.Closed() {
		b.WriteString("Z")
	}
	return b.String()
}

// The same shapes through librsvg: on the pixels that either of them marks the
// mean difference is small, and no pixel is far off. Both round their coverage;
// librsvg samples each pixel on a grid and flattens to 0.1 pixel, so that a few
// units of 255 along a hairline say nothing about either.
func TestAgainstRSVG(t *testing.T) {
	v := NewView(320, 240, 1)
	round := blob(geom.Pt(0, 0), 24, 12, 3)
	spiky := geom.Polygon(geom.Pt(-30, -20), geom.Pt(30, -14), geom.Pt(-20, 0), geom.Pt(25, 22), geom.Pt(-28, 24))
	open := geom.Path{geom.Cubic(geom.Pt(-35, -25), geom.Pt(10, -30), geom.Pt(-20, 30), geom.Pt(36, 22))}
	cases := []struct {
		name  string
		shape Shape
		attrs string
		mean  float64 // of 255, over the marked pixels
		worst int
	}{
		{"fill", Shape{Path: round, Fill: Of(Ink)}, `fill="#24303A"`, 0.5, 40},
		{"clear fill", Shape{Path: round, Fill: Faded(Ink, 0.5)}, `fill="#24303A" fill-opacity="0.5"`, 1.5, 25},
		{"spikes, non-zero", Shape{Path: spiky, Fill: Of(Ink)}, `fill="#24303A"`, 0.6, 25},
		{"hairline", Shape{Path: round, Line: Line{Colour: Of(Ink), Width: 1.1}}, `fill="none" stroke="#24303A" stroke-width="1.1" stroke-miterlimit="4"`, 5, 50},
		{"bold", Shape{Path: round, Line: Line{Colour: Of(Ink), Width: 6}}, `fill="none" stroke="#24303A" stroke-width="6" stroke-miterlimit="4"`, 2, 75},
		{"spikes", Shape{Path: spiky, Line: Line{Colour: Of(Ink), Width: 3}}, `fill="none" stroke="#24303A" stroke-width="3" stroke-miterlimit="4"`, 3, 90},
		{"round joins", Shape{Path: spiky, Line: Line{Colour: Of(Ink), Width: 7, Join: Round}}, `fill="none" stroke="#24303A" stroke-width="7" stroke-linejoin="round"`, 1.5, 60},
		{"round caps", Shape{Path: open, Line: Line{Colour: Of(Ink), Width: 9, Cap: RoundCap}}, `fill="none" stroke="#24303A" stroke-width="9" stroke-linecap="round"`, 1.5, 60},
		{"dashes", Shape{Path: round, Line: Line{Colour: Of(Ink), Width: 3, Dash: Dash{11, 7}}}, `fill="none" stroke="#24303A" stroke-width="3" stroke-dasharray="11 7"`, 4, 110},
		{"dash and dot", Shape{Path: open, Line: Line{Colour: Of(Ink), Width: 2, Dash: Dash{9, 4, 2, 4}}}, `fill="none" stroke="#24303A" stroke-width="2" stroke-dasharray="9 4 2 4"`, 4, 110},
		{"round dashes", Shape{Path: open, Line: Line{Colour: Of(Ink), Width: 4, Dash: Dash{1, 8}, Cap: RoundCap}}, `fill="none" stroke="#24303A" stroke-width="4" stroke-dasharray="1 8" stroke-linecap="round"`, 6, 110},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			svg := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d"><rect width="100%%" height="100%%" fill="#FDFBF6"/><path d="%s" %s/></svg>`,
				v.W, v.H, pathData(c.shape.Path, v), c.attrs)
			want := rsvg(t, svg)
			got := render(t, v, &Scene{Items: []*Item{{Marks: []Mark{c.shape}}}})
			save(t, "rsvg-"+strings.ReplaceAll(c.name, " ", "-")+".png", got)
			mean, worst := difference(got, want)
			t.Logf("mean %.2f, worst %d", mean, worst)
			if mean > c.mean || worst > c.worst {
				t.Errorf("mean difference %.2f of 255, at most %v wanted; worst %d, at most %d", mean, c.mean, worst, c.worst)
			}
		})
	}
}

// difference compares the red channel over the pixels that are not bench in one
// of the pictures.
func difference(a *image.RGBA, b image.Image) (mean float64, worst int) {
	n, sum := 0, 0
	for y := range a.Rect.Dy() {
		for x := range a.Rect.Dx() {
			r, _, _, _ := b.At(x, y).RGBA()
			p, q := int(a.RGBAAt(x, y).R), int(r>>8)
			if p == int(light[Bench].R) && q == int(light[Bench].R) {
				continue
			}
			d := max(p-q, q-p)
			n, sum, worst = n+1, sum+d, max(worst, d)
		}
	}
	return float64(sum) / float64(max(n, 1)), worst
}
