package draft

import (
	"fmt"
	"strconv"
	"strings"
)

// How a run is written: its edges in the order in which they are sewn, with "+" or
// ";" between them, each with what tells it apart after slashes, in any order:
//
//	Front.side             the edge as drawn, of the right copy
//	Front.side/left        of the mirrored copy of a piece that is cut in pairs
//	Front.side/far         of the half beyond the fold
//	Front.side/2           of the second copy or pair
//	Front.side/reversed    run from its end to its start
//
// For example "Front.armhole + Back.armhole/left/reversed".

func (r *Run) readArg(p *Project, text string) error {
	items, err := splitList(text)
	if err != nil {
		return err
	}
	run := make(Run, 0, len(items))
	for _, item := range items {
		use, err := p.findUse(item)
		if err != nil {
			return err
		}
		run = append(run, use)
	}
	*r = run
	return nil
}

func (*Run) argKind() string {
	return "edges in the order of sewing, each with /left, /far, /2 or /reversed where it needs one"
}

// findUse reads one edge use.
func (p *Project) findUse(text string) (EdgeUse, error) {
	parts, err := splitOutside(text, "/")
	if err != nil {
		return EdgeUse{}, err
	}
	// The words are taken from the end, so that an edge's name may hold a slash.
	use := EdgeUse{Copy: CopyRef{Number: 1}}
	n := len(parts)
	for n > 1 && use.take(strings.TrimSpace(parts[n-1])) {
		n--
	}
	ref, err := p.FindEdge(strings.Join(parts[:n], "/"))
	if err != nil {
		return EdgeUse{}, err
	}
	use.Piece, use.Edge = ref.Piece, ref.Edge
	return use, nil
}

// take puts one word of a use into it, or returns false.
func (u *EdgeUse) take(word string) bool {
	switch word {
	case "left":
		u.Copy.Mirrored = true
	case "right":
		u.Copy.Mirrored = false
	case "far":
		u.Half = Far
	case "near":
		u.Half = Near
	case "reversed":
		u.Reversed = true
	default:
		n, err := strconv.Atoi(word)
		if err != nil {
			return false
		}
		u.Copy.Number = n
	}
	return true
}

// RunText writes a run so that it is read back the same; edges go by their names
// where those are enough.
func (p *Project) RunText(run Run) string {
	words := make([]string, len(run))
	for i, u := range run {
		words[i] = p.useText(u)
	}
	return strings.Join(words, " + ")
}

func (p *Project) useText(u EdgeUse) string {
	text := string(u.Piece) + "." + string(u.Edge)
	if piece := p.Piece(u.Piece); piece != nil {
		if e, _ := piece.Edge(u.Edge); e != nil {
			named := quoted(piece.label()) + "." + quoted(e.label())
			if ref, err := p.FindEdge(named); err == nil && ref == (EdgeRef{u.Piece, u.Edge}) {
				text = named
			}
		}
	}
	if u.Copy.Mirrored {
		text += "/left"
	}
	if u.Half == Far {
		text += "/far"
	}
	if u.Copy.Number != 1 {
		text += fmt.Sprintf("/%d", u.Copy.Number)
	}
	if u.Reversed {
		text += "/reversed"
	}
	return text
}

// quoted puts a name in double quotes where it holds a sign of the grammar.
func quoted(name string) string {
	if strings.ContainsAny(name, `.;+/*#@`) {
		return `"` + name + `"`
	}
	return name
}

// reversed returns the run from its end to its start.
func (r Run) reversed() Run {
	out := make(Run, len(r))
	for i, u := range r {
		u.Reversed = !u.Reversed
		out[len(r)-1-i] = u
	}
	return out
}

// mirrored returns the run on the other side of the body, or false where a piece
// has no other side: it is neither cut in pairs nor on the fold.
func (p *Project) mirrored(r Run) (Run, bool) {
	out := make(Run, len(r))
	for i, u := range r {
		piece := p.Piece(u.Piece)
		if piece == nil {
			return nil, false
		}
		switch piece.Cut.Way {
		case CutPairs:
			u.Copy.Mirrored = !u.Copy.Mirrored
		case CutOnFold:
			u.Half = Far - u.Half
		default:
			return nil, false
		}
		out[i] = u
	}
	return out, true
}

// forward reports whether the use runs counter-clockwise round its copy as that
// lies with the right side up: the mirror image of an outline runs clockwise.
func (u EdgeUse) forward() bool {
	return u.Reversed == (u.Copy.Mirrored != (u.Half == Far))
}
