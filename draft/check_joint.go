package draft

import (
	"fmt"
	"math"
)

// kinkSeen is the angle in degrees up to which two lines that meet at a seam look like
// one: a kink of 5 degrees over a few centimetres lies within the width of a stitch.
// (Common practice, no source.)
const kinkSeen = 5

// checkJoints finds lines that make a point or a dip where a seam crosses them.
func (s *Slots) checkJoints(p *Project) []Finding {
	var out []Finding
	told := make(map[[2]edgeCorner]bool)
	for _, j := range s.Joints(p) {
		if j.Smooth() || j.Corner() || j.DrawnUp || told[j.lines()] {
			continue
		}
		told[j.lines()] = true
		at := j.A.Piece.cornerAt(j.A.lineIndex(), j.A.LineEnd)
		level := LookAgain
		if j.Meant() || j.A.letIn() || j.B.letIn() || j.A.leftRaw() && j.B.leftRaw() {
			level = Remark
		}
		out = append(out, Finding{
			Key: kinkKey(j.Seam, j.End), Level: level,
			About: "seam " + j.seam.label(), Says: j.says(),
			Piece: j.A.Piece.ID, Edge: j.A.Line, Seam: j.Seam, At: &at,
			Mends: []Mend{j.mend()},
		})
	}
	return out
}

// mend draws the lines into one.
func (j SeamJoint) mend() Mend {
	return Mend{
		Title: "Smooth the " + j.What + " across the seam", Act: "smooth-joint",
		Args: map[string]string{"seam": idText(j.Seam), "end": j.End.String()},
	}
}

// letIn reports whether the piece is a wedge that is let in, as a godet or a gusset is: a
// straight one ends in a kink at either side, and so does one whose slit takes its sides
// from the allowance.
func (s JointSide) letIn() bool { return len(s.Piece.Edges) <= 3 }

// leftRaw reports whether the line is left raw, as the inner edge of a facing is, that lies
// inside the garment.
func (s JointSide) leftRaw() bool { return s.Piece.Edges[s.lineIndex()].Kind == RawEdge }

// lines are the two edges that meet, in an order of their own, so that what is seen at two
// seams is told once.
func (j SeamJoint) lines() [2]edgeCorner {
	a, b := j.A.corner(), j.B.corner()
	if b.piece < a.piece || b.piece == a.piece && (b.edge < a.edge || b.edge == a.edge && b.end < a.end) {
		a, b = b, a
	}
	return [2]edgeCorner{a, b}
}

func (s JointSide) corner() edgeCorner { return edgeCorner{s.Piece.ID, s.Line, s.LineEnd} }

// lineIndex is the index of the line among the edges of the piece.
func (s JointSide) lineIndex() int {
	_, i := s.Piece.Edge(s.Line)
	return i
}

func (j SeamJoint) says() string {
	shape := "juts out"
	if j.Kink < 0 {
		shape = "dips"
	}
	says := fmt.Sprintf("Where seam %s meets the %s, at %s, the sewn %s %s by %.0f°. ", j.seam.label(), j.What, j.pieces(), j.What, shape, math.Abs(j.Degrees()))
	if j.Meant() {
		return says + "If that is not meant, draw both lines into one across the seam."
	}
	return says + "Draw both lines into one across the seam."
}

// pieces names the two pieces whose lines meet.
func (j SeamJoint) pieces() string {
	if j.A.Piece == j.B.Piece {
		return j.A.Piece.label()
	}
	return j.A.Piece.label() + " and " + j.B.Piece.label()
}
