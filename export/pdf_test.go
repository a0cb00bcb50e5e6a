package export

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"hemlet/draft"
	"hemlet/geom"
)

func pdfFile(t *testing.T, p *draft.Project, o Options) string {
	t.Helper()
	o.Format = PDF
	file := filepath.Join(t.TempDir(), "out.pdf")
	if err := os.WriteFile(file, encode(t, p, o), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func paper(t *testing.T, name string) Paper {
	t.Helper()
	p, err := PaperNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestPDFPageBoxes holds the boxes that pdfinfo reads against ISO 216 (A4 is 210 by
// 297 mm and so on) and the US Letter of ANSI/ASME Y14.1 (8.5 by 11 in), in points
// of 1/72 in.
func TestPDFPageBoxes(t *testing.T) {
	const perMM = 72 / 25.4
	for _, c := range []struct {
		paper Paper
		w, h  float64
	}{
		{paper(t, "a4"), 210 * perMM, 297 * perMM},
		{paper(t, "Letter"), 612, 792},
		{paper(t, "A3"), 297 * perMM, 420 * perMM},
		{paper(t, "a0"), 841 * perMM, 1189 * perMM},
		{paper(t, "a4").Landscape(), 297 * perMM, 210 * perMM},
		{CustomPaper(500, 333), 500 * perMM, 333 * perMM},
	} {
		file := pdfFile(t, wardrobe(), Options{Paper: c.paper})
		out := run(t, "pdfinfo", "-box", "-f", "1", "-l", "1000", file)
		boxes := regexp.MustCompile(`(?m)^Page +\d+ (?:Media|Crop)Box: +(\S+) +(\S+) +(\S+) +(\S+)$`).FindAllSubmatch(out, -1)
		if len(boxes) == 0 {
			t.Fatalf("%s: no boxes in\n%s", c.paper.Name, out)
		}
		for _, b := range boxes {
			for i, want := range []float64{0, 0, c.w, c.h} {
				got, err := strconv.ParseFloat(string(b[i+1]), 64)
				if err != nil {
					t.Fatal(err)
				}
				// pdfinfo prints two decimals, so that half of one is its own.
				near(t, c.paper.Name+" box", got, want, 0.01)
			}
		}
	}
}

func TestPDFAsksNotToBeScaled(t *testing.T) {
	data := encode(t, wardrobe(), Options{Format: PDF})
	if !bytes.Contains(data, []byte("/ViewerPreferences<</PrintScaling/None")) {
		t.Error("the catalogue does not ask viewers to leave the size alone")
	}
	out := string(run(t, "pdfinfo", pdfFile(t, wardrobe(), Options{})))
	for _, want := range []string{"Title:           Quill's lamplighter coat", "Creator:         Hemlet", "Feb  3"} {
		if !strings.Contains(out, want) {
			t.Errorf("pdfinfo does not say %q:\n%s", want, out)
		}
	}
}

// TestPDFIsTheSameEveryTime: two files are the same to the byte but for the second of
// the clock on the wall with which the font library stamps its subsets. So two are
// compared that were made within one second, or on a machine too slow for that, with
// the stamps masked.
func TestPDFIsTheSameEveryTime(t *testing.T) {
	made := func() []byte { return encode(t, wardrobe(), Options{Format: PDF}) }
	for range 5 {
		second := time.Now().Unix()
		a, b := made(), made()
		if time.Now().Unix() != second {
			continue
		}
		if !bytes.Equal(a, b) {
			t.Error("two exports at the same time of day differ")
		}
		break
	}
	a := unstamped(t, made())
	time.Sleep(time.Until(time.Now().Truncate(time.Second).Add(time.Second)))
	if !bytes.Equal(a, unstamped(t, made())) {
		t.Error("two exports in different seconds differ in more than their stamps")
	}
}

func TestPDFWords(t *testing.T) {
	p := wardrobe()
	plan, err := LayPages(context.Background(), p, Options{Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	file := pdfFile(t, p, Options{})
	for _, page := range plan.Pages {
		n := strconv.Itoa(page.Number)
		text := string(run(t, "pdftotext", "-raw", "-f", n, "-l", n, file, "-"))
		flat := strings.Join(strings.Fields(text), " ")
		want := []string{
			p.Name, "sheet " + page.Group.Name,
			fmt.Sprintf("row %d of %d, column %d of %d", page.Row, page.Group.Rows, page.Col, page.Group.Cols),
			fmt.Sprintf("page %d of %d", page.Number, len(plan.Pages)),
		}
		for _, l := range page.Pieces {
			want = append(want, fmt.Sprintf("%s (rev %s)", l.Piece.Name, l.Revision))
		}
		if page.Number == 1 {
			want = append(want, "50 mm", "2 in", "Printer correction: none", "3 February 2026", "compare it with the screen before you cut an old print")
		}
		if page.Col > 1 || page.Row > 1 {
			want = append(want, "trim here")
		}
		if page.Col < page.Group.Cols || page.Row < page.Group.Rows {
			want = append(want, "begins here")
		}
		for _, w := range want {
			if !strings.Contains(flat, w) {
				t.Errorf("page %d does not say %q:\n%s", page.Number, w, flat)
			}
		}
	}
	all := string(run(t, "pdftotext", "-raw", file, "-"))
	for _, w := range []string{"Shoulder tab", "cut 1, drawn unfolded", "cut 2, mirrored", "Cotton lawn, lining"} {
		if !strings.Contains(all, w) {
			t.Errorf("no page says %q", w)
		}
	}
	fonts := string(run(t, "pdffonts", file))
	for _, line := range strings.Split(strings.TrimSpace(fonts), "\n")[2:] {
		if f := strings.Fields(line); f[len(f)-5] != "yes" || f[len(f)-4] != "yes" {
			t.Errorf("a font is not embedded as a subset: %s", line)
		}
	}
}

// tabs is a project of many small pieces with long names.
func tabs(n int) *draft.Project {
	p := draft.New("tabs")
	for i := range n {
		tab := tabPiece()
		tab.ID, tab.Name = draft.ID(fmt.Sprintf("p%d", i)), fmt.Sprintf("Spine casing %d, third row from the neck", i+1)
		p.Pieces = append(p.Pieces, tab)
	}
	return p
}

// TestPDFNamesAllPiecesOfAPage: however many lie on a page, each is named in full in
// its head, above the pattern and beside the bar, in letters that can be read.
func TestPDFNamesAllPiecesOfAPage(t *testing.T) {
	for _, c := range []struct {
		name  string
		paper Paper
		n     int
		least float64
	}{
		{"one line", paper(t, "a4"), 2, nameLetters},
		{"many", paper(t, "a4"), 48, nameLetters},
		{"very many", paper(t, "a3"), 160, nameLetters},
		{"roll", Roll(300), 90, nameLetters},
		{"no room for a higher head", CustomPaper(210, 200), 24, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := tabs(c.n)
			plan, err := LayPages(context.Background(), p, Options{Paper: c.paper, Clock: clock})
			if err != nil {
				t.Fatal(err)
			}
			file := pdfFile(t, p, Options{Paper: c.paper})
			most, total := 0, 0
			for _, page := range plan.Pages {
				lines, size := plan.nameLines(page)
				if size < c.least {
					t.Errorf("page %d: names of %g mm", page.Number, size)
				}
				for _, line := range lines {
					if w := textWidth(line, size, false); w > plan.namesRoom() {
						t.Errorf("page %d: %q is %g mm wide", page.Number, line, w)
					}
				}
				// Baselines and descenders lie above the corners of what the page shows.
				low := page.Height - c.paper.Margin - namesFrom - float64(len(lines)-1)*namesStep*size - textDepth*size
				if top := plan.tileOnPaper(page).Max.Y; low < top {
					t.Errorf("page %d: names reach down to %g mm, the pattern up to %g", page.Number, low, top)
				}
				most, total = max(most, len(lines)), total+len(page.Pieces)
				n := strconv.Itoa(page.Number)
				head := strconv.Itoa(int(math.Ceil(page.Height - plan.tileOnPaper(page).Max.Y)))
				text := string(run(t, "pdftotext", "-r", "25.4", "-x", "0", "-y", "0", "-W", "2000", "-H", head, "-layout", "-f", n, "-l", n, file, "-"))
				flat := strings.Join(strings.Fields(text), " ")
				for _, l := range page.Pieces {
					if want := fmt.Sprintf("%s (rev %s)", l.Piece.Name, l.Revision); !strings.Contains(flat, want) {
						t.Errorf("page %d: the head does not name %q:\n%s", page.Number, want, flat)
					}
				}
			}
			if total != c.n || c.n > 2 && most < 2 {
				t.Errorf("%d pieces, %d lines at most: this shows nothing", total, most)
			}
		})
	}
}

// TestSetLines: no word is lost and no line is too wide, however long one word is.
func TestSetLines(t *testing.T) {
	items := []string{"Back", "Neck band,", strings.Repeat("w", 60), "x"}
	for _, width := range []float64{0.1, 12, 25, 80, 1000} {
		lines := setLines(items, width, 2)
		if got, want := strings.Join(strings.Fields(strings.Join(lines, "")), ""), "BackNeckband,"+items[2]+"x"; got != want {
			t.Errorf("%g mm: %q", width, lines)
		}
		for _, line := range lines {
			if w := textWidth(line, 2, false); w > width && len([]rune(line)) > 1 {
				t.Errorf("%q takes %g mm of %g", line, w, width)
			}
		}
	}
	if lines := setLines(items[:2], 1000, 2); len(lines) != 1 || lines[0] != "Back Neck band," {
		t.Errorf("%q", lines)
	}
}

// raster is a page as pdftoppm paints it.
type raster struct {
	image.Image
	perMM float64
	h     float64
}

func rasterPage(t *testing.T, file string, page int, dpi int, height float64) raster {
	t.Helper()
	n := strconv.Itoa(page)
	base := filepath.Join(t.TempDir(), "page")
	run(t, "pdftoppm", "-f", n, "-l", n, "-r", strconv.Itoa(dpi), "-gray", "-png", "-singlefile", file, base)
	data, err := os.ReadFile(base + ".png")
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return raster{img, float64(dpi) / 25.4, height}
}

// ink is how dark the page is, 0 to 1, about a place in mm from the lower left.
func (r raster) ink(p geom.Point, reach int) float64 {
	cx, cy := int(math.Floor(p.X*r.perMM)), int(math.Floor((r.h-p.Y)*r.perMM))
	most := 0.0
	for y := cy - reach; y <= cy+reach; y++ {
		for x := cx - reach; x <= cx+reach; x++ {
			if image.Pt(x, y).In(r.Bounds()) {
				v, _, _, _ := r.At(x, y).RGBA()
				most = math.Max(most, 1-float64(v)/0xffff)
			}
		}
	}
	return most
}

// sides returns where a scan from a place meets the middle of the first line to the
// left and to the right (or below and above), in mm.
func (r raster) sides(from geom.Point, dir geom.Point) (low, high float64) {
	walk := func(sign float64) float64 {
		sum, weight := 0.0, 0.0
		// In quarters of a pixel, as far as 80 mm.
		for i := 0; float64(i) < 80*4*r.perMM; i++ {
			d := sign * float64(i) / r.perMM / 4
			dark := r.ink(from.Add(dir.Mul(d)), 0)
			if dark > 0.05 {
				sum += dark * d
				weight += dark
			} else if weight > 0 {
				return sum / weight
			}
		}
		return math.NaN()
	}
	return walk(-1), walk(1)
}

// TestPDFSquares measures both squares in a 300 dpi raster, without a correction
// and with one, which they must show.
func TestPDFSquares(t *testing.T) {
	for _, c := range []struct {
		name       string
		p          *draft.Project
		paper      Paper
		correction Correction
	}{
		{"A4", wardrobe(), paper(t, "a4"), Correction{}},
		{"Letter", wardrobe(), paper(t, "letter"), Correction{}},
		{"beside nested pieces", bodice(t, "quill"), paper(t, "letter"), Correction{}},
		{"corrected", wardrobe(), paper(t, "a4"), Correction{X: 1.02, Y: 0.985}},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := Options{Paper: c.paper, Correction: c.correction, Clock: clock}
			plan, err := LayPages(context.Background(), c.p, o)
			if err != nil {
				t.Fatal(err)
			}
			file := pdfFile(t, c.p, o)
			r := rasterPage(t, file, 1, 300, c.paper.Height)
			fx, fy, _ := c.correction.factors()
			m := c.paper.Margin
			corner := geom.Pt(plan.info.Min.X, plan.info.Max.Y)
			for i, side := range []float64{50, 50.8} {
				// From a place in the square that its words do not reach.
				at := corner.Add(plan.facts.squares[i])
				in := geom.Pt(m+fx*(at.X+10), m+fy*(at.Y+10))
				left, right := r.sides(in, geom.Pt(1, 0))
				low, high := r.sides(in, geom.Pt(0, 1))
				near(t, "width", right-left, side*fx, 0.1)
				near(t, "height", high-low, side*fy, 0.1)
			}
			if c.correction != (Correction{}) {
				text := string(run(t, "pdftotext", "-raw", "-l", "1", file, "-"))
				if !strings.Contains(text, "Printer correction: 102 % across, 98.5 % up.") {
					t.Errorf("the correction is not told:\n%s", text)
				}
			}
		})
	}
}

// TestPDFPagesJoin looks for the cut line and the stitching dashes of a piece that
// spreads over several pages on every page that shows a stretch of them: within a
// pixel of where the joined pages want it, overlaps included.
func TestPDFPagesJoin(t *testing.T) {
	p := draft.New("cloak")
	p.Pieces = []*draft.Piece{cloakPiece()}
	plan, err := LayPages(context.Background(), p, Options{Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	file := pdfFile(t, p, Options{})
	twice := make(map[string]bool)
	checked := 0
	for _, page := range plan.Pages {
		if len(page.Pieces) == 0 {
			continue
		}
		r := rasterPage(t, file, page.Number, 150, page.Height)
		l := page.Pieces[0]
		place := func(q geom.Point) geom.Point {
			return q.Sub(page.Window.Min).Add(geom.Pt(plan.Paper.Margin, plan.Paper.Margin))
		}
		inside := page.Window.Grow(-0.5)
		tape := l.Cut.Tape()
		for d := 0.0; d < tape.Length(); d += 2.5 {
			q := l.Cut.At(tape.At(d))
			if !inside.Contains(q) {
				continue
			}
			checked++
			key := fmt.Sprintf("%.0f", d)
			if r.ink(place(q), 1) < 0.5 {
				t.Errorf("page %d: no cut line at %.1f, %.1f", page.Number, q.X, q.Y)
			}
			twice[key] = !twice[key]
		}
		checkDashes(t, plan, page, r, l, place)
	}
	shared := 0
	for _, once := range twice {
		if !once {
			shared++
		}
	}
	if checked < 400 || shared == 0 {
		t.Errorf("looked at %d places, %d of them on two pages: too few to prove anything", checked, shared)
	}
}

// checkDashes holds the phase of the stitching dashes against the length along the
// whole line: they must run on from page to page.
func checkDashes(t *testing.T, plan *Plan, page Page, r raster, l *Laid, place func(geom.Point) geom.Point) {
	t.Helper()
	dashes := strokes[StitchLine].dashes
	period := dashes[0] + dashes[1]
	tape := l.Stitch.Tape()
	sx, sy := plan.step()
	inside := page.Window.Grow(-4)
	for d := 0.0; d+period < tape.Length(); d += period {
		on, off := l.Stitch.At(tape.At(d+dashes[0]/2)), l.Stitch.At(tape.At(d+dashes[0]+dashes[1]/2))
		if !inside.Contains(on) || !inside.Contains(off) {
			continue
		}
		// Joining lines and their words are drawn over the pattern.
		x, y := on.X-page.Window.Min.X-sx, page.Window.Max.Y-sy-on.Y
		if math.Abs(x) < 6 || math.Abs(y) < 6 || math.Abs(on.X-page.Window.Min.X) < 6 || math.Abs(on.Y-page.Window.Max.Y) < 6 {
			continue
		}
		if r.ink(place(on), 1) < 0.3 {
			t.Errorf("page %d: no dash at %.1f, %.1f", page.Number, on.X, on.Y)
		}
		if r.ink(place(off), 1) > 0.3 {
			t.Errorf("page %d: ink in the gap at %.1f, %.1f", page.Number, off.X, off.Y)
		}
	}
}

func TestPDFKeepsCurves(t *testing.T) {
	p := draft.New("sleeve")
	p.Pieces = []*draft.Piece{sleevePiece()}
	data := encode(t, p, Options{Format: PDF, Paper: paper(t, "a4")})
	flat, err := draft.LayFlat(p.Pieces[0])
	if err != nil {
		t.Fatal(err)
	}
	want := 0
	for _, path := range []geom.Path{flat.Cut, flat.Stitch} {
		for _, s := range path {
			if !s.Straight {
				want++
			}
		}
	}
	got := len(regexp.MustCompile(` c\b`).FindAll(inflatePages(t, data), -1))
	// The map shows the cut line once more; strokes with round ends add none.
	if got < want {
		t.Errorf("%d curves in the file, want at least %d", got, want)
	}
}

func TestPlanSkipsBlankPages(t *testing.T) {
	// A frame that leaves the middle page of three by three empty.
	m := &maker{next: 500}
	long := &draft.Piece{ID: "p1", Name: "Frame", Cut: draft.CutRule{Count: 1}}
	long.Edges = []draft.Edge{
		m.edge("a", draft.RawEdge, 0, corner(0, 0)), m.edge("b", draft.RawEdge, 0, corner(540, 0)),
		m.edge("c", draft.RawEdge, 0, corner(540, 760)), m.edge("d", draft.RawEdge, 0, corner(0, 760)),
	}
	at := geom.Pt(30, 380)
	long.LabelAt = &at
	p := draft.New("frame")
	p.Pieces = []*draft.Piece{long}
	plan, err := LayPages(context.Background(), p, Options{Clock: clock})
	if err != nil {
		t.Fatal(err)
	}
	for _, page := range plan.Pages {
		if page.Group.Rows == 3 && page.Group.Cols == 3 && page.Row == 2 && page.Col == 2 {
			t.Error("a page with nothing on it is printed")
		}
	}
	if g := plan.Groups[1]; g.Rows != 3 || g.Cols != 3 || len(plan.Pages) != 9 {
		t.Errorf("%d rows and %d columns on %d pages, want 3 by 3 on the first page and 8 more", g.Rows, g.Cols, len(plan.Pages))
	}
}

// TestPlanKeepsPiecesWhole: a piece that fits on a page is not cut by a border, and
// no two pieces overlap.
func TestPlanKeepsPiecesWhole(t *testing.T) {
	for _, pp := range []Paper{paper(t, "a4"), paper(t, "letter"), paper(t, "a3"), paper(t, "a0"), Roll(914.4)} {
		plan, err := LayPages(context.Background(), wardrobe(), Options{Paper: pp, Clock: clock})
		if err != nil {
			t.Fatal(err)
		}
		total := 0
		for _, g := range plan.Groups {
			for i, l := range g.Pieces {
				total++
				box := l.Bounds()
				if cols, rows := plan.needs(box.W(), box.H()); cols*rows == 1 {
					whole := 0
					for _, page := range plan.Pages {
						if page.Group == g && page.Window.Contains(box.Min) && page.Window.Contains(box.Max) {
							whole++
						}
					}
					if whole != 1 {
						t.Errorf("%s: %s lies whole on %d pages", pp.Name, l.Piece.Name, whole)
					}
				}
				for _, other := range g.Pieces[:i] {
					if box.Overlaps(other.Bounds()) {
						t.Errorf("%s: %s and %s overlap", pp.Name, l.Piece.Name, other.Piece.Name)
					}
				}
			}
		}
		if total != len(wardrobe().Pieces) {
			t.Errorf("%s: %d pieces laid, want %d", pp.Name, total, len(wardrobe().Pieces))
		}
	}
}

func TestPaperRefused(t *testing.T) {
	for _, pp := range []Paper{CustomPaper(60, 60), CustomPaper(-1, 200), CustomPaper(math.NaN(), 300), CustomPaper(6000, 300), {Width: 210, Height: 297, Overlap: 200}} {
		if _, err := LayPages(context.Background(), wardrobe(), Options{Paper: pp}); err == nil {
			t.Errorf("a paper of %g x %g mm with an overlap of %g was taken", pp.Width, pp.Height, pp.Overlap)
		}
	}
	if _, err := LayPages(context.Background(), wardrobe(), Options{Correction: Correction{X: 2}}); err == nil {
		t.Error("a correction of 200 % was taken")
	}
}

// TestPDFForMachines: one page of the size of the sheet, every copy, no words, and
// the cautions in the file.
func TestPDFForMachines(t *testing.T) {
	file := pdfFile(t, wardrobe(), Options{Purpose: Laser})
	report, err := Encode(context.Background(), &bytes.Buffer{}, wardrobe(), Options{Format: PDF, Purpose: Laser})
	if err != nil {
		t.Fatal(err)
	}
	info := string(run(t, "pdfinfo", file))
	for _, want := range []string{"Pages:           1\n", "chlorinated plastics", "Follow your local rules"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not say %q:\n%s", want, info)
		}
	}
	if len(report.Pieces) != 9 {
		t.Errorf("%d copies, want 9", len(report.Pieces))
	}
	if text := strings.TrimSpace(string(run(t, "pdftotext", file, "-"))); text != "" {
		t.Errorf("the file holds words: %q", text)
	}
}
