package draft

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// The outside judge of cuts is GEOS (python3-shapely, shapely.ops.split), on outlines
// flattened to chords within cutOracleChord mm.
const (
	cutOraclePython = "/usr/bin/python3"
	cutOracleScript = "../testdata/cut/split.py"
	cutOracleChord  = 1e-3
	// cutOracleReach is how far the cut is run on at both ends, in chord tolerances: it
	// then crosses the chords of an outline that it meets at 2 degrees or more. Of flatter
	// meetings, where GEOS divides nothing, there may be one in cutOracleFlat.
	cutOracleReach = 30
	cutOracleFlat  = 20
)

// The two halves of a piece have the areas, and the lengths round, that GEOS finds when it
// splits the same polygon along the same line.
func TestHalvesAreThoseOfGEOS(t *testing.T) {
	if err := exec.Command(cutOraclePython, "-c", "import shapely").Run(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3-shapely is missing: ", err)
		}
		t.Skip("python3-shapely is not installed")
	}
	var in bytes.Buffer
	write := func(path geom.Path, open bool) {
		pts := path.Flatten(cutOracleChord)
		if open {
			// Run on by a hair at both ends, so that it surely crosses the chords of the outline.
			n := len(pts) - 1
			pts[0] = pts[0].Add(pts[0].Sub(pts[1]).Unit().Mul(cutOracleReach * cutOracleChord))
			pts[n] = pts[n].Add(pts[n].Sub(pts[n-1]).Unit().Mul(cutOracleReach * cutOracleChord))
		}
		fmt.Fprintf(&in, "%d", len(pts))
		for _, p := range pts {
			fmt.Fprintf(&in, " %.12f %.12f", p.X, p.Y)
		}
		in.WriteByte(' ')
	}
	var want [][2]*Piece
	rapid.Check(t, func(t *rapid.T) {
		p := drawnPiece(t)
		a, b := drawnCut(t, p)
		line := straightCut(p, a, b)
		if rapid.Bool().Draw(t, "curved cut") {
			s := line[0]
			bow := s.P3.Sub(s.P0).Left().Mul(rapid.Float64Range(-0.1, 0.1).Draw(t, "bow"))
			line = geom.Path{geom.Cubic(s.P0, s.P0.Lerp(s.P3, 1./3).Add(bow), s.P0.Lerp(s.P3, 2./3).Add(bow), s.P3)}
		}
		left, right, err := p.sever(a, b, line, "cut", &idSource{next: 1000})
		if err != nil {
			t.Skip(err)
		}
		write(p.DrawnPath(), false)
		write(left.piece.EdgePath(left.cut), true)
		in.WriteByte('\n')
		want = append(want, [2]*Piece{left.piece, right.piece})
	})
	cmd := exec.Command(cutOraclePython, cutOracleScript)
	cmd.Stdin = &in
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(rows) != len(want) || len(rows) < 20 {
		t.Fatalf("%d cuts were judged of %d", len(rows), len(want))
	}
	flat := 0
	for i, row := range rows {
		small, large := want[i][0].DrawnPath(), want[i][1].DrawnPath()
		if small.Area() > large.Area() {
			small, large = large, small
		}
		var a, la, b, lb float64
		n, err := fmt.Sscan(row, &a, &la, &b, &lb)
		if n == 2 && math.Abs(a-small.Area()-large.Area()) < 2*cutOracleChord*la {
			flat++
			continue
		}
		if n != 4 {
			t.Errorf("cut %d: GEOS makes %q of it: %v", i, row, err)
			continue
		}
		// Halves as good as equal in area may come in either order: the lengths tell.
		if math.Abs(a-b) < 4*cutOracleChord*(la+lb) && math.Abs(small.Length()-la) > math.Abs(small.Length()-lb) {
			small, large = large, small
		}
		for _, c := range [2]struct {
			path         geom.Path
			area, length float64
		}{{small, a, la}, {large, b, lb}} {
			// A chord within the tolerance misses that much cloth along the outline.
			if d := math.Abs(c.path.Area() - c.area); d > 2*cutOracleChord*c.length {
				t.Errorf("cut %d: a half of %v mm2, and GEOS says %v", i, c.path.Area(), c.area)
			}
			if d := math.Abs(c.path.Length() - c.length); d > 50*cutOracleChord { // where cut and outline meet at a slant, chords end elsewhere
				t.Errorf("cut %d: a half of %v mm round, and GEOS says %v", i, c.path.Length(), c.length)
			}
		}
	}
	if flat > len(rows)/cutOracleFlat {
		t.Errorf("GEOS divides nothing in %d of %d cuts", flat, len(rows))
	}
	t.Logf("%d cuts agree with GEOS", len(rows)-flat)
}
