package draft

import "errors"

// StiffenPieceArgs are the arguments of StiffenPiece.
type StiffenPieceArgs struct {
	Piece  PieceRef `arg:"piece" says:"the piece that it stiffens"`
	Inside Length   `arg:"inside" says:"how far it lies inside the stitching line" default:"0mm"`
	Name   string   `arg:"name,optional" says:"its name; without it, one after that of the piece"`
}

// StiffenPiece makes the stiffener of a piece, cut net: without allowance, once, its
// edges raw. It follows the piece.
var StiffenPiece = register(Info{
	Name: "stiffener", Title: "Stiffener, cut net", Group: groupCutting,
	Says: "Makes a stiffener of a piece without allowance, at the stitching line or inside it; it follows the piece.",
}, func(p *Project, a StiffenPieceArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	if a.Inside < 0 {
		return Outcome{}, errors.New("a stiffener ends at the stitching line or inside it; the width is 0 or more")
	}
	out, made, err := p.link(ID(a.Piece), stiffening{name: name, net: float64(a.Inside)})
	if err != nil {
		return Outcome{}, err
	}
	made.Cloth = p.clothOfLayer(made.Garment, Interlining, "")
	return out, nil
})
