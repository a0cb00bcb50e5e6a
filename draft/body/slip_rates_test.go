package body_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
)

// named returns the slip that names the measure, or false.
func named(slips []body.Slip, measure string) (body.Slip, bool) {
	for _, s := range slips {
		if slices.Contains(s.Measures, measure) {
			return s, true
		}
	}
	return body.Slip{}, false
}

// every returns every n-th of a list.
func every[T any](n int, list []T) []T {
	var some []T
	for i := 0; i < len(list); i += n {
		some = append(some, list[i])
	}
	return some
}

// only returns the measures of g that keep picks.
func only(g body.Given, keep func(*body.Measure) bool) body.Given {
	picked := body.Given{}
	for name, v := range g {
		if m, ok := body.Find(name); ok && keep(m) {
			picked[name] = v
		}
	}
	return picked
}

// The bodies of the ANSUR II survey are as people are: at most 1 in 100 is asked
// about, and only one has a figure that contradicts another.
func TestFewSlipsInSurvey(t *testing.T) {
	count, kinds := 0, map[string]int{}
	bodies := every(bodytest.Step(4), bodytest.Ansur(t))
	for _, g := range bodies {
		slips := body.Slips(g, nil)
		if len(slips) > 0 {
			count++
		}
		for _, s := range slips {
			kinds[s.Level+", "+s.Key]++
			if s.Level == body.Problem {
				t.Errorf("%s (%v)", s.Says, g)
			}
		}
	}
	t.Logf("%d of %d bodies are asked about: %v", count, len(bodies), kinds)
	if count > len(bodies)/100 {
		t.Errorf("%d of %d bodies have slips", count, len(bodies))
	}
}

// One figure of each body is put into another unit. It is found, and the right value
// proposed. Inches for centimetres are not looked for in heads, hands and feet, which
// on figures are often so large.
func TestUnitSlipsAreFound(t *testing.T) {
	people := every(bodytest.Step(30), bodytest.Ansur(t))
	sets := []struct {
		name  string
		keep  func(*body.Measure) bool
		least float64
	}{
		{"all measures of the survey", func(*body.Measure) bool { return true }, 0.99},
		{"those asked first", func(m *body.Measure) bool { return m.Ask > 0 }, 0.995},
	}
	for _, set := range sets {
		for _, factor := range []float64{10, 25.4, 2.54, 1 / 10., 1 / 25.4, 1 / 2.54} {
			total, found, right := 0, 0, 0
			missed := map[string]int{}
			for _, person := range people {
				g := only(person, set.keep)
				small := math.Abs(math.Log(factor)) < math.Log(10)
				names := slices.Sorted(maps.Keys(only(g, func(m *body.Measure) bool { return !small || !m.Loose })))
				name := names[total%len(names)]
				was := g[name]
				g[name] *= factor
				total++
				s, ok := named(body.Slips(g, nil), name)
				if !ok {
					missed[name]++
					continue
				}
				found++
				if math.Abs(s.Suggest[name]/was-1) < 1e-9 {
					right++
				}
			}
			t.Logf("%s, times %.3g: %d of %d found, %d with the right value; missed %v", set.name, factor, found, total, right, missed)
			if least := int(set.least * float64(total)); found < least || right < least {
				t.Errorf("%s, times %.3g: of %d slips %d are found, %d with the right value", set.name, factor, total, found, right)
			}
		}
	}
}

// Two neighbours among the ten asked first change places. Those that differ by half
// or more are found; of the others the figures would pass for an odd body's.
func TestSwapsAreFound(t *testing.T) {
	people := every(bodytest.Step(12), bodytest.Ansur(t))
	for _, c := range []struct {
		a, b  string
		least float64
	}{
		{"stature", "bust_girth", 0.75}, // a stout person is as round as tall
		{"hip_girth", "back_waist_length", 0.99},
		{"neck_base_girth", "shoulder_length", 0.99},
		{"shoulder_length", "back_width", 0.99},
		{"bust_girth", "waist_girth", 0},
		{"back_waist_length", "front_waist_length", 0},
		{"front_waist_length", "neck_base_girth", 0},
	} {
		total, found := 0, 0
		for _, person := range people {
			g := only(person, func(m *body.Measure) bool { return m.Ask > 0 })
			a, b := g[c.a], g[c.b]
			g[c.a], g[c.b] = b, a
			total++
			if s, ok := named(body.Slips(g, nil), c.a); ok && s.Suggest[c.a] == a && s.Suggest[c.b] == b {
				found++
			}
		}
		t.Logf("%s and %s: %d of %d found", c.a, c.b, found, total)
		if float64(found) < c.least*float64(total) {
			t.Errorf("%s and %s: only %d of %d found", c.a, c.b, found, total)
		}
	}
}

