package formula

const (
	// roomError is the share to which the radius of sweep_room is found: whoever
	// uses it adds more than that, so as not to stand at the very edge.
	roomError = 1e-3
	// roomDoublings bounds how far the radius is looked for.
	roomDoublings = 30
)

// sweepRoomOf finds the least radius, from the given one on, at which sweep has a
// line of that length, to roomError. The larger the radius, the shorter and the
// longer the lines that there are, up to where the end comes round to c.
func sweepRoomOf(a []any) (Value, error) {
	c, long, u, least := pt(a[0]), mm(a[1]), pt(a[2]), mm(a[3])
	switch {
	case !(long > 0):
		return nil, failf("a level line cannot be %s long", sayMM(long))
	case !(least > 0):
		return nil, failf("the least radius of sweep_room must be above 0, and this is %s", sayMM(least))
	}
	l := levelLineOf(c, u, least)
	if l.roomFor(long) {
		return Length{least}, nil
	}
	lo, hi := least, 2*least
	for i := 0; ; i++ {
		if l.radius = hi; l.roomFor(long) {
			break
		}
		if i == roomDoublings {
			return nil, failf("no level line from c can be %s long", sayMM(long))
		}
		lo, hi = hi, 2*hi
	}
	for hi-lo > roomError*hi {
		if l.radius = (lo + hi) / 2; l.roomFor(long) {
			hi = l.radius
		} else {
			lo = l.radius
		}
	}
	return Length{hi}, nil
}

// roomFor reports whether there is a line of that length.
func (l levelLine) roomFor(long float64) bool {
	_, err := l.solve(long)
	return err == nil
}
