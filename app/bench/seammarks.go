package bench

import (
	"sort"
	"strings"

	"hemlet/draft"
)

// seamMarks tells which letters each edge bears: those of the seams it is sewn in.
type seamMarks map[draft.ID][]string

func marksOf(seams []*draft.Seam) seamMarks {
	m := seamMarks{}
	for i, s := range seams {
		letter := draft.Letter(i)
		for _, run := range []draft.Run{s.A, s.B} {
			for _, use := range run {
				if !hasText(m[use.Edge], letter) {
					m[use.Edge] = append(m[use.Edge], letter)
				}
			}
		}
	}
	for _, letters := range m {
		sort.Strings(letters)
	}
	return m
}

func hasText(list []string, text string) bool {
	for _, have := range list {
		if have == text {
			return true
		}
	}
	return false
}

// of returns the letters of the piece's edges in order, joined by zero bytes so
// that two states can be compared.
func (m seamMarks) of(p *draft.Piece) string {
	parts := make([]string, len(p.Edges))
	for i, e := range p.Edges {
		parts[i] = strings.Join(m[e.ID], " ")
	}
	return strings.Join(parts, "\x00")
}
