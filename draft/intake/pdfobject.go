package intake

import (
	"bytes"
	"errors"
	"math"
	"strconv"

	"hemlet/draft"
)

// The objects of a PDF file (ISO 32000-1, 7.3) are nil, bool, float64, pdfText, pdfName,
// pdfArray, pdfDict, *pdfStream and pdfRef; in a page's content also pdfWord, an operator.
type (
	pdfName   string
	pdfText   []byte
	pdfWord   string
	pdfArray  []any
	pdfDict   map[pdfName]any
	pdfRef    struct{ number, generation int }
	pdfStream struct {
		dict pdfDict
		raw  []byte
	}
)

// Bounds of one object.
const (
	pdfDepth     = draft.MaxDepth
	pdfMostParts = 1_000_000 // of all arrays and dictionaries together
)

var (
	errPDFSyntax = errors.New("it is not written as a PDF should be")
	errPDFEnd    = errors.New("it ends in the middle")
)

// pdfLexer reads objects one after the other.
type pdfLexer struct {
	src   []byte
	at    int
	parts int // of arrays and dictionaries, so far
}

func pdfSpace(c byte) bool {
	return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == '\f' || c == 0
}

func pdfDelimiter(c byte) bool {
	switch c {
	case '(', ')', '<', '>', '[', ']', '{', '}', '/', '%':
		return true
	}
	return false
}

// space passes over white space and comments.
func (l *pdfLexer) space() {
	for l.at < len(l.src) {
		switch c := l.src[l.at]; {
		case pdfSpace(c):
			l.at++
		case c == '%':
			for l.at < len(l.src) && l.src[l.at] != '\n' && l.src[l.at] != '\r' {
				l.at++
			}
		default:
			return
		}
	}
}

// object reads the next object. References are told from numbers by what follows; in a
// page's content there are none.
func (l *pdfLexer) object(depth int) (any, error) {
	if depth > pdfDepth {
		return nil, errors.New("it is nested too deep")
	}
	l.space()
	if l.at >= len(l.src) {
		return nil, errPDFEnd
	}
	switch c := l.src[l.at]; {
	case c == '/':
		return l.name(), nil
	case c == '(':
		return l.text()
	case c == '[':
		l.at++
		return l.array(depth)
	case c == '<' && l.at+1 < len(l.src) && l.src[l.at+1] == '<':
		l.at += 2
		return l.dict(depth)
	case c == '<':
		return l.hex()
	case c == '+' || c == '-' || c == '.' || c >= '0' && c <= '9':
		return l.number(), nil
	case pdfDelimiter(c):
		return nil, errPDFSyntax
	}
	switch w := l.word(); w {
	case "true":
		return true, nil
	case "false":
		return false, nil
	case "null":
		return nil, nil
	default:
		return pdfWord(w), nil
	}
}

func (l *pdfLexer) word() string {
	from := l.at
	for l.at < len(l.src) && !pdfSpace(l.src[l.at]) && !pdfDelimiter(l.src[l.at]) {
		l.at++
	}
	return string(l.src[from:l.at])
}

func (l *pdfLexer) name() pdfName {
	l.at++
	w := l.word()
	if !bytes.ContainsRune([]byte(w), '#') {
		return pdfName(w)
	}
	var b []byte
	for i := 0; i < len(w); i++ {
		if w[i] == '#' && i+2 < len(w) {
			if v, err := strconv.ParseUint(w[i+1:i+3], 16, 8); err == nil {
				b = append(b, byte(v))
				i += 2
				continue
			}
		}
		b = append(b, w[i])
	}
	return pdfName(b)
}

// number reads a number, or a reference where two whole ones are followed by R.
func (l *pdfLexer) number() any {
	v, whole := l.plainNumber()
	if !whole || v < 0 {
		return v
	}
	back := l.at
	l.space()
	if l.at < len(l.src) && l.src[l.at] >= '0' && l.src[l.at] <= '9' {
		generation, whole := l.plainNumber()
		l.space()
		if whole && l.at < len(l.src) && l.src[l.at] == 'R' && (l.at+1 == len(l.src) || pdfSpace(l.src[l.at+1]) || pdfDelimiter(l.src[l.at+1])) {
			l.at++
			return pdfRef{int(v), int(generation)}
		}
	}
	l.at = back
	return v
}

