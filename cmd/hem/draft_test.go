package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/body"
	"hemlet/draft/body/bodytest"
	"hemlet/draft/store"
)

var (
	fourMeasures = filepath.Join("testdata", "four-measures.toml")
	samples      = filepath.Join("..", "..", "assets", "samples")
)

// drafted drafts a block and returns the project's path and what was printed.
func drafted(t *testing.T, args ...string) (path string, facts draftJSON, code int) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "p.hemlet")
	code, out, errs := hem(t, append([]string{"draft", "-o", path, "--json"}, args...)...)
	if code == exitFailed {
		t.Fatalf("hem draft %v: %s", args, errs)
	}
	dec := json.NewDecoder(strings.NewReader(out))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&facts); err != nil {
		t.Fatal(err)
	}
	return path, facts, code
}

// The wearer of whom least is known that a bodice can be drafted for. The girths of
// the garment are those of the body and the ease of the choices, whatever of the
// body is estimated.
func TestDraftFromFourMeasures(t *testing.T) {
	path, facts, code := drafted(t, "bodice", "--wearer", fourMeasures)
	if code != exitDone || facts.Block != "bodice" || facts.Wearer != "Quill" || facts.Unit != "mm" || len(facts.Pieces) != 2 {
		t.Errorf("exit %d, %s for %s in %s, %d pieces", code, facts.Block, facts.Wearer, facts.Unit, len(facts.Pieces))
	}
	taken := map[string]float64{"bust_girth": 231, "waist_girth": 238, "neck_base_girth": 118, "back_waist_length": 84}
	value := make(map[string]float64)
	for _, m := range facts.Measures {
		mm, given := taken[m.Name]
		if m.Estimated == given || (m.By == "") != given || given && m.Value != mm || !(m.Value > 0) {
			t.Errorf("measure %+v", m)
		}
		value[m.Name] = m.Value
	}
	for _, c := range facts.Choices {
		if c.Set || c.ValueMM == nil || c.Value != nil {
			t.Errorf("choice %+v", c)
			continue
		}
		value[c.Name] = *c.ValueMM
	}
	if len(facts.Girths) != 4 {
		t.Errorf("girths %+v", facts.Girths)
	}
	for _, g := range facts.Girths {
		wearer, ease := value[g.Level+"_girth"], value[easeOf(g.Level)]
		if math.Abs(g.Wearer-wearer) > 1e-6 || math.Abs(g.Garment-wearer-ease) > 0.01 || math.Abs(g.Ease-ease) > 0.01 || g.Of != "Bodice" || g.For != "Quill" {
			t.Errorf("%s: garment %g, wearer %g, ease %g; want %g and %g", g.Level, g.Garment, g.Wearer, g.Ease, wearer, ease)
		}
		if _, given := taken[g.Level+"_girth"]; g.Estimated == given {
			t.Errorf("%s: estimated is %v", g.Level, g.Estimated)
		}
	}
	for _, s := range facts.Spans {
		if s.Wants == nil || math.Abs(s.Length-*s.Wants) > 0.01 {
			t.Errorf("span %+v", s)
		}
	}
	again, code := check(t, path)
	if code != exitDone || len(again.Findings) != len(facts.Findings) || len(again.Seams) != len(facts.Seams) {
		t.Errorf("exit %d: the check finds other things than the draft", code)
	}
}

// easeOf names the choice of the bodice for a level.
func easeOf(level string) string {
	if level == "bust" {
		return "ease"
	}
	return "ease_" + level
}

// Every block that comes with Hemlet is drafted for both sample wearers. The
// published ones are for women: for a puppet they say so, or refuse.
func TestDraftEveryBlockForTheSamples(t *testing.T) {
	for _, b := range block.Builtin() {
		for _, wearer := range []string{"quill", "tansy"} {
			body := filepath.Join(samples, wearer+".toml")
			if b.Name == "foundation-1918" {
				out := filepath.Join(t.TempDir(), "out.hemlet")
				if code, _, errs := hem(t, "draft", b.Name, "--wearer", body, "-o", out); code != 2 || !strings.Contains(errs, "speaks of grown women") {
					t.Errorf("%s for %s: exit %d, %s", b.Name, wearer, code, errs)
				}
				continue
			}
			_, facts, code := drafted(t, b.Name, "--wearer", body)
			if b.Source != "" {
				if !says(facts.Findings, "look again", "only a curiosity") {
					t.Errorf("%s for %s does not say whom it is for: %+v", b.Name, wearer, facts.Findings)
				}
				continue
			}
			if code != exitDone {
				t.Errorf("%s for %s: exit %d, %+v", b.Name, wearer, code, facts.Findings)
			}
			quiet(t, b.Name+" for "+wearer, facts)
		}
	}
}

