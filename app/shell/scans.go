package shell

// scans say how the pictures under the pieces are seen. They are only hinted at where it is
// no longer about what was traced: at Fit and at True. Once the pattern is fitted they are not
// seen at all, for the pieces have another size then, and stray lines of a page that is many
// times as large would lie under them. The maker may want them all the same.
type scans struct {
	s *Shell
	// plain says that the maker wants them; told and toldAway that it was said how they come
	// back, of those that are hinted at and of those that are put away.
	plain, told, toldAway bool
}

// opened forgets what was wanted of another document.
func (x *scans) opened() { x.plain, x.told, x.toldAway = false, false, false }

// apart reports whether the pieces have no more to do with the pictures under them.
func (x *scans) apart() bool {
	return x.s.station == stationFit || x.s.station == stationTrue || isFitted(x.s.desk.Project())
}

// faint reports whether the pictures are to be hinted at only.
func (x *scans) faint() bool { return x.apart() && (x.s.station == stationFit || !x.plain) }

// away reports whether the pictures are not to be seen at all.
func (x *scans) away() bool { return !x.plain && isFitted(x.s.desk.Project()) }

// update shows the pictures as they are to be seen, and says once how they come back.
func (x *scans) update() {
	if !x.s.benchSeen() {
		return
	}
	faint, away := x.faint(), x.away()
	x.s.bench.SetApart(x.apart())
	x.s.bench.SetFaint(faint)
	x.s.bench.SetPicturesAway(away)
	switch {
	case x.s.station == stationFit || !x.any():
	case away && !x.toldAway:
		x.told, x.toldAway = true, true
		x.s.Say("The pictures that the pieces were traced from are put away, now that these have another size: View, “Pictures faint or plain” brings them back.")
	case faint && !x.told:
		x.told = true
		x.s.Say("The pictures under the pieces are only hinted at here: View, “Pictures faint or plain” brings them back.")
	}
}

func (x *scans) any() bool { return len(x.s.desk.Project().Pictures) > 0 }

// toggle shows the pictures plainly, or only hints at them or puts them away again.
func (x *scans) toggle() {
	x.plain, x.told, x.toldAway = !x.plain, true, true
	x.update()
	switch {
	case x.plain && x.s.station == stationFit:
		x.s.Say("The pictures under the pieces are hinted at here, and seen plainly at Shape and True.")
	case x.plain:
		x.s.Say("The pictures under the pieces are seen plainly at Shape and True.")
	case x.away():
		x.s.Say("The pictures under the pieces are put away: they were traced at another size.")
	default:
		x.s.Say("The pictures under the pieces are only hinted at, at True and at Fit.")
	}
}

// want shows the pictures plainly: one was just laid under the pieces.
func (x *scans) want() {
	x.plain = true
	x.update()
}
