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

// Takes implements Picky.
func (*Link) Takes() []desk.Kind { return []desk.Kind{desk.Edge} }

// Cursor implements Pointed.
func (*Link) Cursor(p Pointer) Cursor {
	if p.Hit.Kind == desk.Edge {
		return PointCursor
	}
	return ArrowCursor
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
// edges.
func (h *Hand) Link(a, b desk.Picked) {
	out, err := desk.RunFolded(h.Desk, draft.LinkSeam, draft.LinkSeamArgs{A: runOf(a), B: runOf(b)}, "")
	if err != nil {
		h.report(err)
		return
	}
	project := h.Desk.Project()
	if s := project.Seam(out.Made); s != nil {
		h.Desk.Pick(desk.SeamRefs(s)...)
		h.say("Seam " + desk.Letter(project, s.ID) + ": " + s.Name + " · " + strconv.Itoa(len(a)+len(b)) + " edges are sewn together.")
	}
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

// runOf returns the edges as a row of sewing on the first copy as it is drawn; the
// act finds out which copy and which direction is meant.
func runOf(edges desk.Picked) draft.Run {
	var run draft.Run
	for _, r := range edges {
		run = append(run, draft.EdgeUse{Piece: r.Piece, Edge: r.Edge, Copy: draft.CopyRef{Number: 1}})
	}
	return run
}
