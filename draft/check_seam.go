package draft

import (
	"fmt"
	"math"
)

// gathersFrom is the ratio above which a seam is called gathered and below which
// gathers read as a pucker. (Common practice, no source.)
const (
	easeTo      = 1.04
	gathersFrom = 1.3
)

func checkSeam(p *Project, st SeamState) []Finding {
	seam := st.Seam
	f := Finding{
		Key: "seam/" + string(seam.ID) + "/length", Level: Problem, Seam: seam.ID,
		About: "seam " + seam.Name, Value: math.Abs(st.Diff), Limit: st.Limit,
	}
	if len(seam.A) > 0 {
		f.Piece, f.Edge = seam.A[0].Piece, seam.A[0].Edge
	}
	if !st.Holds {
		f.Says = seamSays(p, st)
		return []Finding{f}
	}
	if seam.Fullness == Gathers && seam.Ratio > easeTo && seam.Ratio < gathersFrom {
		f.Key, f.Level, f.Value, f.Limit = "seam/"+string(seam.ID)+"/pucker", LookAgain, 0, 0
		f.Says = fmt.Sprintf("It gathers at %.2f; below %.1f gathers read as a pucker. Ease it, pleat it, or make it fuller.", seam.Ratio, gathersFrom)
		return []Finding{f}
	}
	return nil
}

func seamSays(p *Project, st SeamState) string {
	u := p.Unit
	if st.Want == 1 {
		return fmt.Sprintf("Its sides are %s and %s, %s apart, and should be equal; sewn together one of them puckers. Move a point, or say that one side is eased or gathered.",
			u.Format(st.A), u.Format(st.B), u.Format(math.Abs(st.Diff)))
	}
	than := "longer"
	if st.Diff < 0 {
		than = "shorter"
	}
	return fmt.Sprintf("Its sides are %s and %s, a fullness of %.3f; %.3f is wanted, so the fuller side is %s %s than it should be.",
		u.Format(st.A), u.Format(st.B), st.Ratio, st.Want, u.Format(math.Abs(st.Diff)), than)
}

// checkUses finds edge uses that two seams claim.
func checkUses(p *Project) []Finding {
	type bare struct {
		piece ID
		copy  CopyRef
		half  Half
		edge  ID
	}
	first := make(map[bare]*Seam)
	var out []Finding
	for _, seam := range p.Seams {
		for _, run := range []Run{seam.A, seam.B} {
			for _, u := range run {
				key := bare{u.Piece, u.Copy, u.Half, u.Edge}
				other, taken := first[key]
				if !taken {
					first[key] = seam
					continue
				}
				piece := p.Piece(u.Piece)
				if piece == nil {
					continue
				}
				name := ""
				if e, _ := piece.Edge(u.Edge); e != nil {
					name = e.Name
				}
				out = append(out, Finding{
					Key: "seam/" + string(seam.ID) + "/twice/" + string(u.Edge), Level: LookAgain,
					About: "seam " + seam.Name, Seam: seam.ID, Piece: u.Piece, Edge: u.Edge,
					Says: fmt.Sprintf("Edge %s of %s is also part of seam %s; an edge is sewn into one seam. Take one of them apart.", name, piece.Name, other.Name),
				})
			}
		}
	}
	return out
}

// spanLimit is how far, in mm, a span may be from its measure before it is told:
// the width of a pencil line on both ends.
const spanLimit = 0.5

func checkSpans(p *Project, states []SpanState) []Finding {
	var out []Finding
	for _, st := range states {
		diff := st.Length - st.Wants
		if !st.Known || diff >= -spanLimit {
			continue // a garment is larger than its wearer by its ease
		}
		out = append(out, Finding{
			Key: "piece/" + string(st.Piece.ID) + "/span/" + string(st.Span.ID), Level: LookAgain,
			About: st.Piece.Name + ", " + st.Span.Name, Piece: st.Piece.ID,
			Says: fmt.Sprintf("It measures %s, %s less than its share of %s. Worn, it would be too tight there.",
				p.Unit.Format(st.Length), p.Unit.Format(-diff), st.Span.Measure),
			Value: -diff, Limit: spanLimit,
		})
	}
	return out
}
