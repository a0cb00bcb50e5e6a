package intake

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
)

// Bounds of a PDF file, each a clear error.
const (
	pdfMostObjects = 1_000_000
	// pdfMostUnpacked bounds, in bytes, what a stream unfolds to that holds objects or a
	// page's content; pictures are bounded by their pixels.
	pdfMostUnpacked = 32 << 20
	pdfMostJumps    = 100 // from reference to reference, and from table to table
	pdfKeptStreams  = 8   // of objects, unfolded, kept for the next object
	// The bytes that are gone over, for a page or in opening the file, are bounded by
	// those of the file: objects that lie within one another would cost their square.
	pdfWorkTimes = 8
	pdfWorkBase  = 256 << 20
)

// pdfPlace says where an object lies: at an offset, or as one of a stream of objects.
type pdfPlace struct {
	offset int // into the file, where stream is 0
	stream int // the number of the stream of objects
}

// pdfFile finds the objects of a PDF file. It is not for use by several goroutines.
type pdfFile struct {
	src     []byte
	places  map[int]pdfPlace
	trailer pdfDict
	mended  bool
	// unfolded are streams of objects that were read, oldest first.
	unfolded []pdfObjectStream
	// ctx ends the reading, work counts down the bytes that may still be gone over.
	ctx  context.Context
	work int
}

type pdfObjectStream struct {
	number  int
	objects map[int]any
}

var errPDFLocked = errors.New("is locked (encrypted). Open it in a PDF program, with its password where it wants one, and print it to a new PDF, or save its pages as pictures")

// openPDFFile finds out where the objects of a file lie: by its tables, or where they are
// broken by looking for the objects themselves.
func openPDFFile(ctx context.Context, content []byte) (*pdfFile, error) {
	const junk = 1024 // that programs allow before the header
	start := bytes.Index(content[:min(len(content), junk)], []byte("%PDF-"))
	if start < 0 {
		return nil, errors.New("is no PDF. Give a PDF, PNG, JPEG, TIFF, BMP or WebP")
	}
	f := &pdfFile{src: content[start:], places: map[int]pdfPlace{}, trailer: pdfDict{}, ctx: ctx}
	f.work = pdfWorkBase + pdfWorkTimes*len(content)
	if err := f.readTables(); err != nil || f.catalogue() == nil {
		f.mend()
	}
	if _, locked := f.trailer["Encrypt"]; locked {
		return nil, errPDFLocked
	}
	if f.catalogue() == nil {
		if err := f.spent(); err != nil {
			return nil, err
		}
		return nil, errors.New("is damaged: it has no list of pages. Copy or scan it again")
	}
	return f, nil
}

var errPDFWork = errors.New("is damaged or made to be slow: its objects lie within one another. Print it to a new PDF")

// spend takes work off the account; it returns false where that is empty.
func (f *pdfFile) spend(n int) bool {
	f.work -= n
	return f.spent() == nil
}

// spent tells why reading had to stop, if so.
func (f *pdfFile) spent() error {
	if err := f.ctx.Err(); err != nil {
		return err
	}
	if f.work < 0 {
		return errPDFWork
	}
	return nil
}

func (f *pdfFile) catalogue() pdfDict {
	root := f.dict(f.trailer["Root"])
	if root == nil || f.dict(root["Pages"]) == nil {
		return nil
	}
	return root
}

// readTables follows the chain of tables from the newest to the oldest.
func (f *pdfFile) readTables() error {
	const word = "startxref"
	i := bytes.LastIndex(f.src, []byte(word))
	if i < 0 {
		return errPDFEnd
	}
	l := pdfLexer{src: f.src, at: i + len(word)}
	next, _ := l.object(0)
	seen := map[int]bool{}
	for range pdfMostJumps {
		at, ok := pdfInt(next)
		if !ok || at < 0 || at >= len(f.src) || seen[at] {
			return nil
		}
		seen[at] = true
		trailer, err := f.readTable(at)
		if err != nil {
			return err
		}
		for key, v := range trailer {
			if _, newer := f.trailer[key]; !newer {
				f.trailer[key] = v
			}
		}
		if beside, ok := pdfInt(trailer["XRefStm"]); ok && beside >= 0 && beside < len(f.src) && !seen[beside] {
			seen[beside] = true
			if _, err := f.readTable(beside); err != nil {
				return err
			}
		}
		next = trailer["Prev"]
	}
	return nil
}