func says(findings []findingJSON, level, words string) bool {
	for _, f := range findings {
		if f.Level == level && strings.Contains(f.Says, words) {
			return true
		}
	}
	return false
}

// quiet reports what should not be found in a fresh draft for a body without slips.
func quiet(t *testing.T, what string, facts draftJSON) {
	t.Helper()
	for _, f := range facts.Findings {
		if f.Level != "note" {
			t.Errorf("%s: %s, %s: %s", what, f.Level, f.About, f.Says)
		}
	}
	for _, s := range facts.Seams {
		if !s.Holds {
			t.Errorf("%s: seam %+v", what, s)
		}
	}
}

// Every body of the ANSUR II survey (2012, public domain) that is kept with the
// project, those with the most unusual proportions among them, whole and as dolls of
// 1:6 and 1:12. What is to be looked at again names the measures that explain it; at
// 1:12 an armhole may also be too tight for the narrowest allowance.
func TestDraftForPeopleAndDolls(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for i, given := range bodytest.Sample(t) {
		for _, scale := range []float64{1, 1. / 6, 1. / 12} {
			what := fmt.Sprintf("body %d, 1:%.0f", i, 1/scale)
			path, facts, code := drafted(t, "bodice", "--wearer", wearerFile(t, what, bodytest.Scale(given, scale)))
			if code != exitDone {
				t.Errorf("%s: exit %d", what, code)
				for _, f := range facts.Findings {
					if f.Level == "problem" {
						t.Errorf("%s: %s: %s", what, f.About, f.Says)
					}
				}
			}
			for _, f := range facts.Findings {
				tight := scale < 0.1 && strings.Contains(f.Says, "tighter than its allowance")
				if f.Level != "note" && len(f.Measures) == 0 && !tight {
					t.Errorf("%s: %s, %s: %s", what, f.Level, f.About, f.Says)
				}
			}
			for _, s := range facts.Seams {
				if !s.Holds {
					t.Errorf("%s: seam %+v", what, s)
				}
			}
			if _, code := check(t, path); code != exitDone {
				t.Errorf("%s: hem check exits with %d", what, code)
			}
		}
	}
}

// wearerFile writes a wearer with the measures.
func wearerFile(t *testing.T, name string, g body.Given) string {
	t.Helper()
	w := &draft.Wearer{Name: name}
	for _, m := range body.Catalogue() {
		if v, ok := g[m.Name]; ok {
			w.Measures = append(w.Measures, draft.Measure{Name: m.Name, Value: v})
		}
	}
	path := filepath.Join(t.TempDir(), "w.toml")
	if err := store.SaveWearer(path, w); err != nil {
		t.Fatal(err)
	}
	return path
}

// A choice is set with its unit; the wearer's unit is that of the project.
func TestDraftWithChoices(t *testing.T) {
	inches := write(t, "w.toml", "name = \"Big\"\nunit = \"in\"\n[measures]\nbust_girth = 37\nwaist_girth = \"75cm\"\nback_waist_length = 15.5\n")
	path, facts, code := drafted(t, "bodice", "--wearer", inches, "--set", "ease=3 1/2in", "--set", "allowance=1.5cm", "--set", "below_waist=0mm")
	if code != exitDone || facts.Unit != "in" {
		t.Errorf("exit %d, unit %s", code, facts.Unit)
	}
	for _, c := range facts.Choices {
		want := map[string]float64{"ease": 88.9, "allowance": 15, "below_waist": 0}
		if mm, set := want[c.Name]; c.Set != set || set && math.Abs(*c.ValueMM-mm) > 1e-9 {
			t.Errorf("choice %+v", c)
		}
	}
	if len(facts.Girths) == 0 || facts.Girths[0].Level != "bust" || math.Abs(facts.Girths[0].Garment-37*25.4-88.9) > 0.01 {
		t.Errorf("girths %+v", facts.Girths)
	}
	if out := must(t, "check", path); !strings.Contains(out, "Bodice 40.5 in, Big 37 in: ease 3.5 in") {
		t.Errorf("the check does not speak in inches:\n%s", out)
	}
}

