package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// DrawPieceArgs are the arguments of DrawPiece.
type DrawPieceArgs struct {
	Line Drawn     `arg:"line" says:"the closed outline, in mm on the bench"`
	As   DrawnLine `arg:"as" says:"what it stands for" default:"stitch"`
	Name string    `arg:"name,optional" says:"what the piece is called"`
	// Allowance is in mm.
	Allowance *Length `arg:"allowance" says:"cloth left outside the stitching line; without it, what most edges of the pattern have"`
}

// DrawPiece makes a piece of a closed line, where it was drawn. Its points are corners
// but where a curve runs on smoothly; its grain is taken to run upright. Garment,
// cloth and layer are those of the pattern, where its pieces agree.
var DrawPiece = register(Info{
	Name: "draw-piece", Title: "Draw a piece", Group: groupDrawing,
	Says: "Makes a piece of a closed line that is drawn on the bench.",
}, drawPiece)

func drawPiece(p *Project, a DrawPieceArgs) (Outcome, error) {
	path := geom.Path(a.Line)
	if !path.Closed() {
		return Outcome{}, errors.New("the line is open; a piece has a closed outline, and a line that stays open belongs on a piece")
	}
	if box := path.Bounds(); max(box.W(), box.H()) <= areaSlack {
		return Outcome{}, errors.New("its outline encloses nothing")
	}
	if err := path.Simple(); err != nil {
		return Outcome{}, saysWhere(err, p.Unit)
	}
	allowance := p.usualAllowance()
	if a.Allowance != nil {
		allowance = float64(*a.Allowance)
	}
	if !(allowance >= 0 && allowance <= MaxAllowance) {
		return Outcome{}, outOfAllowances(allowance, p.Unit)
	}
	imp := newImporter(p, ImportOutlinesArgs{Line: a.As, Allowance: allowance})
	imp.stays = true
	if err := imp.add(0, Outline{Path: path, Corner: cornersOf(path), Name: a.Name}); err != nil {
		return Outcome{}, err
	}
	p.likeTheRest(imp.out.Project.Piece(imp.made[0]))
	imp.out.Project.NextID = imp.ids.next
	imp.out.subject = imp.out.Project.subject(imp.made)
	imp.out.Made = imp.made[0]
	return imp.out, nil
}

// likeTheRest gives a new piece, which is not shared yet, the garment, the cloth and the
// layer that all pieces of the pattern have in common.
func (p *Project) likeTheRest(made *Piece) {
	var first *Piece
	garment, cloth, layer := true, true, true
	for _, piece := range p.Pieces {
		if piece.Ghost > 0 {
			continue
		}
		if first == nil {
			first = piece
		}
		garment, cloth, layer = garment && piece.Garment == first.Garment, cloth && piece.Cloth == first.Cloth, layer && piece.Layer == first.Layer
	}
	if first == nil {
		return
	}
	if garment {
		made.Garment = first.Garment
	}
	if cloth {
		made.Cloth = first.Cloth
	}
	if layer {
		made.Layer = first.Layer
	}
}

// saysWhere says in plain words where a line meets itself.
func saysWhere(err error, unit Unit) error {
	var not *geom.NotSimpleError
	if !errors.As(err, &not) {
		return err
	}
	return fmt.Errorf("the line %s itself at %s across and %s up", not.Kind, unit.Format(not.At.X), unit.Format(not.At.Y))
}

// cornersOf tells at which segments of a closed drawn line a corner starts: where two
// straight stretches meet, or where a curve does not run on smoothly.
func cornersOf(path geom.Path) []bool {
	corner := make([]bool, len(path))
	for i := range path {
		corner[i] = !nodeBetween("", path[(i+len(path)-1)%len(path)], path[i]).Smooth
	}
	return corner
}

// plainAllowance is what the first piece of a pattern gets, in mm: the least of what
// puppets are given (common practice, no source).
const plainAllowance = 6

// usualAllowance returns the allowance in mm that most seam edges of the project have.
func (p *Project) usualAllowance() float64 {
	counts := make(map[float64]int)
	best, most := float64(plainAllowance), 0
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			w := e.Allowance.Start
			if e.Kind != SeamEdge || w != e.Allowance.End {
				continue
			}
			if counts[w]++; counts[w] > most {
				best, most = w, counts[w]
			}
		}
	}
	return best
}