// plainNumber reads a number, 0 where it is none, as other programs do.
func (l *pdfLexer) plainNumber() (v float64, whole bool) {
	w := l.word()
	v, err := strconv.ParseFloat(w, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, false
	}
	const most = 1 << 31 // what a whole number of a PDF is below
	return v, v == math.Trunc(v) && math.Abs(v) < most
}

func (l *pdfLexer) array(depth int) (any, error) {
	list := pdfArray{}
	for {
		l.space()
		if l.at < len(l.src) && l.src[l.at] == ']' {
			l.at++
			return list, nil
		}
		v, err := l.object(depth + 1)
		if err != nil {
			return nil, err
		}
		if list = append(list, v); !l.more() {
			return nil, errPDFParts
		}
	}
}

var errPDFParts = errors.New("it has too many parts")

func (l *pdfLexer) more() bool {
	l.parts++
	return l.parts <= pdfMostParts
}

func (l *pdfLexer) dict(depth int) (any, error) {
	d := pdfDict{}
	for {
		l.space()
		if l.at+1 < len(l.src) && l.src[l.at] == '>' && l.src[l.at+1] == '>' {
			l.at += 2
			return d, nil
		}
		if l.at >= len(l.src) {
			return nil, errPDFEnd
		}
		if l.src[l.at] != '/' {
			return nil, errPDFSyntax
		}
		key := l.name()
		v, err := l.object(depth + 1)
		if err != nil {
			return nil, err
		}
		d[key] = v
		if !l.more() {
			return nil, errPDFParts
		}
	}
}

func (l *pdfLexer) hex() (any, error) {
	l.at++
	var b pdfText
	var half, digits byte
	for ; l.at < len(l.src); l.at++ {
		c := l.src[l.at]
		var v byte
		switch {
		case c == '>':
			l.at++
			if digits%2 == 1 {
				b = append(b, half<<4)
			}
			return b, nil
		case c >= '0' && c <= '9':
			v = c - '0'
		case c|0x20 >= 'a' && c|0x20 <= 'f':
			v = c | 0x20 - 'a' + 10
		case pdfSpace(c):
			continue
		default:
			return nil, errPDFSyntax
		}
		if digits++; digits%2 == 0 {
			b = append(b, half<<4|v)
		}
		half = v
	}
	return nil, errPDFEnd
}

func (l *pdfLexer) text() (any, error) {
	l.at++
	var b pdfText
	for open := 1; l.at < len(l.src); l.at++ {
		c := l.src[l.at]
		switch c {
		case '(':
			open++
		case ')':
			if open--; open == 0 {
				l.at++
				return b, nil
			}
		case '\\':
			if l.at++; l.at < len(l.src) {
				b = l.escaped(b)
			}
			continue
		}
		b = append(b, c)
	}
	return nil, errPDFEnd
}

// escaped appends what the sign after a backslash stands for; it leaves the place at the
// last sign that it took.
func (l *pdfLexer) escaped(b pdfText) pdfText {
	c := l.src[l.at]
	if i := bytes.IndexByte([]byte("nrtbf"), c); i >= 0 {
		return append(b, "\n\r\t\b\f"[i])
	}
	switch {
	case c == '\r':
		if l.at+1 < len(l.src) && l.src[l.at+1] == '\n' {
			l.at++
		}
		return b
	case c == '\n':
		return b
	case c < '0' || c > '7':
		return append(b, c)
	}
	v := 0
	for n := 0; n < 3 && l.at < len(l.src) && l.src[l.at] >= '0' && l.src[l.at] <= '7'; n++ {
		v = v<<3 | int(l.src[l.at]-'0')
		l.at++
	}
	l.at--
	return append(b, byte(v))
}
