package draft

// SeamState is how a seam stands: what its two runs measure against what they
// should.
type SeamState struct {
	Seam *Seam
	// A and B are the lengths of the two runs in mm, without darts.
	A, B float64
	// Ratio is the fuller run over the other, Want what was intended.
	Ratio, Want float64
	// Diff is how much longer than intended the fuller run is, in mm; negative
	// where it is short.
	Diff float64
	// Limit is the difference in mm that sewing takes up unseen.
	Limit float64
	Holds bool
}

// The difference that a seam may have: half a millimetre, which a hand stitches
// away, and a four-hundredth of a long seam, up to what a metre of plain weave
// gives. For a wearer smaller than a quarter of a person both shrink with the stature,
// for half a millimetre is much on a sleeve of 20 mm, but not below what the finest
// needle hides. (Common practice, no source.)
const (
	seamLimitMin   = 0.5 // mm
	seamLimitMax   = 2.0 // mm
	seamLimitShare = 1. / 400
	seamLimitLeast = 0.2 // mm
)

// gathersShare is the share of the fuller side by which gathers may be off: drawn up
// on a thread they are spread by eye, and no eye sees a fiftieth. (Common practice,
// no source.)
const gathersShare = 1. / 50

// SeamState returns the state of a seam, or an error if it points at something
// that is gone.
func (s *Slots) SeamState(p *Project, seam *Seam) (SeamState, error) {
	a, err := s.RunLength(p, seam.A)
	if err != nil {
		return SeamState{}, err
	}
	b, err := s.RunLength(p, seam.B)
	if err != nil {
		return SeamState{}, err
	}
	state := SeamState{Seam: seam, A: a, B: b, Want: seam.Ratio}
	full, other := b, a
	if seam.Fuller == SideA {
		full, other = a, b
	}
	if other > 0 {
		state.Ratio = full / other
	}
	state.Diff = full - seam.Ratio*other
	state.Limit = s.seamLimitFor(p, seam, other)
	if seam.Fullness == Gathers {
		state.Limit = max(state.Limit, full*gathersShare)
	}
	state.Holds = state.Diff <= state.Limit && -state.Diff <= state.Limit
	return state, nil
}

// seamLimitFor returns what a seam whose other side has a length may be off, by the size of
// its wearer.
func (s *Slots) seamLimitFor(p *Project, seam *Seam, length float64) float64 {
	limit := seamLimit(length)
	stature := s.statureFor(p, seam.A)
	if stature <= 0 || stature >= smallStature {
		return limit
	}
	share := max(stature/smallStature, seamLimitLeast/seamLimitMin)
	return min(max(seamLimitMin*share, length*seamLimitShare), seamLimitMax*share)
}

// seamLimit returns the difference in mm that a plain seam of a length takes up unseen.
func seamLimit(length float64) float64 {
	return min(max(seamLimitMin, length*seamLimitShare), seamLimitMax)
}

// Letter returns the mark that both edges of the i-th seam of a project bear: A
// to Z, then AA to AZ, BA and so on, without I and O, which read as figures.
func Letter(i int) string {
	const alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	text := ""
	for i >= 0 {
		text = string(alphabet[i%len(alphabet)]) + text
		i = i/len(alphabet) - 1
	}
	return text
}
