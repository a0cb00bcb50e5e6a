package export

import (
	"bytes"
	"cmp"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"slices"
)

// undatePDF returns the objects of a file of the drawing library, and where they now
// lie, with fonts that do not say when they were written: the library puts the time of
// day into each, so that the same pattern would be another file a second later. What
// comes after the object that begins at end is left off.
func undatePDF(body []byte, offsets []int, end int) ([]byte, []int) {
	moved := slices.Clone(offsets)
	var order []int
	for n, at := range offsets {
		if n > 0 && at < end {
			order = append(order, n)
		}
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(offsets[a], offsets[b]) })
	if len(order) == 0 {
		return body[:end], moved
	}
	out := slices.Clone(body[:offsets[order[0]]])
	for k, n := range order {
		until := end
		if k+1 < len(order) {
			until = offsets[order[k+1]]
		}
		moved[n] = len(out)
		out = append(out, undatedObject(body[offsets[n]:until])...)
	}
	return out, moved
}

// undatedObject returns an object of a PDF as it is or, where it is the stream of a font,
// with the font undated.
func undatedObject(object []byte) []byte {
	head, rest, ok := bytes.Cut(object, []byte("stream\n"))
	number, length := 0, 0
	if n, _ := fmt.Sscanf(string(head), "%d 0 obj\n<</Filter/FlateDecode/Length %d>>", &number, &length); !ok || n != 2 || length > len(rest) {
		return object
	}
	plain, err := zlib.NewReader(bytes.NewReader(rest[:length]))
	if err != nil {
		return object
	}
	font, err := io.ReadAll(plain)
	if err != nil || !undateFont(font) {
		return object
	}
	var packed bytes.Buffer
	w := zlib.NewWriter(&packed)
	// A buffer takes everything.
	_, _ = w.Write(font)
	_ = w.Close()
	var out bytes.Buffer
	fmt.Fprintf(&out, "%d 0 obj\n<</Filter/FlateDecode/Length %d>>stream\n", number, packed.Len())
	out.Write(packed.Bytes())
	out.Write(rest[length:])
	return out.Bytes()
}

// Places in a font file in bytes (OpenType 1.9, "Organization of an OpenType Font" and
// "head").
const (
	sfntRecords    = 12 // of the table records
	sfntRecord     = 16 // the length of one: tag, check sum, offset, length
	headAdjustment = 8  // of the adjustment of the whole file's sum in the table head
	headCreated    = 20
	headModified   = 28
	headLength     = 54
	// sfntSum is what the words of a whole font add up to.
	sfntSum = 0xB1B0AFBA
)

// undateFont sets the time at which a TrueType font was changed to that at which it was
// made, and its check sums right. It is false, and nothing is changed, for what is no such
// font.
func undateFont(font []byte) bool {
	if len(font) < sfntRecords || binary.BigEndian.Uint32(font) != 0x00010000 {
		return false
	}
	tables := int(binary.BigEndian.Uint16(font[4:]))
	if len(font) < sfntRecords+tables*sfntRecord {
		return false
	}
	for i := range tables {
		record := font[sfntRecords+i*sfntRecord:][:sfntRecord]
		at, length := int(binary.BigEndian.Uint32(record[8:])), int(binary.BigEndian.Uint32(record[12:]))
		if string(record[:4]) != "head" {
			continue
		}
		if length < headLength || at > len(font)-length {
			return false
		}
		head := font[at : at+length]
		copy(head[headModified:headModified+8], head[headCreated:headModified])
		binary.BigEndian.PutUint32(head[headAdjustment:], 0)
		binary.BigEndian.PutUint32(record[4:], sumOfWords(head))
		binary.BigEndian.PutUint32(head[headAdjustment:], sfntSum-sumOfWords(font))
		return true
	}
	return false
}

// sumOfWords adds up the big-endian words of 32 bits, the last one filled with zeros.
func sumOfWords(b []byte) uint32 {
	var sum uint32
	for len(b) >= 4 {
		sum += binary.BigEndian.Uint32(b)
		b = b[4:]
	}
	var last [4]byte
	copy(last[:], b)
	return sum + binary.BigEndian.Uint32(last[:])
}
