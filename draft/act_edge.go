package draft

import "fmt"

// SetKindArgs are the arguments of SetKind.
type SetKindArgs struct {
	Edges []EdgeRef `arg:"edges" says:"the edges"`
	Kind  EdgeKind  `arg:"kind" says:"what happens to them when the garment is made up"`
}

// SetKind says what happens to edges when the garment is made up. Making an edge
// a fold has the piece cut on the fold; making the fold something else has it cut
// as drawn.
var SetKind = register(Info{
	Name: "set-kind", Title: "Set edge kind", Group: groupEdges,
	Says: "Says what happens to an edge: it is sewn, hemmed, laid on the fold, made a casing or left raw.",
}, func(p *Project, a SetKindArgs) (Outcome, error) {
	var said Outcome
	out, err := byEdge(p, a.Edges, func(q *Piece, i int) error {
		e := &q.Edges[i]
		if e.Kind == a.Kind {
			return nil
		}
		if a.Kind == FoldEdge {
			return q.foldOn(i, p.Unit, &said)
		}
		if e.Kind == FoldEdge && q.Cut.Way == CutOnFold && q.folds() == 1 {
			q.Cut.Way = CutSingle
			said.say("%s is no longer cut on the fold: %s.", q.label(), q.Cut)
		}
		e.Kind = a.Kind
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	if a.Kind == FoldEdge {
		if err := out.Project.noSewnFold(); err != nil {
			return Outcome{}, err
		}
	}
	out.Says = said.Says
	return out.afterCut()
})

// folds returns how many edges of the piece are folds.
func (p *Piece) folds() int {
	n := 0
	for i := range p.Edges {
		if p.Edges[i].Kind == FoldEdge {
			n++
		}
	}
	return n
}

// foldOn makes edge i the fold of the piece.
func (p *Piece) foldOn(i int, unit Unit, out *Outcome) error {
	e := &p.Edges[i]
	for k := range p.Edges {
		if p.Edges[k].Kind == FoldEdge && k != i {
			return fmt.Errorf("it folds on edge %s already, and cloth folds on one line only; make that edge a seam first", p.Edges[k].label())
		}
	}
	if len(p.Edges) < 2 {
		return fmt.Errorf("its outline is the one edge %s, which cannot all be a fold", e.label())
	}
	if off := bend(p.EdgePath(i)); off > FoldTolerance {
		return fmt.Errorf("edge %s bends by %s and cannot be a fold, which is straight; straighten it first", e.label(), unit.FormatSmall(off))
	}
	for _, d := range p.Darts {
		if d.Edge == e.ID {
			return fmt.Errorf("edge %s has a dart and cannot be a fold", e.label())
		}
	}
	e.Kind = FoldEdge
	if p.Cut.Way != CutOnFold {
		p.Cut.Way = CutOnFold
		p.Cut.Count = max(p.Cut.Count, 1)
		out.say("%s is now %s.", p.label(), p.Cut)
	}
	return nil
}

// noSewnFold reports an error if a seam runs along an edge that has become a fold.
func (p *Project) noSewnFold() error {
	for _, s := range p.Seams {
		for _, run := range []Run{s.A, s.B} {
			for _, u := range run {
				if piece := p.Piece(u.Piece); piece != nil {
					if e, _ := piece.Edge(u.Edge); e != nil && e.Kind == FoldEdge {
						return fmt.Errorf("%s: edge %s is sewn in seam %s and cannot be a fold; take the seam apart first", piece.label(), e.label(), s.label())
					}
				}
			}
		}
	}
	return nil
}

// NameEdgeArgs are the arguments of NameEdge.
type NameEdgeArgs struct {
	Edge EdgeRef `arg:"edge" says:"the edge"`
	Name string  `arg:"name" says:"its name, of which its piece has only one"`
}

// NameEdge gives an edge a name. Inside a piece a name is unique, since it is what
// people and scripts tell its edges apart by.
var NameEdge = register(Info{
	Name: "name-edge", Title: "Name edge", Group: groupEdges,
	Says: "Gives an edge a name, such as hem, side or neck.",
}, func(p *Project, a NameEdgeArgs) (Outcome, error) {
	name, err := neededName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	out, err := byEdge(p, []EdgeRef{a.Edge}, func(q *Piece, i int) error {
		for k := range q.Edges {
			if k != i && q.Edges[k].Name == name {
				return fmt.Errorf("another edge is called %s already", name)
			}
		}
		q.Edges[i].Name = name
		return nil
	})
	return out, err
})
