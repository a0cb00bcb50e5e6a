package intake

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"io"
	"slices"
)

// Values of the tags of TIFF 6.0.
const (
	tiffPlain, tiffG3, tiffG4, tiffLZW      = 1, 3, 4, 5
	tiffOldJPEG, tiffJPEG, tiffDeflate      = 6, 7, 8
	tiffPackBits, tiffOldDeflate            = 32773, 32946
	tiffWhiteIsZero, tiffRGB, tiffInks      = 0, 2, 5
	tiffPalette, tiffYCbCr, tiffUnassociate = 3, 6, 2
)

// tiffPage is the picture in a TIFF file that is read, in a directory of our own that
// holds only what the decoder understands, with every bound in place.
type tiffPage struct {
	order binary.ByteOrder
	dir   []byte // laid behind the end of the file
	inks  bool   // the four samples are inks
	blind bool   // the fourth sample says nothing of what can be seen through
	faxed bool   // runs of white stand for black: the decoder takes white ones for white
}

// tiffHead reads the first directory of a TIFF file.
func tiffHead(content []byte) (*pictureHead, error) {
	h, err := tiffHeadAt(content, 0)
	if err != nil {
		return nil, err
	}
	if pages := len(tiffDirectories(content)); pages > 1 {
		h.notes = append(h.notes, fmt.Sprintf("it holds %d pictures; only the first is read", pages))
	}
	return h, nil
}

// tiffHeadAt reads the directory at an offset, 0 for the first.
func tiffHeadAt(content []byte, at uint32) (*pictureHead, error) {
	if content[2] == 43 || content[3] == 43 {
		return nil, errors.New("is a BigTIFF. Save it as an ordinary TIFF or as PNG")
	}
	d, _, err := readTags(content, at)
	if err != nil {
		return nil, fmt.Errorf("is damaged: %w. Copy or scan it again", err)
	}
	h := &pictureHead{form: formTIFF, turn: d.orientation(), dpi: d.dpi()}
	h.wide, h.high = bounded(d.number(tagWide, 0)), bounded(d.number(tagHigh, 0))
	t := tiffReading{tiffTags: d, h: h}
	if err := t.understand(); err != nil {
		return nil, err
	}
	if h.wide < 1 || h.high < 1 || h.wide > 1<<16 || h.high > 1<<16 {
		return h, nil // refused by its size
	}
	return h, t.lay()
}

// tiffDirectories returns where the directories of the pictures in a TIFF file lie, without
// those of small likenesses of others. A ring of directories is gone round once, and very
// many are not followed to the end.
func tiffDirectories(content []byte) []uint32 {
	const likeness = 1 // the bit of the kind of a directory
	d, next, err := readTags(content, 0)
	if err != nil {
		return nil
	}
	list := []uint32{0}
	first := d.order.Uint32(content[4:])
	seen := map[uint32]bool{first: true}
	for tags := d.count; next != 0 && !seen[next] && len(seen) < mostTIFFSections && tags < mostTIFFTags; tags += d.count {
		at := next
		seen[at] = true
		if d, next, err = readTags(content, at); err != nil {
			break
		}
		if d.number(tagKind, 0)&likeness == 0 {
			list = append(list, at)
		}
	}
	return list
}

// tiffReading is a directory on its way to a page.
type tiffReading struct {
	tiffTags
	h       *pictureHead
	bits    []uint32
	meaning uint32
	inks    bool
	blind   bool
}

// understand refuses what the decoder does not know, in plain words.
func (t *tiffReading) understand() error {
	if t.bits = t.numbers(tagBits); len(t.bits) == 0 {
		t.bits = []uint32{1}
	}
	t.meaning = t.number(tagMeaning, tiffWhiteIsZero)
	samples := t.number(tagSamples, uint32(len(t.bits)))
	if len(t.bits) == 1 && samples > 1 && samples <= 4 {
		t.bits = slices.Repeat(t.bits, int(samples)) // some programs write it once for all
	}
	switch t.number(tagCompression, tiffPlain) {
	case tiffJPEG, tiffOldJPEG:
		return errors.New("is a TIFF compressed as JPEG inside. Save it as JPEG, PNG or a TIFF without that")
	case 0, tiffPlain, tiffLZW, tiffDeflate, tiffOldDeflate, tiffPackBits:
	case tiffG3, tiffG4:
		if t.number(tagT4Options, 0)&1 != 0 {
			return errors.New("is a TIFF packed in the second manner of fax group 3. Save it as PNG")
		}
	default:
		return errors.New("is a TIFF with a rare compression. Save it as PNG")
	}
	for _, b := range t.bits {
		if b != t.bits[0] || b != 1 && b != 8 && b != 16 {
			return fmt.Errorf("is a TIFF of %d bits a sample; 1, 8 and 16 are read. Save it with 8 bits, or as PNG", b)
		}
	}
	for _, f := range t.numbers(tagSampleFormat) {
		if f != 1 {
			return errors.New("is a TIFF of measured values (fractions), not of brightness. Save it with 8 bits, or as PNG")
		}
	}
	if len(t.bits) > 1 && t.number(tagPlanar, 1) != 1 {
		return errors.New("is a TIFF with its colours one after the other. Save it with its colours side by side, or as PNG")
	}
	return t.understandColours()
}

