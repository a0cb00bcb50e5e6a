package bench

import (
	"context"
	"math"
	"runtime/trace"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/geom"
)

// pointer is the gesture that the pointer has under way.
type pointer struct {
	// pressed is the button that began it, 0 for none; the driver drops later ones.
	pressed desktop.MouseButton
	panning bool
	// at is where it is on the bench, on false where it is elsewhere.
	at    geom.Point
	on    bool
	space bool // the space bar is held: dragging moves the view
	last  fyne.Position
	// clicks counts presses in quick succession at one place.
	clicks    int
	clickedAt time.Time
	clickedOn fyne.Position
	// fingersAt is when two fingers last moved the view.
	fingersAt time.Time
}

// Two presses are a double click within this time and distance.
const (
	doubleTime  = 400 * time.Millisecond
	doubleReach = 5 // screen units
)

// fingers reports whether a scroll comes from two fingers that move the view: one that
// is told in parts of a notch, or goes both ways. A pad goes on for a while, so that a
// whole notch on its way belongs to it.
func (b *Bench) fingers(e *fyne.ScrollEvent) bool {
	part := func(d float32) bool { return math.Abs(math.Remainder(float64(d), wheelNotch)) > notchSlack }
	now := b.Now()
	if part(e.Scrolled.DX) || part(e.Scrolled.DY) || e.Scrolled.DX != 0 && e.Scrolled.DY != 0 {
		b.pointer.fingersAt = now
	}
	pad := now.Sub(b.pointer.fingersAt) < fingersTime
	return pad && b.Modifiers()&(fyne.KeyModifierControl|fyne.KeyModifierSuper) == 0
}

// notchSlack is what rounding takes from a notch, in units; fingersTime is how long two
// fingers may rest before a notch is taken for that of a wheel.
const (
	notchSlack  = 0.01
	fingersTime = 300 * time.Millisecond
)

// wheelNotch is what the driver reports for one notch of the wheel, in units,
// zoomNotch how much one notch zooms, and wheelAcross how many units the view moves
// across for each that the driver reports.
const (
	wheelNotch  = 25
	zoomNotch   = 1.2
	wheelAcross = 2
)

func currentModifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

func keysOf(m fyne.KeyModifier) tool.Keys {
	return tool.Keys{
		Shift: m&fyne.KeyModifierShift != 0,
		Ctrl:  m&(fyne.KeyModifierControl|fyne.KeyModifierSuper) != 0,
		Alt:   m&fyne.KeyModifierAlt != 0,
	}
}

// at describes the pointer at a place of the widget.
func (b *Bench) at(pos fyne.Position, mods fyne.KeyModifier) tool.Pointer {
	return b.atOf(pos, mods, b.takes())
}

// atOf describes the pointer at a place of the widget, on things of some kinds.
func (b *Bench) atOf(pos fyne.Position, mods fyne.KeyModifier, of takes) tool.Pointer {
	at := b.view.UnitsToMM(float64(pos.X), float64(pos.Y))
	h := b.scene.hitAt(at, b.view.MM(1), of)
	if h.ref.Kind == desk.Nothing {
		if r, ok := b.pictureAt(at, of); ok {
			h.ref = r
		}
	}
	p := tool.Pointer{At: at, Hit: h.ref, Snap: h.at, MM: b.view.MM(1), Keys: keysOf(mods), Clicks: b.pointer.clicks}
	p.Caught = b.hand.Catch(p, nil)
	return p
}

// MouseDown implements desktop.Mouseable.
func (b *Bench) MouseDown(e *desktop.MouseEvent) {
	b.takeFocus()
	p := &b.pointer
	if p.pressed != 0 {
		return
	}
	now := b.Now()
	near := math.Hypot(float64(e.Position.X-p.clickedOn.X), float64(e.Position.Y-p.clickedOn.Y)) <= doubleReach
	if near && now.Sub(p.clickedAt) <= doubleTime {
		p.clicks++
	} else {
		p.clicks = 1
	}
	p.clickedAt, p.clickedOn, p.last = now, e.Position, e.Position
	switch {
	case e.Button == desktop.MouseButtonTertiary, e.Button == desktop.MouseButtonPrimary && p.space:
		p.pressed, p.panning = e.Button, true
	case e.Button == desktop.MouseButtonPrimary:
		p.pressed = e.Button
		at := b.at(e.Position, e.Modifier)
		if b.takeGuide(e.Position, at) {
			b.redraw()
		} else if b.tool != nil {
			b.tool.Press(at)
			b.redraw()
		}
	case e.Button == desktop.MouseButtonSecondary:
		b.menuAt(e)
	}
}

// menuAt picks what lies under the pointer, if it is not picked, and asks for its
// menu, whatever the tool in hand takes.
func (b *Bench) menuAt(e *desktop.MouseEvent) {
	if b.OnMenu == nil {
		return
	}
	at := b.atOf(e.Position, e.Modifier, takesOf(nil))
	if at.Hit.Kind != desk.Nothing && !b.desk.Picked().Has(at.Hit) {
		b.desk.Pick(at.Hit)
	}
	b.OnMenu(at.Hit, at.Snap, e.AbsolutePosition)
}

// MouseUp implements desktop.Mouseable.
func (b *Bench) MouseUp(e *desktop.MouseEvent) {
	if e.Button == b.pointer.pressed {
		b.endGesture(e.Position, e.Modifier)
	}
}

