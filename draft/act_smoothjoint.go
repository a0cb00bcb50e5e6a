package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// SmoothJointArgs are the arguments of SmoothJoint.
type SmoothJointArgs struct {
	Seam SeamRef `arg:"seam" says:"the seam that the line crosses"`
	End  EdgeEnd `arg:"end" says:"at which end of the seam"`
}

// SmoothJoint draws the two lines that meet at the end of a seam into one: both get one
// direction there. Their ends stay, so that no seam that ends there changes its length;
// what is bent is the last bit of each line, more where it takes less to bend it.
var SmoothJoint = register(Info{
	Name: "smooth-joint", Title: "Smooth a line across a seam", Group: groupSeams,
	Says: "Draws a hem, a neck or another line that a seam crosses into one smooth line across it.",
}, smoothAcross)

// kinkMost is the largest kink in degrees that is drawn out: beyond a right angle two lines
// do not run on in each other.
const kinkMost = 90

func smoothAcross(p *Project, a SmoothJointArgs) (Outcome, error) {
	seam := p.Seam(ID(a.Seam))
	if seam == nil {
		return Outcome{}, fmt.Errorf("seam %s %w", a.Seam, errGone)
	}
	j, ok := NewSlots().Joint(p, seam.ID, a.End)
	if !ok {
		return Outcome{}, fmt.Errorf("no line runs on across the %s of seam %s", a.End, seam.label())
	}
	if math.Abs(j.Degrees()) > kinkMost {
		return Outcome{}, fmt.Errorf("the %s makes a corner of %.0f° there, and no curve takes that up; move its points first", j.What, math.Abs(j.Degrees()))
	}
	bend, err := shareKink(j)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Project: p, subject: j.What + " at " + seam.label(), Made: seam.ID, unit: p.Unit}
	var ids []ID
	for _, b := range bend {
		next, err := onePiece(out.Project, b.side.Piece.ID, func(q *Piece) error { return b.do(q, p.sewnIn(q.ID, b.side.Line) != nil) })
		if err != nil {
			return Outcome{}, err
		}
		out.Project = next
		if len(ids) == 0 || ids[0] != b.side.Piece.ID {
			ids = append(ids, b.side.Piece.ID)
		}
	}
	for _, id := range ids {
		if err := out.tellSeams(p, id); err != nil {
			return Outcome{}, err
		}
	}
	return out, nil
}

// jointBend turns the end of the line of one side of a joint.
type jointBend struct {
	side JointSide
	// by is by how much the cloth's angle at the corner opens, in radians.
	by float64
}

// shareKink shares the kink among the two lines. A handle of length h that turns by a small
// angle moves its stretch of length l by about h times the angle times 3t(1-t)^2, so that
// the sum of the squares of the movement along both lines, h^2 l angle^2 each, is least
// where the angles are as 1 to h^2 l. A line that is the same drawing on both sides takes
// one half, as both of its copies turn; a locked piece takes none.
func shareKink(j SeamJoint) ([]jointBend, error) {
	a, b := jointBend{side: j.A}, jointBend{side: j.B}
	if a.side.corner() == b.side.corner() {
		a.by = j.Kink / 2
		return []jointBend{a}, nil
	}
	lockedA, lockedB := j.A.Piece.Locked, j.B.Piece.Locked
	switch {
	case lockedA && lockedB:
		return nil, fmt.Errorf("%s are locked; unlock the one that may change", j.pieces())
	case lockedA:
		b.by = j.Kink
		return []jointBend{b}, nil
	case lockedB:
		a.by = j.Kink
		return []jointBend{a}, nil
	}
	stiffA, stiffB := j.A.stiffness(), j.B.stiffness()
	if !(stiffA+stiffB > 0) {
		return nil, errors.New("a line has no length there")
	}
	a.by = j.Kink * stiffB / (stiffA + stiffB)
	b.by = j.Kink - a.by
	return []jointBend{a, b}, nil
}

