package draft

import (
	"math"
	"strings"
)

// SeamOff is by how much a seam does not hold, said of the side that is to be
// changed or looked at.
type SeamOff struct {
	// Edge names the first edge of the side as it is called on the pattern, Side the
	// whole of it: "cap", "cap of Sleeve".
	Edge, Side string
	// By is the difference in mm, never negative.
	By float64
	// Short says that the side is too short; else it is too long.
	Short bool
}

// Off returns how far the seam is off. Of two sides that are to be equal it is the
// longer one that is too long; of a side that is to be fuller, the fuller one is too
// long or too short.
func (st SeamState) Off(p *Project) SeamOff {
	run, _ := st.fullerRuns()
	off := SeamOff{By: math.Abs(st.Diff), Short: st.Diff < 0}
	if st.Want == 1 && off.Short {
		_, run = st.fullerRuns()
		off.Short = false
	}
	off.Side = p.runLabel(run)
	if len(run) > 0 {
		off.Edge = p.edgeName(run[0])
	}
	return off
}

// Says says it of the side in a few words: "cap of Sleeve is 5.5 mm too long".
func (o SeamOff) Says(u Unit) string {
	return o.Side + " " + isOrAre(o.Edge) + " " + u.FormatSmall(o.By) + " " + o.What()
}

// What says what is wrong with the side: "too long" or "too short".
func (o SeamOff) What() string {
	if o.Short {
		return "too short"
	}
	return "too long"
}

// isOrAre returns the verb that goes with the name of an edge, many of which are plural:
// gathers, ends.
func isOrAre(edge string) string {
	if strings.HasSuffix(edge, "s") && !strings.HasSuffix(edge, "ss") {
		return "are"
	}
	return "is"
}

// SideName names a side of a seam as a person would: "cap of Sleeve", "armhole of
// Front and Back".
func SideName(p *Project, run Run) string { return p.runLabel(run) }

func (st SeamState) fullerRuns() (full, other Run) {
	if st.Seam.Fuller == SideA {
		return st.Seam.A, st.Seam.B
	}
	return st.Seam.B, st.Seam.A
}

// AsItIs returns which side is the longer one and how many times as long as the
// other it is: what to say of a seam that is meant to be as it is. The ratio is 1
// where a side has no length.
func (st SeamState) AsItIs() (fuller Side, ratio float64) {
	long, short := st.B, st.A
	fuller = SideB
	if st.A > st.B {
		fuller, long, short = SideA, st.A, st.B
	}
	if short <= 0 {
		return fuller, 1
	}
	return fuller, long / short
}