// Dragged implements fyne.Draggable.
func (b *Bench) Dragged(e *fyne.DragEvent) {
	p := &b.pointer
	if p.pressed == 0 {
		return
	}
	if p.panning {
		defer trace.StartRegion(context.Background(), "pan step").End()
		dpr := b.view.DPR
		b.look(b.view.Pan(float64(e.Position.X-p.last.X)*dpr, float64(e.Position.Y-p.last.Y)*dpr))
		p.last = e.Position
		return
	}
	defer trace.StartRegion(context.Background(), "drag step").End()
	p.last = e.Position
	at := b.at(e.Position, b.Modifiers())
	if b.pulled != nil {
		b.pullGuide(at)
		return
	}
	if b.tool == nil {
		return
	}
	b.tool.Drag(at)
	b.moved(at.At, true)
	b.redraw()
}

// DragEnd implements fyne.Draggable. The driver loses MouseUp when the button is
// let go over something else, so that either of the two ends the gesture.
func (b *Bench) DragEnd() { b.endGesture(b.pointer.last, b.Modifiers()) }

func (b *Bench) endGesture(pos fyne.Position, mods fyne.KeyModifier) {
	p := &b.pointer
	if p.pressed == 0 {
		return
	}
	wasPan := p.panning
	p.pressed, p.panning = 0, false
	if b.pulled != nil {
		b.dropGuide(pos)
		return
	}
	if !wasPan && b.tool != nil {
		b.tool.Release(b.at(pos, mods))
		b.redraw()
	}
}

// MouseIn implements desktop.Hoverable.
func (b *Bench) MouseIn(e *desktop.MouseEvent) { b.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (b *Bench) MouseMoved(e *desktop.MouseEvent) {
	if p := &b.pointer; p.pressed != 0 {
		if e.Button&p.pressed != 0 {
			return
		}
		// The button was let go over something that came to lie under the pointer.
		b.endGesture(p.last, e.Modifier)
	}
	// The driver does not say with a move which keys are held.
	at := b.at(e.Position, e.Modifier|b.Modifiers())
	b.moved(at.At, true)
	before, under := b.scene.hover, b.guideUnder
	b.scene.hover, b.over, b.guideUnder = at.Hit, at, b.guideFree(at)
	changed := before != at.Hit || under != b.guideUnder
	if b.tool != nil {
		showed := b.tool.Marks().Any()
		b.tool.Hover(at)
		changed = changed || showed || b.tool.Marks().Any()
	}
	if changed {
		b.redraw()
	}
}

// MouseOut implements desktop.Hoverable.
func (b *Bench) MouseOut() {
	b.moved(geom.Point{}, false)
	b.guideUnder = -1
	if b.scene.hover != (desk.Ref{}) {
		b.scene.hover = desk.Ref{}
		b.redraw()
	}
}

func (b *Bench) moved(at geom.Point, on bool) {
	b.pointer.at, b.pointer.on = at, on
	if b.OnMove != nil {
		b.OnMove(at, on)
	}
}

// Scrolled zooms at the pointer; with Shift, which the driver turns into a wheel
// across, it moves the view. Two fingers on a pad, which come in finer steps than a
// wheel has notches, or across as well as up, move the view; with Ctrl they zoom.
func (b *Bench) Scrolled(e *fyne.ScrollEvent) {
	v := b.view
	if b.fingers(e) {
		b.look(v.Pan(float64(e.Scrolled.DX)*v.DPR, float64(e.Scrolled.DY)*v.DPR))
		return
	}
	if e.Scrolled.DX != 0 {
		v = v.Pan(float64(e.Scrolled.DX)*wheelAcross*v.DPR, 0)
	}
	if e.Scrolled.DY != 0 {
		px := geom.Pt(float64(e.Position.X)*v.DPR, float64(e.Position.Y)*v.DPR)
		v = v.ZoomAt(px, math.Pow(zoomNotch, float64(e.Scrolled.DY)/wheelNotch))
	}
	b.look(v)
}

// Pointer returns where the pointer is on the bench, in screen units, and whether it is there.
func (b *Bench) Pointer() (at fyne.Position, on bool) {
	px, dpr := b.view.ToPx(b.pointer.at), b.view.DPR
	return fyne.NewPos(float32(px.X/dpr), float32(px.Y/dpr)), b.pointer.on
}

// PastePlace returns where what comes from elsewhere goes: where the pointer is, or in
// the middle of what is seen.
func (b *Bench) PastePlace() geom.Point {
	if b.pointer.on {
		return b.pointer.at
	}
	return b.Middle()
}

// Middle returns the middle of what is seen.
func (b *Bench) Middle() geom.Point { return b.clearOf().Center() }

// PlaceAt returns the place on the bench under a place of the canvas, nil where the bench
// does not lie there or is not seen.
func (b *Bench) PlaceAt(pos fyne.Position) *geom.Point {
	d := fyne.CurrentApp().Driver()
	if d.CanvasForObject(b) == nil {
		return nil
	}
	on := pos.Subtract(d.AbsolutePositionForObject(b))
	if on.X < 0 || on.Y < 0 || on.X > b.Size().Width || on.Y > b.Size().Height {
		return nil
	}
	at := b.view.UnitsToMM(float64(on.X), float64(on.Y))
	return &at
}