func (t *tiffReading) understandColours() error {
	deep := t.bits[0] == 16
	switch n := len(t.bits); t.meaning {
	case tiffWhiteIsZero, 1, tiffPalette:
		if n != 1 {
			return errors.New("is a grey TIFF with more than grey in it. Save it without transparency, or as PNG")
		}
		if deep && t.meaning == tiffPalette {
			return errors.New("is a TIFF with too many colours in its palette. Save it as RGB, or as PNG")
		}
		t.h.perPixel = 1
	case tiffRGB:
		if n != 3 && n != 4 || t.bits[0] == 1 {
			return errors.New("is a TIFF with a number of colours that cannot be read. Save it as RGB or grey, or as PNG")
		}
		extra := t.number(tagExtraSamples, 0)
		t.blind = n == 4 && extra != 1 && extra != tiffUnassociate
		t.h.perPixel = 4
	case tiffInks:
		if n != 4 || t.bits[0] != 8 {
			return errors.New("is a TIFF in printing inks that cannot be read; four inks of 8 bits are. Save it as RGB or grey")
		}
		t.inks = true
		t.h.perPixel = 4
	default:
		return errors.New("is a TIFF in colours that cannot be read (YCbCr, Lab or rarer). Save it as RGB or grey, or as PNG")
	}
	if deep {
		t.h.perPixel *= 2
	}
	return nil
}

// lay writes the directory that the decoder is given, and what the strips can hold.
func (t *tiffReading) lay() error {
	row := (int64(t.h.wide)*int64(len(t.bits))*int64(t.bits[0]) + 7) / 8
	wide, high := int64(t.h.wide), min(int64(t.number(tagRowsPerStrip, 1<<31)), int64(t.h.high))
	offsets, counts := t.numbers(tagStripOffsets), t.numbers(tagStripCounts)
	tiled := t.number(tagTileWide, 0) != 0
	if tiled {
		wide, high = int64(t.number(tagTileWide, 0)), int64(t.number(tagTileHigh, 0))
		offsets, counts = t.numbers(tagTileOffsets), t.numbers(tagTileCounts)
	}
	// A tile may stick out, but not by more than the least picture is padded.
	const least, padded = 8, 4096
	if high < 1 || tiled && (wide < least || high < least || wide > int64(t.h.wide)+padded || high > int64(t.h.high)+padded) {
		return errors.New("is damaged: its tiles do not fit its size. Copy or scan it again")
	}
	across := (int64(t.h.wide) + wide - 1) / wide
	down := (int64(t.h.high) + high - 1) / high
	blocks := across * down
	block := (wide*int64(len(t.bits))*int64(t.bits[0]) + 7) / 8 * high
	if len(counts) == 0 && t.number(tagCompression, tiffPlain) == tiffPlain {
		counts = t.plainCounts(len(offsets), int(blocks), block, high, tiled)
	}
	if int64(len(offsets)) < blocks || int64(len(counts)) < blocks {
		return errors.New("is damaged: its list of strips is too short. Copy or scan it again")
	}
	packed, err := t.within(offsets[:blocks], counts[:blocks], block)
	if err != nil {
		return err
	}
	t.h.needs, t.h.holds = row*int64(t.h.high), t.unfolded(packed)
	// What a block unfolds to is held beside the picture, up to three times as it grows.
	t.h.perPixel += 3 * float64(block) / (float64(t.h.wide) * float64(t.h.high))
	t.h.tiff = &tiffPage{order: t.order, inks: t.inks, blind: t.blind}
	compression := t.number(tagCompression, tiffPlain)
	t.h.tiff.faxed = (compression == tiffG3 || compression == tiffG4) && t.meaning != tiffWhiteIsZero
	t.h.tiff.dir = t.directory(offsets[:blocks], counts[:blocks], uint32(high), tiled)
	return nil
}

// plainCounts are the lengths of strips of so many rows, or of tiles, that are not
// compressed and have none noted: tiles are all of one size, the last strip is shorter.
func (t *tiffReading) plainCounts(offsets, blocks int, block, rows int64, tiled bool) []uint32 {
	if offsets < blocks || block > int64(len(t.file)) {
		return nil
	}
	counts := slices.Repeat([]uint32{uint32(block)}, blocks)
	if last := int64(t.h.high) % rows; last != 0 && !tiled {
		counts[blocks-1] = uint32(block / rows * last)
	}
	return counts
}

// within returns how many bytes the strips have together, all inside the file; packed
// longer than they need be they are refused, because what is unfolded has no other bound
// in the form that only shortens repetitions.
func (t *tiffReading) within(offsets, counts []uint32, block int64) (packed int64, err error) {
	const slack = 1024
	for i, n := range counts {
		if int64(offsets[i])+int64(n) > int64(len(t.file)) {
			return 0, errors.New("is damaged: it ends in the middle. Copy or scan it again")
		}
		if t.number(tagCompression, tiffPlain) == tiffPackBits && int64(n) > 2*block+slack {
			return 0, errors.New("is damaged: a strip is longer than its pixels. Copy or scan it again")
		}
		packed += int64(n)
	}
	return packed, nil
}

