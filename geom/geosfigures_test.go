package geom

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// The pieces are our own, drawn for Quill the hedgehog puppet; the figures are
// what GEOS 3.11 (python3-shapely 1.8) gives for them, by testdata/geom/buffer.py.
// TestGEOSFiguresAreFresh makes them anew with HEMLET_UPDATE=1.
const (
	quillPieces  = "../testdata/geom/quill_pieces.json"
	quillFigures = "../testdata/geom/quill_geos.csv"
	quillChord   = 0.0005 // mm, how near the polygons lie to the curves
)

func quillCases(tb testing.TB) []geosCase {
	data, err := os.ReadFile(quillPieces)
	if err != nil {
		tb.Fatal(err)
	}
	var all []outline
	if err := json.Unmarshal(data, &all); err != nil {
		tb.Fatal(err)
	}
	var cases []geosCase
	for _, o := range all {
		for _, w := range []float64{-40, -12.7, -6.35, -3, -1, 0, 1, 2, 3, 6.35, 12.7, 40} {
			c := geosCase{name: o.Name, edges: o.edges(w), width: w}
			// Beyond that, what GEOS simplifies away is no small part of the piece.
			if w <= pathOf(c.edges).Bounds().W()/2 {
				cases = append(cases, c)
			}
		}
	}
	return cases
}

func TestCutLinesAgainstGEOSFigures(t *testing.T) {
	data, err := os.ReadFile(quillFigures)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	cases := quillCases(t)
	if len(rows) != len(cases)+1 {
		t.Fatalf("%d rows for %d cases", len(rows), len(cases))
	}
	for i, c := range cases {
		row := rows[i+1]
		if w, err := strconv.ParseFloat(row[1], 64); err != nil || row[0] != c.name || w != c.width {
			t.Fatalf("row %d is about %s at %s mm, not %s at %v", i+1, row[0], row[1], c.name, c.width)
		}
		c.answer(t, row[2:])
		if err := c.judge(quillChord); err != nil {
			t.Errorf("%s at %v mm: %v", c.name, c.width, err)
		}
		if cut, err := Allowance(c.edges); err == nil {
			if err := checkCut(cut, c.edges, c.width); err != nil {
				t.Errorf("%s at %v mm: %v", c.name, c.width, err)
			}
		}
	}
}

func TestGEOSFiguresAreFresh(t *testing.T) {
	cases := quillCases(t)
	askGEOS(t, cases, quillChord)
	var out strings.Builder
	out.WriteString("piece,width_mm,kind,area_mm2,largest_part_mm2,area_without_mitre_limit_mm2\n")
	for _, c := range cases {
		fmt.Fprintf(&out, "%q,%v,%s,%.6f,%.6f,%.6f\n", c.name, c.width, c.kind, c.area, c.largest, c.unlimited)
	}
	if os.Getenv("HEMLET_UPDATE") != "" {
		if err := os.WriteFile(quillFigures, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(quillFigures)
	if err != nil {
		t.Fatal(err)
	}
	// Other versions of GEOS may differ a little; the kept figures must stand.
	rows, err := csv.NewReader(bytes.NewReader(have)).ReadAll()
	if err != nil || len(rows) != len(cases)+1 {
		t.Fatal(len(rows), err)
	}
	for i, c := range cases {
		kept := geosCase{}
		kept.answer(t, rows[i+1][2:])
		if kept.kind != c.kind || math.Abs(kept.area-c.area) > 1e-3*c.area {
			t.Errorf("%s at %v mm: GEOS gives %s of %v mm², the file says %s of %v", c.name, c.width, c.kind, c.area, kept.kind, kept.area)
		}
	}
}
