package tracing

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"hemlet/draft"
	"hemlet/geom/trace"
)

// MadeFor says what traced outlines are and for whom the pattern was made.
type MadeFor struct {
	Line draft.DrawnLine
	// Allowance, in mm, is what lies inside a cut line or is added outside a stitching line.
	Allowance  float64
	Name, Size string
	Measures   []draft.OriginMeasure
}

// Take is an outline that is to become a piece.
type Take struct {
	// Outline is its index.
	Outline int
	// Name is what the piece is called; empty lets the project find a name.
	Name string
	// Uses are what the lines inside become, by their index, as far as that was said.
	Uses []Use
}

// All returns every outline, named for the picture in which it lies where it lies there
// alone.
func (t *Traced) All() []Take {
	count := map[int]int{}
	for _, o := range t.Outlines {
		count[o.Sheet]++
	}
	takes := make([]Take, len(t.Outlines))
	for i, o := range t.Outlines {
		takes[i].Outline = i
		if count[o.Sheet] == 1 && o.Sheet < len(t.Pictures) {
			name := t.Pictures[o.Sheet].Name
			takes[i].Name = strings.TrimSuffix(name, filepath.Ext(name))
		}
	}
	return takes
}

// Args returns the arguments of the act that makes pieces of the outlines. Lines inside
// become what the maker said they are or else what they look like (see Uses for the rules:
// Grained tells what was taken for the grain line, so that it can be said), and holes are
// cut out.
func (t *Traced) Args(m MadeFor, takes []Take) draft.ImportTracedArgs {
	args := draft.ImportTracedArgs{Line: m.Line, Allowance: m.Allowance, Name: m.Name, Size: m.Size, Measures: m.Measures}
	for _, take := range takes {
		o := t.Outlines[take.Outline]
		out := draft.TracedOutline{Outline: draft.Outline{Path: o.Path, Corner: o.Corner, Name: take.Name}}
		for i, as := range Uses(o, take.Uses) {
			use(&out, o, o.Inner[i].Path, as)
		}
		for _, h := range o.Holes {
			out.Lines = append(out.Lines, draft.TracedLine{Path: h.Path, Kind: draft.CutoutLine})
		}
		args.Outlines = append(args.Outlines, out)
	}
	return args
}

// Grained reports whether a line inside an outline is taken for its grain line although
// nobody said so: whoever uses that has to tell it.
func Grained(o trace.Outline, said []Use) bool {
	return !slices.Contains(said, AsGrain) && slices.Contains(Uses(o, said), AsGrain)
}

// LeftOut says in plain words what of the ink became no piece, a sentence each.
func (t *Traced) LeftOut() []string {
	says := append([]string(nil), t.Says...)
	count := func(n int, one, many string) {
		switch {
		case n == 1:
			says = append(says, one)
		case n > 1:
			says = append(says, fmt.Sprintf(many, n))
		}
	}
	count(len(t.Open), "One line does not close and was left out.", "%d lines do not close and were left out.")
	count(len(t.Cut), "One shape runs out of the picture and was left out.", "%d shapes run out of the picture and were left out.")
	count(t.Lettering, "One small mark was taken for lettering and left out.", "%d small marks were taken for lettering and left out.")
	count(t.Specks, "One speck was left out.", "%d specks were left out.")
	return says
}
