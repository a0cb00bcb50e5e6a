package intake

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"hemlet/draft"
)

const pdfDir = "../../testdata/intake/pdf"

func pdfFixture(t testing.TB, name string) []byte {
	t.Helper()
	content, err := os.ReadFile(filepath.Join(pdfDir, name))
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// saidOfPDF is what poppler's pdfimages and pdftoppm say of a picture in a PDF, which
// testdata/intake/make_pdfs.py asked.
type saidOfPDF struct {
	Page, Wide, High int
	Across, Down     float64
	Spots            [][5]int // column, row, red, green, blue as the page shows it
}

// Every picture in a PDF is listed with the size and resolution that another program
// finds, and its file shows what that program shows of the page.
func TestPDFPicturesAsOthersSeeThem(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(pdfDir, "..", "pdf.json"))
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]saidOfPDF{}
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	if len(all) < 20 {
		t.Fatalf("only %d files", len(all))
	}
	for name, want := range all {
		if name == "owned.pdf" {
			continue // locked: other programs open it without asking
		}
		list, err := PDFPictures(context.Background(), name, pdfFixture(t, name))
		if err != nil || len(list) != len(want) {
			t.Errorf("%s: %d pictures, want %d; %v", name, len(list), len(want), err)
			continue
		}
		for i := range list {
			comparePDFPicture(t, &list[i], want[i])
		}
	}
}

func comparePDFPicture(t *testing.T, pic *PDFPicture, want saidOfPDF) {
	t.Helper()
	across, down := pic.Across, pic.Down
	if pic.turn.lies() {
		across, down = down, across // pdfimages tells of the picture as it is stored
	}
	if pic.Page != want.Page || pic.Wide != want.Wide || pic.High != want.High || !near(across, want.Across) || !near(down, want.Down) {
		t.Errorf("%s: %d by %d at %g by %g, want %+v", pic.where(), pic.Wide, pic.High, pic.Across, pic.Down, want)
		return
	}
	content, err := pic.Content(context.Background())
	if err != nil {
		t.Error(err)
		return
	}
	f, err := pic.Describe(content)
	if err != nil || f.Wide != want.Wide || f.High != want.High || f.DPI != pic.DPI || f.Ext != pic.Ext || f.Name != pic.Name() {
		t.Errorf("%s: %+v, %v", pic.where(), f, err)
	}
	img, err := DecodePicture(f.Name, content)
	if err != nil {
		t.Errorf("%s: %v", pic.where(), err)
		return
	}
	most := 2
	switch {
	case pic.stream.dict["ColorSpace"] == pdfName("DeviceCMYK"):
		most = 60 // poppler mixes inks by measured papers, we by the plain rule
	case jpegFilter(pic.filter.name):
		most = 12
	}
	off := 0
	for _, s := range want.Spots {
		if offFrom(img.At(s[0], s[1]), s[2], s[3], s[4]) > most {
			off++
		}
	}
	if off > 0 || len(want.Spots) < 20 {
		t.Errorf("%s: wrong at %d of %d places", pic.where(), off, len(want.Spots))
	}
	small, err := pic.Thumbnail(context.Background(), 40)
	if err != nil || max(small.Bounds().Dx(), small.Bounds().Dy()) != 40 || (small.Bounds().Dx() > small.Bounds().Dy()) != (pic.Wide > pic.High) {
		t.Errorf("%s: small it is %v, %v", pic.where(), small.Bounds(), err)
	}
}

// near tells whether resolutions agree as pdfimages rounds them.
func near(a, b float64) bool { return a-b < 0.6 && b-a < 0.6 }

func TestPDFPictureForms(t *testing.T) {
	for name, want := range map[string]string{
		"scans.pdf": "jpg png png png png png", "inks.pdf": "jpg png", "jpeg_negative.pdf": "png", "exif.pdf": "jpg",
	} {
		list, err := PDFPictures(context.Background(), name, pdfFixture(t, name))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for i := range list {
			got = append(got, list[i].Ext)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %v", name, got)
		}
	}
	scans := pdfFixture(t, "scans.pdf")
	list, err := PDFPictures(context.Background(), "cloak.pdf", scans)
	if err != nil {
		t.Fatal(err)
	}
	content, err := list[0].Content(context.Background())
	if err != nil || !bytes.Contains(scans, content) {
		t.Errorf("the JPEG is not as it is in the PDF: %v", err)
	}
	if got := list[2].Name(); got != "cloak page 3.png" {
		t.Errorf("called %q", got)
	}
	if uneven, err := PDFPictures(context.Background(), "x", pdfFixture(t, "fax_ppi.pdf")); err != nil || uneven[0].DPI != 0 || uneven[0].Down != 50 {
		t.Errorf("drawn twice as high: %+v, %v", uneven, err)
	}
}

