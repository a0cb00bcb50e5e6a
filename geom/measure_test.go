package geom

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"testing"
)

// measuredOutline is an outline of cubics with what GEOS finds on it, as
// testdata/geom/measure.py writes it.
type measuredOutline struct {
	Name         string          `json:"name"`
	Edges        [][4][2]float64 `json:"edges"`
	Area         float64         `json:"area_mm2"`
	Length       float64         `json:"length_mm"`
	Centroid     [2]float64      `json:"centroid_mm"`
	Points       [][2]float64    `json:"points_mm"`
	Inside       []bool          `json:"inside"`
	Shift        [2]float64      `json:"shift_mm"`
	Crossings    int             `json:"crossings"`
	Ray          [2][2]float64   `json:"ray_mm"`
	RayCrossings int             `json:"ray_crossings"`
}

func (o measuredOutline) path() Path {
	at := func(v [2]float64) Point { return Pt(v[0], v[1]) }
	p := make(Path, len(o.Edges))
	for i, e := range o.Edges {
		p[i] = Cubic(at(e[0]), at(e[1]), at(e[2]), at(e[3]))
	}
	return p
}

// checkMeasured compares outlines with GEOS's figures on polygons whose chords lie
// within 0.001 mm of the curves.
func checkMeasured(t *testing.T, all []measuredOutline) {
	const sag = 0.001
	points, crossings := 0, 0
	for i, o := range all {
		p := o.path()
		if len(p) == 0 || len(o.Points) == 0 || len(o.Points) != len(o.Inside) {
			t.Fatalf("%s: %d edges, %d points", o.Name, len(p), len(o.Points))
		}
		if d := math.Abs(p.Area() - o.Area); d > sag*o.Length {
			t.Errorf("%s: area %.3f, GEOS %.3f", o.Name, p.Area(), o.Area)
		}
		// Chords are shorter than their arcs, by 8/3 of the square of the sag
		// over their length; 400 on an edge of 10 mm or more.
		if d := p.Length() - o.Length; d < -1e-6 || d > 1e-5*o.Length {
			t.Errorf("%s: length %.6f, GEOS %.6f", o.Name, p.Length(), o.Length)
		}
		if c, ok := p.Centroid(); !ok || !c.Near(Pt(o.Centroid[0], o.Centroid[1]), 2*sag) {
			t.Errorf("%s: centroid %v, GEOS %v", o.Name, c, o.Centroid)
		}
		for k, q := range o.Points {
			if got := p.Contains(Pt(q[0], q[1])); got != o.Inside[k] {
				t.Errorf("%s: %v inside: %v, GEOS %v", o.Name, q, got, o.Inside[k])
			}
			points++
		}
		next := all[(i+1)%len(all)].path().Transform(Translation(Pt(o.Shift[0], o.Shift[1])))
		if n := len(p.Intersections(next)); n != o.Crossings {
			t.Errorf("%s: %d meetings with the next outline, GEOS %d", o.Name, n, o.Crossings)
		}
		ray := Path{Line(Pt(o.Ray[0][0], o.Ray[0][1]), Pt(o.Ray[1][0], o.Ray[1][1]))}
		if n := len(p.Intersections(ray)); n != o.RayCrossings {
			t.Errorf("%s: %d meetings with a line, GEOS %d", o.Name, n, o.RayCrossings)
		}
		crossings += o.Crossings + o.RayCrossings
		if err := p.Simple(); err != nil {
			t.Errorf("%s: %v", o.Name, err)
		}
	}
	t.Logf("%d outlines, %d points, %d crossings", len(all), points, crossings)
}

// keptOutlines returns the outlines of testdata with GEOS's figures.
func keptOutlines(t testing.TB) []measuredOutline {
	data, err := os.ReadFile("../testdata/geom/measures.json")
	if err != nil {
		t.Fatal(err)
	}
	var kept struct {
		Source   string            `json:"source"`
		Outlines []measuredOutline `json:"outlines"`
	}
	if err := json.Unmarshal(data, &kept); err != nil {
		t.Fatal(err)
	}
	if kept.Source == "" || len(kept.Outlines) == 0 {
		t.Fatal("measures.json names no source or no outlines")
	}
	return kept.Outlines
}

// The figures kept in testdata are those of GEOS 3.11.1 (see their source there).
func TestMeasuresAgainstKeptGEOS(t *testing.T) { checkMeasured(t, keptOutlines(t)) }

// GEOS measures anew, on the large set of outlines where that is at hand, and else on the
// kept ones.
func TestMeasuresAgainstGEOS(t *testing.T) {
	needGEOS(t)
	in, err := os.ReadFile("../../shared/data/outlines.json")
	if err != nil {
		if in, err = json.Marshal(keptOutlines(t)); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(geosPython, "../testdata/geom/measure.py")
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, stderr.String())
	}
	var all []measuredOutline
	if err := json.Unmarshal(out, &all); err != nil {
		t.Fatal(err)
	}
	checkMeasured(t, all)
}

// BenchmarkArcLengthOfOutlines measures the cubics of the kept outlines: the bar is
// 400 ns a cubic at a relative error of 1e-9.
func BenchmarkArcLengthOfOutlines(b *testing.B) {
	var all []Segment
	for _, o := range keptOutlines(b) {
		all = append(all, o.path()...)
	}
	sum := 0.0
	for b.Loop() {
		for i := range all {
			sum += all[i].Length()
		}
	}
	if !(sum > 0) {
		b.Fatal("no length")
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(all)), "ns/cubic")
}
