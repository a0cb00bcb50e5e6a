package shell

import (
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/station"
	"hemlet/app/wording"
	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/figure"
	"hemlet/draft/store"
	"hemlet/export"
)

// stationMeasure is where bodies are measured.
const stationMeasure = "Measure"

// wearerEndings are the endings of a wearer's own file.
var wearerEndings = []string{".toml"}

// newMeasure makes the station where bodies are measured.
func (s *Shell) newMeasure() (*station.Measure, error) {
	return station.NewMeasure(s.desk, s.palette(), station.MeasureWays{
		Say: s.Say, Focus: s.giveKeys, AskText: s.askLine,
		Read: func() { s.readWearer(s.showWearer) }, Save: s.saveWearer, Sheet: s.askSheet, Samples: s.sampleWearers(s.showWearer),
		View: func() { s.status.view() }, Draft: s.draftFor, Fit: s.backToFit,
	})
}

// measureSeat is the station as it sits in the window.
func (s *Shell) measureSeat() *seat {
	m := s.measure
	return &seat{
		name: stationMeasure, icon: "measure", hint: "Measure: note the measures of the wearer (F2)",
		left: m.Left(), centre: m.Centre(), side: m.Side(),
		says: m.Says, shown: m.Update, changed: m.Changed, back: m.Back,
		percent: m.Percent, fit: m.Fit, palette: m.SetPalette,
	}
}

// giveKeys gives the keys to a control, or takes them away.
func (s *Shell) giveKeys(to fyne.Focusable) {
	if to == nil {
		s.win.Canvas().Unfocus()
		return
	}
	s.win.Canvas().Focus(to)
}

func (s *Shell) askLine(q station.TextQuestion) {
	s.askText(asking{title: q.Title, label: q.Label, hint: q.Hint, text: q.Text, says: q.Says, word: q.Word, take: q.Take})
}

// readWearer asks for the file of a wearer, adds it, and then does what is to follow.
func (s *Shell) readWearer(then func(draft.ID)) {
	s.chooseFile("Read a wearer", "Read", wearerEndings, func(path string) { s.addWearerFile(path, then) })
}

// addWearerFile adds the wearer that a file describes.
func (s *Shell) addWearerFile(path string, then func(draft.ID)) {
	w, _, err := store.LoadWearer(path)
	if err != nil {
		s.tell("This wearer could not be read", err.Error())
		return
	}
	if w.Name == "" {
		w.Name = strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	}
	s.addWearer(w, then)
}

// sampleWearers returns the wearers that come with Hemlet.
func (s *Shell) sampleWearers(then func(draft.ID)) []station.SampleWearer {
	var list []station.SampleWearer
	for _, file := range assets.SampleWearers() {
		w, _, err := store.DecodeWearer(file.Text)
		if err != nil {
			continue // a test holds them to be sound
		}
		list = append(list, station.SampleWearer{Name: w.Name, Add: func() { s.addWearer(w, then) }})
	}
	return list
}

// addWearer adds a wearer, and then does what is to follow.
func (s *Shell) addWearer(w *draft.Wearer, then func(draft.ID)) {
	out, err := desk.RunFolded(s.desk, draft.AddWearerFrom, draft.AddWearerFromArgs{Wearer: w}, "")
	if err != nil {
		s.tell("This wearer could not be added", err.Error())
		return
	}
	then(out.Made)
	s.Say(out.Project.Wearer(out.Made).Name + " is added, with " + wording.Count(len(w.Given()), "measure") + ".")
}

// showWearer shows the measures of a wearer.
func (s *Shell) showWearer(id draft.ID) {
	s.measure.Choose(id)
	s.enter(stationMeasure)
}

// saveWearer asks where to write the file of a wearer.
func (s *Shell) saveWearer(w *draft.Wearer) {
	name := s.besides(fileName(w.Name) + wearerEndings[0])
	s.chooseTarget("Save "+w.Name+" to a file", "Save", name, wearerEndings, func(path string) {
		s.files.replacing(path, func() {
			if err := store.SaveWearer(path, w); err != nil {
				s.tell("This could not be written", err.Error())
				return
			}
			s.Say("Saved to " + path + ".")
		})
	})
}

// besides returns a file's name in the folder of the project, where that has one.
func (s *Shell) besides(name string) string {
	if path := s.desk.Path(); path != "" {
		return filepath.Join(filepath.Dir(path), name)
	}
	return name
}

// askSheet asks where to write the blank measuring sheet.
func (s *Shell) askSheet(b figure.Build) {
	name := s.besides("measuring sheet.pdf")
	s.chooseTarget("Write a blank measuring sheet", "Write", name, []string{".pdf"}, func(path string) {
		s.files.replacing(path, func() {
			o := export.MeasuringSheet{Build: b}
			if err := export.WriteMeasuringSheet(path, o); err != nil {
				s.tell("This could not be written", err.Error())
				return
			}
			s.Say("Written to " + path + ". Print it at any size: only the figures that are written on it matter.")
		})
	})
}

// draftFor goes on to have a block drafted.
func (s *Shell) draftFor(w draft.ID) {
	s.draft.For(w)
	s.enter(stationDraft)
}

// measureNew begins with a new wearer.
func (s *Shell) measureNew() {
	s.measure.Begin()
	s.enter(stationMeasure)
}

// sheetBuild is what the figure on a measuring sheet is drawn as: the build of the
// wearer that is measured.
func (s *Shell) sheetBuild() figure.Build {
	if w := s.measure.Wearer(); w != nil {
		return w.Build
	}
	return figure.Upright
}
