package warp

import "hemlet/geom"

const (
	// leastOpen is the share of the distance between two sides of an outline that is to
	// stay between them, beside the whole's scale: cloth whose edges touch is not cut.
	leastOpen = 0.1
	// openPlaces is the number of places of a stretch at which that is looked at, its start
	// counted.
	openPlaces = 16
)

// open reports whether no two sides of an outline have come as near as to touch. Stretches
// beside one another meet in any case, and those beside the mouth of a dart may.
func (m *model) open(z [][]float64) bool {
	x := m.prog.At(z)
	for k, b := range m.bodies {
		now := Shape{Nodes: b.nodes(x[k])}
		for i := range now.Nodes {
			for j := range now.Nodes {
				next, prev := now.next(i), now.prev(i)
				beside := j == i || j == next || j == prev ||
					m.mouth(k, next) && j == now.next(next) || m.mouth(k, prev) && j == now.prev(prev)
				if !beside && !stayOpen([2]geom.Segment{b.shape.stretch(0, i), now.stretch(0, i)}, [2]geom.Segment{b.shape.stretch(0, j), now.stretch(0, j)}, leastOpen*m.scale) {
					return false
				}
			}
		}
	}
	return true
}

// stayOpen reports whether every place of stretch a, given as it was and as it is, keeps that
// share of its distance from b.
func stayOpen(a, b [2]geom.Segment, share float64) bool {
	for c := range openPlaces {
		t := float64(c) / openPlaces
		_, was := b[0].Nearest(a[0].At(t))
		if _, now := b[1].Nearest(a[1].At(t)); now < share*was {
			return false
		}
	}
	return true
}
