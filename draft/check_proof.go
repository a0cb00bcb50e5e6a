package draft

import (
	"fmt"
	"strings"

	"hemlet/draft/body"
)

// checkProofs makes findings of the proofs that do not hold.
func (s *Slots) checkProofs(p *Project) []Finding {
	var out []Finding
	proofs := s.Proofs(p)
	for _, pr := range proofs {
		switch {
		case pr.Kind == ProofCurve || pr.alone:
		case pr.Known && !pr.Holds:
			out = append(out, pr.finding())
		}
	}
	out = append(out, wantedFindings(p, proofs)...)
	return append(out, clipFindings(s.lookupIn(p), proofs)...)
}

func (pr Proof) finding() Finding {
	f := Finding{
		Key: pr.Key, Level: pr.Level, About: pr.about(), Says: pr.Says,
		Value: max(-pr.Diff, 0), Piece: pr.Piece, Edge: pr.Edge, Seam: pr.Seam, At: pr.At,
		Wearer: pr.Wearer, Measures: pr.Measures, Mends: pr.Mends,
	}
	switch pr.Kind {
	case ProofOpening:
		f.Limit = passSlack
	case ProofGirth, ProofLength:
		f.Limit = closeLimit
		f.Value = max(f.Value, pr.Diff)
	}
	return f
}

// about names what the finding is about: the garment where there is more than one thing to
// tell apart.
func (pr Proof) about() string {
	if pr.Garment == "" {
		return pr.Name
	}
	return pr.Garment + ", " + pr.Name
}

// wantedFindings tells once of each measure that is wanted to prove something.
func wantedFindings(p *Project, proofs []Proof) []Finding {
	var out []Finding
	told := make(map[string]bool)
	for _, pr := range proofs {
		if pr.Known || len(pr.Measures) == 0 || pr.alone {
			continue
		}
		measure := pr.Measures[0]
		key := "wanted/" + string(pr.Wearer) + "/" + measure
		if told[key] {
			continue
		}
		told[key] = true
		who := "the wearer"
		if w := p.Wearer(pr.Wearer); w != nil {
			who = labelOf(w.Name, w.ID)
		}
		out = append(out, Finding{
			Key: key, Level: Remark, About: pr.about(), Piece: pr.Piece, Edge: pr.Edge, Wearer: pr.Wearer, Measures: pr.Measures,
			Says: fmt.Sprintf("Whether %s will do cannot be told yet. Measure %s %s.", pr.Name, who, body.Words(measure)),
		})
	}
	return out
}

// clipFindings tells once of each piece which of its allowances do not turn unclipped.
func clipFindings(look *lookup, proofs []Proof) []Finding {
	var out []Finding
	at := make(map[ID]int)
	edges := make(map[ID][]string)
	for _, pr := range proofs {
		if pr.Kind != ProofCurve || pr.Holds || pr.alone {
			continue
		}
		if _, told := at[pr.Piece]; !told {
			piece := look.pieces[pr.Piece]
			at[pr.Piece] = len(out)
			out = append(out, Finding{
				Key: "piece/" + string(pr.Piece) + "/clip", Level: Remark, About: piece.label(), Piece: pr.Piece, Edge: pr.Edge, At: pr.At,
				Mends: []Mend{{Title: "Mark its hollows to be clipped", Act: "clip-curves", Args: map[string]string{"pieces": idText(pr.Piece)}}},
			})
		}
		name := strings.TrimSuffix(pr.Name, " of "+look.pieces[pr.Piece].label())
		if list := edges[pr.Piece]; len(list) == 0 || list[len(list)-1] != name {
			edges[pr.Piece] = append(list, name)
		}
	}
	for k := range out {
		f := &out[k]
		f.Says = fmt.Sprintf("The allowance does not turn in the hollow of %s: the cut edge would have to stretch by more than a third. Clip it there, clear of the stitching.", list(edges[f.Piece], maxListedLines))
	}
	return out
}
