package assets

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"golang.org/x/image/font/sfnt"
)

// shown are characters that labels and lengths need; a font without one of them
// would show a box in its place.
const shown = "AZaz09 ÄßÉŁőșΑωЖя½¼¾⅛⅜⅝⅞⁄×·…–—′″°²³±−≤≥≈√→←↑↓↔↕✓✕▾▸●“”‘’€"

func TestFontsHoldWhatIsShown(t *testing.T) {
	for w := Regular; w <= Bold; w++ {
		name, ttf := Font(w)
		f, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var buf sfnt.Buffer
		for _, r := range shown {
			if i, err := f.GlyphIndex(&buf, r); err != nil || i == 0 {
				t.Errorf("%s has no %q (%U)", name, r, r)
			}
		}
		if i, _ := f.GlyphIndex(&buf, '漢'); i != 0 {
			t.Errorf("%s is not cut down: it holds 漢", name)
		}
	}
}

func TestFontLicence(t *testing.T) {
	text := FontLicence()
	for _, want := range []string{"Modified Version", "SIL OPEN FONT LICENSE Version 1.1", "Google", "PERMISSION & CONDITIONS", "AS IS"} {
		if !strings.Contains(text, want) {
			t.Errorf("the licence does not say %q", want)
		}
	}
}

func TestIconsAreWellFormed(t *testing.T) {
	names := Icons()
	if len(names) < 30 {
		t.Fatalf("%d icons", len(names))
	}
	for _, name := range names {
		svg, err := Icon(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(svg, []byte(`viewBox="0 0 24 24"`)) || !bytes.Contains(svg, []byte(`"currentColor"`)) {
			t.Errorf("%s: not 24 units wide, or not in the colour of its place", name)
		}
		d := xml.NewDecoder(bytes.NewReader(svg))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Errorf("%s: %v", name, err)
				break
			}
		}
	}
}

// The four marks of the findings must differ in shape, not only in colour.
func TestFindingMarksDiffer(t *testing.T) {
	seen := map[string]string{}
	for _, name := range []string{"problem", "look-again", "note", "holds"} {
		svg, err := Icon(name)
		if err != nil {
			t.Fatal(err)
		}
		if other, twice := seen[string(svg)]; twice {
			t.Errorf("%s and %s look the same", name, other)
		}
		seen[string(svg)] = name
	}
}

func TestIconUnknown(t *testing.T) {
	if _, err := Icon("../fonts/OFL"); err == nil {
		t.Error("an icon outside the folder was found")
	}
}
