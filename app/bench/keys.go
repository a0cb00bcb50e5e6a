package bench

import (
	"slices"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// Nudges in mm: plain, with Ctrl or Alt, with Shift.
const (
	nudge       = 1
	nudgeFine   = 0.1
	nudgeCoarse = 10
)

// takeFocus asks the canvas for the keys: a click alone does not.
func (b *Bench) takeFocus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(b); c != nil && c.Focused() != fyne.Focusable(b) {
		c.Focus(b)
	}
}

// FocusGained implements fyne.Focusable.
func (b *Bench) FocusGained() {}

// FocusLost implements fyne.Focusable.
func (b *Bench) FocusLost() { b.pointer.space = false }

// KeyDown implements desktop.Keyable.
func (b *Bench) KeyDown(e *fyne.KeyEvent) { b.heldKey(e.Name, true) }

// KeyUp implements desktop.Keyable.
func (b *Bench) KeyUp(e *fyne.KeyEvent) { b.heldKey(e.Name, false) }

// heldKey notes a key that means something while it is held. The tool sees at once what
// that changes, though the pointer stands still.
func (b *Bench) heldKey(name fyne.KeyName, on bool) {
	p := b.over
	switch name {
	case fyne.KeySpace:
		b.pointer.space = on
		return
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		p.Keys.Shift = on
	case desktop.KeyControlLeft, desktop.KeyControlRight:
		p.Keys.Ctrl = on
	default:
		return
	}
	if b.pointer.pressed != 0 || b.tool == nil || b.over.MM == 0 {
		return
	}
	p.Caught = b.hand.Catch(p, nil)
	b.over = p
	b.tool.Hover(p)
	b.redraw()
}

