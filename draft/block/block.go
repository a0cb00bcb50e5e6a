package block

import (
	"hemlet/draft/body"
	"hemlet/draft/formula"
	"hemlet/draft/tomltext"
)

// Block is a block as its file says. It never changes once it is parsed, so that
// any number of goroutines may draft with it.
type Block struct {
	// Name is what commands call it, Title what people read; Garment is what its
	// pieces are listed under.
	Name, Title, Garment string
	// Says is one sentence, Explains a few paragraphs with an empty line between;
	// Source names where a published draft comes from.
	Says, Explains, Source string

	file, text string
	measures   []Measure
	choices    []choice
	steps      []step
	checks     []check
	pieces     []piece
	seams      []seam
	// wanted are the measures that matter: those that the block lists, in its order,
	// then the others that it reads or has spans for, in the catalogue's.
	wanted []wanted
	// asks are the measures about which formulas ask given(name).
	asks []string
	// estimator works out what was not taken, nil where the catalogue's will do.
	estimator *body.Estimator
	// guards holds, for each step, the checks that are looked at before it: those
	// that read nothing that comes later.
	guards map[int][]int
}

// WornUnder is the name under which formulas read how thick what is worn under the
// garment is, in all; Settings may hold it. It is 0 unless it is set.
const WornUnder = "worn_under"

// Measure is a measure that a block lists.
type Measure struct {
	Name   string
	Needed bool
	// Says is what the block does with it, or empty.
	Says string
	// Estimate is the block's own formula for it, or empty.
	Estimate string
	// Words and How describe a measure of the block's own, or repeat the catalogue.
	Words, How string
	// Own says that the catalogue does not know it.
	Own bool
}

// Choice is something that the maker may set.
type Choice struct {
	Name, Title, Says string
	// Kind is formula.LengthKind or formula.NumberKind.
	Kind formula.Kind
	// Default, Least and Most are formulas; the last two may be empty.
	Default, Least, Most string
}

// wanted is a measure that matters to a block.
type wanted struct {
	name string
	// needed: it must be taken. read: formulas need its value.
	needed, read bool
	// idle: it changes nothing unless it was taken.
	idle bool
}

type choice struct {
	Choice
	place
	preset, least, most *expression
}

type step struct {
	name, says string
	is         *expression
}

type check struct {
	name, level, says string
	measures          []string
	guard             bool
	holds             *expression
	place
}

type piece struct {
	role, title, note, layer, cut string
	count                         int
	clockwise                     bool
	edges                         []edge
	darts                         []dart
	notches                       []notch
	lines                         []line
	spans                         []span
	grain                         []*expression
	label                         *expression
	place
}

type edge struct {
	name, kind, corner string
	path               []*expression
	// start and end are the widths of the allowance, nil for none.
	start, end, trimTo *expression
	place
}

type dart struct {
	name, press    string
	edge           int
	from, to, apex *expression
	when           *expression
	place
}

type notch struct {
	name            string
	edge            int
	at              *expression
	fromEnd, double bool
	when            *expression
	place
}

type line struct {
	name, kind string
	path       []*expression
	closed     bool
	when       *expression
	place
}

type span struct {
	name, measure string
	share, ease   *expression
	// edges are indices of the piece.
	edges []int
	lines []string
	// way is one of spanWays.
	way      string
	from, to *expression
	when     *expression
	place
}

// use is an edge of a piece in a run, by index.
type use struct {
	piece, edge             int
	number                  int
	mirrored, far, reversed bool
}

type seam struct {
	name             string
	a, b             []use
	ratio, from, to  *expression
	fuller, fullness string
	bothSides, opens bool
	place
}

// File returns the name of the file as Parse was given it.
func (b *Block) File() string { return b.file }

// Text returns the text of the file. Parse makes the same block of it again.
func (b *Block) Text() string { return b.text }

// Measures returns the measures that the block lists, in its order.
func (b *Block) Measures() []Measure { return append([]Measure(nil), b.measures...) }

// Wants returns the names of all measures that matter to the draft: those that the
// block lists, in its order, and the others that formulas read or spans stand for.
func (b *Block) Wants() []string {
	list := make([]string, len(b.wanted))
	for i, w := range b.wanted {
		list[i] = w.name
	}
	return list
}

// Choices returns the choices in the order of the block.
func (b *Block) Choices() []Choice {
	list := make([]Choice, len(b.choices))
	for i, c := range b.choices {
		list[i] = c.Choice
	}
	return list
}

// Choice returns the choice with the name.
func (b *Block) Choice(name string) (Choice, bool) {
	for _, c := range b.choices {
		if c.Name == name {
			return c.Choice, true
		}
	}
	return Choice{}, false
}

// Roles returns the names that the block gives its pieces.
func (b *Block) Roles() []string {
	list := make([]string, len(b.pieces))
	for i, p := range b.pieces {
		list[i] = p.role
	}
	return list
}

// lineOf returns the line of a place in the file, 0 where there is none.
func (b *Block) lineOf(at place) int { return tomltext.LineOf([]byte(b.text), at.path) }
