package draft

import "slices"

// Origin says where pieces came from that somebody else drew, and for whom they were
// made, so that they can be fitted to another body.
type Origin struct {
	ID ID
	// Name is what the pattern is called, Size the size that it states, in its own words.
	Name, Size string
	// Line is what the drawn outlines were, and Allowance the mm of it that lay inside
	// them: 0 for stitching lines.
	Line      DrawnLine
	Allowance float64
	// Measures are those of the body for which it was made, as far as it states them.
	Measures []OriginMeasure
	// Under is what that body wore under it. A layer without a name is all of it together.
	Under []Worn
	// Estimates are how the block by which it was drafted reads measures that nobody took,
	// where that is otherwise than the catalogue does.
	Estimates []OriginEstimate
}

// OriginMeasure is one measure of the body for which a pattern was made, in mm.
type OriginMeasure struct {
	Name  string
	Value float64
}

// OriginEstimate is the formula by which a block estimates a measure.
type OriginEstimate struct{ Measure, Formula string }

// WornUnder returns how thick is what the body wore under the pattern, in mm.
func (o *Origin) WornUnder() float64 { return thickness(o.Under) }

// Measure returns the named measure in mm, or false.
func (o *Origin) Measure(name string) (float64, bool) {
	for _, m := range o.Measures {
		if m.Name == name {
			return m.Value, true
		}
	}
	return 0, false
}

// says reports whether o and n say the same.
func (o *Origin) says(n *Origin) bool {
	return o.Name == n.Name && o.Size == n.Size && o.Line == n.Line && o.Allowance == n.Allowance &&
		slices.Equal(o.Measures, n.Measures) && slices.Equal(o.Under, n.Under) && slices.Equal(o.Estimates, n.Estimates)
}

// clone returns a copy that shares no slice with o, so that an act may write to it.
func (o *Origin) clone() *Origin {
	n := *o
	n.Measures, n.Under, n.Estimates = slices.Clone(o.Measures), slices.Clone(o.Under), slices.Clone(o.Estimates)
	return &n
}

// withoutIdleOrigins returns the project without origins from which no piece comes.
func (p *Project) withoutIdleOrigins() *Project {
	used := make(map[ID]bool)
	for _, piece := range p.Pieces {
		used[piece.Origin] = true
	}
	for _, d := range p.Derivations {
		for _, in := range d.Inputs {
			used[in] = true
		}
	}
	var kept []*Origin
	for _, o := range p.Origins {
		if used[o.ID] {
			kept = append(kept, o)
		}
	}
	if len(kept) == len(p.Origins) {
		return p
	}
	next := p.shallow()
	next.Origins = kept
	return next
}
