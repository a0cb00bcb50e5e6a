package tool

import (
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Bend pulls a place of an edge, or of a line inside a piece, to where the pointer is.
type Bend struct {
	hand *Hand
	at   Pointer
	// held is what was pressed, place where on it; pulling is the drag under way.
	held    desk.Ref
	place   draft.EdgePlace
	length  float64
	pulling *desk.Gesture
	caught  Catch
	grab    geom.Point // from the pointer to the place that was pressed
	fixed   bool       // the length stays
}

// NewBend returns the tool for the hand.
func NewBend(h *Hand) *Bend { return &Bend{hand: h} }

// Info implements Tool.
func (*Bend) Info() Info {
	return Info{
		Name: "Bend", Icon: "bend", Key: "B",
		Hint: "Pull an edge, or a line on a piece, at any place: it goes through where you let go, and its ends stay.\n" +
			"With Shift it stays as long as it is, and the end that is nearer gives way.",
	}
}

// Takes implements Picky.
func (*Bend) Takes() []desk.Kind { return []desk.Kind{desk.Edge, desk.Line} }

// Press implements Tool.
func (t *Bend) Press(p Pointer) {
	t.Cancel()
	t.at = p
	along, length, ok := t.hand.along(p.Hit, p.Snap)
	if !ok {
		return
	}
	t.held, t.length = p.Hit, length
	t.place = draft.EdgePlace{At: along / length, Share: true}
	t.grab = p.Snap.Sub(p.At)
	t.hand.Desk.Pick(p.Hit)
}

// Drag implements Tool.
func (t *Bend) Drag(p Pointer) {
	if t.held.Kind == desk.Nothing {
		return
	}
	t.at, t.fixed = p, p.Keys.Shift
	if t.pulling == nil {
		t.pulling = t.hand.Desk.Begin()
	}
	t.caught = t.hand.CatchBut(p, nil, t.held)
	to := p.At.Add(t.grab)
	if t.caught.Caught() {
		to = t.caught.At
	}
	t.hand.report(t.pull(to))
}

// pull bends what is held so that its place comes to a point.
func (t *Bend) pull(to geom.Point) error {
	if !t.fixed {
		return t.bend(to, draft.HoldNothing)
	}
	// The nearer end gives way, or else the other, where the nearer may not.
	holds := []draft.Held{draft.HoldEnd, draft.HoldStart}
	if t.place.At > 0.5 {
		holds[0], holds[1] = holds[1], holds[0]
	}
	err := t.bend(to, holds[0])
	if err == nil || t.bend(to, holds[1]) == nil {
		return nil
	}
	return err
}

func (t *Bend) bend(to geom.Point, hold draft.Held) error {
	if t.held.Kind == desk.Line {
		return desk.Move(t.pulling, draft.BendLine, draft.BendLineArgs{
			Line: draft.LineRef{Piece: t.held.Piece, Line: t.held.Thing}, At: t.place, To: draft.Vector(to), Hold: hold,
		})
	}
	return desk.Move(t.pulling, draft.BendEdge, draft.BendEdgeArgs{
		Edge: draft.EdgeRef{Piece: t.held.Piece, Edge: t.held.Edge}, At: t.place, To: draft.Vector(to), Hold: hold,
	})
}

// Release implements Tool.
func (t *Bend) Release(Pointer) {
	if t.pulling != nil {
		t.pulling.End()
	}
	t.held, t.pulling, t.caught = desk.Ref{}, nil, Catch{}
}

// Hover implements Tool.
func (t *Bend) Hover(p Pointer) { t.at = p }

// Enter implements Tool.
func (*Bend) Enter() bool { return false }

// Cancel implements Tool.
func (t *Bend) Cancel() bool {
	had := t.held.Kind != desk.Nothing
	if t.pulling != nil {
		t.pulling.Cancel()
	}
	t.held, t.pulling, t.caught = desk.Ref{}, nil, Catch{}
	return had
}

// Marks implements Tool: what the edge measures, and how that changed.
func (t *Bend) Marks() Marks {
	if t.held.Kind == desk.Nothing {
		if _, _, ok := t.hand.along(t.at.Hit, t.at.Snap); !ok {
			return Marks{}
		}
		return Marks{Dots: []MarkDot{{At: t.at.Snap, Kind: HandleDot, Large: true}}}
	}
	m := Marks{Caught: t.caught}
	_, now, ok := t.hand.along(t.held, t.at.At)
	if !ok {
		return m
	}
	u := t.hand.Desk.Project().Unit
	m.Plate, m.PlateAt = u.Format(now), t.at.At
	switch d := now - t.length; {
	case t.fixed:
		m.Plate += "  ·  as long as it was"
	case d >= u.Step()/2:
		m.Plate += "  ·  " + u.Format(d) + " longer"
	case d <= -u.Step()/2:
		m.Plate += "  ·  " + u.Format(-d) + " shorter"
	}
	return m
}
