package tracer

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/geom"
)

// A picture is turned upright, renamed and taken away, and each is a step to undo.
func TestPicturesAreTurnedNamedAndTakenAway(t *testing.T) {
	b := newBench(t, grey(400, 300), grey(300, 400))
	s := b.step.(*picturesStep)
	b.choose(b.pictures()[1].ID)
	b.sheet.TypedRune('[')
	if near := b.pictures()[1].Near(); math.Abs(math.Atan2(near.B, near.A)-math.Pi/2) > 1e-9 {
		t.Errorf("turned to %v", near)
	}
	b.desk.Undo()
	test.Type(s.called, "the back sheet")
	s.called.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if b.pictures()[1].Name != "the back sheet" || b.pictures()[0].Name != "sheet 1" {
		t.Errorf("called %q and %q", b.pictures()[0].Name, b.pictures()[1].Name)
	}
	b.Key(fyne.KeyDelete)
	if len(b.pictures()) != 1 || b.chosen().Name != "sheet 1" {
		t.Fatalf("%d pictures are left", len(b.pictures()))
	}
	b.desk.Undo()
	if len(b.pictures()) != 2 {
		t.Error("it is not undone")
	}
}

// A click takes the picture under it in hand; pictures do not lie over one another when
// they come in.
func TestPicturesLieBesideOneAnother(t *testing.T) {
	b := newBench(t, grey(400, 300), grey(400, 300), grey(400, 300))
	p := b.pictures()
	if overlap(p[0], p[1]) || overlap(p[1], p[2]) || overlap(p[0], p[2]) {
		t.Fatal("they overlap")
	}
	b.Fit()
	b.click(p[2].ID, geom.Pt(200, 150))
	if b.chosen() != b.pictures()[2] {
		t.Errorf("%s is in hand", b.chosen().Name)
	}
	// A locked one says so, and can be unlocked here.
	on := true
	run(b.Room, draft.SetPicture, draft.SetPictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(p[2].ID)}, Locked: &on})
	if s := b.step.(*picturesStep); len(s.told.Objects) != 1 {
		t.Error("nothing says that it is locked")
	}
}

// What cannot be read is said where the picture would be, and the room goes on.
func TestPictureThatIsMissing(t *testing.T) {
	b := newBench(t, grey(40, 30))
	b.lay([]draft.PictureFile{{Name: "gone", Hash: fmt.Sprintf("%064d", 7), Ext: "png", Wide: 40, High: 30}})
	gone := b.pictures()[1]
	await(t, "the fault", func() bool { return b.read(gone).fault != "" })
	for _, s := range b.steps {
		b.goTo(s.name())
	}
}

