package block

import (
	"fmt"
	"strings"
)

// Error says what is wrong with a block: where in its file, in which formula, and
// what the names stood for that the formula reads.
type Error struct {
	// File is the file's name as it was given, Line counts from 1; 0 where the
	// whole file is meant.
	File string
	Line int
	// Key is the place in the file by names, "steps.side_waist" or
	// "pieces.front.edges.side.path[2]".
	Key string
	// Formula is the formula at fault, empty where none is; Column counts its
	// characters from 1, 0 where the place in it is not known.
	Formula string
	Column  int
	// Says is what is wrong and how to mend it.
	Says string
	// Err is the cause, or nil.
	Err error
}

// Bounds of a message, in bytes: a formula, key or name of a broken file may be as
// long as the file.
const (
	longestShown = 200
	longestSays  = 900
)

func (e *Error) Error() string {
	var b strings.Builder
	if e.File != "" {
		b.WriteString(e.File)
		if e.Line > 0 {
			fmt.Fprintf(&b, " line %d", e.Line)
		}
		b.WriteString(": ")
	} else if e.Line > 0 {
		fmt.Fprintf(&b, "line %d: ", e.Line)
	}
	if e.Key != "" {
		b.WriteString(cut(e.Key, longestShown) + ": ")
	}
	if e.Formula != "" {
		fmt.Fprintf(&b, "“%s”", cut(e.Formula, longestShown))
		if e.Column > 0 {
			fmt.Fprintf(&b, " at character %d", e.Column)
		}
		b.WriteString(": ")
	}
	b.WriteString(cut(e.Says, longestSays))
	return strings.Join(strings.Fields(b.String()), " ")
}

func (e *Error) Unwrap() error { return e.Err }

// cut shortens a text to so many bytes and says that it did.
func cut(s string, most int) string {
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + " ..."
}

// MissingError says which measures a block cannot do without.
type MissingError struct {
	Block    string
	Measures []string
	// Words are the measures as a person reads them, in the same order.
	Words []string
}

func (e *MissingError) Error() string {
	names := make([]string, len(e.Measures))
	for i, m := range e.Measures {
		names[i] = m
		if e.Words[i] != "" {
			names[i] = fmt.Sprintf("%s (%s)", e.Words[i], m)
		}
	}
	return fmt.Sprintf("the block %s needs %s; measure and draft again", e.Block, and(names))
}

func (e *MissingError) add(name, words string) {
	e.Measures, e.Words = append(e.Measures, name), append(e.Words, words)
}

// StopError says that a guard of the block does not hold for this body, so that
// nothing was drafted.
type StopError struct {
	File string
	Line int
	Told Told
}

func (e *StopError) Error() string {
	says := e.Told.Says
	if len(e.Told.Measures) > 0 {
		says = fmt.Sprintf("%s (look at %s)", strings.TrimSuffix(says, "."), and(e.Told.Measures))
	}
	return says
}

// and joins names as a sentence does: "a, b and c".
func and(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}
