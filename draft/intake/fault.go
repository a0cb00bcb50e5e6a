package intake

import (
	"fmt"
	"strings"
)

// Source is the place in a file that something came from.
type Source struct {
	// Line counts from 1; 0 where the place is the file as a whole.
	Line int
	// What names the element or entity as the file does, such as
	// `<path id="front">` or `SPLINE on layer 8`.
	What string
}

func (s Source) String() string {
	var parts []string
	if s.Line > 0 {
		parts = append(parts, fmt.Sprintf("line %d", s.Line))
	}
	if s.What != "" {
		parts = append(parts, s.What)
	}
	return strings.Join(parts, ", ")
}

// Error says why a file could not be read. It is one line: file, place, reason.
type Error struct {
	File  string
	Where Source
	Err   error
}

func (e *Error) Error() string {
	if at := e.Where.String(); at != "" {
		return fmt.Sprintf("%s: %s: %v", e.File, at, e.Err)
	}
	return fmt.Sprintf("%s: %v", e.File, e.Err)
}

// Unwrap returns the reason without the place.
func (e *Error) Unwrap() error { return e.Err }

// Warning says what was left out or assumed, and where. Nothing is left out
// silently.
type Warning struct {
	Where Source
	Says  string
}

func (w Warning) String() string {
	if at := w.Where.String(); at != "" {
		return at + ": " + w.Says
	}
	return w.Says
}

// placed gives an error its place unless it already has one.
func placed(file string, at Source, err error) error {
	if err == nil {
		return nil
	}
	if e, ok := err.(*Error); ok {
		return e
	}
	return &Error{File: file, Where: at, Err: err}
}
