package scan

import (
	"math"
	"math/rand/v2"
	"strings"
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

func TestJoinAllRing(t *testing.T) {
	// Four sheets in a ring, each turned, with marks 0.1 mm off.
	pick := rand.New(rand.NewPCG(3, 4))
	truth := make([]geom.Affine, 4)
	for i := range truth {
		truth[i] = geom.Rotation(float64(i)*.7, geom.Point{}).Then(geom.Translation(geom.Pt(200*float64(i%2), 280*float64(i/2))))
	}
	truth[0] = geom.Identity
	ring := []int{0, 1, 3, 2}
	var exact, ties []Tie
	for k, a := range ring {
		b := ring[(k+1)%4]
		for range 3 {
			p := geom.Pt(400*pick.Float64(), 500*pick.Float64())
			var tie Tie
			ia, _ := truth[a].Invert()
			ib, _ := truth[b].Invert()
			tie = Tie{a, b, ia.Apply(p), ib.Apply(p)}
			exact = append(exact, tie)
			tie.BPoint = tie.BPoint.Add(geom.Pt(.1*pick.NormFloat64(), .1*pick.NormFloat64()))
			ties = append(ties, tie)
		}
	}
	j, err := JoinAll(4, exact)
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range j.Maps {
		if d := m.Apply(geom.Pt(100, 100)).Dist(truth[i].Apply(geom.Pt(100, 100))); d > 1e-8 || j.RMS > 1e-8 {
			t.Errorf("sheet %d is off by %g mm, rms %g", i, d, j.RMS)
		}
	}
	if j, err = JoinAll(4, ties); err != nil {
		t.Fatal(err)
	}
	for i, m := range j.Maps {
		if d := m.Apply(geom.Pt(100, 100)).Dist(truth[i].Apply(geom.Pt(100, 100))); d > .2 {
			t.Errorf("sheet %d is off by %g mm", i, d)
		}
	}
	// All together is a minimum: turning any one sheet a little only worsens it.
	sum := func(maps []geom.Affine) (s float64) {
		for _, tie := range ties {
			d := maps[tie.A].Apply(tie.APoint).Dist(maps[tie.B].Apply(tie.BPoint))
			s += d * d
		}
		return s
	}
	for i := 1; i < 4; i++ {
		for _, turn := range []float64{1e-5, -1e-5} {
			maps := append([]geom.Affine(nil), j.Maps...)
			maps[i] = maps[i].Then(geom.Rotation(turn, geom.Pt(200, 200)))
			if sum(maps) < sum(j.Maps) {
				t.Errorf("sheet %d would fit better turned by %g", i, turn)
			}
		}
	}
	// With two sheets it is what JoinMarks gives.
	var from, to []geom.Point
	var two []Tie
	for _, tie := range ties[:3] {
		two = append(two, tie)
		from, to = append(from, tie.BPoint), append(to, tie.APoint)
	}
	pair, err := JoinMarks(from, to)
	if err != nil {
		t.Fatal(err)
	}
	both, err := JoinAll(2, two)
	if err != nil || math.Abs(both.RMS-pair.RMS) > 1e-12 || both.Worst != pair.Worst {
		t.Errorf("two sheets: rms %g and %g, %v", both.RMS, pair.RMS, err)
	}
}

func TestJoinAllRefuses(t *testing.T) {
	p, q := geom.Pt(0, 0), geom.Pt(50, 0)
	for _, c := range []struct {
		name   string
		sheets int
		ties   []Tie
		says   string
	}{
		{"none", 0, nil, "no sheet"},
		{"loose", 2, nil, "sheet 2"},
		{"one mark", 2, []Tie{{0, 1, p, p}}, "sheet 2"},
		{"coincident", 2, []Tie{{0, 1, p, p}, {0, 1, p, q}}, "on one another"},
		{"island", 3, []Tie{{0, 1, p, p}, {0, 1, q, q}}, "sheet 3"},
		{"itself", 2, []Tie{{1, 1, p, p}}, "mark 1"},
		{"no such sheet", 2, []Tie{{0, 2, p, p}}, "mark 1"},
		{"nowhere", 2, []Tie{{0, 1, p, p}, {0, 1, geom.Pt(math.NaN(), 0), q}}, "mark 2"},
	} {
		if _, err := JoinAll(c.sheets, c.ties); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if j, err := JoinAll(1, nil); err != nil || j.Maps[0] != geom.Identity {
		t.Errorf("a single sheet: %+v, %v", j, err)
	}
}
