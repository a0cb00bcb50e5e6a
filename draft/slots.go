package draft

// Slots keeps what was computed from a project: one slot for each kind of value
// and id. A slot remembers the inputs it was made from and is right as long as
// every input is the same pointer; since nothing in a project is ever changed in
// place, a changed input is always another pointer. A Slots must not be used from
// two goroutines at once.
type Slots struct {
	slots map[slotKey]*slotPair
}

type slotKey struct {
	kind string
	id   ID
}

// slotInputs is wide enough for every kind of slot; unused places are nil.
type slotInputs [4]any

type slot struct {
	inputs slotInputs
	value  any
	filled bool
}

// slotPair holds the value of a slot and the one before it: a step that is undone, or
// done again, brings the inputs of the one before back.
type slotPair struct{ now, before slot }

// NewSlots returns an empty cache.
func NewSlots() *Slots { return &Slots{slots: make(map[slotKey]*slotPair)} }

// slotOf returns the value of the slot, made anew if an input has changed.
// Inputs must be comparable: pointers, ids, numbers.
func slotOf[T any](s *Slots, kind string, id ID, inputs slotInputs, make func() T) T {
	key := slotKey{kind, id}
	if p := s.slots[key]; p != nil {
		if p.now.inputs == inputs {
			return p.now.value.(T)
		}
		if p.before.filled && p.before.inputs == inputs {
			p.now, p.before = p.before, p.now
			return p.now.value.(T)
		}
	}
	value := make()
	// Made first: making it may have filled other slots, or this one.
	p := s.slots[key]
	if p == nil {
		p = &slotPair{}
		s.slots[key] = p
	}
	p.now, p.before = slot{inputs, value, true}, p.now
	return value
}

// slotSame is slotOf for what is often made anew and comes out as it was: where it equals one
// of the two values that are kept, it is that one, so that what was worked out from it stands.
func slotSame[T any](s *Slots, kind string, id ID, inputs slotInputs, make func() *T, equal func(a, b *T) bool) *T {
	return slotOf(s, kind, id, inputs, func() *T {
		made, kept := make(), s.slots[slotKey{kind, id}]
		if kept == nil {
			return made
		}
		for _, was := range [...]slot{kept.now, kept.before} {
			if old, ok := was.value.(*T); ok && equal(made, old) {
				return old
			}
		}
		return made
	})
}

// Keep drops the slots of things that the project no longer holds, so that a long
// day's work does not fill the memory.
func (s *Slots) Keep(p *Project) {
	live := make(map[ID]bool, len(p.Pieces)+len(p.Seams)+len(p.Derivations)+len(p.Wearers))
	for _, piece := range p.Pieces {
		live[piece.ID] = true
	}
	for _, seam := range p.Seams {
		live[seam.ID] = true
	}
	for _, d := range p.Derivations {
		live[d.ID] = true
	}
	for _, w := range p.Wearers {
		live[w.ID] = true
	}
	for key := range s.slots {
		if key.id != "" && !live[key.id] {
			delete(s.slots, key)
		}
	}
}

// Len returns how many slots are filled.
func (s *Slots) Len() int { return len(s.slots) }