// readTable takes in one table, written as text or as a stream, and returns its trailer.
func (f *pdfFile) readTable(at int) (pdfDict, error) {
	l := pdfLexer{src: f.src, at: at}
	l.space()
	if !bytes.HasPrefix(f.src[l.at:], []byte("xref")) {
		return f.readStreamTable(at)
	}
	l.at += len("xref")
	for {
		v, err := l.object(0)
		if err != nil {
			return nil, err
		}
		if v == pdfWord("trailer") {
			v, err := l.object(0)
			d, ok := v.(pdfDict)
			if err != nil || !ok {
				return nil, errPDFSyntax
			}
			return d, nil
		}
		first, ok := pdfInt(v)
		l.space()
		n, whole := l.plainNumber()
		if !ok || !whole || n < 0 || n > pdfMostObjects {
			return nil, errPDFSyntax
		}
		for i := range int(n) {
			l.space()
			offset, _ := l.plainNumber()
			l.space()
			l.plainNumber()
			l.space()
			if l.word() == "n" && offset > 0 && int(offset) < len(f.src) {
				f.place(first+i, pdfPlace{offset: int(offset)})
			}
			if l.at >= len(f.src) {
				return nil, errPDFEnd
			}
		}
	}
}

func (f *pdfFile) place(number int, p pdfPlace) {
	if _, newer := f.places[number]; !newer && len(f.places) < pdfMostObjects {
		f.places[number] = p
	}
}

// readStreamTable takes in a table that is a stream (ISO 32000-1, 7.5.8).
func (f *pdfFile) readStreamTable(at int) (pdfDict, error) {
	v, _, err := f.objectAt(at)
	s, ok := v.(*pdfStream)
	if err != nil || !ok || s.dict["Type"] != pdfName("XRef") {
		return nil, errPDFSyntax
	}
	var w [3]int
	widths, _ := s.dict["W"].(pdfArray)
	row := 0
	for i := range w {
		if len(widths) < 3 {
			return nil, errPDFSyntax
		}
		n, ok := pdfInt(widths[i])
		if !ok || n < 0 || n > 8 {
			return nil, errPDFSyntax
		}
		w[i] = n
		row += n
	}
	data, err := f.unpack(s)
	if err != nil || row == 0 {
		return nil, errPDFSyntax
	}
	index, _ := s.dict["Index"].(pdfArray)
	if index == nil {
		index = pdfArray{0.0, s.dict["Size"]}
	}
	for ; len(index) >= 2; index = index[2:] {
		first, ok1 := pdfInt(index[0])
		n, ok2 := pdfInt(index[1])
		for i := 0; ok1 && ok2 && i < n && len(data) >= row; i++ {
			f.placeRow(first+i, data, w)
			data = data[row:]
		}
	}
	return s.dict, nil
}

func (f *pdfFile) placeRow(number int, data []byte, w [3]int) {
	kind, at, _ := 1, 0, 0
	if w[0] > 0 {
		kind = bigEndian(data[:w[0]])
	}
	at = bigEndian(data[w[0] : w[0]+w[1]])
	switch kind {
	case 1:
		if at > 0 && at < len(f.src) {
			f.place(number, pdfPlace{offset: at})
		}
	case 2:
		if at > 0 && at != number {
			f.place(number, pdfPlace{stream: at})
		}
	}
}

func bigEndian(b []byte) int {
	v := 0
	for _, c := range b {
		v = v<<8 | int(c)
	}
	return v
}

// mend looks for the objects themselves, the last of each number, and for a trailer.
func (f *pdfFile) mend() {
	if f.mended {
		return
	}
	f.mended = true
	f.places, f.unfolded = map[int]pdfPlace{}, nil
	older := f.trailer
	f.trailer = pdfDict{}
	var streams []int
	for at := 0; ; {
		i := bytes.Index(f.src[at:], []byte("obj"))
		if i < 0 || len(f.places) >= pdfMostObjects {
			break
		}
		at += i + len("obj")
		if number, start, ok := objectBefore(f.src, at-len("obj")); ok {
			f.places[number] = pdfPlace{offset: start}
			streams = append(streams, number)
		}
	}
	f.mendTrailer()
	for _, number := range streams {
		if v, _, err := f.objectAt(f.places[number].offset); err == nil {
			f.mendFrom(number, v)
		}
	}
	for key, v := range older {
		if _, there := f.trailer[key]; !there {
			f.trailer[key] = v
		}
	}
}

