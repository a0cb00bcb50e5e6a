package tool

import (
	"math"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// lineEnd returns the open line whose end the pointer touches, and the end.
func (h *Hand) lineEnd(p Pointer) (draft.LineRef, geom.Point, bool) {
	best, dist := draft.LineRef{}, penReach*p.MM
	var at geom.Point
	found := false
	for _, piece := range h.Desk.Project().Pieces {
		if piece.Hidden || piece.Locked || piece.Ghost > 0 {
			continue
		}
		place := piece.Place.Affine()
		for _, l := range piece.Lines {
			if l.Closed || len(l.Nodes) < 2 {
				continue
			}
			for _, n := range []draft.Node{l.Nodes[0], l.Nodes[len(l.Nodes)-1]} {
				end := place.Apply(n.At)
				// An end on the outline has arrived.
				if d := end.Dist(p.At); d <= dist && !onOutline(piece, end) {
					best, dist, at, found = draft.LineRef{Piece: piece.ID, Line: l.ID}, d, end, true
				}
			}
		}
	}
	return best, at, found
}

// otherEnd returns the end of an open line that is not at the place.
func (h *Hand) otherEnd(r draft.LineRef, from geom.Point) (geom.Point, bool) {
	piece := h.Desk.Project().Piece(r.Piece)
	if piece == nil {
		return geom.Point{}, false
	}
	l := piece.Line(r.Line)
	if l == nil || len(l.Nodes) < 2 {
		return geom.Point{}, false
	}
	place := piece.Place.Affine()
	a, b := place.Apply(l.Nodes[0].At), place.Apply(l.Nodes[len(l.Nodes)-1].At)
	if a.Dist(from) < b.Dist(from) {
		return b, true
	}
	return a, true
}

// onEdge is how near, in mm, a point lies to an outline on which it was caught: well
// over rounding and well under what can be drawn.
const onEdge = 1e-3

// onOutline reports whether a place on the bench lies on the outline of the piece.
func onOutline(piece *draft.Piece, at geom.Point) bool {
	back, ok := piece.Place.Affine().Invert()
	if !ok {
		return false
	}
	_, d := piece.DrawnPath().Nearest(back.Apply(at))
	return d <= onEdge
}

// across returns the uppermost piece through which a line goes from edge to edge, nil
// for none.
func (h *Hand) across(path geom.Path) *draft.Piece {
	if len(path) == 0 || path.Closed() {
		return nil
	}
	pieces := h.Desk.Project().Pieces
	for i := len(pieces) - 1; i >= 0; i-- {
		piece := pieces[i]
		if piece.Hidden || piece.Locked || piece.Ghost > 0 {
			continue
		}
		if onOutline(piece, path.Start()) && onOutline(piece, path.End()) && within(piece, path) {
			return piece
		}
	}
	return nil
}

// within reports whether the line runs inside the piece, between its ends.
func within(piece *draft.Piece, path geom.Path) bool {
	back, ok := piece.Place.Affine().Invert()
	if !ok {
		return false
	}
	outline := piece.DrawnPath()
	const samples = 8
	for _, s := range path {
		for k := range samples {
			q := back.Apply(s.At((float64(k) + 0.5) / samples))
			if _, d := outline.Nearest(q); d > onEdge && !outline.Contains(q) {
				return false
			}
		}
	}
	// Along the outline is not across the piece.
	_, d := outline.Nearest(back.Apply(path[len(path)/2].At(0.5)))
	return d > onEdge
}

// acrossPiece reports whether the line has come from one edge of a piece to another.
func (t *Pen) acrossPiece() bool {
	return t.going == nil && len(t.nodes) > 1 && t.last().out == (geom.Point{}) && t.hand.across(t.path(false)) != nil
}

// way is a direction on the bench to which a line can be held, and what it is.
type heldWay struct {
	dir   geom.Point
	words string
}

// waysAt returns the directions that what lies at a place gives: along and square to
// the edges there, and the grain of the piece.
func (h *Hand) waysAt(at geom.Point, mm float64) []heldWay {
	var list []heldWay
	add := func(dir geom.Point, along, square string) {
		if dir = dir.Unit(); dir != (geom.Point{}) {
			list = append(list, heldWay{dir, along}, heldWay{dir.Left(), square})
		}
	}
	for _, piece := range h.Desk.Project().Pieces {
		if piece.Hidden || piece.Ghost > 0 {
			continue
		}
		place := piece.Place.Affine()
		back, ok := place.Invert()
		if !ok {
			continue
		}
		q := back.Apply(at)
		on := false
		for i := range piece.Edges {
			path := piece.EdgePath(i)
			if near, d := path.Nearest(q); d <= onEdge {
				name := piece.Edges[i].Name
				add(place.ApplyVector(path.Tangent(near)), "along "+name, "square to "+name)
				on = true
			}
		}
		if piece.Grain != nil && (on || piece.DrawnPath().Contains(q)) {
			add(place.ApplyVector(piece.Grain.To.Sub(piece.Grain.From)), "on the grain", "square to the grain")
		}
	}
	return list
}

// heldStep is the step of the directions to which Shift holds a line, in degrees, and
// heldNear how near to a direction of an edge or the grain a line must be to go by that
// instead.
const (
	heldStep = 15
	heldNear = 5
)

// held turns a way into the nearest direction that Shift allows, those that are given
// first, and says in words which it was, where it is one of them.
func (h *Hand) held(way geom.Point, ways []heldWay) (geom.Point, string) {
	u := way.Unit()
	if u == (geom.Point{}) {
		return way, ""
	}
	best, words := math.Cos(heldNear*math.Pi/180), ""
	var dir geom.Point
	for _, w := range ways {
		if c := math.Abs(u.Dot(w.dir)); c > best {
			best, dir, words = c, w.dir.Mul(math.Copysign(1, u.Dot(w.dir))), w.words
		}
	}
	if words == "" {
		const step = heldStep * math.Pi / 180
		a := math.Round(u.Angle()/step) * step
		dir = geom.Pt(math.Cos(a), math.Sin(a))
	}
	return dir.Mul(way.Dot(dir)), words
}

// meet returns where a way from a place ends: on the edge that it comes to near its end,
// or there.
func (h *Hand) meet(from, way geom.Point, p Pointer) Catch {
	end := from.Add(way)
	free := Catch{At: end}
	if p.Keys.Ctrl || way == (geom.Point{}) {
		return free
	}
	reach := penReach * p.MM
	ray := geom.Line(from, end.Add(way.Unit().Mul(reach)))
	best := free
	dist := reach
	for _, piece := range h.Desk.Project().Pieces {
		if piece.Hidden || piece.Ghost > 0 {
			continue
		}
		place := piece.Place.Affine()
		for i, e := range piece.Edges {
			for _, s := range piece.EdgePath(i).Transform(place) {
				if !s.HandleBounds().Grow(reach).Contains(end) {
					continue
				}
				for _, m := range s.Intersections(ray) {
					if d := m.P.Dist(end); d < dist && m.P.Dist(from) > onEdge {
						dist = d
						best = Catch{Kind: CaughtEdge, At: m.P, On: desk.EdgeRef(piece.ID, e.ID), Word: e.Name}
					}
				}
			}
		}
	}
	return best
}
