package draft

import (
	"fmt"
	"math"
	"slices"

	"hemlet/draft/body"
	"hemlet/geom"
)

// closeLimit is how much tighter, in mm, than the body a garment may be round a level
// before it is told: the width of a pencil line on the two ends of four quarters.
const closeLimit = 2

// under returns by how much what is worn underneath makes a girth larger: 2 pi times the
// thickness of all layers.
func (f *fitted) under() float64 {
	sum := 0.0
	for _, w := range f.Under {
		sum += w.Thickness
	}
	return 2 * math.Pi * sum
}

// proveGirths tells how the garment closes round the body: at each level round which its
// lengths stand for the whole girth, and at the openings that lie at a girth of the body.
func (g *sewnGarment) proveGirths(openings []Opening, girths []Girth, states []SpanState) []Proof {
	var out []Proof
	levels := make(map[string]bool)
	for _, girth := range girths {
		if girth.Garment != g.name || girth.Wearer != g.wearer.ID {
			continue
		}
		levels[girth.Level] = true
		have := girth.Length - g.lapsAt(girth.Level, states)
		pr := g.closes(girth.Level, body.GirthOf(girth.Level), have, girth.Body, girth.Estimated)
		// What its lengths alone tell is told of each of them.
		pr.alone = girth.Length-girth.Body < -closeLimit
		out = append(out, pr)
	}
	done := make(map[OpenPlace]bool)
	for _, o := range openings {
		measure := closedMeasure(o.Place)
		if measure == "" || done[o.Place] || levels[o.Place.String()] {
			continue
		}
		// Of several at one place the tightest closes there.
		for _, other := range openings {
			if other.Place == o.Place && other.Closed < o.Closed {
				o = other
			}
		}
		done[o.Place] = true
		k, ok := g.wearer.get(measure)
		if !ok || !(k.Value > 0) {
			continue
		}
		pr := g.closes(o.Name, measure, o.Closed, k.Value, !k.Taken())
		pr.Key, pr.Uses = "closed/"+o.Key, o.Uses
		if len(o.Uses) > 0 {
			pr.Piece, pr.Edge = o.Uses[0].Piece, o.Uses[0].Edge
		}
		if !pr.Holds {
			pr.Mends = g.lapMends(o, -pr.Diff)
		}
		out = append(out, pr)
	}
	return out
}

// closedMeasure returns the girth of the body that an opening lies at when it is closed.
func closedMeasure(at OpenPlace) string {
	return map[OpenPlace]string{
		OpenNeck: "neck_base_girth", OpenHead: "head_girth", OpenArm: "upper_arm_girth",
		OpenWrist: "wrist_girth", OpenWaist: "waist_girth", OpenAnkle: "ankle_girth",
	}[at]
}

// closes tells whether so much cloth closes round a girth.
func (g *sewnGarment) closes(name, measure string, have, girth float64, estimated bool) Proof {
	u, under := g.Unit, g.wearer.under()
	pr := Proof{
		Key: "girth/" + g.name + "/" + measure, Kind: ProofGirth, Garment: g.name, Name: name, Wearer: g.wearer.ID,
		Have: have, Need: girth + under, Diff: have - girth - under, Known: true, Estimated: estimated,
		Measures: []string{measure}, Level: LookAgain,
		Why: "Closed, with what lies over taken off, it has to go round the body and all that is worn underneath.",
	}
	pr.Holds = pr.Diff >= -closeLimit
	round := u.Format(girth)
	if estimated {
		round += " (estimated)"
	}
	if under > 0 {
		round += fmt.Sprintf(" and %s for what is worn underneath", u.Format(under))
	}
	if pr.Holds {
		pr.Says = fmt.Sprintf("Closed it measures %s, round %s of %s: an ease of %s.", u.Format(have), bodyOf(measure), round, u.Format(pr.Diff))
		return pr
	}
	pr.Says = fmt.Sprintf("Closed it measures %s, and goes round %s of %s: it is %s too tight to close, unless the cloth stretches.",
		u.Format(have), bodyOf(measure), round, u.FormatSmall(-pr.Diff))
	return pr
}

// edgeReach is how near, in mm, to an edge a line across a piece must end to run up to it.
const edgeReach = 1

// lapsAt returns by how much what lies over makes the garment narrower at a level: the
// laps of the seams that open up to which the lengths of that level run.
func (g *sewnGarment) lapsAt(level string, states []SpanState) float64 {
	sum := 0.0
	for _, seam := range g.Seams {
		if !seam.Opens || seam.Lap <= 0 {
			continue
		}
		for _, st := range states {
			at, _, ok := g.levelOfSpan(st)
			if ok && at == level && st.Piece.Garment == g.name && g.runsUpTo(st, seam) {
				sum += seam.Lap
				break
			}
		}
	}
	return sum
}

// runsUpTo reports whether the line of a span ends on a side of a seam.
func (g *sewnGarment) runsUpTo(st SpanState, seam *Seam) bool {
	var ends []geom.Point
	add := func(path geom.Path) {
		if len(path) > 0 {
			ends = append(ends, path.Start(), path.End())
		}
	}
	for _, id := range st.Span.Lines {
		if l := st.Piece.Line(id); l != nil {
			add(l.Path())
		}
	}
	for _, id := range st.Span.Edges {
		if _, i := st.Piece.Edge(id); i >= 0 {
			add(st.Piece.EdgePath(i))
		}
	}
	for _, id := range [...]ID{st.Span.From, st.Span.To} {
		if n := st.Piece.AnyNode(id); n != nil {
			ends = append(ends, n.At)
		}
	}
	for _, u := range slices.Concat(seam.A, seam.B) {
		if u.Piece != st.Piece.ID {
			continue
		}
		_, i := st.Piece.Edge(u.Edge)
		if i < 0 {
			continue
		}
		path := st.Piece.EdgePath(i)
		for _, end := range ends {
			if _, d := path.Nearest(end); d <= edgeReach {
				return true
			}
		}
	}
	return false
}
