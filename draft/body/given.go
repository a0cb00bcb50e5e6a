package body

// Given is what is known of a body: measures by name, in mm, all above 0.
type Given map[string]float64

// Known is a measure that was given or estimated.
type Known struct {
	// Value is in mm.
	Value float64
	// Estimated says that it was worked out from others; By is the formula, From
	// are the measures that the formula reads; it is shared and must not be changed.
	Estimated bool
	By        string
	From      []string
	// Summed says that it is the sum of a front and a back arc that were taken: no
	// estimate has a part in it.
	Summed bool
}

// Taken reports whether the measure was taken, by itself or as a front and a back arc.
func (k Known) Taken() bool { return k.Value > 0 && (!k.Estimated || k.Summed) }
