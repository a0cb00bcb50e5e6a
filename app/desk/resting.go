package desk

// Resting has a panel that nobody sees do no work: what it would have shown is shown when
// it is seen again. The zero value is a panel that is seen.
type Resting struct {
	unseen, behind bool
}

// Rests reports whether an update has to wait, and notes that there is one.
func (r *Resting) Rests() bool {
	r.behind = r.behind || r.unseen
	return r.unseen
}

// Seen tells whether the panel is seen from now on, and reports whether it has to be
// brought up to date.
func (r *Resting) Seen(on bool) (behind bool) {
	r.unseen = !on
	behind = on && r.behind
	r.behind = r.behind && !on
	return behind
}
