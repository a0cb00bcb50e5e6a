package draft

import (
	"fmt"
	"strings"
)

// kept returns the layer as it is kept, or says why nobody wears such a one.
func (u Worn) kept() (Worn, error) {
	name, err := cleanName(u.Name)
	if err != nil {
		return u, err
	}
	if !(u.Thickness >= 0 && u.Thickness <= MaxCoordinate) {
		return u, fmt.Errorf("what is worn underneath cannot be %g mm thick", u.Thickness)
	}
	return Worn{name, toGrid(u.Thickness)}, nil
}

// parseWorn reads a layer that is worn under a garment: its name and how thick it is,
// shirt=0.5mm, or only how thick all of it is. Double quotes keep signs of the name from
// being taken for others.
func parseWorn(text string) (Worn, error) {
	name, thick := "", text
	if k := strings.LastIndexByte(text, '='); k >= 0 {
		name, thick = unquote(strings.TrimSpace(text[:k])), text[k+1:]
	}
	mm, err := ParseLength(thick)
	if err != nil {
		return Worn{}, err
	}
	return Worn{name, mm}.kept()
}

func (u *Worn) readArg(_ *Project, text string) (err error) {
	*u, err = parseWorn(text)
	return err
}

func (*Worn) argKind() string { return "what is worn=length, or a length" }