// objectBefore reads "12 0 " backwards from the word obj.
func objectBefore(src []byte, at int) (number, start int, ok bool) {
	i := at
	var part [2]int
	for k := range part {
		for i > 0 && pdfSpace(src[i-1]) {
			i--
		}
		end := i
		const digits = 10
		for i > 0 && end-i < digits && src[i-1] >= '0' && src[i-1] <= '9' {
			i--
			part[k] += int(src[i]-'0') * pow10(end-i-1)
		}
		if i == end {
			return 0, 0, false
		}
	}
	return part[1], i, i == 0 || !bytes.ContainsRune([]byte("0123456789"), rune(src[i-1]))
}

func pow10(n int) int {
	v := 1
	for range n {
		v *= 10
	}
	return v
}

func (f *pdfFile) mendTrailer() {
	for at := 0; ; {
		i := bytes.Index(f.src[at:], []byte("trailer"))
		if i < 0 {
			return
		}
		at += i + len("trailer")
		l := pdfLexer{src: f.src, at: at}
		if v, err := l.object(0); err == nil {
			if d, ok := v.(pdfDict); ok {
				for key, v := range d {
					f.trailer[key] = v
				}
			}
		}
	}
}

// mendFrom takes what a found object tells of others: a stream of objects, a trailer, or
// that it is the catalogue.
func (f *pdfFile) mendFrom(number int, v any) {
	switch v := v.(type) {
	case *pdfStream:
		switch v.dict["Type"] {
		case pdfName("ObjStm"):
			for n := range f.objectsOf(number, v) {
				if _, there := f.places[n]; !there {
					f.place(n, pdfPlace{stream: number})
				}
			}
		case pdfName("XRef"):
			for _, key := range []pdfName{"Root", "Encrypt"} {
				if r, ok := v.dict[key]; ok {
					f.trailer[key] = r
				}
			}
		}
	case pdfDict:
		if _, there := f.trailer["Root"]; !there && v["Type"] == pdfName("Catalog") {
			f.trailer["Root"] = pdfRef{number, 0}
		}
	}
}

// objectAt reads the object that is written at an offset, with its number.
func (f *pdfFile) objectAt(at int) (any, int, error) {
	if err := f.spent(); err != nil {
		return nil, 0, err
	}
	l := pdfLexer{src: f.src, at: at}
	defer func() { f.spend(l.at - at) }()
	l.space()
	number, whole := l.plainNumber()
	l.space()
	l.plainNumber()
	l.space()
	if !whole || l.word() != "obj" {
		return nil, 0, errPDFSyntax
	}
	v, err := l.object(0)
	if err != nil {
		return nil, 0, err
	}
	d, ok := v.(pdfDict)
	if !ok {
		return v, int(number), nil
	}
	l.space()
	if !bytes.HasPrefix(f.src[l.at:], []byte("stream")) {
		return d, int(number), nil
	}
	l.at += len("stream")
	if l.at < len(f.src) && f.src[l.at] == '\r' {
		l.at++
	}
	if l.at < len(f.src) && f.src[l.at] == '\n' {
		l.at++
	}
	return &pdfStream{d, f.streamBytes(d, l.at)}, int(number), nil
}

// streamBytes returns the bytes of a stream: as many as it says if its end follows, else
// up to where its end is found.
func (f *pdfFile) streamBytes(d pdfDict, at int) []byte {
	rest := f.src[at:]
	const end = "endstream"
	length := d["Length"]
	if r, ok := length.(pdfRef); ok {
		length = nil
		// Only a plain number: reading it through a stream of objects could lead back here.
		if p, ok := f.places[r.number]; ok && p.stream == 0 {
			l := pdfLexer{src: f.src, at: p.offset}
			l.plainNumber()
			l.space()
			l.plainNumber()
			l.space()
			l.word()
			length, _ = l.object(0)
		}
	}
	if n, ok := pdfInt(length); ok && n >= 0 && n <= len(rest) {
		l := pdfLexer{src: f.src, at: at + n}
		for l.at < len(f.src) && pdfSpace(f.src[l.at]) {
			l.at++
		}
		if bytes.HasPrefix(f.src[l.at:], []byte(end)) {
			return rest[:n]
		}
	}
	if i := bytes.Index(rest, []byte(end)); i >= 0 {
		f.spend(i)
		return rest[:i]
	}
	f.spend(len(rest))
	return rest
}

