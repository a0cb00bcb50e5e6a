package draft

import "testing"

// By nothing, nothing moves: what every alteration wants is there already.
func TestAlterByNothing(t *testing.T) {
	p := bodiceFor(t)
	anatomy := NewSlots().Anatomy(p)
	for _, info := range alterations {
		a, err := p.alteringOf(anatomy, info.What, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a.plan() != nil {
			continue // a front and a back have neither sleeve nor foot
		}
		next, err := a.solve()
		if err != nil {
			t.Fatalf("%s: %v", info.What, err)
		}
		const still = 1e-6
		if off := Movement(p, next); off > still {
			t.Errorf("%s by nothing moves an outline by %g mm", info.What, off)
		}
	}
}

// A drafted piece that was altered follows a changed measure, and is altered still.
func TestAlteredPieceFollowsAMeasure(t *testing.T) {
	p := bodiceFor(t)
	altered := mustDo(t, p, "alter", "what=shoulder slope", "by=3mm").Project
	tip := func(q *Project) float64 {
		front := q.Pieces[0]
		for i := range front.Edges {
			if front.Edges[i].Name == "armhole" {
				return front.Edges[i].Nodes[0].At.Y
			}
		}
		t.Fatal("there is no armhole")
		return 0
	}
	grow := func(q *Project) *Project {
		return mustDo(t, q, "set-measure", "wearer=Quill", "name=belly_girth", "value=272mm").Project
	}
	plain, carried := grow(p), grow(altered)
	if plain.Pieces[0] == p.Pieces[0] || carried.Pieces[0] == altered.Pieces[0] {
		t.Fatal("the measure changes nothing: the case shows nothing")
	}
	if down := tip(plain) - tip(carried); down < 2.7 || down > 3.3 {
		t.Errorf("the tip of the shoulder lies %.3f mm lower than without the alteration, 3 before the measure changed", down)
	}
}
