package geom

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"
)

// outline is one of the garment outlines in the shared data.
type outline struct {
	Name  string
	Edges [][4][2]float64
}

func (o outline) edges(w float64) []AllowanceEdge {
	var out []AllowanceEdge
	for _, e := range o.Edges {
		c := Cubic(Pt(e[0][0], e[0][1]), Pt(e[1][0], e[1][1]), Pt(e[2][0], e[2][1]), Pt(e[3][0], e[3][1]))
		out = append(out, AllowanceEdge{Path: Path{c}, Start: w, End: w})
	}
	return out
}

func loadOutlines(tb testing.TB) []outline {
	data, err := os.ReadFile("../../shared/data/outlines.json")
	if err != nil {
		tb.Skip("the hundred garment outlines are not beside this checkout")
	}
	var all []outline
	if err := json.Unmarshal(data, &all); err != nil {
		tb.Fatal(err)
	}
	return all
}

func rectangle(w, h float64, widths ...float64) []AllowanceEdge {
	return polygonEdges([]Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, widths...)
}

func polygonEdges(pts []Point, widths ...float64) []AllowanceEdge {
	var out []AllowanceEdge
	for i, s := range Polygon(pts...) {
		w := widths[i%len(widths)]
		out = append(out, AllowanceEdge{Path: Path{s}, Start: w, End: w})
	}
	return out
}

func TestAllowanceRectangle(t *testing.T) {
	cut, err := Allowance(rectangle(100, 60, 10))
	if err != nil {
		t.Fatal(err)
	}
	if a := cut.Path.Area(); math.Abs(a-120*80) > 1e-9 {
		t.Errorf("area %v", a)
	}
	if len(cut.Path) != 4 {
		t.Errorf("%d segments: %v", len(cut.Path), cut)
	}
}

func TestExplore(t *testing.T) {
	all := loadOutlines(t)
	for _, w := range []float64{-40, -25, -12.7, -6.35, -3, -1, 0, 1, 3, 6.35, 12.7, 25, 40} {
		n, segs := 0, 0
		for _, o := range all {
			cut, err := Allowance(o.edges(w))
			if err != nil {
				var v *VanishedError
				var s *SplitError
				if !errors.As(err, &v) && !errors.As(err, &s) {
					t.Errorf("%s %v: %v", o.Name, w, err)
				} else {
					t.Logf("%s %v: %v", o.Name, w, err)
				}
				continue
			}
			n++
			segs += len(cut.Path)
		}
		t.Logf("%v: %d results, %.1f segments", w, n, float64(segs)/float64(n))
	}
}

func BenchmarkCutLine(b *testing.B) {
	all := loadOutlines(b)
	for _, w := range []float64{6.35, -3} {
		b.Run("", func(b *testing.B) {
			var edges [][]AllowanceEdge
			for _, o := range all {
				edges = append(edges, o.edges(w))
			}
			b.ReportAllocs()
			for b.Loop() {
				for _, e := range edges {
					if _, err := Allowance(e); err != nil {
						b.Fatal(err)
					}
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(all)), "µs/outline")
		})
	}
}
