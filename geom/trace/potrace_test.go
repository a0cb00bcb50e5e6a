package trace_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"fmt"
	"image"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/tracetest"
)

// fewerThan is the share of the segments of potrace that is allowed here.
const fewerThan = 5

// TestFewerAndCloserThanPotrace holds outlines against those of potrace 1.16 (Selinger
// 2003, "Potrace: a polygon-based tracing algorithm"; Debian package potrace) from the
// same pictures.
func TestFewerAndCloserThanPotrace(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	tool, err := exec.LookPath("potrace")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("potrace is not installed")
		}
		t.Skip("potrace is not installed")
	}
	for _, c := range conditions[:3] { // filled and two pens at 300 dpi
		if c.manner == trace.Drawn && c.pen != .6 {
			continue
		}
		var ours, theirs, truths int
		var near, far, theirNear, theirFar float64
		pieces := sample(t, 30)
		for i, p := range pieces {
			pic, err := c.see(c.sheet(p, uint64(i)), uint64(i))
			if err != nil {
				t.Fatal(err)
			}
			sheet, err := c.read(pic, uint64(i))
			if err != nil {
				t.Fatal(err)
			}
			res, err := trace.Trace(context.Background(), []trace.Sheet{sheet}, trace.Options{Manner: c.manner}, nil)
			if err != nil {
				t.Fatal(err)
			}
			o := outcome{name: p.Name}
			if len(res.Outlines) == 0 {
				t.Errorf("%s, %s: nothing found", c.name, p.Name)
				continue
			}
			o.judge(res.Outlines, pic.Pieces[0].Outline, c)
			if o.err != nil {
				t.Errorf("%s, %s: %v", c.name, p.Name, o.err)
				continue
			}
			paths, err := potrace(tool, pic)
			if err != nil {
				t.Fatal(err)
			}
			best, n := largestOf(paths, c.manner == trace.Drawn)
			off := tracetest.Measure(best, pic.Pieces[0].Outline)
			ours, theirs, truths = ours+o.n, theirs+n, truths+o.want
			near, theirNear = near+o.off.Median, theirNear+off.Median
			far, theirFar = far+o.off.Largest, theirFar+off.Largest
		}
		n := float64(len(pieces))
		t.Logf("%s, %d outlines: %d segments (potrace %d, truth %d); mean of medians %.4f mm (%.4f), mean of largest %.3f mm (%.3f)",
			c.name, len(pieces), ours, theirs, truths, near/n, theirNear/n, far/n, theirFar/n)
		if ours*fewerThan > theirs {
			t.Errorf("%s: %d segments where potrace has %d", c.name, ours, theirs)
		}
		if near >= theirNear || far >= theirFar {
			t.Errorf("%s: no closer than potrace: medians %.4f and %.4f, largest %.3f and %.3f", c.name, near/n, theirNear/n, far/n, theirFar/n)
		}
	}
}

// largestOf returns the path of the largest area with its number of segments; of a pen
// line both of its edges are counted, being what is drawn for one line.
func largestOf(paths []geom.Path, both bool) (best geom.Path, n int) {
	var second geom.Path
	for _, p := range paths {
		if p.Area() < 0 {
			p = p.Reverse()
		}
		switch {
		case best == nil || p.Area() > best.Area():
			best, second = p, best
		case second == nil || p.Area() > second.Area():
			second = p
		}
	}
	if both {
		return best, len(best) + len(second)
	}
	return best, len(best)
}

// potrace runs the program on the picture and returns its paths in mm.
func potrace(tool string, pic tracetest.Picture) ([]geom.Path, error) {
	g := pic.Image.(*image.Gray)
	var pgm bytes.Buffer
	fmt.Fprintf(&pgm, "P5 %d %d 255\n", g.Rect.Dx(), g.Rect.Dy())
	for y := range g.Rect.Dy() {
		pgm.Write(g.Pix[y*g.Stride:][:g.Rect.Dx()])
	}
	cmd := exec.Command(tool, "--svg", "--flat", "--unit", "100", "--output", "-", "-")
	cmd.Stdin = &pgm
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("potrace: %w", err)
	}
	var doc struct {
		Group struct {
			Path []struct {
				D string `xml:"d,attr"`
			} `xml:"path"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(out, &doc); err != nil {
		return nil, fmt.Errorf("potrace: %w", err)
	}
	var paths []geom.Path
	for _, p := range doc.Group.Path {
		for _, sub := range readPath(p.D) {
			var mm geom.Path
			at := func(q geom.Point) geom.Point {
				// A hundredth of a pixel, y up from the foot of the picture. Turned over before it
				// goes through the map of the sheet.
				return pic.Map.Apply(geom.Pt(q.X/100, float64(g.Rect.Dy())-q.Y/100))
			}
			for _, s := range sub {
				if s.Straight {
					mm = append(mm, geom.Line(at(s.P0), at(s.P3)))
				} else {
					mm = append(mm, geom.Cubic(at(s.P0), at(s.P1), at(s.P2), at(s.P3)))
				}
			}
			paths = append(paths, mm)
		}
	}
	return paths, nil
}

// readPath reads path data of M m L l C c Z z with whole numbers.
func readPath(d string) []geom.Path {
	for _, k := range "MmLlCcZz" {
		d = strings.ReplaceAll(d, string(k), " "+string(k)+" ")
	}
	var paths []geom.Path
	var p geom.Path
	var here, start geom.Point
	words := strings.Fields(d)
	num := func() float64 {
		v, _ := strconv.ParseFloat(words[0], 64)
		words = words[1:]
		return v
	}
	verb := ""
	for len(words) > 0 {
		if strings.ContainsAny(words[0], "MmLlCcZz") {
			verb, words = words[0], words[1:]
		}
		base := geom.Point{}
		if verb == strings.ToLower(verb) {
			base = here
		}
		pt := func() geom.Point { x := num(); return base.Add(geom.Pt(x, num())) }
		switch verb {
		case "M", "m":
			here = pt()
			start, p = here, nil
			verb = map[string]string{"M": "L", "m": "l"}[verb]
		case "L", "l":
			q := pt()
			p, here = append(p, geom.Line(here, q)), q
		case "C", "c":
			a, b, q := pt(), pt(), pt()
			p, here = append(p, geom.Cubic(here, a, b, q)), q
		case "Z", "z":
			if here != start {
				p = append(p, geom.Line(here, start))
			}
			paths, here = append(paths, p), start
		}
	}
	return paths
}
