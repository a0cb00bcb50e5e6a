package station

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/geom"
)

func TestShareWords(t *testing.T) {
	for share, want := range map[float64]string{1: "all", 0.5: "1/2", 0.25: "1/4", 1.0 / 3: "1/3", 0.75: "3/4", 2.0 / 3: "2/3", 0.3: "0.3", 2: "2"} {
		if got := shareWords(share); got != want {
			t.Errorf("%g is %q, not %q", share, got, want)
		}
		if back, err := readShare(shareWords(share)); err != nil || math.Abs(back-share) > 1e-4 {
			t.Errorf("%q is read as %g, %v", shareWords(share), back, err)
		}
	}
	for _, wrong := range []string{"", "1/0", "x/2", "a quarter"} {
		if _, err := readShare(wrong); err == nil {
			t.Errorf("%q is read as a part", wrong)
		}
	}
}

// A quarter of a bust of 920 mm with a little ease runs across; the length of the back runs
// along. Round figures of a body of size 40, made up.
func TestGuessesGoByLengthAndWay(t *testing.T) {
	known := body.Resolve(body.Given{"bust_girth": 920, "waist_girth": 740, "hip_girth": 980, "back_waist_length": 410, "shoulder_length": 128})
	for _, c := range []struct {
		length  float64
		runs    course
		measure string
		share   float64
	}{
		{236, runsAcross, "bust_girth", 0.25},
		{412, runsAlong, "back_waist_length", 1},
		{190, runsAcross, "waist_girth", 0.25},
		{129, runsBent, "shoulder_length", 1},
	} {
		list := guessing{known: known, length: c.length, runs: c.runs}.guesses()
		at := slices.IndexFunc(list, func(g guess) bool { return g.measure == c.measure })
		if at >= mostChips || list[at].share != c.share {
			t.Errorf("%g mm: %s is guess %d, %g of it", c.length, c.measure, at+1, list[at].share)
		}
		k, _ := known.Get(c.measure)
		if got := list[at].ease; math.Abs(got-(c.length-c.share*k.Value)) > 0.05+1e-9 {
			t.Errorf("%g mm of %s have an ease of %g", c.length, c.measure, got)
		}
	}
	if list := (guessing{length: 100}).guesses(); len(list) < mostChips || list[0].measure == "" {
		t.Errorf("of a body of which nothing is known there are %d guesses", len(list))
	}
}

// What suits a stretch comes before what is only as long, and what not every body has is there
// only where it was taken.
func TestGuessesGoByWhatSuits(t *testing.T) {
	plain := body.Given{"bust_girth": 920, "stature": 1680}
	x := guessing{known: body.Resolve(plain), length: 570, runs: runsAlong, suits: []string{"back_waist_length", "neck_height"}}
	first, others := x.offered()
	if len(first) != 2 || first[0].measure != "back_waist_length" || first[1].measure != "neck_height" || first[1].share == 1 {
		t.Errorf("first it is %v", first)
	}
	offers := func(name string) bool {
		_, others := x.offered()
		return slices.ContainsFunc(others, func(g guess) bool { return g.measure == name })
	}
	if len(others) == 0 || offers("tail_length") {
		t.Error("a tail is offered of a body that has none")
	}
	plain["tail_length"] = 580
	if x.wearer = body.Resolve(plain); !offers("tail_length") {
		t.Error("the tail of the wearer is not offered")
	}
}

// The cells of a grid that covers a polygon part it: their areas sum up to its own, and the
// area of many that are joined up is the same.
func TestCellsPartAPolygon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(5, 14).Draw(t, "corners")
		var polygon []geom.Point // a star, so that it turns in and out and does not cross itself
		for i := range n {
			r := rapid.Float64Range(12, 48).Draw(t, "radius")
			a := 2 * math.Pi * float64(i) / float64(n)
			polygon = append(polygon, geom.Pt(50+r*math.Cos(a), 50+r*math.Sin(a)))
		}
		skew := rapid.Float64Range(-4, 4).Draw(t, "skew")
		const cells, size = 8, 12.5
		corner := func(i, j int) geom.Point {
			p := geom.Pt(size*float64(i), size*float64(j))
			if i > 0 && i < cells && j > 0 && j < cells {
				p.X += skew * float64((i+j)%2)
			}
			return p
		}
		var parts [][]geom.Point
		sum := 0.0
		for i := range cells {
			for j := range cells {
				quad := []geom.Point{corner(i, j), corner(i+1, j), corner(i+1, j+1), corner(i, j+1)}
				if part := clipped(polygon, quad); len(part) > 2 {
					parts = append(parts, part)
					sum += turns(part) / 2
				}
			}
		}
		want := turns(polygon) / 2
		if math.Abs(sum-want) > 1e-6*want {
			t.Fatalf("the cells have %g, the polygon %g", sum, want)
		}
		if got := joinedUp(parts).Area(); math.Abs(got-want) > 1e-6*want {
			t.Fatalf("joined up they have %g, the polygon %g", got, want)
		}
	})
}

func TestClassesOfStretchAreAlikeBothWays(t *testing.T) {
	scale := scaleOf(nil)
	last := len(scale.classes()) - 1
	for _, k := range []float64{1, 1.02, 1.035, 1.06, 1.12, 1.5} {
		if up, down := scale.classOf(k), scale.classOf(1/k); up+down != last {
			t.Errorf("%g is in class %d, its inverse in %d", k, up, down)
		}
	}
	if scale.classOf(1) != last/2 || scale.classOf(0) != 0 || scale.classOf(9) != last {
		t.Error("the classes do not go from the shortest to the longest")
	}
}

// The colours end at the largest change that there is, rounded up, and the legend tells it.
func TestScaleOfStretchEndsAtTheLargest(t *testing.T) {
	for _, c := range []struct {
		across            float64
		end               float64
		shortest, longest string
	}{
		{1.02, 0.2, "17 % shorter", "20 % longer"}, {1.2, 0.2, "17 % shorter", "20 % longer"},
		{1.69, 0.8, "44 % shorter", "80 % longer"}, {1 / 1.5, 0.6, "38 % shorter", "60 % longer"}, {2.33, 1.5, "60 % shorter", "150 % longer"},
		{0, 10, "91 % shorter", "1000 % longer"}, // pressed flat
	} {
		scale := scaleOf(&draft.FitState{Largest: draft.StrainAt{Along: 1, Across: c.across}})
		if math.Abs(scale.end-c.end) > 1e-9 {
			t.Errorf("for %g the colours end at %g, not %g", c.across, scale.end, c.end)
		}
		under, shortest, longest := scale.words()
		if shortest != c.shortest || longest != c.longest || len(under) != len(scale.classes())-1 {
			t.Errorf("for %g the legend says %q, %v, %q", c.across, shortest, under, longest)
		}
	}
	// Half as much as the largest is another colour than the largest.
	if s := (strainScale{0.8}); s.classOf(1.69) == s.classOf(1.35) {
		t.Error("all of the piece has one colour")
	}
}
