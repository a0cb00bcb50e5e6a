package draft

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hemlet/geom"
)

// Drawn is a line drawn on the bench: one run of straight stretches and cubics in mm,
// y up. As text it is path data as SVG 2 writes it (section 9.3, "Path data"), with
// the commands M L H V C Z, absolute or relative: "M0 0 L40 0 C50 0 60 10 60 20 Z".
// Figures are bare millimetres. It begins with M, goes on from there without another,
// and is closed where it ends with Z.
type Drawn geom.Path

func (d *Drawn) readArg(_ *Project, text string) error {
	path, err := ParseDrawn(text)
	*d = Drawn(path)
	return err
}

func (*Drawn) argKind() string { return "drawn line" }

// ParseDrawn reads a drawn line; see Drawn. It has one stretch at least and MaxNodes at
// most, within MaxCoordinate of the middle of the bench. Errors are of type *TextError.
func ParseDrawn(text string) (geom.Path, error) {
	r := &drawnReader{text: text}
	if len(text) > maxDrawnBytes {
		return nil, &TextError{text, 0, fmt.Sprintf("it is longer than %d characters", maxDrawnBytes)}
	}
	if err := r.read(); err != nil {
		return nil, err
	}
	if len(r.path) == 0 {
		return nil, &TextError{text, 0, "nothing is drawn; a line has two points at least, such as M0 0 L40 0"}
	}
	return r.path, nil
}

// maxDrawnBytes bounds the text of a drawn line: that of MaxNodes cubics, each figure
// with its unit of 1e-6 mm.
const maxDrawnBytes = 6 * 16 * MaxNodes

// drawnReader reads path data from left to right.
type drawnReader struct {
	text   string
	at     int
	path   geom.Path
	pen    geom.Point // where the line has come to
	start  geom.Point
	begun  bool
	closed bool
}

func (r *drawnReader) errorAt(at int, format string, args ...any) error {
	return &TextError{r.text, at, fmt.Sprintf(format, args...)}
}

func (r *drawnReader) read() error {
	for {
		if r.skipSpace(); r.at >= len(r.text) {
			return nil
		}
		at, c := r.at, r.text[r.at]
		if !strings.ContainsRune("MmLlHhVvCcZz", rune(c)) {
			return r.errorAt(at, "%q is no command of a line; the commands are M, L, H, V, C and Z", rune(c))
		}
		r.at++
		if err := r.command(at, c); err != nil {
			return err
		}
	}
}

// command reads the figures of a command, again and again as long as there are more.
func (r *drawnReader) command(at int, c byte) error {
	relative := c >= 'a'
	c &^= 'a' - 'A'
	switch {
	case r.closed:
		return r.errorAt(at, "the line is closed already; it is one run")
	case c == 'M' && r.begun:
		return r.errorAt(at, "the line is one run; it begins only once")
	case c != 'M' && !r.begun:
		return r.errorAt(at, "a line begins with M and the place of its first point")
	case c == 'Z':
		r.close()
		return nil
	}
	for first := true; first || r.more(); first = false {
		if err := r.step(c, relative); err != nil {
			return err
		}
		if len(r.path) > MaxNodes {
			return r.errorAt(r.at, "it has more than %d stretches", MaxNodes)
		}
		if c == 'M' {
			c = 'L' // what follows the first point are lines, as the standard has it
		}
	}
	return nil
}

// step reads one set of figures and goes on by it.
func (r *drawnReader) step(c byte, relative bool) error {
	from := geom.Point{}
	if relative {
		from = r.pen
	}
	switch c {
	case 'H', 'V':
		at := r.at
		v, err := r.number()
		if err != nil {
			return err
		}
		to := r.pen
		if c == 'H' {
			to.X = from.X + v
		} else {
			to.Y = from.Y + v
		}
		return r.lineTo(at, to)
	case 'C':
		at := r.at
		var p [3]geom.Point
		for i := range p {
			v, err := r.point()
			if err != nil {
				return err
			}
			p[i] = from.Add(v)
			if !onBench(p[i]) {
				return r.errorAt(at, "this lies outside the 100 m that a project holds")
			}
		}
		r.path = append(r.path, geom.Cubic(r.pen, p[0], p[1], p[2]))
		r.pen = p[2]
		return nil
	}
	at := r.at
	v, err := r.point()
	if err != nil {
		return err
	}
	to := from.Add(v)
	if c == 'L' {
		return r.lineTo(at, to)
	}
	if !onBench(to) {
		return r.errorAt(at, "this lies outside the 100 m that a project holds")
	}
	r.pen, r.start, r.begun = to, to, true
	return nil
}

