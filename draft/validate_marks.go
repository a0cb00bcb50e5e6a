package draft

// row inspects what is set along a line.
func (v *inspector) row(l *Line) {
	r := l.Row
	if (r != nil) != (l.Kind == FastenLine) {
		v.failf("a line of kind fasten, and no other, says what is set along it; this one is %s", l.Kind)
	}
	if r == nil {
		return
	}
	v.word("fastening", r.Kind.MarshalText)
	if r.Count < 1 || r.Count > MaxCount {
		v.failf("there are %d along it; it must be 1 to %d", r.Count, MaxCount)
	}
	v.length("size", r.Size)
	v.length("distance of the first", r.First)
	v.length("distance of the last", r.Last)
}

// treated inspects the stretches of a piece.
func (v *inspector) treated(p *Piece) {
	for i, s := range p.Stretches {
		v.enter("stretches", i, "stretch", string(s.ID))
		v.stretchItself(s, v.bear)
		if !v.has(s.Edge, "edge", p) {
			v.failf("the piece has no edge %q", s.Edge)
		}
		v.leave()
	}
}

// stretchItself inspects what a stretch says without what it points at.
func (v *inspector) stretchItself(s Stretch, bear func(ID, string)) {
	bear(s.ID, "stretch")
	v.word("way to treat it", s.Kind.MarshalText)
	v.number("start of the stretch", s.From, 0, 1)
	v.number("end of the stretch", s.To, 0, 1)
	if !(s.From < s.To) {
		v.failf("it starts at share %v of its edge and ends at %v; it must end after it starts", s.From, s.To)
	}
}
