package store

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"hemlet/draft"
	"hemlet/geom"
)

// Encode returns the project as the bytes of its file. The same project gives the
// same bytes, in an order that keeps the differences small: a moved node changes
// one line. What is not UTF-8 becomes the replacement character; draft.Validate
// says so beforehand.
func Encode(p *draft.Project) []byte {
	w := &writer{out: make([]byte, 0, 64<<10)}
	w.key("format")
	w.out = strconv.AppendInt(w.out, Format, 10)
	w.end()
	projectLayout(w, p)
	return w.out
}

// writer writes fields as TOML. Inside a row it writes on one line.
type writer struct {
	out []byte
	// heading is the path of the table that is being written, "" for the root.
	heading string
	// inRow says that an inline table is being written, fresh that it is empty.
	inRow, fresh bool
}

func (w *writer) reading() bool              { return false }
func (w *writer) fault(key, says string)     {}
func (w *writer) raw(s string)               { w.out = append(w.out, s...) }
func (w *writer) id(key string, v *draft.ID) { w.text(key, (*string)(v)) }

func (w *writer) key(key string) {
	if w.inRow && !w.fresh {
		w.raw(", ")
	}
	w.fresh = false
	w.raw(key)
	w.raw(" = ")
}

func (w *writer) end() {
	if !w.inRow {
		w.raw("\n")
	}
}

func (w *writer) ids(key string, v *[]draft.ID) { writeList(w, key, *v) }
func (w *writer) texts(key string, v *[]string) { writeList(w, key, *v) }

func writeList[T ~string](w *writer, key string, list []T) {
	if len(list) == 0 {
		return
	}
	w.key(key)
	w.raw("[")
	for i, s := range list {
		if i > 0 {
			w.raw(", ")
		}
		w.quote(string(s))
	}
	w.raw("]")
	w.end()
}

func (w *writer) text(key string, v *string) {
	if *v == "" {
		return
	}
	w.key(key)
	w.quote(*v)
	w.end()
}

func (w *writer) prose(key string, v *string) {
	if w.inRow || !strings.Contains(*v, "\n") {
		w.text(key, v)
		return
	}
	w.key(key)
	w.raw("\"\"\"\n")
	w.escape(*v, true)
	w.raw(`"""`)
	w.end()
}

func (w *writer) word(key string, v word) {
	b, err := v.MarshalText()
	if err != nil {
		return // no such value: draft.Validate says so
	}
	w.key(key)
	w.quote(string(b))
	w.end()
}

func (w *writer) flag(key string, v *bool) {
	if !*v {
		return
	}
	w.key(key)
	w.raw("true")
	w.end()
}

func (w *writer) count(key string, v *int, usual int) {
	if *v == usual {
		return
	}
	w.key(key)
	w.out = strconv.AppendInt(w.out, int64(*v), 10)
	w.end()
}

func (w *writer) number(key string, v *float64, usual float64) {
	if *v == usual {
		return
	}
	w.key(key)
	w.float(*v)
	w.end()
}

func (w *writer) turn(key string, v *float64) {
	deg := draft.TurnDegrees(*v)
	w.number(key, &deg, 0)
}

func (w *writer) place(key string, v *geom.Point) { w.numbers(key, []*float64{&v.X, &v.Y}) }

func (w *writer) vector(key string, v *geom.Point) {
	if *v != (geom.Point{}) {
		w.place(key, v)
	}
}

func (w *writer) maybePlace(key string, v **geom.Point) {
	if *v != nil {
		w.place(key, *v)
	}
}

func (w *writer) numbers(key string, v []*float64) {
	w.key(key)
	w.raw("[")
	for i, x := range v {
		if i > 0 {
			w.raw(", ")
		}
		w.float(*x)
	}
	w.raw("]")
	w.end()
}

func (w *writer) row(key string, present bool, _ func(), each func(f fields)) {
	if !present {
		return
	}
	w.key(key)
	w.braces(func() { each(w) })
	w.end()
}

func (w *writer) rows(key string, n int, _ func(int), each func(int, fields)) {
	if n == 0 {
		return
	}
	w.key(key)
	w.raw("[\n")
	for i := range n {
		w.raw("  ")
		w.braces(func() { each(i, w) })
		w.raw(",\n")
	}
	w.raw("]")
	w.end()
}

// braces writes an inline table.
func (w *writer) braces(body func()) {
	inRow := w.inRow
	w.inRow, w.fresh = true, true
	w.raw("{")
	body()
	w.raw("}")
	w.inRow, w.fresh = inRow, false
}

func (w *writer) tables(key string, n int, _ func(int), each func(int, fields)) {
	for i := range n {
		w.under(key, "[[", "]]", func() { each(i, w) })
	}
}

func (w *writer) table(key string, present bool, _ func(), each func(fields)) {
	if present {
		w.under(key, "[", "]", func() { each(w) })
	}
}

// under writes a heading and what stands below it.
func (w *writer) under(key, left, right string, body func()) {
	outer := w.heading
	if outer != "" {
		key = outer + "." + key
	}
	w.heading = key
	w.raw("\n" + left + key + right + "\n")
	body()
	w.heading = outer
}

// float writes the shortest decimal that reads back as the same float64.
func (w *writer) float(x float64) {
	switch {
	case math.IsNaN(x):
		w.raw("nan")
	case math.IsInf(x, 0):
		w.raw(map[bool]string{true: "inf", false: "-inf"}[x > 0])
	case x == 0:
		w.raw("0") // and never -0
	case math.Abs(x) < 1e-7 || math.Abs(x) >= 1e15:
		w.out = strconv.AppendFloat(w.out, x, 'e', -1, 64)
	default:
		w.out = strconv.AppendFloat(w.out, x, 'f', -1, 64)
	}
}

func (w *writer) quote(s string) {
	w.raw(`"`)
	w.escape(s, false)
	w.raw(`"`)
}

// escape writes the inside of a basic string; lines says that it may run over
// several lines. There a quote may stand as it is, unless another quote follows.
func (w *writer) escape(s string, lines bool) {
	for i, r := range s {
		switch {
		case r == '"' && lines && i+1 < len(s) && s[i+1] != '"':
			w.raw(`"`)
		case r == '"' || r == '\\':
			w.out = append(w.out, '\\', byte(r))
		case r == '\n' && lines:
			w.raw("\n")
		case r == '\n':
			w.raw(`\n`)
		case r == '\t':
			w.raw(`\t`)
		case r < ' ' || r == 0x7f:
			const hex = "0123456789abcdef"
			w.raw(`\u00`)
			w.out = append(w.out, hex[r>>4], hex[r&15])
		default:
			w.out = utf8.AppendRune(w.out, r)
		}
	}
}
