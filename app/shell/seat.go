package shell

import (
	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
)

// seat is a station as it sits in the window: what it puts beside the rail, and how
// the window speaks to it. Functions that it has no use for are nil.
type seat struct {
	// name is what the rail says; without an icon the seat is not on the rail.
	name, icon, hint string
	// under is the station on the rail that is marked for a seat without an icon.
	under string
	// left, centre and side are what lies beside the rail. Without a left or a side
	// their columns are away and the middle gets the room.
	left, centre, side fyne.CanvasObject
	// focus, where not nil, has the keys when nothing else wants them.
	focus fyne.Focusable
	// key gets the keys that the control in focus has no use for, and says whether it
	// used them.
	key func(fyne.KeyName) bool
	// says is what the status line says when there is nothing else to say.
	says func() string
	// shown brings the seat up to date when it is entered; hidden tells that it is
	// left; changed shows a change of the document while it is seen.
	shown, hidden func()
	changed       func(desk.Change)
	// back goes one step back inside the seat and reports whether there was one.
	back func() bool
	// undoes returns what was done last in the seat itself, after the last step of the
	// document, and what takes that back, nil where there is no such thing.
	undoes func() (what string, back func())
	// percent is the scale of what is shown, 0 where nothing is, and fit shows all of it.
	percent func() float64
	fit     func()
	// quiet says that the checks of the project have no business here.
	quiet bool
	// fault says what is wrong with something that is only tried here, of which the
	// checks of the project know nothing yet; empty text where nothing is.
	fault func() string
	// palette takes in the colours after a change between light and dark.
	palette func(paint.Palette)
}

// allSeats lists the stations that there are, in the order of the journey.
func (s *Shell) allSeats() []*seat {
	return []*seat{s.firstSeat(), s.measureSeat(), s.draftSeat(), s.tracerSeat(), s.shapeSeat(), s.fitSeat(), s.trueSeat(), s.makeSeat()}
}

// seatNamed returns the seat with the name, or nil.
func (s *Shell) seatNamed(name string) *seat {
	for _, st := range s.seats {
		if st.name == name {
			return st
		}
	}
	return nil
}

// shapeSeat is the bench with its tools, the tray and the inspector.
func (s *Shell) shapeSeat() *seat {
	return &seat{
		name: stationShape, icon: "shape", hint: "Shape: correct the pieces, set allowances, link seams (F4)",
		left: s.tray.Object(), centre: stacked(s.bench, s.strip.object, s.aside.object, s.welcome.object, s.history.object, s.toile.object, s.card.object, s.walk.object, s.joins.object), side: s.inspect.Object(),
		focus: s.bench,
		says: func() string {
			if t := s.bench.Tool(); t != nil {
				return t.Info().Name + ": " + t.Info().Hint
			}
			return ""
		},
		percent: s.bench.Percent, fit: s.bench.Fit,
	}
}

// makeSeat is the station where the pattern leaves the house.
func (s *Shell) makeSeat() *seat {
	return &seat{
		name: stationMake, icon: "make", hint: "Make: see the pages, print or cut true to size (F7)",
		left: s.tray.Object(), centre: s.make.Centre(), side: s.make.Side(),
		says: func() string {
			return "Make: choose what the pattern is for and on what it is printed, look at the pages, and write the file."
		},
		shown: s.make.Update, changed: s.make.Changed, back: s.make.Back,
	}
}

// enter goes to a station.
func (s *Shell) enter(name string) {
	if s.seat != nil && s.seat.name == name {
		return
	}
	next := s.seatNamed(name)
	if next == nil {
		return
	}
	s.desk.DropTrial() // which is not to be seen any more
	if s.seat != nil && s.seat.hidden != nil {
		s.seat.hidden()
	}
	s.seat, s.station = next, name
	s.hint("", nil) // of what is not to be seen any more
	s.status.quiet()
	if next.shown != nil {
		next.shown()
	}
	s.tray.SetSeen(next.left == s.tray.Object())
	s.inspect.SetSeen(next.side == s.inspect.Object())
	putIn(s.left, next.left)
	putIn(s.centre, next.centre)
	putIn(s.side, next.side)
	s.main.Refresh()
	s.scans.update()
	s.toile.overlay() // where a station has shown another state of the pattern
	s.rail.update()
	s.top.update()
	s.status.update()
	s.guide.entered()
	s.focusBench() // or away from it, where it is not to be seen
}

// putIn makes the object the only one in the container, which is away without one.
func putIn(c *fyne.Container, o fyne.CanvasObject) {
	if o == nil {
		c.Objects = nil
		c.Hide()
		return
	}
	c.Objects = []fyne.CanvasObject{o}
	c.Show()
	c.Refresh()
}
