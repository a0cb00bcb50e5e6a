package body_test

import (
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"
	"unicode"

	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
)

// person has round human figures, in mm.
func person() body.Given {
	return body.Given{
		"stature": 1700, "bust_girth": 940, "waist_girth": 800, "belly_girth": 900, "hip_girth": 1000,
		"back_waist_length": 420, "front_waist_length": 350, "neck_base_girth": 380, "shoulder_length": 130, "back_width": 370,
	}
}

// with returns the person with other figures.
func with(changed body.Given) body.Given {
	g := person()
	maps.Copy(g, changed)
	return g
}

func TestSlips(t *testing.T) {
	const problem, look = body.Problem, body.LookAgain
	for _, c := range []struct {
		about   string
		given   body.Given
		level   string
		key     string
		says    string             // part of what is said
		suggest map[string]float64 // 0 where only something must be suggested
	}{
		{"not above zero", with(body.Given{"hip_girth": 0}), problem, "figure hip_girth", "not above zero", nil},
		{"not a number", with(body.Given{"hip_girth": math.NaN()}), problem, "figure hip_girth", "not above zero", nil},
		{"inches for centimetres", with(body.Given{"waist_girth": 800 / 2.54}), look, "unit waist_girth", "inches had been written as centimetres", map[string]float64{"waist_girth": 800}},
		{"millimetres for centimetres", with(body.Given{"waist_girth": 8000}), problem, "unit waist_girth", "millimetres had been written as centimetres", map[string]float64{"waist_girth": 800}},
		{"metres for millimetres", with(body.Given{"stature": 1.7}), problem, "unit stature", "metres had been written as millimetres", map[string]float64{"stature": 1700}},
		{"too long", with(body.Given{"hip_girth": 1e6}), problem, "figure hip_girth", "beyond", nil},
		{"two in other units", with(body.Given{"waist_girth": 800 / 25.4, "neck_base_girth": 3800}), look, "unit neck_base_girth", "millimetres", map[string]float64{"neck_base_girth": 380}},
		{"changed places", with(body.Given{"shoulder_length": 370, "back_width": 130}), look, "swap shoulder_length back_width", "change them over", map[string]float64{"shoulder_length": 130, "back_width": 370}},
		{"changed places, and impossible", with(body.Given{"hip_girth": 420, "back_waist_length": 1000, "armscye_depth": 450, "hip_arc_front": 480}), problem, "swap hip_girth back_waist_length", "change them over", map[string]float64{"hip_girth": 1000, "back_waist_length": 420}},
		{"only two", body.Given{"bust_girth": 940, "waist_girth": 80}, look, "pair bust_girth waist_girth", "same unit", nil},
		{"out of proportion", body.Given{"bust_girth": 940, "waist_girth": 900, "back_waist_length": 400, "ear_height": 9000}, look, "large share ear_height", "very large for what else was taken", map[string]float64{"ear_height": 0}},
		{"girth below twice a width", with(body.Given{"back_width": 500}), problem, "girth below twice width bust_girth back_width", "less than twice", map[string]float64{"back_width": 0}},
		{"girth just below twice a width", with(body.Given{"back_width": 475}), look, "girth below twice width bust_girth back_width", "less than twice", nil},
		{"chest below twice a width", with(body.Given{"front_width": 520}), problem, "girth below twice width bust_girth front_width", "less than twice", nil},
		{"no room for arms", with(body.Given{"back_width": 465, "front_width": 460}), look, "no room for arms bust_girth back_width front_width", "no room for the arms", nil},
		{"arcs above the girth", with(body.Given{"belly_arc_front": 600, "belly_arc_back": 420}), problem, "arcs and girth belly_girth belly_arc_front belly_arc_back", "come to 1020 mm", map[string]float64{"belly_girth": 1020}},
		{"arcs a little off", with(body.Given{"belly_arc_front": 500, "belly_arc_back": 370}), look, "arcs and girth belly_girth belly_arc_front belly_arc_back", "come to 870 mm", nil},
		{"arcs of a level of the maker's", with(body.Given{"crop_girth": 800, "crop_arc_front": 500, "crop_arc_back": 400}), problem, "arcs and girth crop_girth crop_arc_front crop_arc_back", "“round the crop”", map[string]float64{"crop_girth": 900}},
		{"a front longer than the girth", with(body.Given{"hip_girth": 600, "hip_arc_front": 601}), problem, "arc above girth hip_girth hip_arc_front", "no less than the whole way round", nil},
		{"an arc longer than the girth", with(body.Given{"hip_girth": 600, "hip_arc_back": 601}), problem, "arc above girth hip_girth hip_arc_back", "no less than the whole way round", map[string]float64{"hip_arc_back": 0}},
		{"levels out of order", with(body.Given{"neck_height": 1460, "waist_height": 900, "hip_height": 1050}), problem, "out of order waist_height hip_height", "lies above", map[string]float64{"hip_height": 0}},
		{"levels out of order, some unknown", with(body.Given{"bust_height": 700, "hip_height": 850}), problem, "out of order bust_height hip_height", "lies above", nil},
		{"crotch above the hips", with(body.Given{"hip_height": 750, "inside_leg": 860}), look, "out of order hip_height inside_leg", "lies above", nil},
		{"nape above the head", with(body.Given{"stature": 1500, "neck_height": 1700}), look, "out of order stature neck_height", "lies above", nil},
		{"belly above the waist", with(body.Given{"waist_height": 1000, "belly_height": 1050}), look, "out of order waist_height belly_height", "below the ribbon", nil},
		{"back shorter than its fall", with(body.Given{"neck_height": 1460, "waist_height": 900}), problem, "shorter than its fall back_waist_length neck_height waist_height", "560 mm", map[string]float64{"back_waist_length": 560 / 0.967}},
		{"back longer than its fall", with(body.Given{"neck_height": 1300, "waist_height": 1080}), look, "longer than its fall back_waist_length neck_height waist_height", "220 mm", nil},
		{"armhole below the waist", with(body.Given{"armscye_depth": 430}), problem, "unit armscye_depth", "below the waist", map[string]float64{"armscye_depth": 430 / 2.54}},
		{"armhole below a short waist", body.Given{"bust_girth": 231, "waist_girth": 238, "back_waist_length": 84, "armscye_depth": 86}, problem, "armhole below waist armscye_depth back_waist_length", "below the waist", map[string]float64{"armscye_depth": 0.38 * 84}},
		{"armhole near the waist", body.Given{"bust_girth": 231, "waist_girth": 238, "back_waist_length": 84, "armscye_depth": 70}, look, "armhole near waist armscye_depth back_waist_length", "close above the waist", nil},
		{"front and back apart", with(body.Given{"front_waist_length": 630, "back_waist_length": 250}), look, "front and back apart front_waist_length back_waist_length", "hardly belong", nil},
		{"belly below the hips", with(body.Given{"waist_to_belly": 300, "waist_to_hip": 200}), look, "belly below hips waist_to_belly waist_to_hip", "well below the hips", nil},
		{"longer than the body", with(body.Given{"stature": 1000, "inside_leg": 700}), look, "longer than the body stature back_waist_length inside_leg", "longer together", nil},
		{"back longer than the body", with(body.Given{"stature": 400}), problem, "", "longer than the whole body", nil},
		{"shoulder steeper than upright", with(body.Given{"shoulder_drop": 86, "shoulder_length": 85}), problem, "steeper than upright shoulder_drop shoulder_length", "cannot fall further", nil},
		{"shoulder as wide as the back", with(body.Given{"shoulder_length": 220, "back_width": 230}), look, "shoulder wider than back shoulder_length back_width", "nearly as long", nil},
		{"neck wider than the bust", with(body.Given{"neck_base_girth": 1000}), look, "", "", nil},
		{"no body at all", bodytest.Scale(person(), 0.004), look, "size", "about 6.8 mm tall", nil},
		{"a giant", bodytest.Scale(person(), 25.4), look, "size", "tall", nil},
	} {
		t.Run(c.about, func(t *testing.T) {
			slips := body.Slips(c.given, nil)
			for _, s := range slips {
				if s.Level != c.level || c.key != "" && s.Key != c.key || !strings.Contains(s.Says, c.says) {
					continue
				}
				for name, want := range c.suggest {
					if got := s.Suggest[name]; got <= 0 || want > 0 && math.Abs(got-want) > 1e-9*want {
						t.Errorf("suggests %g for %s", got, name)
					}
				}
				return
			}
			t.Errorf("not told; told were %v", slips)
		})
	}
}