// get follows references to an object; what is not there is nil.
func (f *pdfFile) get(v any) any {
	for range pdfMostJumps {
		r, ok := v.(pdfRef)
		if !ok {
			return v
		}
		v = f.numbered(r.number)
	}
	return nil
}

func (f *pdfFile) numbered(number int) any {
	p, ok := f.places[number]
	if !ok {
		return nil
	}
	if p.stream != 0 {
		return f.inStream(p.stream, number)
	}
	v, n, err := f.objectAt(p.offset)
	if err == nil && n == number {
		return v
	}
	if f.mended {
		return nil
	}
	f.mend() // the table leads astray
	return f.numbered(number)
}

func (f *pdfFile) inStream(stream, number int) any {
	for _, s := range f.unfolded {
		if s.number == stream {
			return s.objects[number]
		}
	}
	p := f.places[stream]
	if p.stream != 0 {
		return nil // streams are never inside others
	}
	v, _, err := f.objectAt(p.offset)
	s, ok := v.(*pdfStream)
	if err != nil || !ok {
		return nil
	}
	return f.objectsOf(stream, s)[number]
}

// objectsOf unfolds a stream of objects (ISO 32000-1, 7.5.7).
func (f *pdfFile) objectsOf(number int, s *pdfStream) map[int]any {
	objects := map[int]any{}
	if len(f.unfolded) >= pdfKeptStreams {
		f.unfolded = f.unfolded[1:]
	}
	f.unfolded = append(f.unfolded, pdfObjectStream{number, objects})
	n, ok1 := pdfInt(s.dict["N"])
	first, ok2 := pdfInt(s.dict["First"])
	data, err := f.unpack(s)
	if !ok1 || !ok2 || err != nil || n < 0 || first < 0 || first > len(data) {
		return objects
	}
	head := pdfLexer{src: data[:first]}
	body := pdfLexer{src: data}
	for range min(n, pdfMostObjects) {
		head.space()
		id, ok := head.plainNumber()
		head.space()
		at, whole := head.plainNumber()
		if !ok || !whole || at < 0 || first+int(at) > len(data) {
			break
		}
		body.at = first + int(at)
		v, err := body.object(0)
		if spent := body.at - first - int(at); !f.spend(spent) {
			break
		}
		if err == nil {
			if _, twice := objects[int(id)]; !twice {
				objects[int(id)] = v
			}
		}
	}
	return objects
}

// unpack returns what a stream of objects, a table or a page's content unfolds to.
func (f *pdfFile) unpack(s *pdfStream) ([]byte, error) {
	r, last, err := f.filtered(s)
	if err != nil {
		return nil, err
	}
	if last.name != "" {
		return nil, fmt.Errorf("it is packed as %s", last.name)
	}
	data, err := io.ReadAll(io.LimitReader(r, pdfMostUnpacked+1))
	if !f.spend(len(data) + len(s.raw)) {
		return nil, f.spent()
	}
	if len(data) > pdfMostUnpacked {
		return nil, fmt.Errorf("it unfolds to more than %d MiB", pdfMostUnpacked>>20)
	}
	if len(data) > 0 {
		err = nil // what came before the damage counts
	}
	return data, err
}

func (f *pdfFile) dict(v any) pdfDict {
	switch v := f.get(v).(type) {
	case pdfDict:
		return v
	case *pdfStream:
		return v.dict
	}
	return nil
}

func (f *pdfFile) array(v any) pdfArray {
	a, _ := f.get(v).(pdfArray)
	return a
}

func (f *pdfFile) number(v any) (float64, bool) {
	n, ok := f.get(v).(float64)
	return n, ok
}

// whole returns a whole number, or what stands for a missing one.
func (f *pdfFile) whole(v any, missing int) int {
	if n, ok := pdfInt(f.get(v)); ok {
		return n
	}
	return missing
}

// numbers returns an array of n numbers, nil where it is none.
func (f *pdfFile) numbers(v any, n int) []float64 {
	a := f.array(v)
	if len(a) != n {
		return nil
	}
	list := make([]float64, n)
	for i := range a {
		var ok bool
		if list[i], ok = f.number(a[i]); !ok {
			return nil
		}
	}
	return list
}

func pdfInt(v any) (int, bool) {
	n, ok := v.(float64)
	if !ok || n != float64(int32(n)) {
		return 0, false
	}
	return int(n), true
}
