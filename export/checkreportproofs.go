package export

import "hemlet/draft"

// openings writes every opening of the made-up garments against what has to pass it.
func (c *reporting) openings() {
	var rows [][]cell
	for _, o := range c.allOpenings() {
		name := o.Name
		if o.Times > 1 {
			name += " (twice)"
		}
		opened := c.unit.FormatBare(o.Length)
		if o.Full {
			opened = "opens all the way"
		}
		needs := ""
		if o.Known {
			needs = c.unit.FormatBare(o.Needs)
			if o.Estimated {
				needs += " (estimated)"
			}
		}
		rows = append(rows, []cell{plain(name), plain(o.Garment), plain(opened), plain(c.unit.FormatBare(o.Closed)), plain(o.What), plain(needs), openingState(o)})
	}
	if len(rows) == 0 {
		return
	}
	c.flow.chapter("Openings", "How far round each is with all that opens open, and closed; slits count on both sides, gathers and casings at their flat length.")
	c.flow.table([]column{{"opening", 40}, {"garment", 22}, {"opened", 22}, {"closed", 18}, {"passes", 30}, {"needs", 26}, {"state", 24}}, rows)
}

// allOpenings returns the openings of every garment, in the order of the pieces.
func (c *reporting) allOpenings() []draft.Opening {
	var out []draft.Opening
	seen := make(map[string]bool)
	for _, piece := range c.project.Pieces {
		if !seen[piece.Garment] {
			seen[piece.Garment] = true
			out = append(out, c.slots.Openings(c.project, piece.Garment)...)
		}
	}
	return out
}

func openingState(o draft.Opening) cell {
	switch {
	case o.Holds && (o.Known || o.Full):
		return cell{sign: signHolds, words: "passes"}
	case o.Barely:
		return cell{signLook, "only just", true}
	case o.Known && !o.Full:
		return cell{signProblem, "too small", true}
	case o.Passes == "" || o.Passes == draft.PassesNothing:
		return cell{words: "nothing has to"}
	default:
		return cell{sign: signNote, words: "not known"}
	}
}

// proofs writes what else was held against the wearer, and against the hand and the
// machine that sew it.
func (c *reporting) proofs() {
	var rows [][]cell
	for _, pr := range c.slots.Proofs(c.project) {
		if pr.Kind == draft.ProofOpening {
			continue
		}
		rows = append(rows, []cell{plain(pr.Kind.String()), plain(pr.Name), plain(pr.Says), c.proofState(pr)})
	}
	if len(rows) == 0 {
		return
	}
	c.flow.chapter("Proofs on the wearer", "")
	c.flow.table([]column{{"proof", 18}, {"of", 32}, {"", 104}, {"state", 28}}, rows)
}

func (c *reporting) proofState(pr draft.Proof) cell {
	switch {
	case !pr.Known:
		return cell{sign: signNote, words: "not known"}
	case pr.Holds:
		return cell{sign: signHolds, words: "holds"}
	case pr.Level == draft.Remark:
		return cell{sign: signNote, words: "note"}
	default:
		return cell{levelSign(pr.Level), pr.Level.String(), true}
	}
}
