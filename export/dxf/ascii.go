package dxf

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// spelt are letters that do not come apart into an ASCII letter and a mark.
var spelt = map[rune]string{
	'ß': "ss", 'æ': "ae", 'Æ': "AE", 'œ': "oe", 'Œ': "OE", 'ø': "o", 'Ø': "O", 'đ': "d", 'Đ': "D",
	'ł': "l", 'Ł': "L", 'þ': "th", 'Þ': "Th", 'ð': "d", 'Ð': "D", 'ı': "i",
	'‘': "'", '’': "'", '“': "\"", '”': "\"", '–': "-", '—': "-", '…': "...", '×': "x", '·': "-",
	'\u00a0': " ", '⁄': "/",
}

// ASCII returns the words in ASCII, on one line: accents are dropped, known letters
// spelt out, what remains is written as \U+ with four hex figures, which readers show
// as the letter.
func ASCII(words string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(words) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case r == '\n' || r == '\r' || r == '\t':
			b.WriteByte(' ')
		case r < ' ' || r == 0x7f:
		case r < 0x80:
			b.WriteRune(r)
		default:
			if s, ok := spelt[r]; ok {
				b.WriteString(s)
			} else if r <= 0xffff {
				fmt.Fprintf(&b, "\\U+%04X", r)
			} else {
				b.WriteByte('?')
			}
		}
	}
	return b.String()
}
