package assets

import (
	"bytes"
	"image/png"
	"testing"
)

func TestAppIconIsSquare(t *testing.T) {
	img, err := png.Decode(bytes.NewReader(AppIcon()))
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 256 || b.Dy() != 256 {
		t.Errorf("the icon is %d by %d pixels", b.Dx(), b.Dy())
	}
}

func TestSamplesAreCarried(t *testing.T) {
	if !bytes.HasPrefix(Sample(), []byte("format = 7\n")) {
		t.Errorf("the sample begins %q", Sample()[:20])
	}
	if !bytes.Contains(SampleDrawing(), []byte("<svg")) {
		t.Error("the sample drawing is no SVG")
	}
}

func TestSampleWearersAreCarried(t *testing.T) {
	for _, w := range SampleWearers() {
		if !bytes.Contains(w.Text, []byte("\n[measures]\n")) {
			t.Errorf("%s is no wearer file", w.File)
		}
	}
	if n := len(SampleWearers()); n != 2 {
		t.Errorf("%d wearers are carried", n)
	}
}
