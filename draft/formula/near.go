package formula

import (
	"sort"
	"strings"

	"github.com/expr-lang/expr/ast"
)

const (
	// maxNear bounds the names that are offered for one that is not there.
	maxNear = 3
	// maxListed bounds the names of a scope that are all listed.
	maxListed = 12
)

// noName says that a name is not there, and which are near it.
func (r *reader) noName(n *ast.IdentifierNode) *Error {
	if f := functions[n.Value]; f != nil || n.Value == givenName {
		return r.errorAt(n, "%s is a function; write %s", n.Value, callOf(n.Value))
	}
	says := "there is no name " + n.Value + " here"
	names := r.scope.Names()
	for c := range constants {
		names = append(names, c)
	}
	near := Nearest(n.Value, names)
	switch {
	case otherUnits[strings.ToLower(n.Value)]:
		says += "; the units are mm, cm and inch"
	case len(near) > 0:
		says += "; near it " + areOrIs(near)
	case len(r.scope.names) == 0:
		says += "; the formula can read no names but constants"
	case len(r.scope.names) <= maxListed:
		says += "; the names here are " + list(r.scope.Names())
	}
	return r.errorAt(n, "%s", says)
}

// otherUnits are names of units that formulas do not have, or have by another name.
var otherUnits = map[string]bool{
	"m": true, "metre": true, "metres": true, "meter": true, "meters": true, "dm": true,
	"millimetre": true, "millimetres": true, "millimeter": true, "millimeters": true,
	"centimetre": true, "centimetres": true, "centimeter": true, "centimeters": true,
	"inches": true, "ins": true, "ft": true, "foot": true, "feet": true, "yard": true, "yards": true,
	"yd": true, "pt": true, "px": true,
}

// noFunction says that a function is not there, and which are near it.
func (r *reader) noFunction(n ast.Node, name string) *Error {
	if _, ok := r.scope.Kind(name); ok || constants[name] != nil {
		return r.errorAt(n, "%s is a name and no function; a sign is missing before the bracket", name)
	}
	says := "there is no function " + name
	names := []string{givenName}
	for f := range functions {
		names = append(names, f)
	}
	if near := Nearest(name, names); len(near) > 0 {
		says += "; near it " + areOrIs(near)
	}
	return r.errorAt(n, "%s", says)
}

func areOrIs(names []string) string {
	if len(names) == 1 {
		return "is " + names[0]
	}
	return "are " + list(names)
}

// Nearest returns the few names that are most like the one that was written: by
// the letters that would have to change, or because one begins or ends with the
// other.
func Nearest(name string, names []string) []string {
	type candidate struct {
		name  string
		apart int
	}
	var found []candidate
	lower := strings.ToLower(name)
	for _, n := range names {
		low := strings.ToLower(n)
		apart := editDistance(lower, low)
		switch {
		case apart <= 1+min(len(name), len(n))/4:
		case len(name) >= 4 && len(n) >= 4 && (strings.Contains(low, lower) || strings.Contains(lower, low)):
			apart = len(name) // after those that are only misspelt
		default:
			continue
		}
		found = append(found, candidate{n, apart})
	}
	sort.Slice(found, func(i, j int) bool {
		if found[i].apart != found[j].apart {
			return found[i].apart < found[j].apart
		}
		return found[i].name < found[j].name
	})
	if len(found) > 0 && found[0].apart == 0 { // only capitals differ
		return []string{found[0].name}
	}
	near := make([]string, 0, maxNear)
	for _, c := range found[:min(len(found), maxNear)] {
		near = append(near, c.name)
	}
	return near
}

// editDistance returns how many letters must be put in, taken out, changed or
// swapped with the next to make b of a (optimal string alignment).
func editDistance(a, b string) int {
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}
