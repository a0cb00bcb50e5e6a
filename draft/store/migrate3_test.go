package store

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

// fixture reads a kept project file.
func fixture(t *testing.T, name string) *draft.Project {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "store", name))
	if err != nil {
		t.Fatal(err)
	}
	p, err := Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What format 2 could say is read as it was: the next format only adds to it.
func TestFormat2IsReadAsItWas(t *testing.T) {
	old, now := fixture(t, "format2.hemlet"), fixture(t, "format3.hemlet")
	for _, p := range now.Pieces {
		p.Stretches, p.Hidden, p.Locked, p.Ghost = nil, false, false, 0
		if p.Derived != nil {
			p.Derived.Rest.Stretches = nil
		}
	}
	front := now.Pieces[0]
	front.Lines = front.Lines[:2]
	front.Spans = append(front.Spans[:2:2], front.Spans[3])
	now.Pieces[1].Darts = nil
	now.Derivations[0].Steps, now.Derivations[0].Stems = nil, nil
	now.NextID = old.NextID
	if d := cmp.Diff(old, now); d != "" {
		t.Errorf("format 2 (-) is read otherwise than format 3 (+):\n%s", d)
	}
}

// What format 3 could say is read as it was: the next format only adds to it.
func TestFormat3IsReadAsItWas(t *testing.T) {
	old, now := fixture(t, "format3.hemlet"), fixture(t, "format4.hemlet")
	now.Origins, now.Pieces[0].Origin = nil, ""
	now.Pictures = now.Pictures[:1]
	pic := now.Pictures[0]
	pic.Place.G, pic.Place.H, pic.Crop, pic.True = 0, 0, nil, nil
	if d := cmp.Diff(old, now); d != "" {
		t.Errorf("format 3 (-) is read otherwise than format 4 (+):\n%s", d)
	}
}

// What format 4 could say is read as it was: the next format only adds to it.
func TestFormat4IsReadAsItWas(t *testing.T) {
	old, now := fixture(t, "format4.hemlet"), fixture(t, "format5.hemlet")
	now.NextID = old.NextID
	now.Seams[0].Opens, now.Seams[0].Lap, now.Seams[0].Marks = false, 0, nil
	now.Pieces[0].Notches[0].Mark = ""
	for i := range now.Pieces[0].Edges {
		now.Pieces[0].Edges[i].Passes = ""
	}
	if d := cmp.Diff(old, now); d != "" {
		t.Errorf("format 4 (-) is read otherwise than format 5 (+):\n%s", d)
	}
}

// What format 5 could say is read as it was: the next format only adds to it.
func TestFormat5IsReadAsItWas(t *testing.T) {
	old, now := fixture(t, "format5.hemlet"), fixture(t, "format6.hemlet")
	now.Notes, now.Versions, now.NextID = nil, nil, old.NextID
	now.Derivations = now.Derivations[:1]
	cape := now.Pieces[1]
	cape.Derived = nil
	spans := cape.Spans
	if n := len(spans) - 1; n >= 0 && spans[n].Way == draft.AcrossGrain {
		cape.Spans = spans[:n]
	}
	if len(cape.Spans) == 0 {
		cape.Spans = nil
	}
	if d := cmp.Diff(old, now); d != "" {
		t.Errorf("format 5 (-) is read otherwise than format 6 (+):\n%s", d)
	}
}

// What format 6 could say is read as it was, but that the origin says what fits said of it.
func TestFormat6IsReadAsItWas(t *testing.T) {
	old, now := fixture(t, "format6.hemlet"), fixture(t, "format7.hemlet")
	now.Origins[0].Under, now.Origins[0].Estimates = nil, nil
	if d := cmp.Diff(old, now); d != "" {
		t.Errorf("format 6 (-) is read otherwise than format 7 (+):\n%s", d)
	}
}

