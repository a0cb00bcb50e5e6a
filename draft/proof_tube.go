package draft

import (
	"fmt"
	"math"
	"slices"
)

// The smallest tubes, in mm (rules of scale: common practice, no source).
const (
	// turnWidth is how wide a tube lies flat that can still be turned right side out.
	turnWidth = 4.5
	// machineRadius is the radius of the narrowest tube that slips over the free arm or
	// past the foot of a machine and can be sewn in the round.
	machineRadius = 9
)

// proveTubes finds the sleeves, legs and straps that are too narrow to turn or to sew in
// the round.
func (g *sewnGarment) proveTubes(openings []Opening) []Proof {
	u := g.Unit
	var out []Proof
	var hand []string
	narrowest := math.Inf(1)
	var first Opening
	for _, o := range openings {
		if o.Line != "" || len(o.Uses) == 0 {
			continue
		}
		round := o.Length
		if flat := round / 2; flat < turnWidth {
			out = append(out, Proof{
				Key: "turn/" + o.Key, Kind: ProofTube, Garment: g.name, Name: o.Name, Uses: o.Uses,
				Piece: o.Uses[0].Piece, Edge: o.Uses[0].Edge, Known: true, Level: LookAgain,
				Have: flat, Need: turnWidth, Diff: flat - turnWidth,
				Says: fmt.Sprintf("Laid flat the tube at %s is %s wide; below %s it can hardly be turned right side out. Make it wider, fold it over and sew it from outside, or use a cord or ribbon.", o.Name, u.Format(flat), u.Format(turnWidth)),
				Why:  "Rule of scale: a turned tube is at least 4 to 5 mm wide when it is finished.",
			})
			continue
		}
		if round < 2*math.Pi*machineRadius {
			if name := o.Name; !slices.Contains(hand, name) {
				hand = append(hand, name)
			}
			if round < narrowest {
				narrowest, first = round, o
			}
		}
	}
	if len(hand) > 0 {
		need := 2 * math.Pi * machineRadius
		out = append(out, Proof{
			Key: "round/" + g.name, Kind: ProofTube, Garment: g.name, Name: list(hand, maxListedLines), Uses: first.Uses,
			Piece: first.Uses[0].Piece, Edge: first.Uses[0].Edge, Known: true, Level: Remark,
			Have: narrowest, Need: need, Diff: narrowest - need,
			Says: fmt.Sprintf("Only %s round at %s: too narrow to sew in the round on a machine. Sew the edge while the piece lies flat, before its long seam, or sew it by hand.", u.Format(narrowest), first.Name),
			Why:  "Rule of scale: a machine sews in the round from a radius of 8 to 10 mm.",
		})
	}
	return out
}
