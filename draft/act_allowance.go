package draft

import (
	"errors"
	"fmt"
)

// SetAllowanceArgs are the arguments of SetAllowance. What is nil stays as it is.
type SetAllowanceArgs struct {
	Edges []EdgeRef `arg:"edges" says:"the edges; Front.* is every cut edge of Front"`
	Width *Length   `arg:"width" says:"the same width all along"`
	Start *Length   `arg:"start" says:"the width at the start of the edge"`
	End   *Length   `arg:"end" says:"the width at the end of the edge"`
	Trim  *Length   `arg:"trim" says:"the width that is left after sewing, 0mm for untrimmed"`
}

// MaxAllowance bounds an allowance, in mm: wider than any hem of a cloak.
const MaxAllowance = 1000

// SetAllowance sets how much cloth is left outside the stitching line of edges.
var SetAllowance = register(Info{
	Name: "set-allowance", Title: "Set allowance", Group: groupEdges,
	Says: "Sets how much cloth is left outside the stitching line: one width, or one at each end.",
}, func(p *Project, a SetAllowanceArgs) (Outcome, error) {
	if a.Width == nil && a.Start == nil && a.End == nil && a.Trim == nil {
		return Outcome{}, errors.New("needs a width, a start or end width, or a width to trim to")
	}
	if a.Width != nil && (a.Start != nil || a.End != nil) {
		return Outcome{}, errors.New("a width all along and one for an end cannot both hold; give width alone, or start and end")
	}
	return byEdge(p, a.Edges, func(q *Piece, i int) error {
		e := &q.Edges[i]
		if e.Kind == FoldEdge {
			return fmt.Errorf("edge %s is a fold, which is never cut and has no allowance", e.label())
		}
		set, err := a.on(e.Allowance, p.Unit)
		if err != nil {
			return fmt.Errorf("edge %s: %w", e.label(), err)
		}
		e.Allowance = set
		return nil
	})
})

// on returns the allowance with what is given put in.
func (a SetAllowanceArgs) on(old Allowance, unit Unit) (Allowance, error) {
	set := old
	put(&set.Start, (*float64)(a.Width))
	put(&set.End, (*float64)(a.Width))
	put(&set.Start, (*float64)(a.Start))
	put(&set.End, (*float64)(a.End))
	put(&set.TrimTo, (*float64)(a.Trim))
	for _, w := range []float64{set.Start, set.End, set.TrimTo} {
		if !(w >= 0 && w <= MaxAllowance) {
			return old, outOfAllowances(w, unit)
		}
	}
	if set.TrimTo > set.Widest() {
		if a.Trim != nil {
			return old, fmt.Errorf("it is cut %s wide and cannot be trimmed to %s", unit.Format(set.Widest()), unit.Format(set.TrimTo))
		}
		set.TrimTo = 0 // the new width is narrower than what was to be left of the old
	}
	return set, nil
}

// outOfAllowances says that no allowance is w mm wide.
func outOfAllowances(w float64, unit Unit) error {
	return fmt.Errorf("an allowance lies between 0 and %s, and cannot be %s", unit.Format(MaxAllowance), unit.Format(w))
}

// SetCornerArgs are the arguments of SetCorner.
type SetCornerArgs struct {
	Corners []CornerRef `arg:"corners" says:"the corners; Front.hem/start is where the hem of Front starts"`
	Rule    CornerRule  `arg:"rule" says:"how the two allowances meet"`
}

// SetCorner sets how the allowances of two edges meet at their corner.
var SetCorner = register(Info{
	Name: "set-corner", Title: "Set corner", Group: groupEdges,
	Says: "Sets how the allowances of two edges meet at their corner.",
}, func(p *Project, a SetCornerArgs) (Outcome, error) {
	next, ids, err := byPiece(p, a.Corners, pieceOfCorner, "corner", func(q *Piece, refs []CornerRef) error {
		for _, r := range refs {
			n, i, k := q.Node(r.Node)
			if n == nil {
				return fmt.Errorf("point %s %w", r.Node, errGone)
			}
			if k != 0 {
				return fmt.Errorf("point %s lies inside edge %s and is no corner; make it one first", n.ID, q.Edges[i].label())
			}
			q.Edges[i].Corner = a.Rule
		}
		return nil
	})
	return Outcome{Project: next, subject: p.subject(ids)}, err
})
