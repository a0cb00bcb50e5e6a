package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft/body"
)

func TestMeasuresAreListed(t *testing.T) {
	text := must(t, "measures")
	var facts struct {
		Measures []measureFacts `json:"measures"`
	}
	if err := json.Unmarshal([]byte(must(t, "measures", "--json")), &facts); err != nil {
		t.Fatal(err)
	}
	if len(facts.Measures) != len(body.Catalogue()) {
		t.Errorf("%d measures, the catalogue has %d", len(facts.Measures), len(body.Catalogue()))
	}
	asked := 0
	for _, m := range facts.Measures {
		if m.Ask > 0 {
			asked++
		}
		if !strings.Contains(text, m.Name+" ") || !strings.Contains(text, m.Words) {
			t.Errorf("%s is not listed", m.Name)
		}
	}
	if asked != 10 {
		t.Errorf("%d are asked for first, and it is to be ten", asked)
	}
}

func TestMeasuringSheetIsWritten(t *testing.T) {
	for _, build := range []string{"upright", "muzzled", "wide"} {
		path := filepath.Join(t.TempDir(), "sheet.pdf")
		must(t, "measures", "--sheet", path, "--build", build, "--paper", "letter")
		if b, err := os.ReadFile(path); err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
			t.Errorf("%s: no PDF is there (%v)", build, err)
		}
	}
}

func TestMeasuringSheetRefused(t *testing.T) {
	for _, args := range [][]string{
		{"--sheet", "sheet.svg"}, {"--sheet", "sheet.pdf", "--build", "tall"}, {"--sheet", "sheet.pdf", "--paper", "roll 36in"},
		{"--sheet", "sheet.pdf", "--paper", "60mm x 80mm"}, {"--sheet", "sheet.pdf", "--json"},
	} {
		dir := t.TempDir()
		args[1] = filepath.Join(dir, args[1])
		code, _, errs := hem(t, append([]string{"measures"}, args...)...)
		if code != exitFailed || errs == "" {
			t.Errorf("%v: code %d, %q", args, code, errs)
		}
		if left, _ := os.ReadDir(dir); len(left) > 0 {
			t.Errorf("%v leaves a file", args)
		}
	}
}