func TestPDFPagesOneByOne(t *testing.T) {
	p, err := OpenPDF(context.Background(), "scans.pdf", pdfFixture(t, "linear.pdf"))
	if err != nil || p.Pages() != 6 {
		t.Fatal(p, err)
	}
	if list, err := p.Pictures(context.Background(), 4); err != nil || len(list) != 1 || list[0].Page != 4 {
		t.Errorf("%+v, %v", list, err)
	}
	if _, err := p.Pictures(context.Background(), 7); err == nil || !strings.Contains(err.Error(), "has no page 7; it has 6") {
		t.Error(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := p.Pictures(ctx, 1); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if _, err := PDFPictures(ctx, "scans.pdf", pdfFixture(t, "packed.pdf")); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// A file whose tables are broken is read by its objects.
func TestMendedPDF(t *testing.T) {
	for _, name := range []string{"scans.pdf", "packed.pdf"} {
		whole := pdfFixture(t, name)
		for what, content := range map[string][]byte{
			"shifted":         append([]byte("%PDF-1.4\n% grown at its front\n"), whole...),
			"junk before":     append([]byte("Scanned at home\n"), whole...),
			"no table":        bytes.ReplaceAll(whole, []byte("startxref"), []byte("startxxxx")),
			"wrong lengths":   bytes.ReplaceAll(whole, []byte("/Length "), []byte("/Langth ")),
			"end of the file": whole[:bytes.LastIndex(whole, []byte("startxref"))],
		} {
			list, err := PDFPictures(context.Background(), name, content)
			if err != nil || len(list) != 6 {
				t.Errorf("%s, %s: %d pictures, %v", name, what, len(list), err)
				continue
			}
			if _, err := list[1].Content(context.Background()); err != nil {
				t.Errorf("%s, %s: %v", name, what, err)
			}
		}
	}
}

// pdfOf writes objects without a table.
func pdfOf(objects ...string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.4\n")
	for i, o := range objects {
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	b.WriteString("trailer<</Root 1 0 R>>\n%%EOF")
	return b.Bytes()
}

func pdfStreamOf(dict, data string) string {
	return fmt.Sprintf("<<%s/Length %d>>stream\n%s\nendstream", dict, len(data), data)
}

func deflated(data []byte) string {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	z.Write(data)
	z.Close()
	return b.String()
}

// onePage is a PDF of one page with some content, and objects from number 5.
func onePage(content string, more ...string) []byte {
	return pdfOf(append([]string{"<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>",
		"<</Type/Page/Parent 2 0 R/MediaBox[0 0 100 100]/Contents 4 0 R/Resources<</XObject<</A 5 0 R/B 6 0 R>>>>>>", content}, more...)...)
}

// Every hostile PDF costs a clear sentence, bounded time and bounded memory.
func TestHostilePDFs(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	zeros := make([]byte, 80<<20)
	bomb := deflated(zeros)
	draw := pdfStreamOf("", "q 90 0 0 90 0 0 cm /A Do Q")
	picture := func(d, data string) []byte {
		return onePage(draw, pdfStreamOf("/Subtype/Image/Width 12000/Height 12000/ColorSpace/DeviceRGB/BitsPerComponent 8"+d, data))
	}
	for _, c := range []struct {
		name    string
		content []byte
		want    string
	}{
		{"empty", nil, "is no PDF"},
		{"a letter", []byte("Dear aunt"), "is no PDF"},
		{"a head alone", []byte("%PDF-1.7\n"), "has no list of pages"},
		{"drawn", pdfFixture(t, "drawn.pdf"), "holds no pictures: it is drawn, not scanned"},
		{"locked", pdfFixture(t, "locked.pdf"), "is locked (encrypted)"},
		{"locked for changes", pdfFixture(t, "owned.pdf"), "is locked (encrypted)"},
		{"JBIG2", pdfFixture(t, "jbig2.pdf"), "is packed as JBIG2, which cannot be read"},
		{"JPX", pdfFixture(t, "jpx.pdf"), "is packed as JPX, which cannot be read"},
		{"no pages", pdfOf("<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[]/Count 0>>"), "has no pages"},
		{"a ring of pages", pdfOf("<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[2 0 R 2 0 R]/Count 9>>"), "has no pages"},
		{"a ring of references", pdfOf("<</Type/Catalog/Pages 2 0 R>>", "2 0 R"), "has no list of pages"},
		{"deep pages", pdfOf("<</Type/Catalog/Pages 2 0 R>>", strings.Repeat("<</Kids[", 40)+strings.Repeat("]>>", 40)), "has no list of pages"},
		{"a page that unfolds", onePage(pdfStreamOf("/Filter/FlateDecode", bomb)), "unfolds to more than 32 MiB"},
		{"a ring of drawings", onePage(pdfStreamOf("", "/A Do"), pdfStreamOf("/Subtype/Form/Resources<</XObject<</A 5 0 R>>>>", "/A Do /A Do")), "nested too deep"},
		{"drawings that double", onePage(pdfStreamOf("", strings.Repeat("/A Do ", 5000)), pdfStreamOf("/Subtype/Form/Resources<</XObject<</A 6 0 R>>>>", strings.Repeat("/A Do ", 5000)),
			pdfStreamOf("/Subtype/Form", strings.Repeat("q Q ", 5000))), "it draws too much"},
		{"drawings that unfold", onePage(pdfStreamOf("", strings.Repeat("/A Do ", 5000)), pdfStreamOf("/Subtype/Form/Filter/FlateDecode", deflated(bytes.Repeat([]byte(" "), 30<<20)))), "made to be slow"},
		{"a picture that claims", picture("", "few"), "more than its 3 bytes can hold"},
		{"a picture that is cut off", onePage(draw, pdfStreamOf("/Subtype/Image/Width 40/Height 40/ColorSpace/DeviceGray/BitsPerComponent 8/Filter/FlateDecode", deflated(zeros[:40*39]))), "it ends in the middle"},
		{"a lying JPEG", picture("/Filter/DCTDecode", string(lyingJPEG(12000, 12000, jpegSOF1))), "bytes can hold"},
		{"what is no JPEG", picture("/Filter/DCTDecode", "few"), "no picture that can be read"},
		{"a giant picture", onePage(draw, pdfStreamOf("/Subtype/Image/Width 90000/Height 90000/ColorSpace/DeviceRGB/BitsPerComponent 8", "few")), "at most 12000 by 12000 fit"},
		{"a picture of odd bits", onePage(draw, pdfStreamOf("/Subtype/Image/Width 90/Height 90/ColorSpace/DeviceRGB/BitsPerComponent 5", "few")), "5 bits a colour"},
		{"a picture of odd colours", onePage(draw, pdfStreamOf("/Subtype/Image/Width 90/Height 90/ColorSpace/Pattern/BitsPerComponent 8", "few")), "colours that cannot be read"},
		{"a picture of no size on paper", onePage(pdfStreamOf("", "0 0 0 0 0 0 cm /A Do"), pdfStreamOf("/Subtype/Image/Width 90/Height 90", "few")), "holds no pictures"},
		{"fax of two manners", onePage(draw, pdfStreamOf("/Subtype/Image/Width 90/Height 90/Filter/CCITTFaxDecode/DecodeParms<</K 4/Columns 90>>", "few words here, and more of them")), "second manner"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		list, err := PDFPictures(context.Background(), "bad.pdf", c.content)
		if err == nil {
			_, err = list[0].Content(context.Background())
		}
		runtime.ReadMemStats(&after)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "bad.pdf") || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
		// In sum, not at once. Under the race detector pools forget what they hold, which
		// nearly doubles it.
		if used := after.TotalAlloc - before.TotalAlloc; used > 2<<30 {
			t.Errorf("%s: %d MiB allocated", c.name, used>>20)
		}
	}
}

// Objects that lie within one another cost no more than the file's length allows.
func TestSlowPDFs(t *testing.T) {
	var nested, lost bytes.Buffer
	nested.WriteString("%PDF-1.4\n")
	lost.WriteString("%PDF-1.4\n")
	for i := range 100_000 {
		fmt.Fprintf(&nested, "%d 0 obj(", i)
		fmt.Fprintf(&lost, "%d 0 obj<<>>stream ", i)
	}
	for _, content := range [][]byte{nested.Bytes(), lost.Bytes()} {
		if _, err := OpenPDF(context.Background(), "bad.pdf", content); err == nil {
			t.Error("it is read")
		}
	}
}

// Reading a PDF leaves no trace on disk, nor in the user's folders.
func TestPDFWritesNothing(t *testing.T) {
	home := t.TempDir()
	for _, key := range []string{"HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME", "TMPDIR", "APPDATA"} {
		t.Setenv(key, home)
	}
	t.Chdir(home)
	list, err := PDFPictures(context.Background(), "x.pdf", onePage(pdfStreamOf("", "q 90 0 0 90 0 0 cm /A Do Q"),
		pdfStreamOf("/Subtype/Image/Width 40/Height 40/ColorSpace/DeviceGray/BitsPerComponent 8", strings.Repeat("x", 1600))))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := list[0].Content(context.Background()); err != nil {
		t.Fatal(err)
	}
	if left, err := os.ReadDir(home); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// 500 pages are opened by their list alone, and looked through page by page.
func TestManyPages(t *testing.T) {
	objects := []string{"<</Type/Catalog/Pages 2 0 R>>", ""}
	var kids []string
	image := pdfStreamOf("/Subtype/Image/Width 40/Height 40/ColorSpace/DeviceGray/BitsPerComponent 8", strings.Repeat("x", 1600))
	for range 500 {
		n := len(objects) + 1
		objects = append(objects, pdfStreamOf("", "q 90 0 0 90 0 0 cm /A Do Q"), image,
			fmt.Sprintf("<</Type/Page/Contents %d 0 R/Resources<</XObject<</A %d 0 R>>>>>>", n, n+1))
		kids = append(kids, fmt.Sprintf("%d 0 R", n+2))
	}
	objects[1] = "<</Type/Pages/Kids[" + strings.Join(kids, " ") + "]>>"
	list, err := PDFPictures(context.Background(), "long.pdf", pdfOf(objects...))
	if err != nil || len(list) != 500 || list[499].Page != 500 {
		t.Errorf("%d pictures, %v", len(list), err)
	}
}

// Any bytes are listed or refused, and what is listed is read or refused.
func FuzzPDFPictures(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(pdfDir, "*"))
	if err != nil {
		f.Fatal(err)
	}
	for _, path := range files {
		content, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(content)
	}
	f.Add(onePage(pdfStreamOf("", "/A Do"), pdfStreamOf("/Subtype/Form/Resources<</XObject<</A 5 0 R>>>>", "/A Do /A Do")))
	f.Fuzz(func(t *testing.T, content []byte) {
		list, err := PDFPictures(context.Background(), "x.pdf", content)
		if err != nil {
			fuzzedError(t, err)
			return
		}
		for i := range list[:min(len(list), 3)] {
			const most = 1 << 20 // pixels: more would only be slow
			if list[i].Wide*list[i].High > most {
				continue
			}
			content, err := list[i].Content(context.Background())
			if err != nil {
				fuzzedError(t, err)
				continue
			}
			got, err := list[i].Describe(content)
			if err != nil {
				t.Fatalf("%+v: %v", list[i], err)
			}
			if _, err := draft.ParsePictureFile(got.String()); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// fuzzedError fails where something was thrown, though it was caught.
func fuzzedError(t *testing.T, err error) {
	t.Helper()
	if says := err.Error(); strings.Contains(says, "runtime error") {
		t.Fatal(says)
	}
}

// A page's drawing moves pictures as its numbers say.
func TestPDFTurns(t *testing.T) {
	list, err := PDFPictures(context.Background(), "turns.pdf", pdfFixture(t, "turns.pdf"))
	if err != nil || len(list) != 17 {
		t.Fatal(len(list), err)
	}
	for i := range 8 {
		if list[i].turn != orientation(i+1) || list[i].DPI != 100 {
			t.Errorf("page %d is turned %d at %g", i+1, list[i].turn, list[i].DPI)
		}
	}
	if got := image.Pt(list[5].Wide, list[5].High); got != image.Pt(70, 96) {
		t.Errorf("lying it is %v", got)
	}
}
