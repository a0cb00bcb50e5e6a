package shell

import (
	"hemlet/app/station"
	"hemlet/assets"
	"hemlet/draft"
	"hemlet/draft/store"
)

// stationStart is the first screen, which is not on the rail.
const stationStart = "First screen"

// prefStart is the preference that keeps whether the first screen is shown at the
// start.
const (
	prefStart = "first screen"
	notShown  = "not shown"
)

// newFirst makes the first screen.
func (s *Shell) newFirst() (*station.Start, error) {
	return station.NewStart(s.palette(), sampleProject, station.Ways{
		Body: s.beginBody, Pattern: s.files.askDrawing, Show: s.showSample, Print: s.printSample,
		Other:      s.files.open,
		Open:       func(path string) { s.files.guard(func() { s.files.Open(path) }) },
		Recent:     s.files.lastUsed,
		AtStart:    s.firstAtStart,
		SetAtStart: s.setFirstAtStart,
	})
}

// sampleProject reads the sample that comes with the program.
func sampleProject() (*draft.Project, error) { return store.Decode(assets.Sample()) }

func (s *Shell) firstAtStart() bool { return s.app.Preferences().String(prefStart) != notShown }

func (s *Shell) setFirstAtStart(on bool) {
	word := ""
	if !on {
		word = notShown
	}
	s.app.Preferences().SetString(prefStart, word)
}

// firstSeat is the first screen as it sits in the window.
func (s *Shell) firstSeat() *seat {
	return &seat{
		name: stationStart, quiet: true, centre: s.first.Object(), shown: s.first.Update, palette: s.first.SetPalette,
		says: func() string {
			return "Choose how to begin. The first screen comes back with View, First screen."
		},
	}
}

// showSample opens the sample at its first problem.
func (s *Shell) showSample() {
	s.files.guard(func() {
		if s.files.Sample() {
			s.status.at = -1
			s.nextFinding()
		}
	})
}

// printSample opens the sample where it is printed.
func (s *Shell) printSample() {
	s.files.guard(func() {
		if s.files.Sample() {
			s.enter(stationMake)
		}
	})
}

// beginBody begins with the body that something is to be made for, in a project of its
// own unless the one that lies open is still empty.
func (s *Shell) beginBody() {
	if s.nothingOpen() {
		s.measureNew()
		return
	}
	s.files.guard(func() {
		s.files.fresh()
		s.measureNew()
	})
}

// nothingOpen reports whether the project that lies open holds nothing.
func (s *Shell) nothingOpen() bool {
	p := s.desk.Project()
	return s.desk.Path() == "" && len(p.Pieces)+len(p.Wearers)+len(p.Derivations) == 0
}