// What odd bodies have that people have not.
func TestOddIsNoSlip(t *testing.T) {
	quill := body.Given{
		"stature": 360, "bust_girth": 231, "waist_girth": 238, "belly_girth": 258, "hip_girth": 228, "back_waist_length": 84,
		"front_waist_length": 92, "neck_base_girth": 118, "shoulder_length": 24, "back_width": 78, "head_girth": 281,
		"belly_arc_front": 140, "belly_arc_back": 118, "upper_arm_girth": 62, "foot_length": 95,
	}
	longEared := body.Given{
		"stature": 290, "bust_girth": 132, "waist_girth": 112, "belly_girth": 130, "hip_girth": 146, "back_waist_length": 68,
		"neck_base_girth": 66, "shoulder_length": 17, "back_width": 44, "head_girth": 168, "ear_height": 140, "tail_length": 200,
	}
	for about, g := range map[string]body.Given{
		"a person":                        person(),
		"a hedgehog":                      quill,
		"a long-eared figure":             longEared,
		"a hedgehog as large as a house":  bodytest.Scale(quill, 8),
		"three measures":                  {"bust_girth": 231, "waist_girth": 238, "back_waist_length": 84},
		"one measure":                     {"bust_girth": 231},
		"nothing":                         {},
		"a belly rounder than the hips":   with(body.Given{"belly_girth": 1500}),
		"no neck":                         with(body.Given{"neck_base_girth": 700}),
		"a head larger than any opening":  with(body.Given{"head_girth": 1400}),
		"narrow shoulders":                with(body.Given{"shoulder_length": 75}),
		"a seat that hangs":               with(body.Given{"hip_height": 800, "inside_leg": 860}),
		"a head carried low":              with(body.Given{"stature": 1600, "neck_height": 1700}),
		"flat as paper":                   {"bust_girth": 200, "waist_girth": 180, "back_waist_length": 90, "back_width": 100},
		"a front longer than the back":    with(body.Given{"front_waist_length": 620, "belly_girth": 1500}),
		"measures that nobody else knows": with(body.Given{"antler_girth": 3, "wing_length": 9000}),
	} {
		if slips := body.Slips(g, nil); len(slips) > 0 {
			t.Errorf("%s: %s", about, slips[0].Says)
		}
	}
}

