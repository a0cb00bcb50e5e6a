package shell

import (
	"hemlet/app/desk"
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
	return station.NewStart(s.palette(), s.sampleAsItIs, station.Ways{
		Body: s.beginBody, Pattern: s.beginPattern, Show: s.showSample, Print: s.printSample, Again: s.files.sample,
		Other:      s.files.open,
		Open:       func(path string) { s.files.guard(func() { s.files.Open(path) }) },
		Recent:     s.files.lastUsed,
		AtStart:    s.firstAtStart,
		SetAtStart: s.setFirstAtStart,
	})
}

// freshSample returns the sample as it comes with the program.
func (s *Shell) freshSample() (*draft.Project, error) {
	if s.madeSample == nil {
		p, err := store.Decode(assets.Sample())
		if err != nil {
			return nil, err
		}
		s.madeSample = p
	}
	return s.madeSample, nil
}

// sampleAsItIs returns the sample as it lies open or, where it does not, as it comes
// with the program.
func (s *Shell) sampleAsItIs() (*draft.Project, error) {
	if s.sampleOpen {
		return s.desk.Project(), nil
	}
	return s.freshSample()
}

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
		changed: func(desk.Change) { s.first.Update() },
		says: func() string {
			return "Choose how to begin. The first screen comes back with View, First screen."
		},
	}
}

// withSample does something with the sample open, which it may be already.
func (s *Shell) withSample(do func()) {
	if s.sampleOpen {
		do()
		return
	}
	s.files.guard(func() {
		if s.files.Sample() {
			do()
		}
	})
}

// showSample opens the sample at its first problem.
func (s *Shell) showSample() {
	s.withSample(func() {
		s.enter(stationShape)
		s.status.at = -1
		s.nextFinding()
	})
}

// printSample opens the sample where it is printed.
func (s *Shell) printSample() { s.withSample(func() { s.enter(stationMake) }) }

// beginPattern begins with a pattern that was made elsewhere, drawn or on paper, in a
// project of its own, and leads through what it takes to make it fit.
func (s *Shell) beginPattern() {
	if s.nothingOpen() {
		s.askPattern(false)
		return
	}
	s.files.guard(func() { s.askPattern(true) })
}

// askPattern asks for a drawing or a picture of a pattern, brings it in, into a project of
// its own if anew, and leads on from there.
func (s *Shell) askPattern(anew bool) {
	endings := append(append([]string(nil), drawingEndings...), pictureEndings()...)
	s.chooseFile("Begin with a drawing, a scan or a photograph", "Go on", endings, func(path string) {
		if hasEnding(path, drawingEndings) {
			s.files.bringThen([]string{path}, anew, s.guide.begin)
			return
		}
		if anew {
			s.files.fresh()
		}
		s.guide.begin()
		s.traceFiles([]string{path})
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
	return s.desk.Path() == "" && len(p.Pieces)+len(p.Wearers)+len(p.Derivations)+len(p.Pictures) == 0
}
