package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom/adjust"
)

// Giving says which side of a seam changes so that the two match.
type Giving int

const (
	// GiveBoth has the sides meet between; a side that cannot change leaves it to the
	// other.
	GiveBoth Giving = iota
	GiveA
	GiveB
)

var givingNames = names[Giving]{"both", "a", "b"}

func (g Giving) String() string               { return givingNames.text(g) }
func (g Giving) MarshalText() ([]byte, error) { return givingNames.marshal(g) }

// UnmarshalText reads both, a or b.
func (g *Giving) UnmarshalText(b []byte) error {
	return givingNames.unmarshal(g, b, "side that gives")
}

// gives reports whether a side is one that changes.
func (g Giving) gives(side Side) bool {
	return g == GiveBoth || g == GiveA && side == SideA || g == GiveB && side == SideB
}

// MatchWay says how a side is made longer or shorter.
type MatchWay int

const (
	// MoveEnd moves an end of the side along it.
	MoveEnd MatchWay = iota
	// BendSide bends it between its ends, which stay.
	BendSide
	// SpreadSide puts cloth in, or takes it out, over a stretch of the side.
	SpreadSide
)

var matchWayNames = names[MatchWay]{"end", "bend", "spread"}

func (w MatchWay) String() string               { return matchWayNames.text(w) }
func (w MatchWay) MarshalText() ([]byte, error) { return matchWayNames.marshal(w) }

// UnmarshalText reads end, bend or spread.
func (w *MatchWay) UnmarshalText(b []byte) error {
	return matchWayNames.unmarshal(w, b, "way to match")
}

// Meant says what the sides of a seam are to be to each other.
type Meant int

const (
	MeantFull  Meant = iota // as full as the seam is meant to be
	MeantPlain              // equally long
)

var meantNames = names[Meant]{"as meant", "plain"}

func (m Meant) String() string               { return meantNames.text(m) }
func (m Meant) MarshalText() ([]byte, error) { return meantNames.marshal(m) }

// UnmarshalText reads as meant or plain.
func (m *Meant) UnmarshalText(b []byte) error { return meantNames.unmarshal(m, b, "fullness") }

// MatchSeamArgs are the arguments of MatchSeam.
type MatchSeamArgs struct {
	Seam  SeamRef  `arg:"seam" says:"the seam"`
	Gives Giving   `arg:"gives" says:"the side that changes, or both" default:"both"`
	Way   MatchWay `arg:"way" says:"end: an end of the side moves along it; bend: the ends stay and the line between them bends; spread: cloth is put in or taken out over a stretch" default:"end"`
	Want  Meant    `arg:"want" says:"as full as the seam is meant to be, or plain: sides of one length" default:"as meant"`
	// End is counted along side a.
	End  *EdgeEnd `arg:"end" says:"the end of the seam that moves, along side a; without it, the one where nothing else is sewn"`
	From float64  `arg:"from" says:"where on the side the spread begins, as a share of its length" default:"0"`
	// To 0 means 1.
	To float64 `arg:"to" says:"where it ends" default:"1"`
}

// MatchSeam makes the sides of a seam match by the least change of their outlines. Sides
// of other seams keep their lengths, folds stay on their line, straight edges stay straight
// and, where that can be, along the grain. The sides match to 0.01 mm, or the act says by
// how much they do not.
var MatchSeam = register(Info{
	Name: "match-seam", Title: "Match the sides of a seam", Group: groupSeams,
	Says: "Makes one side of a seam as long as the other asks for, or has both meet between, by the least change; edges that are sewn elsewhere keep their length.",
}, matchSeam)

func matchSeam(p *Project, a MatchSeamArgs) (Outcome, error) {
	s := p.Seam(ID(a.Seam))
	if s == nil {
		return Outcome{}, fmt.Errorf("seam %s %w", a.Seam, errGone)
	}
	if err := p.checkRuns(s); err != nil {
		return Outcome{}, err
	}
	before := p
	if a.Want == MeantPlain && s.Ratio != 1 {
		plain := *s
		plain.Ratio, plain.Fullness, plain.From, plain.To = 1, Plain, 0, 1
		s, p = &plain, p.withSeam(&plain)
	}
	out := Outcome{subject: s.label(), Made: s.ID, unit: p.Unit}
	if math.Abs(p.seamDiff(s)) <= MatchedTo {
		if p == before {
			return Outcome{}, errMatches
		}
		out.Project = p
		return out, nil
	}
	if p.ownEdges(s) {
		return Outcome{}, errOwnEdges
	}
	sides, err := p.givingSides(s, a.Gives)
	if err != nil {
		return Outcome{}, err
	}
	switch a.Way {
	case MoveEnd:
		err = p.matchByEnd(s, sides, a.End, &out)
	case BendSide:
		err = p.matchByBend(s, sides, &out)
	case SpreadSide:
		err = p.matchBySpread(s, sides, a.From, a.To, &out)
	}
	if err != nil {
		return Outcome{}, err
	}
	p.sayOthers([]*Seam{s}, &out)
	p.sayBesides(p.withFellows([]*Seam{s}), &out)
	before.sayMoved(&out)
	return out, nil
}

// sayMoved tells by how much the outlines that an act has changed move at most.
func (p *Project) sayMoved(out *Outcome) {
	out.say("Outlines move by at most %s.", p.Unit.FormatAtMost(Movement(p, out.Project)))
}

// MatchedTo is how far, in mm, the sides of a seam may be from what they are meant to be
// and still be called matched: a hundredth, which nobody can cut.
const MatchedTo = adjust.Met

var errMatches = errors.New("its sides match already")

// seamDiff returns how much longer than intended the fuller side of the seam is, in mm.
func (p *Project) seamDiff(s *Seam) float64 {
	full, other := p.runLength(s.B), p.runLength(s.A)
	if s.Fuller == SideA {
		full, other = other, full
	}
	return full - s.Ratio*other
}

// mayGive returns why a piece cannot change, nil where it can.
func mayGive(piece *Piece) error {
	switch {
	case piece.Locked:
		return fmt.Errorf("%s %w", piece.label(), errLocked)
	case piece.Ghost > 0:
		return fmt.Errorf("%s is a ghost, which is only looked at", piece.label())
	}
	return nil
}
