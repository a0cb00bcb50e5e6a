package draft

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"hemlet/draft/body"
	"hemlet/geom"
)

// bustOfSize reads the bust in inches that goes with a size in The Practical Corsetiere,
// page 10; see the file.
func bustOfSize(t *testing.T, size float64) float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("block", "testdata", "published", "proportions.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		if s, _ := strconv.ParseFloat(row[0], 64); s == size {
			bust, err := strconv.ParseFloat(row[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			return bust
		}
	}
	t.Fatalf("no size %g", size)
	return 0
}

// The foundation of size 36, fitted to the measures of size 40, has its points where the
// book's own rules put them for size 40 (Rosenfeld, The Practical Designer for Women's and
// Misses' Underwear, 1918, Woman's first foundation lines), to an eighth of an inch, to
// which the book gives its figures.
func TestFitFoundationToItsOwnSizes(t *testing.T) {
	const inch, eighth = 25.4, 25.4 / 8
	sized := func(size float64) body.Given {
		return body.Given{"bust_girth": bustOfSize(t, size) * inch, "back_waist_length": 15.5 * inch, "armscye_depth": 7 * inch}
	}
	for _, size := range []float64{32, 38, 40, 44} {
		b, err := draftPair("foundation-1918", nil, sized(36), sized(size))
		if err != nil {
			t.Fatal(err)
		}
		x, err := b.fit(EaseKept)
		if err != nil {
			t.Fatal(err)
		}
		p := x.fitted[0]
		corner := func(edge string) geom.Point {
			for i := range p.Edges {
				if p.Edges[i].Name == edge {
					return p.Edges[i].Nodes[0].At
				}
			}
			t.Fatalf("no edge %s", edge)
			return geom.Point{}
		}
		a := corner("centre")
		// By hand, in inches from the nape A, to the right and down.
		k := geom.Pt(size/12, -1)
		i := geom.Pt(size/6+size/24, 0)
		l := k.Add(i.Sub(k).Unit().Mul(size / 6))
		for name, want := range map[string]geom.Point{
			"neck": k, "waist": {X: 0, Y: 15.5}, "side": {X: size / 3, Y: 15.5}, "armhole": {X: size / 3, Y: 7}, "shoulder": l,
		} {
			got := corner(name)
			if off := math.Hypot(got.X-a.X-want.X*inch, a.Y-got.Y-want.Y*inch); off > eighth {
				t.Errorf("size %g: where the %s starts is %.2f mm from where the book has it", size, name, off)
			}
		}
	}
}
