package station

import (
	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// draw shows the block on the wearer, or its construction.
func (s *Draft) draw() {
	s.sheet.SetGrid(gridFor(s.desk.Project().Unit))
	s.say()
	switch {
	case s.now == nil:
		s.sheet.Put()
	case s.stepwise:
		s.steps.draw()
	default:
		s.sheet.Put(s.onWearer()...)
	}
}

func gridFor(u draft.Unit) paint.Grid {
	if u == draft.Inch || u == draft.InchFraction {
		return paint.Inches
	}
	return paint.Metric
}

// onWearer returns the layers of the block on the plain outline of the wearer.
func (s *Draft) onWearer() []*sheet.Layer {
	t := s.now
	build := figure.Upright
	var own []string
	if t.wearer != nil {
		build = t.wearer.Build
		for _, l := range t.wearer.Levels {
			own = append(own, l.Name)
		}
	}
	fig := figure.Draw(t.body, build, figure.Front, own...)
	if t.sheet == nil {
		l := placing{front: geom.Identity}
		return []*sheet.Layer{roomLayer(fig.Bounds), figureLayer(fig, l.front, false), levelLayer(fig, fig.Bounds, t.reads), markThings(fig, l.front, t.reads)}
	}
	l := place(t.sheet, fig)
	room := roomFor(t.sheet, fig, l)
	layers := []*sheet.Layer{roomLayer(room)}
	if l.hasBack {
		layers = append(layers, figureLayer(fig, l.back, true))
	}
	if l.hasFront || !l.hasBack {
		layers = append(layers, figureLayer(fig, l.front, false))
	}
	if s.show != showBefore || s.before == nil {
		layers = append(layers, piecesLayer(t.drawn(), l)...)
		layers = append(layers, t.ownLines(l)...)
	}
	if s.before != nil && s.show != showNow {
		was := place(s.before.sheet, fig)
		was.front, was.back = l.front, l.back
		line := sheet.Dashed(paint.Chalk, beforeLine)
		if s.show == showBefore {
			layers = append(layers, piecesLayer(s.before.drawn(), was)...)
		} else {
			layers = append(layers, beforeLayers(s.before.drawn(), was, line)...)
		}
	}
	layers = append(layers, levelLayer(fig, room, t.reads), markThings(fig, l.front, t.reads))
	return layers
}

// say tells over the drawing why there is no block to see.
func (s *Draft) say() {
	s.notice.Objects = nil
	defer s.notice.Refresh()
	if s.now == nil || s.now.sheet != nil {
		return
	}
	if c := s.now.construction(); s.stepwise && s.now.wearer != nil && c != nil && len(c.Steps) > 0 {
		return // the last step says it, and the construction is seen
	}
	rows := control.Stack(10)
	switch {
	case s.now.wearer == nil:
		rows.Add(control.NewText("Nobody to draft for yet", 16, true, look.Ink))
		rows.Add(control.NewProse("A block is drafted for a body. Say whose, and give it the few measures that this block needs.", 13, false, look.Faint, 360))
		rows.Add(control.Row(0, control.NewButton(control.WordShape, "measure", "New wearer…", "Begin with the body that the garment is for", func() { s.host.NewWearer() })))
	default:
		rows.Add(control.NewText("This cannot be drafted yet", 16, true, look.Ink))
		rows.Add(control.NewProse(sentence(s.now.err.Error()), 13, false, look.PinText, 360))
		rows.Add(control.Row(0, control.NewButton(control.WordShape, "measure", "To the measures", "Give the measures that are wanted", func() { s.host.Measures(s.now.wearer.ID) })))
	}
	card := control.NewPlane(look.Paper, look.Border, 12)
	s.notice.Objects = []fyne.CanvasObject{newStack(card, control.Inset(22, 18, 22, 18, rows))}
}
