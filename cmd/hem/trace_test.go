package main

import (
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
	"hemlet/geom/trace/tracetest"
)

// scanned writes a picture of a sheet, at 150 dots an inch, and returns its path.
func scanned(t *testing.T, name string, sheet tracetest.Sheet) (string, tracetest.Picture) {
	t.Helper()
	s := tracetest.Plain(150, 7)
	s.Turn = 0
	pic, err := s.See(sheet)
	if err != nil {
		t.Fatal(err)
	}
	return pictureFile(t, name, pic), pic
}

func pictureFile(t *testing.T, name string, pic tracetest.Picture) string {
	t.Helper()
	file, err := pic.PNG()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, file, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// card is a piece of 60 by 40 mm.
func card() tracetest.Piece {
	return tracetest.Piece{Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 40), geom.Pt(0, 40))}
}

func traceFacts(t *testing.T, out string) (facts traceJSON) {
	t.Helper()
	if err := json.Unmarshal([]byte(out), &facts); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	return facts
}

// A card of 60 by 40 mm, filled and drawn, becomes a piece of that size: by resolution, by
// a known length, by the corners of its sheet.
func TestTraceIsTrueToSize(t *testing.T) {
	filled, seen := scanned(t, "filled.png", tracetest.Filled(card()))
	drawn, _ := scanned(t, "drawn.png", tracetest.Drawn(0.6, card()))
	b := seen.Image.Bounds()
	var w, h = float64(b.Dx()), float64(b.Dy())
	mm := func(px float64) float64 { return px * 25.4 / 150 }
	for _, c := range []struct {
		in, by, follow string
		args           []string
	}{
		{filled, "resolution", "edges", []string{"--dpi", "150"}},
		{drawn, "resolution", "strokes", []string{"--dpi", "150"}},
		{filled, "length", "edges", []string{"--scale", fmt.Sprintf("0,0:%g,0=%gmm", w, mm(w))}},
		{drawn, "frame", "strokes", []string{"--frame", fmt.Sprintf("0,0:%g,0:%g,%g:0,%g=%gmmx%gmm", w, w, h, h, mm(w), mm(h))}},
	} {
		out := filepath.Join(t.TempDir(), "cape.hemlet")
		code, printed, errs := hem(t, append([]string{"trace", c.in, "-o", out, "--line", "stitch", "--json"}, c.args...)...)
		if code != exitDone {
			t.Errorf("%s %v: exit %d, %s%s", c.in, c.args, code, errs, printed)
			continue
		}
		facts := traceFacts(t, printed)
		if len(facts.Pieces) != 1 || len(facts.Pictures) != 1 {
			t.Fatalf("%s", printed)
		}
		piece, pic := facts.Pieces[0], facts.Pictures[0]
		if pic.By != c.by || pic.Followed != c.follow || math.Abs(pic.MMPerPixel-25.4/150) > 1e-6 {
			t.Errorf("%v: %+v", c.args, pic)
		}
		if math.Abs(piece.Area-2400) > 6 || math.Abs(piece.Outline-200) > 0.3 || piece.Segments != 4 || piece.Corners != 4 || piece.Largest > 0.2 || piece.Median > piece.Largest {
			t.Errorf("%v: %+v", c.args, piece)
		}
		if piece.Name != stem(c.in) {
			t.Errorf("called %q", piece.Name)
		}
		p, _, err := store.Load(out)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Pictures) != 1 || p.Pictures[0].True == nil {
			t.Fatalf("pictures %+v", p.Pictures)
		}
		// The picture lies under its piece.
		if !geom.RectOf(corners(p)...).Contains(p.Pieces[0].DrawnPath().Transform(p.Pieces[0].Place.Affine()).Bounds().Center()) {
			t.Errorf("%v: the picture lies elsewhere", c.args)
		}
		if _, err := store.Picture(out, p.Pictures[0]); err != nil {
			t.Error(err)
		}
		if facts, _ := check(t, out); math.Abs(facts.Pieces[0].Area-2400) > 6 || math.Abs(facts.Pieces[0].CutArea-72*52) > 12 {
			t.Errorf("checked: %+v", facts.Pieces[0])
		}
	}
}

func corners(p *draft.Project) []geom.Point {
	c := p.Pictures[0].Corners()
	return c[:]
}

