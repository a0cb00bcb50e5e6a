package intake

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

// show writes subpaths in absolute commands, rounded, for comparison.
func show(subs []subpath) string {
	var b strings.Builder
	n := func(v float64) string { return fmt.Sprintf("%.4g", math.Round(v*1e6)/1e6+0) }
	pt := func(p geom.Point) string { return n(p.X) + "," + n(p.Y) }
	for _, s := range subs {
		b.WriteString("M" + pt(s.path.Start()))
		for _, g := range s.path {
			if g.Straight {
				b.WriteString(" L" + pt(g.P3))
			} else {
				b.WriteString(" C" + pt(g.P1) + " " + pt(g.P2) + " " + pt(g.P3))
			}
		}
		if s.closed {
			b.WriteString(" Z")
		}
		b.WriteString("; ")
	}
	return strings.TrimSuffix(b.String(), "; ")
}

// The expected figures follow from the definitions in SVG 2, chapter 9.
func TestPathCommands(t *testing.T) {
	for _, c := range []struct{ name, d, want string }{
		{"empty", "  ", ""},
		{"none", "none", ""},
		{"move alone", "M3 4", ""},
		{"move and close alone", "M3 4z", ""},
		{"lines", "M1 2L3 4l5 6", "M1,2 L3,4 L8,10"},
		{"implicit lines after M", "M1 2 3 4 5 6", "M1,2 L3,4 L5,6"},
		{"implicit lines after m", "m1 2 3 4 5 6", "M1,2 L4,6 L9,12"},
		{"across and up", "M1 2H5h-2V9v-3", "M1,2 L5,2 L3,2 L3,9 L3,6"},
		{"repeated across", "M0 0H5 6 7", "M0,0 L5,0 L6,0 L7,0"},
		{"close", "M0 0 10 0 10 10z", "M0,0 L10,0 L10,10 L0,0 Z"},
		{"close at the start", "M0 0 10 0 10 10 0 0z", "M0,0 L10,0 L10,10 L0,0 Z"},
		{"on after close", "M1 1 5 1 5 5zl2 0", "M1,1 L5,1 L5,5 L1,1 Z; M1,1 L3,1"},
		{"relative move after close", "M1 1 5 1 5 5zm2 3 1 0", "M1,1 L5,1 L5,5 L1,1 Z; M3,4 L4,4"},
		{"two subpaths", "M0 0h1M5 5h1", "M0,0 L1,0; M5,5 L6,5"},
		{"cubic", "M0 0C1 2 3 4 5 6", "M0,0 C1,2 3,4 5,6"},
		{"relative cubics", "M1 1c1 2 3 4 5 6 1 0 2 0 3 0", "M1,1 C2,3 4,5 6,7 C7,7 8,7 9,7"},
		{"smooth cubic", "M0 0C0 5 5 5 5 0S10 -5 10 0", "M0,0 C0,5 5,5 5,0 C5,-5 10,-5 10,0"},
		{"smooth cubic after a line", "M0 0L5 0S10 -5 10 0", "M0,0 L5,0 C5,0 10,-5 10,0"},
		{"smooth cubic after a quadratic", "M0 0Q1 9 5 0S10 -5 10 0", "M0,0 C0.6667,6 2.333,6 5,0 C5,0 10,-5 10,0"},
		{"relative smooth cubics", "M0 0c0 5 5 5 5 0s5 -5 5 0 5 5 5 0", "M0,0 C0,5 5,5 5,0 C5,-5 10,-5 10,0 C10,5 15,5 15,0"},
		{"quadratic", "M0 0Q3 6 6 0", "M0,0 C2,4 4,4 6,0"},
		{"relative quadratic", "M1 1q3 6 6 0", "M1,1 C3,5 5,5 7,1"},
		{"smooth quadratics", "M0 0Q3 6 6 0T12 0t6 0", "M0,0 C2,4 4,4 6,0 C8,-4 10,-4 12,0 C14,4 16,4 18,0"},
		{"smooth quadratic after a move", "M0 0T6 3", "M0,0 C0,0 2,1 6,3"},
		{"smooth quadratic after a cubic", "M0 0C1 2 3 4 6 6T9 9", "M0,0 C1,2 3,4 6,6 C6,6 7,7 9,9"},
		{"glued numbers", "M.5.5-1-2 1e1.5", "M0.5,0.5 L-1,-2 L10,0.5"},
		{"exponents", "M1e1 2E+1L3e-1 +4", "M10,20 L0.3,4"},
		{"trailing point", "M1. 2.L3.,4.", "M1,2 L3,4"},
		{"commas", "M1,2,3,4 , 5,6", "M1,2 L3,4 L5,6"},
		{"arc to itself", "M1 1A5 5 0 1 1 1 1L3 3", "M1,1 L3,3"},
		{"arc without radius", "M1 1A0 5 0 1 1 4 5", "M1,1 L4,5"},
	} {
		t.Run(c.name, func(t *testing.T) {
			subs, err := parsePath(c.d, 1e-4, 1000)
			if err != nil {
				t.Fatal(err)
			}
			if got := show(subs); got != c.want {
				t.Errorf("%s\n got %s\nwant %s", c.d, got, c.want)
			}
		})
	}
}

