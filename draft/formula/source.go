package formula

import (
	"strings"
	"unicode/utf8"

	"github.com/expr-lang/expr/file"
)

const (
	// maxSource bounds a formula, in bytes: the longest that a person can still
	// read is a fraction of it.
	maxSource = 1000
	// maxOpen bounds the brackets that are open at one place.
	maxOpen = 40
)

// instead says what to write for what is not part of the language. It is asked in
// order, so that "**" comes before what "*" begins.
var instead = []struct{ text, says string }{
	{"//", "a formula holds no comments"},
	{"/*", "a formula holds no comments"},
	{"**", "there are no powers; multiply the value by itself"},
	{"^", "there are no powers; multiply the value by itself"},
	{"&&", "write 'and' for &&"},
	{"&", "write 'and' for &"},
	{"||", "write 'or' for ||"},
	{"|", "a formula holds no |; write f(x)"},
	{"??", "a condition has one ?, as in c ? a : b"},
	{"?.", "between ? and : stands the value for yes"},
	{"==", ""}, {"!=", ""}, {"<=", ""}, {">=", ""},
	{"=", "write == to compare"},
	{"!", "write 'not' for !"},
	{"%", "there are no percentages; write 0.06 for 6 %"},
	{"\"", "a formula holds no texts"},
	{"'", "a formula holds no texts"},
	{"`", "a formula holds no texts"},
	{"[", "a formula holds no lists; brackets are round"},
	{"]", "a formula holds no lists; brackets are round"},
	{"{", "brackets are round"},
	{"}", "brackets are round"},
	{";", "a formula is one line of arithmetic; put what comes before the ; into a step of its own"},
	{"::", "a formula holds no ::"},
	{"#", "a formula holds no #"},
	{"×", "write * for ×"},
	{"·", "write * for ·"},
	{"÷", "write / for ÷"},
	{"−", "write - for −"},
	{"–", "write - for –"},
	{"≤", "write <= for ≤"},
	{"≥", "write >= for ≥"},
	{"≠", "write != for ≠"},
	{"π", "write pi for π"},
	{"°", "write *degree for °"},
	{"²", "there are no powers; multiply the value by itself"},
}

// plain are the signs that have a meaning of their own, besides letters, digits and
// spaces.
const plain = "()+-*/,<>?:"

// scan refuses whatever is no part of the language before the expression library
// reads it, and says what to write instead.
func scan(source string) *Error {
	if strings.TrimSpace(source) == "" {
		return &Error{source, 0, "the formula is empty"}
	}
	if len(source) > maxSource {
		return &Error{source, 0, "the formula is longer than 1000 bytes; put parts of it into steps of their own"}
	}
	open, at := 0, file.Location{}
	for i := 0; i < len(source); at.From++ {
		r, size := utf8.DecodeRuneInString(source[i:])
		size, says := sign(source, i, r, size)
		if says != "" {
			return errorAt(source, at, "%s", says)
		}
		switch r {
		case '(':
			open++
		case ')':
			open--
		}
		switch {
		case open > maxOpen:
			return errorAt(source, at, "more than %d brackets are open here; put parts of the formula into steps of their own", maxOpen)
		case open < 0:
			return errorAt(source, at, "this bracket was never opened")
		}
		at.From += utf8.RuneCountInString(source[i:i+size]) - 1
		i += size
	}
	return nil
}

// sign returns how many bytes are read at i, and what is wrong with them, if
// anything is.
func sign(source string, i int, r rune, size int) (n int, says string) {
	if plainByte(source[i]) { // most of them
		return 1, ""
	}
	for _, w := range instead {
		if strings.HasPrefix(source[i:], w.text) {
			return len(w.text), w.says
		}
	}
	switch {
	case r == '.':
		return size, dot(source, i)
	case r < utf8.RuneSelf && strings.IndexByte(plain, byte(r)) >= 0:
		return size, ""
	case r == utf8.RuneError && size == 1:
		return size, "this is no text"
	}
	return size, "a formula holds no " + printable(r)
}

// plainByte says whether the byte belongs to a name, to a number, or is a space.
func plainByte(c byte) bool {
	return letter(c) || digit(c) || c == '_' || c == ' ' || c == '\t' || c == '\n' || c == '\r'
}

// dot says what is wrong with the point at i, which must begin the decimals of a
// number.
func dot(source string, i int) string {
	begins := i == 0 || !letter(source[i-1]) && source[i-1] != '_' && source[i-1] != ')' && source[i-1] != '.'
	if begins && i+1 < len(source) && digit(source[i+1]) {
		return ""
	}
	return "a point stands only before the decimals of a number"
}

// printable returns the character as it can be shown.
func printable(r rune) string {
	if r < ' ' || r == 0x7f || r == utf8.RuneError {
		return "control characters"
	}
	return string(r)
}