// Several pictures are a batch: their pieces lie beside one another, under their names.
func TestTraceManyPictures(t *testing.T) {
	front, _ := scanned(t, "front.png", tracetest.Filled(card()))
	back, _ := scanned(t, "back.png", tracetest.Drawn(0.5, card(), tracetest.Piece{Outline: card().Outline.Transform(geom.Translation(geom.Pt(90, 0)))}))
	out := filepath.Join(t.TempDir(), "smock.hemlet")
	printed := must(t, "trace", front, back, "-o", out, "--line", "cut", "--allowance", "5mm", "--dpi", "150", "--size", "14 in doll", "--made-for", "bust_girth=18cm", "--json")
	facts := traceFacts(t, printed)
	var names []string
	for _, p := range facts.Pieces {
		names = append(names, p.Name)
	}
	if got := strings.Join(names, ", "); got != "front, back, back 2" {
		t.Errorf("pieces %s", got)
	}
	p, _, err := store.Load(out)
	if err != nil {
		t.Fatal(err)
	}
	var boxes []geom.Rect
	for _, piece := range p.Pieces {
		boxes = append(boxes, piece.DrawnPath().Transform(piece.Place.Affine()).Bounds())
	}
	for i, a := range boxes {
		if math.Abs(a.W()-50) > 0.3 || math.Abs(a.H()-30) > 0.3 {
			t.Errorf("%s: stitched it is %v by %v", names[i], a.W(), a.H())
		}
		for _, b := range boxes[:i] {
			if a.Overlaps(b) {
				t.Errorf("%v lies on %v", a, b)
			}
		}
	}
	if len(p.Pictures) != 2 || len(p.Origins) != 1 || p.Origins[0].Size != "14 in doll" || p.Origins[0].Measures[0].Value != 180 {
		t.Errorf("%d pictures, origins %+v", len(p.Pictures), p.Origins)
	}
	alone := filepath.Join(t.TempDir(), "alone.hemlet")
	must(t, "trace", front, "-o", alone, "--line", "cut", "--dpi", "150", "--no-picture", "--name", "Cape")
	if p, _, err = store.Load(alone); err != nil || len(p.Pictures) != 0 || p.Pieces[0].Name != "Cape" {
		t.Errorf("without pictures: %+v, %v", p, err)
	}
	if _, err := os.Stat(store.PictureFolder(alone)); err == nil {
		t.Error("a picture is kept all the same")
	}
}

// A photograph of a sheet is made true by the sheet's corners, given to the nearest pixel.
func TestTracePhotograph(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	sheet := tracetest.Filled(card())
	cam := tracetest.Phone(3)
	cam.W, cam.H = 2000, 1500
	pic, err := cam.See(sheet)
	if err != nil {
		t.Fatal(err)
	}
	var places []string
	for _, i := range []int{3, 2, 1, 0} { // from the top left to the right and round
		places = append(places, fmt.Sprintf("%.0f,%.0f", pic.Frame[i].X, pic.Frame[i].Y))
	}
	out := filepath.Join(t.TempDir(), "p.hemlet")
	printed := must(t, "trace", pictureFile(t, "photo.png", pic), "-o", out, "--line", "stitch", "--json",
		"--frame", fmt.Sprintf("%s=%gmmx%gmm", strings.Join(places, ":"), sheet.W, sheet.H))
	facts := traceFacts(t, printed)
	if len(facts.Pieces) != 1 || math.Abs(facts.Pieces[0].Area-2400) > 12 || facts.Pieces[0].Corners != 4 || !(facts.Pictures[0].Error > 0 && facts.Pictures[0].Error < 0.3) {
		t.Errorf("%s", printed)
	}
}