// So do two neighbours of a group of the catalogue, in a long list.
func TestSwapsInAGroupAreFound(t *testing.T) {
	for i, g := range bodytest.Sample(t) {
		hand, arm := g["hand_girth"], g["arm_length"]
		g["hand_girth"], g["arm_length"] = arm, hand
		if s, ok := named(body.Slips(g, nil), "hand_girth"); !ok || s.Suggest["hand_girth"] != hand || s.Suggest["arm_length"] != arm {
			t.Errorf("body %d: %+v", i+1, s)
		}
	}
}

// The same on the kept sample, which is always there.
func TestSlipsInSample(t *testing.T) {
	for i, g := range bodytest.Sample(t) {
		for _, s := range body.Slips(g, nil) {
			if s.Level == body.Problem || s.Key != "unit waist_to_hip" && s.Key != "girth below twice width bust_girth back_width" {
				t.Errorf("body %d: %s", i+1, s.Says)
			}
		}
		for _, m := range body.Asked() {
			was, ok := g[m.Name]
			if !ok {
				continue
			}
			wrong := only(g, func(m *body.Measure) bool { return m.Ask > 0 })
			for _, factor := range []float64{10, 25.4, 1 / 10., 1 / 25.4} {
				wrong[m.Name] = was * factor
				if s, ok := named(body.Slips(wrong, nil), m.Name); !ok || math.Abs(s.Suggest[m.Name]/was-1) > 1e-9 {
					t.Errorf("body %d, %s times %.3g: %v", i+1, m.Name, factor, s)
				}
			}
		}
	}
}

// Odd bodies are normal here: none has a problem, few are asked about, and a slip of
// a factor of 25.4 is found in most of them all the same.
func TestSlipsOfOddBodies(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	n := 60000 / bodytest.Step(100)
	asked, found := 0, 0
	kinds := map[string]int{}
	for range n {
		g := bodytest.Odd(r)
		slips := body.Slips(g, nil)
		if len(slips) > 0 {
			asked++
		}
		for _, s := range slips {
			kinds[s.Key]++
			if s.Level == body.Problem {
				t.Errorf("%s (%v)", s.Says, g)
			}
		}
		g["waist_girth"] *= 25.4
		if _, ok := named(body.Slips(g, nil), "waist_girth"); ok {
			found++
		}
	}
	t.Logf("%d of %d odd bodies are asked about, a waist in inches is found in %d; %v", asked, n, found, kinds)
	if asked > n/10 {
		t.Errorf("%d of %d odd bodies are asked about", asked, n)
	}
	if found < n*9/10 {
		t.Errorf("a waist in inches is found in %d of %d odd bodies", found, n)
	}
}

// Slips do not depend on the size of the body, but for bodies of no size at all.
func TestSlipsScale(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	keys := func(g body.Given) (keys []string) {
		for _, s := range body.Slips(g, nil) {
			if s.Key != "size" {
				keys = append(keys, s.Level+" "+s.Key)
			}
		}
		return keys
	}
	for range 5000 / bodytest.Step(25) {
		g := bodytest.Odd(r)
		names := slices.Sorted(maps.Keys(g))
		g[names[r.IntN(len(names))]] *= 11
		k := math.Exp(-math.Log(20) * r.Float64()) // not larger: no measure may come to 100 m
		if a, b := keys(g), keys(bodytest.Scale(g, k)); !slices.Equal(a, b) {
			t.Fatalf("%v, %g times as large %v", a, k, b)
		}
	}
}

func BenchmarkSlips(b *testing.B) {
	g := bodytest.Sample(b)[0]
	b.ReportAllocs()
	for range b.N {
		body.Slips(g, nil)
	}
}
