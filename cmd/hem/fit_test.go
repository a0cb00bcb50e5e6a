package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft/store"
)

// spanned returns a project of one panel of 300 by 600 mm on which two stretches stand for
// measures, made for a body of 940 mm round the bust and 400 mm from nape to waist.
func spanned(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "panel.hemlet")
	drawing := write(t, "panel.svg", `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="700mm" viewBox="0 0 400 700"><path d="M20 620 L320 620 L320 20 L20 20 Z"><title>Front</title></path></svg>`)
	must(t, "import", drawing, "-o", path, "--line", "stitch", "--allowance", "15mm")
	for i, name := range []string{"hem", "side", "top", "middle"} {
		must(t, "do", path, "name-edge", "edge=Front.edge "+string(rune('1'+i)), "name="+name, "-o", path)
	}
	must(t, "do", path, "add-span", "measure=bust_girth", "share=25%", "edges=Front.hem", "name=width", "-o", path)
	must(t, "do", path, "add-span", "measure=back_waist_length", "edges=Front.side", "name=length", "-o", path)
	must(t, "do", path, "set-origin", "pieces=Front", "line=stitch", "measures=bust_girth=940mm;back_waist_length=400mm;stature=1680mm", "-o", path)
	return path
}

func quillFile(t *testing.T) string {
	return write(t, "quill.toml", "name = \"Quill\"\nunit = \"mm\"\n[measures]\nbust_girth = 231\nwaist_girth = 238\nback_waist_length = 84\nstature = 360\n")
}

func fitFacts(t *testing.T, args ...string) fittedJSON {
	t.Helper()
	var facts fittedJSON
	if err := json.Unmarshal([]byte(must(t, append([]string{"fit", "--json"}, args...)...)), &facts); err != nil {
		t.Fatal(err)
	}
	return facts
}

// The panel becomes as wide and as long as the shares of the measures say: worked out by
// hand, the rule of the spans.
func TestFitPanel(t *testing.T) {
	in, out := spanned(t), filepath.Join(t.TempDir(), "fitted.hemlet")
	facts := fitFacts(t, in, "--wearer", quillFile(t), "-o", out)
	if len(facts.Fits) != 1 || facts.Wearer != "Quill" || len(facts.Drafted) != 0 {
		t.Fatalf("%+v", facts)
	}
	want := map[string]float64{"width": 300 * 231. / 940, "length": 600 * 84. / 400}
	for _, x := range facts.Fits[0].Targets {
		if x.Wants == nil || math.Abs(*x.Wants-want[x.Name]) > 1e-6 || math.Abs(x.Reached-want[x.Name]) > 0.02 || x.Off == nil {
			t.Errorf("%+v, wanted %v", x, want[x.Name])
		}
		if x.Old == nil || x.New == nil || x.Rule != "scaled" || x.OldEstimated {
			t.Errorf("%+v", x)
		}
	}
	p, _, err := store.Load(out)
	if err != nil {
		t.Fatal(err)
	}
	// Of the pattern the edges are what the JSON says.
	if d := p.Pieces[0].EdgeLength(0) - want["width"]; math.Abs(d) > 0.02 {
		t.Errorf("the hem is off by %v", d)
	}
	if w := p.Pieces[0].Edges[1].Allowance.Widest(); w != 15 {
		t.Errorf("its allowance became %v by itself", w)
	}
	if len(facts.Fits[0].Advice) == 0 || facts.Fits[0].Advice[0].Amount == nil {
		t.Errorf("nothing is said of its allowance: %+v", facts.Fits[0].Advice)
	}
}

func TestFitWithTargetsAndScale(t *testing.T) {
	in, out := spanned(t), filepath.Join(t.TempDir(), "fitted.hemlet")
	facts := fitFacts(t, in, "--wearer", quillFile(t), "-o", out, "--target", "Front.length=100mm", "--target", "Front.width=ease 10mm", "--scale")
	want := map[string]float64{"width": 231./4 + 10, "length": 100}
	for _, x := range facts.Fits[0].Targets {
		if math.Abs(x.Reached-want[x.Name]) > 0.02 {
			t.Errorf("%+v, wanted %v", x, want[x.Name])
		}
	}
	for _, e := range facts.Pieces[0].Edges {
		if e.Allowance < 5 || e.Allowance > 6 {
			t.Errorf("%s is left with an allowance of %v", e.Name, e.Allowance)
		}
	}
}

// A measure of the old body that is given counts in place of the one that is noted.
func TestFitMadeFor(t *testing.T) {
	in, out := spanned(t), filepath.Join(t.TempDir(), "fitted.hemlet")
	facts := fitFacts(t, in, "--wearer", quillFile(t), "-o", out, "--made-for", "bust_girth=100cm")
	for _, x := range facts.Fits[0].Targets {
		old := map[string]float64{"width": 1000, "length": 400}[x.Name]
		if x.Old == nil || *x.Old != old {
			t.Errorf("%+v, made for %v", x, old)
		}
	}
	// What that body wore is not forgotten with it.
	clad := filepath.Join(t.TempDir(), "clad.hemlet")
	must(t, "do", in, "set-origin", "pieces=Front", "line=stitch", "measures=bust_girth=94cm;back_waist_length=40cm", "under=shirt=1mm;2mm", "-o", clad)
	facts = fitFacts(t, clad, "--wearer", quillFile(t), "-o", out, "--made-for", "bust_girth=100cm")
	for _, x := range facts.Fits[0].Targets {
		under := map[string]float64{"width": 2 * math.Pi * 3}[x.Name]
		if math.Abs(x.OldUnder-under) > 1e-9 || *x.Old != map[string]float64{"width": 1000, "length": 400}[x.Name] {
			t.Errorf("%+v, worn over %v", x, under)
		}
	}
}

