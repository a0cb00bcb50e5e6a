package intake

import (
	"bytes"
	"context"
	"encoding/binary"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"hemlet/draft"
)

// lyingPNG claims a size, and has a few bytes of pixels.
func lyingPNG(w, h uint32, depth, colour byte) []byte {
	body := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32([]byte("IHDR"), w), h)
	body = append(body, depth, colour, 0, 0, 0)
	file := append([]byte(pngSignature), 0, 0, 0, 13)
	file = append(append(file, body...), 0, 0, 0, 0)
	file = append(file, 0, 0, 0, 10)
	return append(append(file, "IDAT"...), make([]byte, 14)...)
}

func lyingJPEG(w, h uint16, marker byte) []byte {
	file := []byte{0xff, 0xd8, 0xff, marker, 0, 11, 8}
	file = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(file, h), w)
	return append(file, 1, 1, 0x11, 0, 0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0, 0, 0)
}

func lyingBMP(w, h int32, bits uint16) []byte {
	file := make([]byte, 60)
	copy(file, "BM")
	binary.LittleEndian.PutUint32(file[10:], 54)
	binary.LittleEndian.PutUint32(file[14:], 40)
	binary.LittleEndian.PutUint32(file[18:], uint32(w))
	binary.LittleEndian.PutUint32(file[22:], uint32(h))
	binary.LittleEndian.PutUint16(file[26:], 1)
	binary.LittleEndian.PutUint16(file[28:], bits)
	return file
}

// lyingTIFF has a directory of the tags that are given, each with one value of four bytes.
func lyingTIFF(tags ...uint32) []byte {
	o := binary.LittleEndian
	file := o.AppendUint16(append([]byte("II*\x00"), 8, 0, 0, 0), uint16(len(tags)/2))
	for i := 0; i < len(tags); i += 2 {
		file = o.AppendUint32(o.AppendUint32(o.AppendUint16(o.AppendUint16(file, uint16(tags[i])), 4), 1), tags[i+1])
	}
	return append(file, make([]byte, 20)...)
}

