package bench

import (
	"fmt"
	"strings"

	"hemlet/draft"
)

// seamMark is the letter of a seam at an edge, and where along the edge it stands.
// Both edges of a seam bear it at the same share of the way from the end where the
// sewing starts, as printed patterns match them.
type seamMark struct {
	letter string
	share  float64
}

// seamMarks tells which letters each edge bears: those of the seams it is sewn in.
type seamMarks map[draft.ID][]seamMark

// A letter stands at this share of its edge, clear of corners and of the label in
// the middle; further ones on the same edge stand so much farther on.
const (
	letterShare = 0.35
	letterStep  = 0.14
)

func marksOf(seams []*draft.Seam) seamMarks {
	m := seamMarks{}
	for i, s := range seams {
		letter := draft.Letter(i)
		for _, run := range []draft.Run{s.A, s.B} {
			for _, use := range run {
				m.add(use, letter)
			}
		}
	}
	return m
}

func (m seamMarks) add(use draft.EdgeUse, letter string) {
	list := m[use.Edge]
	for _, have := range list {
		if have.letter == letter {
			return
		}
	}
	share := letterShare + letterStep*float64(len(list))
	if use.Reversed {
		share = 1 - share
	}
	m[use.Edge] = append(list, seamMark{letter, share})
}

// of returns the marks of the piece's edges as text, so that two states can be
// compared.
func (m seamMarks) of(p *draft.Piece) string {
	var b strings.Builder
	for _, e := range p.Edges {
		fmt.Fprint(&b, m[e.ID], "|")
	}
	return b.String()
}
