package desk

import (
	"hemlet/app/wording"
	"hemlet/draft"
)

// Done is what an act did to the document.
type Done struct {
	Before  *draft.Project
	Outcome draft.Outcome
}

// Says tells in whole sentences what the act did that its name does not promise: what
// the outcome says, and which pieces followed their block.
func (x Done) Says() []string {
	says := append([]string(nil), x.Outcome.Says...)
	if f := followed(x.Before, x.Outcome.Project); f != "" {
		says = append(says, f)
	}
	return says
}

// mostFollowing is how many pieces are named that followed; of more it is said how many
// they are.
const mostFollowing = 4

// followed says which pieces followed their block from one project to the next, because
// what it is drafted from has changed, and that what the maker has changed of them is
// kept; empty where none did.
func followed(before, after *draft.Project) string {
	var names, kept []string
	for _, p := range after.Pieces {
		was := before.Piece(p.ID)
		if was == nil || p.Derived == nil || was.Derived == nil || p.Derived == was.Derived {
			continue
		}
		d, old := after.Derivation(p.Derived.Derivation), before.Derivation(was.Derived.Derivation)
		if d == nil || old == nil || d == old && after.WearerOf(d) == before.WearerOf(old) {
			continue // it was only drawn anew
		}
		names = append(names, p.Name)
		if p.ByHand() {
			kept = append(kept, p.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	says := wording.Count(len(names), "piece")
	if len(names) <= mostFollowing {
		says = wording.List(names)
	}
	if says += " follow"; len(names) == 1 {
		says += "s"
	}
	switch {
	case len(kept) == 0:
		return says + "."
	case len(kept) > mostFollowing:
		return says + "; what you changed by hand is kept."
	}
	return says + "; what you changed by hand on " + wording.List(kept) + " is kept."
}
