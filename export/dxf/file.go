// Package dxf writes drawings as ASCII DXF of release 12 (AC1009), which every
// reader takes. It knows entities and layers, not patterns. The drawing library's
// renderer interface hands over filled and stroked paths without layer, block or
// meaning; that is all that such a file is about, so the entities are written
// straight from the model.
//
// Release 12 carries no unit; coordinates are written as they are given.
package dxf

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Point is a place in the drawing, y up.
type Point struct{ X, Y float64 }

// Layer is a named layer with one of the standard colour numbers.
type Layer struct {
	Name   string
	Colour int
}

// File is a drawing under construction. Add layers, blocks and entities in any
// order, then write it out once.
type File struct {
	// Comments stand at the head of the file.
	Comments []string
	layers   []Layer
	blocks   []*Entities
	Model    Entities
	low      Point
	high     Point
	any      bool
}

// Entities is a list of entities: those of the model, or of one block.
type Entities struct {
	file *File
	name string
	out  bytes.Buffer
}

// New returns an empty drawing.
func New(layers ...Layer) *File {
	f := &File{layers: layers}
	f.Model.file = f
	return f
}

// Block adds a block; the name is made safe and returned with it.
func (f *File) Block(name string) *Entities {
	safe := f.blockName(name)
	b := &Entities{file: f, name: safe}
	f.blocks = append(f.blocks, b)
	return b
}

// Name returns the name of the block.
func (e *Entities) Name() string { return e.name }

// maxName is the longest name that release 12 takes.
const maxName = 31

// blockName returns a name of capitals, figures, - and _ that no block has yet.
func (f *File) blockName(name string) string {
	var b strings.Builder
	for _, r := range strings.ToUpper(ASCII(name)) {
		switch {
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "_"):
			b.WriteByte('_')
		}
	}
	base := strings.Trim(b.String(), "_")
	if base == "" {
		base = "PIECE"
	}
	if len(base) > maxName {
		base = base[:maxName]
	}
	safe := base
	for n := 2; f.taken(safe); n++ {
		tail := "-" + strconv.Itoa(n)
		safe = base[:min(len(base), maxName-len(tail))] + tail
	}
	return safe
}

func (f *File) taken(name string) bool {
	for _, b := range f.blocks {
		if b.name == name {
			return true
		}
	}
	return false
}

// Polyline adds a line through the points; closed, it returns to the first, which
// is not to be given twice.
func (e *Entities) Polyline(layer string, closed bool, pts ...Point) {
	flag := "0"
	if closed {
		flag = "1"
	}
	e.pairs(0, "POLYLINE", 8, layer, 66, "1", 10, "0.0", 20, "0.0", 30, "0.0", 70, flag)
	for _, p := range pts {
		e.pairs(0, "VERTEX", 8, layer)
		e.point(10, p)
	}
	e.pairs(0, "SEQEND", 8, layer)
}

// Line adds a line from a to b.
func (e *Entities) Line(layer string, a, b Point) {
	e.pairs(0, "LINE", 8, layer)
	e.point(10, a)
	e.point(11, b)
}

// Point adds a point.
func (e *Entities) Point(layer string, p Point) {
	e.pairs(0, "POINT", 8, layer)
	e.point(10, p)
}

// Text adds a line of text whose baseline starts at p; turn is in degrees. What
// ASCII cannot hold is written as it sounds or as its number.
func (e *Entities) Text(layer string, p Point, height, turn float64, words string) {
	e.pairs(0, "TEXT", 8, layer)
	e.point(10, p)
	e.pairs(40, number(height), 1, ASCII(words))
	if turn != 0 {
		e.pairs(50, number(turn))
	}
}

// Insert adds a block at the origin.
func (e *Entities) Insert(layer string, block *Entities) {
	e.pairs(0, "INSERT", 8, layer, 2, block.name)
	e.point(10, Point{})
}

func (e *Entities) pairs(pairs ...any) {
	for i := 0; i < len(pairs); i += 2 {
		fmt.Fprintf(&e.out, "%3d\n%s\n", pairs[i], pairs[i+1])
	}
}

// point writes the coordinates under the codes for x, y and z.
func (e *Entities) point(code int, p Point) {
	e.pairs(code, number(p.X), code+10, number(p.Y), code+20, "0.0")
	if code == 10 || code == 11 {
		e.file.include(p)
	}
}

func (f *File) include(p Point) {
	if !f.any {
		f.low, f.high, f.any = p, p, true
		return
	}
	f.low = Point{math.Min(f.low.X, p.X), math.Min(f.low.Y, p.Y)}
	f.high = Point{math.Max(f.high.X, p.X), math.Max(f.high.Y, p.Y)}
}

// number returns v with six decimals at most and always a point, as readers of
// release 12 expect of a real.
func number(v float64) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 6, 64), "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}

// WriteTo writes the drawing.
func (f *File) WriteTo(w io.Writer) (int64, error) {
	var all Entities
	for _, c := range f.Comments {
		for _, line := range strings.Split(c, "\n") {
			all.pairs(999, ASCII(line))
		}
	}
	f.header(&all)
	f.tables(&all)
	all.pairs(0, "SECTION", 2, "BLOCKS")
	for _, b := range f.blocks {
		all.pairs(0, "BLOCK", 8, "0", 2, b.name, 70, "0", 10, "0.0", 20, "0.0", 30, "0.0", 3, b.name)
		all.out.Write(b.out.Bytes())
		all.pairs(0, "ENDBLK", 8, "0")
	}
	all.pairs(0, "ENDSEC", 0, "SECTION", 2, "ENTITIES")
	all.out.Write(f.Model.out.Bytes())
	all.pairs(0, "ENDSEC", 0, "EOF")
	return all.out.WriteTo(w)
}

func (f *File) header(all *Entities) {
	all.pairs(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009")
	all.pairs(9, "$EXTMIN", 10, number(f.low.X), 20, number(f.low.Y), 30, "0.0")
	all.pairs(9, "$EXTMAX", 10, number(f.high.X), 20, number(f.high.Y), 30, "0.0")
	all.pairs(9, "$LIMMIN", 10, number(f.low.X), 20, number(f.low.Y))
	all.pairs(9, "$LIMMAX", 10, number(f.high.X), 20, number(f.high.Y))
	all.pairs(0, "ENDSEC")
}

func (f *File) tables(all *Entities) {
	all.pairs(0, "SECTION", 2, "TABLES")
	all.pairs(0, "TABLE", 2, "LTYPE", 70, "1")
	all.pairs(0, "LTYPE", 2, "CONTINUOUS", 70, "0", 3, "Solid line", 72, "65", 73, "0", 40, "0.0")
	all.pairs(0, "ENDTAB")
	all.pairs(0, "TABLE", 2, "LAYER", 70, strconv.Itoa(len(f.layers)+1))
	for _, l := range append([]Layer{{"0", 7}}, f.layers...) {
		all.pairs(0, "LAYER", 2, l.Name, 70, "0", 62, strconv.Itoa(l.Colour), 6, "CONTINUOUS")
	}
	all.pairs(0, "ENDTAB")
	all.pairs(0, "TABLE", 2, "STYLE", 70, "1")
	all.pairs(0, "STYLE", 2, "STANDARD", 70, "0", 40, "0.0", 41, "1.0", 50, "0.0", 71, "0", 42, "2.5", 3, "txt", 4, "")
	all.pairs(0, "ENDTAB", 0, "ENDSEC")
}