// A block may lie anywhere; its text travels with the project, and its own choices
// may be numbers.
func TestDraftFromABlockFile(t *testing.T) {
	file := write(t, "apron.toml", apron)
	path, facts, code := drafted(t, file, "--wearer", fourMeasures, "--set", "fullness=2")
	if code != exitDone || facts.Block != "apron" || len(facts.Choices) != 2 || *facts.Choices[1].Value != 2 || *facts.Choices[1].Least != 1 {
		t.Errorf("exit %d, %s, choices %+v", code, facts.Block, facts.Choices)
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	must(t, "do", path, "set-measure", "wearer=Quill", "name=waist_girth", "value=200mm", "-o", path)
	if facts, _ := check(t, path); math.Abs(facts.Pieces[0].Area-200*100) > 1e-6 {
		t.Errorf("half of the waist of 200 mm, doubled, by half of it are 20000 mm², not %g", facts.Pieces[0].Area)
	}
	// Less fullness than the block allows is drafted with what it allows, and told.
	_, facts, code = drafted(t, write(t, "apron.toml", apron), "--wearer", fourMeasures, "--set", "fullness=1/2")
	if code != exitDone || len(facts.Told) != 1 || facts.Told[0].Name != "fullness" || !says(facts.Findings, "look again", "less than this body allows") {
		t.Errorf("exit %d, told %+v", code, facts.Told)
	}
}

// What no block and no list knows is a warning and no error: it may only be misspelt.
func TestDraftWarnsOfStrangers(t *testing.T) {
	w := write(t, "w.toml", string(must1(os.ReadFile(fourMeasures)))+"wiast_girth = 238\nspine_count = 3\ntail_length = 5\nchest_girth = 231\n"+
		"[[levels]]\nname = \"chest\"\nheight_mm = 200\n")
	p := filepath.Join(t.TempDir(), "p.hemlet")
	code, out, errs := hem(t, "draft", "bodice", "--wearer", w, "-o", p)
	want := "w.toml: no block reads the measure wiast_girth; near it: waist_girth"
	if code != exitDone || !strings.HasPrefix(errs, want) || strings.Count(errs, "\n") != 2 || !strings.Contains(errs, "the measure spine_count\n") {
		t.Errorf("exit %d, told %q", code, errs)
	}
	for _, want := range []string{"Bodice for Quill, 2 pieces", "cut 1 on the fold", "bust_girth           231 mm       taken", "estimated by 0.38*back_waist_length",
		"by 0.085*bust_girth", "Not measured, and so estimated"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not printed:\n%s", want, out)
		}
	}
}