// Tiles of which no lengths are noted are as long as their pixels, whatever is said of the
// strips that there are not.
func TestTilesWithoutLengths(t *testing.T) {
	for name, strips := range map[string][]uint32{"no strips": nil, "strips of no height": {tagRowsPerStrip, 0}, "strips of three rows": {tagRowsPerStrip, 3}} {
		file := lyingTIFF(append([]uint32{tagWide, 8, tagHigh, 8, tagBits, 8, tagMeaning, 1, tagTileWide, 8, tagTileHigh, 8, tagTileOffsets, 8}, strips...)...)
		if img, err := DecodePicture("tiles.tif", file); err != nil || img.Bounds() != image.Rect(0, 0, 8, 8) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func lyingWebP(kind string, body []byte) []byte {
	file := append([]byte("RIFF\x00\x00\x00\x00WEBP"), kind...)
	return append(binary.LittleEndian.AppendUint32(file, uint32(len(body))), body...)
}

// bareTIFF are the tags of a grey picture of 8 bits in one strip.
func bareTIFF(w, h uint32, more ...uint32) []byte {
	return lyingTIFF(append([]uint32{tagWide, w, tagHigh, h, tagBits, 8, tagMeaning, 1, tagStripOffsets, 8, tagStripCounts, 20}, more...)...)
}

// Every hostile picture costs a clear sentence and hardly any memory.
func TestHostilePictures(t *testing.T) {
	const most = draft.MaxPixels
	ring := bareTIFF(4, 5)
	binary.LittleEndian.PutUint32(ring[10+6*12:], 8) // the next directory is the first
	huge := []byte{0x2f, 0xdf, 0xee, 0xb7, 0x0b}     // 12,000 by 12,000 without loss
	twelve := lyingJPEG(40, 40, jpegSOF1)
	twelve[6] = 12
	for _, c := range []struct {
		name    string
		content []byte
		want    string
	}{
		{"empty", nil, "is no picture that can be read"},
		{"a letter", []byte("Dear aunt"), "is no picture that can be read"},
		{"a signature alone", []byte(pngSignature), "has no PNG header"},
		{"PNG of nothing", lyingPNG(0, 5, 8, 0), "has 0 by 5 pixels"},
		{"giant PNG", lyingPNG(1<<31-1, 1<<31-1, 8, 0), "at most 12000 by 12000 fit"},
		{"lying PNG", lyingPNG(most, most, 16, 6), "more than its 55 bytes can hold"},
		{"PNG a little too wide", pngOf(t, most+1, 1), "at most 12000 by 12000 fit"},
		{"lying JPEG", lyingJPEG(most, most, jpegSOF1), "bytes can hold"},
		{"JPEG of no height", lyingJPEG(40, 0, jpegSOF1), "has 40 by 0 pixels"},
		{"giant JPEG", lyingJPEG(65535, 65535, jpegSOF1), "at most 12000"},
		{"JPEG without loss", lyingJPEG(40, 40, 0xc3), "rare kind"},
		{"JPEG of 12 bits", twelve, "more than 8 bits"},
		{"JPEG that ends at once", []byte{0xff, 0xd8, 0xff, 0xd9}, "ends before its pixels begin"},
		{"JPEG with inks that mean nothing", []byte{0xff, 0xd8, 0xff, 0xc0, 0, 20, 8, 0, 8, 0, 8, 4, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0, 4, 0x11, 0}, "printing inks"},
		{"lying BMP", lyingBMP(most, most, 24), "bytes can hold"},
		{"BMP below 0", lyingBMP(-5, 5, 24), "has 0 by 5 pixels"},
		{"BMP of the least height", lyingBMP(5, -1<<31, 24), "there is nothing in it"},
		{"BMP of 16 bits", lyingBMP(5, 5, 16), "number of colours"},
		{"half a BMP", []byte("BM\x00\x00"), "ends before its pixels begin"},
		{"lying TIFF", bareTIFF(most, most), "bytes can hold"},
		{"TIFF of nothing", bareTIFF(0, 0), "has 0 by 0 pixels"},
		{"giant TIFF", bareTIFF(1<<31, 1<<31), "at most 12000"},
		{"TIFF without a directory", []byte("II*\x00\xff\xff\xff\xff"), "directory lies outside"},
		{"TIFF with a strip outside", lyingTIFF(tagWide, 4, tagHigh, 4, tagBits, 8, tagMeaning, 1, tagStripOffsets, 8, tagStripCounts, 1<<30), "ends in the middle"},
		{"TIFF with giant tiles", bareTIFF(4, 5, tagTileWide, 1<<30, tagTileHigh, 1<<30, tagTileOffsets, 8, tagTileCounts, 9), "tiles do not fit"},
		{"TIFF with a long strip of repetitions", append(lyingTIFF(tagWide, 4, tagHigh, 4, tagBits, 8, tagCompression, tiffPackBits, tagMeaning, 1, tagStripOffsets, 8, tagStripCounts, 4000),
			make([]byte, 5000)...), "longer than its pixels"},
		{"lying WebP", lyingWebP("VP8 ", []byte{0x10, 0, 0, 0x9d, 1, 0x2a, 0xe0, 0x2e, 0xe0, 0x2e}), "bytes can hold"},
		{"lying WebP without loss", lyingWebP("VP8L", huge), "bytes can hold"},
		{"WebP that tells two sizes", append(lyingWebP("VP8X", []byte{0, 0, 0, 0, 9, 0, 0, 9, 0, 0}), lyingWebP("VP8L", huge)[12:]...), "no whole WebP"},
		{"WebP of nothing", []byte("RIFF\x00\x00\x00\x00WEBP"), "no whole WebP"},
		{"moving WebP", picture(t, "moving.webp"), "is a moving WebP"},
		{"TIFF with JPEG inside", picture(t, "jpeg.tif"), "compressed as JPEG inside"},
		{"TIFF of brightness and colours", picture(t, "ycbcr.tif"), "colours that cannot be read"},
		{"TIFF of fractions", picture(t, "fractions.tif"), "32 bits a sample"},
		{"TIFF in planes", picture(t, "planes.tif"), "colours one after the other"},
		{"TIFF of 4 bits", picture(t, "four.tif"), "4 bits a sample"},
		{"big TIFF", picture(t, "big.tif"), "BigTIFF"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, errDescribe := DescribePicture("bad.pic", c.content)
		_, err := DecodePicture("bad.pic", c.content)
		runtime.ReadMemStats(&after)
		if err == nil || errDescribe == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "bad.pic ") || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
		if used := after.TotalAlloc - before.TotalAlloc; used > 1<<20 {
			t.Errorf("%s: %d kB allocated", c.name, used>>10)
		}
	}
	if got := tiffDirectories(ring); len(got) != 1 {
		t.Errorf("a ring of directories: %v", got)
	}
	// Every other byte begins another directory of 65,535 entries.
	within := bytes.Repeat([]byte{0xff, 0xff}, 600_000)
	copy(within, "II*\x00\x08\x00\x00\x00")
	for at := 8; at+65_535*12+6 < len(within); at += 100 {
		binary.LittleEndian.PutUint32(within[at+2+65_535*12:], uint32(at+100))
	}
	if got := tiffDirectories(within); len(got) > 3 {
		t.Errorf("%d directories within one another are read", len(got))
	}
}

// Cut off anywhere, a picture is refused in one sentence, or its pixels were all there.
func TestCutOffPictures(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(picturesDir, "*"))
	if err != nil || len(files) < 50 {
		t.Fatal(len(files), err)
	}
	refused := 0
	for _, path := range files {
		whole, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		step := max(1, len(whole)/60)
		for n := 0; n < len(whole); n += step {
			_, err := DecodePicture("cut", whole[:n])
			if err == nil {
				continue
			}
			refused++
			if says := err.Error(); strings.Contains(says, "\n") || strings.Contains(says, "panic") || strings.Contains(says, "runtime error") {
				t.Errorf("%s cut at %d: %q", path, n, says)
			}
		}
	}
	if refused < 1000 {
		t.Errorf("only %d are refused", refused)
	}
}

// A picture of the largest size is turned within the memory that was promised.
func TestCostOfPictures(t *testing.T) {
	const side = 1500
	m := image.NewYCbCr(image.Rect(0, 0, side, side), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = uint8(i * i >> 7)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	content := append([]byte{0xff, 0xd8, 0xff, 0xe1, 0, 0}, append([]byte("Exif\x00\x00"), exifBlock(6, 300)...)...)
	binary.BigEndian.PutUint16(content[4:], uint16(len(content)-4))
	content = append(content, b.Bytes()[2:]...)
	h, err := readHead(content)
	if err != nil || h.turn != 6 {
		t.Fatal(h, err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := DecodePicture("large.jpg", content); err != nil {
		t.Fatal(err)
	}
	runtime.ReadMemStats(&after)
	used := float64(after.TotalAlloc-before.TotalAlloc) / (side * side)
	// Turned, each plane is copied once, one after the other: all in all as much again.
	if used > 2*h.perPixel+0.1 {
		t.Errorf("%.2f bytes a pixel, promised %.2f", used, h.perPixel)
	}
	t.Logf("%.2f bytes a pixel", used)
}

// Any bytes are described or refused, and what is described is decoded or refused.
func FuzzPicture(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(picturesDir, "*"))
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
	f.Add(lyingPNG(draft.MaxPixels, draft.MaxPixels, 16, 6))
	f.Add(bareTIFF(4, 5))
	f.Fuzz(func(t *testing.T, content []byte) {
		got, err := DescribePicture("x", content)
		if err != nil {
			return
		}
		if _, err := draft.ParsePictureFile(got.String()); err != nil {
			t.Fatal(err)
		}
		const most = 1 << 20 // pixels: more would only be slow
		if got.Wide*got.High > most {
			return
		}
		img, err := DecodePicture("x", content)
		if err != nil {
			return
		}
		if img.Bounds() != image.Rect(0, 0, got.Wide, got.High) {
			t.Fatalf("%v of %+v", img.Bounds(), got)
		}
		if n := PictureParts(content); n > 1 {
			if part, err := PicturePart(context.Background(), "x", content, n); err == nil {
				if _, err := DescribePicture("x.png", part); err != nil {
					t.Fatal(err)
				}
			}
		}
		for y := range got.High {
			img.At(y%got.Wide, y).RGBA()
		}
	})
}

// Any block of tags is read within itself.
func FuzzExif(f *testing.F) {
	f.Add(exifBlock(6, 300))
	f.Add(bareTIFF(4, 5))
	f.Fuzz(func(t *testing.T, block []byte) {
		facts := exifOf(block)
		if facts.turn < upright || facts.turn > lastOrientation || facts.dpi < 0 {
			t.Fatalf("%+v", facts)
		}
		if len(tiffDirectories(block)) > mostTIFFSections {
			t.Fatal("directories without end")
		}
	})
}
