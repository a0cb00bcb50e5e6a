package body

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Levels of a slip, as findings have them.
const (
	Problem   = "problem"    // no body has these figures
	LookAgain = "look again" // a body may have them, but hardly this one
	Note      = "note"
)

// Slip is a figure, or several, that can hardly have been measured.
type Slip struct {
	// Key is the same for the same slip at every call: "unit bust_girth".
	Key string
	// Level is Problem, LookAgain or Note.
	Level string
	// Measures are those to look at, by name.
	Measures []string
	// Says is one or two sentences that say what is wrong and what would mend it.
	Says string
	// Suggest has likely values in mm for some of the measures; it may be empty.
	Suggest map[string]float64
	// Or has values in mm for other measures of the slip that would mend it as well, all of
	// them together; it may be empty.
	Or map[string]float64
}

// Slips looks for slips of the tape and of the pen in what was taken: figures in
// another unit than the rest, figures in each other's place, and those that no body
// can have at the same time. Odd bodies are none: a belly rounder than the hips, no
// neck, a head larger than the chest all pass. Lengths in the text are written by
// format, in millimetres where it is nil. The worst come first.
//
// A figure that was told already as a slip of unit or of place is not told again for
// what follows from it; its slip then has the level of what follows.
func Slips(g Given, format func(mm float64) string) []Slip {
	if format == nil {
		format = func(mm float64) string { return fmt.Sprintf("%.4g mm", mm) }
	}
	c := &inquiry{given: Given{}, format: format, blamed: map[string]int{}, explained: map[int]bool{}}
	for _, name := range slices.Sorted(maps.Keys(g)) {
		switch v := g[name]; {
		case !sane(v):
			c.tell(Problem, "figure", []string{name}, nil, "Take it, or clear it so that it is estimated.", "The measure %s is not above zero.", quoted(name))
		case v > longest:
			c.tell(Problem, "figure", []string{name}, nil, "Look at its unit.", "The measure %s, %s, is beyond %s.", quoted(name), format(v), format(longest))
		default:
			c.given[name] = v
		}
	}
	c.size()
	c.causes()
	c.consequences()
	slices.SortStableFunc(c.slips, func(a, b Slip) int { return rank(a.Level) - rank(b.Level) })
	return c.slips
}

// longest is the longest measure, in mm: drawings reach no further than 100 m.
const longest = 100_000.0

func rank(level string) int {
	return slices.Index([]string{Problem, LookAgain, Note}, level)
}

// inquiry is the search for slips in one body.
type inquiry struct {
	// given holds what can be a measure at all.
	given  Given
	format func(mm float64) string
	slips  []Slip
	// blamed are the slips of unit and place, by the measures they name.
	blamed map[string]int
	// mends is what would mend a slip, by its place in slips; explained are those
	// that say already what follows from them.
	mends     []string
	explained map[int]bool
}

// tell adds a slip: a sentence that says what is wrong, and what would mend it.
func (c *inquiry) tell(level, kind string, names []string, suggest map[string]float64, mend, fact string, args ...any) {
	maps.DeleteFunc(suggest, func(_ string, v float64) bool { return !sane(v) || v > longest })
	c.slips = append(c.slips, Slip{
		Key: kind + " " + strings.Join(names, " "), Level: level, Measures: names,
		Says: fmt.Sprintf(fact, args...) + " " + mend, Suggest: suggest,
	})
	c.mends = append(c.mends, mend)
}

// blame tells a slip of unit or place and remembers it.
func (c *inquiry) blame(level, kind string, names []string, suggest map[string]float64, mend, fact string, args ...any) {
	for _, name := range names {
		c.blamed[name] = len(c.slips)
	}
	c.tell(level, kind, names, suggest, mend, fact, args...)
}

// follows adds a slip unless a measure of it was blamed for another reason. The slip
// that blamed it then takes over the level, if that is worse, and says what follows
// and not only that the figure does not fit.
func (c *inquiry) follows(level, kind string, names []string, suggest map[string]float64, mend, fact string, args ...any) {
	told := false
	for _, name := range names {
		i, ok := c.blamed[name]
		if !ok {
			continue
		}
		told = true
		if s := &c.slips[i]; rank(level) < rank(s.Level) || rank(level) == rank(s.Level) && !c.explained[i] {
			s.Level = level
			s.Says = fmt.Sprintf(fact, args...) + " " + c.mends[i]
			c.explained[i] = true
		}
	}
	if !told {
		c.tell(level, kind, names, suggest, mend, fact, args...)
	}
}

// quoted puts the words of a measure in quotation marks, so that they stand out in a
// sentence.
func quoted(name string) string { return "“" + Words(name) + "”" }

// is returns a measure as a sentence names it: “round the waist”, 238 mm.
func (c *inquiry) is(name string) string {
	return quoted(name) + ", " + c.format(c.given[name])
}

// likely returns what the measure would be by the others, without those named.
func (c *inquiry) likely(name string, without ...string) float64 {
	g := maps.Clone(c.given)
	delete(g, name)
	for _, w := range without {
		delete(g, w)
	}
	return Resolve(g).MM(name)
}

// suggest returns the likely value of the measure as a slip suggests it.
func (c *inquiry) suggest(name string, without ...string) map[string]float64 {
	if v := c.likely(name, without...); v > 0 {
		return map[string]float64{name: v}
	}
	return nil
}
