package draft

import "testing"

// BenchmarkProofsAfterOneEdit proves a project of 200 pieces and 300 seams of which one point
// was moved since the last time, as every step of a drag does.
func BenchmarkProofsAfterOneEdit(b *testing.B) {
	p := workroom(200, 300)
	p = onBody(b, p, map[string]float64{"head_girth": 281, "stature": 360})
	// Three states in turn: a cache that holds the last two helps none.
	states := [3]*Project{p}
	for k := range 2 {
		other, err := MoveNodes.Do(p, MoveNodesArgs{
			Nodes: []NodeRef{{p.Pieces[70].ID, p.Pieces[70].Edges[3].Nodes[0].ID}}, By: Vector{X: 0.1 * float64(k+1)},
		})
		if err != nil {
			b.Fatal(err)
		}
		states[k+1] = other.Project
	}
	s := NewSlots()
	s.Proofs(p)
	i := 0
	for b.Loop() {
		i++
		s.Proofs(states[i%3])
	}
}
