package draft

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"hemlet/geom"
)

// InvalidError says where a project is not sound, and why.
type InvalidError struct {
	// Path is the place in the terms of the project file, with indices from 0:
	// "pieces[2].edges[0].nodes[3]". Where is the same for people: "piece Front,
	// edge side, node n12".
	Path, Where string
	// Says is what is wrong and how to mend it.
	Says string
}

func (e *InvalidError) Error() string {
	if e.Where == "" {
		return e.Says
	}
	return e.Where + ": " + e.Says
}

// step is one step of the way from the project to the thing under inspection.
type step struct {
	key   string
	index int // -1 where the key holds one thing, not a list
	kind  string
	name  string
}

// bearer is what bears an id: its kind and, inside a piece, the piece.
type bearer struct {
	kind  string
	piece *Piece
}

// inspector walks a project and keeps the first thing that is wrong with it.
type inspector struct {
	project *Project
	way     []step
	// ids holds every id of the project so far. It is also how references are
	// looked up: a hostile file may hold a hundred thousand of each.
	ids map[ID]bearer
	// piece is the piece under inspection, nil outside of pieces.
	piece *Piece
	// roles are those that pieces inspected so far play in their derivations.
	roles map[rolePlayed]bool
	err   *InvalidError
}

func (v *inspector) enter(key string, index int, kind, name string) {
	v.way = append(v.way, step{key, index, kind, name})
}

func (v *inspector) leave() { v.way = v.way[:len(v.way)-1] }

// longestName is how many bytes of a name stand in a complaint; its end is what says
// what is wrong.
const longestName = 80

// failf keeps the first complaint.
func (v *inspector) failf(format string, args ...any) {
	if v.err != nil {
		return
	}
	var path, where []string
	for _, s := range v.way {
		part := s.key
		if s.index >= 0 {
			part += "[" + strconv.Itoa(s.index) + "]"
		}
		path = append(path, part)
		name := s.name
		if len(name) > longestName {
			name = name[:longestName] + "..."
		}
		if name == "" && s.index >= 0 {
			name = "number " + strconv.Itoa(s.index+1)
		}
		where = append(where, strings.TrimSpace(s.kind+" "+strings.ToValidUTF8(name, "?")))
	}
	v.err = &InvalidError{strings.Join(path, "."), strings.Join(where, ", "), fmt.Sprintf(format, args...)}
}

// text complains about a string that is no text.
func (v *inspector) text(what, s string) {
	if !utf8.ValidString(s) {
		v.failf("the %s is not UTF-8 text; write it anew", what)
	}
}

// number complains about a value outside [lo, hi], NaN included.
func (v *inspector) number(what string, x, lo, hi float64) {
	if !(x >= lo && x <= hi) {
		v.failf("the %s is %v; it must lie between %v and %v", what, x, lo, hi)
	}
}

// positive complains about a value that is not above 0, or above hi.
func (v *inspector) positive(what string, x, hi float64) {
	if !(x > 0 && x <= hi) {
		v.failf("the %s is %v; it must be above 0 and at most %v", what, x, hi)
	}
}

// length complains about a length in mm that is negative, too large or no number.
func (v *inspector) length(what string, mm float64) { v.number(what, mm, 0, MaxCoordinate) }

func (v *inspector) point(what string, p geom.Point) {
	if !(math.Abs(p.X) <= MaxCoordinate && math.Abs(p.Y) <= MaxCoordinate) {
		v.failf("the %s is (%v, %v) mm; both must lie within the 100 m that a project holds", what, p.X, p.Y)
	}
}

// word complains about a value of an enumeration that has no name.
func (v *inspector) word(what string, marshal func() ([]byte, error)) {
	if _, err := marshal(); err != nil {
		v.failf("the %s is unknown (%v)", what, err)
	}
}

// has reports whether a thing of the kind bears the id, inside the piece unless
// piece is nil.
func (v *inspector) has(id ID, kind string, piece *Piece) bool {
	b, ok := v.ids[id]
	return ok && b.kind == kind && b.piece == piece
}

// maxIDBytes bounds an id: room for the names that blocks give, and no more.
const maxIDBytes = 200

// bear notes that the thing under inspection bears the id.
func (v *inspector) bear(id ID, kind string) {
	if !v.sound(id) {
		return
	}
	if other, taken := v.ids[id]; taken {
		v.failf("the id %q is taken by another thing (%s) before it; give one of them an id of its own", id, other.kind)
		return
	}
	if n, counted := id.number(); counted && n >= v.project.NextID {
		v.failf("the id %q is not below the project's counter, %d; raise next_id above every number in an id", id, v.project.NextID)
	}
	v.ids[id] = bearer{kind, v.piece}
}

// sound reports whether the id can stand in a file and on a command line.
func (v *inspector) sound(id ID) bool {
	switch {
	case id == "":
		v.failf("the id is missing")
	case len(id) > maxIDBytes:
		v.failf("the id is longer than %d bytes", maxIDBytes)
	case !utf8.ValidString(string(id)) || strings.ContainsFunc(string(id), func(r rune) bool { return r <= ' ' || r == 0x7f }):
		v.failf("the id %q has blanks or unprintable signs", id)
	default:
		return true
	}
	return false
}

// idKinds are the letters of the ids that the counter gives out.
const idKinds = "pensdtlmgcwirokjv"

// number returns the number of an id that the counter gave out, or false for a
// name that a block gave.
func (id ID) number() (int, bool) {
	if len(id) < 2 || strings.IndexByte(idKinds, id[0]) < 0 || id[1] < '1' || id[1] > '9' {
		return 0, false
	}
	n, err := strconv.Atoi(string(id[1:]))
	if err != nil {
		// More digits than the counter can ever reach: past it, if digits at all.
		return math.MaxInt, strings.Trim(string(id[1:]), "0123456789") == ""
	}
	return n, true
}
