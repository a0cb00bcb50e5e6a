package formula

import (
	"errors"
	"fmt"
	"strings"

	"github.com/expr-lang/expr/file"
)

// Error says why a formula cannot be read or worked out.
type Error struct {
	// Source is the formula.
	Source string
	// Column is the character at which it goes wrong, counted from 1 over the
	// whole of Source; 0 where no place is known.
	Column int
	// Says is one plain sentence, without a capital or a full stop, so that it can
	// follow a colon.
	Says string
}

func (e *Error) Error() string {
	if e.Column == 0 {
		return fmt.Sprintf("%q: %s", e.Source, e.Says)
	}
	return fmt.Sprintf("%q at character %d: %s", e.Source, e.Column, e.Says)
}

// fail is what a function or an operator returns where it cannot give a value;
// Formula.Value adds the formula and the place.
type fail string

func (f fail) Error() string { return string(f) }

// failf returns a fail.
func failf(format string, args ...any) error { return fail(fmt.Sprintf(format, args...)) }

// errorAt returns the error of a formula at a place in it.
func errorAt(source string, at file.Location, format string, args ...any) *Error {
	return &Error{source, at.From + 1, fmt.Sprintf(format, args...)}
}

// runError turns what the evaluation returned into an Error.
func runError(source string, err error) *Error {
	e := &Error{Source: source, Says: "this cannot be worked out"}
	var placed *file.Error
	if errors.As(err, &placed) {
		e.Column = placed.From + 1
	}
	var f fail
	if errors.As(err, &f) {
		e.Says = string(f)
	}
	return e
}

// list joins words as people do: "a, b and c".
func list(words []string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
}
