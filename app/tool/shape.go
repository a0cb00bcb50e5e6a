package tool

import (
	"math"
	"strings"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Shape draws rectangles, ovals and arcs at a stroke.
type Shape struct {
	hand *Hand
	kind draft.Shape
	// from is where the stroke began and to where it has come, nil before; rising says
	// that an arc has its ends and waits for its rise.
	from   *geom.Point
	to     geom.Point
	rising bool
	rise   float64
	down   bool
	// moved says that the button was held on the way.
	moved  bool
	at     Pointer
	caught Catch
	typed  typing
}

// NewShape returns the tool for the hand.
func NewShape(h *Hand) *Shape { return &Shape{hand: h} }

// Info implements Tool.
func (*Shape) Info() Info {
	return Info{
		Name: "Figure", Icon: "figure", Key: "R",
		Hint: "Drag or click from corner to corner: a rectangle, after R an oval, then an arc; in a piece a line.\n" +
			"Shift makes it square or round. Type width < height, and Enter.",
	}
}

// Takes implements Picky.
func (*Shape) Takes() []desk.Kind { return nil }

// Cursor implements Pointed.
func (*Shape) Cursor(Pointer) Cursor { return CrossCursor }

// shapeWords are what the kinds are called, in the order of draft's.
var shapeWords = []string{"rectangle", "oval", "arc"}

// Rune implements Typist: the letter of the tool goes on to the next kind.
func (t *Shape) Rune(r rune) bool {
	if (r == 'r' || r == 'R') && !t.typed.any() {
		t.kind = (t.kind + 1) % draft.Shape(len(shapeWords))
		t.rising, t.rise = false, 0
		t.hand.say("The tool draws: " + shapeWords[t.kind] + ".")
		return true
	}
	if t.from == nil || !t.typed.take(r) {
		return false
	}
	t.aim(t.at)
	return true
}

// Back implements Typist.
func (t *Shape) Back() bool {
	switch {
	case t.from == nil:
		return false
	case t.typed.back():
	case t.rising:
		t.rising, t.rise = false, 0
	default:
		t.PutDown()
	}
	t.aim(t.at)
	return true
}

// Typing implements Typist.
func (t *Shape) Typing() bool { return t.from != nil }

// Next implements Typist.
func (t *Shape) Next() bool { return t.from != nil && t.typed.next() }

// Press implements Tool.
func (t *Shape) Press(p Pointer) {
	t.aim(p)
	t.down, t.moved = true, false
	if t.from == nil {
		from := t.caught.At
		t.from, t.to = &from, from
		return
	}
	t.settle()
}

// Drag implements Tool.
func (t *Shape) Drag(p Pointer) {
	if !t.down || t.from == nil {
		return
	}
	t.moved = true
	t.aim(p)
}

// Release implements Tool.
func (t *Shape) Release(p Pointer) {
	if !t.down {
		return
	}
	t.down = false
	if t.moved && t.from != nil && t.from.Dist(t.to) > penHandle*p.MM {
		t.settle()
	}
}

// Hover implements Tool.
func (t *Shape) Hover(p Pointer) { t.aim(p) }

func (t *Shape) unit() draft.Unit { return t.hand.Desk.Project().Unit }

// aim finds how far the shape reaches.
func (t *Shape) aim(p Pointer) {
	t.at = p
	t.caught = t.hand.Catch(p, t.from)
	switch {
	case t.from == nil:
	case t.rising:
		t.aimRise(p)
	case t.kind == draft.ArcShape:
		t.to = t.typed.apply(*t.from, t.caught.At, t.unit())
		if p.Keys.Shift && !t.typed.any() {
			way, _ := t.hand.held(p.At.Sub(*t.from), nil)
			t.to, t.caught = t.from.Add(way), Catch{}
		}
	default:
		t.aimBox(p)
	}
	if t.typed.any() {
		t.caught = Catch{}
	}
}

// aimBox finds the opposite corner.
func (t *Shape) aimBox(p Pointer) {
	way := t.caught.At.Sub(*t.from)
	if p.Keys.Shift {
		side := max(math.Abs(way.X), math.Abs(way.Y))
		way = geom.Pt(math.Copysign(side, way.X), math.Copysign(side, way.Y))
		t.caught = Catch{}
	}
	wide, high, _ := t.typed.lengths(t.unit())
	if wide != nil {
		way.X = math.Copysign(*wide, way.X)
		if high == nil && p.Keys.Shift {
			way.Y = math.Copysign(*wide, way.Y)
		}
	}
	if high != nil {
		way.Y = math.Copysign(*high, way.Y)
	}
	t.to = t.from.Add(way)
}

// aimRise finds how far the middle of an arc lies from the line between its ends.
func (t *Shape) aimRise(p Pointer) {
	chord := t.to.Sub(*t.from)
	t.rise = chord.Unit().Left().Dot(t.caught.At.Sub(*t.from))
	if p.Keys.Shift {
		t.rise = math.Copysign(chord.Len()/2, t.rise) // half a circle
		t.caught = Catch{}
	}
	if rise, _, _ := t.typed.lengths(t.unit()); rise != nil {
		t.rise = math.Copysign(*rise, t.rise)
	}
}

// settle takes the stroke as it is: an arc waits for its rise, all else is drawn.
func (t *Shape) settle() {
	if _, err := t.path(); err != nil {
		t.hand.report(err)
		return
	}
	if t.kind == draft.ArcShape && !t.rising {
		t.rising, t.rise = true, 0
		t.typed.clear()
		return
	}
	t.draw()
}

func (t *Shape) path() (geom.Path, error) {
	return draft.ShapePath(t.kind, *t.from, t.to, t.rise)
}

// draw makes the shape: on the piece on which it lies, or as a piece of its own.
func (t *Shape) draw() {
	path, err := t.path()
	if err != nil {
		t.hand.report(err)
		return
	}
	args := draft.DrawShapeArgs{Shape: t.kind, From: draft.Vector(*t.from), To: draft.Vector(t.to), Rise: draft.Length(t.rise)}
	if piece := t.hand.under(path); piece != nil {
		on := draft.PieceRef(piece.ID)
		args.On, args.Kind = &on, draft.PlacementLine
		if t.hand.across(path) != nil {
			args.Kind = draft.StyleLine
		}
	}
	out, err := desk.RunFolded(t.hand.Desk, draft.DrawShape, args, "")
	if err != nil {
		t.hand.report(err)
		return
	}
	t.hand.Desk.Pick(desk.Made(t.hand.Desk.Project(), out.Made)...)
	t.hand.say(strings.Join(out.Says, " "))
	t.PutDown()
}

// under returns the uppermost piece inside which all of the line lies, nil for none.
func (h *Hand) under(path geom.Path) *draft.Piece {
	pieces := h.Desk.Project().Pieces
	for i := len(pieces) - 1; i >= 0; i-- {
		if p := pieces[i]; !p.Hidden && !p.Locked && p.Ghost == 0 && within(p, path) {
			return p
		}
	}
	return nil
}

// Enter implements Tool.
func (t *Shape) Enter() bool {
	if t.from == nil {
		return false
	}
	if _, _, err := t.typed.lengths(t.unit()); err != nil && (t.kind != draft.ArcShape || t.rising) {
		t.hand.report(err)
		return true
	}
	t.aim(t.at)
	t.settle()
	return true
}

// Cancel implements Tool: what is typed first, then the shape.
func (t *Shape) Cancel() bool {
	if t.typed.any() {
		t.typed.clear()
		t.aim(t.at)
		return true
	}
	had := t.from != nil
	t.PutDown()
	return had
}

// PutDown implements Lasting.
func (t *Shape) PutDown() { *t = Shape{hand: t.hand, kind: t.kind, at: t.at} }

// Marks implements Tool.
func (t *Shape) Marks() Marks {
	m := Marks{Caught: t.caught}
	if t.from == nil {
		m.Plates = append(m.Plates, Plate{Text: shapeWords[t.kind], At: t.at.At, Quiet: true})
		return m
	}
	ink := MarkLine{Tint: true}
	path, err := t.path()
	if err != nil {
		path = geom.Path{geom.Line(*t.from, t.to)}
	}
	ink.Path, ink.Tint = path, path.Closed()
	m.Lines = append(m.Lines, ink)
	m.Dots = append(m.Dots, MarkDot{At: *t.from, Kind: CrossDot}, MarkDot{At: t.to, Kind: CrossDot})
	m.Plate, m.PlateAt = t.plate(path), t.to
	if t.rising {
		m.PlateAt = t.at.At
	}
	return m
}

// plate says how large the shape is.
func (t *Shape) plate(path geom.Path) string {
	u := t.unit()
	way := t.to.Sub(*t.from)
	switch {
	case t.rising:
		return "rise " + t.typed.shown(u.Format(math.Abs(t.rise)), "", "") + "  ·  round " + u.Format(path.Length())
	case t.kind == draft.ArcShape:
		return t.typed.shown(u.Format(way.Len()), degrees(way), "  ·  ")
	}
	text := t.typed.shown(u.FormatBare(math.Abs(way.X)), u.Format(math.Abs(way.Y)), " × ")
	if t.kind == draft.OvalShape {
		text += "  ·  round " + u.Format(path.Length())
	}
	return text
}
