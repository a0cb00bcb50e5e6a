package intake

import (
	"encoding/binary"
	"errors"

	"hemlet/draft"
)

// Tags of TIFF 6.0 that are read.
const (
	tagKind          = 254 // NewSubfileType
	tagWide          = 256
	tagHigh          = 257
	tagBits          = 258
	tagCompression   = 259
	tagMeaning       = 262 // PhotometricInterpretation
	tagFillOrder     = 266
	tagStripOffsets  = 273
	tagOrientation   = 274
	tagSamples       = 277
	tagRowsPerStrip  = 278
	tagStripCounts   = 279
	tagAcross        = 282 // XResolution
	tagDown          = 283
	tagPlanar        = 284
	tagT4Options     = 292
	tagT6Options     = 293
	tagUnit          = 296
	tagPredictor     = 317
	tagColours       = 320
	tagTileWide      = 322
	tagTileHigh      = 323
	tagTileOffsets   = 324
	tagTileCounts    = 325
	tagExtraSamples  = 338
	tagSampleFormat  = 339
	tiffHeader       = 8  // bytes
	tiffEntry        = 12 // bytes
	mostTIFFSections = 1000
	mostTIFFTags     = 100_000 // of all directories, which may lie within one another
)

// tiffTags is one directory of a file laid out as TIFF.
type tiffTags struct {
	file    []byte
	order   binary.ByteOrder
	entries map[uint16]tiffValue
	count   int // of entries, as the file tells it
}

// tiffValue is where the values of a tag lie.
type tiffValue struct {
	kind uint16
	data []byte // count times the size of the kind
}

// tiffKinds are the sizes of the types of values, in bytes, by their number.
var tiffKinds = [...]int{1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8}

var errTags = errors.New("its directory lies outside the file")

// readTags reads the directory at an offset, 0 for the first, and returns where the next
// one is said to lie, 0 for nowhere. Values outside the file count as not being there.
func readTags(file []byte, at uint32) (tiffTags, uint32, error) {
	d := tiffTags{file: file, entries: map[uint16]tiffValue{}}
	if len(file) < tiffHeader {
		return d, 0, errTags
	}
	switch string(file[:4]) {
	case "II*\x00":
		d.order = binary.LittleEndian
	case "MM\x00*":
		d.order = binary.BigEndian
	default:
		return d, 0, errTags
	}
	if at == 0 {
		at = d.order.Uint32(file[4:])
	}
	if int64(at)+2 > int64(len(file)) {
		return d, 0, errTags
	}
	n := int(d.order.Uint16(file[at:]))
	rest := file[at+2:]
	if n*tiffEntry > len(rest) {
		return d, 0, errTags
	}
	d.count = n
	for i := range n {
		d.take(rest[i*tiffEntry : (i+1)*tiffEntry])
	}
	rest = rest[n*tiffEntry:]
	if len(rest) < 4 {
		return d, 0, nil
	}
	return d, d.order.Uint32(rest), nil
}

func (d *tiffTags) take(entry []byte) {
	tag, kind := d.order.Uint16(entry), d.order.Uint16(entry[2:])
	if int(kind) >= len(tiffKinds) || kind == 0 {
		return
	}
	size := int64(tiffKinds[kind]) * int64(d.order.Uint32(entry[4:]))
	data := entry[8:]
	if size > 4 {
		at := int64(d.order.Uint32(entry[8:]))
		if at+size > int64(len(d.file)) {
			return
		}
		data = d.file[at:]
	}
	if _, twice := d.entries[tag]; !twice {
		d.entries[tag] = tiffValue{kind, data[:size]}
	}
}

// numbers returns the values of a tag of whole numbers, nil where there is none.
func (d *tiffTags) numbers(tag uint16) []uint32 {
	v := d.entries[tag]
	var list []uint32
	switch v.kind {
	case 1:
		for _, b := range v.data {
			list = append(list, uint32(b))
		}
	case 3:
		for i := 0; i+2 <= len(v.data); i += 2 {
			list = append(list, uint32(d.order.Uint16(v.data[i:])))
		}
	case 4:
		for i := 0; i+4 <= len(v.data); i += 4 {
			list = append(list, d.order.Uint32(v.data[i:]))
		}
	}
	return list
}

// number returns the first value of a tag, or what stands for a missing one.
func (d *tiffTags) number(tag uint16, missing uint32) uint32 {
	if list := d.numbers(tag); len(list) > 0 {
		return list[0]
	}
	return missing
}

// ratio returns the first value of a tag of fractions, 0 where there is none.
func (d *tiffTags) ratio(tag uint16) float64 {
	v := d.entries[tag]
	if v.kind != 5 || len(v.data) < 8 {
		return 0
	}
	over := d.order.Uint32(v.data[4:])
	if over == 0 {
		return 0
	}
	return float64(d.order.Uint32(v.data)) / float64(over)
}

func (d *tiffTags) orientation() orientation {
	o := orientation(min(d.number(tagOrientation, 1), 255))
	if o < upright || o > lastOrientation {
		return upright
	}
	return o
}

// dpi returns the resolution, 0 where none is told that can be meant.
func (d *tiffTags) dpi() float64 {
	const inch, centimetre = 2, 3
	across, down := d.ratio(tagAcross), d.ratio(tagDown)
	switch d.number(tagUnit, inch) {
	case inch:
		return soundDPI(across, down)
	case centimetre:
		const perCm = draft.MMPerInch / 10
		return soundDPI(across*perCm, down*perCm)
	}
	return 0
}
