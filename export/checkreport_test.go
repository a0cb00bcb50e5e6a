package export

import (
	"bytes"
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/store"
)

var reportDay = time.Date(2026, 11, 26, 0, 0, 0, 0, time.UTC)

// reportOf writes the report of a project and returns its path.
func reportOf(t *testing.T, r CheckReport) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.pdf")
	if r.Made.IsZero() {
		r.Made = reportDay
	}
	pages, err := WriteCheckReport(context.Background(), path, r)
	if err != nil {
		t.Fatal(err)
	}
	if got := len(regexp.MustCompile(`(?m)^Pages:\s+`+strconv.Itoa(pages)+`$`).FindAll(run(t, "pdfinfo", path), -1)); got != 1 {
		t.Errorf("pdfinfo does not count %d pages", pages)
	}
	return path
}

func sampleProject(t *testing.T) *draft.Project {
	t.Helper()
	p, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// pdftotext (poppler) reads every seam with its lengths, every finding, every piece
// with its revision, and the number of each page.
func TestCheckReportTellsEverything(t *testing.T) {
	p := sampleProject(t)
	text := words(run(t, "pdftotext", "-layout", reportOf(t, CheckReport{Project: p}), "-"))
	slots := draft.NewSlots()
	checked := slots.Check(p)
	wanted := []string{p.Name, "26 November 2026", "page 1 of", "page 2 of", "Not ready to cut: seam armhole.", "What would mend it:"}
	for _, o := range slots.Openings(p, p.Pieces[0].Garment) {
		opened := p.Unit.FormatBare(o.Length)
		if o.Full {
			opened = "opens all" // what comes after is broken off
		}
		wanted = append(wanted, o.Name, opened)
	}
	for _, st := range checked.Seams {
		wanted = append(wanted, st.Seam.Name, p.Unit.FormatBare(st.A), p.Unit.FormatBare(st.B))
	}
	for _, f := range checked.Findings {
		wanted = append(wanted, f.About, words([]byte(f.Says)))
		for _, m := range f.Mends {
			wanted = append(wanted, m.Title[1:])
		}
	}
	for _, piece := range p.Pieces {
		wanted = append(wanted, piece.Name, "revision "+draft.Revision(piece))
	}
	for _, w := range p.Wearers {
		wanted = append(wanted, w.Name)
	}
	for _, w := range wanted {
		if !strings.Contains(text, w) {
			t.Errorf("the report does not say %q", w)
		}
	}
}

// wordBox is how pdftotext -bbox writes one word: its box in points from the upper left.
var wordBox = regexp.MustCompile(`<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">([^<]*)</word>`)

// checkInside reports words that reach beyond the margins of the paper or lie on one
// another. The heights of poppler's boxes are those of the whole font, so that the
// middle of a word stands for it.
func checkInside(t *testing.T, path string, paper Paper) {
	t.Helper()
	const slack = 0.5 // points
	lo, right, foot := float64(reportMargin)/pointMM, (paper.Width-reportMargin)/pointMM, (paper.Height-reportMargin)/pointMM
	count := 0
	for _, page := range bytes.Split(run(t, "pdftotext", "-bbox", path, "-"), []byte("<page ")) {
		lines := make(map[int][][4]float64)
		for _, m := range wordBox.FindAllSubmatch(page, -1) {
			count++
			var box [4]float64
			for i := range box {
				box[i], _ = strconv.ParseFloat(string(m[i+1]), 64)
			}
			middle := (box[1] + box[3]) / 2
			if box[0] < lo-slack || middle < lo || box[2] > right+slack || middle > foot {
				t.Fatalf("%q at %v reaches beyond the margins", m[5], box)
			}
			if len(m[5]) <= 2 {
				continue // letters and numbers on drawings
			}
			for _, other := range lines[int(middle)] {
				if box[0] < other[2]-slack && other[0] < box[2]-slack {
					t.Fatalf("%q at %v lies on another word at %v", m[5], box, other)
				}
			}
			lines[int(middle)] = append(lines[int(middle)], box)
		}
	}
	if count == 0 {
		t.Fatal("pdftotext reads no words")
	}
}

func TestCheckReportKeepsToItsMargins(t *testing.T) {
	for _, name := range []string{"a4", "letter", "a3 landscape", "180mm x 240mm"} {
		paper, err := ParsePaper(name)
		if err != nil {
			t.Fatal(err)
		}
		checkInside(t, reportOf(t, CheckReport{Project: sampleProject(t), Paper: paper}), paper)
	}
}

// Names as long as a project may have them, and many pieces, are written whole on as
// many pages as that takes.
func TestCheckReportOfLongNames(t *testing.T) {
	p := sampleProject(t)
	long := strings.Repeat("lamplighter'ssmock", 100)
	for i := range 12 {
		piece := *p.Pieces[i%len(p.Pieces)]
		piece.ID = draft.ID("x" + strconv.Itoa(i))
		piece.Name = long
		p.Pieces = append(p.Pieces, &piece)
	}
	seam := *p.Seams[0]
	seam.Name, p.Name = strings.Repeat("side seam of the coat ", 80), strings.Repeat("a winter show ", 100)
	p.Seams = append([]*draft.Seam{&seam}, p.Seams[1:]...)
	a4, _ := PaperNamed("a4")
	checkInside(t, reportOf(t, CheckReport{Project: p}), a4)
}

// The verdict is that of the findings above a note and of what is not known; a gathered
// seam that holds is off by nothing, however much longer one side is.
func TestCheckReportVerdict(t *testing.T) {
	load := func(file string) *draft.Project {
		p, _, err := store.Load(filepath.Join("..", "testdata", "true", file))
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	read := func(p *draft.Project) string {
		return words(run(t, "pdftotext", "-layout", reportOf(t, CheckReport{Project: p}), "-"))
	}
	sound := read(load("sound.hemlet"))
	if !strings.Contains(sound, "Ready to cut.") || strings.Contains(sound, "Not ready") {
		t.Error("what is sound is not ready to cut")
	}
	if !regexp.MustCompile(`frill edge of Cuff 56 gathers of Frill 84 0 1\.5`).MatchString(sound) {
		t.Error("a gathered seam that holds is not off by 0")
	}
	if faults := read(load("faults.hemlet")); !strings.Contains(faults, "Not ready to cut: seam side; seam frill; Sleeve;") || !strings.Contains(faults, "and 2 more.") {
		t.Error("what is in the way is not named")
	}
	unknown := load("sound.hemlet")
	w := *unknown.Wearers[0]
	w.Parts = nil
	w.Measures = nil
	unknown.Wearers = []*draft.Wearer{&w}
	if text := read(unknown); !strings.Contains(text, "Not ready to cut: not measured yet: ") {
		t.Error("what is not measured does not stand in the way")
	}
}

func TestCheckReportOfNothing(t *testing.T) {
	text := words(run(t, "pdftotext", reportOf(t, CheckReport{Project: draft.New("")}), "-"))
	if !strings.Contains(text, "nothing found") {
		t.Errorf("the report says %q", text)
	}
}

// A piece whose outline crosses itself or that has no fold is drawn as far as it can be.
func TestCheckReportOfBrokenPieces(t *testing.T) {
	p := sampleProject(t)
	for i, piece := range p.Pieces {
		q := *piece
		q.Edges = append([]draft.Edge(nil), piece.Edges...)
		if q.Cut.Way == draft.CutOnFold {
			q.Cut.Way = draft.CutSingle
		} else {
			q.Cut.Way = draft.CutOnFold
		}
		nodes := append([]draft.Node(nil), q.Edges[0].Nodes...)
		nodes[0].At.X += 4 * math.Abs(nodes[0].At.X) * float64(i%2)
		q.Edges[0].Nodes = nodes
		p.Pieces[i] = &q
	}
	a4, _ := PaperNamed("a4")
	checkInside(t, reportOf(t, CheckReport{Project: p}), a4)
}

func TestCheckReportIsTheSameTwice(t *testing.T) {
	var files [2]bytes.Buffer
	for i := range files {
		if _, err := (CheckReport{Project: sampleProject(t), Made: reportDay}).Encode(context.Background(), &files[i]); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(files[0].Bytes(), files[1].Bytes()) {
		t.Error("two reports of one project differ")
	}
}

func TestCheckReportRefused(t *testing.T) {
	ctx := context.Background()
	p := sampleProject(t)
	kept := filepath.Join(t.TempDir(), "kept.pdf")
	if err := os.WriteFile(kept, []byte("kept"), 0o644); err != nil {
		t.Fatal(err)
	}
	gone, stop := context.WithCancel(ctx)
	stop()
	if _, err := WriteCheckReport(gone, kept, CheckReport{Project: p}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	for _, paper := range []Paper{Roll(900), CustomPaper(100, 140), {Width: math.NaN(), Height: 1}} {
		if _, err := WriteCheckReport(ctx, kept, CheckReport{Project: p, Paper: paper}); err == nil {
			t.Errorf("%s is taken", paper.Name)
		}
	}
	if b, _ := os.ReadFile(kept); string(b) != "kept" {
		t.Error("a report that was refused has changed the file")
	}
	if _, err := WriteCheckReport(ctx, kept[:len(kept)-4]+".svg", CheckReport{Project: p}); err == nil {
		t.Error("a report is written as SVG")
	}
}
