package desk

// Change says what a listener has to look at again.
type Change int

const (
	// Document: the project, its name, its unit, or what can be undone.
	Document Change = 1 << iota
	// Selection: what is picked.
	Selection
	// File: the path, or whether there is anything to save.
	File
	// Sight: which pieces are put aside.
	Sight
	// Opened: another document took the place of the one before.
	Opened
)

// Has reports whether the change holds any of the kinds.
func (c Change) Has(kinds Change) bool { return c&kinds != 0 }

// Listen calls f after every change, until the desk is dropped.
func (d *Desk) Listen(f func(Change)) { d.listeners = append(d.listeners, f) }

func (d *Desk) tell(c Change) {
	if c == 0 {
		return
	}
	for _, f := range d.listeners {
		f(c)
	}
}
