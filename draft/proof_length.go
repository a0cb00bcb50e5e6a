package draft

import (
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// Rules for where a garment ends. (Common practice, no source, where none is named.)
const (
	// groundClear is how far a hem hangs clear of the ground, as a share of the stature:
	// about 25 mm for a person, 6 mm for a puppet of 36 cm.
	groundClear = 0.015
	// footTopShare is how high a foot is at the instep, as a share of its length.
	footTopShare = 0.28
	// handShare is how long a hand is, as a share of the girth of the spread hand.
	handShare = 0.9
	// sleeveEase is how much longer than the arm a sleeve may be and still be said to end
	// at the wrist, as a share of the arm: what bending the elbow takes up.
	sleeveEase = 0.05
)

// proveLengths tells where the garment ends: its hem against the ground and the feet, its
// sleeves against the hands.
func (g *sewnGarment) proveLengths() []Proof {
	loops := g.passages()
	var out []Proof
	from, start := g.top(loops)
	if start != "" {
		if hang, ok := g.wearer.get(start); ok && hang.Value > 0 {
			for _, hem := range g.hems(loops) {
				if depth, ok := g.depth(from, hem, false); ok {
					out = append(out, g.proveHem(hem, hang.Value-depth, !hang.Taken(), start)...)
				}
			}
		}
	}
	for _, arm := range g.at(loops, OpenArm) {
		if len(arm.seams) == 0 {
			continue
		}
		for _, wrist := range g.at(loops, OpenWrist) {
			if len(wrist.seams) > 0 {
				continue
			}
			if depth, ok := g.depth(arm, wrist, true); ok {
				out = append(out, g.proveSleeve(wrist, depth)...)
				return distinctProofs(out)
			}
		}
	}
	return distinctProofs(out)
}

// distinctProofs leaves out what is told of the other side of the body already.
func distinctProofs(list []Proof) []Proof {
	var out []Proof
	for _, pr := range list {
		if !slices.ContainsFunc(out, func(o Proof) bool { return o.Key == pr.Key }) {
			out = append(out, pr)
		}
	}
	return out
}

// at returns the passages at a place, seams that go round first.
func (g *sewnGarment) at(loops []openLoop, place OpenPlace) []openLoop {
	var seams, edges []openLoop
	for _, l := range loops {
		switch {
		case l.line != nil || l.place != place:
		case len(l.seams) > 0:
			seams = append(seams, l)
		default:
			edges = append(edges, l)
		}
	}
	return append(seams, edges...)
}

// top returns the passage from which the garment hangs, and the measure of its height: the
// neck, else the waist.
func (g *sewnGarment) top(loops []openLoop) (openLoop, string) {
	if neck := g.at(loops, OpenNeck); len(neck) > 0 {
		return neck[0], "neck_height"
	}
	if waist := g.at(loops, OpenWaist); len(waist) > 0 {
		return waist[0], "waist_height"
	}
	return openLoop{}, ""
}

// hems returns the edges at which the garment ends below.
func (g *sewnGarment) hems(loops []openLoop) []openLoop {
	var out []openLoop
	for _, place := range [...]OpenPlace{OpenHem, OpenAnkle} {
		for _, l := range g.at(loops, place) {
			if len(l.seams) == 0 {
				out = append(out, l)
			}
		}
	}
	return out
}

// depth returns how long the cloth is from one passage to another, in mm along the grain,
// over the fewest pieces, those of the back first. A sleeve is measured from its highest
// point, all else from the lowest point of the neck or waist, which is the middle.
func (g *sewnGarment) depth(from, to openLoop, sleeve bool) (float64, bool) {
	st := g.closed
	entry := g.byFace(g.sidesOf(from))
	exit := g.byFace(g.sidesOf(to))
	type step struct {
		face int
		in   []int
		sum  float64
		cost int
	}
	var open []step
	for face, in := range entry {
		open = append(open, step{face, in, 0, g.faceCost(face)})
	}
	done := make(map[int]bool)
	for len(open) > 0 {
		best := 0
		for k := range open {
			if a, b := open[k], open[best]; a.cost < b.cost || a.cost == b.cost && a.face < b.face {
				best = k
			}
		}
		now := open[best]
		open = slices.Delete(open, best, best+1)
		if done[now.face] || st.faces[now.face].piece.Layer != Shell {
			continue
		}
		done[now.face] = true
		first := sleeve && now.sum == 0
		if out := exit[now.face]; len(out) > 0 {
			d, ok := g.along(now.face, now.in, out, sleeve, first)
			return now.sum + d, ok
		}
		for k := range st.arcs {
			arc := &st.arcs[k]
			if slices.Contains(from.seams, arc.seam) || !st.isSewn(arc.a[0].use) {
				continue
			}
			for _, over := range [...][2][]sewnUse{{arc.a, arc.b}, {arc.b, arc.a}} {
				out := g.byFace(over[0])[now.face]
				if len(out) == 0 {
					continue
				}
				d, ok := g.along(now.face, now.in, out, sleeve, first)
				if !ok {
					continue
				}
				for face, in := range g.byFace(over[1]) {
					if !done[face] {
						open = append(open, step{face, in, now.sum + d, now.cost + g.faceCost(face)})
					}
				}
			}
		}
	}
	return 0, false
}

// faceCost makes the way down go over few pieces, over the back rather than the front, and
// through no sleeve.
func (g *sewnGarment) faceCost(face int) int {
	name := g.closed.faces[face].piece.Name
	cost := 100
	if isWord(name, "front") {
		cost++
	}
	return cost
}

// sidesOf returns the edges of a passage, along a seam those of both its sides.
func (g *sewnGarment) sidesOf(l openLoop) []sewnUse {
	if len(l.seams) == 0 {
		return l.uses
	}
	var out []sewnUse
	on := g.vertices(l)
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		if a, _ := g.ends(arc); slices.Contains(l.seams, arc.seam) && on[a] {
			out = append(append(out, arc.a...), arc.b...)
		}
	}
	return out
}