func onBench(p geom.Point) bool {
	return math.Abs(p.X) <= MaxCoordinate && math.Abs(p.Y) <= MaxCoordinate
}

func (r *drawnReader) lineTo(at int, to geom.Point) error {
	if !onBench(to) {
		return r.errorAt(at, "this lies outside the 100 m that a project holds")
	}
	r.path = append(r.path, geom.Line(r.pen, to))
	r.pen = to
	return nil
}

// close leads the line back to its first point.
func (r *drawnReader) close() {
	if r.closed = true; len(r.path) == 0 {
		return
	}
	last := &r.path[len(r.path)-1]
	switch {
	case last.P3 == r.start:
	case last.P3.Dist(r.start) <= outlineGap && !last.Straight:
		last.P3 = r.start // written with fewer figures than it was drawn with
	case last.P3.Dist(r.start) <= outlineGap && len(r.path) > 1:
		*last = geom.Line(last.P0, r.start)
	default:
		r.path = append(r.path, geom.Line(last.P3, r.start))
	}
	r.pen = r.start
}

func (r *drawnReader) skipSpace() {
	for r.at < len(r.text) && strings.IndexByte(" \t\r\n\f", r.text[r.at]) >= 0 {
		r.at++
	}
}

// more reports whether another figure follows, past a comma where there is one.
func (r *drawnReader) more() bool {
	r.skipSpace()
	if r.at < len(r.text) && r.text[r.at] == ',' {
		r.at++
		r.skipSpace()
		return true // a comma promises a figure
	}
	return r.at < len(r.text) && strings.IndexByte("+-.0123456789", r.text[r.at]) >= 0
}

func (r *drawnReader) point() (geom.Point, error) {
	x, err := r.number()
	if err != nil {
		return geom.Point{}, err
	}
	r.more()
	y, err := r.number()
	return geom.Pt(x, y), err
}

// number reads a figure as the standard has it: sign, digits with or without a point,
// exponent. What could go on a figure begins the next: "10-5" are two, and "0.5.5".
func (r *drawnReader) number() (float64, error) {
	r.more()
	from := r.at
	r.take("+-", 1)
	digits := r.take("0123456789", len(r.text))
	if r.take(".", 1) > 0 {
		digits += r.take("0123456789", len(r.text))
	}
	if digits == 0 {
		r.at = from
		return 0, r.errorAt(from, "a figure in mm is wanted here")
	}
	mark := r.at
	if r.take("eE", 1) > 0 {
		r.take("+-", 1)
		if r.take("0123456789", len(r.text)) == 0 {
			r.at = mark
		}
	}
	v, err := strconv.ParseFloat(r.text[from:r.at], 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, r.errorAt(from, "this figure is too large")
	}
	return v, nil
}

// take passes over up to most of the signs and returns how many there were.
func (r *drawnReader) take(signs string, most int) int {
	from := r.at
	for r.at < len(r.text) && r.at-from < most && strings.IndexByte(signs, r.text[r.at]) >= 0 {
		r.at++
	}
	return r.at - from
}

// FormatDrawn writes a line as ParseDrawn reads it, with absolute commands and figures
// to the grid. A closed line ends with Z.
func FormatDrawn(path geom.Path) string {
	if len(path) == 0 {
		return ""
	}
	var b strings.Builder
	put := func(c byte, points ...geom.Point) {
		b.WriteByte(c)
		for i, p := range points {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(strconv.FormatFloat(toGrid(p.X), 'f', -1, 64))
			b.WriteByte(' ')
			b.WriteString(strconv.FormatFloat(toGrid(p.Y), 'f', -1, 64))
		}
	}
	put('M', path.Start())
	for i, s := range path {
		if i == len(path)-1 && s.Straight && path.Closed() && len(path) > 1 {
			break // Z draws it
		}
		if s.Straight {
			put('L', s.P3)
		} else {
			put('C', s.P1, s.P2, s.P3)
		}
	}
	if path.Closed() {
		b.WriteByte('Z')
	}
	return b.String()
}
