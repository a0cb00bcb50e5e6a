package draft

import (
	"errors"
	"fmt"
	"slices"
)

// AddNotchArgs are the arguments of AddNotch.
type AddNotchArgs struct {
	Edge   EdgeRef    `arg:"edge" says:"the edge"`
	At     EdgePlace  `arg:"at" says:"where along it"`
	Shape  NotchShape `arg:"shape" says:"how it is marked" default:"slit"`
	Double *bool      `arg:"double" says:"two ticks, as the back of a garment has; without it, as the names of edge and piece tell"`
}

// AddNotch marks a place on an edge. A place given as a length stays that far from
// its end of the edge when the shape changes, a percentage stays at its share.
var AddNotch = register(Info{
	Name: "add-notch", Title: "Add a notch", Group: groupEdges,
	Says: "Marks a place on an edge that meets its partner on the other side of a seam.",
}, func(p *Project, a AddNotchArgs) (Outcome, error) {
	ids := p.newIDs()
	n := Notch{ID: ids.make(kindNotch), Shape: a.Shape}
	var said Outcome
	out, err := byEdge(p, []EdgeRef{a.Edge}, func(q *Piece, i int) error {
		if err := n.put(q, i, a.At, p.Unit); err != nil {
			return err
		}
		n.Double = q.isBehind(&q.Edges[i])
		put(&n.Double, a.Double)
		q.Notches = append(q.Notches, n)
		said.sayDrawn(q, i, n, p.Unit)
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Made, out.Says = n.ID, said.Says
	out.Project.NextID = ids.next
	return out, nil
})

// sayDrawn tells that a notch is drawn and never cut, where its allowance is too narrow.
func (o *Outcome) sayDrawn(p *Piece, i int, n Notch, unit Unit) {
	e, length := &p.Edges[i], p.EdgeLength(i)
	width := e.widthAt(shareAlong(n.Along(length), length))
	if _, cut := NotchDepth(width); !cut {
		o.say("The allowance of %s is %s there: the notch is drawn, and never cut.", e.label(), unit.Format(width))
	}
}

// put sets the place of the notch on edge i of the piece. A place that lies beyond
// the end by what a length is rounded to is put at the end.
func (n *Notch) put(p *Piece, i int, at EdgePlace, unit Unit) error {
	e := &p.Edges[i]
	if e.Kind == FoldEdge {
		return fmt.Errorf("edge %s is a fold, which is never cut and has no notches", e.label())
	}
	if _, err := at.along(p, i, unit); err != nil {
		return err
	}
	n.Edge, n.At, n.Share, n.FromEnd = e.ID, at.At, at.Share, at.FromEnd
	if most := p.EdgeLength(i); !n.Share && n.At > most {
		n.At = toGrid(most)
	}
	return nil
}

// MoveNotchArgs are the arguments of MoveNotch.
type MoveNotchArgs struct {
	Notch  NotchRef    `arg:"notch" says:"the notch"`
	At     *EdgePlace  `arg:"at" says:"where along its edge"`
	Shape  *NotchShape `arg:"shape" says:"how it is marked"`
	Double *bool       `arg:"double" says:"two ticks, as the back of a garment has"`
}

// MoveNotch puts a notch at another place of its edge.
var MoveNotch = register(Info{
	Name: "move-notch", Title: "Move a notch", Group: groupEdges,
	Says: "Puts a notch at another place of its edge, or marks it another way.",
}, func(p *Project, a MoveNotchArgs) (Outcome, error) {
	next, err := onePiece(p, a.Notch.Piece, func(q *Piece) error {
		for k := range q.Notches {
			n := &q.Notches[k]
			if n.ID != a.Notch.Notch {
				continue
			}
			_, i := q.Edge(n.Edge)
			if i < 0 {
				return fmt.Errorf("edge %s %w", n.Edge, errGone)
			}
			put(&n.Shape, a.Shape)
			put(&n.Double, a.Double)
			if a.At == nil {
				return nil
			}
			return n.put(q, i, *a.At, p.Unit)
		}
		return fmt.Errorf("notch %s %w", a.Notch.Notch, errGone)
	})
	if err != nil {
		return Outcome{}, err
	}
	return Outcome{Project: next.moveMarksOf(p, []NotchRef{a.Notch}), subject: p.subject([]ID{a.Notch.Piece})}, nil
})

// DeleteNotchArgs are the arguments of DeleteNotch.
type DeleteNotchArgs struct {
	Notches []NotchRef `arg:"notches" says:"the notches"`
}

// DeleteNotch takes notches away.
var DeleteNotch = register(Info{
	Name: "delete-notch", Title: "Delete notches", Group: groupEdges,
	Says: "Takes notches away.",
}, func(p *Project, a DeleteNotchArgs) (Outcome, error) {
	if len(a.Notches) == 0 {
		return Outcome{}, errors.New("no notch is named")
	}
	next, ids, err := byPiece(p, a.Notches, func(r NotchRef) ID { return r.Piece }, "notch", func(q *Piece, refs []NotchRef) error {
		gone := make(map[ID]bool)
		for _, r := range refs {
			gone[r.Notch] = true
		}
		kept := q.Notches[:0]
		for _, n := range q.Notches {
			if !gone[n.ID] {
				kept = append(kept, n)
			}
			delete(gone, n.ID)
		}
		for id := range gone {
			return fmt.Errorf("notch %s %w", id, errGone)
		}
		q.Notches = kept
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	return Outcome{Project: next.dropMarksOf(p, a.Notches), subject: p.subject(ids)}, nil
})

// SetNotchArgs are the arguments of SetNotch. What is nil stays as it is.
type SetNotchArgs struct {
	Notches []NotchRef  `arg:"notches" says:"the notches"`
	Shape   *NotchShape `arg:"shape" says:"how they are marked"`
	Double  *bool       `arg:"double" says:"two ticks, as the back of a garment has"`
	At      *EdgePlace  `arg:"at" says:"where along its edge, for one notch"`
}

// SetNotch marks notches another way, or puts one at another place of its edge.
var SetNotch = register(Info{
	Name: "set-notch", Title: "Set notches", Group: groupMarks,
	Says: "Marks notches as a slit, a V or a T, with one tick or two, or puts one at another place of its edge.",
}, func(p *Project, a SetNotchArgs) (Outcome, error) {
	if a.At != nil && len(a.Notches) > 1 {
		return Outcome{}, errors.New("several notches cannot all be at one place; name one notch, or leave the place out")
	}
	var said Outcome
	next, ids, err := byPiece(p, a.Notches, func(r NotchRef) ID { return r.Piece }, "notch", func(q *Piece, refs []NotchRef) error {
		for _, r := range refs {
			k := q.notchIndex(r.Notch)
			if k < 0 {
				return fmt.Errorf("notch %s %w", r.Notch, errGone)
			}
			n := &q.Notches[k]
			put(&n.Shape, a.Shape)
			put(&n.Double, a.Double)
			_, i := q.Edge(n.Edge)
			if i < 0 {
				return fmt.Errorf("edge %s %w", n.Edge, errGone)
			}
			if a.At != nil {
				if err := n.put(q, i, *a.At, p.Unit); err != nil {
					return err
				}
				said.sayDrawn(q, i, *n, p.Unit)
			}
		}
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	return Outcome{Project: next.moveMarksOf(p, a.Notches), subject: p.subject(ids), Says: said.Says}, nil
})

func (p *Piece) notchIndex(id ID) int {
	return slices.IndexFunc(p.Notches, func(n Notch) bool { return n.ID == id })
}

// shareAlong returns a place in mm along a length as a share of it, 0 where it has none.
func shareAlong(at, length float64) float64 {
	if length <= 0 {
		return 0
	}
	return min(max(at/length, 0), 1)
}
