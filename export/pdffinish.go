package export

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf16"
)

// pdfInfo is what a PDF says about itself.
type pdfInfo struct {
	title, subject, keywords string
	made                     time.Time
}

// finishPDF rewrites the end of a file that the drawing library has made. The
// library writes catalogue, information and page tree (objects 1 to 3) last and
// offers no way to ask viewers not to scale when they print, nor to set the time;
// so these objects and the table of offsets are written anew, and fonts are undated;
// pages stay as they are.
func finishPDF(body []byte, info pdfInfo) ([]byte, error) {
	offsets, err := pdfOffsets(body)
	if err != nil {
		return nil, err
	}
	cut := offsets[1]
	tree, err := pdfObject(body, offsets[3])
	if err != nil {
		return nil, err
	}
	body, offsets = undatePDF(body, offsets, cut)
	id := sha256.Sum256(body)
	var out bytes.Buffer
	out.Write(body)
	write := func(n int, object string) {
		offsets[n] = out.Len()
		fmt.Fprintf(&out, "%d 0 obj\n%s\nendobj\n", n, object)
	}
	// ViewerPreferences: ISO 32000-1, 12.2; PrintScaling None since PDF 1.6.
	write(1, "<</Type/Catalog/Pages 3 0 R/Lang(en)/ViewerPreferences<</PrintScaling/None/DisplayDocTitle true>>>>")
	write(2, fmt.Sprintf("<</Title%s/Subject%s/Keywords%s/Creator(Hemlet)/Producer(tdewolff/canvas)/CreationDate(%s)>>",
		pdfText(info.title), pdfText(info.subject), pdfText(info.keywords), pdfTime(info.made)))
	write(3, tree)
	table := out.Len()
	fmt.Fprintf(&out, "xref\n0 %d\n0000000000 65535 f \n", len(offsets))
	for _, at := range offsets[1:] {
		fmt.Fprintf(&out, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&out, "trailer\n<</Root 1 0 R/Info 2 0 R/Size %d/ID[<%x><%x>]>>\nstartxref\n%d\n%%%%EOF\n", len(offsets), id[:16], id[:16], table)
	return out.Bytes(), nil
}

// pdfOffsets reads the table of offsets; index 0 is unused.
func pdfOffsets(body []byte) ([]int, error) {
	broken := errors.New("the drawing library's file has no table of objects where one is expected")
	at := bytes.LastIndex(body, []byte("xref\n0 "))
	// startxref ends in the same word; the table is the one before it.
	for at > 0 && bytes.HasPrefix(body[at-5:], []byte("startxref")) {
		at = bytes.LastIndex(body[:at], []byte("xref\n0 "))
	}
	if at < 0 {
		return nil, broken
	}
	lines := strings.Split(string(body[at:]), "\n")
	n, err := strconv.Atoi(strings.TrimPrefix(lines[1], "0 "))
	if err != nil || n < 4 || len(lines) < n+2 {
		return nil, broken
	}
	offsets := make([]int, n)
	for i := 1; i < n; i++ {
		field, _, _ := strings.Cut(lines[2+i], " ")
		if offsets[i], err = strconv.Atoi(field); err != nil || offsets[i] >= at {
			return nil, broken
		}
	}
	return offsets, nil
}

// pdfObject returns what stands between obj and endobj.
func pdfObject(body []byte, at int) (string, error) {
	text := string(body[at:])
	from, to := strings.Index(text, "obj\n"), strings.Index(text, "\nendobj")
	if from < 0 || to < from {
		return "", errors.New("the drawing library's file has no page tree where one is expected")
	}
	return text[from+len("obj\n") : to], nil
}

// pdfText returns words as a PDF text string: UTF-16 in hexadecimal, which needs no
// escapes.
func pdfText(words string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, unit := range utf16.Encode([]rune(words)) {
		fmt.Fprintf(&b, "%04X", unit)
	}
	return b.String() + ">"
}

// pdfTime returns a time as ISO 32000-1, 7.9.4 writes it.
func pdfTime(t time.Time) string { return t.UTC().Format("D:20060102150405Z") }