// byFace returns the edges of a row by the copies that they belong to.
func (g *sewnGarment) byFace(uses []sewnUse) map[int][]int {
	out := make(map[int][]int)
	for _, u := range uses {
		f := g.closed.face[u.use]
		out[f] = append(out[f], u.use)
	}
	return out
}

// uprightFrom is the cosine of the angle to the grain up to which a piece hangs along it:
// 45 degrees. What is cut on the bias or across hangs from edge to edge.
const uprightFrom = math.Sqrt2 / 2

// along returns how far some edges of a copy lie from others, in mm along the grain.
func (g *sewnGarment) along(face int, in, out []int, sleeve, first bool) (float64, bool) {
	piece := g.closed.faces[face].piece
	a, b := g.points(piece, in), g.points(piece, out)
	if len(a) == 0 || len(b) == 0 {
		return 0, false
	}
	way := meanOf(b).Sub(meanOf(a))
	along := geom.Pt(0, 1)
	if piece.Grain != nil {
		along = piece.Grain.To.Sub(piece.Grain.From).Unit()
	}
	if along.Dot(way) < 0 {
		along = along.Mul(-1)
	}
	if along == (geom.Point{}) || along.Dot(way.Unit()) < uprightFrom {
		along = way.Unit()
	}
	top, bottom := spreadAlong(a, along), spreadAlong(b, along)
	switch {
	case first:
		return bottom.mean - top.least, true
	case sleeve:
		return bottom.mean - top.mean, true
	}
	return bottom.most - top.most, true
}

// points returns places along edges of a piece, in its own mm.
func (g *sewnGarment) points(piece *Piece, uses []int) []geom.Point {
	const each = 8 // places a stretch, which find the ends of a hollow within a few percent of its depth
	var out []geom.Point
	for _, u := range uses {
		_, i := piece.Edge(g.closed.edges[u].ID)
		if i < 0 {
			continue
		}
		for _, part := range piece.EdgeParts(i) {
			for _, s := range part {
				for k := range each + 1 {
					out = append(out, s.At(float64(k)/each))
				}
			}
		}
	}
	return out
}

func meanOf(pts []geom.Point) geom.Point {
	sum := geom.Point{}
	for _, q := range pts {
		sum = sum.Add(q)
	}
	return sum.Mul(1 / float64(len(pts)))
}

// reach is how far points lie along a direction.
type reachAlong struct{ least, mean, most float64 }

func spreadAlong(pts []geom.Point, along geom.Point) reachAlong {
	r := reachAlong{least: math.Inf(1), most: math.Inf(-1)}
	for _, q := range pts {
		d := q.Dot(along)
		r.least, r.most, r.mean = min(r.least, d), max(r.most, d), r.mean+d/float64(len(pts))
	}
	return r
}

