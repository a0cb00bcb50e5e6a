package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hemlet/draft/block"
)

// TestMain keeps the blocks of whoever runs the tests out of them.
func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "hem")
	if err != nil {
		panic(err)
	}
	for _, name := range []string{"XDG_CONFIG_HOME", "HOME", "AppData"} {
		os.Setenv(name, dir)
	}
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

func blocksJSON(t *testing.T, args ...string) map[string]blockJSON {
	t.Helper()
	var list struct {
		Blocks []blockJSON `json:"blocks"`
	}
	dec := json.NewDecoder(strings.NewReader(must(t, append([]string{"blocks", "--json"}, args...)...)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&list); err != nil {
		t.Fatal(err)
	}
	blocks := make(map[string]blockJSON)
	for _, b := range list.Blocks {
		blocks[b.Name] = b
	}
	return blocks
}

// What scripts are promised of the bodice: what it cannot do without, and what it
// takes when it is given.
func TestBlocksTellWhatTheBodiceReads(t *testing.T) {
	blocks := blocksJSON(t)
	for _, b := range block.Builtin() {
		if blocks[b.Name].Title != b.Title {
			t.Errorf("%s is not listed", b.Name)
		}
	}
	bodice := blocks["bodice"]
	needed := []string{}
	takes := make(map[string]bool)
	for _, m := range bodice.Measures {
		takes[m.Name] = true
		if m.Needed {
			needed = append(needed, m.Name)
		} else if len(m.Estimates) == 0 {
			t.Errorf("it is not told how %s is estimated", m.Name)
		}
		if m.Says == "" || m.Words == "" {
			t.Errorf("nothing is told about %s", m.Name)
		}
	}
	if want := []string{"bust_girth", "waist_girth", "back_waist_length"}; !slices.Equal(needed, want) {
		t.Errorf("it needs %v, and is to need %v", needed, want)
	}
	for _, name := range strings.Fields("hip_girth belly_girth neck_base_girth shoulder_length back_width front_width front_waist_length " +
		"armscye_depth upper_arm_girth head_girth bust_arc_front waist_arc_front belly_arc_front bust_arc_back waist_arc_back belly_arc_back") {
		if !takes[name] {
			t.Errorf("it does not take %s", name)
		}
	}
	for _, c := range bodice.Choices {
		if c.Default == "" || c.Title == "" || c.Kind != "length" {
			t.Errorf("choice %+v is not told in full", c)
		}
	}
	if len(bodice.Choices) < 5 || !slices.Equal(bodice.Pieces, []string{"front", "back"}) {
		t.Errorf("choices %+v, pieces %v", bodice.Choices, bodice.Pieces)
	}
}

func TestBlocksAreListedForPeople(t *testing.T) {
	all := must(t, "blocks")
	for _, b := range block.Builtin() {
		one := must(t, "blocks", b.Name)
		if !strings.Contains(all, b.Name+": "+b.Title) || !strings.Contains(one, b.Says) {
			t.Errorf("%s is not told of", b.Name)
		}
		for _, c := range b.Choices() {
			if !strings.Contains(one, c.Name) || !strings.Contains(one, "else "+c.Default) {
				t.Errorf("%s: nothing is told of the choice %s", b.Name, c.Name)
			}
		}
		for _, name := range b.Wants() {
			if !strings.Contains(all, name) || !strings.Contains(one, name) {
				t.Errorf("%s: nothing is told of the measure %s", b.Name, name)
			}
		}
	}
}

// apron is a block that a person has written: a square as wide as half the waist and
// as long as a measure that only it knows.
const apron = `format = 1
name = "apron"
title = "Apron"
says = "A plain apron."
[[measures]]
name = "waist_girth"
needed = true
[[measures]]
name = "lap_length"
words = "waist down over the lap"
how = "Sit."
estimate = "waist_girth/2"
[[choices]]
name = "allowance"
default = "4*mm"
[[choices]]
name = "fullness"
default = "1.5"
least = "1"
[[steps]]
name = "a"
is = "at(0*mm, 0*mm)"
[[steps]]
name = "b"
is = "right(a, fullness*waist_girth/2)"
[[steps]]
name = "c"
is = "above(b, lap_length)"
[[steps]]
name = "d"
is = "above(a, lap_length)"
[[pieces]]
role = "apron"
title = "Apron"
[[pieces.edges]]
name = "hem"
kind = "hem"
path = ["a"]
[[pieces.edges]]
name = "right"
kind = "hem"
path = ["b"]
[[pieces.edges]]
name = "waist"
kind = "seam"
path = ["c"]
[[pieces.edges]]
name = "left"
kind = "hem"
path = ["d"]
`

// own returns a folder with blocks of a person's own.
func own(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A file that is no block is told by its file, line and key, and keeps nothing else
// from being listed.
func TestBlocksOfOnesOwn(t *testing.T) {
	dir := own(t, map[string]string{
		"apron.toml":  apron,
		"broken.toml": strings.Replace(strings.Replace(apron, `"apron"`, `"broken"`, 1), "above(a,", "above(z,", 1),
		"bag.toml":    strings.Replace(apron, `name = "apron"`, `name = "drawstring-bag"`, 1),
	})
	code, out, errs := hem(t, "blocks", "--folder", dir)
	if code != exitDone || !strings.Contains(out, "apron: Apron") || !strings.Contains(out, "bodice: Bodice") {
		t.Errorf("exit %d, printed %q", code, out)
	}
	for _, want := range []string{"broken.toml line 31: steps.d: ", "bag.toml takes the place of the built-in block drawstring-bag"} {
		if !strings.Contains(errs, want) {
			t.Errorf("%q does not tell %q", errs, want)
		}
	}
	if strings.Count(errs, "\n") != 2 {
		t.Errorf("not a line for each file: %q", errs)
	}
	lap := blocksJSON(t, "--folder", dir)["apron"].Measures[1]
	if lap.Name != "lap_length" || lap.Words != "waist down over the lap" || lap.Says != "Sit." || !slices.Equal(lap.Estimates, []string{"waist_girth/2"}) {
		t.Errorf("a measure of its own is told as %+v", lap)
	}
}

// Without a folder named it is the one that the window opens.
func TestBlocksOfTheUsersFolder(t *testing.T) {
	dir, err := block.UserFolder()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	if err := os.WriteFile(filepath.Join(dir, "apron.toml"), []byte(apron), 0o600); err != nil {
		t.Fatal(err)
	}
	if out := must(t, "blocks"); !strings.Contains(out, "apron: Apron") || !strings.Contains(out, dir) {
		t.Errorf("printed %q", out)
	}
	p := filepath.Join(t.TempDir(), "p.hemlet")
	must(t, "draft", "apron", "--wearer", fourMeasures, "-o", p)
	if facts, _ := check(t, p); len(facts.Pieces) != 1 || facts.Pieces[0].Name != "Apron" {
		t.Errorf("pieces %+v", facts.Pieces)
	}
}

// Where there can be no folder ours are there all the same.
func TestBlocksWithoutAFolder(t *testing.T) {
	for _, name := range []string{"XDG_CONFIG_HOME", "HOME", "AppData"} {
		t.Setenv(name, "")
	}
	code, out, errs := hem(t, "blocks")
	if code != exitDone || !strings.Contains(out, "bodice: ") || strings.Count(errs, "\n") != 1 {
		t.Errorf("exit %d, %q, %q", code, out, errs)
	}
}
