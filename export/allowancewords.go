package export

import (
	"slices"
	"strconv"
	"strings"

	"hemlet/draft"
)

// Bounds of what is said of allowances of several widths: the groups of edges that
// differ from the rest, and the letters in all.
const (
	mostWidths       = 3
	mostWidthLetters = 48
)

// allowanceLines says what the cut line holds beyond the stitching line: with all its
// widths, in lines to choose from, nil where that is too much to say, and in short. What is
// trimmed once it is sewn is said in either.
func allowanceLines(p *draft.Piece, unit draft.Unit) (widths [][]string, short []string) {
	says := allowanceWords(p, unit)
	short = append([]string{says}, wrap(trimWords(p, unit), lineLetters)...)
	if says != severalAllowances {
		return nil, short
	}
	if w := allowanceWidths(p, unit); w != "" {
		first := severalAllowances + ":"
		widths = [][]string{{first + " " + w}, append([]string{first}, wrap(w, lineLetters)...)}
		for i := range widths {
			widths[i] = append(widths[i], short[1:]...)
		}
	}
	return widths, short
}

// trimWords says which allowances are trimmed once they are sewn, and to what, empty for
// none.
func trimWords(p *draft.Piece, unit draft.Unit) string {
	type group struct {
		names []string
		edges int
		to    float64
	}
	var groups []*group
	wide := 0
	for i := range p.Edges {
		e := &p.Edges[i]
		if e.Kind != draft.FoldEdge && e.Allowance.Widest() > 0 {
			wide++
		}
		to := e.Allowance.TrimTo
		if to <= 0 || e.Kind == draft.FoldEdge {
			continue
		}
		at := slices.IndexFunc(groups, func(g *group) bool { return g.to == to })
		if at < 0 {
			at = len(groups)
			groups = append(groups, &group{to: to})
		}
		g := groups[at]
		g.names = append(g.names, e.Name)
		g.edges++
	}
	var parts []string
	for _, g := range groups {
		what := edgesWords(g.names)
		switch {
		case g.edges == wide:
			what = "all"
		case slices.Contains(g.names, "") || len([]rune(what)) > mostWidthLetters:
			what = strconv.Itoa(g.edges) + " edges"
		}
		parts = append(parts, what+" to "+unit.FormatTrue(g.to))
	}
	if parts == nil {
		return ""
	}
	return "once sewn trim " + strings.Join(parts, "; ")
}

// edgesWords names edges: those that a number tells apart as several of their kind.
func edgesWords(names []string) string {
	of := map[string]int{}
	for _, name := range names {
		of[unnumbered(name)]++
	}
	var list []string
	for _, name := range names {
		if kind := unnumbered(name); of[kind] > 1 {
			name = kind
			if !strings.HasSuffix(kind, "s") {
				name += "s"
			}
		}
		if !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	if n := len(list); n > 2 {
		list = []string{strings.Join(list[:n-1], ", "), list[n-1]}
	}
	return strings.Join(list, " and ")
}

// unnumbered returns a name without the number that tells it from others of its kind.
func unnumbered(name string) string {
	if at := strings.LastIndexByte(name, ' '); at > 0 {
		if _, err := strconv.Atoi(name[at+1:]); err == nil {
			return name[:at]
		}
	}
	return name
}

const severalAllowances = "allowances included"

// allowanceWords says in short what the cut line holds beyond the stitching line.
func allowanceWords(p *draft.Piece, unit draft.Unit) string {
	width, one := -1.0, true
	for _, e := range p.Edges {
		if e.Kind == draft.FoldEdge {
			continue
		}
		for _, w := range [...]float64{e.Allowance.Start, e.Allowance.End} {
			if width >= 0 && w != width {
				one = false
			}
			width = max(width, w)
		}
	}
	switch {
	case width <= 0:
		return "no allowance"
	case one:
		return unit.FormatTrue(width) + " allowance included"
	default:
		return severalAllowances
	}
}

// allowanceWidths lists the widths of the allowances: first the one along most of the
// seams, then those of the edges that differ from it, "4 mm; hem 6 mm". It is empty
// where too many differ, or one that has no name.
func allowanceWidths(p *draft.Piece, unit draft.Unit) string {
	main := seamWidth(p, unit)
	type group struct {
		names []string
		width string
	}
	var groups []*group
	for i := range p.Edges {
		e := &p.Edges[i]
		width := widthWords(e.Allowance, unit)
		if e.Kind == draft.FoldEdge || width == main {
			continue
		}
		name := widthName(p, e, unit)
		if name == "" {
			return ""
		}
		at := slices.IndexFunc(groups, func(g *group) bool { return g.width == width })
		if at < 0 {
			at = len(groups)
			groups = append(groups, &group{width: width})
		}
		if !slices.Contains(groups[at].names, name) {
			groups[at].names = append(groups[at].names, name)
		}
	}
	var parts []string
	switch main {
	case "":
	case noWidth:
		parts = append(parts, "seams "+main)
	default:
		parts = append(parts, main)
	}
	for _, g := range groups {
		parts = append(parts, edgesWords(g.names)+" "+g.width)
	}
	words := strings.Join(parts, "; ")
	if len(groups) > mostWidths || len([]rune(words)) > mostWidthLetters {
		return ""
	}
	return words
}

// seamWidth is the width along most of the seams, empty where the piece has none.
func seamWidth(p *draft.Piece, unit draft.Unit) string {
	along := make(map[string]float64)
	main := ""
	for i, e := range p.Edges {
		if e.Kind != draft.SeamEdge {
			continue
		}
		width := widthWords(e.Allowance, unit)
		for _, part := range p.EdgeParts(i) {
			along[width] += part.Tape().Length()
		}
		if main == "" || along[width] > along[main] {
			main = width
		}
	}
	return main
}

// noWidth stands for an allowance of nothing.
const noWidth = "none"

func widthWords(a draft.Allowance, unit draft.Unit) string {
	switch {
	case a.Widest() <= 0:
		return noWidth
	case a.Start != a.End:
		return unit.FormatTrue(a.Start) + " to " + unit.FormatTrue(a.End)
	default:
		return unit.FormatTrue(a.Start)
	}
}

// widthName is what an edge is called where its allowance is told: by its kind where
// all edges of that kind have the same, else by its name.
func widthName(p *draft.Piece, e *draft.Edge, unit draft.Unit) string {
	kind := kindWords(e.Kind)
	if e.Kind == draft.RawEdge {
		kind = "raw edge"
	}
	width := widthWords(e.Allowance, unit)
	for _, other := range p.Edges {
		if other.Kind == e.Kind && widthWords(other.Allowance, unit) != width {
			kind = ""
		}
	}
	if kind != "" {
		return kind
	}
	return e.Name
}
