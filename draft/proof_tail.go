package draft

import "fmt"

// proveTail tells that a tail finds no opening in a garment with legs, which closes round it;
// under a skirt it hangs freely.
func (g *sewnGarment) proveTail(openings []Opening) []Proof {
	if !g.hasLegs() {
		return nil
	}
	tail := g.largest(g.measured("tail_girth"), OpenTail, "tail")
	if !tail.known || tail.estimated || g.comesOff("tail") {
		return nil
	}
	for _, o := range openings {
		if o.Place == OpenTail {
			return nil
		}
	}
	first := g.pieces[0]
	return []Proof{{
		Key: "opening/tail/" + g.name, Kind: ProofOpening, Garment: g.name, Name: "tail", Wearer: g.wearer.ID, Piece: first.ID,
		Known: true, Level: LookAgain, Need: tail.mm, Diff: -tail.mm,
		Says: fmt.Sprintf("A tail of %s round finds no opening. Cut one out, and call it tail, or open the centre back that far.", g.Unit.Format(tail.mm)),
		Why:  "A garment with legs closes round the root of the tail.",
	}}
}
