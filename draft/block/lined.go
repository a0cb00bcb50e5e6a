package block

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"hemlet/draft/tomltext"
)

// lined keeps an error of the scan or the decoder.
func (p *parser) lined(err error) {
	e := &Error{File: p.b.file, Says: err.Error(), Err: err}
	var at *tomltext.LineError
	var bad toml.ParseError
	switch {
	case errors.As(err, &at):
		e.Line, e.Says = at.Line, at.Says
	case errors.As(err, &bad):
		e.Line, e.Says = bad.Position.Line, bad.Message
	}
	if m := listAfterTable.FindStringSubmatch(e.Says); m != nil {
		e.Line = lineOfTable(p.text, m[1], e.Line)
	}
	e.Says = remedy(e.Says, string(lineAt(p.text, e.Line)))
	p.err = e
}

var (
	// unquoted is a line whose value begins like a text or a formula without quotes.
	unquoted = regexp.MustCompile(`^[\t ]*[a-z_]+[\t ]*=[\t ]*\[?[\t ]*([A-Za-z(]|-?[0-9.]+[\t ]*[*/+-])`)
	// commaNumber is one whose value is a number with a comma before its decimals.
	commaNumber = regexp.MustCompile(`^[\t ]*[a-z_]+[\t ]*=[\t ]*(-?[0-9]+),([0-9]+)[\t ]*(#.*)?$`)
	// curlyValue is one whose value begins with a quote as it is set in books.
	curlyValue = regexp.MustCompile(`=[\t ]*\[?[\t ]*[“”„‘’«»]`)
	// oneBracket is a heading with one bracket on each side.
	oneBracket = regexp.MustCompile(`^[\t ]*\[[\t ]*([a-z]+(\.[a-z]+)?)[\t ]*\]`)
	// twice is how the decoder says that something stands there for the second time.
	twice = regexp.MustCompile(`^Key '(?:[^']*\.)?([^'.]*)' has already been defined`)
)

// listAfterTable is how the decoder says that a list of tables began as a single table.
var listAfterTable = regexp.MustCompile(`^Key '([^']*)' was already created and cannot be used as an array`)

// lineOfTable returns the line on which the single table is opened, or the other line.
func lineOfTable(text []byte, name string, otherwise int) int {
	for i, line := range bytes.Split(text, []byte("\n")) {
		if m := oneBracket.FindSubmatch(line); m != nil && string(m[1]) == name {
			return i + 1
		}
	}
	return otherwise
}

// remedy says of a line that cannot be decoded how it is mended, where that is known.
func remedy(says, line string) string {
	if m := oneBracket.FindStringSubmatch(line); m != nil && isListed("[["+m[1]+"]]") {
		return fmt.Sprintf("write [[%s]], with two brackets, for each of the %s", m[1], m[1][strings.LastIndexByte(m[1], '.')+1:])
	}
	if m := twice.FindStringSubmatch(says); m != nil {
		return fmt.Sprintf("the key %s stands here for the second time", m[1])
	}
	switch m := commaNumber.FindStringSubmatch(line); {
	case m != nil:
		return fmt.Sprintf("decimals are written with a point; write %s.%s", m[1], m[2])
	case curlyValue.MatchString(line):
		return "texts and formulas stand in straight quotes, such as \"6*mm\"; these are not straight"
	case unquoted.MatchString(line):
		return says + "; texts and formulas stand in quotes"
	}
	return says
}

// isListed reports whether a heading is that of a table of which there are many.
func isListed(heading string) bool {
	for i := range sections {
		if sections[i].Heading == heading {
			return true
		}
	}
	return false
}

// unreadable keeps what is wrong with the text at a byte.
func (p *parser) unreadable(at int, says string) {
	p.err = &Error{File: p.b.file, Line: 1 + bytes.Count(p.text[:at], []byte("\n")), Says: says}
}

// firstInvalid returns the first byte of a text that is not in UTF-8.
func firstInvalid(text []byte) int {
	at := 0
	for at < len(text) {
		r, size := utf8.DecodeRune(text[at:])
		if r == utf8.RuneError && size == 1 {
			break
		}
		at += size
	}
	return at
}

// lineAt returns the line with the number, which counts from 1.
func lineAt(text []byte, number int) []byte {
	lines := bytes.SplitN(text, []byte("\n"), number+1)
	if number < 1 || number > len(lines) {
		return nil
	}
	return bytes.TrimSuffix(lines[number-1], []byte("\r"))
}
