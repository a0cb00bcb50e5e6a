package tool

import (
	"errors"
	"strconv"
	"time"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// move moves what is picked by a way on the bench, as it was when the gesture
// began.
func (h *Hand) move(g *desk.Gesture, by geom.Point) error {
	picked := h.Desk.Picked()
	last := picked.Last()
	switch last.Kind {
	case desk.Piece:
		return desk.Move(g, draft.MovePiece, placeArgs(picked, by))
	case desk.Picture:
		return desk.Move(g, draft.PlacePicture, draft.PlacePictureArgs{Pictures: h.pictures(), By: draft.Vector(by)})
	case desk.HandleIn, desk.HandleOut:
		args, err := handleArgs(g.Start(), last, by)
		if err != nil {
			return err
		}
		return desk.Move(g, draft.MoveHandle, args)
	case desk.Dart:
		if args, ok := dartArgs(g.Start(), last, by); ok {
			return desk.Move(g, draft.MoveDart, args)
		}
		return nil
	case desk.Notch:
		if args, ok := notchArgs(g.Start(), last, by); ok {
			return desk.Move(g, draft.MoveNotch, args)
		}
		return nil
	case desk.Stretch, desk.Dimension:
		return nil // it goes where its edge or its points go
	default:
		return desk.Move(g, draft.MoveNodes, nodeArgs(g.Start(), picked, by))
	}
}

// nudgeFold is how long after one nudge the next still belongs to the same step to
// undo.
const nudgeFold = 900 * time.Millisecond

// Nudge moves what is picked by a way on the bench. Nudges in quick succession are
// one step to undo.
func (h *Hand) Nudge(by geom.Point) {
	picked := h.Desk.Picked()
	if len(picked) == 0 {
		return
	}
	now := h.now()
	if now.Sub(h.nudged) > nudgeFold {
		h.nudges++
	}
	h.nudged = now
	fold := "nudge " + strconv.Itoa(h.nudges)
	var err error
	switch last := picked.Last(); last.Kind {
	case desk.Piece:
		_, err = desk.RunFolded(h.Desk, draft.MovePiece, placeArgs(picked, by), fold)
	case desk.Picture:
		_, err = desk.RunFolded(h.Desk, draft.PlacePicture, draft.PlacePictureArgs{Pictures: h.pictures(), By: draft.Vector(by)}, fold)
	case desk.HandleIn, desk.HandleOut:
		var args draft.MoveHandleArgs
		if args, err = handleArgs(h.Desk.Project(), last, by); err == nil {
			_, err = desk.RunFolded(h.Desk, draft.MoveHandle, args, fold)
		}
	case desk.Dart:
		if args, ok := dartArgs(h.Desk.Project(), last, by); ok {
			_, err = desk.RunFolded(h.Desk, draft.MoveDart, args, fold)
		}
	case desk.Notch:
		if args, ok := notchArgs(h.Desk.Project(), last, by); ok {
			_, err = desk.RunFolded(h.Desk, draft.MoveNotch, args, fold)
		}
	case desk.Stretch, desk.Dimension:
	default:
		_, err = desk.RunFolded(h.Desk, draft.MoveNodes, nodeArgs(h.Desk.Project(), picked, by), fold)
	}
	h.report(err)
}

func (h *Hand) now() time.Time {
	if h.Now != nil {
		return h.Now()
	}
	return time.Now()
}

// nodeArgs gathers the picked points and those of the picked edges and lines.
func nodeArgs(p *draft.Project, picked desk.Picked, by geom.Point) draft.MoveNodesArgs {
	args := draft.MoveNodesArgs{By: draft.Vector(by)}
	for _, r := range picked {
		switch r.Kind {
		case desk.Node:
			args.Nodes = append(args.Nodes, draft.NodeRef{Piece: r.Piece, Node: r.Node})
		case desk.Line:
			if piece := p.Piece(r.Piece); piece != nil && piece.Line(r.Thing) != nil {
				for _, n := range piece.Line(r.Thing).Nodes {
					args.Nodes = append(args.Nodes, draft.NodeRef{Piece: r.Piece, Node: n.ID})
				}
			}
		case desk.Edge:
			piece := p.Piece(r.Piece)
			if piece == nil {
				continue
			}
			if _, i := piece.Edge(r.Edge); i >= 0 {
				for _, n := range piece.EdgeNodes(i) {
					args.Nodes = append(args.Nodes, draft.NodeRef{Piece: r.Piece, Node: n.ID})
				}
			}
		}
	}
	return args
}

// moving returns all that moves with what is picked.
func (h *Hand) moving(p *draft.Project) []desk.Ref {
	refs := append([]desk.Ref(nil), h.Desk.Picked()...)
	for _, r := range h.Desk.Picked().Of(desk.Edge) {
		piece := p.Piece(r.Piece)
		if piece == nil {
			continue
		}
		if _, i := piece.Edge(r.Edge); i >= 0 {
			for _, n := range piece.EdgeNodes(i) {
				refs = append(refs, desk.NodeRef(r.Piece, n.ID))
			}
		}
	}
	return refs
}

var errHandleGone = errors.New("the handle is gone")

// handleArgs moves the tip of a handle, given in the piece's own millimetres, by a
// way on the bench.
func handleArgs(p *draft.Project, r desk.Ref, by geom.Point) (draft.MoveHandleArgs, error) {
	piece := p.Piece(r.Piece)
	if piece == nil {
		return draft.MoveHandleArgs{}, errHandleGone
	}
	n := piece.AnyNode(r.Node)
	if n == nil {
		return draft.MoveHandleArgs{}, errHandleGone
	}
	tip := n.In
	if r.Kind == desk.HandleOut {
		tip = n.Out
	}
	to := piece.Place.Affine().ApplyVector(tip).Add(by)
	return draft.MoveHandleArgs{
		Handle: draft.HandleRef{Piece: r.Piece, Node: r.Node, Out: r.Kind == desk.HandleOut},
		To:     draft.Vector(to),
	}, nil
}
