package regular

import (
	"math"
	"testing"

	"hemlet/geom"
	"pgregory.net/rapid"
)

// TestTurnedAndMoved: an outline that lies elsewhere, with its grain, has the same
// suggestions, and comes out the same.
func TestTurnedAndMoved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sh := shapes[rapid.IntRange(0, len(shapes)-1).Draw(t, "shape")]
		o := disturbed(sh.truth, rapid.Float64Range(0.02, 0.3).Draw(t, "by"), rapid.Uint64().Draw(t, "seed"))
		m := geom.Rotation(rapid.Float64Range(-3, 3).Draw(t, "turn"), geom.Point{}).
			Then(geom.Translation(pt(rapid.Float64Range(-2000, 2000).Draw(t, "x"), rapid.Float64Range(-2000, 2000).Draw(t, "y"))))
		there := Outline{o.Path.Transform(m), o.Corner}
		for i := range there.Path { // closed to the last digit
			there.Path[i].P0 = there.Path[(i+len(there.Path)-1)%len(there.Path)].P3
		}
		opt := Options{Tol: 0.6, Up: pt(0, 1)}
		a := Suggest(o, opt)
		opt.Up = m.ApplyVector(opt.Up)
		b := Suggest(there, opt)
		if len(a) != len(b) {
			t.Fatalf("%d suggestions here, %d there", len(a), len(b))
		}
		byKind := func(list []Suggestion) map[Kind]float64 {
			sum := map[Kind]float64{}
			for _, s := range list {
				sum[s.Kind] += s.Off
			}
			return sum
		}
		there2 := byKind(b)
		for k, off := range byKind(a) {
			if math.Abs(off-there2[k]) > 1e-5 {
				t.Fatalf("%v: moves %.7f mm here, %.7f there", k, off, there2[k])
			}
		}
	})
}

// TestTakenOneByOne: taking one more never breaks one taken before, whatever the order,
// and what is refused is named.
func TestTakenOneByOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sh := shapes[rapid.IntRange(0, len(shapes)-1).Draw(t, "shape")]
		o := disturbed(sh.truth, rapid.Float64Range(0.05, 0.3).Draw(t, "by"), rapid.Uint64().Draw(t, "seed"))
		list := Suggest(o, Options{Tol: 0.8})
		if len(list) == 0 {
			return
		}
		n := min(6, len(list))
		take := rapid.Permutation(list).Draw(t, "order")[:n]
		r, _, err := Apply(o, take)
		refused := 0
		for _, s := range take {
			if isRefused(err, s) {
				refused++
				continue
			}
			if miss := missing(r, o.Corner, s); miss > 1e-6 {
				t.Fatalf("%v %v %v misses by %g mm", s.Kind, s.Edges, s.Corners, miss)
			}
		}
		if err != nil && refused == 0 {
			t.Fatal(err)
		}
		if r.Path.Simple() != nil {
			t.Fatal("the outline crosses itself")
		}
	})
}

func isRefused(err error, s Suggestion) bool {
	c, ok := err.(*ConflictError)
	if !ok {
		return false
	}
	for _, r := range c.Refused {
		if r.Kind == s.Kind && r.Off == s.Off && r.Misses == s.Misses {
			return true
		}
	}
	return false
}

// TestNothingRegular: an outline that has nothing regular is left alone.
func TestNothingRegular(t *testing.T) {
	o := allCorners(geom.Path{
		geom.Line(pt(0, 0), pt(103, 11)),
		geom.Cubic(pt(103, 11), pt(120, 30), pt(90, 70), pt(117, 90)),
		geom.Line(pt(117, 90), pt(51, 131)),
		geom.Cubic(pt(51, 131), pt(44, 90), pt(5, 60), pt(0, 0)),
	})
	if list := Suggest(o, Options{}); len(list) > 0 {
		t.Errorf("suggested %v of an outline without anything regular", list)
	}
}

// TestWhatHoldsIsNotSuggested: an exact outline has no suggestions.
func TestWhatHoldsIsNotSuggested(t *testing.T) {
	for _, sh := range shapes {
		for _, s := range Suggest(sh.truth, Options{}) {
			if holdsIn(sh.truth, s, 1e-3) {
				t.Errorf("%s: suggested %v, which holds", sh.name, s)
			}
		}
	}
}