// A second fit is for the second wearer and starts from the pattern as it was.
func TestFitAnew(t *testing.T) {
	in, dir := spanned(t), t.TempDir()
	once, twice := filepath.Join(dir, "once.hemlet"), filepath.Join(dir, "twice.hemlet")
	must(t, "fit", in, "--wearer", quillFile(t), "-o", once)
	other := write(t, "tansy.toml", "name = \"Tansy\"\nunit = \"mm\"\n[measures]\nbust_girth = 470\nback_waist_length = 200\n")
	facts := fitFacts(t, once, "--wearer", other, "-o", twice)
	if len(facts.Fits) != 1 {
		t.Fatalf("%d fits", len(facts.Fits))
	}
	for _, x := range facts.Fits[0].Targets {
		if want := x.Was / 2; math.Abs(x.Reached-want) > 0.02 {
			t.Errorf("%+v, wanted %v", x, want)
		}
	}
}

// Fitted again to the same wearer, it is as it was, and nobody is there twice.
func TestFitTwice(t *testing.T) {
	in, dir, quill := spanned(t), t.TempDir(), quillFile(t)
	out := filepath.Join(dir, "fitted.hemlet")
	must(t, "fit", in, "--wearer", quill, "-o", out)
	once, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	must(t, "fit", out, "--wearer", quill, "-o", out)
	if again, err := os.ReadFile(out); err != nil || string(again) != string(once) {
		t.Errorf("fitted again it is another: %v", err)
	}
	must(t, "fit", out, "--wearer", quill, "--ease", "kept", "-o", out)
	p, _, err := store.Load(out)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(p.Wearers); n != 1 {
		t.Errorf("%d wearers", n)
	}
}

// A drafted block is drafted for the wearer, or, set free, fitted by its stretches.
func TestFitDrafted(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "bodice.hemlet"), filepath.Join(dir, "out.hemlet")
	must(t, "draft", "bodice", "--wearer", filepath.Join("testdata", "four-measures.toml"), "-o", in)
	facts := fitFacts(t, in, "--wearer", quillFile(t), "-o", out)
	if len(facts.Fits) != 0 || len(facts.Drafted) != 1 || facts.Drafted[0] != "Bodice" {
		t.Errorf("%v, %v", facts.Fits, facts.Drafted)
	}
	facts = fitFacts(t, in, "--wearer", quillFile(t), "-o", out, "--free")
	if len(facts.Fits) != 1 || len(facts.Drafted) != 0 || len(facts.Fits[0].Targets) == 0 {
		t.Errorf("free: %v, %v", facts.Fits, facts.Drafted)
	}
}

func TestFitRefuses(t *testing.T) {
	in := spanned(t)
	for _, c := range []struct {
		says string
		args []string
	}{
		{"there is no such file", []string{in, "--wearer", "nobody.toml", "-o", "x.hemlet"}},
		{"piece", []string{in, "--wearer", quillFile(t), "--piece", "Nothing", "-o", "x.hemlet"}},
		{"--target", []string{in, "--wearer", quillFile(t), "--target", "Front.width", "-o", "x.hemlet"}},
		{"--target", []string{in, "--wearer", quillFile(t), "--target", "Front.width=much", "-o", "x.hemlet"}},
		{"ease", []string{in, "--wearer", quillFile(t), "--ease", "some", "-o", "x.hemlet"}},
	} {
		code, _, errs := hem(t, append([]string{"fit"}, c.args...)...)
		if code != exitFailed || !strings.Contains(errs, c.says) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: exit %d, %q", c.args, code, errs)
		}
	}
}

// A fit that distorts its pieces wildly is no success for a script, and that nothing was known
// of the old body is said.
func TestFitWithoutOldBodyIsAProblem(t *testing.T) {
	in, out := spanned(t), filepath.Join(t.TempDir(), "fitted.hemlet")
	must(t, "do", in, "set-origin", "pieces=Front", "line=stitch", "-o", in)
	must(t, "do", in, "set-span", "span=Front.length", "measure=stature", "share=1%", "-o", in)
	code, text, errs := hem(t, "fit", in, "--wearer", quillFile(t), "-o", out)
	if !strings.Contains(errs, "--made-for bust_girth=94cm") {
		t.Errorf("remarks: %q", errs)
	}
	if code != exitProblem || !strings.Contains(text, "Nothing is known of the body that the pattern was made for: 2 stretches") || !strings.Contains(text, "problem     Front: Front is") {
		t.Errorf("exit %d:\n%s", code, text)
	}
}

// That nothing is known of the old body is a problem by itself, however little is distorted,
// and none any more once a measure of it is given.
func TestFitOfAStrangersPattern(t *testing.T) {
	in, out := spanned(t), filepath.Join(t.TempDir(), "fitted.hemlet")
	must(t, "do", in, "set-origin", "pieces=Front", "line=stitch", "-o", in)
	code, text, _ := hem(t, "fit", in, "--wearer", quillFile(t), "-o", out)
	if code != exitProblem || !strings.Contains(text, "problem     Fit for Quill: Nothing is known of the body") {
		t.Errorf("exit %d:\n%s", code, text)
	}
	code, text, errs := hem(t, "fit", in, "--wearer", quillFile(t), "-o", out, "--made-for", "bust_girth=92cm", "--made-for", "back_waist_length=41cm")
	if code == exitFailed || strings.Contains(text, "Nothing is known of the body") || strings.Contains(errs, "--made-for") {
		t.Errorf("exit %d:\n%s%s", code, text, errs)
	}
}
