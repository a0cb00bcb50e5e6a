package body

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"hemlet/draft/formula"
)

// quill has the three measures that a bodice needs.
func quill() Given {
	return Given{"bust_girth": 231, "waist_girth": 238, "back_waist_length": 84}
}

// With the three measures that a bodice needs, and with any one of the ten asked
// first, every other measure has an estimate.
func TestEveryMeasureIsFound(t *testing.T) {
	bodies := map[string]Given{"basics": quill()}
	for _, m := range Asked() {
		bodies[m.Name] = Given{m.Name: 100}
	}
	for name, g := range bodies {
		b := Resolve(g)
		for _, m := range Catalogue() {
			k, ok := b.Get(m.Name)
			if !ok || !sane(k.Value) {
				t.Errorf("given %s, %s is not found", name, m.Name)
			}
			if _, given := g[m.Name]; given == k.Estimated {
				t.Errorf("given %s, %s: estimated is %v", name, m.Name, k.Estimated)
			}
		}
	}
}

// Each estimate is what its formula gives for the other values of the same body,
// whatever was given.
func TestEstimatesAgreeWithEachOther(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 300 {
		g := someGiven(r)
		b := Resolve(g)
		values := formula.Values{}
		for _, name := range b.Names() {
			values[name] = formula.Length{MM: b.MM(name)}
		}
		for _, name := range b.Names() {
			k, _ := b.Get(name)
			if !k.Estimated {
				if k.Value != g[name] {
					t.Fatalf("%s was given as %g and is %g", name, g[name], k.Value)
				}
				continue
			}
			f, err := formula.Compile(k.By, plain().scope)
			if err != nil {
				t.Fatal(err)
			}
			v, err := f.Value(values)
			if err != nil || math.Abs(v.(formula.Length).MM-k.Value) > 1e-9*k.Value {
				t.Fatalf("%s is %g, its formula %s gives %v, %v (given %v)", name, k.Value, k.By, v, err, g)
			}
			if !slices.Equal(k.From, f.Reads()) {
				t.Fatalf("%s says it reads %v", name, k.From)
			}
		}
	}
}

// A body twice as large has estimates twice as large, by the same formulas.
func TestEstimatesScale(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for range 300 {
		g := someGiven(r)
		k := math.Exp(math.Log(30)*r.Float64() - math.Log(10)) // within the 100 m of a formula
		large := Given{}
		for name, v := range g {
			large[name] = v * k
		}
		a, b := Resolve(g), Resolve(large)
		for _, name := range a.Names() {
			was, _ := a.Get(name)
			is, _ := b.Get(name)
			if is.By != was.By || math.Abs(is.Value-k*was.Value) > 1e-9*is.Value {
				t.Fatalf("%s: %g by %s, %g times as large %g by %s", name, was.Value, was.By, k, is.Value, is.By)
			}
		}
	}
}

// someGiven returns human shares of a stature, each off by up to a factor of about
// 2, for a random choice of measures.
func someGiven(r *rand.Rand) Given {
	stature := math.Exp(math.Log(100) + r.Float64()*math.Log(20))
	g := Given{}
	for _, m := range Catalogue() {
		if r.Float64() < 0.3 {
			g[m.Name] = stature * m.Share * math.Exp(0.35*r.NormFloat64())
		}
	}
	if len(g) == 0 {
		g["bust_girth"] = stature
	}
	return g
}

func TestTakenBeatsEstimated(t *testing.T) {
	g := quill()
	if k, _ := Resolve(g).Get("arm_length"); k.By != "1.26*back_waist_length" {
		t.Errorf("without a stature the arm is %s", k.By)
	}
	g["stature"] = 360
	if k, _ := Resolve(g).Get("arm_length"); k.By != "0.336*stature" || math.Abs(k.Value-0.336*360) > 1e-9 {
		t.Errorf("with a stature the arm is %s, %g", k.By, k.Value)
	}
}

