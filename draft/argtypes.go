package draft

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"hemlet/geom"
)

// Length is a length in mm. As text every figure has its unit; see ParseLength.
type Length float64

func (l *Length) readArg(_ *Project, text string) error {
	mm, err := ParseLength(text)
	*l = Length(mm)
	return err
}

func (*Length) argKind() string { return "length" }

// Vector is a place or a way in mm. As text it is two lengths with a comma
// between them, across and up: "10mm,-5mm".
type Vector geom.Point

func (v *Vector) readArg(_ *Project, text string) error {
	x, y, ok := strings.Cut(text, ",")
	if !ok {
		return fmt.Errorf("%q is not two lengths; write across and up with a comma between, such as 10mm,-5mm", text)
	}
	var err error
	if v.X, err = ParseLength(x); err != nil {
		return err
	}
	v.Y, err = ParseLength(y)
	return err
}

func (*Vector) argKind() string { return "two lengths, across and up" }

// Angle is an angle in radians, counter-clockwise. As text it is in degrees.
type Angle float64

func (a *Angle) readArg(_ *Project, text string) error {
	deg, err := ParseAngle(text)
	*a = Angle(deg * math.Pi / 180)
	return err
}

func (*Angle) argKind() string { return "angle in degrees" }

// EdgePlace is a place on an edge, measured along its stitching line without the
// mouths of darts. As text it is a length or a percentage, from the start of the
// edge or, with "from end" after it, from its end: "40mm", "25%", "1in from end".
type EdgePlace struct {
	// At is in mm or, with Share, a share of the edge's length from 0 to 1.
	At      float64
	Share   bool
	FromEnd bool
}

const fromEnd = "from end"

func (e *EdgePlace) readArg(_ *Project, text string) error {
	text = strings.TrimSpace(text)
	if rest, ok := strings.CutSuffix(text, fromEnd); ok {
		e.FromEnd, text = true, strings.TrimSpace(rest)
	}
	if !strings.HasSuffix(text, "%") {
		mm, err := ParseLength(text)
		e.At = mm
		return err
	}
	share, err := ParseNumber(text)
	e.At, e.Share = share, true
	return err
}

func (*EdgePlace) argKind() string {
	return `length or percentage along the edge, "from end" after it to measure from there`
}

// along returns the place in mm from the start of edge i of the piece.
func (e EdgePlace) along(p *Piece, i int, unit Unit) (float64, error) {
	length := p.EdgeLength(i)
	at := e.At
	if e.Share {
		at *= length
	}
	if !(at >= 0 && at <= length+unit.placeSlack()) {
		return 0, fmt.Errorf("edge %s of %s is %s long, so that there is no place at %s", p.Edges[i].label(), p.label(), unit.Format(length), unit.Format(at))
	}
	if e.FromEnd {
		at = length - at
	}
	return min(max(at, 0), length), nil
}

// placeSlack is how far, in mm, a place may lie beyond the end of an edge and
// still mean that end: by as much as a length that is shown may be rounded up.
func (u Unit) placeSlack() float64 { return u.Step()/2 + Grid }

// MaxName bounds a name or a note, in bytes.
const MaxName = 2000

// cleanName returns a name as it is kept: without blanks around it, on one line.
func cleanName(name string) (string, error) {
	name = strings.TrimSpace(strings.ToValidUTF8(name, ""))
	if len(name) > MaxName {
		return "", fmt.Errorf("a name may have at most %d bytes", MaxName)
	}
	if strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7f }) {
		return "", errors.New("a name is one line of text, without tabs and other unseen signs")
	}
	return name, nil
}

// neededName is cleanName for things that must have a name.
func neededName(name string) (string, error) {
	name, err := cleanName(name)
	if err == nil && name == "" {
		err = errors.New("the name is empty")
	}
	return name, err
}