// What is refused leaves no file, and says in one line what would mend it.
func TestTraceRefuses(t *testing.T) {
	dir := t.TempDir()
	blank := filepath.Join(dir, "blank.jpg")
	f, err := os.Create(blank)
	if err != nil {
		t.Fatal(err)
	}
	grey := image.NewGray(image.Rect(0, 0, 300, 200))
	for i := range grey.Pix {
		grey.Pix[i] = 250
	}
	if err := jpeg.Encode(f, grey, nil); err != nil {
		t.Fatal(err)
	}
	f.Close()
	good, _ := scanned(t, "good.png", tracetest.Filled(card()))
	letter := write(t, "letter.png", "Dear aunt")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{good}, "how large it truly is has to be said"},
		{[]string{good, "--dpi", "file"}, "does not say how many pixels"},
		{[]string{good, "--dpi", "300", "--grid", "5mm"}, "in one way"},
		{[]string{good, "--dpi", "many"}, "how many pixels cover an inch"},
		{[]string{good, "--dpi=-300"}, "how many pixels cover an inch"},
		{[]string{good, "--scale", "0,0:10,0=20"}, "unit"},
		{[]string{good, "--scale", "0,0:0,0=20mm"}, "one pixel"},
		{[]string{good, "--scale", "0,0:9000,0=20mm"}, "outside the picture"},
		{[]string{good, "--frame", "0,0:10,0:10,10=20mmx20mm"}, "no known rectangle"},
		{[]string{good, "--frame", "0,0:300,200:300,0:0,200=20mmx20mm"}, "corners"},
		{[]string{good, "--grid", "5mm"}, "no squared paper"},
		{[]string{good, "--dpi", "150", "--tolerance", "0mm"}, "--tolerance"},
		{[]string{good, "--dpi", "150", "--without", "blue"}, "not a colour"},
		{[]string{good, "--dpi", "150", "--made-for", "bust=9"}, "unit"},
		{[]string{good, "--dpi", "150", "--follow", "dots"}, "--follow"},
		{[]string{good, "--dpi", "150", "--allowance", "30mm", "--line", "cut"}, "nothing is left"},
		{[]string{blank, "--dpi", "150"}, "nothing in it closes"},
		{[]string{letter, "--dpi", "150"}, "is no picture that can be read"},
		{[]string{dir, "--dpi", "150"}, "this is a folder"},
		{[]string{filepath.Join(dir, "none.png"), "--dpi", "150"}, "none.png"},
		{[]string{filepath.Join("..", "..", "testdata", "intake", "pdf", "locked.pdf"), "--dpi", "file"}, "is locked (encrypted)"},
		{[]string{filepath.Join("..", "..", "testdata", "intake", "pdf", "drawn.pdf"), "--dpi", "file"}, "holds no pictures"},
		{[]string{filepath.Join("..", "..", "testdata", "intake", "pdf", "scans.pdf"), "--dpi", "file", "--page", "9"}, "has no page 9"},
		{[]string{good, letter, "--dpi", "150"}, "is no picture that can be read"},
	} {
		out := filepath.Join(t.TempDir(), "p.hemlet")
		args := append([]string{"trace", "-o", out}, c.args...)
		if !strings.Contains(strings.Join(c.args, " "), "--line") {
			args = append(args, "--line", "stitch")
		}
		code, printed, errs := hem(t, args...)
		if code != exitFailed || !strings.Contains(errs, c.want) || strings.Count(errs, "\n") != 1 || printed != "" {
			t.Errorf("%v: exit %d, %q, %q, want %s", c.args, code, printed, errs, c.want)
		}
		left, err := os.ReadDir(filepath.Dir(out))
		if err != nil || len(left) > 0 {
			t.Errorf("%v: left behind %v", c.args, left)
		}
	}
}

// One picture in which nothing closes is a problem of the batch; the others are done.
func TestTraceTellsProblems(t *testing.T) {
	good, _ := scanned(t, "good.png", tracetest.Filled(card()))
	open := tracetest.Piece{Outline: geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(60, 0)), geom.Line(geom.Pt(60, 0), geom.Pt(60, 40))}}
	angle, _ := scanned(t, "angle.png", tracetest.Drawn(0.6, open))
	out := filepath.Join(t.TempDir(), "p.hemlet")
	code, printed, errs := hem(t, "trace", good, angle, "-o", out, "--line", "stitch", "--dpi", "150", "--json")
	facts := traceFacts(t, printed)
	if code != exitProblem || len(facts.Pieces) != 1 || !told(facts, "problem", angle) {
		t.Errorf("exit %d, %s, %s", code, errs, printed)
	}
	if _, _, err := store.Load(out); err != nil {
		t.Error(err)
	}
	code, printed, errs = hem(t, "trace", good, "-o", out, "--line", "stitch", "--dpi", "150", "--json", "--tolerance", "0.01mm")
	facts = traceFacts(t, printed)
	last := facts.Findings[len(facts.Findings)-1]
	if code != exitProblem || !told(facts, "problem", "good") || !(last.Value > last.Limit) || last.Limit != 0.01 {
		t.Errorf("too far off: exit %d, %s%s", code, errs, printed)
	}
}

