package tracetest

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"hemlet/geom"
)

// Figures reads outlines: a line of text each, with the name and then, for every edge, its
// eight numbers in mm: four control points. What follows a # is for people. An edge whose
// handles lie on its chord becomes a line.
func Figures(r io.Reader) ([]Piece, error) {
	var pieces []Piece
	lines := bufio.NewScanner(r)
	for n := 1; lines.Scan(); n++ {
		text, _, _ := strings.Cut(lines.Text(), "#")
		fields := strings.Fields(text)
		if len(fields) == 0 {
			continue
		}
		piece := Piece{Name: fields[0]}
		for rest := fields[1:]; len(rest) > 0; rest = rest[8:] {
			if len(rest) < 8 {
				return nil, fmt.Errorf("line %d: an edge needs eight numbers", n)
			}
			var x [8]float64
			if _, err := fmt.Sscan(strings.Join(rest[:8], " "), &x[0], &x[1], &x[2], &x[3], &x[4], &x[5], &x[6], &x[7]); err != nil {
				return nil, fmt.Errorf("line %d: %w", n, err)
			}
			s := geom.Cubic(geom.Pt(x[0], x[1]), geom.Pt(x[2], x[3]), geom.Pt(x[4], x[5]), geom.Pt(x[6], x[7]))
			if flat(s) {
				s = geom.Line(s.P0, s.P3)
			}
			piece.Outline = append(piece.Outline, s)
		}
		pieces = append(pieces, piece)
	}
	return pieces, lines.Err()
}

// flatness is how far, in mm, handles may lie from the chord of a line: the figures are
// rounded to a millionth.
const flatness = 1e-5

func flat(s geom.Segment) bool {
	u := s.P3.Sub(s.P0)
	l := u.Len()
	a, b := u.Cross(s.P1.Sub(s.P0))/l, u.Cross(s.P2.Sub(s.P0))/l
	return a < flatness && a > -flatness && b < flatness && b > -flatness
}
