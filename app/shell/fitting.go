package shell

import (
	"hemlet/app/bench"
	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/app/station"
	"hemlet/app/tool"
	"hemlet/draft"
)

// stationFit is where a pattern that was made for one body is fitted to another.
const stationFit = "Fit"

// newFitting makes the station. It shares the bench with Shape.
func (s *Shell) newFitting() *station.Fitting {
	f := station.NewFit(s.desk, station.FitWays{
		Bench: stacked(s.bench, s.aside.object, s.history.object, s.toile.object, s.card.object, s.walk.object, s.joins.object),
		Say:   s.Say, Away: s.focusBench, Aside: aside, Focus: s.win.Canvas().Focus,
		Pick: func(refs ...desk.Ref) {
			s.layBack()
			s.bench.Reveal(refs...)
		},
		Place:  s.bench.ShowPlace,
		Over:   func(o *bench.Over) { s.bench.ShowOver(o) },
		Before: func(p *draft.Project) { s.bench.ShowBefore(p) },
		Fit:    s.bench.FitPieces,
		Turned: func() { s.status.update() },
		Wearer: s.measureToFit, NewWearer: s.measureNewToFit, Trace: s.trace, Name: s.namePiece,
		Read: func() { s.readWearer(s.fitFor) }, Samples: s.sampleWearers(s.fitFor),
		True: func() { s.enter(stationTrue) },
	})
	f.AddSection(station.Alterations(func(what draft.Alteration, piece draft.ID) { s.takeAct(tool.Alteration(what, piece)) }))
	return f
}

// fitFor has the pattern fitted to a wearer next.
func (s *Shell) fitFor(id draft.ID) { s.fitting.For(id) }

// measureToFit goes to the measures of a wearer, and measureNewToFit to where another is
// begun, from where a way leads back to Fit.
func (s *Shell) measureToFit(id draft.ID) {
	s.showWearer(id)
	s.measure.FitWaits(true)
}

func (s *Shell) measureNewToFit() {
	s.measureNew()
	s.measure.FitWaits(true)
}

// backToFit goes back to the pattern that waits to be fitted, to the wearer that is measured.
func (s *Shell) backToFit(id draft.ID) {
	s.fitting.For(id)
	s.enter(stationFit)
}

// fitSeat is the station as it sits in the window.
func (s *Shell) fitSeat() *seat {
	f := s.fitting
	return &seat{
		name: stationFit, icon: "fit", hint: "Fit: re-shape a pattern that was made for one body to another (F5)",
		left: f.Left(), centre: f.Centre(), focus: s.bench,
		says: s.walkSays(f.Says), changed: f.Changed,
		hidden: func() {
			s.layBack()
			f.Hidden()
		},
		shown: func() {
			s.takeTool(s.tools[0])
			s.bench.SetCovered(0)
			s.measure.FitWaits(false)
			f.Shown()
		},
		percent: s.bench.Percent, fit: s.bench.Fit,
		palette: func(paint.Palette) { f.Repaint() },
	}
}
