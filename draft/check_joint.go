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
	at := s.lookupIn(p)
	var out []Finding
	told := make(map[[2]edgeCorner]bool)
	for _, r := range s.jointRows(p) {
		if k := s.kinkOf(at, r); k.seen && !told[k.lines] {
			told[k.lines] = true
			out = append(out, k.finding)
		}
	}
	return out
}

// kink is what is to be said of one end of a seam, nothing unless it is seen; lines are the
// two edges that meet there.
type kink struct {
	seen    bool
	lines   [2]edgeCorner
	finding Finding
}

// The slots of the kinks at the two ends of a seam.
var kinkSlots = [...]string{EdgeStart: "kink at the start", EdgeFinish: "kink at the end"}

// kinkOf keeps what is to be said of one end of a seam for as long as its pieces and what is
// laid together there are the same.
func (s *Slots) kinkOf(at *lookup, r jointRow) kink {
	pieces, known := at.rowPieces(r.stops)
	if !known {
		return kinkIn(at, r)
	}
	return slotOf(s, kinkSlots[r.end], r.seam.ID, slotInputs{r.seam, &r.stops[0], pieces}, func() kink {
		return kinkIn(newLookup(&Project{Pieces: pieces.list()}), r)
	})
}

// rowPieces returns the pieces of a row that is laid together, false where they are more than
// a few.
func (l *lookup) rowPieces(row []jointStop) (few fewPieces, ok bool) {
	if len(row) > len(few) {
		return few, false
	}
	for i, stop := range row {
		few[i] = l.pieces[stop.sewn.piece]
		if few[i] == nil {
			return few, false
		}
	}
	return few, true
}

// kinkIn returns what is to be said of one end of a seam.
func kinkIn(at *lookup, r jointRow) kink {
	w := &jointWork{at: at}
	j, ok := w.joint(r)
	if !ok || j.Smooth() || j.Corner() || j.DrawnUp {
		return kink{}
	}
	place := j.A.Piece.cornerAt(j.A.lineIndex(), j.A.LineEnd)
	level := LookAgain
	if j.Meant() || j.A.letIn() || j.B.letIn() || j.A.leftRaw() && j.B.leftRaw() {
		level = Remark
	}
	return kink{seen: true, lines: j.lines(), finding: Finding{
		Key: kinkKey(j.Seam, j.End), Level: level,
		About: "seam " + j.seam.label(), Says: j.says(),
		Piece: j.A.Piece.ID, Edge: j.A.Line, Seam: j.Seam, At: &place,
		Mends: []Mend{j.mend()},
	}}
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
