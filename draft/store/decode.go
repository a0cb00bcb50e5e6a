package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"hemlet/draft"
	"hemlet/draft/tomltext"
)

// Format is the number of the project file's format that this program writes.
// Older ones are lifted to it when they are read; newer ones are refused.
const Format = 7

func init() { draft.ReadPatternsWith(Decode) }

// FileError says which file cannot be read or written, where, and why.
type FileError struct {
	// File is the file's name as it was given, or empty.
	File string
	// Line counts from 1; 0 where there is none.
	Line int
	// Path is the place in the tree ("pieces[2].edges[0]"), or empty.
	Path string
	// Says is what is wrong and how to mend it.
	Says string
	// Err is the cause, or nil.
	Err error
}

// Bounds of the place and the reason in a message, in bytes: a name or a key of a
// broken file may be as long as the file.
const (
	longestPath = 200
	longestSays = 400
)

func (e *FileError) Error() string {
	var b strings.Builder
	if e.File != "" {
		b.WriteString(e.File + ": ")
	}
	if e.Line > 0 {
		b.WriteString("line " + strconv.Itoa(e.Line) + ": ")
	}
	if e.Path != "" {
		b.WriteString(shorter(e.Path, longestPath) + ": ")
	}
	b.WriteString(shorter(e.Says, longestSays))
	return strings.ReplaceAll(b.String(), "\n", " ")
}

// shorter cuts a text off after most bytes.
func shorter(text string, most int) string {
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + " ..."
}

func (e *FileError) Unwrap() error { return e.Err }

// ErrNewer is the cause of the error about a file that a newer Hemlet wrote.
var ErrNewer = errors.New("the file is of a newer format")

// Decode reads a project from the bytes of its file. The project is sound as
// draft.Validate has it. Errors are of type *FileError, without a file name.
func Decode(text []byte) (*draft.Project, error) {
	p := &draft.Project{}
	err := decode(text, p, Format, migrations)
	if err != nil {
		return nil, err
	}
	return p, nil
}

// decode reads text into p, an empty project, where format is the present one and
// lift holds what lifts a tree from each earlier format.
func decode(text []byte, p *draft.Project, format int, lift []migration) error {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if err := plainText(text, draft.MaxTextBytes); err != nil {
		return err
	}
	c := &census{words: projectWords()}
	err := tomltext.Scan(text, c)
	switch {
	case c.format > format:
		return &FileError{Says: fmt.Sprintf("it is of format %d, and this Hemlet reads up to format %d; open it with a newer Hemlet", c.format, format), Err: ErrNewer}
	case err != nil:
		return lined(err)
	case c.format < 1:
		return &FileError{Says: "it is no Hemlet project: its first line should be format = " + strconv.Itoa(format)}
	case c.format == format && c.stranger != nil:
		return lined(c.stranger)
	}
	tree, _, err := tomlTree(text)
	if err != nil {
		return err
	}
	for n := c.format; n < format; n++ {
		if err := lift[n-1](tree); err != nil {
			return &FileError{Says: fmt.Sprintf("it cannot be lifted from format %d to %d: %v", n, n+1, err), Err: err}
		}
	}
	delete(tree, "format")
	if bad := readTree(tree, p, projectLayout); bad != nil {
		return &FileError{Line: tomltext.LineOf(text, bad.path), Path: bad.path, Says: bad.says}
	}
	var invalid *draft.InvalidError
	if err := draft.Validate(p); errors.As(err, &invalid) {
		return &FileError{Line: tomltext.LineOf(text, invalid.Path), Says: invalid.Error(), Err: err}
	}
	return nil
}

// plainText refuses what is too large or no text.
func plainText(text []byte, limit int) error {
	if len(text) > limit {
		return &FileError{Says: fmt.Sprintf("it is larger than %d MiB", limit>>20)}
	}
	if !utf8.Valid(text) || bytes.IndexByte(text, 0) >= 0 {
		return &FileError{Says: "it is no text, and so no Hemlet file"}
	}
	return nil
}

// tomlTree decodes text that has passed a scan. The meta data know the order.
func tomlTree(text []byte) (map[string]any, toml.MetaData, error) {
	tree := make(map[string]any)
	meta, err := toml.Decode(string(text), &tree)
	var bad toml.ParseError
	switch {
	case errors.As(err, &bad):
		return nil, meta, &FileError{Line: bad.Position.Line, Says: bad.Message, Err: err}
	case err != nil:
		return nil, meta, &FileError{Says: err.Error(), Err: err}
	}
	return tree, meta, nil
}

func lined(err error) error {
	var at *tomltext.LineError
	if errors.As(err, &at) {
		return &FileError{Line: at.Line, Says: at.Says, Err: err}
	}
	return err
}

// named puts the file's name into an error about its content.
func named(file string, err error) error {
	var bad *FileError
	if errors.As(err, &bad) {
		bad.File = file
		return bad
	}
	var path *os.PathError
	if errors.As(err, &path) {
		return &FileError{File: file, Says: Plainly(path.Err), Err: err}
	}
	return err
}
