package draft

import (
	"errors"
	"fmt"
	"strings"

	"hemlet/draft/body"
)

// Passing is what has to go through an opening, as Edge.Passes keeps it.
type Passing string

// readArg reads the name of a girth or of a part of a wearer, or nothing.
func (v *Passing) readArg(p *Project, text string) error {
	what, err := p.passing(text)
	*v = Passing(what)
	return err
}

func (*Passing) argKind() string { return "what goes through" }

// SetPassesArgs are the arguments of SetPasses.
type SetPassesArgs struct {
	Edges []EdgeRef `arg:"edges" says:"edges that bound the opening"`
	What  Passing   `arg:"what,optional" says:"what has to go through it: a measure (head_girth, hand_girth), a part of the wearer, or nothing; without it, what the names of the edges tell"`
}

// SetPasses says what has to go through the opening that edges bound, so that it can be
// proven on the wearer.
var SetPasses = register(Info{
	Name: "set-passes", Title: "Say what goes through an opening", Group: groupEdges,
	Says: "Says what has to go through the opening that an edge bounds: a measure of the wearer such as the head, or nothing.",
}, func(p *Project, a SetPassesArgs) (Outcome, error) {
	return byEdge(p, a.Edges, func(q *Piece, i int) error {
		e := &q.Edges[i]
		if e.Kind == FoldEdge {
			return fmt.Errorf("edge %s is a fold and bounds no opening", e.label())
		}
		e.Passes = string(a.What)
		return nil
	})
})

// passing returns what goes through an opening as it is kept.
func (p *Project) passing(what string) (string, error) {
	what, err := cleanName(what)
	if err != nil {
		return "", err
	}
	if what == "" || strings.EqualFold(what, PassesNothing) {
		return strings.ToLower(what), nil
	}
	for _, w := range p.Wearers {
		for _, part := range w.Parts {
			if strings.EqualFold(part.Name, what) {
				return part.Name, nil
			}
		}
	}
	if _, known := body.Find(what); !known || !strings.HasSuffix(what, "_girth") {
		return "", errors.New("name a girth of the catalogue of measures, such as head_girth, a part of the wearer, or nothing")
	}
	return what, nil
}
