package station

import (
	"math"

	"hemlet/app/desk"
	"hemlet/draft"
)

// fitTrial shows what another target would make of the pattern while a figure is dragged.
// Each is worked out aside; where the pointer is quicker only the last one is.
type fitTrial struct {
	f *Fitting
	// row is the stretch whose figure is dragged, from the length that was wanted.
	row  fitRow
	from float64
	// start is the project on which the drag began, gesture what is shown of it, nil where
	// nothing is yet, and out what the last one worked out was.
	start   *draft.Project
	gesture *desk.Gesture
	out     draft.Outcome
	// wants is the length that is asked for, shown the one that is shown.
	wants, shown float64
	working      bool
	// ended says that the figure was let go: what comes next is taken.
	ended bool
}

func newFitTrial(f *Fitting) *fitTrial { return &fitTrial{f: f} }

// live reports whether a figure is dragged, or what was asked for last is still worked out.
func (x *fitTrial) live() bool { return x.start != nil }

// dragStep is how much a screen unit of a drag is worth, as a share of the length: across
// a hundred units it changes by a quarter.
const dragStep = 0.0025

// drag asks for the length that a drag has come to.
func (x *fitTrial) drag(r fitRow, by float32) {
	if !x.live() {
		x.f.drop()
		x.start, x.row, x.from = x.f.desk.Project(), r, r.target.Wants
		x.shown = x.from
		x.f.table.choose(r.key, false)
	}
	step := x.f.desk.Project().Unit.Step()
	x.wants = max(math.Round(x.from*(1+dragStep*float64(by))/step)*step, step)
	x.work()
}

// work works out what is asked for, unless something is being worked out already.
func (x *fitTrial) work() {
	if x.working || x.start == nil || x.wants == x.shown {
		return
	}
	x.working = true
	start, wants := x.start, x.wants
	mend := draft.Mend{Act: "set-fit-target", Args: x.row.args("by", draft.TargetLength.String(), "value", mmText(wants))}
	x.f.ways.Aside(func() func() {
		out, err := start.Do(mend)
		return func() { x.worked(start, wants, out, err) }
	})
}

// worked shows what was worked out, and goes on to what was asked for meanwhile.
func (x *fitTrial) worked(start *draft.Project, wants float64, out draft.Outcome, err error) {
	x.working = false
	if x.start != start {
		return // it was dropped
	}
	x.shown = wants
	if err != nil {
		x.f.report(err)
	} else {
		x.out = out
		if x.gesture == nil {
			x.gesture = x.f.desk.Try()
		}
		x.gesture.Show(out.Step, out.Project)
	}
	if x.wants != x.shown {
		x.work()
	} else if x.ended {
		x.take()
	}
}

// take takes what the drag has come to, once it is worked out.
func (x *fitTrial) take() {
	if x.start == nil {
		return
	}
	if x.ended = true; x.working || x.wants != x.shown {
		return
	}
	g, out := x.gesture, x.out
	x.clear()
	if g != nil && g.Live() {
		g.Take(out)
	}
	x.f.Update()
}

// drop ends the drag and takes back what it showed.
func (x *fitTrial) drop() {
	if x.start == nil {
		return
	}
	g := x.gesture
	x.clear()
	if g != nil && g.Live() {
		x.f.desk.DropTrial()
	}
}

// settle ends the drag if something else has ended it in the document.
func (x *fitTrial) settle() {
	if x.gesture != nil && !x.gesture.Live() {
		x.clear()
	}
}

func (x *fitTrial) clear() {
	x.start, x.gesture, x.ended, x.out = nil, nil, false, draft.Outcome{}
}
