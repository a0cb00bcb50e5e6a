package tool

import (
	"fmt"
	"math"
	"strings"

	"hemlet/app/desk"
	"hemlet/geom"
)

// Tape measures from place to place: straight, along edges and lines where both ends
// lie on the same, and the angles between.
type Tape struct {
	hand *Hand
	// ends are the places so far, next the one under the pointer while the tape is
	// not done.
	ends []tapeEnd
	next *tapeEnd
	done bool

	pressed Pointer
	down    bool
	dragged bool
	caught  Catch
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
	return Info{Name: "Tape", Icon: "tape", Key: "T", Hint: "Drag to measure, or click from place to place to add up; a double click or Return ends. Along edges both ways are told; Alt takes the long way round."}
}

// Takes implements Picky: what lies under the tape is caught, and nothing picked.
func (*Tape) Takes() []desk.Kind { return nil }

// Cursor implements Pointed.
func (*Tape) Cursor(Pointer) Cursor { return CrossCursor }

// Press implements Tool.
func (t *Tape) Press(p Pointer) { t.pressed, t.down, t.dragged = p, true, false }

// Drag implements Tool: a drag is a tape of its own.
func (t *Tape) Drag(p Pointer) {
	if !t.down {
		return
	}
	if !t.dragged {
		t.dragged, t.done = true, false
		t.ends = []tapeEnd{t.end(t.pressed, nil)}
	}
	t.lay(p)
}

// lay puts the loose end of the tape where the pointer is.
func (t *Tape) lay(p Pointer) {
	var before *tapeEnd
	if len(t.ends) > 0 && !t.done {
		before = &t.ends[len(t.ends)-1]
	}
	end := t.end(p, before)
	t.pressed.Keys = p.Keys
	t.next = &end
}

// end holds an end of the tape to what catches it; with Shift it lies level with or
// straight above the end before.
func (t *Tape) end(p Pointer, before *tapeEnd) tapeEnd {
	if before == nil {
		t.caught = p.Caught
		return endOf(p.Caught, p.At)
	}
	if p.Keys.Shift {
		t.caught = Catch{}
		return tapeEnd{at: before.at.Add(straight(p.At.Sub(before.at)))}
	}
	t.caught = t.hand.Catch(p, &before.at)
	return endOf(t.caught, p.At)
}

func endOf(c Catch, at geom.Point) tapeEnd {
	if c.Caught() {
		return tapeEnd{c.At, c.On}
	}
	return tapeEnd{at: at}
}

// Release implements Tool: a click adds a place, a drag or a second click ends.
func (t *Tape) Release(p Pointer) {
	if !t.down {
		return
	}
	t.down = false
	switch {
	case t.dragged:
		if t.next != nil {
			t.ends = append(t.ends, *t.next)
		}
		t.done, t.next = true, nil
	case t.pressed.Clicks >= 2 && len(t.ends) > 0:
		t.done, t.next = true, nil
	case t.done:
		t.done = false
		t.ends = []tapeEnd{t.end(t.pressed, nil)}
	default:
		t.lay(t.pressed)
		t.ends, t.next = append(t.ends, *t.next), nil
	}
}

// Hover implements Tool.
func (t *Tape) Hover(p Pointer) {
	if t.down {
		return
	}
	if len(t.ends) == 0 || t.done {
		t.next, t.caught = nil, p.Caught
		return
	}
	t.lay(p)
}

// Enter implements Tool: the tape stays as it is.
func (t *Tape) Enter() bool {
	if len(t.ends) < 2 || t.done {
		return false
	}
	t.done, t.next = true, nil
	return true
}

// Cancel implements Tool.
func (t *Tape) Cancel() bool {
	had := len(t.ends) > 0
	*t = Tape{hand: t.hand}
	return had
}

// Marks implements Tool.
func (t *Tape) Marks() Marks {
	m := Marks{Caught: t.caught}
	legs := t.legs()
	if len(legs) == 0 {
		for _, e := range t.ends {
			m.Tape = append(m.Tape, e.at)
		}
		return m
	}
	m.Tape = append(m.Tape, legs[0].from)
	for _, l := range legs {
		m.Tape = append(m.Tape, l.to)
		if len(l.along) > 0 {
			for _, path := range l.along {
				m.Lines = append(m.Lines, MarkLine{Path: path})
			}
		}
		if len(legs) > 1 {
			m.Plates = append(m.Plates, Plate{Text: t.hand.Desk.Project().Unit.Format(l.long()), At: l.from.Lerp(l.to, 0.5), Quiet: true})
		}
	}
	m.Plate, m.PlateAt = t.reading(legs), legs[len(legs)-1].to
	return m
}

// leg is the tape between two places.
type leg struct {
	from, to geom.Point
	// along is the way along the edges or the line on which both lie, of the length
	// on; none where they do not.
	along []geom.Path
	on    float64
}

// long is the length that counts: along the edge where there is one.
func (l leg) long() float64 {
	if len(l.along) > 0 {
		return l.on
	}
	return l.from.Dist(l.to)
}

func (t *Tape) legs() []leg {
	ends := t.ends
	if t.next != nil && len(ends) > 0 {
		ends = append(ends[:len(ends):len(ends)], *t.next)
	}
	var out []leg
	for i := 1; i < len(ends); i++ {
		l := leg{from: ends[i-1].at, to: ends[i].at}
		l.along, l.on = t.hand.wayAlong(ends[i-1], ends[i], t.pressed.Keys.Alt)
		out = append(out, l)
	}
	return out
}

// reading says what the tape measures: the last leg, the whole, and the angle.
func (t *Tape) reading(legs []leg) string {
	unit := t.hand.Desk.Project().Unit
	last := legs[len(legs)-1]
	way := last.to.Sub(last.from)
	text := unit.Format(way.Len())
	if len(last.along) > 0 {
		text += " straight  ·  " + unit.Format(last.on) + " along the edge"
	}
	parts := []string{text}
	if len(legs) == 1 {
		if len(last.along) == 0 {
			parts = append(parts, fmt.Sprintf("across %s, up %s", unit.FormatBare(way.X), unit.FormatBare(way.Y)))
		}
		if way != (geom.Point{}) {
			parts = append(parts, degrees(way))
		}
		return strings.Join(parts, "  ·  ")
	}
	total := 0.0
	for _, l := range legs {
		total += l.long()
	}
	before := legs[len(legs)-2]
	parts = append(parts, unit.Format(total)+" in all")
	if a := between(before.from.Sub(before.to), way); !math.IsNaN(a) {
		parts = append(parts, "angle "+degrees(angled(a)))
	}
	return strings.Join(parts, "  ·  ")
}

// between returns the angle between two ways in radians, from 0 to a half turn; NaN
// where one of them has no direction.
func between(a, b geom.Point) float64 {
	if a == (geom.Point{}) || b == (geom.Point{}) {
		return math.NaN()
	}
	return math.Abs(math.Atan2(a.Cross(b), a.Dot(b)))
}

// angled returns a way at an angle in radians.
func angled(a float64) geom.Point { return geom.Pt(math.Cos(a), math.Sin(a)) }
