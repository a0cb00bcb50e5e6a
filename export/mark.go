package export

import (
	"fmt"
	"math"

	"hemlet/geom"
)

// Role says what a line on a pattern means.
type Role int

const (
	CutLine Role = iota
	StitchLine
	FoldMark
	GrainMark
	NotchMark
	InternalLine
	// DartLegs are sewn onto each other; a PlacementMark is neither cut nor sewn.
	DartLegs
	PlacementMark
	// Cutout and Slit are cut through the cloth inside the piece.
	Cutout
	Slit
	// Leader ties a label that has no room on its piece to that piece.
	Leader
	// ScaleSquare is measured, never cut.
	ScaleSquare
)

var roleClasses = [...]string{
	"cut", "stitch", "fold", "grain", "notch", "internal", "internal", "internal", "cutout", "slit", "leader", "scale-square",
}

// Class returns the role as SVG files name it.
func (r Role) Class() string { return roleClasses[r] }

// kind tells apart roles that a drawing shows in the class of internal lines, empty
// where there is nothing to tell.
func (r Role) kind() string {
	switch r {
	case DartLegs:
		return "dart"
	case PlacementMark:
		return "placement"
	case Cutout, Slit:
		return r.Class()
	default:
		return ""
	}
}

// Mark is one line on a piece: one chain of segments, or several where they make
// one sign, such as a double arrow.
type Mark struct {
	Role   Role
	Chains []geom.Path
	// Name is the name of the dart, notch or line that the mark stands for.
	Name string
	// DashFrom is how far along its dashes, in mm, each chain begins.
	DashFrom float64
	// DrawOnly marks a notch that its allowance is too narrow to bear as a cut.
	DrawOnly bool
	// Drill marks a point rather than a line: Chains draw the cross on it.
	Drill bool
	// Sort tells apart what a drawing shows in one class, where the role does not.
	Sort string
	// Turned marks a line along which the cloth turns back inside the piece: it is drawn
	// as folds are.
	Turned bool
	// Solid marks a line without dashes, whatever its role.
	Solid bool
}

// kind tells apart marks that a drawing shows in the class of internal lines.
func (m Mark) kind() string {
	if m.Sort != "" {
		return m.Sort
	}
	return m.Role.kind()
}

// mark returns a mark of chains, of which empty ones are left out.
func mark(role Role, chains ...geom.Path) Mark {
	m := Mark{Role: role}
	for _, c := range chains {
		if len(c) > 0 {
			m.Chains = append(m.Chains, c)
		}
	}
	return m
}

// Transform returns the image of the mark.
func (m Mark) Transform(by geom.Affine) Mark {
	chains := make([]geom.Path, len(m.Chains))
	for i, c := range m.Chains {
		chains[i] = c.Transform(by)
		if by.Det() < 0 && c.Closed() {
			chains[i] = chains[i].Reverse()
		}
	}
	m.Chains = chains
	return m
}

// Bounds returns the box around the mark.
func (m Mark) Bounds() geom.Rect {
	box := geom.EmptyRect()
	for _, c := range m.Chains {
		box = box.Union(c.Bounds())
	}
	return box
}

// finite returns an error if the mark holds a number that is none.
func (m Mark) finite() error {
	for _, c := range m.Chains {
		for _, s := range c {
			for _, p := range [...]geom.Point{s.P0, s.P1, s.P2, s.P3} {
				if !p.Finite() {
					return fmt.Errorf("a %s line runs through (%g, %g)", m.Role.Class(), p.X, p.Y)
				}
			}
		}
	}
	return nil
}

// Anchor says which point of a line of text lies at its place.
type Anchor int

const (
	Start Anchor = iota
	Middle
)

// Text is one line of lettering.
type Text struct {
	// At is the anchor on the baseline.
	At geom.Point
	// Size is the em in mm.
	Size float64
	// Turn is in radians, counter-clockwise.
	Turn   float64
	Anchor Anchor
	Strong bool
	Words  string
}

// Transform returns the text moved by a map that neither scales nor mirrors.
func (t Text) Transform(by geom.Affine) Text {
	t.At = by.Apply(t.At)
	t.Turn += math.Atan2(by.B, by.A)
	return t
}

// Bounds returns a box that holds the text.
func (t Text) Bounds() geom.Rect {
	w := textWidth(t.Words, t.Size, t.Strong)
	x0 := 0.0
	if t.Anchor == Middle {
		x0 = -w / 2
	}
	place := geom.Rotation(t.Turn, geom.Point{}).Then(geom.Translation(t.At))
	box := geom.EmptyRect()
	for _, c := range [...]geom.Point{
		{X: x0, Y: -textDepth * t.Size}, {X: x0 + w, Y: -textDepth * t.Size},
		{X: x0, Y: textHeight * t.Size}, {X: x0 + w, Y: textHeight * t.Size},
	} {
		box = box.Include(place.Apply(c))
	}
	return box
}
