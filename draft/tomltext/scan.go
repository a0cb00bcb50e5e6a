package tomltext

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// MaxDepth bounds the nesting of a text.
const MaxDepth = 64

// Visitor is told what a scan finds, in the order of the file. Keys are as written,
// without their quotes. An error ends the scan.
type Visitor interface {
	Heading(parts []string, list bool, line int) error
	Key(parts []string, line int) error
	// Down and Up enclose what stands in a list ('[') or an inline table ('{');
	// Item comes before each value of a list.
	Down(bracket byte, line int) error
	Up()
	Item(line int) error
	// Value is the text of a number, date or word.
	Value(text []byte, line int)
}

// LineError is an error at a line of the text, which counts from 1.
type LineError struct {
	Line int
	Says string
}

func (e *LineError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Says) }

// Scan walks through TOML text without building anything, and refuses what is
// nested deeper than MaxDepth: the decoder recurses, and deep nesting would
// kill it. The scan knows strings and comments, and refuses whatever it does not
// understand, so that the decoder cannot see more nesting than the scan did.
func Scan(text []byte, v Visitor) error {
	s := &scanner{text: text, line: 1, visit: v}
	return s.document()
}

type scanner struct {
	text    []byte
	at      int
	line    int
	visit   Visitor
	heading int // how deep the tables of the last heading lie
}

func (s *scanner) errorf(format string, args ...any) error {
	return &LineError{s.line, fmt.Sprintf(format, args...)}
}

// peek returns the next byte, 0 at the end.
func (s *scanner) peek() byte {
	if s.at < len(s.text) {
		return s.text[s.at]
	}
	return 0
}

func (s *scanner) has(prefix string) bool {
	return bytes.HasPrefix(s.text[s.at:], []byte(prefix))
}

func (s *scanner) blanks() {
	for s.peek() == ' ' || s.peek() == '\t' {
		s.at++
	}
}

// space skips blanks, comments and ends of lines.
func (s *scanner) space() {
	for s.at < len(s.text) {
		switch s.text[s.at] {
		case ' ', '\t', '\r':
			s.at++
		case '\n':
			s.at++
			s.line++
		case '#':
			end := bytes.IndexByte(s.text[s.at:], '\n')
			if end < 0 {
				end = len(s.text) - s.at
			}
			s.at += end
		default:
			return
		}
	}
}

func (s *scanner) document() error {
	for {
		s.space()
		if s.at >= len(s.text) {
			return nil
		}
		var err error
		if s.peek() == '[' {
			err = s.headingLine()
		} else {
			err = s.keyLine()
		}
		if err != nil {
			return err
		}
		s.blanks()
		switch s.peek() {
		case '#', '\n', '\r':
		default:
			if s.at < len(s.text) {
				return s.unexpected("the end of the line")
			}
		}
	}
}

func (s *scanner) unexpected(wanted string) error {
	if s.at >= len(s.text) {
		return s.errorf("the file ends where %s is wanted; it may be cut off", wanted)
	}
	r, _ := utf8.DecodeRune(s.text[s.at:])
	return s.errorf("%s is wanted, and %q stands there", wanted, r)
}

func (s *scanner) headingLine() error {
	line := s.line
	left, right := "[", "]"
	if s.has("[[") {
		left, right = "[[", "]]"
	}
	s.at += len(left)
	parts, err := s.keyParts()
	if err != nil {
		return err
	}
	if !s.has(right) {
		return s.unexpected(right)
	}
	s.at += len(right)
	s.heading = len(parts)
	return s.visit.Heading(parts, left == "[[", line)
}

// keyLine reads a key with its value at the top of a table.
func (s *scanner) keyLine() error { return s.keyValue(s.heading) }

func (s *scanner) keyValue(depth int) error {
	line := s.line
	parts, err := s.keyParts()
	if err != nil {
		return err
	}
	if s.peek() != '=' {
		return s.unexpected("=")
	}
	s.at++
	if err := s.visit.Key(parts, line); err != nil {
		return err
	}
	return s.value(depth + len(parts) - 1)
}

