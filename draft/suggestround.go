package draft

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
)

// What speaks for sewing one line that goes over several pieces to another one.
const (
	sureOfRound  = 0.55 // both belong to the same line of the garment
	sureOfEqual  = 0.30 // and are equally long
	sureOfEase   = 0.25 // or the one that is let in is a little longer
	sureOfGather = 0.05 // or one is gathered to the other
	sureOfClosed = 0.05 // both close to a ring
	// mostGathered is the ratio up to which a longer side is taken for gathered: sheers
	// are, to three. (Common practice, no source.)
	mostGathered = 3.2
	// mostLetIn is the ratio up to which a cap is taken for eased into its armhole.
	// (Common practice, no source.)
	mostLetIn = 1.12
)

// roundRun is a line of free edges that follow each other over the seams.
type roundRun struct {
	run    Run
	length float64
	line   garmentLine
	closed bool
	// joins name, for each edge of the run, the seam across which it follows the one
	// before; "" at the start of an open run.
	joins []string
}

// rounds suggests what is let into the lines that go round: sleeves into armholes, bands
// to necks.
func (g *suggester) rounds() {
	all := g.roundRuns()
	type roundPair struct {
		a, b *roundRun
		sure float64
		why  string
	}
	var list []roundPair
	for i, a := range all {
		for _, b := range all[i+1:] {
			if sure, why := g.roundFit(a, b); sure >= leastSure {
				list = append(list, roundPair{a, b, sure, why})
			}
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].sure > list[j].sure })
	unclear := make(map[*roundRun]bool)
	for i, pair := range list {
		if g.anyTaken(pair.a.run) || g.anyTaken(pair.b.run) || unclear[pair.a] || unclear[pair.b] {
			continue
		}
		rival := slices.ContainsFunc(list[i+1:], func(o roundPair) bool {
			shares := o.a == pair.a || o.b == pair.b || o.a == pair.b || o.b == pair.a
			return shares && o.sure > pair.sure-clearBy && !g.anyTaken(o.a.run) && !g.anyTaken(o.b.run)
		})
		if rival {
			unclear[pair.a], unclear[pair.b] = true, true
			continue
		}
		if seam := g.roundSeam(pair.a, pair.b); seam != nil {
			g.take(seam, pair.why, pair.sure)
		}
	}
}

func (g *suggester) anyTaken(run Run) bool {
	return slices.ContainsFunc(run, func(u EdgeUse) bool { return g.taken[edgeKey{u.Piece, u.Edge}] })
}

// roundFit says how sure two lines are sewn to each other, and why.
func (g *suggester) roundFit(a, b *roundRun) (float64, string) {
	if a.line != b.line || !a.line.round() || g.connected(a.run, b.run) || !g.roundsMeet(a, b) {
		return 0, ""
	}
	p, q := g.p.Piece(a.run[0].Piece), g.p.Piece(b.run[0].Piece)
	if p.Layer != q.Layer || p.Garment != q.Garment && p.Garment != "" && q.Garment != "" {
		return 0, ""
	}
	long, short := max(a.length, b.length), min(a.length, b.length)
	sure, words := sureOfRound, "the names go together"
	if g.partsTell(a.run) || g.partsTell(b.run) {
		words = a.line.meets()
	}
	if a.closed && b.closed {
		sure += sureOfClosed
	}
	switch {
	case long-short <= seamLimit(short):
		return sure + sureOfEqual, words + ", both are " + g.p.Unit.Format(short) + " long"
	case long <= short*mostLetIn:
		return sure + sureOfEase, words + fmt.Sprintf(", one is %s longer, which eases in", g.p.Unit.FormatSmall(long-short))
	case long >= short*gathersFrom && long <= short*mostGathered && (a.line != armholeLine || g.capOf(a) == (a.length > b.length)):
		return sure + sureOfGather, words + fmt.Sprintf(", one is %.2f times as long, as gathers are", long/short)
	}
	return 0, ""
}

// connected reports whether two lines have a piece in common, or pieces that are sewn to
// each other: the neck of a front goes on in that of a back and is not sewn to it.
func (g *suggester) connected(a, b Run) bool {
	pieces := func(run Run) map[ID]bool {
		in := make(map[ID]bool)
		for _, u := range run {
			in[u.Piece] = true
		}
		return in
	}
	inA, inB := pieces(a), pieces(b)
	for id := range inA {
		if inB[id] {
			return true
		}
	}
	joins := func(x, y Run) bool {
		for _, u := range x {
			for _, v := range y {
				if inA[u.Piece] && inB[v.Piece] || inB[u.Piece] && inA[v.Piece] {
					return true
				}
			}
		}
		return false
	}
	return slices.ContainsFunc(g.p.Seams, func(s *Seam) bool { return joins(s.A, s.B) }) ||
		slices.ContainsFunc(g.found, func(s SeamSuggestion) bool { return joins(s.A, s.B) })
}

// roundSeam returns the seam of two lines, the one over more pieces as side a, nil where
// it cannot be sewn.
func (g *suggester) roundSeam(a, b *roundRun) *Seam {
	if len(b.run) > len(a.run) {
		a, b = b, a
	}
	return g.filled(&Seam{A: a.fromJoin(), B: b.fromJoin().reversed(), Ratio: 1, To: 1}, a.length, b.length)
}

// filled says how full a seam is whose sides are so long, in mm; nil where it cannot be
// sewn.
func (g *suggester) filled(seam *Seam, a, b float64) *Seam {
	seam.Fuller = g.p.longer(seam)
	long, short := max(a, b), min(a, b)
	if long-short > seamLimit(short) {
		seam.Ratio, seam.Fullness = long/short, Ease
		if seam.Ratio > mostLetIn {
			seam.Fullness = Gathers
		}
	}
	if g.p.checkRuns(seam) != nil {
		return nil
	}
	_ = g.p.setBothSides(seam, nil, &Outcome{}) // without a wish it cannot be refused
	return seam
}

// fromJoin returns the run of a ring from the place where it is begun to be sewn: an
// armhole under the arm, a neck or a waist at the middle of the back or the front.
func (r *roundRun) fromJoin() Run {
	if !r.closed {
		return r.run
	}
	wanted := []garmentLine{centreBackLine, centreFrontLine, centreLine, sideLine}
	if r.line == armholeLine {
		wanted = []garmentLine{sideLine, underarmLine, shoulderLine}
	}
	for _, line := range wanted {
		for i, name := range r.joins {
			if lineOfName(name) == line {
				return append(append(Run{}, r.run[i:]...), r.run[:i]...)
			}
		}
	}
	return r.run
}

// roundRuns lists the lines of free edges that follow each other over the seams that are
// there and those that were just suggested, one of each pair of mirror images.
func (g *suggester) roundRuns() []*roundRun {
	c := newCourses(g)
	var out []*roundRun
	seen := make(map[string]bool)
	for _, start := range c.starts() {
		r := c.follow(start)
		if r == nil {
			continue
		}
		key := runKey(r.run)
		other, ok := g.p.mirrored(r.run)
		if seen[key] || ok && seen[runKey(other)] {
			continue
		}
		seen[key] = true
		out = append(out, r)
	}
	return out
}

// runKey is the same for runs over the same edges.
func runKey(run Run) string {
	words := make([]string, len(run))
	for i, u := range run {
		u.Reversed = false
		words[i] = fmt.Sprint(u)
	}
	sort.Strings(words)
	return strings.Join(words, ";")
}

// roundTurn is by how much, in radians, a line may turn where it goes over a seam: 75
// degrees, so that the point of a neck still counts. (Common practice, no source.)
const roundTurn = 75 * math.Pi / 180
