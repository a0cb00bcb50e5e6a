package block

import (
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"

	"hemlet/assets"
)

// Entry is one block of a library, or the error of its file.
type Entry struct {
	// File is the name of the file without its folder.
	File string
	// Block is nil where Err is not.
	Block *Block
	Err   error
	// Users says that the file lies in the user's folder, Shadows that it takes the
	// place of a built-in block of the same name.
	Users, Shadows bool
}

// Says tells what a person should know of the entry: its error, or that it takes
// the place of a built-in block; empty where there is nothing to say.
func (e Entry) Says() string {
	switch {
	case e.Err != nil:
		return e.Err.Error()
	case e.Shadows:
		return fmt.Sprintf("%s takes the place of the built-in block %s; give it another name to have both", e.File, e.Block.Name)
	}
	return ""
}

// builtin parses the blocks that the program carries. A test holds that none of
// them is an error.
var builtin = sync.OnceValue(func() []Entry {
	var list []Entry
	for _, a := range assets.Blocks() {
		b, err := Parse(a.File, a.Text)
		list = append(list, Entry{File: a.File, Block: b, Err: err})
	}
	return list
})

// Builtin returns the blocks that the program carries, in the order of their names.
func Builtin() []*Block {
	var list []*Block
	for _, e := range builtin() {
		if e.Err == nil {
			list = append(list, e.Block)
		}
	}
	sort.Slice(list, func(i, k int) bool { return list[i].Name < list[k].Name })
	return list
}

// Named returns the built-in block with the name. The error lists those that there
// are.
func Named(name string) (*Block, error) { return find(name, builtin()) }

// UserFolder returns the folder of the user's own blocks: hemlet/blocks in the
// configuration folder of the user. It need not exist.
func UserFolder() (string, error) {
	config, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("there is no folder to keep blocks in: %w", err)
	}
	return filepath.Join(config, "hemlet", "blocks"), nil
}

// Library is the built-in blocks and those of a user's folder.
type Library struct{ entries []Entry }

// Folder reads the blocks of a folder beside the built-in ones: every file whose
// name ends in .toml. A file that is no block is an entry with its error and keeps
// nothing else from being read; a folder that is not there is an empty one. An empty
// name stands for no folder.
func Folder(dir string) (*Library, error) {
	users, err := readFolder(dir)
	if err != nil {
		return nil, fmt.Errorf("the folder of blocks cannot be read: %w", err)
	}
	shadowed := make(map[string]bool)
	for i, e := range users {
		if e.Err == nil {
			_, err := Named(e.Block.Name)
			users[i].Shadows = err == nil
			shadowed[e.Block.Name] = true
		}
	}
	l := &Library{}
	for _, e := range builtin() {
		if e.Err != nil || !shadowed[e.Block.Name] {
			l.entries = append(l.entries, e)
		}
	}
	l.entries = append(l.entries, users...)
	return l, nil
}

// Entries returns the built-in blocks and then those of the folder, each in the
// order of their files. A built-in block whose place another takes is left out.
func (l *Library) Entries() []Entry { return append([]Entry(nil), l.entries...) }

// Blocks returns the blocks that can be drafted, in the order of Entries.
func (l *Library) Blocks() []*Block {
	var list []*Block
	for _, e := range l.entries {
		if e.Err == nil {
			list = append(list, e.Block)
		}
	}
	return list
}

// Named returns the block with the name. The error says what is wrong with a file of
// that name, or lists the blocks that there are and the files that are none for a mistake,
// for the block may stand in one of them.
func (l *Library) Named(name string) (*Block, error) { return find(name, l.entries) }

func find(name string, entries []Entry) (*Block, error) {
	var names []string
	broken := ""
	for _, e := range entries {
		switch {
		case e.Err == nil && e.Block.Name == name:
			return e.Block, nil
		case e.Err == nil:
			names = append(names, e.Block.Name)
		case strings.TrimSuffix(e.File, filepath.Ext(e.File)) == name:
			return nil, e.Err
		default:
			broken += "; " + mistakeIn(e)
		}
	}
	sort.Strings(names)
	return nil, fmt.Errorf("there is no block %q; there is %s%s", cut(name, maxName), or(names), cut(broken, longestSays))
}

// mistakeIn says what is wrong with the file of an entry.
func mistakeIn(e Entry) string {
	var wrong *Error
	if !errors.As(e.Err, &wrong) || wrong.Line == 0 {
		return e.Err.Error()
	}
	rest := *wrong
	rest.File, rest.Line = "", 0
	return fmt.Sprintf("%s has a mistake in line %d: %s", e.File, wrong.Line, rest.Error())
}

// blockFiles returns the names of the files of a folder that may be blocks.
func blockFiles(dir string) ([]string, error) {
	if dir == "" {
		return nil, nil
	}
	list, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var names []string
	for _, f := range list {
		name := f.Name()
		if strings.HasSuffix(name, ".toml") && !strings.HasPrefix(name, ".") && len(names) < maxFiles {
			names = append(names, name)
		}
	}
	return names, nil
}

func readFolder(dir string) ([]Entry, error) {
	names, err := blockFiles(dir)
	if err != nil {
		return nil, err
	}
	var list []Entry
	files := make(map[string]string)
	for _, name := range names {
		e := Entry{File: name, Users: true}
		if e.Block, e.Err = Load(filepath.Join(dir, name)); e.Err == nil {
			if other, taken := files[e.Block.Name]; taken {
				e.Err = &Error{File: name, Key: "name", Says: fmt.Sprintf("%s is a block called %s already; give this one another name", other, e.Block.Name)}
				e.Block = nil
			} else {
				files[e.Block.Name] = name
			}
		}
		list = append(list, e)
	}
	return list, nil
}

// Load reads the block in a file, and no more of the file than a block may hold.
// Errors are of type *Error and name the file without its folder.
func Load(path string) (*Block, error) {
	name := filepath.Base(path)
	says := func(err error) error {
		var p *fs.PathError
		if errors.As(err, &p) {
			return &Error{File: name, Says: "it cannot be read: " + p.Err.Error(), Err: err}
		}
		return &Error{File: name, Says: "it cannot be read: " + err.Error(), Err: err}
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, says(err)
	}
	if !info.Mode().IsRegular() {
		return nil, &Error{File: name, Says: "it is no file"}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, says(err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, MaxTextBytes+1))
	if err != nil {
		return nil, says(err)
	}
	return Parse(name, text)
}

// Stamp returns a text that changes when a block of the folder is saved, added,
// renamed or taken away, for whoever waits for that. It reads no file.
func Stamp(dir string) string {
	names, err := blockFiles(dir)
	if err != nil {
		return err.Error()
	}
	h := fnv.New64a()
	for _, name := range names {
		fmt.Fprintf(h, "%q", name)
		if info, err := os.Stat(filepath.Join(dir, name)); err == nil {
			fmt.Fprintf(h, " %d %d", info.Size(), info.ModTime().UnixNano())
		}
	}
	return fmt.Sprintf("%d %x", len(names), h.Sum64())
}