func TestArcsAddUp(t *testing.T) {
	for _, level := range Levels {
		for _, extra := range []Given{
			{},
			{ArcFrontOf(level): 150},
			{ArcBackOf(level): 120},
			{GirthOf(level): 260},
			{GirthOf(level): 260, ArcBackOf(level): 90},
			{GirthOf(level): 260, ArcFrontOf(level): 180},
		} {
			g := Given{"back_waist_length": 84, "stature": 360}
			for name, v := range extra {
				g[name] = v
			}
			b := Resolve(g)
			girth, arcs := b.MM(GirthOf(level)), b.MM(ArcFrontOf(level))+b.MM(ArcBackOf(level))
			if math.Abs(girth-arcs) > 1e-9*girth {
				t.Errorf("%s, given %v: the girth is %g, front and back come to %g", level, extra, girth, arcs)
			}
		}
		b := Resolve(Given{ArcFrontOf(level): 150, ArcBackOf(level): 110, "back_waist_length": 84})
		if k, _ := b.Get(GirthOf(level)); math.Abs(k.Value-260) > 1e-9 || !k.Estimated {
			t.Errorf("%s: front 150 and back 110 come to %v", level, k)
		}
	}
}

func TestNotGivenIsNotTaken(t *testing.T) {
	for _, bad := range []float64{0, -3, math.NaN(), math.Inf(1), math.Inf(-1)} {
		g := quill()
		g["hip_girth"] = bad
		if k, ok := Resolve(g).Get("hip_girth"); !ok || !k.Estimated {
			t.Errorf("hip given as %g: %v", bad, k)
		}
	}
	b := Resolve(nil)
	if names := b.Names(); len(names) != 0 {
		t.Errorf("of nothing, %v is known", names)
	}
}

func TestUnknownNamesAreKept(t *testing.T) {
	g := quill()
	g["antler_girth"] = 33
	b := Resolve(g)
	if k, ok := b.Get("antler_girth"); !ok || k.Value != 33 || k.Estimated {
		t.Errorf("antlers: %v, %v", k, ok)
	}
	if names := b.Names(); names[len(names)-1] != "antler_girth" {
		t.Errorf("the names end with %s", names[len(names)-1])
	}
}

func TestOwnMeasures(t *testing.T) {
	own := []Own{
		{"hood_height", []string{"0.4*head_girth + crest"}},
		{"crest", []string{"given(stature) ? 0.05*stature : 0.1*head_girth"}},
		{"head_girth", []string{"1.5*neck_base_girth"}},
	}
	g := quill()
	g["neck_base_girth"] = 100
	b := Resolve(g, own...)
	if k, _ := b.Get("head_girth"); k.Value != 150 || k.By != "1.5*neck_base_girth" {
		t.Errorf("the block's own estimate of the head is not used: %v", k)
	}
	if k, _ := b.Get("hood_height"); k.Value != 75 || !k.Estimated {
		t.Errorf("hood: %v", k)
	}
	g["stature"], g["hood_height"] = 400, 90
	if b := Resolve(g, own...); b.MM("crest") != 20 || b.MM("hood_height") != 90 {
		t.Errorf("crest %g, hood %g", b.MM("crest"), b.MM("hood_height"))
	}
}

func TestOwnMeasuresThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		own  Own
		says string
	}{
		{Own{"hem height", nil}, "cannot be a name"},
		{Own{"length", nil}, "function"},
		{Own{"crest", []string{"bust_girth*waist_girth"}}, "not a length"},
		{Own{"crest", []string{"0.3*horn"}}, "horn"},
	} {
		if _, err := NewEstimator(c.own); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v: %v", c.own, err)
		}
	}
	if _, err := NewEstimator(Own{"crest", nil}, Own{"crest", nil}); err == nil {
		t.Error("a measure is there twice")
	}
}

// Measures that lean on each other in every direction are answered in bounded time,
// and all of them as soon as one is given.
func TestCirclesEnd(t *testing.T) {
	const n = 60
	var own []Own
	name := func(i int) string { return fmt.Sprintf("ring_%d", i%n) }
	for i := range n {
		var estimates []string
		for _, step := range []int{1, 2, 3, n - 1, n - 2} {
			estimates = append(estimates, "0.5*"+name(i+step)+" + 0.5*"+name(i+step+1))
		}
		own = append(own, Own{name(i), append(estimates, "1.1*"+name(i+7))})
	}
	e, err := NewEstimator(own...)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := e.Resolve(quill()).Get(name(3)); ok {
		t.Error("a circle without an end has a value")
	}
	b := e.Resolve(Given{name(0): 10})
	for i := range n {
		if _, ok := b.Get(name(i)); !ok {
			t.Errorf("%s is not found", name(i))
		}
	}
}

func BenchmarkResolve(b *testing.B) {
	b.ReportAllocs()
	g := quill()
	for range b.N {
		Resolve(g)
	}
}
