package geom

import (
	"encoding/json"
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