// unfolded returns how many bytes so many packed ones can stand for.
func (t *tiffReading) unfolded(packed int64) int64 {
	const (
		packBitsMost = 64   // 2 bytes for at most 128
		lzwMost      = 4096 // a code for a string as long as its table of 12 bits
	)
	switch t.number(tagCompression, tiffPlain) {
	case tiffLZW:
		return packed * lzwMost
	case tiffDeflate, tiffOldDeflate:
		return packed * deflateMost
	case tiffPackBits:
		return packed * packBitsMost
	case tiffG3, tiffG4:
		row := (int64(t.h.wide) + 7) / 8
		return packed * 8 * row // a white row takes one bit
	}
	return packed
}

// directory writes the tags that the decoder reads, in ascending order, all but the
// fractions as numbers of four bytes.
func (t *tiffReading) directory(offsets, counts []uint32, rows uint32, tiled bool) []byte {
	meaning := t.meaning
	extra := t.numbers(tagExtraSamples)
	if t.inks || t.blind {
		meaning, extra = tiffRGB, []uint32{tiffUnassociate}
	}
	values := map[uint16][]uint32{
		tagWide: {uint32(t.h.wide)}, tagHigh: {uint32(t.h.high)}, tagBits: t.bits, tagMeaning: {meaning},
		tagCompression: {t.number(tagCompression, tiffPlain)}, tagExtraSamples: extra,
	}
	for _, tag := range []uint16{tagFillOrder, tagT4Options, tagT6Options, tagPredictor, tagColours} {
		values[tag] = t.numbers(tag)
	}
	if tiled {
		values[tagTileWide], values[tagTileHigh] = t.numbers(tagTileWide), t.numbers(tagTileHigh)
		values[tagTileOffsets], values[tagTileCounts] = offsets, counts
	} else {
		values[tagStripOffsets], values[tagStripCounts], values[tagRowsPerStrip] = offsets, counts, []uint32{rows}
	}
	var tags []uint16
	for tag, list := range values {
		if len(list) > 0 {
			tags = append(tags, tag)
		}
	}
	slices.Sort(tags)
	type appender interface {
		AppendUint16([]byte, uint16) []byte
		AppendUint32([]byte, uint32) []byte
	}
	order := t.order.(appender)
	dir := order.AppendUint16(nil, uint16(len(tags)))
	var behind []byte
	at := len(t.file) + 2 + tiffEntry*len(tags) + 4
	for _, tag := range tags {
		const long = 4
		list := values[tag]
		dir = order.AppendUint32(order.AppendUint16(order.AppendUint16(dir, tag), long), uint32(len(list)))
		if len(list) == 1 {
			dir = order.AppendUint32(dir, list[0])
			continue
		}
		dir = order.AppendUint32(dir, uint32(at+len(behind)))
		for _, n := range list {
			behind = order.AppendUint32(behind, n)
		}
	}
	return append(order.AppendUint32(dir, 0), behind...)
}

// reader returns the file as the decoder is given it: with the page's directory behind
// its end, and a header that leads there.
func (p *tiffPage) reader(ctx context.Context, content []byte) io.Reader {
	head := append([]byte(nil), content[:tiffHeader]...)
	p.order.PutUint32(head[4:], uint32(len(content)))
	return &patched{ctx: ctx, parts: [][]byte{head, content[tiffHeader:], p.dir}}
}

// meant returns the pixels as what they stand for.
func (p *tiffPage) meant(img image.Image) image.Image {
	switch m := img.(type) {
	case *image.Gray:
		if p.faxed {
			for i := range m.Pix {
				m.Pix[i] = ^m.Pix[i]
			}
		}
	case *image.NRGBA:
		if p.inks {
			return &image.CMYK{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect}
		}
		if p.blind {
			for i := 3; i < len(m.Pix); i += 4 {
				m.Pix[i] = 0xff
			}
		}
	case *image.NRGBA64:
		if p.blind {
			for i := 6; i < len(m.Pix); i += 8 {
				m.Pix[i], m.Pix[i+1] = 0xff, 0xff
			}
		}
	}
	return img
}

// patched reads parts as one file, from any place, until its context ends.
type patched struct {
	ctx   context.Context
	parts [][]byte
	at    int64
}

func (p *patched) Read(b []byte) (int, error) {
	n, err := p.ReadAt(b, p.at)
	p.at += int64(n)
	return n, err
}

func (p *patched) ReadAt(b []byte, off int64) (n int, err error) {
	if err := p.ctx.Err(); err != nil {
		return 0, err
	}
	for _, part := range p.parts {
		if off < int64(len(part)) {
			c := copy(b[n:], part[max(off, 0):])
			n += c
			off += int64(c)
		}
		off -= int64(len(part))
		if n == len(b) {
			return n, nil
		}
	}
	return n, io.EOF
}
