package block

import (
	"strings"

	"hemlet/draft/body"
	"hemlet/draft/formula"
)

// maxNear bounds the names that an error offers for one that is not there.
const maxNear = 5

// near lists the measures that may be meant by a name, to be put into an error: those
// that are only misspelt or, where there are none, those that share a word with it.
func (p *parser) near(name string) string {
	var names []string
	for _, m := range body.Catalogue() {
		names = append(names, m.Name)
	}
	for _, m := range p.b.measures {
		if m.Own {
			names = append(names, m.Name)
		}
	}
	close := misspelt(name, names)
	if len(close) == 0 {
		for _, n := range names {
			if len(close) < maxNear && sharesWord(name, n) {
				close = append(close, n)
			}
		}
	}
	if len(close) == 0 {
		return ""
	}
	return ": there is " + or(close)
}

// maxLonger is by how many letters a misspelt name is longer or shorter than the one
// that is meant; a name that is part of a much longer one means something else.
const maxLonger = 2

// misspelt returns the names of which few letters differ.
func misspelt(name string, names []string) []string {
	var out []string
	for _, n := range formula.Nearest(name, names) {
		if longer := len(n) - len(name); longer <= maxLonger && longer >= -maxLonger {
			out = append(out, n)
		}
	}
	return out
}

// sharesWord reports whether a word of the one name is in the other.
func sharesWord(name, other string) bool {
	for _, word := range strings.Split(name, "_") {
		if len(word) > 2 && strings.Contains(other, word) {
			return true
		}
	}
	return false
}

// nearKey says which keys of a table may be meant by one that it does not know.
func nearKey(key string, s *Section) string {
	near := misspelt(key, s.names())
	if len(near) == 0 {
		return ""
	}
	return "; near it is " + or(near)
}
