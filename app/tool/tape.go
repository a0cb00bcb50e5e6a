package tool

import (
	"fmt"

	"hemlet/app/desk"
	"hemlet/geom"
)

// Tape measures from one place to another, along an edge where both lie on it.
type Tape struct {
	hand     *Hand
	down     bool
	from, to tapeEnd
	shown    bool
}

// tapeEnd is a place on the bench and what it lies on.
type tapeEnd struct {
	at geom.Point
	on desk.Ref
}

// NewTape returns the tool for the hand.
func NewTape(h *Hand) *Tape { return &Tape{hand: h} }

// Info implements Tool.
func (*Tape) Info() Info {
	return Info{Name: "Tape", Icon: "tape", Key: "T", Hint: "Drag from one place to another to measure. Along one edge the curve is measured too."}
}

// Press implements Tool.
func (t *Tape) Press(p Pointer) {
	t.down, t.shown = true, false
	t.from = endAt(p)
	t.to = t.from
}

// Drag implements Tool.
func (t *Tape) Drag(p Pointer) {
	if !t.down {
		return
	}
	t.shown = true
	t.to = endAt(p)
	if p.Keys.Shift {
		t.to = tapeEnd{at: t.from.at.Add(straight(p.At.Sub(t.from.at)))}
	}
}

// endAt holds the end of the tape to a point or an edge under the pointer.
func endAt(p Pointer) tapeEnd {
	if p.Caught.Caught() {
		return tapeEnd{p.Caught.At, p.Caught.On}
	}
	return tapeEnd{at: p.At}
}

// Release implements Tool. The tape stays where it is until the next.
func (t *Tape) Release(Pointer) { t.down = false }

// Hover implements Tool.
func (*Tape) Hover(Pointer) {}

// Enter implements Tool.
func (*Tape) Enter() bool { return false }

// Cancel implements Tool.
func (t *Tape) Cancel() bool {
	had := t.shown
	t.down, t.shown = false, false
	return had
}

// Marks implements Tool.
func (t *Tape) Marks() Marks {
	if !t.shown {
		return Marks{}
	}
	return Marks{Tape: []geom.Point{t.from.at, t.to.at}, Plate: t.reading(), PlateAt: t.to.at}
}

// reading says what the tape measures.
func (t *Tape) reading() string {
	unit := t.hand.Desk.Project().Unit
	way := t.to.at.Sub(t.from.at)
	text := unit.Format(way.Len())
	if along, ok := t.along(); ok {
		return fmt.Sprintf("%s straight  ·  %s along the edge", text, unit.Format(along))
	}
	return fmt.Sprintf("%s  ·  across %s, up %s", text, unit.FormatBare(way.X), unit.FormatBare(way.Y))
}

// along returns the length of the edge between the two ends, if both lie on it.
func (t *Tape) along() (float64, bool) {
	if t.from.on.Kind != desk.Edge || t.from.on != t.to.on {
		return 0, false
	}
	piece := t.hand.Desk.Project().Piece(t.from.on.Piece)
	if piece == nil {
		return 0, false
	}
	_, i := piece.Edge(t.from.on.Edge)
	if i < 0 {
		return 0, false
	}
	back, ok := piece.Place.Affine().Invert()
	if !ok {
		return 0, false
	}
	tape := piece.EdgePath(i).Tape()
	a, _ := tape.Path().Nearest(back.Apply(t.from.at))
	b, _ := tape.Path().Nearest(back.Apply(t.to.at))
	d := tape.To(b) - tape.To(a)
	return max(d, -d), true
}
