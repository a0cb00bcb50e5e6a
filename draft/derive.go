package draft

// Flat returns the piece as it lies when cut. Where there is an error the flat
// piece may still hold its stitching line; it is nil only where it has none.
func (s *Slots) Flat(p *Piece) (*Flat, error) {
	type result struct {
		flat *Flat
		err  error
	}
	r := slotOf(s, "flat", p.ID, slotInputs{p}, func() result {
		flat, err := LayFlat(p)
		return result{flat, err}
	})
	return r.flat, r.err
}

// EdgeLengths returns the length in mm of each edge of the piece as drawn,
// without darts.
func (s *Slots) EdgeLengths(p *Piece) []float64 {
	return slotOf(s, "edge lengths", p.ID, slotInputs{p}, func() []float64 {
		out := make([]float64, len(p.Edges))
		for i := range p.Edges {
			out[i] = p.EdgeLength(i)
		}
		return out
	})
}

// RunLength returns the length in mm of a run over all its edge uses.
func (s *Slots) RunLength(p *Project, run Run) (float64, error) {
	sum, at := 0.0, s.lookupIn(p)
	for _, use := range run {
		piece, i, err := at.edge(use)
		if err != nil {
			return 0, err
		}
		sum += s.EdgeLengths(piece)[i]
	}
	return sum, nil
}
