package tool

import (
	"errors"
	"math"
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// placeArgs moves the picked pieces by a way on the bench.
func placeArgs(picked desk.Picked, by geom.Point) draft.MovePieceArgs {
	args := draft.MovePieceArgs{By: draft.Vector(by)}
	for _, r := range picked.Of(desk.Piece) {
		args.Pieces = append(args.Pieces, draft.PieceRef(r.Piece))
	}
	return args
}

// along returns how far along an edge, in mm without darts, or along a line inside a
// piece the place on the bench lies, and the whole length.
func (h *Hand) along(r desk.Ref, at geom.Point) (along, length float64, ok bool) {
	piece := h.Desk.Project().Piece(r.Piece)
	if piece == nil {
		return 0, 0, false
	}
	back, invertible := piece.Place.Affine().Invert()
	if !invertible {
		return 0, 0, false
	}
	local := back.Apply(at)
	best := -1.0
	for _, part := range partsOf(piece, r) {
		tape := part.Tape()
		if place, d := part.Nearest(local); best < 0 || d < best {
			best, along = d, length+tape.To(place)
		}
		length += tape.Length()
	}
	return along, length, length > 0
}

// partsOf returns the line of an edge without the mouths of its darts, or a line inside
// the piece.
func partsOf(piece *draft.Piece, r desk.Ref) []geom.Path {
	switch r.Kind {
	case desk.Edge:
		if _, i := piece.Edge(r.Edge); i >= 0 {
			return piece.EdgeParts(i)
		}
	case desk.Line:
		if l := piece.Line(r.Thing); l != nil {
			return []geom.Path{l.Path()}
		}
	}
	return nil
}

// InsertAt puts a point on an edge at the place on the bench and picks it.
func (h *Hand) InsertAt(r desk.Ref, at geom.Point) {
	along, _, ok := h.along(r, at)
	if !ok {
		return
	}
	h.insert(r, draft.EdgePlace{At: along})
}

// InsertMiddle puts a point in the middle of the edge that was picked last.
func (h *Hand) InsertMiddle() {
	edges := h.Desk.Picked().Of(desk.Edge)
	if len(edges) == 0 {
		h.report(errPickEdge)
		return
	}
	h.insert(edges[len(edges)-1], draft.EdgePlace{At: 0.5, Share: true})
}

var (
	errPickEdge  = errors.New("pick an edge first")
	errPickPoint = errors.New("pick a point first")
)

func (h *Hand) insert(r desk.Ref, at draft.EdgePlace) {
	var out draft.Outcome
	var err error
	if r.Kind == desk.Line {
		out, err = desk.RunFolded(h.Desk, draft.InsertLineNode, draft.InsertLineNodeArgs{
			Line: draft.LineRef{Piece: r.Piece, Line: r.Thing}, At: at,
		}, "")
	} else {
		out, err = desk.RunFolded(h.Desk, draft.InsertNode, draft.InsertNodeArgs{
			Edge: draft.EdgeRef{Piece: r.Piece, Edge: r.Edge}, At: at,
		}, "")
	}
	if err != nil {
		h.report(err)
		return
	}
	h.Desk.Pick(desk.NodeRef(r.Piece, out.Made))
}

// points returns the picked points, those whose handles are picked among them.
func (h *Hand) points() []draft.NodeRef {
	var refs []draft.NodeRef
	for _, r := range h.Desk.Picked() {
		if r.AtNode() {
			refs = append(refs, draft.NodeRef{Piece: r.Piece, Node: r.Node})
		}
	}
	return refs
}

// Delete takes the picked points away, or the picked pieces, darts and marks.
func (h *Hand) Delete() {
	if pieces := h.pieces(); len(pieces) > 0 {
		out, err := desk.RunFolded(h.Desk, draft.DeletePiece, draft.DeletePieceArgs{Pieces: pieces}, "")
		h.report(err)
		h.say(strings.Join(out.Says, " "))
		return
	}
	if pictures := h.pictures(); len(pictures) > 0 {
		h.report(desk.Run(h.Desk, draft.DeletePicture, draft.DeletePictureArgs{Pictures: pictures}))
		return
	}
	refs := h.points()
	if len(refs) == 0 {
		h.deleteMarks()
		return
	}
	piece := refs[0].Piece
	out, err := desk.RunFolded(h.Desk, draft.DeleteNode, draft.DeleteNodeArgs{Nodes: refs}, "")
	if err != nil {
		h.report(err)
		return
	}
	h.Desk.Pick(desk.PieceRef(piece))
	h.say(strings.Join(out.Says, " "))
}

// deleteMarks takes the picked darts away, or the picked lines, notches and stretches.
func (h *Hand) deleteMarks() {
	picked := h.Desk.Picked()
	var darts []draft.DartRef
	var marks []draft.MarkRef
	for _, r := range picked {
		switch r.Kind {
		case desk.Dart:
			darts = append(darts, draft.DartRef{Piece: r.Piece, Dart: r.Thing})
		case desk.Line, desk.Notch, desk.Stretch, desk.Dimension:
			marks = append(marks, draft.MarkRef{Piece: r.Piece, Mark: r.Thing})
		}
	}
	var out draft.Outcome
	var err error
	switch {
	case len(darts) > 0:
		out, err = desk.RunFolded(h.Desk, draft.DeleteDart, draft.DeleteDartArgs{Darts: darts}, "")
	case len(marks) > 0:
		out, err = desk.RunFolded(h.Desk, draft.DeleteMark, draft.DeleteMarkArgs{Marks: marks}, "")
	default:
		h.report(errPickPoint)
		return
	}
	if err != nil {
		h.report(err)
		return
	}
	h.Desk.Pick(desk.PieceRef(picked.Last().Piece))
	h.say(strings.Join(out.Says, " "))
}

// PicksMark reports whether a dart, a line or another mark is picked.
func PicksMark(d *desk.Desk) bool {
	switch d.Picked().Last().Kind {
	case desk.Line, desk.Dart, desk.Notch, desk.Stretch, desk.Dimension:
		return true
	}
	return false
}

// pieces returns the picked pieces.
func (h *Hand) pieces() []draft.PieceRef {
	var refs []draft.PieceRef
	for _, r := range h.Desk.Picked().Of(desk.Piece) {
		refs = append(refs, draft.PieceRef(r.Piece))
	}
	return refs
}

// pictures returns the picked pictures.
func (h *Hand) pictures() []draft.PictureRef {
	var refs []draft.PictureRef
	for _, r := range h.Desk.Picked().Of(desk.Picture) {
		refs = append(refs, draft.PictureRef(r.Thing))
	}
	return refs
}

var errPickPiece = errors.New("pick a piece first")

// Turn turns the picked pieces or pictures by an angle in radians, counter-clockwise.
func (h *Hand) Turn(by float64) {
	if pictures := h.pictures(); len(pictures) > 0 {
		h.report(desk.Run(h.Desk, draft.TurnPicture, draft.TurnPictureArgs{Pictures: pictures, By: draft.Angle(by)}))
		return
	}
	pieces := h.pieces()
	if len(pieces) == 0 {
		h.report(errPickPiece)
		return
	}
	angle := draft.Angle(by)
	h.report(desk.Run(h.Desk, draft.TurnPiece, draft.TurnPieceArgs{Pieces: pieces, By: &angle}))
}

// TurnToGrain turns the picked pieces, or all where none is picked, the little that it takes for
// their grain to run straight up or across.
func (h *Hand) TurnToGrain() {
	pieces := h.pieces()
	if len(pieces) == 0 {
		for _, p := range h.Desk.Project().Pieces {
			if !p.Locked && p.Ghost == 0 {
				pieces = append(pieces, draft.PieceRef(p.ID))
			}
		}
	}
	h.report(desk.Run(h.Desk, draft.TurnPiece, draft.TurnPieceArgs{Pieces: pieces}))
}

// Duplicate makes second pieces like the picked ones, and picks them.
func (h *Hand) Duplicate() {
	pieces := h.pieces()
	if len(pieces) == 0 {
		h.report(errPickPiece)
		return
	}
	before := h.Desk.Project()
	out, err := desk.RunFolded(h.Desk, draft.DuplicatePiece, draft.DuplicatePieceArgs{Pieces: pieces}, "")
	if err != nil {
		h.report(err)
		return
	}
	h.Desk.Pick(desk.NewPieces(before, out.Project)...)
}

// GrainUpright gives the picked pieces a grain line straight up the bench.
func (h *Hand) GrainUpright() {
	pieces := h.pieces()
	if len(pieces) == 0 {
		h.report(errPickPiece)
		return
	}
	g := h.Desk.Begin()
	project := g.Start()
	for _, ref := range pieces {
		// The angle is that on the piece as drawn.
		angle := draft.Angle(math.Pi/2 - project.Piece(draft.ID(ref)).Place.Turn)
		out, err := draft.SetGrain.Do(project, draft.SetGrainArgs{Pieces: []draft.PieceRef{ref}, Angle: &angle})
		if err != nil {
			g.Cancel()
			h.report(err)
			return
		}
		project = out.Project
	}
	g.Show("Set grain", project)
	g.End()
}

// ToggleSmooth makes the picked points smooth, or corners if the last of them is
// smooth.
func (h *Hand) ToggleSmooth() {
	refs := h.points()
	if len(refs) == 0 {
		h.report(errPickPoint)
		return
	}
	last := refs[len(refs)-1]
	n := h.Desk.Project().Piece(last.Piece).AnyNode(last.Node)
	var out draft.Outcome
	var err error
	if n.Smooth {
		out, err = desk.RunFolded(h.Desk, draft.CornerNode, draft.CornerNodeArgs{Nodes: refs}, "")
	} else {
		out, err = desk.RunFolded(h.Desk, draft.SmoothNode, draft.SmoothNodeArgs{Nodes: refs}, "")
	}
	h.report(err)
	if err == nil {
		h.say(strings.Join(out.Says, " "))
	}
}

// Bend gives the straight stretches of the picked edges handles at their thirds, so
// that they can be bent.
func (h *Hand) Bend() {
	edges := h.Desk.Picked().Of(desk.Edge)
	if len(edges) == 0 {
		h.report(errPickEdge)
		return
	}
	g := h.Desk.Begin()
	project := g.Start()
	bent := false
	for _, r := range edges {
		next, err := bend(project, r)
		if err != nil {
			g.Cancel()
			h.report(err)
			return
		}
		bent = bent || next != project
		project = next
	}
	if !bent {
		h.say("These edges are curves already: drag their handles.")
		return
	}
	g.Show("Bend the edge", project)
	g.End()
}

// bend gives each straight stretch of the edge its two handles.
func bend(p *draft.Project, r desk.Ref) (*draft.Project, error) {
	piece := p.Piece(r.Piece)
	_, i := piece.Edge(r.Edge)
	nodes := piece.EdgeNodes(i)
	place := piece.Place.Affine()
	for k := 1; k < len(nodes); k++ {
		a, b := nodes[k-1], nodes[k]
		if a.Out != (geom.Point{}) || b.In != (geom.Point{}) {
			continue
		}
		third := place.ApplyVector(b.At.Sub(a.At).Mul(1. / 3))
		for _, h := range []draft.MoveHandleArgs{
			{Handle: draft.HandleRef{Piece: r.Piece, Node: a.ID, Out: true}, To: draft.Vector(third)},
			{Handle: draft.HandleRef{Piece: r.Piece, Node: b.ID}, To: draft.Vector(third.Mul(-1))},
		} {
			out, err := draft.MoveHandle.Do(p, h)
			if err != nil {
				return nil, err
			}
			p = out.Project
		}
	}
	return p, nil
}

var errNotSewn = errors.New("these edges are not sewn to anything")

// Unlink takes the seams of the picked edges apart.
func (h *Hand) Unlink() {
	var refs []draft.SeamRef
	for _, s := range h.Desk.SeamsOf(h.Desk.Picked().Of(desk.Edge)) {
		refs = append(refs, draft.SeamRef(s.ID))
	}
	if len(refs) == 0 {
		h.report(errNotSewn)
		return
	}
	h.report(desk.Run(h.Desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: refs}))
}

// PickOtherSide picks the edges to which the picked ones are sewn.
func (h *Hand) PickOtherSide() {
	had := h.Desk.Picked()
	var other desk.Picked
	for _, s := range h.Desk.SeamsOf(h.Desk.Picked().Of(desk.Edge)) {
		for _, r := range desk.SeamRefs(s) {
			if !had.Has(r) && !other.Has(r) {
				other = append(other, r)
			}
		}
	}
	if len(other) == 0 {
		h.report(errNotSewn)
		return
	}
	h.Desk.Pick(other...)
}
