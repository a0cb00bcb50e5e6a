package tool

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// Lasso picks what lies in a loop that is drawn by hand.
type Lasso struct {
	hand *Hand
	line []geom.Point
	down bool
}

// NewLasso returns the tool for the hand.
func NewLasso(h *Hand) *Lasso { return &Lasso{hand: h} }

// Info implements Tool.
func (*Lasso) Info() Info {
	return Info{
		Name: "Lasso", Icon: "lasso", Key: "Q",
		Hint: "Draw a loop round pieces to pick them, or round points. Shift picks more, Ctrl less. A click picks what is under it.",
	}
}

// Press implements Tool.
func (l *Lasso) Press(p Pointer) { l.down, l.line = true, []geom.Point{p.At} }

// lassoStep is how far the pointer goes from one point of a loop to the next, in screen
// units.
const lassoStep = 3

// Drag implements Tool.
func (l *Lasso) Drag(p Pointer) {
	if l.down && p.At.Dist(l.line[len(l.line)-1]) >= lassoStep*p.MM {
		l.line = append(l.line, p.At)
	}
}

// Release implements Tool.
func (l *Lasso) Release(p Pointer) {
	if !l.down {
		return
	}
	line := l.line
	l.down, l.line = false, nil
	if len(line) > 2 {
		l.hand.pickThese(l.hand.Within(geom.Polygon(line...)), p.Keys)
		return
	}
	switch d := l.hand.Desk; {
	case p.Hit.Kind == desk.Nothing:
		l.hand.pickThese(nil, p.Keys)
	case p.Keys.Ctrl:
		d.PickLess(p.Hit)
	case p.Keys.Shift:
		d.PickMore(p.Hit)
	default:
		d.Pick(p.Hit)
	}
}

// Hover implements Tool.
func (*Lasso) Hover(Pointer) {}

// Enter implements Tool.
func (*Lasso) Enter() bool { return false }

// Cancel implements Tool.
func (l *Lasso) Cancel() bool {
	had := l.down && len(l.line) > 1
	l.down, l.line = false, nil
	return had
}

// Marks implements Tool.
func (l *Lasso) Marks() Marks {
	if len(l.line) < 2 {
		return Marks{}
	}
	return Marks{Lines: []MarkLine{{Path: geom.Polygon(l.line...), Ink: InkHelp, Tint: true}}}
}
