package draft

import (
	"errors"
	"fmt"
	"strconv"
)

// SeamEnds says how the direction of the second run of a new seam is found.
type SeamEnds int

const (
	// MatchEnds turns the second run so that the ends meet which meet when two
	// pieces are laid right sides together.
	MatchEnds SeamEnds = iota
	// EndsAsGiven leaves it as it is given.
	EndsAsGiven
)

var seamEndsNames = names[SeamEnds]{"match", "as given"}

func (e SeamEnds) String() string               { return seamEndsNames.text(e) }
func (e SeamEnds) MarshalText() ([]byte, error) { return seamEndsNames.marshal(e) }

// UnmarshalText reads match or as given.
func (e *SeamEnds) UnmarshalText(b []byte) error { return seamEndsNames.unmarshal(e, b, "way of ends") }

// LinkSeamArgs are the arguments of LinkSeam.
type LinkSeamArgs struct {
	A    Run      `arg:"a" says:"one side"`
	B    Run      `arg:"b" says:"the side that is sewn to it"`
	Name string   `arg:"name,optional" says:"the seam's name; without it, that of the edges"`
	Ends SeamEnds `arg:"ends" says:"whether side b is turned so that the ends meet" default:"match"`
	// Ratio 0 means 1.
	Ratio    float64   `arg:"ratio" says:"how much longer the fuller side is meant to be: 1.03 eased, 1.5 gathered" default:"1"`
	Fuller   *Side     `arg:"fuller" says:"the fuller side; without it, the longer one"`
	Fullness *Fullness `arg:"fullness" says:"what becomes of the extra length; without it, ease up to 1.04 and gathers beyond"`
	From     float64   `arg:"from" says:"where on the fuller side the fullness begins, as a share of its length" default:"0"`
	// To 0 means 1.
	To        float64 `arg:"to" says:"where it ends" default:"1"`
	BothSides *bool   `arg:"both-sides" says:"whether the same seam is sewn on the other side of the body; without it, yes where there is one"`
	Opens     bool    `arg:"opens" says:"whether it is not sewn but closed with buttons, hooks or ties" default:"no"`
	Lap       Length  `arg:"lap" says:"by how much the sides of a seam that opens lie over each other" default:"0mm"`
}

// LinkSeam says that two runs are sewn together.
var LinkSeam = register(Info{
	Name: "link-seam", Title: "Link a seam", Group: groupSeams,
	Says: "Says that two edges, or two rows of edges, are sewn together.",
}, linkSeam)

func linkSeam(p *Project, a LinkSeamArgs) (Outcome, error) {
	seam := &Seam{A: append(Run(nil), a.A...), B: append(Run(nil), a.B...), Ratio: a.Ratio, From: a.From, To: a.To, Opens: a.Opens}
	if err := seam.setLap(a.Lap); err != nil {
		return Outcome{}, err
	}
	if a.Ends == MatchEnds {
		p.matchOwnMirror(seam)
	}
	if err := p.checkRuns(seam); err != nil {
		return Outcome{}, err
	}
	if a.Ends == MatchEnds {
		p.matchEnds(seam)
	}
	name, err := p.seamName(a.Name, seam)
	if err != nil {
		return Outcome{}, err
	}
	seam.Name = name
	if seam.Ratio == 0 {
		seam.Ratio = 1
	}
	if seam.To == 0 {
		seam.To = 1
	}
	seam.Fuller = p.longer(seam)
	if a.Fuller != nil {
		seam.Fuller = *a.Fuller
	}
	if err := seam.setFullness(a.Fullness); err != nil {
		return Outcome{}, err
	}
	out := Outcome{subject: name}
	if err := p.setBothSides(seam, a.BothSides, &out); err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	seam.ID = ids.make(kindSeam)
	out.Made = seam.ID
	out.Project = p.shallow()
	out.Project.NextID = ids.next
	out.Project.Seams = append(append([]*Seam(nil), p.Seams...), seam)
	return out, nil
}

// checkRuns reports what cannot be sewn.
func (p *Project) checkRuns(s *Seam) error {
	seen := make(map[EdgeUse]bool)
	for _, side := range []struct {
		run  Run
		name Side
	}{{s.A, SideA}, {s.B, SideB}} {
		if len(side.run) == 0 {
			return fmt.Errorf("side %s has no edge", side.name)
		}
		for _, u := range side.run {
			if err := p.useExists(u); err != nil {
				return fmt.Errorf("side %s sews %w", side.name, err)
			}
			if q := p.Piece(u.Piece); q.Ghost > 0 {
				return fmt.Errorf("%s is a ghost, which is only looked at and never sewn", q.label())
			}
			u.Reversed = false
			if seen[u] {
				return fmt.Errorf("%s is there twice; an edge cannot be sewn to itself", p.useText(u))
			}
			seen[u] = true
		}
	}
	return nil
}