func TestPathMistakes(t *testing.T) {
	for _, c := range []struct{ d, want string }{
		{"L1 2", "at character 1: path data must start with M, found 'L'"},
		{"10 20", "at character 1: path data must start with M, found '1'"},
		{"M10", "at character 4: expected a number, found the end"},
		{"M1 2L", "at character 6: expected a number, found the end"},
		{"M1 2L3", "at character 7: expected a number, found the end"},
		{"M1 2L3 4 5", "at character 11: expected a number, found the end"},
		{"M1 2 L,3 4", "at character 7: expected a number, found ','"},
		{"M1 2,L3 4", "at character 6: expected a number after the comma, found 'L'"},
		{"M1,,2", "at character 4: expected a number, found ','"},
		{"M1 2X", "at character 5: expected a path command, found 'X'"},
		{"M1 2é", "at character 5: expected a path command, found 'é'"},
		{"MNaN 2", "at character 2: expected a number, found 'N'"},
		{"M1 Infinity", "at character 4: expected a number, found 'I'"},
		{"M1 2e", "at character 5: expected a path command, found 'e'"},
		{"M0x10 2", "at character 3: expected a number, found 'x'"},
		{"M1 1e999", "at character 4: the number is out of range"},
		{"M1 1L1e308 1l1e308 0", "the number is out of range"},
		{"M0 0A5 5 0 2 1 9 9", "at character 12: an arc's flag must be 0 or 1, found '2'"},
		{"M0 0A5 5 0 1", "an arc's flag must be 0 or 1, found the end"},
		{"M0 0z5 5", "at character 6: expected a path command, found '5'"},
	} {
		subs, err := parsePath(c.d, 1e-4, 1000)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, %v; want %s", c.d, show(subs), err, c.want)
		}
	}
	if _, err := parsePath("M0 0"+strings.Repeat("h1", 1001), 1e-4, 1000); err != errTooManyNodes {
		t.Errorf("1001 segments in a room of 1000: %v", err)
	}
}

