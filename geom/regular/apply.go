package regular

import (
	"fmt"
	"math"
	"strings"

	"hemlet/geom"
)

// ConflictError says which suggestions do not hold together with those taken before them.
type ConflictError struct {
	Refused []Suggestion
	// Why is in plain words what goes against the first of them.
	Why string
}

func (e *ConflictError) Error() string {
	var names []string
	for _, s := range e.Refused {
		names = append(names, s.Kind.String())
	}
	return fmt.Sprintf("not everything holds together: %s left out, %s", strings.Join(names, ", "), e.Why)
}

// What goes against a suggestion.
const (
	whyContradicts = "because it contradicts what was taken before"
	whyCrosses     = "because the outline would cross itself"
	whyShrinks     = "because an edge would shrink to less than half"
	whyForeign     = "because it is about another outline"
)

// shrunk is the share of its length that an edge keeps at least: what makes it shorter is
// not a small correction.
const shrunk = 0.5

// Apply returns the outline in which everything taken holds together, to within 1e-6 mm,
// with the least movement, and how far its farthest point moved in mm. All suggestions are
// those of Suggest for this very outline, in the order in which they were taken: to take
// one more, hand them all over again with the first outline. A path that was closed starts
// at a corner afterwards.
//
// Those that do not hold together with the ones before them, or would make an outline
// without crossings cross itself, are left out: the error is then a *ConflictError that
// names them, and the outline is that with the others. Other errors say that the outline
// is none.
func Apply(o Outline, take []Suggestion) (Outline, float64, error) {
	m, err := newModel(o)
	if err != nil {
		return o, 0, err
	}
	if len(take) == 0 {
		return o, 0, nil
	}
	crossed := o.Path.Simple() != nil
	r, why := m.together(take, crossed)
	if why == "" {
		return r.outline, r.moved, nil
	}
	// One after the other finds who does not fit.
	conflict := &ConflictError{}
	var kept []Suggestion
	best := result{outline: o}
	for _, s := range take {
		r, w := m.together(append(kept[:len(kept):len(kept)], s), crossed)
		if w != "" {
			if conflict.Why == "" {
				conflict.Why = w
			}
			conflict.Refused = append(conflict.Refused, s)
			continue
		}
		kept, best = append(kept, s), r
	}
	if len(conflict.Refused) == 0 {
		return best.outline, best.moved, nil
	}
	return best.outline, best.moved, conflict
}

// result is an outline in which suggestions hold, and how far its farthest point moved.
type result struct {
	outline Outline
	moved   float64
}

// together returns the outline in which all of take hold, or why there is none.
func (m *model) together(take []Suggestion, crossed bool) (result, string) {
	for _, s := range take {
		if !m.knows(s) {
			return result{}, whyForeign
		}
	}
	w := m.clone()
	smooth, ok := w.ready(take)
	if !ok {
		return result{}, whyContradicts
	}
	rules := w.smoothJoints(m)
	for _, s := range take {
		rules = append(rules, w.rules(s)...)
	}
	z, ok := w.solve(rules)
	if !ok {
		return result{}, whyContradicts
	}
	for i := range w.edges {
		if w.lengthAt(i, z) < shrunk*m.lengthAt(i, m.start) {
			return result{}, whyShrinks
		}
	}
	for _, s := range take {
		if s.Kind == Symmetric && !w.isMirrored(s.pairing, z) {
			return result{}, whyContradicts
		}
	}
	out := result{outline: w.outline(z, smooth)}
	if !crossed && out.outline.Path.Simple() != nil {
		return result{}, whyCrosses
	}
	for i := range m.edges {
		a, b := m.edges[i].path, w.at(i, z)
		out.moved = max(out.moved, apart(a, b), a.Start().Dist(b.Start()), a.End().Dist(b.End()))
	}
	return out, ""
}

// knows reports whether a suggestion can be about the outline of the model.
func (m *model) knows(s Suggestion) bool {
	for _, e := range s.Edges {
		if e < 0 || e >= len(m.edges) {
			return false
		}
	}
	for _, c := range s.Corners {
		if c < 0 || c >= len(m.corners) {
			return false
		}
	}
	bends := func(c int) bool { return m.before(c) >= 0 && m.after(c) >= 0 }
	switch s.Kind {
	case Straight, Upright, Level:
		return len(s.Edges) >= 1
	case Parallel, Equal:
		return len(s.Edges) >= 2 && s.Edges[0] != s.Edges[1]
	case Square, Smooth:
		return len(s.Corners) >= 1 && bends(s.Corners[0])
	case Abreast, InLine:
		return len(s.Corners) >= 2 && s.Corners[0] != s.Corners[1]
	case OnFold:
		return len(s.Edges) == 1 && len(s.Corners) == 2 && bends(s.Corners[0]) && bends(s.Corners[1])
	case Symmetric:
		return len(m.corners) >= 2
	}
	return false
}

// ready changes the kinds of edges as the suggestions want: straight, or the image of each
// other. It returns the corners that become smooth, and false where edges cannot be the
// image of each other.
func (m *model) ready(take []Suggestion) (smooth map[int]bool, ok bool) {
	smooth = map[int]bool{}
	for _, s := range take {
		switch s.Kind {
		case Straight, Upright, Level, Parallel, OnFold:
			for _, e := range s.Edges {
				m.straighten(e)
			}
		case Smooth:
			smooth[s.Corners[0]] = true
		}
	}
	m.unknowns()
	for _, s := range take {
		if s.Kind == Symmetric && !m.makeMirrored(s.pairing) {
			return smooth, false
		}
	}
	return smooth, true
}

// apartLooks is the number of places of each segment whose distance is looked at.
const apartLooks = 12

// apart returns the largest distance from a place of one path to the other one, and the
// other way round.
func apart(a, b geom.Path) float64 {
	far := 0.0
	for _, pair := range [2][2]geom.Path{{a, b}, {b, a}} {
		for _, s := range pair[0] {
			for i := range apartLooks + 1 {
				p := s.At(float64(i) / apartLooks)
				near := math.Inf(1)
				for _, t := range pair[1] {
					_, d := t.Nearest(p)
					near = min(near, d)
				}
				far = max(far, near)
			}
		}
	}
	return far
}
