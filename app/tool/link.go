package tool

import (
	"errors"
	"strconv"

	"hemlet/app/desk"
	"hemlet/draft"
)

// Link says which edges are sewn together.
type Link struct {
	hand *Hand
	// first is the side that is gathered already.
	first desk.Picked
	at    Pointer
}

// NewLink returns the tool for the hand.
func NewLink(h *Hand) *Link { return &Link{hand: h} }

// Info implements Tool.
func (*Link) Info() Info {
	return Info{
		Name: "Link", Icon: "seam", Key: "L",
		Hint: "Click an edge, then the edge it is sewn to, or the same again for its mirror image. Shift adds edges to the first side.",
	}
}

// Press implements Tool.
func (l *Link) Press(p Pointer) {
	l.at = p
	if p.Hit.Kind != desk.Edge {
		return
	}
	switch {
	case len(l.first) == 0:
		l.first = desk.Picked{p.Hit}
	case p.Keys.Shift:
		l.first = l.first.Toggled(p.Hit)
	default:
		first := l.first
		l.first = nil
		l.hand.Link(first, desk.Picked{p.Hit})
	}
}

// Drag implements Tool.
func (*Link) Drag(Pointer) {}

// Release implements Tool.
func (*Link) Release(Pointer) {}

// Hover implements Tool.
func (l *Link) Hover(p Pointer) { l.at = p }

// Enter implements Tool.
func (*Link) Enter() bool { return false }

// Cancel implements Tool.
func (l *Link) Cancel() bool {
	had := len(l.first) > 0
	l.first = nil
	return had
}

// Marks implements Tool.
func (l *Link) Marks() Marks {
	if len(l.first) == 0 {
		return Marks{}
	}
	return Marks{Glow: l.first, Plate: l.plate(), PlateAt: l.at.At}
}

// plate says what one side measures and, over an edge, what the other does.
func (l *Link) plate() string {
	unit := l.hand.Desk.Project().Unit
	text := unit.Format(l.hand.lengthOf(l.first))
	if l.at.Hit.Kind == desk.Edge && !l.first.Has(l.at.Hit) {
		return text + "  ·  " + unit.Format(l.hand.lengthOf(desk.Picked{l.at.Hit}))
	}
	return text + "  ·  now the edge it is sewn to"
}

// lengthOf returns the length of the edges in mm.
func (h *Hand) lengthOf(edges desk.Picked) float64 {
	sum := 0.0
	project := h.Desk.Project()
	for _, r := range edges.Of(desk.Edge) {
		if piece := project.Piece(r.Piece); piece != nil {
			if _, i := piece.Edge(r.Edge); i >= 0 {
				sum += h.Desk.Slots().EdgeLengths(piece)[i]
			}
		}
	}
	return sum
}

// Link sews the edges of one side to those of the other and picks the seam's
// edges. An edge that is sewn to itself is sewn to its mirror image.
func (h *Hand) Link(a, b desk.Picked) {
	runA := h.run(a, false)
	runB := h.run(b, h.meetsMirror(a, b))
	out, err := desk.RunFolded(h.Desk, draft.LinkSeam, draft.LinkSeamArgs{A: runA, B: runB, Ratio: 1, To: 1}, "")
	if err != nil {
		h.report(err)
		return
	}
	project := h.Desk.Project()
	for i, s := range project.Seams {
		if s.ID == out.Made {
			h.Desk.Pick(desk.SeamRefs(s)...)
			h.say("Seam " + draft.Letter(i) + ": " + s.Name + " · " + strconv.Itoa(len(a)+len(b)) + " edges are sewn together.")
		}
	}
}

// meetsMirror reports whether the second side is sewn with the mirror image of what
// is drawn. Laid right sides together, two drawn edges run against one another. An
// edge that is sewn to itself, or whose neighbours are those of the other in the
// same order (from the hem up to the armhole on both), meets the mirror image.
func (h *Hand) meetsMirror(a, b desk.Picked) bool {
	if len(a) != 1 || len(b) != 1 {
		return false
	}
	if a[0] == b[0] {
		return true
	}
	project := h.Desk.Project()
	pieceA, pieceB := project.Piece(a[0].Piece), project.Piece(b[0].Piece)
	if pieceA == nil || pieceB == nil || pieceB.Cut.Way == draft.CutSingle {
		return false
	}
	beforeA, afterA := neighbours(pieceA, a[0].Edge)
	beforeB, afterB := neighbours(pieceB, b[0].Edge)
	same := alike(beforeA, beforeB) + alike(afterA, afterB)
	against := alike(beforeA, afterB) + alike(afterA, beforeB)
	return same > against
}

// neighbours returns the edges before and after an edge.
func neighbours(p *draft.Piece, edge draft.ID) (before, after draft.Edge) {
	_, i := p.Edge(edge)
	n := len(p.Edges)
	return p.Edges[(i+n-1)%n], p.Edges[(i+1)%n]
}

// alike counts in how much two edges are alike: kind and name.
func alike(a, b draft.Edge) int {
	n := 0
	if a.Kind == b.Kind {
		n++
	}
	if a.Name == b.Name {
		n++
	}
	return n
}

var errTwoEdges = errors.New("link a seam: pick two edges, or take the Link tool to gather more on one side")

// LinkPicked sews the two picked edges together.
func (h *Hand) LinkPicked() {
	edges := h.Desk.Picked().Of(desk.Edge)
	if len(edges) != 2 {
		h.report(errTwoEdges)
		return
	}
	h.Link(desk.Picked{edges[0]}, desk.Picked{edges[1]})
}

// run returns the edges as a row of sewing on the drawn half of the first copy, or
// of the mirror image.
func (h *Hand) run(edges desk.Picked, mirror bool) draft.Run {
	var run draft.Run
	for _, r := range edges {
		use := draft.EdgeUse{Piece: r.Piece, Edge: r.Edge, Copy: draft.CopyRef{Number: 1}}
		piece := h.Desk.Project().Piece(r.Piece)
		if mirror && piece != nil {
			switch piece.Cut.Way {
			case draft.CutPairs:
				use.Copy.Mirrored = true
			case draft.CutOnFold:
				use.Half = draft.Far
			}
		}
		run = append(run, use)
	}
	return run
}

// say shows a line of text.
func (h *Hand) say(text string) {
	if h.Say != nil {
		h.Say(text)
	}
}