// TypedKey implements fyne.Focusable.
func (b *Bench) TypedKey(e *fyne.KeyEvent) {
	if dir, ok := arrows[e.Name]; ok {
		step := float64(nudge)
		if b.Modifiers()&fyne.KeyModifierShift != 0 {
			step = nudgeCoarse
		}
		b.arrow(dir.Mul(step))
		return
	}
	if leap, ok := leaps[e.Name]; ok && b.stepped(func(t tool.Stepped) bool { return t.Leap(leap) }) {
		return
	}
	if b.typed(func(t tool.Typist) bool {
		return e.Name == fyne.KeyBackspace && t.Back() || e.Name == fyne.KeyTab && t.Next()
	}) {
		return
	}
	switch e.Name {
	case fyne.KeyEscape:
		if b.cancel() {
			return
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if b.tool != nil && b.tool.Enter() {
			b.redraw()
			return
		}
	case fyne.KeyPageDown:
		b.pickNext(desk.Piece, 1)
		return
	case fyne.KeyPageUp:
		b.pickNext(desk.Piece, -1)
		return
	}
	if b.OnKey != nil {
		b.OnKey(e.Name)
	}
}

// arrow hands an arrow key to a tool that steps, or else moves what is picked.
func (b *Bench) arrow(by geom.Point) {
	if !b.stepped(func(t tool.Stepped) bool { return t.Arrow(by) }) {
		b.hand.Nudge(by)
	}
}

// stepped hands a key to a tool that steps, and reports whether it used it.
func (b *Bench) stepped(give func(tool.Stepped) bool) bool {
	t, ok := b.tool.(tool.Stepped)
	if !ok || !give(t) {
		return false
	}
	b.redraw()
	return true
}

var leaps = map[fyne.KeyName]tool.Leap{
	fyne.KeyHome: tool.LeapStart, fyne.KeyEnd: tool.LeapEnd,
	fyne.KeyPageDown: tool.LeapNext, fyne.KeyPageUp: tool.LeapBefore,
}

var arrows = map[fyne.KeyName]geom.Point{
	fyne.KeyLeft: {X: -1}, fyne.KeyRight: {X: 1}, fyne.KeyUp: {Y: 1}, fyne.KeyDown: {Y: -1},
}

// cancel gets out of whatever is under way: the gesture, then the selection, one
// level at a time, then the tool.
func (b *Bench) cancel() bool {
	if b.pulled != nil {
		b.dropPull()
		return true
	}
	if b.tool != nil && b.tool.Cancel() {
		b.redraw()
		return true
	}
	last := b.desk.Picked().Last()
	switch last.Kind {
	case desk.Nothing:
		if b.desk.Rejoin() {
			return true
		}
		return b.putAway()
	case desk.Piece, desk.Picture:
		b.desk.Pick()
	default:
		b.desk.Pick(desk.PieceRef(last.Piece))
	}
	return true
}

// putAway takes up the tool that picks in the place of another, and reports whether
// another was in hand.
func (b *Bench) putAway() bool {
	if _, picks := b.tool.(*tool.Select); picks || b.tool == nil || b.hand.Back == nil {
		return false
	}
	b.hand.Back()
	return true
}

// TypedShortcut implements fyne.Shortcutable: fine nudges come as shortcuts, for
// the driver takes every key with Ctrl or Alt for one.
func (b *Bench) TypedShortcut(s fyne.Shortcut) {
	if k, ok := s.(*desktop.CustomShortcut); ok {
		if dir, arrow := arrows[k.KeyName]; arrow {
			b.arrow(dir.Mul(nudgeFine))
			return
		}
	}
	if _, all := s.(*fyne.ShortcutSelectAll); all {
		b.PickAll()
		return
	}
	if c, ok := fyne.CurrentApp().Driver().CanvasForObject(b).(fyne.Shortcutable); ok {
		c.TypedShortcut(s)
	}
}

// typed hands a key to a tool that takes what is typed, and reports whether it used it.
func (b *Bench) typed(give func(tool.Typist) bool) bool {
	t, ok := b.tool.(tool.Typist)
	if !ok || !give(t) {
		return false
	}
	b.redraw()
	return true
}

// AcceptsTab implements fyne.Tabbable: while something is being drawn, Tab goes on to
// the next figure; else to the next part of the window.
func (b *Bench) AcceptsTab() bool {
	t, ok := b.tool.(tool.Typist)
	return ok && t.Typing()
}

// TypedRune implements fyne.Focusable.
func (b *Bench) TypedRune(r rune) {
	if b.typed(func(t tool.Typist) bool { return t.Rune(r) }) {
		return
	}
	switch r = unicode.ToLower(r); r {
	case '.':
		b.pickNext(b.kindInHand(), 1)
	case ',':
		b.pickNext(b.kindInHand(), -1)
	case 'p':
		b.pickFirst(desk.Node)
	case 'e':
		b.pickFirst(desk.Edge)
	default:
		if b.OnRune != nil {
			b.OnRune(r)
		}
	}
}

// kindInHand is the kind of thing that is picked, pieces where nothing is.
func (b *Bench) kindInHand() desk.Kind {
	switch k := b.desk.Picked().Last().Kind; k {
	case desk.Nothing:
		return desk.Piece
	case desk.HandleIn, desk.HandleOut:
		return desk.Node
	default:
		return k
	}
}

// PickAll picks all pieces, or all points of the piece whose point is picked.
func (b *Bench) PickAll() {
	kind := b.kindInHand()
	b.desk.Pick(b.all(kind)...)
}

// PickOthers picks what PickAll would pick and is not picked.
func (b *Bench) PickOthers() {
	had := b.desk.Picked()
	b.desk.Pick(slices.DeleteFunc(b.all(b.kindInHand()), had.Has)...)
}

// all lists everything of the kind in order that can be touched; points and edges are
// those of the piece in hand.
func (b *Bench) all(k desk.Kind) []desk.Ref {
	var refs []desk.Ref
	project := b.desk.Project()
	if k == desk.Piece {
		for _, p := range project.Pieces {
			if b.desk.Seen(p) && !p.Locked {
				refs = append(refs, desk.PieceRef(p.ID))
			}
		}
		return refs
	}
	if k == desk.Picture {
		for _, pic := range project.Pictures {
			refs = append(refs, desk.PictureRef(pic.ID))
		}
		return refs
	}
	piece := project.Piece(b.desk.Picked().Last().Piece)
	if piece == nil {
		return nil
	}
	return partsOf(piece, k)
}

func partsOf(piece *draft.Piece, k desk.Kind) []desk.Ref {
	var refs []desk.Ref
	for _, e := range piece.Edges {
		if k == desk.Edge {
			refs = append(refs, desk.EdgeRef(piece.ID, e.ID))
			continue
		}
		for _, n := range e.Nodes {
			refs = append(refs, desk.NodeRef(piece.ID, n.ID))
		}
	}
	return refs
}

// pickNext picks the next thing of the kind, round and round.
func (b *Bench) pickNext(k desk.Kind, step int) {
	refs := b.all(k)
	if len(refs) == 0 {
		return
	}
	last := b.desk.Picked().Last()
	if k == desk.Piece && last.Kind != desk.Nothing {
		last = desk.PieceRef(last.Piece)
	}
	if last.Kind == desk.HandleIn || last.Kind == desk.HandleOut {
		last = desk.NodeRef(last.Piece, last.Node)
	}
	at := -1
	for i, r := range refs {
		if r == last {
			at = i
		}
	}
	if at < 0 && step < 0 {
		at = 0
	}
	b.Reveal(refs[(at+step+len(refs))%len(refs)])
}

// pickFirst goes from a piece to its first point or edge, and from a point or an
// edge to the other kind.
func (b *Bench) pickFirst(k desk.Kind) {
	if b.desk.Picked().Last().Kind == desk.Nothing {
		b.pickNext(desk.Piece, 1)
	}
	piece := b.desk.Project().Piece(b.desk.Picked().Last().Piece)
	if piece == nil {
		return
	}
	if refs := partsOf(piece, k); len(refs) > 0 {
		b.Reveal(refs[0])
	}
}
