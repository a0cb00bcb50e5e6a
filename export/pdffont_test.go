package export

import (
	"bytes"
	"encoding/binary"
	"testing"

	"hemlet/assets"
)

// An undated font keeps its sums: every table's words add up to what its record says, and
// those of the whole file to 0xB1B0AFBA (OpenType 1.9, "Calculating Checksums").
func TestUndateFontKeepsItsSums(t *testing.T) {
	font := regularFont()
	if !undateFont(font) {
		t.Fatal("the font was not taken for one")
	}
	if sum := sumOfWords(font); sum != sfntSum {
		t.Errorf("the words add up to %#x", sum)
	}
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		record := font[sfntRecords+i*sfntRecord:]
		at, length := binary.BigEndian.Uint32(record[8:]), binary.BigEndian.Uint32(record[12:])
		table := bytes.Clone(font[at : at+length])
		if string(record[:4]) == "head" {
			binary.BigEndian.PutUint32(table[headAdjustment:], 0)
			if !bytes.Equal(table[headCreated:headModified], table[headModified:headModified+8]) {
				t.Error("the font is dated still")
			}
		}
		if sum := sumOfWords(table); sum != binary.BigEndian.Uint32(record[4:]) {
			t.Errorf("table %s adds up to %#x", record[:4], sum)
		}
	}
}

func TestUndateFontLeavesWhatIsNone(t *testing.T) {
	font := regularFont()
	for _, n := range []int{0, 3, 11, 12, 40, 200} {
		cut := bytes.Clone(font[:min(n, len(font))])
		was := bytes.Clone(cut)
		if undateFont(cut) || !bytes.Equal(was, cut) {
			t.Errorf("%d bytes were taken for a font", n)
		}
	}
	for _, object := range []string{"", "4 0 obj\n<</Filter/FlateDecode/Length 90>>stream\nshort\nendstream\nendobj\n", "4 0 obj\n<</Length 3>>stream\nabc\nendstream\nendobj\n"} {
		if got := string(undatedObject([]byte(object))); got != object {
			t.Errorf("%q became %q", object, got)
		}
	}
}

// regularFont returns a copy of the font of the labels.
func regularFont() []byte {
	_, ttf := assets.Font(assets.Regular)
	return bytes.Clone(ttf)
}
