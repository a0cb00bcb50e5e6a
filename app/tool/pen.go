package tool

import (
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Pen draws: a closed line becomes a piece, an open one a line on the piece where it
// lies.
type Pen struct {
	hand  *Hand
	nodes []penNode
	// at is the pointer, place where the next point would lie, caught what caught it.
	at     Pointer
	place  geom.Point
	caught Catch
	// square says in words what the way of the next stretch is held to, with Shift.
	square string
	// down says that the button is held, closing that the press was on the first point.
	down, closing bool
	// going is the line that is gone on with, from its end.
	going *draft.LineRef
	typed typing
}

// penNode is a point of the line that is drawn, with the tips of its handles as ways.
type penNode struct{ at, in, out geom.Point }

// NewPen returns the tool for the hand.
func NewPen(h *Hand) *Pen { return &Pen{hand: h} }

// Info implements Tool.
func (*Pen) Info() Info {
	return Info{
		Name: "Draw", Icon: "draw", Key: "D",
		Hint: "Click for corners, drag for curves; the first point makes a piece, edge to edge a line.\n" +
			"Shift keeps angles; type length < angle. Enter ends, Backspace undoes, Ctrl draws free.",
	}
}

// Takes implements Picky: what lies under the pen catches it, and is not picked.
func (*Pen) Takes() []desk.Kind { return nil }

// Cursor implements Pointed.
func (*Pen) Cursor(Pointer) Cursor { return CrossCursor }

// How near, in screen units, a press must come to a point of the line to mean it, and
// how far a drag must go to draw a handle out.
const (
	penReach  = 9
	penHandle = 4
)

func (t *Pen) begun() bool { return len(t.nodes) > 0 }

func (t *Pen) last() *penNode { return &t.nodes[len(t.nodes)-1] }

// Press implements Tool.
func (t *Pen) Press(p Pointer) {
	t.down, t.closing = true, false
	t.aim(p)
	switch {
	case !t.begun() && p.Clicks >= 2:
		t.down = false // the first click has ended the line
		return
	case !t.begun():
		t.begin(p)
		return
	case p.Clicks >= 2 && t.near(t.last().at, p):
		t.down = false
		t.finish(false)
		return
	case t.closes(p):
		t.closing = true
		return
	case !t.typed.any() && t.near(t.last().at, p):
		t.last().out = geom.Point{} // the line goes on from here as from a corner
		return
	}
	t.put(t.place)
}

// put sets the next point.
func (t *Pen) put(at geom.Point) {
	t.nodes = append(t.nodes, penNode{at: at})
	t.typed.clear()
}

// begin sets the first point, or goes on from the end of a line.
func (t *Pen) begin(p Pointer) {
	if ref, at, ok := t.hand.lineEnd(p); ok {
		t.going, t.place = &ref, at
	}
	t.put(t.place)
}

func (t *Pen) near(at geom.Point, p Pointer) bool { return at.Dist(p.At) <= penReach*p.MM }

// closes reports whether a press here closes the line.
func (t *Pen) closes(p Pointer) bool {
	if t.typed.any() {
		return false
	}
	if t.going != nil {
		if end, ok := t.hand.otherEnd(*t.going, t.nodes[0].at); ok {
			return t.near(end, p)
		}
		return false
	}
	enough := len(t.nodes) > 2 || len(t.nodes) == 2 && (t.nodes[0].out != geom.Point{} || t.nodes[1].out != geom.Point{})
	return enough && t.near(t.nodes[0].at, p)
}

// Drag implements Tool: it draws the handles of the point out.
func (t *Pen) Drag(p Pointer) {
	if !t.down || !t.begun() || t.closing && t.going != nil {
		return
	}
	t.at = p
	n := t.last()
	if t.closing {
		n = &t.nodes[0]
	}
	way := p.At.Sub(n.at)
	if way.Len() < penHandle*p.MM {
		return
	}
	t.caught = Catch{}
	if p.Keys.Shift {
		way, _ = t.hand.held(way, nil)
	} else if c := t.hand.Catch(p, &n.at); c.Caught() {
		way, t.caught = c.At.Sub(n.at), c
	}
	switch {
	case t.closing:
		n.in = way.Mul(-1)
	case len(t.nodes) == 1 && t.going != nil:
		n.out = way // the line that is gone on with keeps its own curve
	default:
		n.out, n.in = way, way.Mul(-1)
	}
	t.place = n.at
}

// Release implements Tool.
func (t *Pen) Release(Pointer) {
	if !t.down {
		return
	}
	t.down = false
	switch {
	case t.closing:
		t.closing = false
		t.finish(true)
	case t.acrossPiece():
		t.finish(false)
	}
}

// Hover implements Tool.
func (t *Pen) Hover(p Pointer) { t.aim(p) }

// aim finds where the next point would lie.
func (t *Pen) aim(p Pointer) {
	t.at, t.square = p, ""
	if !t.begun() {
		t.caught = t.hand.Catch(p, nil)
		if _, at, ok := t.hand.lineEnd(p); ok {
			t.caught = Catch{Kind: CaughtPoint, At: at, Word: "go on from here"}
		}
		t.place = t.caught.At
		return
	}
	last := t.last().at
	switch {
	case t.closes(p):
		t.place = t.nodes[0].at
		t.caught = Catch{Kind: CaughtPoint, At: t.place, Word: "close the line"}
		if t.going != nil {
			t.place, _ = t.hand.otherEnd(*t.going, t.nodes[0].at)
			t.caught.At = t.place
		}
	case t.typed.any():
		t.caught = Catch{}
		t.place = t.typed.apply(last, p.At, t.unit())
	case p.Keys.Shift:
		way, words := t.hand.held(p.At.Sub(last), t.hand.waysAt(last, p.MM))
		t.square = words
		t.caught = t.hand.meet(last, way, p)
		t.place = t.caught.At
	default:
		t.caught = t.hand.Catch(p, &last)
		t.place = t.caught.At
	}
}

func (t *Pen) unit() draft.Unit { return t.hand.Desk.Project().Unit }

// Rune implements Typist.
func (t *Pen) Rune(r rune) bool {
	if !t.begun() || !t.typed.take(r) {
		return false
	}
	t.aim(t.at)
	return true
}

// Back implements Typist.
func (t *Pen) Back() bool {
	if !t.begun() {
		return false
	}
	if !t.typed.back() {
		t.nodes = t.nodes[:len(t.nodes)-1]
		t.down = false
		if !t.begun() {
			t.going = nil
		}
	}
	t.aim(t.at)
	return true
}

// Typing implements Typist.
func (t *Pen) Typing() bool { return t.begun() }

// Next implements Typist.
func (t *Pen) Next() bool {
	if !t.begun() {
		return false
	}
	t.typed.next()
	return true
}

// Enter implements Tool: it sets the point that is typed, or ends the open line.
func (t *Pen) Enter() bool {
	if !t.begun() {
		return false
	}
	if !t.typed.any() {
		t.finish(false)
		return true
	}
	if _, _, err := t.typed.polar(t.unit()); err != nil {
		t.hand.report(err)
		return true
	}
	t.put(t.typed.apply(t.last().at, t.at.At, t.unit()))
	t.aim(t.at)
	if t.acrossPiece() {
		t.finish(false)
	}
	return true
}

// Cancel implements Tool: what is typed first, then the line.
func (t *Pen) Cancel() bool {
	if t.typed.any() {
		t.typed.clear()
		t.aim(t.at)
		return true
	}
	had := t.begun()
	t.PutDown()
	return had
}

// PutDown implements Lasting.
func (t *Pen) PutDown() { *t = Pen{hand: t.hand, at: t.at, place: t.at.At} }

// path returns the line as it is drawn.
func (t *Pen) path(closed bool) geom.Path {
	var path geom.Path
	for i := 1; i < len(t.nodes); i++ {
		path = append(path, stretchOf(t.nodes[i-1], t.nodes[i]))
	}
	if closed && len(t.nodes) > 1 {
		path = append(path, stretchOf(*t.last(), t.nodes[0]))
	}
	return path
}

// stretchOf returns the stretch between two points, straight where neither has a handle
// towards it.
func stretchOf(a, b penNode) geom.Segment {
	if a.out == (geom.Point{}) && b.in == (geom.Point{}) {
		return geom.Line(a.at, b.at)
	}
	return geom.Cubic(a.at, a.at.Add(a.out), b.at.Add(b.in), b.at)
}

// finish makes what was drawn; after an error it stays for mending.
func (t *Pen) finish(closed bool) {
	if len(t.nodes) < 2 && !(closed && t.going != nil) {
		t.hand.say("A line has two points at least.")
		return
	}
	var err error
	switch {
	case t.going != nil:
		path := t.path(false)
		if closed {
			if end, ok := t.hand.otherEnd(*t.going, t.nodes[0].at); ok {
				path = append(path, stretchOf(*t.last(), penNode{at: end}))
			}
		}
		err = t.hand.goOn(*t.going, path)
	case closed:
		err = t.hand.drawPiece(t.path(true))
	default:
		err = t.hand.drawLine(t.path(false))
	}
	if err != nil {
		t.hand.report(err)
		return
	}
	t.PutDown()
}

// Marks implements Tool.
func (t *Pen) Marks() Marks {
	m := Marks{Caught: t.caught}
	if !t.begun() {
		return m
	}
	if path := t.path(false); len(path) > 0 {
		m.Lines = append(m.Lines, MarkLine{Path: path})
	}
	for i, n := range t.nodes {
		kind := CornerDot
		if n.in != (geom.Point{}) && n.out != (geom.Point{}) {
			kind = SmoothDot
		}
		m.Dots = append(m.Dots, MarkDot{At: n.at, Kind: kind, Large: i == len(t.nodes)-1})
	}
	t.handles(&m)
	if t.down {
		return m
	}
	t.rubber(&m)
	return m
}

// handles shows those of the last point and, while the line is closed, of the first.
func (t *Pen) handles(m *Marks) {
	list := []penNode{*t.last()}
	if t.closing {
		list = []penNode{t.nodes[0]}
		m.Lines = append(m.Lines, MarkLine{Path: t.path(true), Tint: true})
	}
	for _, n := range list {
		for _, way := range []geom.Point{n.in, n.out} {
			if way == (geom.Point{}) {
				continue
			}
			m.Lines = append(m.Lines, MarkLine{Path: geom.Path{geom.Line(n.at, n.at.Add(way))}, Ink: InkHelp})
			m.Dots = append(m.Dots, MarkDot{At: n.at.Add(way), Kind: HandleDot})
		}
	}
}

// rubber shows the stretch to the next point, with its length and direction.
func (t *Pen) rubber(m *Marks) {
	last := *t.last()
	next := penNode{at: t.place}
	if t.closes(t.at) && t.going == nil {
		next = t.nodes[0]
		next.at = t.place
		m.Lines = append(m.Lines, MarkLine{Path: append(t.path(false), stretchOf(last, next)), Tint: true})
	} else if t.place != last.at {
		m.Lines = append(m.Lines, MarkLine{Path: geom.Path{stretchOf(last, next)}})
	}
	way := t.place.Sub(last.at)
	m.Plate = t.typed.shown(t.unit().Format(way.Len()), degrees(way), "  ·  ")
	if t.square != "" {
		m.Plate += "  ·  " + t.square
	}
	m.PlateAt = t.place
}

// drawPiece makes a piece of a closed line and picks it.
func (h *Hand) drawPiece(path geom.Path) error {
	out, err := desk.RunFolded(h.Desk, draft.DrawPiece, draft.DrawPieceArgs{Line: draft.Drawn(path)}, "")
	if err != nil {
		return err
	}
	h.Desk.Pick(desk.PieceRef(out.Made))
	h.say(strings.Join(out.Says, " "))
	return nil
}

// drawLine draws a line on the piece on which it lies and picks it: one to shape by
// where it goes from edge to edge, else one where something is placed.
func (h *Hand) drawLine(path geom.Path) error {
	args := draft.DrawLineArgs{Line: draft.Drawn(path), Kind: draft.PlacementLine}
	if piece := h.across(path); piece != nil {
		args.Piece, args.Kind = draft.PieceRef(piece.ID), draft.StyleLine
	}
	out, err := desk.RunFolded(h.Desk, draft.DrawLine, args, "")
	if err != nil {
		return err
	}
	h.Desk.Pick(desk.Made(h.Desk.Project(), out.Made)...)
	h.say(strings.Join(out.Says, " "))
	return nil
}

// goOn draws a line on from its end and picks it.
func (h *Hand) goOn(line draft.LineRef, path geom.Path) error {
	if err := desk.Run(h.Desk, draft.ExtendLine, draft.ExtendLineArgs{Line: line, By: draft.Drawn(path)}); err != nil {
		return err
	}
	h.Desk.Pick(desk.ThingRef(desk.Line, line.Piece, line.Line))
	return nil
}