// A slip that explains another is told alone.
func TestOneCauseIsToldOnce(t *testing.T) {
	slips := body.Slips(with(body.Given{"back_width": 3700, "bust_arc_back": 450}), nil)
	if len(slips) != 1 || slips[0].Key != "unit back_width" || slips[0].Level != body.Problem || !strings.Contains(slips[0].Says, "less than twice") {
		t.Errorf("told are %v", slips)
	}
}

// Everything said is whole sentences, with the figures as the maker writes them.
func TestSlipsAreSentences(t *testing.T) {
	format := func(mm float64) string { return fmt.Sprintf("%.1f ell", mm/1143) }
	for _, g := range []body.Given{
		with(body.Given{"hip_girth": -1, "waist_girth": 80, "armscye_depth": 500, "back_width": 600, "shoulder_drop": 200}),
		with(body.Given{"shoulder_length": 370, "back_width": 130, "belly_arc_front": 300, "belly_arc_back": 300}),
		with(body.Given{"neck_height": 1000, "waist_height": 1100, "front_waist_length": 90, "waist_to_belly": 300, "waist_to_hip": 100}),
		with(body.Given{"neck_height": 1650, "waist_height": 1000, "hip_arc_front": 1200, "ear_height": 4000, "muzzle_length": 1}),
		{"bust_girth": 940, "waist_girth": 8},
		bodytest.Scale(person(), 0.001),
	} {
		slips := body.Slips(g, format)
		if len(slips) == 0 {
			t.Errorf("nothing is said of %v", g)
		}
		keys := map[string]bool{}
		for _, s := range slips {
			if first := []rune(s.Says)[0]; !unicode.IsUpper(first) || !strings.HasSuffix(s.Says, ".") || strings.Contains(s.Says, "%!") || strings.Contains(s.Says, "_") {
				t.Errorf("no sentence: %s", s.Says)
			}
			if n := strings.Count(s.Says, ". ") + strings.Count(s.Says, ": "); n > 2 {
				t.Errorf("too long: %s", s.Says)
			}
			if !strings.Contains(s.Says, " ell") && !strings.HasPrefix(s.Key, "figure") {
				t.Errorf("no figure as the maker writes it: %s", s.Says)
			}
			if keys[s.Key] || len(s.Measures) == 0 {
				t.Errorf("%s is there twice, or names no measure", s.Key)
			}
			keys[s.Key] = true
		}
	}
}

// The worst come first.
func TestSlipsAreInOrder(t *testing.T) {
	slips := body.Slips(with(body.Given{"back_width": 500, "waist_to_belly": 300, "waist_to_hip": 200, "belly_arc_front": 500, "belly_arc_back": 370}), nil)
	if len(slips) != 3 || slips[0].Level != body.Problem || slips[2].Level != body.LookAgain {
		t.Errorf("told are %v", slips)
	}
}

// Whatever is typed, nothing breaks, and every suggestion is a figure.
func TestSlipsOfAnything(t *testing.T) {
	wild := []float64{0, -1, math.NaN(), math.Inf(1), 5e-324, 1e-9, 1, 1e9, math.MaxFloat64}
	i := 0
	for range 200 {
		g := body.Given{}
		for _, m := range body.Catalogue() {
			if i++; i%3 > 0 {
				g[m.Name] = wild[(i*i/7)%len(wild)]
			}
		}
		for _, s := range body.Slips(g, nil) {
			for name, v := range s.Suggest {
				if !(v > 0) || math.IsInf(v, 0) {
					t.Fatalf("%s suggests %g for %s", s.Key, v, name)
				}
			}
		}
	}
}
