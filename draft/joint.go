package draft

import (
	"math"

	"hemlet/geom"
)

// SeamJoint is one end of a seam with the pieces laid together along it, as they lie once
// the seam is sewn and pressed open, and the line that runs on across it from the one
// side to the other: a hem, a neck, an armhole.
type SeamJoint struct {
	Seam ID
	// End is the end of the seam's runs.
	End EdgeEnd
	// A and B are the pieces whose lines meet. Mostly they are the two that the seam
	// sews; where another piece comes to a point in between, or the line is sewn to one
	// that does, that is in Between, in order from A to B.
	A, B    JointSide
	Between []JointSide
	// Kink is the angle in radians between the two lines where they meet: above 0 where
	// they jut out in a point, below 0 where they make a dip.
	Kink float64
	// At is the place at which they meet, in the joint's plane: that in which A lies as it
	// does on the bench.
	At geom.Point
	// What is the line by the names of its two edges: "hem", "neck".
	What string
	// DrawnUp says that the line is gathered or pleated where it is sewn on: no kink in it
	// is seen then.
	DrawnUp bool

	seam *Seam
}

// JointSide is a piece at a joint.
type JointSide struct {
	Piece *Piece
	// Use is the edge along which it is laid to the piece before it or, of the first one,
	// to the piece after it.
	Use EdgeUse
	// Line is the edge that runs on from the joint, and LineEnd the end of it that lies
	// there; of a piece in between, the edge along which the next piece is laid.
	Line    ID
	LineEnd EdgeEnd
	// Map takes the piece's own millimetres to the joint's plane.
	Map geom.Affine
}

// Degrees returns the kink in degrees.
func (j SeamJoint) Degrees() float64 { return j.Kink * 180 / math.Pi }

// cornerMeant is the angle in degrees beyond which two lines that meet at a seam are two
// sides of a corner, as of a pocket or the end of a slit. (Common practice, no source.)
const cornerMeant = 60

// Corner reports whether the lines make a corner that nobody takes for one line.
func (j SeamJoint) Corner() bool { return math.Abs(j.Degrees()) > cornerMeant }

// Meant reports whether the lines make a point that may be meant, as a V neck does.
func (j SeamJoint) Meant() bool { return math.Abs(j.Degrees()) > pointMeant }

// Smooth reports whether the lines run on without a kink that shows.
func (j SeamJoint) Smooth() bool { return math.Abs(j.Degrees()) <= kinkSeen }

// corner is one of the two ends of an edge, as it is drawn.
type edgeCorner struct {
	piece, edge ID
	end         EdgeEnd
}

// startOf returns the corner at which a use begins.
func (u EdgeUse) startOf() edgeCorner {
	if u.Reversed {
		return edgeCorner{u.Piece, u.Edge, EdgeFinish}
	}
	return edgeCorner{u.Piece, u.Edge, EdgeStart}
}

// endOf returns the corner at which a use ends.
func (u EdgeUse) endOf() edgeCorner {
	u.Reversed = !u.Reversed
	return u.startOf()
}

// corner returns the outer corner of a run at one of its ends.
func (r Run) corner(end EdgeEnd) edgeCorner {
	if end == EdgeStart {
		return r[0].startOf()
	}
	return r[len(r)-1].endOf()
}

// useAt returns the use of the run at one of its ends.
func (r Run) useAt(end EdgeEnd) EdgeUse {
	if end == EdgeStart {
		return r[0]
	}
	return r[len(r)-1]
}

// Joints returns the joints of every seam, in the order of the seams, start before end.
// An end at which no line runs on is left out: on a fold, in the middle of what is sewn
// all round, or where two seams cross of which neither is a line that is seen.
func (s *Slots) Joints(p *Project) []SeamJoint {
	return slotOf(s, "joints", "", slotInputs{p}, func() []SeamJoint {
		w := &jointWork{at: s.lookupIn(p)}
		var list []SeamJoint
		for _, r := range s.jointRows(p) {
			if j, ok := w.joint(r); ok {
				list = append(list, j)
			}
		}
		return list
	})
}

// Joint returns the joint at one end of a seam, or false where no line runs on there.
func (s *Slots) Joint(p *Project, seam ID, end EdgeEnd) (SeamJoint, bool) {
	for _, j := range s.Joints(p) {
		if j.Seam == seam && j.End == end {
			return j, true
		}
	}
	return SeamJoint{}, false
}

