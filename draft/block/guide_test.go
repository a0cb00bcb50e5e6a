package block

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"hemlet/draft/body"
	"hemlet/draft/formula"
)

var update = flag.Bool("update", false, "write the tables of the guide anew")

const (
	guideFile     = "../../DEVELOPERS.md"
	referenceFile = "../../assets/blocks/README.md"
)

// TestGuideTables holds the tables of the reference to the program.
func TestGuideTables(t *testing.T) {
	text, err := os.ReadFile(referenceFile)
	if err != nil {
		t.Fatal(err)
	}
	page := string(text)
	for name, table := range map[string]string{"keys": keyTables(), "functions": functionTables(), "measures": measureTable()} {
		old := part(t, page, name)
		if old == table {
			continue
		}
		if !*update {
			t.Errorf("the table of %s is not what the program has; write it anew with -update", name)
			continue
		}
		mark := "<!-- " + name + " -->\n"
		page = strings.Replace(page, mark+old, mark+table, 1)
	}
	if *update {
		if err := os.WriteFile(referenceFile, []byte(page), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// part returns what stands between <!-- name --> and <!-- end -->.
func part(t *testing.T, page, name string) string {
	t.Helper()
	_, rest, ok := strings.Cut(page, "<!-- "+name+" -->\n")
	inside, _, ended := strings.Cut(rest, "<!-- end -->")
	if !ok || !ended {
		t.Fatalf("the page has no part %q", name)
	}
	return inside
}

// cell makes a text fit for a table.
func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

func keyTables() string {
	var b strings.Builder
	for _, s := range Vocabulary() {
		heading := "At the top"
		if s.Heading != "" {
			heading = "`" + s.Heading + "`"
		}
		fmt.Fprintf(&b, "\n### %s\n\n%s\n\n| key | takes | |\n| --- | --- | --- |\n", heading, s.Says)
		for _, k := range s.Keys {
			name := "`" + k.Name + "`"
			if k.Needed {
				name = "**" + name + "**"
			}
			fmt.Fprintf(&b, "| %s | %s | %s |\n", name, cell(k.Takes), cell(k.Says))
		}
	}
	b.WriteString("\nKeys in bold must be there.\n\n")
	return b.String()
}

func functionTables() string {
	var b strings.Builder
	group := ""
	for _, f := range formula.Functions() {
		if f.Group != group {
			group = f.Group
			fmt.Fprintf(&b, "\n### %s\n\n| write | with | makes | |\n| --- | --- | --- | --- |\n", group)
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", f.Call(), cell(argumentText(f)), kindsText(f.Gives), cell(f.Says))
	}
	b.WriteString("\n")
	return b.String()
}

// argumentText lists the arguments by their kinds: "p, q point; d length".
func argumentText(f formula.FunctionInfo) string {
	var parts []string
	var names []string
	kinds := ""
	flush := func() {
		if len(names) > 0 {
			parts = append(parts, strings.TrimSpace(strings.Join(names, ", ")+" "+kinds))
		}
		names = nil
	}
	for _, a := range f.Args {
		k := kindsText(a.Kinds)
		if len(a.Kinds) == 0 {
			k = "the name of a measure"
		}
		if k != kinds {
			flush()
		}
		kinds, names = k, append(names, a.Name)
	}
	flush()
	return strings.Join(parts, "; ")
}

func kindsText(kinds []formula.Kind) string {
	words := make([]string, len(kinds))
	for i, k := range kinds {
		words[i] = k.String()
	}
	return or(words)
}

func measureTable() string {
	var b strings.Builder
	b.WriteString("\n| name | in words | how it is taken |\n| --- | --- | --- |\n")
	for _, m := range body.Catalogue() {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", m.Name, cell(m.Words), cell(m.How))
	}
	b.WriteString("\n")
	return b.String()
}

// guideBlock returns the text of the block that the guide lets people copy.
func guideBlock(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(guideFile)
	if err != nil {
		t.Fatal(err)
	}
	code, isCode := strings.CutPrefix(part(t, string(text), "apron"), "```toml\n")
	code, ended := strings.CutSuffix(code, "```\n")
	if !isCode || !ended {
		t.Fatal("the block of the guide is not in a fence")
	}
	return code
}

// The block of the guide is sound, drafts for the puppet, a doll and a person, and
// its lengths are what the guide says (by hand).
func TestGuideBlockDrafts(t *testing.T) {
	dir := folder(t, map[string]string{"apron.toml": guideBlock(t)})
	l, err := Folder(dir)
	if err != nil {
		t.Fatal(err)
	}
	b, err := l.Named("apron")
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range []body.Given{quill, {"waist_girth": 70}, {"waist_girth": 1400, "stature": 1900}} {
		s := draft(t, b, g, nil)
		sound(t, s)
		for _, p := range s.Pieces {
			if err := pathOf(p.Edges).Simple(); err != nil {
				t.Errorf("%s: %v", p.Role, err)
			}
		}
		seam := s.Seams[0]
		full, plain := runLength(s, seam.A), runLength(s, seam.B)
		if math.Abs(full-seam.Ratio*plain) > 1e-6 || seam.Ratio != 1.5 {
			t.Errorf("gathers: %v on %v, ratio %v", full, plain, seam.Ratio)
		}
		if want := g["waist_girth"] / 2; math.Abs(plain-want) > 1e-9 {
			t.Errorf("the band is %v, not %v", plain, want)
		}
		if len(s.Told) > 0 {
			t.Errorf("told %+v", s.Told)
		}
	}
	if _, err := b.Draft(nil, nil); err == nil || err.Error() != "the block Apron needs "+body.Words("waist_girth")+" (waist_girth); measure and draft again" {
		t.Errorf("%v", err)
	}
}
