package block

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"

	"hemlet/draft/formula"
)

// Shares of the length of a run. Two notches that are apart by more than notchApart do
// not meet; two that are within notchTogether do, however the fullness is spread.
const (
	notchApart    = 0.05
	notchTogether = 0.02
)

// mostNotches bounds the notches of a run that are compared: nobody counts more along
// one seam, and a hostile block may hold many thousands.
const mostNotches = 50

// direction tells of a seam that is sewn end to start, where that shows: its notches do
// not meet and would if one side were turned round, or one side starts at a hem where the
// other ends at one.
func (d *drafter) direction(s *seam, out *Seam) {
	why := d.crossedNotches(out)
	if why == "" {
		why = d.crossedHems(out)
	}
	if why == "" {
		return
	}
	mend := "turn one of its sides round: list its edges from the last to the first, with a - where there was none, and without where there was one"
	if len(s.b) == 1 {
		u := s.b[0]
		c := &d.b.pieces[u.piece]
		verb := "put a - before"
		if u.reversed {
			verb = "take away the - before"
		}
		mend = fmt.Sprintf("%s “%s.%s” in b", verb, c.role, c.edges[u.edge].name)
	}
	d.tell(s.name, "The seam %s is sewn end to start: %s. In the block, %s.", s.name, why, mend)
}

// crossedNotches says how the notches of a seam do not meet, or nothing.
func (d *drafter) crossedNotches(s *Seam) string {
	a, b := d.notchesAlong(s.A), d.notchesAlong(s.B)
	apart := ""
	for _, pair := range paired(a, b) {
		p, q := pair[0], pair[1]
		if math.Abs(p.share-(1-q.share)) > notchTogether {
			return ""
		}
		if apart == "" && math.Abs(p.share-q.share) > notchApart {
			apart = fmt.Sprintf("the notch “%s” lies at %s %% of one side and “%s” at %s %% of the other", p.name, formula.Figure(100*p.share, 0), q.name, formula.Figure(100*q.share, 0))
		}
	}
	return apart
}

// markAlong is a notch at a share of a run.
type markAlong struct {
	name  string
	share float64
}

// numbered is the name of a notch that was given none.
var numbered = regexp.MustCompile(`^notch [0-9]+$`)

// paired returns the notches of two runs that should meet: those of one name or, where no
// name that somebody gave is on both, all in their order.
func paired(a, b []markAlong) [][2]markAlong {
	var pairs [][2]markAlong
	for _, p := range a {
		for _, q := range b {
			if p.name == q.name && !numbered.MatchString(p.name) {
				pairs = append(pairs, [2]markAlong{p, q})
			}
		}
	}
	if len(pairs) > 0 || len(a) != len(b) {
		return pairs
	}
	slices.SortFunc(a, byShare)
	slices.SortFunc(b, byShare)
	meet := true
	for i := range a {
		meet = meet && math.Abs(a[i].share-b[i].share) <= notchApart
	}
	if meet {
		return nil
	}
	for i := range a {
		pairs = append(pairs, [2]markAlong{a[i], b[len(b)-1-i]})
	}
	return pairs
}

func byShare(p, q markAlong) int { return cmp.Compare(p.share, q.share) }

// notchesAlong returns the notches of a run by their shares of its length, none where
// there are too many.
func (d *drafter) notchesAlong(run []Use) []markAlong {
	var marks []markAlong
	length := 0.0
	for _, u := range run {
		p, i := d.edgeOf(u)
		along := d.sewnLength(p, i)
		for _, n := range p.Notches {
			if n.Edge != u.Edge {
				continue
			}
			at := n.At
			if n.FromEnd != u.Reversed {
				at = along - at
			}
			marks = append(marks, markAlong{n.Name, length + at})
		}
		length += along
		if len(marks) > mostNotches {
			return nil
		}
	}
	if length <= gapSlack {
		return nil
	}
	for i := range marks {
		marks[i].share /= length
	}
	return marks
}

// edgeOf returns the piece of a use, and which of its edges it is.
func (d *drafter) edgeOf(u Use) (*Piece, int) {
	p := &d.sheet.Pieces[slices.IndexFunc(d.sheet.Pieces, func(p Piece) bool { return p.Role == u.Piece })]
	return p, slices.IndexFunc(p.Edges, func(e Edge) bool { return e.Name == u.Edge })
}

// sewnLength returns the length of edge i without the mouths of its darts, in mm. A
// block may sew one edge many times, and has it measured once.
func (d *drafter) sewnLength(p *Piece, i int) float64 {
	edge := &p.Edges[i]
	if length, known := d.sewn[edge]; known {
		return length
	}
	if d.sewn == nil {
		d.sewn = make(map[*Edge]float64)
	}
	d.sewn[edge] = sewnLength(p, i)
	return d.sewn[edge]
}

func sewnLength(p *Piece, i int) float64 {
	nodes := edgeNodes(p.Edges, i)
	sum := 0.0
	for k := 1; k < len(nodes); k++ {
		isMouth := slices.ContainsFunc(p.Darts, func(dt Dart) bool { return dt.From == nodes[k-1].Name && dt.To == nodes[k].Name })
		if !isMouth {
			sum += between(nodes[k-1], nodes[k]).Length()
		}
	}
	return sum
}

// crossedHems says that one side of a seam starts, and the other ends, at a hem, each at
// that end alone; or nothing.
func (d *drafter) crossedHems(s *Seam) string {
	aStart, aEnd := d.hemsOf(s.A)
	bStart, bEnd := d.hemsOf(s.B)
	if aStart == aEnd || bStart == bEnd || aStart == bStart {
		return ""
	}
	return "one side starts at a hem, and the other ends at one"
}

// hemsOf reports whether a run starts and ends at a hem.
func (d *drafter) hemsOf(run []Use) (start, end bool) {
	first, last := run[0], run[len(run)-1]
	return d.hemBeside(first, first.Reversed), d.hemBeside(last, !last.Reversed)
}

// hemBeside reports whether the edge after the one in use, or before it, is a hem.
func (d *drafter) hemBeside(u Use, after bool) bool {
	p, i := d.edgeOf(u)
	n := len(p.Edges)
	if after {
		return p.Edges[(i+1)%n].Kind == "hem"
	}
	return p.Edges[(i+n-1)%n].Kind == "hem"
}
