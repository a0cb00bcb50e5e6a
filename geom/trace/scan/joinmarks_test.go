package scan

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

func TestJoinMarks(t *testing.T) {
	// A quarter turn: (0,0) and (10,0) onto (5,5) and (5,15).
	j, err := JoinMarks([]geom.Point{{X: 0, Y: 0}, {X: 10, Y: 0}}, []geom.Point{{X: 5, Y: 5}, {X: 5, Y: 15}})
	if err != nil {
		t.Fatal(err)
	}
	if got := j.Map.Apply(geom.Pt(0, 1)); !got.Near(geom.Pt(4, 5), 1e-12) || j.RMS > 1e-12 || math.Abs(j.Scale-1) > 1e-12 {
		t.Errorf("a quarter turn: %v, %+v", got, j)
	}
	// Two marks 100 mm apart on marks 101 mm apart: half a mm off each, 1 % of scale.
	j, err = JoinMarks([]geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}}, []geom.Point{{X: 0, Y: 0}, {X: 101, Y: 0}})
	if err != nil || math.Abs(j.RMS-.5) > 1e-12 || math.Abs(j.Scale-1.01) > 1e-12 {
		t.Errorf("1 %% longer: %+v, %v", j, err)
	}
	if says := j.Says(.002); says != "the second sheet is 1.0 % smaller than the first" {
		t.Errorf("says %q", says)
	}
	if says := (Join{Scale: .996}).Says(.002); says != "the second sheet is 0.4 % larger than the first" {
		t.Errorf("says %q", says)
	}
	if says := (Join{Scale: 1.001}).Says(.002); says != "" {
		t.Errorf("says %q of a slight difference", says)
	}
	// Of a square with one mark 4 mm off, that one is the worst.
	sq := []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}
	to := append([]geom.Point(nil), sq...)
	to[2].X += 4
	if j, err = JoinMarks(sq, to); err != nil || j.Worst != 2 {
		t.Errorf("worst of %v is %d, %v", j.Each, j.Worst, err)
	}
}

func TestJoinMarksRefuses(t *testing.T) {
	a, b := geom.Pt(1, 2), geom.Pt(100, 2)
	for name, c := range map[string][2][]geom.Point{
		"one mark":       {{a}, {b}},
		"none":           {},
		"coincident":     {{a, a}, {a, b}},
		"onto one":       {{a, b}, {a, a}},
		"far coincident": {{{X: 1e12}, {X: 1e12}, {X: 1e12}}, {a, b, a}},
		"nowhere":        {{a, {X: math.NaN()}}, {a, b}},
		"far":            {{a, {X: math.Inf(1)}}, {a, b}},
	} {
		if j, err := JoinMarks(c[0], c[1]); err == nil {
			t.Errorf("%s: %+v", name, j)
		}
	}
}

// What was turned and moved is brought back, and no other turn and move has a lesser rms.
func TestJoinMarksProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-500, 500)
		n := rapid.IntRange(2, 8).Draw(t, "n")
		var from, to []geom.Point
		m := geom.Rotation(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn"), geom.Pt(f.Draw(t, "cx"), f.Draw(t, "cy")))
		noise := rapid.SampledFrom([]float64{0, .3}).Draw(t, "noise")
		for range n {
			p := geom.Pt(f.Draw(t, "x"), f.Draw(t, "y"))
			from = append(from, p)
			to = append(to, m.Apply(p).Add(geom.Pt(noise*math.Sin(p.X), noise*math.Cos(p.Y))))
		}
		if from[0].Dist(from[1]) < 5 {
			t.Skip("marks too close")
		}
		j, err := JoinMarks(from, to)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(j.Map.Det()-1) > 1e-12 {
			t.Fatalf("the map scales by %g", j.Map.Det())
		}
		if noise == 0 && j.RMS > 1e-9 {
			t.Fatalf("rms %g mm", j.RMS)
		}
		other := j.Map.Then(geom.Rotation(1e-4, j.Map.Apply(from[0]))).Then(geom.Translation(geom.Pt(1e-3, -1e-3)))
		var sum float64
		for i := range from {
			d := other.Apply(from[i]).Dist(to[i])
			sum += d * d
		}
		if sum < j.RMS*j.RMS*float64(n) {
			t.Fatal("another turn and move fits better")
		}
	})
}