// joint lays the pieces together at one end of a seam.
func (w *jointWork) joint(r jointRow) (SeamJoint, bool) {
	seam, end, row := r.seam, r.end, r.stops
	j := SeamJoint{Seam: seam.ID, End: end, seam: seam}
	sides := make([]JointSide, len(row))
	sum := 0.0
	for i, stop := range row {
		piece, k := w.edge(stop.sewn)
		angle, ok := piece.innerAngle(k, stop.sewn.end)
		if !ok {
			return SeamJoint{}, false
		}
		sum += angle
		sides[i] = JointSide{Piece: piece, Use: EdgeUse{Piece: piece.ID, Copy: CopyRef{Number: 1}, Edge: stop.sewn.edge}, Line: stop.line.edge, LineEnd: stop.line.end}
	}
	if sum >= 2*math.Pi {
		return SeamJoint{}, false // more cloth than lies round a point: it is sewn all round
	}
	j.Kink = math.Pi - sum
	w.lay(sides, row)
	for i := range sides {
		for _, u := range [...]EdgeUse{seam.A.useAt(end), seam.B.useAt(end)} {
			if sides[i].Use.Piece == u.Piece && sides[i].Use.Edge == u.Edge {
				sides[i].Use = u
			}
		}
	}
	j.A, j.B, j.Between = sides[0], sides[len(sides)-1], sides[1:len(sides)-1]
	first, i := w.edge(row[0].line)
	j.At = j.A.Map.Apply(first.cornerAt(i, row[0].line.end))
	j.What, j.DrawnUp = r.what, r.drawnUp
	return j, true
}

// cornerAt returns the place of one end of edge i.
func (p *Piece) cornerAt(i int, end EdgeEnd) geom.Point {
	if end == EdgeStart {
		return p.Edges[i].Nodes[0].At
	}
	return p.Edges[(i+1)%len(p.Edges)].Nodes[0].At
}

// leaving returns the unit direction in which edge i leaves one of its ends.
func (p *Piece) leaving(i int, end EdgeEnd) geom.Point {
	k := 0
	if end == EdgeFinish {
		k = len(p.Edges[i].Nodes) - 1
	}
	stretch := segment(*p.nodeAt(i, k), *p.nodeAt(i, k+1))
	if end == EdgeStart {
		return stretch.Tangent(0)
	}
	return stretch.Tangent(1).Mul(-1)
}

// innerAngle returns the angle of the cloth at one end of edge i, in radians above 0 and
// up to a whole turn, or false where a line has no direction there.
func (p *Piece) innerAngle(i int, end EdgeEnd) (float64, bool) {
	n := len(p.Edges)
	after := i
	if end == EdgeFinish {
		after = (i + 1) % n
	}
	// Outlines run counter-clockwise: the cloth lies to the left of what leaves the
	// corner, up to what came to it.
	out, back := p.leaving(after, EdgeStart), p.leaving((after+n-1)%n, EdgeFinish)
	if out == (geom.Point{}) || back == (geom.Point{}) {
		return 0, false
	}
	angle := math.Atan2(out.Cross(back), out.Dot(back))
	if angle <= 0 {
		angle += 2 * math.Pi
	}
	return angle, true
}

// lay sets the maps of the pieces of a row: the first lies as it does on the bench, each
// next one with its corner on that corner and along the seam, on the other side of it.
func (w *jointWork) lay(sides []JointSide, row []jointStop) {
	sides[0].Map = sides[0].Piece.Place.Affine()
	for i := 1; i < len(sides); i++ {
		// The first piece is laid along the edge that is sewn, the others along their
		// line's other edge.
		from := row[i-1].onward
		before, k := w.edge(from)
		piece, m := w.edge(row[i].sewn)
		at := sides[i-1].Map.Apply(before.cornerAt(k, from.end))
		way := sides[i-1].Map.ApplyVector(before.leaving(k, from.end))
		side := sideOf(from.end)
		if sides[i-1].Map.Det() < 0 {
			side = -side
		}
		sides[i].Map = laidAlong(piece.cornerAt(m, row[i].sewn.end), piece.leaving(m, row[i].sewn.end), at, way, sideOf(row[i].sewn.end) == side)
	}
}

// sideOf returns on which side the cloth of a piece lies of an edge that leaves one of its
// ends: 1 to the left, -1 to the right.
func sideOf(end EdgeEnd) int {
	if end == EdgeStart {
		return 1
	}
	return -1
}

// laidAlong returns the map that takes p with the direction u to q with the direction v;
// over turns it over first, about u.
func laidAlong(p, u, q, v geom.Point, over bool) geom.Affine {
	m := geom.Identity
	if over {
		m, _ = geom.Reflection(p, p.Add(u))
	}
	return m.Then(geom.Rotation(math.Atan2(u.Cross(v), u.Dot(v)), p)).Then(geom.Translation(q.Sub(p)))
}
