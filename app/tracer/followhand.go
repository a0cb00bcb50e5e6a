package tracer

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"

	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/follow"
)

// byHand begins to follow a line by hand, or leaves off.
func (w *ways) byHand(on bool) {
	if !on {
		w.guiding = nil
		if w.effort.under() {
			w.stop()
		}
		w.Room.update()
		return
	}
	group := w.finds.group(w.chosen())
	now := inputs{w.finds.settings, group}
	now.settings.Tol, now.settings.Gap, now.settings.Least, now.settings.KeepSmall = 0, 0, 0, false
	if g := w.guide; g != nil && g.of.same(now) {
		w.beginLine(g)
		return
	}
	sources, settings := w.finds.sources(group), now.settings
	w.effort.begin("Reading the ink", group, 0, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		made, err := tracing.Prepare(ctx, sources, settings, func(share float64, says string) { tell(readShare*share, says) })
		if err != nil {
			return nil, err
		}
		mode := follow.AlongStrokes
		if settings.Manner == trace.Filled {
			mode = follow.AlongEdges
		}
		tell(readShare, "reading the ink")
		guide := follow.NewGuideAlong(made.Field, made.S, mode)
		if err := guide.Prepare(ctx); err != nil {
			return nil, err
		}
		return func() {
			w.guide = &readyGuide{now, guide, made}
			w.beginLine(w.guide)
		}, nil
	})
	w.Room.update()
}

// readShare is how much of reading the ink for following by hand it is to clean it.
const readShare = 0.7

// beginLine begins a line with a guide that is ready.
func (w *ways) beginLine(g *readyGuide) {
	guiding, ok := newGuiding(g.guide, g.prepared, w.host.Aside, w.guided)
	if !ok {
		w.say("The picture has no place.")
		return
	}
	w.guiding, w.picked = guiding, 0
	w.Room.update()
	w.host.Focus(nil)
}

// guided shows the line as it now stands.
func (w *ways) guided() {
	if w.guiding != nil && w.seen {
		w.panels.updateHand()
		w.redraw()
	}
}

// closeReach is how near to the first stop a click closes the line, in screen units.
const closeReach = 11

// guideTo is a click: a stop, or the end where it is on the first one.
func (w *ways) guideTo(at geom.Point) {
	if w.guiding.closes(at, w.reach(closeReach)) {
		w.endLine(true)
		return
	}
	g := w.guiding
	n := len(g.stops) + 1
	w.does(doing{what: "a stop", back: func() { g.backUp() },
		holds: func() bool { return w.guiding == g && len(g.stops) == n }}, func() { g.add(at) })
	w.host.Status()
}

func (w *ways) guideKey(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyReturn, fyne.KeyEnter:
		w.endLine(true)
	case fyne.KeyE:
		w.endLine(false)
	case fyne.KeyS:
		w.guiding.turnOver()
	case fyne.KeyBackspace, fyne.KeyDelete:
		if !w.guiding.backUp() {
			w.byHand(false)
		}
	case fyne.KeyEscape:
		if w.working() {
			return false // it is what Esc stops
		}
		w.byHand(false)
	default:
		return false
	}
	w.host.Status()
	return true
}

// endLine fits the line and lists it: as an outline, or as a line inside the outline
// round it.
func (w *ways) endLine(closed bool) {
	g := w.guiding
	least, what := 3, "An outline needs three stops at least, better one at each corner."
	if !closed {
		least, what = 2, "A line inside an outline needs two stops at least."
	}
	if len(g.stops) < least {
		w.say(what)
		return
	}
	stops, tol, pics := append([]stop(nil), g.stops...), w.finds.tol(), w.guide.of.pictures
	w.effort.begin("Fitting the line", pics, 0, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		o, err := g.fitted(ctx, stops, closed, tol)
		if err != nil {
			return nil, fmt.Errorf("this line cannot be fitted: %w", err)
		}
		return func() { w.list(o, closed, pics) }, nil
	})
	w.Room.update()
}

// list takes in a line that was followed by hand in pictures.
func (w *ways) list(o trace.Outline, closed bool, of []*draft.Picture) {
	if !closed {
		home := w.finds.lineAt(middleOf(o.Path))
		if home == nil {
			w.effort.fault = "a line inside needs an outline round it: follow that first"
			return
		}
		w.finds.does("a line inside", func() {
			home.Inner = append(home.Inner[:len(home.Inner):len(home.Inner)], trace.Inner{Path: o.Path, Corner: o.Corner, Off: o.Off})
			home.as.Inner = home.Inner
			w.finds.changed()
		})
		w.say("A line inside " + home.called() + " was added.")
		w.guiding = nil
		return
	}
	l := &line{Outline: o, as: o, taken: true, byHand: true, of: of}
	w.finds.does("a line that was followed by hand", func() { w.listLine(l) })
}

// listLine lists an outline that was followed by hand.
func (w *ways) listLine(l *line) {
	o := l.Outline
	instead := ""
	for _, was := range w.finds.lines {
		if was.taken && was.like(o) {
			was.taken, l.name = false, was.name
			instead = " It takes the place of " + was.called() + "."
		}
	}
	w.finds.lines = append(w.finds.lines, l)
	w.finds.number()
	w.guiding, w.picked = nil, l.id
	w.say(fmt.Sprintf("%s was followed by hand: off by at most %.2f mm.%s", l.called(), l.worst(), instead))
}

// middleOf returns the place half way along a path.
func middleOf(p geom.Path) geom.Point { return p[len(p)/2].At(0.5) }
