package draft

import (
	"errors"
	"fmt"
)

// AddNotchArgs are the arguments of AddNotch.
type AddNotchArgs struct {
	Edge   EdgeRef    `arg:"edge" says:"the edge"`
	At     EdgePlace  `arg:"at" says:"where along it"`
	Shape  NotchShape `arg:"shape" says:"how it is marked" default:"slit"`
	Double bool       `arg:"double" says:"two ticks, as the back of a garment has" default:"no"`
}

// AddNotch marks a place on an edge. A place given as a length stays that far from
// its end of the edge when the shape changes, a percentage stays at its share.
var AddNotch = register(Info{
	Name: "add-notch", Title: "Add a notch", Group: groupEdges,
	Says: "Marks a place on an edge that meets its partner on the other side of a seam.",
}, func(p *Project, a AddNotchArgs) (Outcome, error) {
	ids := p.newIDs()
	n := Notch{ID: ids.make(kindNotch), Shape: a.Shape, Double: a.Double}
	out, err := byEdge(p, []EdgeRef{a.Edge}, func(q *Piece, i int) error {
		if err := n.put(q, i, a.At, p.Unit); err != nil {
			return err
		}
		q.Notches = append(q.Notches, n)
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Made = n.ID
	out.Project.NextID = ids.next
	return out, nil
})

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
	return Outcome{Project: next, subject: p.subject([]ID{a.Notch.Piece})}, err
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
	return Outcome{Project: next, subject: p.subject(ids)}, err
})
