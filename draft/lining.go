package draft

import (
	"fmt"
	"math"
	"slices"
)

// roleLining is the role of a lining.
const roleLining = "lining"

// lining makes the lining of the parent: the same piece with some of its edges moved
// inside, so that the lining is not seen.
type lining struct {
	name     string
	mirrored bool
	// inside is how far each edge that is moved lies inside, in mm.
	inside map[ID]float64
}

func (s *settingReader) lining() lining {
	return lining{name: s.text(settingName), mirrored: s.yes(settingMirrored), inside: s.widths(settingInside)}
}

func (lining) role() string { return roleLining }

func (m lining) settings() []Setting {
	var l settingList
	l.text(settingMake, roleLining)
	l.text(settingName, m.name)
	l.yes(settingMirrored, m.mirrored)
	l.widths(settingInside, m.inside)
	return l
}

func (m lining) follow(lin Lineage) (recipe, bool) {
	next, changed := followWidths(m.inside, lin)
	m.inside = next
	return m, changed
}

func (m lining) make(parent *Piece, ids linkIDs) (*Piece, error) {
	p := parent.clone()
	p.Lines = linesOfKinds(p.Lines, GatheringLine, PleatLine, SlitLine, CutoutLine, DartLine, ReinforcePoint)
	q := traced(p, ids)
	edges, err := insetEdges(q, m.widths(parent), ids.between)
	if err != nil {
		return nil, err
	}
	was := q.clone()
	q.Edges = edges
	insetMarks(was, q)
	q.Name, q.Note, q.LabelAt, q.Layer = nameOr(m.name, parent.label()+" lining"), "", nil, Lining
	if m.mirrored {
		q = turnedOver(q)
	}
	return q, nil
}

// smoothCorner is the turn, in radians, up to which two edges run on into each other so
// that a step would be seen where they lie inside by different widths: 20 degrees. The
// wider then tapers to the narrower along its whole length.
const smoothCorner = 20 * math.Pi / 180

// widths returns how far each edge of the parent is moved at its two ends.
func (m lining) widths(parent *Piece) []inset {
	n := len(parent.Edges)
	out := make([]inset, n)
	for i := range out {
		if w := m.inside[parent.Edges[i].ID]; !parent.foldsOn(i) {
			out[i] = inset{w, w}
		}
	}
	even := slices.Clone(out)
	for i := range out {
		h := (i + n - 1) % n
		if h == i || even[h] == even[i] {
			continue
		}
		before, after := parent.EdgePath(h), parent.EdgePath(i)
		u, v := before[len(before)-1].Tangent(1), after[0].Tangent(0)
		if math.Abs(math.Atan2(u.Cross(v), u.Dot(v))) <= smoothCorner {
			w := min(even[h].start, even[i].start)
			out[h].end, out[i].start = w, w
		}
	}
	return out
}

// checkEdges reports a width for an edge that the parent has not.
func (m lining) checkEdges(parent *Piece) error {
	for id := range m.inside {
		if e, i := parent.Edge(id); e == nil {
			return fmt.Errorf("edge %s of %s %w", id, parent.label(), errGone)
		} else if parent.foldsOn(i) && m.inside[id] > 0 {
			return fmt.Errorf("edge %s is a fold and cannot lie inside", e.label())
		}
	}
	return nil
}
