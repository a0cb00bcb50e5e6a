package draft

import (
	"fmt"
	"slices"
)

// AddStretchArgs are the arguments of AddStretch.
type AddStretchArgs struct {
	Edge EdgeRef     `arg:"edge" says:"the edge"`
	Kind StretchKind `arg:"kind" says:"what is done along it" default:"gather"`
	From EdgePlace   `arg:"from" says:"where it begins" default:"0%"`
	To   EdgePlace   `arg:"to" says:"where it ends" default:"100%"`
}

// AddStretch marks a part of an edge along which the cloth is gathered, eased, held or clipped.
var AddStretch = register(Info{
	Name: "add-stretch", Title: "Mark a stretch", Group: groupMarks,
	Says: "Marks from where to where an edge is gathered, eased, held by a stay, or its allowance clipped.",
}, func(p *Project, a AddStretchArgs) (Outcome, error) {
	ids := p.newIDs()
	s := Stretch{ID: ids.make(kindStretch), Kind: a.Kind}
	out, err := byEdge(p, []EdgeRef{a.Edge}, func(q *Piece, i int) error {
		if err := s.put(q, i, a.From, a.To, p.Unit); err != nil {
			return err
		}
		q.Stretches = append(q.Stretches, s)
		return q.apart(s)
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Made = s.ID
	out.Project.NextID = ids.next
	return out, nil
})

// shortestShare is the least share of an edge that a stretch may cover: less cannot be
// told from a point.
const shortestShare = 1e-6

// put sets the ends of the stretch on edge i, in whichever order they are given. A whole
// turn is never meant.
func (s *Stretch) put(p *Piece, i int, from, to EdgePlace, unit Unit) error {
	e, length := &p.Edges[i], p.EdgeLength(i)
	if e.Kind == FoldEdge {
		return fmt.Errorf("edge %s is a fold; there is one layer of cloth, and nothing to be %s", e.label(), s.Kind.done())
	}
	if length <= 0 {
		return fmt.Errorf("edge %s has no length", e.label())
	}
	a, err := from.along(p, i, unit)
	if err != nil {
		return err
	}
	b, err := to.along(p, i, unit)
	if err != nil {
		return err
	}
	s.Edge, s.From, s.To = e.ID, clampShare(min(a, b)/length), clampShare(max(a, b)/length)
	if s.To-s.From < shortestShare {
		return fmt.Errorf("a stretch has two different ends; both lie %s along edge %s", unit.Format(a), e.label())
	}
	return nil
}

// apart returns the kind that stands for those that cannot lie at one place with k.
func (k StretchKind) apart() StretchKind {
	if k == EaseStretch {
		return GatherStretch
	}
	return k
}

// apart reports a stretch of the piece that what is done along s cannot be done with: a
// place is gathered or eased, once. A stay may hold gathers, and what is clipped may be
// eased or held.
func (p *Piece) apart(s Stretch) error {
	for _, o := range p.Stretches {
		if o.ID == s.ID || o.Edge != s.Edge || o.Kind.apart() != s.Kind.apart() {
			continue
		}
		if min(s.To, o.To)-max(s.From, o.From) > shortestShare {
			return fmt.Errorf("edge %s is %s there already, from %.0f %% to %.0f %% of its length; change that stretch, or end this one where it begins",
				p.edgeLabel(s.Edge), o.Kind.done(), o.From*100, o.To*100)
		}
	}
	return nil
}

// SetStretchArgs are the arguments of SetStretch. What is nil stays as it is.
type SetStretchArgs struct {
	Stretch StretchRef   `arg:"stretch" says:"the stretch"`
	Kind    *StretchKind `arg:"kind" says:"what is done along it"`
	From    *EdgePlace   `arg:"from" says:"where it begins"`
	To      *EdgePlace   `arg:"to" says:"where it ends"`
}

// SetStretch moves the ends of a stretch, or says that something else is done along it.
var SetStretch = register(Info{
	Name: "set-stretch", Title: "Set a stretch", Group: groupMarks,
	Says: "Moves the ends of a stretch of an edge, or says whether it is gathered, eased or held.",
}, func(p *Project, a SetStretchArgs) (Outcome, error) {
	next, err := onePiece(p, a.Stretch.Piece, func(q *Piece) error {
		k := q.stretchIndex(a.Stretch.Stretch)
		if k < 0 {
			return fmt.Errorf("the stretch %s %w", a.Stretch.Stretch, errGone)
		}
		s := &q.Stretches[k]
		_, i := q.Edge(s.Edge)
		if i < 0 {
			return fmt.Errorf("edge %s %w", s.Edge, errGone)
		}
		put(&s.Kind, a.Kind)
		from, to := EdgePlace{At: s.From, Share: true}, EdgePlace{At: s.To, Share: true}
		put(&from, a.From)
		put(&to, a.To)
		if err := s.put(q, i, from, to, p.Unit); err != nil {
			return err
		}
		return q.apart(*s)
	})
	return Outcome{Project: next, subject: p.subject([]ID{a.Stretch.Piece})}, err
})

func (p *Piece) stretchIndex(id ID) int {
	return slices.IndexFunc(p.Stretches, func(s Stretch) bool { return s.ID == id })
}