// longer returns the side whose run is longer as drawn, a where they are equal.
func (p *Project) longer(s *Seam) Side {
	if p.runLength(s.B) > p.runLength(s.A) {
		return SideB
	}
	return SideA
}

// runLength returns the length of a run in mm; what is gone counts for nothing.
func (p *Project) runLength(run Run) float64 {
	sum := 0.0
	for _, u := range run {
		if piece := p.Piece(u.Piece); piece != nil {
			if _, i := piece.Edge(u.Edge); i >= 0 {
				sum += piece.EdgeLength(i)
			}
		}
	}
	return sum
}

// MaxRatio bounds the ratio of a seam: sheers gather to three, ruffs to ten.
const MaxRatio = 20

// setLap says by how much the sides of a seam that opens lie over each other.
func (s *Seam) setLap(lap Length) error {
	switch {
	case !(lap >= 0 && lap <= MaxCoordinate):
		return errors.New("a lap is 0 or more")
	case lap > 0 && !s.Opens:
		return errors.New("only a seam that opens has a lap; its sides are not sewn but closed with buttons, hooks or ties")
	}
	s.Lap = toGrid(float64(lap))
	return nil
}

// setFullness sets what becomes of the fuller side's extra length, by its ratio
// where nothing is said, and checks the figures.
func (s *Seam) setFullness(want *Fullness) error {
	switch {
	case !(s.Ratio >= 1 && s.Ratio <= MaxRatio):
		return fmt.Errorf("the ratio is the fuller side over the other and lies between 1 and %d, not at %g", MaxRatio, s.Ratio)
	case !(s.From >= 0 && s.From < s.To && s.To <= 1):
		return fmt.Errorf("the fullness cannot lie from %g to %g; both are shares from 0 to 1, the first the smaller", s.From, s.To)
	case want != nil:
		s.Fullness = *want
	case s.Ratio == 1:
		s.Fullness = Plain
	case s.Ratio <= easeTo:
		s.Fullness = Ease
	default:
		s.Fullness = Gathers
	}
	if s.Fullness == Plain && s.Ratio != 1 {
		return fmt.Errorf("a plain seam has sides of one length, ratio 1 and not %g; say ease, gathers or pleats", s.Ratio)
	}
	return nil
}

// setBothSides says whether the seam stands for its mirror image as well.
func (p *Project) setBothSides(s *Seam, want *bool, out *Outcome) error {
	a, okA := p.mirrored(s.A)
	b, okB := p.mirrored(s.B)
	// A seam that lies on the middle of the body is its own mirror image.
	own := okA && okB && (sameSewing(a, b, s.A, s.B) || sameSewing(b, a, s.A, s.B))
	can := okA && okB && !own
	switch {
	case want == nil:
		s.BothSides = can
		if can {
			out.say("The seam stands for the other side of the body as well.")
		}
	case *want && own:
		return errors.New("this seam lies on the middle of the body and has no other side")
	case *want && !can:
		return errors.New("there is no other side: a piece of this seam is neither cut in pairs nor on the fold")
	default:
		s.BothSides = *want
	}
	return nil
}

// sameSewing reports whether sewing a to b is sewing c to d, run either way.
func sameSewing(a, b, c, d Run) bool {
	return sameRun(a, c) && sameRun(b, d) || sameRun(a.reversed(), c) && sameRun(b.reversed(), d)
}

// seamName returns the name that is given, or one made of the edges' names, that no
// other seam bears.
func (p *Project) seamName(given string, s *Seam) (string, error) {
	name, err := cleanName(given)
	if err != nil {
		return "", err
	}
	taken := func(n string) bool {
		for _, other := range p.Seams {
			if other.ID != s.ID && other.Name == n {
				return true
			}
		}
		return false
	}
	if name != "" {
		if taken(name) {
			return "", fmt.Errorf("another seam is called %s already", name)
		}
		return name, nil
	}
	a, b := p.edgeName(s.A[0]), p.edgeName(s.B[0])
	name = a
	if a != b {
		name = a + " to " + b
	}
	return unusedName(name, taken), nil
}

func (p *Project) edgeName(u EdgeUse) string {
	if piece := p.Piece(u.Piece); piece != nil {
		if e, _ := piece.Edge(u.Edge); e != nil {
			return e.label()
		}
	}
	return string(u.Edge)
}

// unusedName returns the name, with a number after it if it is taken.
func unusedName(name string, taken func(string) bool) string {
	if !taken(name) {
		return name
	}
	for n := 2; ; n++ {
		if next := name + " " + strconv.Itoa(n); !taken(next) {
			return next
		}
	}
}

