package draft

import (
	"fmt"
	"strconv"
	"strings"

	"hemlet/geom"
)

// PlaceRef names a place on an edge of a piece. As text it is the edge, an "@" and the
// place along it: "Front.side@40%", "Front.side@30mm from end".
type PlaceRef struct {
	Piece, Edge ID
	At          EdgePlace
}

func (r *PlaceRef) readArg(p *Project, text string) error {
	parts, err := splitOutside(text, "@")
	if err != nil {
		return err
	}
	n := len(parts) - 1
	if n == 0 {
		return fmt.Errorf("%q does not say where on the edge; write an @ and the place after it, such as %s@40%% or %s@30mm from end", text, text, text)
	}
	e, err := p.FindEdge(strings.Join(parts[:n], "@"))
	if err != nil {
		return err
	}
	r.Piece, r.Edge = e.Piece, e.Edge
	return r.At.readArg(p, parts[n])
}

func (*PlaceRef) argKind() string { return "place on an edge" }

// PlaceText writes a place so that it is read back the same; the edge goes by its name
// where that is enough.
func (p *Project) PlaceText(r PlaceRef) string {
	return p.useText(EdgeUse{Piece: r.Piece, Copy: CopyRef{Number: 1}, Edge: r.Edge}) + "@" + r.At.text()
}

// text writes the place as it is read.
func (e EdgePlace) text() string {
	text := exactFigure(e.At) + "mm"
	if e.Share {
		text = exactFigure(e.At*100) + "%"
	}
	if e.FromEnd {
		text += " " + fromEnd
	}
	return text
}

// exactFigure writes a number with all its digits and without an exponent.
func exactFigure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// outlinePlace is a place on the stitching line of a piece: mm from the start of edge
// number edge, the mouths of darts not counted.
type outlinePlace struct {
	edge  int
	along float64
}

// placeOn returns the piece on which the place lies, and the place on it.
func (p *Project) placeOn(r PlaceRef) (*Piece, outlinePlace, error) {
	piece := p.Piece(r.Piece)
	if piece == nil {
		return nil, outlinePlace{}, fmt.Errorf("piece %s %w", r.Piece, errGone)
	}
	_, i := piece.Edge(r.Edge)
	if i < 0 {
		return nil, outlinePlace{}, fmt.Errorf("edge %s of %s %w", r.Edge, piece.label(), errGone)
	}
	along, err := r.At.along(piece, i, p.Unit)
	return piece, outlinePlace{i, along}, err
}

// placeReach is how near, in mm, a place must lie to a corner to mean the corner: the
// width of a pencil line, which no edge is shorter than.
const placeReach = 0.1

// pointAt returns the point at a place of the outline: a corner where one is within
// placeReach.
func (p *Piece) pointAt(at outlinePlace) geom.Point {
	nodes := p.EdgeNodes(at.edge)
	k, t, isNode := p.nearPlace(at)
	if isNode {
		return nodes[k].At
	}
	return segment(nodes[k], nodes[k+1]).At(t)
}

// nearPlace returns the node of EdgeNodes(at.edge) that a place means, or else the stretch
// after node k and the parameter on it.
func (p *Piece) nearPlace(at outlinePlace) (k int, t float64, isNode bool) {
	nodes := p.EdgeNodes(at.edge)
	switch length := p.EdgeLength(at.edge); {
	case at.along <= min(placeReach, length/2):
		return 0, 0, true
	case at.along >= length-placeReach:
		return len(nodes) - 1, 0, true
	}
	k, t = p.locate(at.edge, at.along)
	here := segment(nodes[k], nodes[k+1]).At(t)
	for _, j := range [2]int{k, k + 1} {
		reach := shortestStretch
		if p.mouthOf(nodes[j].ID) != nil {
			reach = placeReach
		}
		if here.Dist(nodes[j].At) < reach {
			return j, 0, true
		}
	}
	return k, t, false
}

// nodeFor returns the id of the node at a place of a piece that may be written to; where
// there is none it is made.
func (p *Piece) nodeFor(at outlinePlace, ids *idSource) (ID, error) {
	// The id is drawn even where no node is made: whether one lies there may be otherwise
	// for another body, and what else is made is to have the same ids for both.
	id := ids.make(kindNode)
	nodes := p.EdgeNodes(at.edge)
	k, t, isNode := p.nearPlace(at)
	if isNode {
		return nodes[k].ID, nil
	}
	return id, p.insert(at.edge, k, t, id)
}
