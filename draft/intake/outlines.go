package intake

import (
	"errors"
	"fmt"
	"math"

	"hemlet/draft"
	"hemlet/geom"
)

// smallestArea is the area, in mm², below which a closed line encloses nothing
// that could be sewn: a square of 0.1 mm.
const smallestArea = 0.01

// Outlines returns the closed lines that are to become pieces, in file order,
// counter-clockwise, each starting at a corner if it has one, and warnings about
// what was left out. Where the file itself tells cut lines from stitching lines,
// as our own exports do, only those of the wanted line are taken, or the others
// with a warning if it has none; else every closed line is a piece. It is an
// error if nothing is left.
func (d *Drawing) Outlines(want draft.DrawnLine) ([]draft.Outline, []Warning, error) {
	c := collector{d: d, names: map[string]int{}}
	role := c.role(want)
	for _, s := range d.Shapes {
		switch {
		case s.Role == role:
			c.take(s)
		case s.Role == Unmarked:
			c.warn(s.Where, "left out: the file marks its cut and stitching lines, and this is neither")
		}
	}
	if len(c.out) == 0 {
		return nil, c.warnings, &Error{File: d.Name, Err: c.nothing()}
	}
	return c.out, c.warnings, nil
}

// role returns the role of the shapes that become pieces.
func (c *collector) role(want draft.DrawnLine) Role {
	count := map[Role]int{}
	for _, s := range c.d.Shapes {
		count[s.Role]++
	}
	wanted, other, otherLine := StitchRole, CutRole, draft.CutDrawn
	if want == draft.CutDrawn {
		wanted, other, otherLine = CutRole, StitchRole, draft.StitchDrawn
	}
	switch {
	case count[CutRole]+count[StitchRole] == 0:
		return Unmarked
	case count[wanted] > 0:
		return wanted
	}
	c.warn(Source{}, fmt.Sprintf("the file has no %s lines of its own; its %s lines are taken for them", want, otherLine))
	return other
}

// collector turns shapes into outlines.
type collector struct {
	d        *Drawing
	out      []draft.Outline
	warnings []Warning
	names    map[string]int
	open     int
	// outer is the largest outline of the element outerOf, outerArea its area.
	outer     geom.Path
	outerArea float64
	outerOf   Source
	// looked is how much was looked at to find names and holes.
	looked int
}

func (c *collector) warn(at Source, says string) {
	c.warnings = append(c.warnings, Warning{at, says})
}

func (c *collector) nothing() error {
	if c.open > 0 {
		return fmt.Errorf("none of its %d lines is closed; a piece needs a closed outline", c.open)
	}
	return errors.New("there is no closed outline in it")
}

func (c *collector) take(s Shape) {
	path, closed := cleaned(s.Path, s.Closed)
	switch {
	case len(path) == 0:
		c.warn(s.Where, "left out: it has no length")
		return
	case !closed:
		c.open++
		c.warn(s.Where, fmt.Sprintf("left out: the line is open, its ends are %.3g mm apart", path.Start().Dist(path.End())))
		return
	}
	area := path.Area()
	if math.Abs(area) < smallestArea {
		c.warn(s.Where, "left out: it encloses no area")
		return
	}
	if area < 0 {
		path = path.Reverse()
	}
	c.tellInner(s, path, math.Abs(area))
	corner := cornersOf(path, s.marks, c.d.everyVertex)
	path, corner = fromCorner(path, corner)
	c.out = append(c.out, draft.Outline{Path: path, Corner: corner, Name: c.unique(c.name(s, path))})
}

// tellInner warns where an outline lies inside another of the same element, as
// holes are drawn: it becomes a piece all the same, since a file does not say
// which it is.
func (c *collector) tellInner(s Shape, path geom.Path, area float64) {
	switch {
	case c.outerOf != s.Where || len(c.outer) == 0:
		c.outer, c.outerArea, c.outerOf = path, area, s.Where
	case area > c.outerArea:
		c.outer, c.outerArea = path, area
	case c.look(len(c.outer)) && c.outer.Contains(path.Start()):
		c.warn(s.Where, "an outline inside the outline became a piece of its own; if it is a hole, delete that piece")
	}
}

// fromCorner turns the path round so that it starts at its first corner.
func fromCorner(path geom.Path, corner []bool) (geom.Path, []bool) {
	for i, at := range corner {
		if at {
			return append(path[i:len(path):len(path)], path[:i]...), append(corner[i:len(corner):len(corner)], corner[:i]...)
		}
	}
	return path, corner
}

// maxLooks bounds how many texts and segments are looked at for names and holes,
// all outlines together; both are a courtesy and not worth minutes.
const maxLooks = 20_000_000

// look takes n looks off what may be spent, and reports whether they are there.
func (c *collector) look(n int) bool {
	c.looked += n
	return c.looked <= maxLooks
}

// name returns what the piece is called: by its group or block, by itself, by the
// tallest lettering inside it, or by its layer. What a piece is called is written
// larger than what is noted on it.
func (c *collector) name(s Shape, path geom.Path) string {
	if name := firstOf(s.Piece, s.Name); name != "" || c.d.Format == SVG {
		return name
	}
	box, name, height := path.Bounds(), "", -1.0
	for _, t := range c.d.Texts {
		if !c.look(1) {
			break
		}
		if t.Height > height && t.PieceNo == s.PieceNo && box.Contains(t.At) && c.look(len(path)) && path.Contains(t.At) {
			name, height = t.Says, t.Height
		}
	}
	if name != "" {
		return name
	}
	if s.Role == Unmarked && s.Layer != "0" {
		return s.Layer
	}
	return ""
}

// unique numbers names that were there before, and those that are missing.
func (c *collector) unique(name string) string {
	if name == "" {
		name = fmt.Sprintf("Piece %d", len(c.out)+1)
	}
	base := name
	for c.names[name] > 0 {
		c.names[base]++
		name = fmt.Sprintf("%s %d", base, c.names[base])
	}
	c.names[name]++
	return name
}
