package geom

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// The outside judge of cut lines is GEOS (python3-shapely). Its script and the
// figures it gave lie in testdata/geom.

const (
	geosPython = "/usr/bin/python3"
	geosScript = "../testdata/geom/buffer.py"
)

// needGEOS skips where GEOS is missing, and fails in CI, which installs it.
func needGEOS(tb testing.TB) {
	if err := exec.Command(geosPython, "-c", "import shapely").Run(); err != nil {
		if os.Getenv("CI") == "true" {
			tb.Fatal("python3-shapely is missing: ", err)
		}
		tb.Skip("python3-shapely is not installed")
	}
}

// geosCase is one polygon to buffer and what GEOS makes of it.
type geosCase struct {
	name  string
	edges []AllowanceEdge
	width float64

	kind          string
	area, largest float64
	unlimited     float64
}

// input writes the case as buffer.py reads it; the chords lie within tol mm.
func (c geosCase) input(w *bytes.Buffer, tol float64) {
	fmt.Fprintf(w, "%v", c.width)
	for _, p := range pathOf(c.edges).Flatten(tol) {
		fmt.Fprintf(w, " %.9f %.9f", p.X, p.Y)
	}
	w.WriteByte('\n')
}

// geosSimplifies is the share of the width by which GEOS may displace its line:
// before it buffers, it drops vertices of the polygon that lie within 1 % of the
// width of their neighbours' chord. Ten times less remains on average along a
// line, and none of note up to half an inch.
func geosSimplifies(w float64) float64 {
	if math.Abs(w) <= 12.7 {
		return 0
	}
	return 0.001 * math.Abs(w)
}

// askGEOS fills in what GEOS says to the cases.
func askGEOS(tb testing.TB, cases []geosCase, tol float64) {
	needGEOS(tb)
	var in bytes.Buffer
	for _, c := range cases {
		c.input(&in, tol)
	}
	cmd := exec.Command(geosPython, geosScript)
	cmd.Stdin = &in
	out, err := cmd.Output()
	if err != nil {
		tb.Fatal("buffer.py: ", err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(cases) {
		tb.Fatalf("%d answers to %d cases", len(lines), len(cases))
	}
	for i, l := range lines {
		cases[i].answer(tb, strings.Fields(l))
	}
}

func (c *geosCase) answer(tb testing.TB, f []string) {
	c.kind = f[0]
	for i, p := range []*float64{&c.area, &c.largest, &c.unlimited} {
		v, err := strconv.ParseFloat(f[i+1], 64)
		if err != nil {
			tb.Fatal(err)
		}
		*p = v
	}
}

// judge compares the cut line with GEOS: the same kind of result, and the same
// area where no mitre is cut off (the rules for that differ). The area may
// differ by the tolerances of the two along the whole line, and by what a
// polygon within tol lacks of the curve.
func (c geosCase) judge(tol float64) error {
	cut, err := Allowance(c.edges)
	var split *SplitError
	var gone *VanishedError
	switch {
	case errors.As(err, &split):
		if c.kind != "MultiPolygon" {
			return fmt.Errorf("%v, but GEOS gives a %s of %.3f mm²", err, c.kind, c.area)
		}
		return nil
	case errors.As(err, &gone):
		if c.kind != "Empty" {
			return fmt.Errorf("%v, but GEOS gives a %s of %.3f mm²", err, c.kind, c.area)
		}
		return nil
	case err != nil:
		return err
	case c.kind != "Polygon":
		return fmt.Errorf("a result of %.3f mm², but GEOS gives %s of %.3f mm²", cut.Path.Area(), c.kind, c.area)
	}
	if math.Abs(c.unlimited-c.area) > 1e-6*c.area {
		return nil
	}
	slack := (ParallelTolerance + tol + geosSimplifies(c.width)) * cut.Path.Length()
	if d := cut.Path.Area() - c.area; math.Abs(d) > slack {
		return fmt.Errorf("area %.3f mm² differs from GEOS by %.3f, allowed %.3f", cut.Path.Area(), d, slack)
	}
	return nil
}

// cutLineWidths are the allowances at which every garment outline is tried, mm.
var cutLineWidths = []float64{-40, -25, -12.7, -6.35, -3, -1, 0, 1, 3, 6.35, 12.7, 25, 40}

func TestCutLinesAgainstGEOS(t *testing.T) {
	all := loadOutlines(t)
	const tol = 0.002
	var cases []geosCase
	for _, w := range cutLineWidths {
		for _, o := range all {
			cases = append(cases, geosCase{name: o.Name, edges: o.edges(w), width: w})
		}
	}
	askGEOS(t, cases, tol)
	compared := 0
	for _, c := range cases {
		if err := c.judge(tol); err != nil {
			t.Errorf("%s at %v mm: %v", c.name, c.width, err)
		}
		if c.kind == "Polygon" && math.Abs(c.unlimited-c.area) <= 1e-6*c.area {
			compared++
		}
	}
	t.Logf("%d of %d areas compared", compared, len(cases))
}
