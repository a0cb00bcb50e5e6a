package draft

import "hemlet/draft/figure"

// Measure is one measure of a wearer, in mm.
type Measure struct {
	Name  string
	Value float64
	// Estimated marks a value that was worked out from the others.
	Estimated bool
}

// Level is a named height of the body at which it is measured round.
type Level struct {
	Name string
	// Height is above the ground; FrontArc and BackArc run from side to side.
	// All are in mm, 0 where not known.
	Height, FrontArc, BackArc float64
}

// BodyPart is a part that a garment must pass over, or that comes off.
type BodyPart struct {
	Name string
	// Girth is the largest girth that must pass, in mm.
	Girth    float64
	ComesOff bool
}

// Worn is a layer that is worn under the garment.
type Worn struct {
	Name string
	// Thickness is in mm.
	Thickness float64
}

// Wearer is the body that a garment is made for.
type Wearer struct {
	ID   ID
	Name string
	// Build is the kind of body that the wearer is drawn as.
	Build    figure.Build
	Measures []Measure
	Levels   []Level
	Parts    []BodyPart
	Under    []Worn
}

// Measure returns the named measure, or false.
func (w *Wearer) Measure(name string) (Measure, bool) {
	for _, m := range w.Measures {
		if m.Name == name {
			return m, true
		}
	}
	return Measure{}, false
}