func TestDecodeRefusesBadFitsAndNotes(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "store", "format6.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, says string }{
		{"way", `way = "across grain"`, `way = "sideways"`, `"sideways" is not known`},
		{"source of a block", `kind = "fit"`, `kind = "block"`, "only a fit"},
		{"note without a piece", "[[toile_notes]]\nid = \"j", "[[toile_notes]]\npiece = \"gone\"\nid = \"j", "piece"},
		{"kind of note", `kind = "take in"`, `kind = "shrink"`, `"shrink" is not known`},
		{"share", "at_share = 0.4", "at_share = 4", "place"},
		{"id above the counter", "[[versions]]\nid = \"v", "[[versions]]\nid = \"v9", "counter"},
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

func TestDecodeRefusesBadSeamMarks(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "store", "format5.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, says string }{
		{"no mark", `mark = "k80"`, `mark = "k79"`, `has a mark "k79"`},
		{"of another seam", `shape = "v", double = true},
]
spans`, `shape = "v", double = true, mark = "x1"},
]
spans`, `has a mark "x1"`},
		{"beyond the end", "share = 0.625", "share = 1.5", "place along side a"},
		{"twice", `id = "k81"`, `id = "k80"`, "k80"},
		{"lap of no closing", "opens = true\n", "", "only a seam that opens"},
		{"lap", "lap_mm = 8.5", "lap_mm = -1", "lap"},
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

// A block might have called a piece g19 when the counter gave no ids of that kind.
func TestMigrationCountsIDsOfStretches(t *testing.T) {
	old := strings.Replace(strings.Replace(sample, "format = 7", "format = 2", 1), `"e3"`, `"g19"`, -1)
	for _, c := range []struct {
		counter string
		want    int
	}{{"next_id = 20", 20}, {"next_id = 19", 20}, {"next_id = 10", 20}} {
		p, err := Decode([]byte(strings.Replace(old, "next_id = 20", c.counter, 1)))
		if err != nil {
			t.Errorf("%s: %v", c.counter, err)
			continue
		}
		if p.NextID != c.want {
			t.Errorf("%s: the counter stands at %d, want %d", c.counter, p.NextID, c.want)
		}
	}
	if _, err := Decode([]byte(strings.Replace(old, "g19", "g9223372036854775807", -1))); err == nil {
		t.Error("an id beyond every counter was taken")
	}
	if _, err := Decode([]byte(strings.Replace(old, "next_id = 20", `next_id = "20"`, 1))); err == nil || !strings.Contains(err.Error(), "whole number") {
		t.Errorf("a counter of text: %v", err)
	}
}

func TestDecodeRefusesBadPicturesAndOrigins(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "store", "format4.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, says string }{
		{"lean", "lean_across_per_px = 0.00002", "lean_across_per_px = 5", "lean of the picture"},
		{"unknown way", `by = "frame"`, `by = "eye"`, `"eye" is not known`},
		{"error", "error_mm = 0.12", "error_mm = -1", "error in mm"},
		{"joined to nothing", `joined = {to = "i31"`, `joined = {to = "i63"`, "joined to the picture i63"},
		{"joined to itself", `joined = {to = "i31"`, `joined = {to = "i64"`, "joined to the picture i64"},
		{"no origin", `origin = "o65"`, `origin = "o66"`, `no origin "o66"`},
		{"allowance", "allowance_mm = 6.35", "allowance_mm = -6", "allowance"},
		{"line", `line = "cut"`, `line = "dotted"`, `"dotted" is not known`},
		{"measure twice", `name = "waist_girth", value_mm = 170`, `name = "bust_girth", value_mm = 170`, "each another"},
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

func TestDecodeRefusesBadMarks(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "store", "format3.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, says string }{
		{"unknown fastening", `kind = "buttonholes"`, `kind = "toggles"`, `"toggles" is not known`},
		{"unknown fold", `fold = "tuck"`, `fold = "crease"`, `"crease" is not known`},
		{"unknown treatment", `kind = "gather"`, `kind = "shirr"`, `"shirr" is not known`},
		{"no row", "row = {kind = \"buttonholes\", count = 5, size_mm = 9, first_mm = 6, last_mm = 8.5, across = true}\n", "", "says what is set along it"},
		{"a row elsewhere", `kind = "placement"`, "kind = \"placement\"\nrow = {kind = \"snaps\"}", "this one is placement"},
		{"too many", "count = 5", "count = 1000", "1 to 999"},
		{"infinite size", "size_mm = 9", "size_mm = inf", "size is +Inf"},
		{"ghost", "ghost = 0.35", "ghost = 1.01", "opacity of the ghost"},
		{"ghost of no number", "ghost = 0.35", "ghost = nan", "opacity of the ghost"},
		{"hidden", "hidden = true", "hidden = 1", "true or false is wanted"},
		{"stretch", "from_share = 0.25, to_share = 0.75", "from_share = 0.75, to_share = 0.25", "must end after it starts"},
		{"no act", `act = "split-piece"`, `act = "split-pieces"`, "no act that can be done again"},
		{"an act of the bench", `act = "split-piece"`, `act = "move-nodes"`, "no act that can be done again"},
		{"no pieces", `pieces = ["front", "p48"]`, `pieces = []`, "took and made 0 pieces"},
		{"ids to come", "until_id = 49", "until_id = 490000", "below the project's counter"},
		{"ids backwards", "next_id = 41", "next_id = 50", "must come after"},
		{"an argument twice", `name = "to"`, `name = "from"`, "given twice"},
		{"two stems", `{role = "back"`, `{role = "front"`, "two stems"},
		{"stretch as generated", `kind = "ease", to_share = 0.75`, `kind = "ease", to_share = 2`, "as generated, stretch g63"},
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
