package geom

import (
	"math"
	"sort"
)

// Run is a row of paths that are sewn as one line: in order, each in the
// direction of sewing, with gaps allowed between them (a closed dart takes no
// length). Distances along it are mm of path; a gap has none. The zero Run is
// empty.
type Run struct {
	tapes []Tape
	ends  []float64 // length to the end of each path
}

// RunPlace is a place on one of the paths of a run.
type RunPlace struct {
	Path int
	Place
}

// NewRun measures the paths. Empty paths are kept, so that the numbers of the
// paths hold, and have no length.
func NewRun(paths ...Path) Run {
	r := Run{make([]Tape, len(paths)), make([]float64, len(paths))}
	sum := 0.0
	for i, p := range paths {
		r.tapes[i] = p.Tape()
		sum += r.tapes[i].Length()
		r.ends[i] = sum
	}
	return r
}

// Length returns the length of the run in mm, without gaps.
func (r Run) Length() float64 {
	if len(r.ends) == 0 {
		return 0
	}
	return r.ends[len(r.ends)-1]
}

// Paths returns how many paths the run has.
func (r Run) Paths() int { return len(r.tapes) }

// Path returns path i of the run.
func (r Run) Path(i int) Path { return r.tapes[i].Path() }

// Starts returns the distance along the run at which path i starts.
func (r Run) Starts(i int) float64 {
	if i == 0 {
		return 0
	}
	return r.ends[i-1]
}

// Reverse returns the run from its end to its start.
func (r Run) Reverse() Run {
	n := len(r.tapes)
	paths := make([]Path, n)
	for i, t := range r.tapes {
		paths[n-1-i] = t.path.Reverse()
	}
	return NewRun(paths...)
}

// At returns the place at distance d mm along the run, held within 0 and Length;
// where two paths meet, the end of the first. It is false for a run without
// segments.
func (r Run) At(d float64) (RunPlace, bool) {
	i := sort.SearchFloat64s(r.ends, math.Max(d, 0))
	if math.IsNaN(d) {
		i = 0
	}
	i = min(i, len(r.ends)-1)
	for i >= 0 && len(r.tapes[i].path) == 0 {
		i-- // a distance beyond the end, past empty paths
	}
	if i < 0 {
		return r.first()
	}
	return RunPlace{i, r.tapes[i].At(d - r.Starts(i))}, true
}

// first returns the start of the first path that has a segment.
func (r Run) first() (RunPlace, bool) {
	for i, t := range r.tapes {
		if len(t.path) > 0 {
			return RunPlace{i, Place{}}, true
		}
	}
	return RunPlace{}, false
}

// After returns the place at distance d as At does, but where two paths or two
// segments meet, the start of the second.
func (r Run) After(d float64) (RunPlace, bool) {
	at, ok := r.At(d)
	for ok && at.T == 1 {
		next := RunPlace{at.Path, Place{at.Seg + 1, 0}}
		for next.Path < len(r.tapes) && next.Seg >= len(r.tapes[next.Path].path) {
			next = RunPlace{next.Path + 1, Place{}}
		}
		if next.Path == len(r.tapes) {
			return at, true
		}
		at = next
		if r.tapes[at.Path].path[at.Seg].size() > 0 {
			return at, true
		}
		at.T = 1 // a segment without length: on to the next
	}
	return at, ok
}

// To returns the distance along the run to the place.
func (r Run) To(at RunPlace) float64 { return r.Starts(at.Path) + r.tapes[at.Path].To(at.Place) }

// Point returns the point at a place of the run.
func (r Run) Point(at RunPlace) Point { return r.tapes[at.Path].path.At(at.Place) }

// Tangent returns the unit direction of sewing at a place of the run.
func (r Run) Tangent(at RunPlace) Point { return r.tapes[at.Path].path.Tangent(at.Place) }

// Between returns the parts of the run's paths from distance d0 to d1, in order,
// both held within 0 and Length; with d0 > d1 the parts run backwards, the last
// one first. Parts without length are left out.
func (r Run) Between(d0, d1 float64) []Path {
	if d0 > d1 {
		return NewRun(r.Between(d1, d0)...).Reverse().paths()
	}
	var parts []Path
	for i, t := range r.tapes {
		a, b := math.Max(d0-r.Starts(i), 0), math.Min(d1-r.Starts(i), t.Length())
		if part := t.forward(a, b); len(part) > 0 {
			parts = append(parts, part)
		}
	}
	return parts
}

func (r Run) paths() []Path {
	out := make([]Path, len(r.tapes))
	for i, t := range r.tapes {
		out[i] = t.path
	}
	return out
}
