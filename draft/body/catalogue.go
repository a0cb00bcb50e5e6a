package body

import (
	"fmt"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"

	"hemlet/assets"
)

// Kind is what sort of measure a measure is.
type Kind string

// The kinds of measures.
const (
	Girth  Kind = "girth"  // once round
	Length Kind = "length" // along the body
	Width  Kind = "width"  // across, from one place to another
	Height Kind = "height" // straight up from the ground
	Arc    Kind = "arc"    // level across the front or the back, from side seam to side seam
)

// Measure is an entry of the catalogue.
type Measure struct {
	// Name is what formulas and files call it: "bust_girth".
	Name string `toml:"name"`
	// Words are what people read first, without a capital: "round the bust or
	// chest". Term is the term of ISO 8559-1, empty where it has none.
	Words string `toml:"words"`
	Term  string `toml:"term"`
	// Group is the heading under which it is listed.
	Group string `toml:"group"`
	Kind  Kind   `toml:"kind"`
	// How says in whole sentences how it is taken.
	How string `toml:"how"`
	// Ask is its place among the measures asked for first, 1 to 10, or 0.
	Ask int `toml:"ask"`
	// FromTaken are estimates used only where all that they read was taken,
	// Estimates those that may read other estimates; the first that can be worked
	// out is used. All are formulas of package formula and lengths.
	FromTaken []string `toml:"from_taken"`
	Estimates []string `toml:"estimates"`
	// Source is where the figures of the estimates come from: "ansur" (fitted on
	// the ANSUR II survey), "practice" (common practice, no source) or "guess".
	Source string `toml:"source"`
	// Share is the mean share of a human stature. Figures below Least or above
	// Most times the stature are asked about.
	Share float64 `toml:"share"`
	Least float64 `toml:"least"`
	Most  float64 `toml:"most"`
	// Loose says that bodies differ in it so much that only a figure ten times too
	// large or too small is a slip of unit; MayVanish, that a body may have next to
	// nothing of it.
	Loose     bool `toml:"loose"`
	MayVanish bool `toml:"may_vanish"`
	// View is from where it is seen on a figure: "front", "back" or "side". At is
	// the level at which the tape goes round or across, or the two places from
	// which and to which it goes.
	View string   `toml:"view"`
	At   []string `toml:"at"`
}

// Levels are the heights of the body at which it is measured round, from the top.
// Each has the measures LEVEL_girth, LEVEL_height, LEVEL_arc_front, LEVEL_arc_back.
var Levels = [...]string{"bust", "waist", "belly", "hip"}

// GirthOf, HeightOf, ArcFrontOf and ArcBackOf return the names of the measures that
// are taken at a level, whether the catalogue knows the level or a maker named it.
func GirthOf(level string) string    { return level + "_girth" }
func HeightOf(level string) string   { return level + "_height" }
func ArcFrontOf(level string) string { return level + "_arc_front" }
func ArcBackOf(level string) string  { return level + "_arc_back" }

// catalogue is what the file of the assets holds.
type catalogue struct {
	measures []*Measure
	byName   map[string]*Measure
}

var theCatalogue = sync.OnceValue(func() *catalogue {
	c, err := readCatalogue(assets.Measures())
	if err != nil {
		panic("body: measures.toml: " + err.Error()) // carried in the program, held by a test
	}
	return c
})

func readCatalogue(text []byte) (*catalogue, error) {
	var file struct {
		Measures []*Measure `toml:"measures"`
	}
	meta, err := toml.Decode(string(text), &file)
	if err != nil {
		return nil, err
	}
	if extra := meta.Undecoded(); len(extra) > 0 {
		return nil, fmt.Errorf("the key %s is not known", extra[0])
	}
	c := &catalogue{file.Measures, map[string]*Measure{}}
	for _, m := range c.measures {
		if c.byName[m.Name] != nil {
			return nil, fmt.Errorf("%s is there twice", m.Name)
		}
		c.byName[m.Name] = m
	}
	return c, nil
}

// Catalogue returns all measures in the order in which they are listed. They are
// shared and must not be changed.
func Catalogue() []*Measure { return append([]*Measure(nil), theCatalogue().measures...) }

// Find returns the measure of the catalogue with the name, or false.
func Find(name string) (*Measure, bool) {
	m, ok := theCatalogue().byName[name]
	return m, ok
}

// Asked returns the ten measures that are asked for before the first draft, in
// their order.
func Asked() []*Measure {
	asked := make([]*Measure, 0, 10)
	for place := 1; ; place++ {
		before := len(asked)
		for _, m := range theCatalogue().measures {
			if m.Ask == place {
				asked = append(asked, m)
			}
		}
		if len(asked) == before {
			return asked
		}
	}
}

// Words returns what people call the measure with the name: the words of the
// catalogue, or the name itself with its underscores as spaces. A level that a
// maker named is put the way the catalogue puts its own.
func Words(name string) string {
	if m, ok := Find(name); ok {
		return m.Words
	}
	plain := func(s string) string { return strings.ReplaceAll(s, "_", " ") }
	for _, put := range [...]struct{ suffix, words string }{
		{ArcFrontOf(""), "across the front at the "},
		{ArcBackOf(""), "across the back at the "},
		{HeightOf(""), "height of the "},
		{GirthOf(""), "round the "},
	} {
		if level, ok := strings.CutSuffix(name, put.suffix); ok && level != "" {
			return put.words + plain(level)
		}
	}
	return plain(name)
}
