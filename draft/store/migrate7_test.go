package store

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

// fit6 returns the fixture of format 6 with other lines in the places of its fit: of what the
// fit reads, how it is set, and which origin its piece has.
func fit6(t *testing.T, inputs, settings, more string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "store", "format6.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	s := string(text)
	for _, c := range [][2]string{
		{"kind = \"fit\"\ninputs = [\"w1\"]\nsettings = [\n", "kind = \"fit\"\ninputs = [" + inputs + "]\nsettings = [\n" + settings},
		{"name = \"Collar\"\nlayer = \"lining\"\ncut = \"pairs\"\ncount = 2\nhidden = true\nghost = 0.35\ndarts", "name = \"Collar\"\nlayer = \"lining\"\ncut = \"pairs\"\norigin = \"o65\"\ncount = 2\nhidden = true\nghost = 0.35\ndarts"},
		{"[[toile_notes]]", more + "[[toile_notes]]"},
	} {
		if !strings.Contains(s, c[0]) {
			t.Fatalf("the fixture has no %q", c[0])
		}
		s = strings.Replace(s, c[0], c[1], 1)
	}
	return s
}

const (
	underSetting    = `  {name = "under o65", value = "1.5mm"},` + "\n"
	estimateSetting = `  {name = "estimate o65/front_waist_length", value = "back_waist_length*0.9"},` + "\n"
)

var (
	underOf6    = []draft.Worn{{Thickness: 1.5}}
	estimateOf6 = []draft.OriginEstimate{{Measure: "front_waist_length", Formula: "back_waist_length*0.9"}}
)

// What a fit of format 6 says of what was worn and of estimates is said by the origin, and
// the fit keeps what else it says, in its order.
func TestMigrationMovesWhatFitsSayOfOrigins(t *testing.T) {
	p, err := Decode([]byte(fit6(t, `"w1", "o65"`, `  {name = "keep", value = "widths"},`+"\n"+underSetting+estimateSetting, "")))
	if err != nil {
		t.Fatal(err)
	}
	o := p.Origin("o65")
	if d := cmp.Diff(underOf6, o.Under); d != "" {
		t.Errorf("what was worn (- wanted, + read):\n%s", d)
	}
	if d := cmp.Diff(estimateOf6, o.Estimates); d != "" {
		t.Errorf("estimates (- wanted, + read):\n%s", d)
	}
	want := []draft.Setting{{Name: "keep", Value: "widths"}, {Name: "ease", Value: "kept"}}
	if d := cmp.Diff(want, p.Derivation("r82").Settings); d != "" {
		t.Errorf("settings (- wanted, + read):\n%s", d)
	}
	if len(p.Origins) != 1 || len(o.Measures) != 2 || p.Pieces[1].Origin != "o65" {
		t.Errorf("there are %d origins, the first with %d measures, and the piece comes from %q", len(p.Origins), len(o.Measures), p.Pieces[1].Origin)
	}
	again, err := Decode(Encode(p))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p, again); d != "" {
		t.Errorf("written and read again (-, +):\n%s", d)
	}
}

// A second fit that says something else of the same origin gets one of its own.
func TestMigrationPartsOriginsOfWhichFitsDiffer(t *testing.T) {
	second := func(settings string) string {
		return "[[derivations]]\nid = \"r84\"\nkind = \"fit\"\ninputs = [\"w1\", \"o65\"]\nsettings = [\n" + settings + "]\n\n"
	}
	for _, c := range []struct {
		name, first, second string
		origins             int
	}{
		{"the same", underSetting + estimateSetting, underSetting + estimateSetting, 1},
		{"nothing", "", "", 1},
		{"nothing of the second", underSetting, "", 2},
		{"nothing of the first", "", underSetting, 2},
	} {
		p, err := Decode([]byte(fit6(t, `"w1", "o65"`, c.first, second(c.second))))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if len(p.Origins) != c.origins {
			t.Errorf("%s: there are %d origins", c.name, len(p.Origins))
			continue
		}
		of := func(fit draft.ID) *draft.Origin { return p.Origin(p.Derivation(fit).Inputs[1]) }
		if got, want := of("r82").WornUnder() > 0, c.first != ""; got != want {
			t.Errorf("%s: the first wore something: %v", c.name, got)
		}
		if got, want := of("r84").WornUnder() > 0, c.second != ""; got != want {
			t.Errorf("%s: the second wore something: %v", c.name, got)
		}
		if p.Pieces[1].Origin != "o65" || len(of("r84").Measures) != 2 || of("r84").Name != of("r82").Name {
			t.Errorf("%s: the piece of the first comes from %s, the second from %+v", c.name, p.Pieces[1].Origin, of("r84"))
		}
		if c.origins > 1 && string(of("r84").ID) == "o65" {
			t.Errorf("%s: the second reads the origin of the first", c.name)
		}
	}
	// The piece of a fit goes with it.
	moved := strings.Replace(fit6(t, `"w1", "o65"`, "", "[[derivations]]\nid = \"r84\"\nkind = \"fit\"\ninputs = [\"w1\", \"o65\"]\nsettings = [\n"+underSetting+"]\n\n"), `derivation = "r82"`, `derivation = "r84"`, 1)
	p, err := Decode([]byte(moved))
	if err != nil {
		t.Fatal(err)
	}
	if o := p.Origin(p.Pieces[1].Origin); o.ID == "o65" || o.WornUnder() != 1.5 || p.Pieces[0].Origin != "o65" {
		t.Errorf("the pieces come from %s and %+v", p.Pieces[0].Origin, o)
	}
}

// What is said of an origin that is not there is dropped, and what cannot be read stays with
// the fit, which says so.
func TestMigrationOfBadSettings(t *testing.T) {
	for _, c := range []struct {
		setting string
		stays   bool
	}{
		{`{name = "under o99", value = "2mm"}`, false},
		{`{name = "estimate o99/bust_girth", value = "2*mm"}`, false},
		{`{name = "under o65", value = "-2mm"}`, true},
		{`{name = "under o65", value = "much"}`, true},
		{`{name = "estimate o65", value = "2*mm"}`, true},
	} {
		p, err := Decode([]byte(fit6(t, `"w1", "o65"`, "  "+c.setting+",\n", "")))
		if err != nil {
			t.Errorf("%s: %v", c.setting, err)
			continue
		}
		if o := p.Origin("o65"); len(o.Under)+len(o.Estimates) > 0 {
			t.Errorf("%s: the origin says %v and %v", c.setting, o.Under, o.Estimates)
		}
		if got := len(p.Derivation("r82").Settings) > 1; got != c.stays {
			t.Errorf("%s: it stays: %v", c.setting, got)
		}
	}
}

func TestDecodeRefusesBadOrigins(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "store", "format7.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, says string }{
		{"thickness", "thickness_mm = 1.5", "thickness_mm = -1.5", "thickness"},
		{"no formula", `formula = "back_waist_length - neck_base_girth/8"`, `formula = ""`, "formula"},
		{"no measure", `{measure = "front_waist_length", `, `{`, "measure"},
		{"twice", "estimates = [\n", "estimates = [\n  {measure = \"front_waist_length\", formula = \"2*mm\"},\n", "each another"},
	} {
		if !strings.Contains(string(text), c.old) {
			t.Fatalf("%s: the fixture has no %q", c.name, c.old)
		}
		_, err := Decode([]byte(strings.Replace(string(text), c.old, c.new, 1)))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.says)
		}
	}
}
