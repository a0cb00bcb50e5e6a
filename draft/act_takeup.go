package draft

import (
	"errors"
	"fmt"
	"math"
)

// RatioAsItIsArgs are the arguments of RatioAsItIs.
type RatioAsItIsArgs struct {
	Seam     SeamRef   `arg:"seam" says:"the seam"`
	Fullness *Fullness `arg:"fullness" says:"what becomes of the extra length; without it, what became of it before, or ease up to 1.04 and gathers beyond"`
}

// RatioAsItIs has a seam mean what its sides are: the longer one is the fuller one, by as
// much as it is now. No outline changes.
var RatioAsItIs = register(Info{
	Name: "ratio-as-it-is", Title: "Mean a seam as it is", Group: groupSeams,
	Says: "Sets the intended ratio of a seam, and its fuller side, from what is there; no outline changes.",
}, func(p *Project, a RatioAsItIsArgs) (Outcome, error) {
	s := p.Seam(ID(a.Seam))
	if s == nil {
		return Outcome{}, fmt.Errorf("seam %s %w", a.Seam, errGone)
	}
	m, err := p.seamAsItIs(s, a.Fullness)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Project: p.withSeam(m), subject: m.label(), Made: m.ID}
	if m.Ratio == 1 {
		out.say("Seam %s is plain now.", m.label())
	} else {
		out.say("Seam %s now has %s, %.2f to 1.", m.label(), m.Fullness, m.Ratio)
	}
	return out, nil
})

// seamAsItIs returns the seam as it is meant when its sides are right as they are.
func (p *Project) seamAsItIs(s *Seam, kind *Fullness) (*Seam, error) {
	a, b := p.runLength(s.A), p.runLength(s.B)
	if !(a > 0 && b > 0) {
		return nil, errors.New("a side of the seam has no length")
	}
	m := *s
	if math.Abs(a-b) < meantSlack {
		m.Ratio = 1
	} else {
		m.Fuller, m.Ratio = SeamState{A: a, B: b}.AsItIs()
	}
	if m.Ratio > MaxRatio {
		return nil, fmt.Errorf("one side is %.0f times as long as the other, and a seam takes up at most %d", m.Ratio, MaxRatio)
	}
	if m.Fuller != s.Fuller || m.Ratio == 1 {
		m.From, m.To = 0, 1
	}
	switch {
	case m.Ratio == 1:
		kind = nil
	case kind != nil && *kind == Plain:
		return nil, errors.New("its sides are not of one length, and a plain seam takes nothing up")
	case kind == nil && (s.Fullness == Gathers || s.Fullness == Pleats || s.Fullness == Ease && m.Ratio <= easeTo):
		kind = &s.Fullness
	}
	if err := m.setFullness(kind); err != nil {
		return nil, err
	}
	return &m, nil
}

// TakenUp says how the difference of two sides is taken up.
type TakenUp int

const (
	AsDart TakenUp = iota
	AsEase
	AsGathers
)

var takenUpNames = names[TakenUp]{"dart", "ease", "gathers"}

func (t TakenUp) String() string               { return takenUpNames.text(t) }
func (t TakenUp) MarshalText() ([]byte, error) { return takenUpNames.marshal(t) }

// UnmarshalText reads dart, ease or gathers.
func (t *TakenUp) UnmarshalText(b []byte) error {
	return takenUpNames.unmarshal(t, b, "way to take up")
}

// TakeUpArgs are the arguments of TakeUp.
type TakeUpArgs struct {
	Seam   SeamRef   `arg:"seam" says:"the seam"`
	As     TakenUp   `arg:"as" says:"how the difference is taken up in the side that is too long"`
	At     EdgePlace `arg:"at" says:"where along that side a dart opens" default:"50%"`
	Length *Length   `arg:"length" says:"how long a dart is; without it, three times what it takes in"`
	From   float64   `arg:"from" says:"where ease or gathers begin, as a share of the fuller side" default:"0"`
	// To 0 means 1.
	To float64 `arg:"to" says:"where they end" default:"1"`
}

// TakeUp takes up what one side of a seam is too long: as a dart in it, so that its sides
// then match as they are meant to, or as ease or gathers, as which the seam is meant then.
var TakeUp = register(Info{
	Name: "take-up", Title: "Take up the difference", Group: groupSeams,
	Says: "Takes up what one side of a seam is too long as a dart, as ease or as gathers.",
}, takeUp)

