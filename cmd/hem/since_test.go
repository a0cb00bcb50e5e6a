package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What was printed for a toile is printed again only where it shows something else.
func TestExportSince(t *testing.T) {
	dir := t.TempDir()
	p, pdf := filepath.Join(dir, "p.hemlet"), filepath.Join(dir, "p.pdf")
	must(t, "sample", "-o", p)
	must(t, "do", p, "keep-version", "name=first toile", "-o", p)
	code, _, errs := hem(t, "export", p, "-o", pdf, "--since", "first toile")
	if code != exitFailed || !strings.Contains(errs, "nothing that is printed has changed since “first toile”") {
		t.Errorf("without a change: %d %s", code, errs)
	}
	if _, err := os.Stat(pdf); err == nil {
		t.Error("a file was written")
	}
	facts, _ := check(t, p)
	piece := facts.Pieces[0]
	must(t, "do", p, "move-nodes", `nodes="`+piece.Name+`"."`+piece.Edges[0].Name+`"/start`, "by=0mm,-2mm", "-o", p)
	code, out, errs := hem(t, "export", p, "-o", pdf, "--since", "first toile")
	if code != 0 || !strings.Contains(out, "1 page") || !strings.Contains(errs, "as printed with “first toile”") {
		t.Errorf("%d %s %s", code, out, errs)
	}
	for says, args := range map[string][]string{
		"there is no version":     {"export", p, "-o", pdf, "--since", "second"},
		"goes with a PDF for the": {"export", p, "-o", filepath.Join(dir, "p.svg"), "--since", "first toile"},
	} {
		if code, _, errs := hem(t, args...); code != exitFailed || !strings.Contains(errs, says) {
			t.Errorf("%v: %d %s", args, code, errs)
		}
	}
}