// scannedFile writes a PDF of pages that each hold one JPEG, drawn by hand after ISO
// 32000-1, and returns its path.
func scannedFile(t *testing.T, pages int) string {
	t.Helper()
	var jpg bytes.Buffer
	if err := jpeg.Encode(&jpg, grey(300, 200).image.(*image.Gray), nil); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	var at []int
	object := func(format string, args ...any) {
		at = append(at, out.Len())
		fmt.Fprintf(&out, "%d 0 obj\n", len(at))
		fmt.Fprintf(&out, format, args...)
		out.WriteString("\nendobj\n")
	}
	out.WriteString("%PDF-1.4\n")
	object("<< /Type /Catalog /Pages 2 0 R >>")
	kids := ""
	for i := range pages {
		kids += fmt.Sprintf("%d 0 R ", 3+3*i)
	}
	object("<< /Type /Pages /Kids [%s] /Count %d >>", kids, pages)
	for i := range pages {
		object("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 144 96] /Contents %d 0 R /Resources << /XObject << /A %d 0 R >> >> >>", 4+3*i, 5+3*i)
		const draw = "q 144 0 0 96 0 0 cm /A Do Q"
		object("<< /Length %d >>\nstream\n%s\nendstream", len(draw), draw)
		object("<< /Type /XObject /Subtype /Image /Width 300 /Height 200 /ColorSpace /DeviceGray /BitsPerComponent 8 /Filter /DCTDecode /Length %d >>\nstream\n%s\nendstream", jpg.Len(), jpg.String())
	}
	xref := out.Len()
	fmt.Fprintf(&out, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, o := range at {
		fmt.Fprintf(&out, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&out, "trailer << /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, xref)
	path := filepath.Join(t.TempDir(), "envelope.pdf")
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// The pictures of a scanned PDF are listed with thumbnails; those that are ticked come
// in, at the size at which the page draws them, as one step to undo.
func TestScannedPDF(t *testing.T) {
	b := newBench(t)
	b.host.Keep = func() (func(string, []byte) (draft.PictureFile, error), error) {
		return intake.DescribePicture, nil
	}
	b.Bring([]string{scannedFile(t, 3)})
	b.idle()
	s := b.step.(*picturesStep)
	if b.pdf == nil || len(b.pdf.pics) != 3 || b.pdf.thumbs[1] == nil || !s.pdf.all.Visible() {
		t.Fatalf("listed %v; said %q", b.pdf, b.said)
	}
	b.pdf.ticked[1] = false
	s.update()
	if s.pdf.bring.Word != "Bring in 2 pictures" {
		t.Errorf("the button says %q", s.pdf.bring.Word)
	}
	s.pdf.bring.Tapped(nil)
	b.idle()
	if len(b.pictures()) != 2 || b.pdf != nil {
		t.Fatalf("%d pictures; said %q", len(b.pictures()), b.said)
	}
	// 300 px over 144 points are 150 an inch.
	if got := b.pictures()[0].Scale(); math.Abs(got-25.4/150) > 1e-6 {
		t.Errorf("a pixel covers %g mm", got)
	}
	b.desk.Undo()
	if len(b.pictures()) != 0 {
		t.Error("it is not undone in one step")
	}
	// A PDF that is none is told, and nothing else happens.
	broken := filepath.Join(t.TempDir(), "broken.pdf")
	if err := os.WriteFile(broken, []byte("%PDF-1.4 nothing"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.said = ""
	b.Bring([]string{broken})
	b.idle()
	if b.said == "" || b.pdf != nil || len(s.failed.Objects) != 1 {
		t.Errorf("said %q", b.said)
	}
}

// A picture and several PDFs that come at once all arrive.
func TestPicturesAndPDFsAtOnce(t *testing.T) {
	b := newBench(t)
	b.host.Keep = func() (func(string, []byte) (draft.PictureFile, error), error) {
		return intake.DescribePicture, nil
	}
	scan := filepath.Join(t.TempDir(), "sleeve.png")
	var file bytes.Buffer
	if err := png.Encode(&file, grey(60, 40).image); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(scan, file.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	b.Bring([]string{scannedFile(t, 1), scan, scannedFile(t, 2)})
	b.idle()
	if len(b.pictures()) != 1 || b.pdf == nil || len(b.pdf.pics) != 3 || len(b.pdf.names) != 2 {
		t.Errorf("%d pictures, listed %+v; said %q", len(b.pictures()), b.pdf, b.said)
	}
}

// While the room is not seen it keeps no pixels of large pictures, and reads them again.
func TestLargePicturesAreLetGoOf(t *testing.T) {
	b := newBench(t, grey(400, 300))
	pic := b.pictures()[0]
	b.Hidden()
	if b.Room.files.read[pic.Hash].image == nil {
		t.Error("a small picture is read again for nothing")
	}
	b.Room.files.read[pic.Hash].sizes.W = restPixels
	b.Hidden()
	if x := b.Room.files.read[pic.Hash]; x.image != nil || x.scan != nil || x.sizes == nil {
		t.Errorf("kept %v", x)
	}
	b.Shown()
	await(t, "the picture to be read again", func() bool { return b.read(pic).image != nil })
}

// Another document has other pictures, though their ids may be the same.
func TestAnotherDocument(t *testing.T) {
	b := newBench(t, grey(400, 300))
	w := b.wayNamed("Length").(*byLength)
	id := b.pictures()[0].ID
	b.click(id, geom.Pt(50, 50))
	b.click(id, geom.Pt(350, 50))
	b.Hidden()
	b.desk.Open(draft.New("another"), "")
	b.Shown()
	if b.step.name() != stepPictures || len(w.known) != 0 || b.chosen() != nil || len(b.Room.files.read) != 0 {
		t.Error("something of the document before is left")
	}
}