func takeUp(p *Project, a TakeUpArgs) (Outcome, error) {
	s := p.Seam(ID(a.Seam))
	if s == nil {
		return Outcome{}, fmt.Errorf("seam %s %w", a.Seam, errGone)
	}
	if err := p.checkRuns(s); err != nil {
		return Outcome{}, err
	}
	if a.As == AsDart {
		return p.takeUpAsDart(s, a)
	}
	kind := Ease
	if a.As == AsGathers {
		kind = Gathers
	}
	m, err := p.seamAsItIs(s, &kind)
	if err != nil {
		return Outcome{}, err
	}
	if m.Ratio == 1 {
		return Outcome{}, errMatches
	}
	m.From, m.To = a.From, a.To
	if m.To == 0 {
		m.To = 1
	}
	if err := m.setFullness(&kind); err != nil {
		return Outcome{}, err
	}
	out := Outcome{Project: p.withSeam(m), subject: m.label(), Made: m.ID}
	out.say("Seam %s now has %s, %.2f to 1.", m.label(), m.Fullness, m.Ratio)
	if kind == Ease && m.Ratio > easeTo {
		out.say("More than %.2f seldom eases in without a pucker.", easeTo)
	}
	return out, nil
}

// smallestDart is the intake in mm below which a dart is hard to sew. (Common practice,
// no source.)
const smallestDart = 2

// dartTries is how often a dart is drawn to find the intake that makes its edge exactly so
// much shorter: the legs are made equally long, which moves its mouth along them.
const dartTries = 20

// takeUpAsDart puts a dart into the side that is too long.
func (p *Project) takeUpAsDart(s *Seam, a TakeUpArgs) (Outcome, error) {
	long, by := s.Fuller, p.seamDiff(s)
	if by < 0 {
		// The fuller side is not full enough: it is the other one that is too long for it.
		long, by = long.other(), -by/s.Ratio
	}
	if by <= MatchedTo {
		return Outcome{}, errMatches
	}
	edge, at, times, err := p.placeOnRun(s.run(long), a.At)
	if err != nil {
		return Outcome{}, err
	}
	if err := mayGive(p.Piece(edge.Piece)); err != nil {
		return Outcome{}, err
	}
	by /= times
	was := p.edgeRefLength(edge)
	// Sought by the rule of the secant: what is taken is nearly what the mouth is wide.
	width, out := by, Outcome{}
	lastWidth, lastOff := 0.0, -by
	for try := 0; ; try++ {
		if out, err = addDart(p, AddDartArgs{Edge: edge, At: EdgePlace{At: at}, Intake: Length(width), Length: a.Length}); err != nil {
			return Outcome{}, err
		}
		off := was - out.Project.edgeRefLength(edge) - by
		if math.Abs(off) <= Grid || try == dartTries || off == lastOff {
			break
		}
		next := width - off*(width-lastWidth)/(off-lastOff)
		width, lastWidth, lastOff = next, width, off
	}
	// It takes up what was too much; the seam is meant as it was.
	out.Project = out.Project.withMeaning(s)
	out.subject = s.label()
	if by < smallestDart {
		out.say("A dart that takes in %s is hard to sew; ease would hide it.", p.Unit.FormatSmall(by))
	}
	return out, nil
}

// withMeaning returns p with the seam as full as it was meant to be in an earlier
// project.
func (p *Project) withMeaning(was *Seam) *Project {
	s := p.Seam(was.ID)
	if s == nil || s.Ratio == was.Ratio && s.Fuller == was.Fuller && s.Fullness == was.Fullness && s.From == was.From && s.To == was.To {
		return p
	}
	m := *s
	m.Ratio, m.Fuller, m.Fullness, m.From, m.To = was.Ratio, was.Fuller, was.Fullness, was.From, was.To
	return p.withSeam(&m)
}

// edgeRefLength returns the length of an edge in mm, 0 where it is gone.
func (p *Project) edgeRefLength(r EdgeRef) float64 {
	return p.runLength(Run{{Piece: r.Piece, Edge: r.Edge}})
}

// placeOnRun returns the edge on which a place along a run lies, how far from the start
// of the edge in mm, and how often the run sews that edge.
func (p *Project) placeOnRun(run Run, place EdgePlace) (edge EdgeRef, at, times float64, err error) {
	whole := p.runLength(run)
	along := place.At
	if place.Share {
		along *= whole
	}
	if !(along >= 0 && along <= whole+p.Unit.placeSlack()) {
		return edge, 0, 0, fmt.Errorf("the side is %s long, so that there is no place at %s", p.Unit.Format(whole), p.Unit.Format(along))
	}
	if place.FromEnd {
		along = whole - along
	}
	for k, u := range run {
		own := p.runLength(run[k : k+1])
		if along > own && k < len(run)-1 {
			along -= own
			continue
		}
		along = min(max(along, 0), own)
		if u.Reversed {
			along = own - along
		}
		edge = EdgeRef{u.Piece, u.Edge}
		break
	}
	for _, u := range run {
		if u.Piece == edge.Piece && u.Edge == edge.Edge {
			times++
		}
	}
	return edge, along, times, nil
}
