package draft

import (
	"errors"
	"fmt"
)

// FaceEdgeArgs are the arguments of FaceEdge.
type FaceEdgeArgs struct {
	Edges     []EdgeRef `arg:"edges" says:"one or more edges of a piece that follow each other"`
	Width     Length    `arg:"width" says:"how wide the facing is"`
	Interface bool      `arg:"interface" says:"whether interfacing is cut for it too" default:"no"`
	Sew       bool      `arg:"sew" says:"whether the seams to the piece and to other facings are recorded" default:"yes"`
	Name      string    `arg:"name,optional" says:"its name; without it, one after that of the piece"`
}

// FaceEdge makes a facing along edges of a piece, which follows it: as wide as asked
// for, with the darts of the edges closed, its ends on the edges beside them.
var FaceEdge = register(Info{
	Name: "face-edge", Title: "Facing", Group: groupCutting,
	Says: "Makes a facing along edges of a piece, with their darts closed; it follows the piece and is sewn to the edges.",
}, faceEdge)

func faceEdge(p *Project, a FaceEdgeArgs) (Outcome, error) {
	if len(a.Edges) == 0 {
		return Outcome{}, errors.New("no edge is named")
	}
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	piece := p.Piece(a.Edges[0].Piece)
	if piece == nil {
		return Outcome{}, fmt.Errorf("piece %s %w", a.Edges[0].Piece, errGone)
	}
	how := facing{name: name, width: toGrid(float64(a.Width)), mirrored: piece.Cut.Way == CutSingle}
	for _, r := range a.Edges {
		if r.Piece != piece.ID {
			return Outcome{}, errors.New("the edges belong to more than one piece; face each piece on its own, and the facings are sewn together as the pieces are")
		}
		how.edges = append(how.edges, r.Edge)
	}
	out, made, err := p.link(piece.ID, how)
	if err != nil {
		return Outcome{}, err
	}
	out.tellTurnedOver(how.mirrored, made, piece)
	if a.Sew {
		out.sewFacing(made, piece, how.edges)
	}
	if a.Interface {
		return out.interfaced(made)
	}
	return out, nil
}

// sewFacing records that a facing is sewn to the faced edges, and to other facings as
// the pieces are sewn.
func (o *Outcome) sewFacing(made, piece *Piece, edges []ID) {
	ids := o.Project.newIDs()
	for _, id := range edges {
		if e, _ := piece.Edge(id); e != nil {
			o.sewToParent(made, piece, id, fmt.Sprintf("%s of %s to facing", e.label(), piece.label()), ids)
		}
	}
	o.sewLikeParents(made, ids)
	o.Project.NextID = ids.next
}

// interfaced cuts interfacing for a piece that the act has made: net, so that it does not
// thicken the seams.
func (o *Outcome) interfaced(made *Piece) (Outcome, error) {
	out, inner, err := o.Project.link(made.ID, stiffening{name: made.label() + " interfacing"})
	if err != nil {
		return Outcome{}, err
	}
	inner.Cloth = o.Project.clothOfLayer(inner.Garment, Interlining, "")
	out.Made, out.subject = made.ID, o.subject
	out.Says = append(o.Says, fmt.Sprintf("%s is cut net for it.", inner.label()))
	return out, nil
}
