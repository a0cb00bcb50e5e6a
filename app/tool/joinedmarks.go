package tool

import (
	"math"
	"strconv"
	"strings"

	"hemlet/app/desk"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
)

// JointMarks is the end of a seam with its pieces laid together, as it is drawn in the
// place of the pieces, which fade.
type JointMarks struct {
	// Laid are the pieces as they lie.
	Laid []draft.Laid
	// Lines are the two parts of the line that runs on, and Seams the edges that are sewn
	// between them, each run away from At.
	Lines [2]geom.Path
	Seams []geom.Path
	// At is where they meet.
	At geom.Point
	// Word says the angle between the two lines, and Stands what to make of it.
	Word   string
	Stands JointStands
}

// JointStands is what to make of the angle at a joint.
type JointStands int

// A line runs on smoothly, or has a kink, or an angle that may be meant or is not seen.
const (
	JointSmooth JointStands = iota
	JointKinked
	JointLeft
)

// Marks implements Tool.
func (j *Joined) Marks() Marks {
	joint, ok := j.Joint()
	if !ok {
		return Marks{}
	}
	m := &JointMarks{Laid: joint.Laid(), Lines: [2]geom.Path{joint.A.LinePath(), joint.B.LinePath()}, At: joint.At}
	m.Seams = append(m.Seams, joint.A.SewnPath(), joint.B.SewnPath())
	for _, s := range joint.Between {
		m.Seams = append(m.Seams, s.SewnPath(), s.LinePath())
	}
	m.Word, m.Stands = jointWord(joint), jointStands(joint)
	return Marks{Joint: m}
}

// What is shown round a joint: so much of the lines and of the seam, in mm, at most and at
// least, and so much beside that as a share of it.
const (
	jointSeen, jointLeast = 48, 12
	jointSeamShare        = 0.5
	jointBeside           = 0.3
)

// Box is what is to be seen of the joint: the end of the seam with as much of the line on
// both sides as shows how it runs on.
func (m *JointMarks) Box() geom.Rect {
	reach := max(min(m.Lines[0].Length(), m.Lines[1].Length(), jointSeen), jointLeast)
	box := geom.EmptyRect().Include(m.At)
	for _, path := range m.Lines {
		box = box.Union(path.Between(0, reach).Bounds())
	}
	for _, path := range m.Seams {
		box = box.Union(path.Between(0, jointSeamShare*reach).Bounds())
	}
	return box.Grow(jointBeside * reach)
}

func jointStands(j draft.SeamJoint) JointStands {
	switch {
	case j.Smooth():
		return JointSmooth
	case j.Meant() || !j.Kinked():
		return JointLeft
	}
	return JointKinked
}

// fineDegrees is the angle below which tenths of a degree are told: where they round to ten
// whole degrees they are not.
const fineDegrees = 9.95

// degreeWords tells an angle, its sign left out.
func degreeWords(degrees float64) string {
	degrees = math.Abs(degrees)
	digits := 0
	if degrees < fineDegrees {
		digits = 1
	}
	return strconv.FormatFloat(degrees, 'f', digits, 64) + "°"
}

// leastDegrees is the least angle that is told of a smooth line: less is rounding.
const leastDegrees = 0.05

// jointWord says in a few words how the two lines meet.
func jointWord(j draft.SeamJoint) string {
	angle := degreeWords(j.Degrees())
	switch {
	case j.Smooth() && math.Abs(j.Degrees()) < leastDegrees:
		return "smooth"
	case j.Smooth():
		return "smooth, " + angle
	case j.Corner():
		return "a corner of " + angle
	case j.Kink > 0:
		return "a point of " + angle
	}
	return "a dip of " + angle
}

// JointTold is what is said of a joint in words.
type JointTold struct {
	// Title names the seam by its letter and its name.
	Title string
	// Says is how the line runs on across it.
	Says   string
	Stands JointStands
}

// Tells says what is seen; false where no line runs on there.
func (j *Joined) Tells() (JointTold, bool) {
	joint, ok := j.Joint()
	if !ok {
		return JointTold{}, false
	}
	p := j.hand.Desk.Project()
	seam := p.Seam(j.seam)
	says := lineWords(joint.What) + " runs on " + fromTo(joint) + betweenWords(joint) + ": " + jointWord(joint) + "."
	switch {
	case joint.Smooth():
	case joint.DrawnUp:
		says += " It is gathered or pleated there, so that no kink is seen."
	case joint.Corner():
		says += " Nobody takes that for one line."
	case joint.Meant():
		says += " That may be meant."
	}
	return JointTold{desk.Letter(p, seam.ID) + ": " + seam.Name, says, jointStands(joint)}, true
}

// lineWords begins a sentence with a line: by its number where it has no name.
func lineWords(what string) string {
	if strings.HasPrefix(what, "edge ") {
		return wording.Sentence(what)
	}
	return "The " + what
}

// fromTo names the pieces whose lines meet.
func fromTo(j draft.SeamJoint) string {
	if j.A.Piece == j.B.Piece && j.A.Line == j.B.Line && j.A.LineEnd == j.B.LineEnd {
		return "from " + j.A.Piece.Name + " to its mirror image"
	}
	return "from " + j.A.Piece.Name + " to " + j.B.Piece.Name
}

// betweenWords names the pieces that come to a point in between.
func betweenWords(j draft.SeamJoint) string {
	if len(j.Between) == 0 {
		return ""
	}
	var names []string
	for _, s := range j.Between {
		names = append(names, s.Piece.Name)
	}
	return " past " + wording.List(names)
}