// proveHem tells how high a hem hangs above the ground.
func (g *sewnGarment) proveHem(hem openLoop, height float64, estimated bool, start string) []Proof {
	u := g.Unit
	o := g.named(hem)
	pr := Proof{
		Key: "length/" + o.Key, Kind: ProofLength, Garment: g.name, Name: o.Name, Wearer: g.wearer.ID, Uses: o.Uses,
		Piece: o.Uses[0].Piece, Edge: o.Uses[0].Edge, Known: true, Estimated: estimated, Measures: []string{start},
		Have: height, Level: LookAgain,
		Why: "Measured along the grain, as the cloth hangs straight down; over a belly it hangs shorter.",
	}
	if stature, ok := g.wearer.get("stature"); ok {
		pr.Need = groundClear * stature.Value
	}
	foot, _ := g.wearer.get("foot_length")
	top := footTopShare * foot.Value
	pr.Diff = pr.Have - pr.Need
	pr.Holds = pr.Diff >= -closeLimit
	about := ""
	if estimated {
		about = ", as the height of the body is estimated"
	}
	switch {
	case height < -closeLimit:
		pr.Says = fmt.Sprintf("It is %s longer than down to the ground%s: it trails there and is trodden on.", u.Format(-height), about)
	case !pr.Holds:
		pr.Says = fmt.Sprintf("It ends %s above the ground%s, and catches the feet; %s clear is usual.", u.Format(max(height, 0)), about, u.Format(pr.Need))
	case height < top:
		pr.Holds, pr.Level, pr.Diff, pr.Need = false, Remark, height-top, top
		pr.Says = fmt.Sprintf("It ends %s above the ground%s and hides the feet, which are about %s high.", u.Format(height), about, u.Format(top))
	default:
		pr.Says = fmt.Sprintf("It ends %s above the ground%s.", u.Format(height), about)
	}
	return []Proof{pr}
}

// proveSleeve tells where a sleeve of so many mm ends on the arm.
func (g *sewnGarment) proveSleeve(wrist openLoop, length float64) []Proof {
	u := g.Unit
	arm, ok := g.wearer.get("arm_length")
	if !ok || !(arm.Value > 0) {
		return nil
	}
	o := g.named(wrist)
	estimated := !arm.Taken()
	// A shoulder that is cut longer or shorter than the body's lets the sleeve begin there.
	if shoulder, ok := g.wearer.get("shoulder_length"); ok && shoulder.Value > 0 {
		if cut := g.shoulder(); cut > 0 {
			length += cut - shoulder.Value
		}
	}
	pr := Proof{
		Key: "length/" + o.Key, Kind: ProofLength, Garment: g.name, Name: o.Name, Wearer: g.wearer.ID, Uses: o.Uses,
		Piece: o.Uses[0].Piece, Edge: o.Uses[0].Edge, Known: true, Estimated: estimated, Measures: []string{"arm_length"},
		Have: length, Need: arm.Value, Holds: true, Level: Remark,
		Why: "Measured along the grain from the top of the sleeve, with what the shoulder is cut longer than the body's.",
	}
	about := ""
	if estimated {
		about = " (estimated)"
	}
	hand, _ := g.wearer.get("hand_girth")
	over := length - arm.Value
	switch {
	case over > handShare*hand.Value && hand.Value > 0:
		pr.Holds, pr.Level = false, LookAgain
		pr.Says = fmt.Sprintf("The sleeve reaches %s beyond the wrist of an arm of %s%s and hides the whole hand.", u.Format(over), u.Format(arm.Value), about)
	case over > sleeveEase*arm.Value:
		pr.Holds = false
		pr.Says = fmt.Sprintf("The sleeve reaches %s beyond the wrist of an arm of %s%s, over part of the hand.", u.Format(over), u.Format(arm.Value), about)
	case over < -sleeveEase*arm.Value:
		pr.Says = fmt.Sprintf("The sleeve ends %s above the wrist of an arm of %s%s.", u.Format(-over), u.Format(arm.Value), about)
	default:
		pr.Says = fmt.Sprintf("The sleeve ends at the wrist of an arm of %s%s.", u.Format(arm.Value), about)
	}
	if pr.Diff = over; pr.Holds {
		pr.Need, pr.Diff = 0, 0 // a short sleeve is a matter of taste
	}
	return []Proof{pr}
}

// shoulder returns how long the shoulder of the garment is cut, 0 where no edge is called so.
func (g *sewnGarment) shoulder() float64 {
	for _, piece := range g.pieces {
		for i := range piece.Edges {
			if isWord(piece.Edges[i].Name, "shoulder") {
				return g.slots.EdgeLengths(piece)[i]
			}
		}
	}
	return 0
}
