package export

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"hemlet/draft/body"
	"hemlet/draft/figure"
)

// sheetFile writes a measuring sheet and returns its path.
func sheetFile(t *testing.T, s MeasuringSheet) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := WriteMeasuringSheet(path, s); err != nil {
		t.Fatal(err)
	}
	return path
}

// What pdftotext (poppler) reads from the sheet: every measure that is asked for is
// there with its words, and every number once in the list and once on the figure.
func TestMeasuringSheetAsksForEverything(t *testing.T) {
	for _, b := range figure.Builds() {
		path := sheetFile(t, MeasuringSheet{Build: b})
		first := words(run(t, "pdftotext", "-l", "1", path, "-"))
		both := words(run(t, "pdftotext", path, "-"))
		f := newForm(b, pen{}, 1)
		for _, m := range f.asked {
			if !strings.Contains(first, capital(m.Words)) || !strings.Contains(first, words([]byte(m.How))) {
				t.Errorf("%s: the first page does not ask for %q", b, m.Words)
			}
		}
		for _, m := range append(f.asked, f.rest...) {
			n := strconv.Itoa(f.number[m.Name])
			if got := len(regexp.MustCompile(`\b`+n+`\b`).FindAllString(both, -1)); got < 2 {
				t.Errorf("%s: number %s of %q stands %d times on the sheet", b, n, m.Words, got)
			}
		}
	}
}

// words returns a text with every run of blanks as one.
func words(text []byte) string { return strings.Join(strings.Fields(string(text)), " ") }

// Only the figure with a tail is asked for the measures of a tail.
func TestMeasuringSheetLeavesOutWhatIsNotThere(t *testing.T) {
	has := func(b figure.Build, name string) bool {
		for _, m := range newForm(b, pen{}, 1).rest {
			if m.Name == name {
				return true
			}
		}
		return false
	}
	for _, name := range []string{"tail_girth", "tail_length", "ear_height"} {
		if has(figure.Upright, name) || !has(figure.Muzzled, name) {
			t.Errorf("%s: upright %v, muzzled %v", name, has(figure.Upright, name), has(figure.Muzzled, name))
		}
	}
	for _, m := range body.Catalogue() {
		if m.Ask == 0 && !levelMeasure(m.Name) && !has(figure.Muzzled, m.Name) {
			t.Errorf("%s has no place on any sheet", m.Name)
		}
	}
}

// The pages have the size of the paper, as pdfinfo reads it: A4 of ISO 216, and the
// letter of ANSI/ASME Y14.1, in points of 1/72 in.
func TestMeasuringSheetFitsItsPaper(t *testing.T) {
	size := regexp.MustCompile(`Page\s+\d+ size:\s+([0-9.]+) x ([0-9.]+)`)
	for name, want := range map[string][2]float64{"a4": {210, 297}, "letter": {215.9, 279.4}, "a3 landscape": {420, 297}, "148mm x 210mm": {148, 210}} {
		paper, err := ParsePaper(name)
		if err != nil {
			t.Fatal(err)
		}
		pages := size.FindAllStringSubmatch(string(run(t, "pdfinfo", "-f", "1", "-l", "9", sheetFile(t, MeasuringSheet{Paper: paper}))), -1)
		if len(pages) != 2 {
			t.Fatalf("%s: %d pages", name, len(pages))
		}
		for _, p := range pages {
			for i, mm := range want {
				got, _ := strconv.ParseFloat(p[i+1], 64)
				if math.Abs(got/72*25.4-mm) > 0.05 { // pdfinfo prints few decimals
					t.Errorf("%s: %s points, want %g mm", name, p[i+1], mm)
				}
			}
		}
	}
}

// The same sheet is the same bytes, so that it can be kept under version control.
func TestMeasuringSheetIsReproducible(t *testing.T) {
	var a, b bytes.Buffer
	s := MeasuringSheet{Made: time.Unix(1e9, 0)}
	if err := s.Encode(&a); err != nil {
		t.Fatal(err)
	}
	time.Sleep(1100 * time.Millisecond) // fonts are dated in seconds
	if err := s.Encode(&b); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("two sheets differ (%v)", err)
	}
}

func TestMeasuringSheetRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sheet.png")
	if err := WriteMeasuringSheet(path, MeasuringSheet{}); err == nil {
		t.Error("a sheet is written as a picture")
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a file is left")
	}
	for _, p := range []Paper{Roll(900), {Width: 50, Height: 70}} {
		if err := (MeasuringSheet{Paper: p}).Encode(&bytes.Buffer{}); err == nil {
			t.Errorf("a sheet is laid out on %v", p)
		}
	}
}
