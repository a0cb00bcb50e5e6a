package bodytest

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft/body"
)

// The means of the whole survey, women then men, as its summary gives them; every
// other row of it has the same within the error of the sample.
func TestAnsurMeans(t *testing.T) {
	means := []struct {
		measure string
		f, m    float64
	}{
		{"stature", 1628.5, 1756.2}, {"bust_girth", 946.9, 1058.7}, {"waist_girth", 860.9, 940.6},
		{"hip_girth", 1021.2, 1019.5}, {"neck_base_girth", 371.2, 434.6}, {"back_waist_length", 425.4, 477.6},
		{"front_waist_length", 355.1, 387.6}, {"shoulder_length", 135.4, 149.8}, {"back_width", 373.4, 430.9},
		{"arm_length", 543.6, 593.1}, {"upper_arm_girth", 305.6, 358.1}, {"wrist_girth", 154.8, 175.9},
		{"hand_girth", 186.6, 212.3}, {"head_girth", 561.1, 574.4}, {"heel_girth", 310.3, 343.5},
		{"armscye_depth", 1395.7 - 1239.0, 1517.3 - 1329.1}, {"waist_to_hip", 980.1 - 833.7, 1056.5 - 887.9},
	}
	sums, count := map[string]map[string]float64{"F": {}, "M": {}}, map[string]float64{}
	for _, p := range People(t) {
		count[p.Sex]++
		for name, v := range p.Given {
			sums[p.Sex][name] += v
		}
	}
	for _, want := range means {
		for sex, mean := range map[string]float64{"F": want.f, "M": want.m} {
			if got := sums[sex][want.measure] / count[sex]; got < 0.99*mean || got > 1.01*mean {
				t.Errorf("%s %s: mean %.1f, the whole survey has %.1f", want.measure, sex, got, mean)
			}
		}
	}
}

// Sample holds rows of the survey, unchanged.
func TestSampleIsOfTheSurvey(t *testing.T) {
	sample, people := SamplePeople(t), People(t)
	for i, p := range sample {
		if !slices.ContainsFunc(people, func(q Person) bool { return p.Sex == q.Sex && maps.Equal(p.Raw, q.Raw) }) {
			t.Errorf("row %d of the sample is not in the survey", i+1)
		}
	}
}

func TestSampleIsThere(t *testing.T) {
	sample := Sample(t)
	if len(sample) < 24 {
		t.Fatalf("%d bodies", len(sample))
	}
	for i, g := range sample {
		if len(g) != len(Columns) {
			t.Errorf("body %d has %d measures", i+1, len(g))
		}
		for name, v := range g {
			if _, known := body.Find(name); !known || v <= 0 {
				t.Errorf("body %d: %s is %g", i+1, name, v)
			}
		}
	}
}

// Whole bodies are what the comment of Odd says.
func TestOddBodiesCouldStand(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		g := Whole(r)
		for _, m := range body.Catalogue() {
			if !(g[m.Name] > 0) {
				t.Fatalf("%s is %g", m.Name, g[m.Name])
			}
		}
		for _, order := range [][]string{
			{"stature", "neck_height", "bust_height", "waist_height", "belly_height", "hip_height", "inside_leg"},
			{"back_waist_length", "armscye_depth"},
			{"shoulder_length", "shoulder_drop"},
		} {
			for i := 1; i < len(order); i++ {
				if g[order[i]] >= g[order[i-1]] {
					t.Fatalf("%s %g is not below %s %g", order[i], g[order[i]], order[i-1], g[order[i-1]])
				}
			}
		}
		if g["bust_girth"] < 2*g["back_width"] || g["bust_girth"] < g["back_width"]+g["front_width"] {
			t.Fatalf("bust %g, back %g, front %g", g["bust_girth"], g["back_width"], g["front_width"])
		}
	}
}

// Odd bodies are odd: they go well beyond those of people.
func TestOddBodiesAreOdd(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	seen := map[string]int{}
	const n = 5000
	for range n {
		g := Odd(r)
		whole := body.Resolve(g)
		if g["belly_girth"] > 1.2*max(g["bust_girth"], g["hip_girth"]) && g["hip_girth"] > 0 {
			seen["a belly rounder than all else"]++
		}
		if k, ok := g["neck_base_girth"]; ok && k > 0.55*g["bust_girth"] {
			seen["no neck"]++
		}
		if h, ok := g["head_girth"]; ok && h > g["bust_girth"] {
			seen["a head larger than the chest"]++
		}
		if g["stature"] > 0 && g["stature"] < 300 {
			seen["small"]++
		}
		if len(g) == 3 {
			seen["three measures"]++
		}
		if len(g) > 40 {
			seen["many measures"]++
		}
		shoulders := 2*whole.MM("shoulder_length") + whole.MM("neck_base_girth")/3
		if whole.MM("belly_girth")/math.Pi > 3*shoulders {
			seen["a belly three times as wide as the shoulders"]++
		}
		for _, name := range []string{"bust_girth", "waist_girth", "back_waist_length"} {
			if g[name] <= 0 {
				t.Fatalf("no %s", name)
			}
		}
	}
	for _, kind := range []string{"a belly rounder than all else", "no neck", "a head larger than the chest", "small", "three measures", "many measures", "a belly three times as wide as the shoulders"} {
		if seen[kind] < n/200 {
			t.Errorf("%s: %d of %d", kind, seen[kind], n)
		}
	}
	t.Log(seen)
}

func TestOddIsTheSameForASeed(t *testing.T) {
	a, b := rand.New(rand.NewPCG(7, 7)), rand.New(rand.NewPCG(7, 7))
	for range 100 {
		if diff := cmp.Diff(Odd(a), Odd(b)); diff != "" {
			t.Fatal(diff)
		}
	}
}

func TestScale(t *testing.T) {
	g := body.Given{"stature": 360, "bust_girth": 231}
	if diff := cmp.Diff(body.Given{"stature": 30, "bust_girth": 19.25}, Scale(g, 1./12)); diff != "" {
		t.Error(diff)
	}
}