// EditSeamArgs are the arguments of EditSeam. What is nil stays as it is.
type EditSeamArgs struct {
	Seam      SeamRef   `arg:"seam" says:"the seam"`
	Name      *string   `arg:"name" says:"its new name"`
	A         *Run      `arg:"a" says:"side a anew, as it is run"`
	B         *Run      `arg:"b" says:"side b anew, as it is run"`
	Ratio     *float64  `arg:"ratio" says:"how much longer the fuller side is meant to be"`
	Fuller    *Side     `arg:"fuller" says:"the fuller side"`
	Fullness  *Fullness `arg:"fullness" says:"what becomes of the extra length"`
	From      *float64  `arg:"from" says:"where on the fuller side the fullness begins, as a share of its length"`
	To        *float64  `arg:"to" says:"where it ends"`
	BothSides *bool     `arg:"both-sides" says:"whether the same seam is sewn on the other side of the body"`
	Opens     *bool     `arg:"opens" says:"whether it is not sewn but closed with buttons, hooks or ties"`
	Lap       *Length   `arg:"lap" says:"by how much the sides of a seam that opens lie over each other"`
}

// EditSeam changes a seam.
var EditSeam = register(Info{
	Name: "edit-seam", Title: "Change a seam", Group: groupSeams,
	Says: "Changes the name, the sides or the fullness of a seam.",
}, editSeam)

func editSeam(p *Project, a EditSeamArgs) (Outcome, error) {
	old := p.Seam(ID(a.Seam))
	if old == nil {
		return Outcome{}, fmt.Errorf("seam %s %w", a.Seam, errGone)
	}
	s := *old
	put(&s.A, a.A)
	put(&s.B, a.B)
	if err := p.checkRuns(&s); err != nil {
		return Outcome{}, err
	}
	if a.Name != nil {
		name, err := p.seamName(*a.Name, &s)
		if err != nil {
			return Outcome{}, err
		}
		s.Name = name
	}
	put(&s.Opens, a.Opens)
	switch {
	case a.Lap != nil:
		if err := s.setLap(*a.Lap); err != nil {
			return Outcome{}, err
		}
	case !s.Opens:
		s.Lap = 0
	}
	put(&s.Ratio, a.Ratio)
	put(&s.Fuller, a.Fuller)
	put(&s.From, a.From)
	put(&s.To, a.To)
	fullness := a.Fullness
	if fullness == nil && (s.Ratio == 1) == (s.Fullness == Plain) {
		fullness = &s.Fullness // it still fits the ratio
	}
	if err := s.setFullness(fullness); err != nil {
		return Outcome{}, err
	}
	out := Outcome{subject: s.label(), Made: s.ID}
	both := a.BothSides
	if both == nil && a.A == nil && a.B == nil {
		both = &old.BothSides
	}
	if err := p.setBothSides(&s, both, &out); err != nil {
		return Outcome{}, err
	}
	out.Project = p.withSeam(&s)
	return out, nil
}

// put sets to, where something is given.
func put[T any](to *T, from *T) {
	if from != nil {
		*to = *from
	}
}

// withSeam returns p with the seam of the same id replaced.
func (p *Project) withSeam(s *Seam) *Project {
	q := p.shallow()
	q.Seams = append([]*Seam(nil), p.Seams...)
	for i := range q.Seams {
		if q.Seams[i].ID == s.ID {
			q.Seams[i] = s
		}
	}
	return q
}

// UnlinkSeamArgs are the arguments of UnlinkSeam.
type UnlinkSeamArgs struct {
	Seams []SeamRef `arg:"seams" says:"the seams"`
}

// UnlinkSeam takes seams apart; the edges stay.
var UnlinkSeam = register(Info{
	Name: "unlink-seam", Title: "Take a seam apart", Group: groupSeams,
	Says: "Takes seams apart; the edges stay as they are.",
}, func(p *Project, a UnlinkSeamArgs) (Outcome, error) {
	if len(a.Seams) == 0 {
		return Outcome{}, errors.New("no seam is named")
	}
	gone := make(map[ID]bool)
	var labels []string
	for _, ref := range a.Seams {
		s := p.Seam(ID(ref))
		if s == nil {
			return Outcome{}, fmt.Errorf("seam %s %w", ref, errGone)
		}
		if !gone[s.ID] {
			labels = append(labels, s.label())
		}
		gone[s.ID] = true
	}
	next := p.shallow()
	next.Seams = nil
	for _, s := range p.Seams {
		if !gone[s.ID] {
			next.Seams = append(next.Seams, s)
		}
	}
	return Outcome{Project: next, subject: subjectOf(labels, "seams")}, nil
})