// Arcs must lie on their ellipse, at the right side, with the right extent:
// each case names centre, radii and turn worked out by hand.
func TestArcs(t *testing.T) {
	s3 := math.Sqrt(3)
	for _, c := range []struct {
		d      string
		centre geom.Point
		rx, ry float64
		phi    float64 // degrees
		length float64 // 0 where there is no closed form
	}{
		{"M10 0A10 10 0 0 1 0 10", geom.Pt(0, 0), 10, 10, 0, math.Pi * 5},
		{"M10 0A10 10 0 1 0 0 10", geom.Pt(0, 0), 10, 10, 0, math.Pi * 15},
		{"M10 0A10 10 0 0 0 0 10", geom.Pt(10, 10), 10, 10, 0, math.Pi * 5},
		{"M10 0A10 10 0 1 1 0 10", geom.Pt(10, 10), 10, 10, 0, math.Pi * 15},
		{"M10 0A10-10 0 110 10", geom.Pt(10, 10), 10, 10, 0, math.Pi * 15},
		{"M10 0a10 10 0 01-10 10", geom.Pt(0, 0), 10, 10, 0, math.Pi * 5},
		{"M0 0A1 1 0 0 1 20 0", geom.Pt(10, 0), 10, 10, 0, math.Pi * 10},
		{"M0 0A1 2 0 0 1 20 0", geom.Pt(10, 0), 10, 20, 0, 0},
		{"M20 0A20 10 0 0 1 0 10", geom.Pt(0, 0), 20, 10, 0, 0},
		{"M0 20A20 10 90 0 1 -10 0", geom.Pt(0, 0), 20, 10, 90, 0},
		{"M0 0A10 10 0 0 1 10 0", geom.Pt(5, 5*s3), 10, 10, 0, math.Pi * 10 / 3},
		{"M500 0A500 500 0 0 1 0 500", geom.Pt(0, 0), 500, 500, 0, math.Pi * 250},
	} {
		subs, err := parsePath(c.d, arcTolerance, 1000)
		if err != nil {
			t.Fatal(err)
		}
		length, worst := 0.0, 0.0
		sin, cos := math.Sincos(c.phi * math.Pi / 180)
		for _, g := range subs[0].path {
			length += g.Length()
			for i := 0; i <= 64; i++ {
				p := g.At(float64(i) / 64).Sub(c.centre)
				p = geom.Pt((cos*p.X+sin*p.Y)/c.rx, (cos*p.Y-sin*p.X)/c.ry)
				worst = max(worst, math.Abs(p.Len()-1)*max(c.rx, c.ry))
			}
		}
		if worst > arcTolerance {
			t.Errorf("%s: %g off the ellipse, more than %g", c.d, worst, arcTolerance)
		}
		// An arc within tol of the circle is longer by at most tol times its angle.
		if c.length != 0 && math.Abs(length-c.length) > arcTolerance*c.length/c.rx {
			t.Errorf("%s: length %.9g, want %.9g", c.d, length, c.length)
		}
	}
}

// The bound on arcs is claimed for every angle up to a quarter turn.
func TestArcErrorRate(t *testing.T) {
	unit := ellipse{u: geom.Pt(1, 0), v: geom.Pt(0, 1)}
	for deg := 5; deg <= 90; deg += 5 {
		turn := float64(deg) * math.Pi / 180
		g := unit.arc(0, turn, 1)
		if len(g) != 1 {
			t.Fatalf("%d°: %d cubics with a tolerance of the radius", deg, len(g))
		}
		worst := 0.0
		for i := 0; i <= 1000; i++ {
			worst = max(worst, math.Abs(g[0].At(float64(i)/1000).Len()-1))
		}
		if bound := arcErrorRate * math.Pow(turn, 6); worst > bound {
			t.Errorf("%d°: %g off the circle, claimed at most %g", deg, worst, bound)
		}
	}
}

func FuzzPathData(f *testing.F) {
	for _, s := range []string{
		"M0 0L1 1z", "m1,2 3-4.5.6e1zm1 1h1v1H0V0", "M0 0c1 2 3 4 5 6s1 2 3 4q1 2 3 4t5 6",
		"M0 0a1 2 30 0110 20", "M1e308 1e308l1e308 0", "M.5.5", "", "M0 0A1e-300 1 0 1 1 1 1", "M0 0A1e-310 1 0 001 0", "M0 0A1e308 1e308 0 0 1 1e-300 0", "M0 0A1e300 1e-300 9 0 1 5 5", "M0 0A1e308 07 0 110-1", "M0,0,", "MZMZ",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, d string) {
		subs, err := parsePath(d, 1e-3, 500)
		if err != nil {
			return
		}
		total := 0
		for _, s := range subs {
			total += len(s.path)
			if len(s.path) == 0 {
				t.Fatal("a subpath without segments")
			}
			for i, g := range s.path {
				if !g.P0.Finite() || !g.P1.Finite() || !g.P2.Finite() || !g.P3.Finite() {
					t.Fatalf("not finite: %v", g)
				}
				if i > 0 && s.path[i-1].P3 != g.P0 {
					t.Fatal("the chain is broken")
				}
			}
			if s.closed && !s.path.Closed() {
				t.Fatal("closed, but its ends are apart")
			}
		}
		if total > 500 {
			t.Fatalf("%d segments in a room of 500", total)
		}
	})
}