// TestDegenerate: nothing panics, and what is no outline has no suggestions.
func TestDegenerate(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	point := geom.Line(pt(1, 1), pt(1, 1))
	for name, o := range map[string]Outline{
		"empty":        {},
		"point":        {Path: geom.Path{point, point}},
		"not a number": {Path: geom.Path{geom.Line(pt(0, 0), pt(nan, 1)), geom.Line(pt(nan, 1), pt(0, 0))}},
		"infinite":     {Path: geom.Path{geom.Line(pt(0, 0), pt(inf, 1))}},
	} {
		if list := Suggest(o, Options{}); len(list) > 0 {
			t.Errorf("%s: %v", name, list)
		}
		if _, _, err := Apply(o, []Suggestion{{Kind: Straight, Edges: []int{0}}}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for name, o := range map[string]Outline{
		"one line":     {Path: geom.Path{geom.Line(pt(0, 0), pt(10, 0.1))}},
		"one curve":    {Path: geom.Path{geom.Cubic(pt(0, 0), pt(3, .1), pt(7, .1), pt(10, 0))}},
		"there, back":  allCorners(geom.Path{geom.Line(pt(0, 0), pt(10, 0)), geom.Line(pt(10, 0), pt(0, 0))}),
		"loop":         {Path: geom.Path{geom.Cubic(pt(0, 0), pt(30, 0), pt(0, 30), pt(0, 0))}, Corner: []bool{true}},
		"zero edge":    allCorners(geom.Path{geom.Line(pt(0, 0), pt(10, 0)), geom.Line(pt(10, 0), pt(10, 0)), geom.Line(pt(10, 0), pt(0, 8)), geom.Line(pt(0, 8), pt(0, 0))}),
		"no handles":   allCorners(geom.Path{geom.Cubic(pt(0, 0), pt(0, 0), pt(10, 0), pt(10, 0)), geom.Line(pt(10, 0), pt(4, 8)), geom.Line(pt(4, 8), pt(0, 0))}),
		"few corners":  {Path: geom.Polygon(pt(0, 0), pt(9, 0), pt(9, 9)), Corner: []bool{true}},
		"far out":      allCorners(geom.Polygon(pt(99000, 99000), pt(99100, 99000.1), pt(99100.1, 99050), pt(99000, 99050))),
		"very small":   allCorners(geom.Polygon(pt(0, 0), pt(.02, 0), pt(.02, .0101), pt(0, .01))),
		"corner twice": allCorners(geom.Polygon(pt(0, 0), pt(9, 0), pt(9, 9), pt(0, 0), pt(-9, -3))),
	} {
		list := Suggest(o, Options{})
		r, moved, err := Apply(o, list)
		if math.IsNaN(moved) || len(o.Path) > 0 && len(r.Path) == 0 {
			t.Errorf("%s: %v, moved %v, %v", name, r.Path, moved, err)
		}
	}
	o := shapes[0].truth
	for _, s := range []Suggestion{{}, {Kind: 99}, {Kind: Square, Corners: []int{77}}, {Kind: Parallel, Edges: []int{1, 1}}, {Kind: Upright}, {Kind: Equal, Edges: []int{-1, 2}}} {
		if _, _, err := Apply(o, []Suggestion{s}); err == nil {
			t.Errorf("took %v", s)
		}
	}
}

// TestSmoothRingStaysSmooth: an outline without corners has none afterwards.
func TestSmoothRingStaysSmooth(t *testing.T) {
	const k = 0.5522847498 // a quarter of a circle as a cubic, from memory
	brim := Outline{Path: geom.Path{
		geom.Cubic(pt(60, 0), pt(60, 44*k), pt(60*k, 44), pt(0, 44)),
		geom.Cubic(pt(0, 44), pt(-60*k, 44), pt(-60, 44*k), pt(-60, 0)),
		geom.Cubic(pt(-60, 0), pt(-60, -44*k), pt(-60*k, -44), pt(0, -44)),
		geom.Cubic(pt(0, -44), pt(60*k, -44), pt(60, -44*k), pt(60, 0)),
	}, Corner: make([]bool, 4)}
	o := Outline{append(geom.Path{}, brim.Path...), brim.Corner}
	by := [4]geom.Point{pt(.2, .1), pt(-.1, .15), pt(.1, -.2), pt(.15, .1)}
	for i := range o.Path { // joints stay smooth: both handles move with them
		s, a, b := o.Path[i], by[i], by[(i+1)%4]
		o.Path[i] = geom.Cubic(s.P0.Add(a), s.P1.Add(a), s.P2.Add(b), s.P3.Add(b))
	}
	list := Suggest(o, Options{})
	if counts(list)[Symmetric] < 2 {
		t.Fatalf("an oval has two axes at least: %v", list)
	}
	var axes []Suggestion
	for _, s := range list {
		if s.Kind == Symmetric && len(axes) < 2 {
			axes = append(axes, s)
		}
	}
	r, _, err := Apply(o, axes)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range r.Path {
		in, out := r.Path[(i+3)%4].Tangent(1), s.Tangent(0)
		if r.Corner[i] || math.Abs(in.Cross(out)) > 1e-8 {
			t.Errorf("node %d: corner %v, turns by %g", i, r.Corner[i], in.Cross(out))
		}
	}
	for _, s := range axes {
		if miss := missing(Outline{r.Path, []bool{true, true, true, true}}, nil, s); miss > 1e-6 {
			t.Errorf("misses its axis by %g mm", miss)
		}
	}
}

func BenchmarkSuggest(b *testing.B) {
	o := disturbed(shapes[2].truth, 0.2, 3)
	for b.Loop() {
		Suggest(o, Options{})
	}
}
