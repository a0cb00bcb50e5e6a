package draft

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// NameEdgesArgs are the arguments of NameEdges.
type NameEdgesArgs struct {
	Pieces []PieceRef `arg:"pieces,optional" says:"the pieces; all of the pattern without it"`
}

// NameEdges names the edges that nobody has named after what they are on the garment, as
// far as shapes, seams and folds tell it: neck, shoulder, armhole, side, hem and so on. What
// somebody has named keeps its name. A hem that is sewn to nothing becomes an edge of that
// kind, for then no partner is missed of it.
var NameEdges = register(Info{
	Name: "name-edges", Title: "Name edges by what they are", Group: groupEdges,
	Says: "Names the edges that nobody has named after what they are: neck, shoulder, armhole, side, hem, cap, wrist and so on. A hem that is sewn to nothing becomes one.",
}, func(p *Project, a NameEdgesArgs) (Outcome, error) {
	var pieces []ID
	for _, r := range a.Pieces {
		if p.Piece(ID(r)) == nil {
			return Outcome{}, fmt.Errorf("piece %s %w", r, errGone)
		}
		pieces = append(pieces, ID(r))
	}
	next, ids, named, err := p.namedEdges(NewSlots().EdgeNames(p, pieces))
	if err != nil {
		return Outcome{}, err
	}
	if named == 0 {
		return Outcome{}, errors.New("nothing tells of an edge without a name what it is; name it yourself")
	}
	out := Outcome{Project: next, subject: p.subject(ids)}
	out.say("Named: %s.", counted(named, "edge"))
	return out, nil
})

// EdgeName is a name that an edge without one asks for.
type EdgeName struct {
	Piece, Edge ID
	Name        string
	// Hem says that it is a hem besides, sewn to nothing, of which nobody has said so.
	Hem bool
}

// EdgeNames returns the names that the nameless edges of the pieces ask for, those of the
// whole pattern where none is given. In a piece every name is there once: two sides are the
// side and the side 2.
func (s *Slots) EdgeNames(p *Project, pieces []ID) []EdgeName {
	anatomy := s.Anatomy(p)
	var list []EdgeName
	for _, pa := range anatomy.Pieces {
		if len(pieces) > 0 && !slices.Contains(pieces, pa.Piece.ID) {
			continue
		}
		used := make(map[string]bool)
		for i := range pa.Piece.Edges {
			used[pa.Piece.Edges[i].Name] = true
		}
		for i := range pa.Piece.Edges {
			e := &pa.Piece.Edges[i]
			part := pa.Edges[i].Part
			if !e.nameless() || part == EdgeUnknown || part == AtDart || pa.Edges[i].Sure < sureOfPart {
				continue
			}
			name := unusedName(part.String(), func(name string) bool { return used[name] })
			used[name] = true
			list = append(list, EdgeName{pa.Piece.ID, e.ID, name, part == AtHem && e.Kind == SeamEdge && !p.sewn(pa.Piece.ID, e.ID)})
		}
	}
	return list
}

// nameless reports whether an edge has the name that it had before anybody named it.
func (e *Edge) nameless() bool {
	return strings.TrimSpace(e.Name) == "" || numbered.MatchString(e.Name)
}

// namedEdges returns the project with the names given, the pieces that they are in and how
// many there are.
func (p *Project) namedEdges(list []EdgeName) (*Project, []ID, int, error) {
	if len(list) == 0 {
		return p, nil, 0, nil
	}
	next, ids, err := byPiece(p, list, func(n EdgeName) ID { return n.Piece }, "edge", func(q *Piece, names []EdgeName) error {
		for _, n := range names {
			if _, i := q.Edge(n.Edge); i >= 0 {
				q.Edges[i].Name = n.Name
				if n.Hem {
					q.Edges[i].Kind = HemEdge
				}
			}
		}
		return nil
	})
	return next, ids, len(list), err
}
