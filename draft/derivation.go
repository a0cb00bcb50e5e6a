package draft

// Setting is one named choice of a derivation, as text in the form in which a
// person enters it.
type Setting struct{ Name, Value string }

// Derivation is how a set of pieces came to be, so that it can come to be again
// when what it was made from changes.
type Derivation struct {
	ID ID
	// Kind is "block", "piece" or "fit".
	Kind string
	// Inputs are the wearers, pieces and derivations that it reads.
	Inputs   []ID
	Settings []Setting
	// Text is the block's own text as it was when the pieces were made, so that a
	// project does not depend on blocks that its owner no longer has.
	Text string
}

// Derived ties a piece to the derivation that made it.
type Derived struct {
	Derivation ID
	// Role is the name that the derivation gives this piece.
	Role string
	// Base is the outline as last generated; where it equals the piece's edges
	// the piece has not been edited by hand.
	Base []Edge
}
