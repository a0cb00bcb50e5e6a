package station

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"hemlet/draft/block"
)

// library is the blocks that come with the program and those of the user's folder.
type library struct {
	folder  string
	entries []block.Entry
	// files are the files of the user's blocks by their names, those included that
	// cannot be read any more.
	files map[string]string
	// mu guards stamp, which says what the folder was when it was last read.
	mu    sync.Mutex
	stamp string
	err   error
}

// reading is what the folder held at one moment.
type reading struct {
	entries []block.Entry
	err     error
}

func newLibrary(folder string) *library {
	l := &library{folder: folder}
	l.take(l.read())
	return l
}

// read reads the folder as it now is. A folder that cannot be read still leaves the
// blocks that come with the program.
func (l *library) read() *reading {
	l.mu.Lock()
	l.stamp = block.Stamp(l.folder)
	l.mu.Unlock()
	lib, err := block.Folder(l.folder)
	if err == nil {
		return &reading{entries: lib.Entries()}
	}
	lib, _ = block.Folder("")
	return &reading{entries: lib.Entries(), err: err}
}

// fresh reads the folder again where something in it was saved, or returns nil.
func (l *library) fresh() *reading {
	l.mu.Lock()
	same := l.stamp == block.Stamp(l.folder)
	l.mu.Unlock()
	if same {
		return nil
	}
	return l.read()
}

// look takes in what was saved since the folder was last read.
func (l *library) look() {
	if r := l.fresh(); r != nil {
		l.take(r)
	}
}

// take makes a reading the present one and returns a line about what is new in it.
func (l *library) take(r *reading) (said string) {
	before := map[string]string{}
	for _, e := range l.entries {
		if e.Users && e.Err == nil {
			before[e.File] = e.Block.Text()
		} else if e.Users {
			before[e.File] = e.Err.Error()
		}
	}
	for _, e := range r.entries {
		was, had := before[e.File]
		switch {
		case !e.Users:
		case e.Err != nil && was != e.Err.Error():
			said = "In " + e.Err.Error()
		case e.Err == nil && !had:
			said = fmt.Sprintf("The block %s is new in your folder.", e.Block.Title)
		case e.Err == nil && was != e.Block.Text():
			said = fmt.Sprintf("The block %s was read again.", e.Block.Title)
		}
	}
	l.entries, l.err = r.entries, r.err
	if l.files == nil {
		l.files = map[string]string{}
	}
	for _, e := range l.entries {
		if e.Users && e.Err == nil {
			l.files[e.Block.Name] = e.File
		}
	}
	return said
}

// named returns the entry of the block with the name.
func (l *library) named(name string) (block.Entry, bool) {
	for _, e := range l.entries {
		if e.Err == nil && e.Block.Name == name {
			return e, true
		}
	}
	return block.Entry{}, false
}

// faulty reports whether the block with the name is there, but cannot be read at the
// moment.
func (l *library) faulty(name string) bool {
	file, known := l.files[name]
	return known && slices.ContainsFunc(l.entries, func(e block.Entry) bool { return e.File == file && e.Err != nil })
}

// firstBlock is the one that is in hand where nobody chose another.
const firstBlock = "bodice"

// first returns the name of the block to begin with.
func (l *library) first() string {
	if _, ok := l.named(firstBlock); ok {
		return firstBlock
	}
	for _, e := range l.entries {
		if e.Err == nil {
			return e.Block.Name
		}
	}
	return ""
}

// path returns the file of an entry of the user's.
func (l *library) path(e block.Entry) string { return filepath.Join(l.folder, e.File) }

// The two lines at the head of a block that its copy has otherwise.
var (
	nameLine  = regexp.MustCompile(`(?m)^[ \t]*name[ \t]*=.*$`)
	titleLine = regexp.MustCompile(`(?m)^[ \t]*title[ \t]*=.*$`)
	blockName = regexp.MustCompile(`^[a-z][a-z0-9-]*$`)
)

// renamed returns the text of a block with another name and title.
func renamed(text, name, title string) string {
	head, rest := text, ""
	if i := strings.Index(text, "\n["); i >= 0 {
		head, rest = text[:i], text[i:]
	}
	first := func(re *regexp.Regexp, line string) {
		if at := re.FindStringIndex(head); at != nil {
			head = head[:at[0]] + line + head[at[1]:]
		}
	}
	first(nameLine, "name = "+strconv.Quote(name))
	first(titleLine, "title = "+strconv.Quote(title))
	return head + rest
}

// nameFor returns the name of a block with the title as files have it.
func nameFor(title string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(strings.TrimSpace(title)) {
		switch {
		case r >= 'a' && r <= 'z', b.Len() > 0 && r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-")
}

// copyOf writes the text of a block under another title into the user's folder, and
// returns its name and its file.
func (l *library) copyOf(b *block.Block, title string) (name, path string, err error) {
	title = strings.TrimSpace(title)
	name = nameFor(title)
	if !blockName.MatchString(name) {
		return "", "", errors.New("a block needs a name that begins with a letter from a to z")
	}
	if _, taken := l.named(name); taken {
		return "", "", fmt.Errorf("there is a block called %s already", name)
	}
	if l.folder == "" {
		return "", "", errors.New("there is no folder to keep it in")
	}
	path = filepath.Join(l.folder, name+".toml")
	if err := os.MkdirAll(l.folder, 0o755); err != nil {
		return "", "", fmt.Errorf("the folder of blocks could not be made: %w", err)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return "", "", fmt.Errorf("there is a file %s in your folder already", name+".toml")
	}
	if err != nil {
		return "", "", fmt.Errorf("the new block could not be written: %w", err)
	}
	_, err = f.WriteString(renamed(b.Text(), name, title))
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return "", "", fmt.Errorf("the new block could not be written: %w", err)
	}
	l.take(l.read())
	return name, path, nil
}