func told(facts traceJSON, level, about string) bool {
	for _, f := range facts.Findings {
		if f.Level == level && f.About == about {
			return true
		}
	}
	return false
}

// The scan in a PDF is read at the size at which the page shows it.
func TestTracePDF(t *testing.T) {
	in := filepath.Join("..", "..", "testdata", "intake", "pdf", "turns.pdf")
	out := filepath.Join(t.TempDir(), "p.hemlet")
	printed := must(t, "trace", in, "-o", out, "--line", "stitch", "--dpi", "file", "--page", "1", "--page", "6", "--allowance", "1mm", "--tolerance", "1mm", "--least", "2mm", "--json")
	facts := traceFacts(t, printed)
	if len(facts.Pictures) != 2 || len(facts.Pieces) < 2 || math.Abs(facts.Pictures[0].MMPerPixel-0.254) > 1e-6 {
		t.Fatalf("%s", printed)
	}
	// An L of 76 by 56 pixels less 52 by 34, at 100 an inch.
	if want := (76*56 - 52*34) * 0.254 * 0.254; math.Abs(facts.Pieces[0].Area-want) > 6 {
		t.Errorf("area %g, want %g", facts.Pieces[0].Area, want)
	}
}

// Any text is read as a known length, rectangle or measure, or refused.
func FuzzTraceArguments(f *testing.F) {
	for _, s := range []string{"0,0:10,0=20mm", "0,0:10,0:10,10:0,10=20mmx1in", "bust_girth=9cm", "=", ",:,=x", "0,0:1e400,0=NaNmm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var k knownLength
		if err := k.UnmarshalText([]byte(text)); err == nil {
			if again, err := draft.ParseKnownLength(draft.KnownLength(k).String()); err != nil || again != draft.KnownLength(k) {
				t.Errorf("%q is read back as %+v, %v", text, again, err)
			}
		}
		var r knownFrame
		if err := r.UnmarshalText([]byte(text)); err == nil {
			if again, err := draft.ParseKnownFrame(draft.KnownFrame(r).String()); err != nil || again != draft.KnownFrame(r) {
				t.Errorf("%q is read back as %+v, %v", text, again, err)
			}
		}
		var m madeFor
		if err := m.UnmarshalText([]byte(text)); err == nil && m.Name == "" {
			t.Errorf("%q is a measure without a name", text)
		}
	})
}

// On squared paper a piece comes out true by the squares, and without their lines.
func TestTraceOnSquaredPaper(t *testing.T) {
	sheet := tracetest.Drawn(0.6, card())
	sheet = sheet.Under(sheet.Squared(tracetest.Tone{.75, .75, .75}, 5, 0.2))
	in, _ := scanned(t, "squared.png", sheet)
	for by, args := range map[string][]string{"grid": {"--grid", "5mm"}, "resolution": {"--dpi", "150", "--squares"}} {
		out := filepath.Join(t.TempDir(), "p.hemlet")
		code, printed, errs := hem(t, append([]string{"trace", in, "-o", out, "--line", "stitch", "--json"}, args...)...)
		if code == exitFailed {
			t.Fatal(errs)
		}
		facts := traceFacts(t, printed)
		if len(facts.Pieces) != 1 || math.Abs(facts.Pieces[0].Area-2400) > 8 || facts.Pictures[0].By != by || (facts.Pictures[0].Error > 0) != (by == "grid") {
			t.Errorf("exit %d, %s", code, printed)
		}
	}
}

// A shape that runs out of the picture is to be looked at again.
func TestTraceTellsWhatIsCutOff(t *testing.T) {
	sheet, moved := tracetest.Lay(card())
	off := card()
	off.Outline = off.Outline.Transform(geom.Translation(geom.Pt(sheet.W-30, 60)))
	sheet.H += 60
	in, _ := scanned(t, "off.png", sheet.Fill(tracetest.Black, moved[0], off))
	code, printed, _ := hem(t, "trace", in, "-o", filepath.Join(t.TempDir(), "p.hemlet"), "--line", "stitch", "--dpi", "150", "--json")
	if facts := traceFacts(t, printed); code != exitDone || len(facts.Pieces) != 1 || facts.Pictures[0].Cut != 1 || !told(facts, "look again", in) {
		t.Errorf("exit %d, %s", code, printed)
	}
}

