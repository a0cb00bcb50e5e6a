package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// hem runs the program and returns its exit code and what it printed.
func hem(t *testing.T, args ...string) (code int, out, errs string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code = run(context.Background(), args, &stdout, &stderr)
	return code, stdout.String(), stderr.String()
}

// must runs the program and stops the test if it could not do its work.
func must(t *testing.T, args ...string) string {
	t.Helper()
	code, out, errs := hem(t, args...)
	if code == exitFailed {
		t.Fatalf("hem %s: %s", strings.Join(args, " "), errs)
	}
	return out
}

func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

const squareSVG = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
<path d="M10 10H60V60H10Z"><title>Left</title></path><path d="M100 10H160V60H100Z"><title>Right</title></path></svg>`

type factsOut struct {
	Seams []struct {
		Name  string  `json:"name"`
		A     float64 `json:"a_mm"`
		B     float64 `json:"b_mm"`
		Holds bool    `json:"holds"`
	} `json:"seams"`
	Pieces []struct {
		Name    string  `json:"name"`
		Copies  int     `json:"copies"`
		Area    float64 `json:"area_mm2"`
		CutArea float64 `json:"cut_area_mm2"`
		Edges   []struct {
			Name      string  `json:"name"`
			Length    float64 `json:"length_mm"`
			Allowance float64 `json:"allowance_mm"`
		} `json:"edges"`
	} `json:"pieces"`
	Findings []struct {
		Level string `json:"level"`
		Key   string `json:"key"`
	} `json:"findings"`
}

func check(t *testing.T, project string) (facts factsOut, code int) {
	t.Helper()
	code, out, errs := hem(t, "check", project, "--json")
	if code == exitFailed {
		t.Fatal(errs)
	}
	if err := json.Unmarshal([]byte(out), &facts); err != nil {
		t.Fatal(err)
	}
	return facts, code
}

// The same square read as stitching line and as cut line, with 1/4 in of
// allowance (a usual width for enclosed seams; common practice, no source):
// outside it the cut square is two allowances wider, inside it the stitched
// square that much narrower.
func TestImportTakesTheLineForWhatItIs(t *testing.T) {
	in := write(t, "two.svg", squareSVG)
	const quarter = 25.4 / 4
	for _, tc := range []struct {
		line          string
		stitched, cut float64
	}{
		{"stitch", 50, 50 + 2*quarter},
		{"cut", 50 - 2*quarter, 50},
	} {
		out := filepath.Join(t.TempDir(), "p.hemlet")
		must(t, "import", in, "-o", out, "--line", tc.line, "--allowance", "1/4in")
		facts, _ := check(t, out)
		if len(facts.Pieces) != 2 || facts.Pieces[0].Name != "Left" || facts.Pieces[1].Name != "Right" {
			t.Fatalf("%s: pieces %+v, want Left and Right", tc.line, facts.Pieces)
		}
		left := facts.Pieces[0]
		if math.Abs(left.Area-tc.stitched*tc.stitched) > 1e-3 || math.Abs(left.CutArea-tc.cut*tc.cut) > 1e-3 {
			t.Errorf("%s: areas %g and %g mm², want %g and %g", tc.line, left.Area, left.CutArea, tc.stitched*tc.stitched, tc.cut*tc.cut)
		}
		for _, e := range left.Edges {
			if math.Abs(e.Length-tc.stitched) > 1e-3 || math.Abs(e.Allowance-quarter) > 1e-6 {
				t.Errorf("%s: edge %+v, want %g mm with %g", tc.line, e, tc.stitched, quarter)
			}
		}
	}
}

func TestExitCodesFollowTheFindings(t *testing.T) {
	dir := t.TempDir()
	p := filepath.Join(dir, "p.hemlet")
	must(t, "import", write(t, "two.svg", squareSVG), "-o", p, "--line", "stitch")
	must(t, "do", p, "link-seam", "a=Left.edge 1", "b=Right.edge 3", "name=side", "-o", p)
	facts, code := check(t, p)
	if code != exitDone || len(facts.Seams) != 1 || !facts.Seams[0].Holds {
		t.Errorf("equal edges: exit %d, seams %+v", code, facts.Seams)
	}
	must(t, "do", p, "unlink-seam", "seams=side", "-o", p)
	must(t, "do", p, "link-seam", "a=Left.edge 2", "b=Right.edge 4", "name=side", "ratio=1", "-o", p)
	facts, code = check(t, p)
	if code != exitProblem || facts.Seams[0].Holds {
		t.Errorf("edges of 50 and 60 mm: exit %d, seams %+v", code, facts.Seams)
	}
}

// Whatever cannot be done exits with 2 and one line, and leaves every file alone.
func TestFailuresLeaveTheTargetAlone(t *testing.T) {
	svg := write(t, "two.svg", squareSVG)
	p := filepath.Join(t.TempDir(), "p.hemlet")
	must(t, "import", svg, "-o", p, "--line", "stitch")
	kept := "what was here before"
	for _, args := range [][]string{
		{"import", "missing.svg", "-o", "TARGET.hemlet", "--line", "cut"},
		{"import", svg, "-o", "TARGET.hemlet", "--line", "cut", "--allowance", "6"},
		{"import", svg, "-o", "TARGET.hemlet", "--line", "cut", "--allowance", "40mm"},
		{"import", svg, "-o", "TARGET.hemlet", "--line", "sideways"},
		{"import", svg, "-o", "TARGET.hemlet"},
		{"import", write(t, "bad.svg", "<svg><path d='M0 0"), "-o", "TARGET.hemlet", "--line", "cut"},
		{"import", write(t, "empty.svg", ""), "-o", "TARGET.hemlet", "--line", "cut"},
		{"import", write(t, "bin.svg", "\x00\x01\x02\x03"), "-o", "TARGET.hemlet", "--line", "cut"},
		{"do", p, "no-such-act", "-o", "TARGET.hemlet"},
		{"do", p, "set-allowance", "edges=Left.edge 1", "width=6", "-o", "TARGET.hemlet"},
		{"do", p, "set-allowance", "edges=Left.nothing", "width=6mm", "-o", "TARGET.hemlet"},
		{"do", p, "set-allowance", "edges", "-o", "TARGET.hemlet"},
		{"export", p, "-o", "TARGET.pdf", "--paper", "parchment"},
		{"export", write(t, "no.hemlet", "format = 99"), "-o", "TARGET.svg"},
		{"export", write(t, "deep.hemlet", "a = "+strings.Repeat("[", 1<<20)), "-o", "TARGET.svg"},
		{"export", p, "-o", "TARGET.doc"},
		{"check", write(t, "nan.hemlet", "format = 1\nname = \"x\"\nunit = \"mm\"\nnext_id = nan")},
		{"fly"},
	} {
		dir := t.TempDir()
		target := ""
		args = append([]string(nil), args...)
		for i, a := range args {
			if strings.HasPrefix(a, "TARGET.") {
				target = filepath.Join(dir, a)
				args[i] = target
				if err := os.WriteFile(target, []byte(kept), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
		code, _, errs := hem(t, args...)
		if code != exitFailed || strings.Count(errs, "\n") != 1 || len(errs) < 20 {
			t.Errorf("hem %s: exit %d and said %q; want 2 and one line", strings.Join(args, " "), code, errs)
		}
		if target == "" {
			continue
		}
		if got, err := os.ReadFile(target); err != nil || string(got) != kept {
			t.Errorf("hem %s: the target now reads %q, %v", strings.Join(args, " "), got, err)
		}
		if left, _ := os.ReadDir(dir); len(left) != 1 {
			t.Errorf("hem %s: left %d files behind", strings.Join(args, " "), len(left))
		}
	}
}

// Remarks come with work that is done; a failure says one thing.
func TestRemarksStandOnlyBesideWorkDone(t *testing.T) {
	open := strings.Repeat(`<path d="M0 0H9"/>`, mostRemarks+5)
	odd := write(t, "odd.svg", strings.Replace(squareSVG, "</svg>", open+"</svg>", 1))
	out := filepath.Join(t.TempDir(), "p.hemlet")
	code, _, errs := hem(t, "import", odd, "-o", out, "--line", "stitch")
	if lines := strings.Split(strings.TrimSpace(errs), "\n"); code != exitDone || len(lines) != mostRemarks+1 || lines[mostRemarks] != "and 5 more remarks" {
		t.Errorf("exit %d, and %d lines:\n%s", code, len(lines), errs)
	}
	code, _, errs = hem(t, "import", odd, write(t, "bad.svg", "<svg>"), "-o", out, "--line", "stitch")
	if code != exitFailed || strings.Count(errs, "\n") != 1 {
		t.Errorf("exit %d and said %q; want 2 and one line", code, errs)
	}
}

// What a finding is called can be copied from the check into the act that waives it.
func TestFindingsAreWaivedByTheirKeys(t *testing.T) {
	p := filepath.Join(t.TempDir(), "p.hemlet")
	must(t, "import", write(t, "two.svg", squareSVG), "-o", p, "--line", "stitch")
	_, before, _ := strings.Cut(must(t, "check", p, "--keys"), "key: ")
	key, _, _ := strings.Cut(before, "\n")
	must(t, "do", p, "waive", "finding="+key, "reason=a test", "-o", p)
	if out := must(t, "check", p); !strings.Contains(out, "waived") || !strings.Contains(out, "(a test)") {
		t.Errorf("after waiving %q:\n%s", key, out)
	}
	if facts, _ := check(t, p); facts.Findings[0].Key != key {
		t.Errorf("as JSON the key is %q, not %q", facts.Findings[0].Key, key)
	}
}

// What cannot be understood names the help that explains it.
func TestWrongCommandLinesNameTheirHelp(t *testing.T) {
	for _, c := range []struct {
		args []string
		help string
	}{
		{[]string{"check"}, "hem check --help"}, {[]string{"import", "a.svg"}, "hem import --help"},
		{[]string{"fly"}, "hem --help"}, {[]string{"--fly"}, "hem --help"},
	} {
		if code, _, errs := hem(t, c.args...); code != exitFailed || !strings.Contains(errs, "; "+c.help+" tells") {
			t.Errorf("hem %v: exit %d, %q", c.args, code, errs)
		}
	}
}

// A DXF without a unit is asked about in words that can be typed as they stand.
func TestImportAsksForTheUnit(t *testing.T) {
	in := write(t, "a.dxf", "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\n0\n40\n2\n0\nENDSEC\n0\nEOF\n")
	out := filepath.Join(t.TempDir(), "p.hemlet")
	code, _, errs := hem(t, "import", in, "-o", out, "--line", "stitch")
	if code != exitFailed || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, "does not say what its unit is") || !strings.Contains(errs, "--unit mm") {
		t.Errorf("exit %d: %s", code, errs)
	}
	must(t, "import", in, "-o", out, "--line", "stitch", "--unit", "cm")
	if facts, _ := check(t, out); math.Abs(facts.Pieces[0].Area-math.Pi*400) > 0.1 {
		t.Errorf("a circle of 2 cm has an area of %g mm²", facts.Pieces[0].Area)
	}
}

// What a file calls its things can neither steer the terminal nor fill it.
func TestMessagesAreHarmless(t *testing.T) {
	p := filepath.Join(t.TempDir(), "p.hemlet")
	must(t, "import", write(t, "two.svg", squareSVG), "-o", p, "--line", "stitch")
	text, err := os.ReadFile(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, spoil := range []string{strings.Repeat("x", 1<<20), `a\u001b[31mb\u202ec`} {
		bad := strings.Replace(string(text), `name = "Left"`, `name = "`+spoil+`"`, 1)
		bad = strings.Replace(bad, `kind = "seam"`, `kind = "frill"`, 1)
		code, _, errs := hem(t, "check", write(t, "bad.hemlet", bad))
		if code != exitFailed || strings.Count(errs, "\n") != 1 || len(errs) > 2*longestLine || strings.ContainsAny(errs, "\x1b\u202e") {
			t.Errorf("exit %d: %.300q", code, errs)
		}
		code, out, _ := hem(t, "check", write(t, "odd.hemlet", strings.Replace(string(text), `name = "Left"`, `name = "`+spoil+`"`, 1)))
		if code == exitFailed || strings.ContainsAny(out, "\x1b\u202e") {
			t.Errorf("exit %d: %.300q", code, out)
		}
	}
}

// A defect of the program is never taken for work that is done.
func TestDefectsAreNotSwallowed(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a panic was swallowed")
		}
	}()
	run(context.Background(), []string{"do", "--list"}, brokenWriter{}, brokenWriter{})
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { panic("broken") }

func TestEveryVerbHasHelp(t *testing.T) {
	for _, verb := range []string{"blocks", "draft", "import", "check", "do", "export", "measures", "sample"} {
		code, out, _ := hem(t, verb, "--help")
		if code != exitDone || !strings.Contains(out, "hem "+verb) {
			t.Errorf("hem %s --help: exit %d, printed %q", verb, code, out)
		}
	}
}

func TestEveryActIsListed(t *testing.T) {
	out := must(t, "do", "--list", "--json")
	var list struct {
		Acts []actJSON `json:"acts"`
	}
	if err := json.Unmarshal([]byte(out), &list); err != nil {
		t.Fatal(err)
	}
	text := must(t, "do", "--list")
	for _, a := range list.Acts {
		if a.Says == "" || a.Title == "" || !strings.Contains(text, a.Name+":") {
			t.Errorf("act %+v is not told in full", a)
		}
	}
	if len(list.Acts) < 15 {
		t.Errorf("only %d acts", len(list.Acts))
	}
}

// The sample runs through the main job: every format is written, for every
// purpose, and the seam that the first screen shows is the one real problem.
func TestSampleGoesOutInEveryFormat(t *testing.T) {
	dir := t.TempDir()
	p := filepath.Join(dir, "s.hemlet")
	must(t, "sample", "-o", p)
	facts, code := check(t, p)
	if code != exitProblem {
		t.Errorf("exit %d, want the sample's one problem to be found", code)
	}
	problems := 0
	for _, f := range facts.Findings {
		if f.Level == "problem" {
			problems++
		}
	}
	if problems != 1 {
		t.Errorf("%d problems in the sample, want one", problems)
	}
	for _, args := range [][]string{
		{"-o", filepath.Join(dir, "s.pdf")}, {"-o", filepath.Join(dir, "s.png")},
		{"-o", filepath.Join(dir, "s.svg")}, {"-o", filepath.Join(dir, "l.svg"), "--for", "laser"},
		{"-o", filepath.Join(dir, "s.dxf")}, {"-o", filepath.Join(dir, "d.dxf"), "--dxf", "d6673", "--for", "blade"},
	} {
		must(t, append([]string{"export", p}, args...)...)
		if info, err := os.Stat(args[1]); err != nil || info.Size() < 1000 {
			t.Errorf("%v: %v", args, err)
		}
	}
}

// The report of the checks is written beside what is printed, and its failing leaves no
// file.
func TestCheckWritesItsReport(t *testing.T) {
	project := filepath.Join(t.TempDir(), "sample.hemlet")
	must(t, "sample", "-o", project)
	pdf := filepath.Join(t.TempDir(), "report.pdf")
	out := must(t, "check", project, "--report", pdf, "--paper", "letter")
	if b, err := os.ReadFile(pdf); err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) || !strings.Contains(out, "side") {
		t.Errorf("no report is there (%v)", err)
	}
	for _, args := range [][]string{
		{"check", project, "--report", pdf + ".svg"},
		{"check", project, "--report", pdf + "2.pdf", "--paper", "roll 36in"},
		{"check", project, "--report", filepath.Join(t.TempDir(), "none", "r.pdf")},
	} {
		code, text, errs := hem(t, args...)
		if code != exitFailed || text != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: code %d, %q, %q", args, code, text, errs)
		}
		if _, err := os.Stat(args[3]); err == nil {
			t.Errorf("%v has made a file", args)
		}
	}
}