// stiffness is how much the line changes when its end is turned, in mm^3.
func (s JointSide) stiffness() float64 {
	stretch := s.lastStretch()
	h := stretch.P0.Dist(stretch.P1)
	return h * h * stretch.Length()
}

// lastStretch returns the stretch of the line at the joint, run away from it.
func (s JointSide) lastStretch() geom.Segment {
	path := s.Piece.EdgePath(s.lineIndex())
	if s.LineEnd == EdgeStart {
		return path[0]
	}
	return path[len(path)-1].Reverse()
}

// do turns the end of the line on the piece, which may be written to. The length of a line
// that is sewn is kept where its handle can be made longer or shorter for it.
func (b jointBend) do(q *Piece, keep bool) error {
	_, i := q.Edge(b.side.Line)
	if i < 0 {
		return fmt.Errorf("edge %s %w", b.side.Line, errGone)
	}
	start := b.side.LineEnd == EdgeStart
	k := 0
	if !start {
		k = len(q.Edges[i].Nodes) - 1
	}
	from, to := q.nodeAt(i, k), q.nodeAt(i, k+1)
	if q.dartAt(from.ID, to.ID) != nil {
		return fmt.Errorf("edge %s ends in the mouth of a dart there", q.Edges[i].label())
	}
	stretch := segment(*from, *to)
	length, way := stretch.Length(), q.leaving(i, b.side.LineEnd)
	if way == (geom.Point{}) || !(length > 0) {
		return fmt.Errorf("edge %s has no direction there", q.Edges[i].label())
	}
	if stretch.Straight {
		from.Out, to.In = stretch.P1.Sub(stretch.P0), stretch.P2.Sub(stretch.P3)
	}
	// The angle opens where what leaves the corner turns to the right, and where what
	// came to it turns to the left.
	turned, handle := geom.Rotation(b.by, geom.Point{}).ApplyVector(way), &to.In
	if start {
		turned, handle = geom.Rotation(-b.by, geom.Point{}).ApplyVector(way), &from.Out
	}
	size := max(handle.Len(), leastHandle*stretch.P0.Dist(stretch.P3))
	*handle = turned.Mul(size)
	if keep {
		keepStretchLength(from, to, handle, length)
	}
	return nil
}

// leastHandle is the share of a stretch's chord below which a handle is made longer, so
// that it has a direction that is seen and survives rounding.
const leastHandle = 0.02

const (
	// handleLeast and handleMost bound, as a multiple of what it was, a handle that is
	// changed to keep a length: beyond them the curve would look another.
	handleLeast, handleMost = 0.25, 3
	// handleSteps is into how many steps the way to either bound is divided to find where
	// the length is kept.
	handleSteps = 24
)

// keepStretchLength makes the handle of a stretch longer or shorter, by as little as can
// be, so that the stretch is as long as told. Where no handle within the bounds does, it
// stays.
func keepStretchLength(from, to *Node, handle *geom.Point, length float64) {
	whole := *handle
	off := func(k float64) float64 {
		*handle = whole.Mul(k)
		return segment(*from, *to).Length() - length
	}
	now := off(1)
	best, found := 1.0, false
	for _, bound := range [...]float64{handleLeast, handleMost} {
		for i := 1; i <= handleSteps; i++ {
			k0, k1 := 1+(bound-1)*float64(i-1)/handleSteps, 1+(bound-1)*float64(i)/handleSteps
			if off(k0)*off(k1) > 0 {
				continue
			}
			root := bisect(off, k0, k1)
			if !found || math.Abs(root-1) < math.Abs(best-1) {
				best, found = root, true
			}
			break
		}
	}
	if now == 0 || !found {
		best = 1
	}
	*handle = whole.Mul(best)
}

// bisect returns where f, which has other signs at a and b, is 0, to rounding.
func bisect(f func(float64) float64, a, b float64) float64 {
	low := f(a) > 0
	for range 60 {
		m := (a + b) / 2
		if (f(m) > 0) == low {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}