func must1[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// A slip of the tape does not stop a draft; the exit code tells of it.
func TestDraftTellsSlips(t *testing.T) {
	w := write(t, "w.toml", "unit = \"mm\"\n[measures]\nbust_girth = 23.1\nwaist_girth = 238\nback_waist_length = 84\nhip_girth = 228\nbelly_girth = 258\n")
	path, facts, code := drafted(t, "bodice", "--wearer", w)
	if code != exitProblem || !says(facts.Findings, "problem", "as if centimetres had been written as millimetres") {
		t.Errorf("exit %d, findings %+v", code, facts.Findings)
	}
	if _, err := os.Stat(path); err != nil {
		t.Error(err)
	}
	if facts.Wearer == "" {
		t.Error("whoever has no name is not given one")
	}
}

// What was drafted goes out in every format.
func TestDraftGoesOut(t *testing.T) {
	path, _, _ := drafted(t, "bodice", "--wearer", filepath.Join(samples, "quill.toml"))
	for _, args := range [][]string{
		{"o.pdf"}, {"o.svg"}, {"l.svg", "--for", "laser"}, {"o.dxf"}, {"d.dxf", "--dxf", "d6673", "--for", "blade"}, {"o.png"},
	} {
		out := filepath.Join(t.TempDir(), args[0])
		must(t, append([]string{"export", path, "-o", out}, args[1:]...)...)
		if info, err := os.Stat(out); err != nil || info.Size() < 1000 {
			t.Errorf("%v: %v", args, err)
		}
	}
}

// Whatever cannot be drafted exits with 2 and one line that says what would mend it.
func TestDraftFailures(t *testing.T) {
	few := write(t, "few.toml", "unit = \"mm\"\n[measures]\nbust_girth = 231\n")
	file := write(t, "b.toml", strings.Replace(apron, "above(a,", "above(z,", 1))
	stops := write(t, "c.toml", apron+"[[checks]]\nname = \"small\"\nholds = \"waist_girth < 9*mm\"\nsays = \"Only for the smallest.\"\nguard = true\n")
	fails := write(t, "d.toml", strings.Replace(apron, `"above(b, lap_length)"`, `"above(b, leg(1*mm, lap_length))"`, 1))
	folder := own(t, map[string]string{"broken.toml": strings.Replace(apron, "above(a,", "above(z,", 1)})
	for _, tc := range []struct {
		args []string
		want string
	}{
		{[]string{"bodcie", "--wearer", fourMeasures}, `there is no block "bodcie"; there is bodice`},
		{[]string{"bodice", "--wearer", "missing.toml"}, "missing.toml: there is no such file"},
		{[]string{"bodice", "--wearer", few}, "needs round the waist (waist_girth) and nape to waist (back_waist_length)"},
		{[]string{"bodice", "--wearer", write(t, "n.toml", "[measures]\nbust_girth = 231\n")}, "n.toml: line 2: measures.bust_girth: the file does not say the unit"},
		{[]string{"bodice", "--wearer", write(t, "z.toml", "unit = \"mm\"\n[measures]\nbust_girth = 0\n")}, "measures.bust_girth"},
		{[]string{"bodice", "--wearer", write(t, "d.toml", "a = "+strings.Repeat("[", 1<<16))}, "d.toml"},
		{[]string{"bodice"}, "--wearer"},
		{[]string{"--wearer", fourMeasures}, "block"},
		{[]string{"bodice", "--wearer", fourMeasures, "--set", "easy=9mm"}, `has no choice "easy"; it has ease`},
		{[]string{"bodice", "--wearer", fourMeasures, "--set", "ease=9"}, "9 has no unit"},
		{[]string{"bodice", "--wearer", fourMeasures, "--set", "ease"}, "is no choice"},
		{[]string{"bodice", "--wearer", fourMeasures, "--set", "ease=9mm", "--set", "ease=8mm"}, "given twice"},
		{[]string{"./missing.toml", "--wearer", fourMeasures}, "missing.toml: the block cannot be read: there is no such file"},
		{[]string{t.TempDir() + "/", "--wearer", fourMeasures}, "it is no file"},
		{[]string{file, "--wearer", fourMeasures}, "b.toml line 31: steps.d: “above(z, lap_length)”"},
		{[]string{stops, "--wearer", fourMeasures}, "Only for the smallest"},
		{[]string{fails, "--wearer", fourMeasures}, "hem: d.toml line 28: steps.c: “above(b, leg(1*mm, lap_length))”"},
		{[]string{fails, "--wearer", fourMeasures}, "(drafted for " + filepath.Base(fourMeasures) + ")"},
		{[]string{"apron", "--wearer", fourMeasures, "--folder", folder}, "broken.toml has a mistake in line 31: steps.d"},
		{[]string{"broken", "--wearer", fourMeasures, "--folder", folder}, "broken.toml line 31: steps.d"},
		{[]string{"bodice", "--wearer", fourMeasures, "--folder", "nowhere"}, "there is no such folder"},
	} {
		dir := t.TempDir()
		target := filepath.Join(dir, "p.hemlet")
		for _, kept := range []string{"", "what was here before"} {
			if kept != "" {
				if err := os.WriteFile(target, []byte(kept), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			code, _, errs := hem(t, append([]string{"draft", "-o", target}, tc.args...)...)
			if code != exitFailed || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, tc.want) {
				t.Errorf("hem draft %v: exit %d and said %q; want 2 and %q", tc.args, code, errs, tc.want)
			}
			if got, _ := os.ReadFile(target); string(got) != kept {
				t.Errorf("hem draft %v: the target now reads %q", tc.args, got)
			}
		}
	}
	if code, _, errs := hem(t, "draft", "bodice", "--wearer", fourMeasures, "-o", filepath.Join(t.TempDir(), "p.pdf")); code != exitFailed || !strings.Contains(errs, ".hemlet") {
		t.Errorf("exit %d, %q", code, errs)
	}
}
