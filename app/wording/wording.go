// Package wording puts figures and errors into the words that the window shows.
package wording

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Count returns how many there are of a thing: "1 piece", "3 pieces".
func Count(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return fmt.Sprintf("%d %ss", n, of)
}

// Sentence begins a text with a capital, as errors do not. A text that begins with the
// name of a file stays as it is, for the name is another with a capital.
func Sentence(text string) string {
	word, _, _ := strings.Cut(text, " ")
	if isFile(word) {
		return text
	}
	first, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + text[n:]
}

// isFile reports whether a word is the name of a file: a point with letters behind it.
func isFile(word string) bool {
	word = strings.TrimRight(word, ":,;.")
	dot := strings.LastIndexByte(word, '.')
	return dot > 0 && dot+1 < len(word) && unicode.IsLetter(rune(word[dot+1]))
}

// List names things as a sentence does: "Front, Back and Sleeve".
func List(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
