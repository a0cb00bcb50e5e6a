package draft

import (
	"fmt"
	"math"
	"strings"
)

func checkSeam(p *Project, st SeamState) []Finding {
	seam := st.Seam
	f := Finding{
		Key: "seam/" + string(seam.ID) + "/length", Level: Problem, Seam: seam.ID,
		About: "seam " + seam.label(), Value: math.Abs(st.Diff), Limit: st.Limit,
	}
	if len(seam.A) > 0 {
		f.Piece, f.Edge = seam.A[0].Piece, seam.A[0].Edge
	}
	if !st.Holds {
		f.Says = seamSays(p, st)
		f.offerSeamMends(p, st)
		return []Finding{f}
	}
	return nil
}

// seamSays names the side that is too long or too short, so that nobody mends the
// other one.
func seamSays(p *Project, st SeamState) string {
	u := p.Unit
	full, other, fullLength, otherLength := st.Seam.B, st.Seam.A, st.B, st.A
	if st.Seam.Fuller == SideA {
		full, other, fullLength, otherLength = other, full, otherLength, fullLength
	}
	off := u.FormatSmall(math.Abs(st.Diff))
	if st.Want == 1 {
		if fullLength < otherLength {
			full, other, fullLength, otherLength = other, full, otherLength, fullLength
		}
		return fmt.Sprintf("The %s %s %s longer than the %s (%s and %s); they should be equal, or the longer one puckers. Move a point, or say that it is eased or gathered.",
			p.runLabel(full), p.isOrAre(full), off, p.runLabel(other), u.Format(fullLength), u.Format(otherLength))
	}
	than := "longer"
	if st.Diff < 0 {
		than = "shorter"
	}
	return fmt.Sprintf("The %s %s %s %s than meant: %s against %s of the %s is %.3f times as long, and %.3f is wanted. Move a point, or change how full it is meant to be.",
		p.runLabel(full), p.isOrAre(full), off, than, u.Format(fullLength), u.Format(otherLength), p.runLabel(other), st.Ratio, st.Want)
}

// isOrAre returns the verb that goes with the name of a run.
func (p *Project) isOrAre(run Run) string {
	if len(run) == 0 {
		return "is"
	}
	return isOrAre(p.edgeName(run[0]))
}

// runLabel names a run as a person would: "armhole of Front and Back".
func (p *Project) runLabel(run Run) string {
	var pieces []string
	seen := make(map[ID]bool)
	for _, use := range run {
		piece := p.Piece(use.Piece)
		if piece == nil || seen[use.Piece] {
			continue
		}
		seen[use.Piece] = true
		pieces = append(pieces, piece.label())
	}
	switch n := len(pieces); {
	case n == 0:
		return "seam"
	case n == 1:
		return p.edgeName(run[0]) + " of " + pieces[0]
	default:
		return p.edgeName(run[0]) + " of " + strings.Join(pieces[:n-1], ", ") + " and " + pieces[n-1]
	}
}

// checkUses finds edge uses that two seams claim.
func (s *Slots) checkUses(p *Project) []Finding {
	bare := s.bareOf(p)
	return slotOf(s, "used twice", "", slotInputs{bare}, func() []Finding { return bare.usedTwice(s.bareLookup(bare)) })
}

// usedTwice is checkUses of a project, which may be bare.
func (p *Project) usedTwice(at *lookup) []Finding {
	first := make(map[EdgeUse]*Seam, 4*len(p.Seams))
	told := make(map[string]bool)
	var out []Finding
	for _, seam := range p.Seams {
		for _, use := range p.usesOf(seam) {
			use.Reversed = false
			other, taken := first[use]
			if !taken {
				first[use] = seam
				continue
			}
			piece, i, err := at.edge(use)
			key := "seam/" + string(seam.ID) + "/twice/" + string(use.Edge)
			if err != nil || told[key] {
				continue
			}
			told[key] = true
			f := Finding{
				Key: key, Level: LookAgain,
				About: "seam " + seam.label(), Seam: seam.ID, Piece: use.Piece, Edge: use.Edge,
				Says: twiceSays(seam, other, piece.label(), piece.Edges[i].label()),
			}
			f.mend("Take seam "+seam.label()+" apart", "unlink-seam", "seams", idText(seam.ID))
			if other != seam {
				f.mend("Take seam "+other.label()+" apart", "unlink-seam", "seams", idText(other.ID))
			}
			out = append(out, f)
		}
	}
	return out
}

// usesOf returns what the seam sews, on both sides of the body where it stands for
// both.
func (p *Project) usesOf(seam *Seam) []EdgeUse {
	uses := append(append(make([]EdgeUse, 0, 2*(len(seam.A)+len(seam.B))), seam.A...), seam.B...)
	if seam.BothSides {
		a, okA := p.mirrored(seam.A)
		b, okB := p.mirrored(seam.B)
		if okA && okB {
			uses = append(append(uses, a...), b...)
		}
	}
	return uses
}

func twiceSays(seam, other *Seam, piece, edge string) string {
	if seam == other {
		return fmt.Sprintf("Edge %s of %s is in this seam twice; an edge is sewn once. Change one side of the seam.", edge, piece)
	}
	return fmt.Sprintf("Edge %s of %s is also part of seam %s; an edge is sewn into one seam. Take one of them apart.", edge, piece, other.label())
}
