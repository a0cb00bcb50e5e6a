package tomltext

import (
	"strconv"
	"strings"
)

// LineOf returns the line at which the thing at a path such as
// "pieces[2].edges[0].nodes[3]" stands, or the nearest thing round it; 0 if there
// is none. The text must have passed a scan.
func LineOf(text []byte, path string) int {
	if path == "" {
		return 0
	}
	f := &finder{want: strings.Split(path, "."), last: make(map[string]int)}
	_ = Scan(text, f) // it passed before; what was found until an error holds anyway
	return f.line
}

// finder follows a scan and remembers the line of the longest beginning of a path.
type finder struct {
	want []string
	best int
	line int
	// here is the path of the value that comes next; marks are its lengths when
	// the scan went down into lists and inline tables, tops its length under the
	// last heading.
	here  []string
	marks []int
	tops  int
	// last holds the index of the last table of each list of tables.
	last map[string]int
	// counts holds the items so far of each open list.
	counts []int
}

func (f *finder) Heading(parts []string, list bool, line int) error {
	f.here = f.here[:0]
	for i, part := range parts {
		path := strings.Join(append(f.here, part), ".")
		if i == len(parts)-1 && list {
			if _, seen := f.last[path]; !seen {
				f.last[path] = -1
			}
			f.last[path]++
		}
		if n, isList := f.last[path]; isList {
			part += index(n)
		}
		f.here = append(f.here, part)
	}
	f.tops = len(f.here)
	f.marks, f.counts = f.marks[:0], f.counts[:0]
	f.mark(line)
	return nil
}

func (f *finder) Key(parts []string, line int) error {
	base := f.tops
	if n := len(f.marks); n > 0 {
		base = f.marks[n-1]
	}
	f.here = append(f.here[:base], parts...)
	f.mark(line)
	return nil
}

func (f *finder) Down(byte, int) error {
	f.marks = append(f.marks, len(f.here))
	f.counts = append(f.counts, 0)
	return nil
}

func (f *finder) Up() {
	n := len(f.marks) - 1
	f.here = f.here[:f.marks[n]]
	f.marks, f.counts = f.marks[:n], f.counts[:n]
	if len(f.here) > 0 {
		last := &f.here[len(f.here)-1]
		*last, _, _ = strings.Cut(*last, "[")
	}
}

func (f *finder) Item(line int) error {
	n := len(f.marks) - 1
	f.here = f.here[:f.marks[n]]
	last := &f.here[len(f.here)-1]
	name, _, _ := strings.Cut(*last, "[")
	*last = name + index(f.counts[n])
	f.counts[n]++
	f.mark(line)
	return nil
}

func (f *finder) Value([]byte, int) {}

// mark notes the line if the path leads further towards the wanted one than
// anything before.
func (f *finder) mark(line int) {
	n := 0
	for n < len(f.here) && n < len(f.want) && f.here[n] == f.want[n] {
		n++
	}
	if n > f.best && n == len(f.here) {
		f.best, f.line = n, line
	}
}

func index(n int) string { return "[" + strconv.Itoa(n) + "]" }
