package control

import "time"

// Now returns the time, for telling double presses.
var Now = time.Now

// doubleTime is within which two presses are a double one.
const doubleTime = 400 * time.Millisecond

// presses tells a double press from two single ones.
type presses struct{ last time.Time }

// twice notes a press and reports whether it is the second of two.
func (p *presses) twice() bool {
	now := Now()
	double := !p.last.IsZero() && now.Sub(p.last) <= doubleTime
	p.last = now
	if double {
		p.last = time.Time{}
	}
	return double
}