// A cape on two sheets is photographed, made true, joined by marks, and traced as one.
func TestTraceJoinedSheets(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	sheets, truth, _ := tracetest.Cape()
	dir := t.TempDir()
	project := filepath.Join(dir, "cape.hemlet")
	if _, err := store.Save(project, draft.New("cape"), nil); err != nil {
		t.Fatal(err)
	}
	var seen [2]tracetest.Picture
	for i, sheet := range sheets {
		s := tracetest.Plain(120, uint64(3+i))
		var err error
		if seen[i], err = s.See(sheet); err != nil {
			t.Fatal(err)
		}
		must(t, "do", project, "add-picture", "file=@"+pictureFile(t, fmt.Sprintf("sheet%d.png", i+1), seen[i]), "-o", project)
	}
	if code, _, errs := hem(t, "trace", project, "-o", project, "--line", "cut"); code != exitFailed || !strings.Contains(errs, "is not true to size yet") {
		t.Errorf("untrue pictures: exit %d, %s", code, errs)
	}
	for i := range sheets {
		must(t, "do", project, "true-picture", fmt.Sprintf("picture=sheet%d.png", i+1), "dpi=120", "-o", project)
	}
	var marks []string
	for i, at := range seen[1].Marks {
		to := seen[0].Marks[i]
		marks = append(marks, draft.MarkPair{In: at, Other: to}.String())
	}
	must(t, "do", project, "join-pictures", "picture=sheet2.png", "to=sheet1.png", "marks="+strings.Join(marks, ";"), "-o", project)
	out := filepath.Join(dir, "traced.hemlet")
	code, printed, errs := hem(t, "trace", project, "-o", out, "--line", "cut", "--allowance", "5mm", "--json")
	if code == exitFailed {
		t.Fatal(errs)
	}
	facts := traceFacts(t, printed)
	if len(facts.Pictures) != 1 || len(facts.Pieces) != len(truth) {
		t.Fatalf("%s", printed)
	}
	for _, piece := range truth {
		found := false
		for _, f := range facts.Pieces {
			found = found || math.Abs(f.Area-piece.Outline.Area()) < 0.005*f.Area
		}
		if !found {
			t.Errorf("%s of %g mm2 was not found in %s", piece.Name, piece.Outline.Area(), printed)
		}
	}
	p, _, err := store.Load(out)
	if err != nil || len(p.Pictures) != 2 {
		t.Fatal(p, err)
	}
	for _, pic := range p.Pictures {
		if _, err := store.Picture(out, pic); err != nil {
			t.Error(err)
		}
	}
	for want, args := range map[string][]string{
		"are made true by hem do true-picture": {project, "--dpi", "120"},
		"stay under it":                        {project, "--no-picture"},
		"is traced by itself":                  {project, project},
	} {
		if code, _, errs := hem(t, append([]string{"trace", "-o", out, "--line", "cut"}, args...)...); code != exitFailed || !strings.Contains(errs, want) {
			t.Errorf("%v: exit %d, %s", args, code, errs)
		}
	}
}

// The pages of a TIFF are traced one by one, as those of a PDF.
func TestTracePagesOfTIFF(t *testing.T) {
	in := filepath.Join("..", "..", "testdata", "intake", "pictures", "pages.tif")
	args := []string{"trace", in, "-o", filepath.Join(t.TempDir(), "p.hemlet"), "--line", "stitch", "--dpi", "50", "--tolerance", "3mm", "--allowance", "1mm", "--json"}
	if facts := traceFacts(t, must(t, args...)); len(facts.Pictures) != 3 || len(facts.Pieces) != 3 || facts.Pieces[2].Name != "pages page 3" {
		t.Errorf("all: %+v", facts)
	}
	if facts := traceFacts(t, must(t, append(args, "--page", "2")...)); len(facts.Pictures) != 1 || facts.Pieces[0].Name != "pages page 2" {
		t.Errorf("one: %+v", facts)
	}
	if code, _, errs := hem(t, append(args, "--page", "9")...); code != exitFailed || !strings.Contains(errs, "has no page 9; it has 3") {
		t.Errorf("exit %d, %s", code, errs)
	}
}
