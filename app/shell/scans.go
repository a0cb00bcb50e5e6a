package shell

// scans say how the pictures under the pieces are seen. They are only hinted at where it is
// no longer about what was traced: at Fit, at True, and once the pattern is fitted, for the
// pieces have another size then. At True and Shape the maker may want them all the same.
type scans struct {
	s *Shell
	// plain says that the maker wants them, told that it was said how they come back.
	plain, told bool
}

// opened forgets what was wanted of another document.
func (x *scans) opened() { x.plain, x.told = false, false }

// apart reports whether the pieces have no more to do with the pictures under them.
func (x *scans) apart() bool {
	return x.s.station == stationFit || x.s.station == stationTrue || isFitted(x.s.desk.Project())
}

// faint reports whether the pictures are to be hinted at only.
func (x *scans) faint() bool { return x.apart() && (x.s.station == stationFit || !x.plain) }

// update shows the pictures as they are to be seen, and says once how they come back.
func (x *scans) update() {
	if !x.s.benchSeen() {
		return
	}
	faint := x.faint()
	x.s.bench.SetApart(x.apart())
	x.s.bench.SetFaint(faint)
	if faint && !x.told && x.s.station != stationFit && x.any() {
		x.told = true
		x.s.Say("The pictures under the pieces are only hinted at here: View, “Pictures faint or plain” brings them back.")
	}
}

func (x *scans) any() bool { return len(x.s.desk.Project().Pictures) > 0 }

// toggle shows the pictures plainly, or only hints at them again.
func (x *scans) toggle() {
	x.plain, x.told = !x.plain, true
	x.update()
	if x.plain {
		x.s.Say("The pictures under the pieces are seen plainly at Shape and True.")
		return
	}
	x.s.Say("The pictures under the pieces are only hinted at, at True and once the pattern is fitted.")
}

// want shows the pictures plainly: one was just laid under the pieces.
func (x *scans) want() {
	x.plain = true
	x.update()
}
