package shell

import (
	"context"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/station"
	"hemlet/app/tool"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/export"
)

// stationTrue is where seams are proven before cloth is cut.
const stationTrue = "True"

// newTruing makes the station. It shares the bench with Shape.
func (s *Shell) newTruing() *station.Truing {
	return station.NewTrue(s.desk, station.TrueWays{
		Bench: stacked(s.bench, s.aside.object, s.history.object, s.toile.object, s.card.object, s.walk.object, s.joins.object),
		Say:   s.Say, Away: s.focusBench, AskReason: s.askReason, Aside: aside,
		Before: func(p *draft.Project) { s.bench.ShowBefore(p) },
		Show:   s.showOnBench, Report: s.askReport, Walk: s.WalkSeam, Join: s.SeeJoins, Measure: s.askMeasure,
		Sew: func() { s.takeAct(tool.Sewing()) }, Name: s.namePiece,
	})
}

// trueSeat is the station as it sits in the window.
func (s *Shell) trueSeat() *seat {
	t := s.truing
	return &seat{
		name: stationTrue, icon: "true", hint: "True: see whether everything that is sewn together fits, and mend what does not (F6)",
		left: t.Left(), centre: t.Centre(), focus: s.bench,
		says: s.walkSays(t.Says), changed: t.Changed,
		hidden: func() {
			s.layBack()
			t.Hidden()
		},
		shown: func() {
			s.takeTool(s.tools[0])
			s.bench.SetCovered(0)
			t.Shown()
		},
		percent: s.bench.Percent, fit: s.bench.Fit,
	}
}

// benchSeen reports whether the station that is seen shows the bench.
func (s *Shell) benchSeen() bool { return s.seat != nil && s.seat.focus == fyne.Focusable(s.bench) }

// toBench goes to where the bench is seen, which may be here.
func (s *Shell) toBench() {
	if !s.benchSeen() {
		s.enter(stationShape)
	}
}

// showOnBench picks the refs and brings them into the middle of the bench.
func (s *Shell) showOnBench(refs ...desk.Ref) {
	s.layBack()
	if len(refs) == 0 {
		return
	}
	s.desk.Pick(refs...)
	s.bench.FitPicked()
}

// askMeasure goes to where the measure of a wearer is noted.
func (s *Shell) askMeasure(wearer draft.ID, measure string) {
	s.enter(stationMeasure)
	s.measure.Ask(wearer, measure)
}

// askReport asks where to write what the checks find.
func (s *Shell) askReport() {
	const ending = ".pdf"
	name := s.besides(fileName(s.desk.Project().Name) + ", checks" + ending)
	s.chooseTarget("Write what the checks find", "Write", name, []string{ending}, func(path string) {
		s.files.replacing(path, func() { s.writeReport(path) })
	})
}

// reportPaper returns what a report is printed on: the paper that was chosen for patterns,
// where that is one to read from.
func (s *Shell) reportPaper() export.Paper {
	paper, err := export.PaperNamed(s.app.Preferences().String(prefPaper))
	if err != nil || max(paper.Width, paper.Height) > longestRead {
		return export.Paper{} // A4
	}
	return paper
}

// longestRead is the longest side, in mm, of paper that a report is printed on: that of
// the sheets that printers at home hold.
const longestRead = 360

// writeReport writes the report off the window's goroutine.
func (s *Shell) writeReport(path string) {
	r := export.CheckReport{Project: s.desk.Project(), Paper: s.reportPaper()}
	aside(func() func() {
		pages, err := export.WriteCheckReport(context.Background(), path, r)
		return func() {
			if err != nil {
				s.tell("This could not be written", err.Error())
				return
			}
			s.Say(wording.Count(pages, "page") + " written to " + path + ".")
		}
	})
}