// keyParts reads a key, which may have several parts with dots between, and the
// blanks round it.
func (s *scanner) keyParts() ([]string, error) {
	var parts []string
	for {
		s.blanks()
		part, err := s.keyPart()
		if err != nil {
			return nil, err
		}
		if parts = append(parts, part); len(parts) > MaxDepth {
			return nil, s.tooDeep()
		}
		s.blanks()
		if s.peek() != '.' {
			return parts, nil
		}
		s.at++
	}
}

func (s *scanner) tooDeep() error {
	return s.errorf("nested more than %d deep; this is no file that can be read", MaxDepth)
}

func (s *scanner) keyPart() (string, error) {
	from := s.at
	if c := s.peek(); c == '"' || c == '\'' {
		if err := s.quoted(c); err != nil {
			return "", err
		}
		return string(s.text[from+1 : s.at-1]), nil
	}
	for IsKeyByte(s.peek()) {
		s.at++
	}
	if s.at == from {
		return "", s.unexpected("a key")
	}
	return string(s.text[from:s.at]), nil
}

// IsKeyByte reports whether a key may hold the byte without being quoted.
func IsKeyByte(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '_' || c == '-'
}

// value reads one value; depth counts what it lies in.
func (s *scanner) value(depth int) error {
	if depth >= MaxDepth {
		return s.tooDeep()
	}
	s.blanks()
	switch c := s.peek(); {
	case c == '[':
		return s.array(depth + 1)
	case c == '{':
		return s.inlineTable(depth + 1)
	case s.has(`"""`) || s.has(`'''`):
		return s.longString(c)
	case c == '"' || c == '\'':
		return s.quoted(c)
	case isValueByte(c):
		from := s.at
		for isValueByte(s.peek()) {
			s.at++
		}
		s.visit.Value(s.text[from:s.at], s.line)
		return nil
	default:
		return s.unexpected("a value")
	}
}

func isValueByte(c byte) bool { return IsKeyByte(c) || c == '+' || c == '.' || c == ':' }

func (s *scanner) array(depth int) error {
	if err := s.down(); err != nil {
		return err
	}
	for {
		s.space()
		if s.peek() == ']' {
			break
		}
		if err := s.visit.Item(s.line); err != nil {
			return err
		}
		if err := s.value(depth); err != nil {
			return err
		}
		s.space()
		if s.peek() == ',' {
			s.at++
		} else if s.peek() != ']' {
			return s.unexpected(", or ]")
		}
	}
	s.at++
	s.visit.Up()
	return nil
}

// down takes a bracket.
func (s *scanner) down() error {
	bracket := s.peek()
	s.at++
	return s.visit.Down(bracket, s.line)
}

func (s *scanner) inlineTable(depth int) error {
	if err := s.down(); err != nil {
		return err
	}
	for {
		s.space()
		if s.peek() == '}' {
			break
		}
		if err := s.keyValue(depth); err != nil {
			return err
		}
		s.space()
		if s.peek() == ',' {
			s.at++
		} else if s.peek() != '}' {
			return s.unexpected(", or }")
		}
	}
	s.at++
	s.visit.Up()
	return nil
}

// quoted skips a string on one line.
func (s *scanner) quoted(quote byte) error {
	for s.at++; s.at < len(s.text); s.at++ {
		switch c := s.text[s.at]; {
		case c == quote:
			s.at++
			return nil
		case c == '\\' && quote == '"' && s.at+1 < len(s.text) && s.text[s.at+1] != '\n':
			s.at++
		case c == '\n':
			return s.errorf("the text in quotes does not end on its line")
		}
	}
	return s.errorf("the file ends inside text in quotes; it may be cut off")
}

// longString skips a string in three quotes. Up to two more quotes before the
// closing three belong to the string.
func (s *scanner) longString(quote byte) error {
	end := bytes.Repeat([]byte{quote}, 3)
	for s.at += 3; s.at < len(s.text); s.at++ {
		switch c := s.text[s.at]; {
		case bytes.HasPrefix(s.text[s.at:], end):
			s.at += 3
			for extra := 0; extra < 2 && s.peek() == quote; extra++ {
				s.at++
			}
			return nil
		case c == '\n':
			s.line++
		case c == '\\' && quote == '"' && s.at+1 < len(s.text) && s.text[s.at+1] != '\n':
			s.at++
		}
	}
	return s.errorf("the file ends inside text in quotes; it may be cut off")
}
