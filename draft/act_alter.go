package draft

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// AlterArgs are the arguments of Alter.
type AlterArgs struct {
	What Alteration `arg:"what" says:"where the body is built otherwise"`
	By   Length     `arg:"by" says:"how much more of it the body has than the pattern was made for, in mm of the body; below 0 how much less"`
	// Pieces name the garment.
	Pieces []PieceRef `arg:"pieces,optional" says:"pieces of the garment; its other pieces change with them where the alteration asks for it. Without them it is the only garment there is"`
}

// Alter makes one of the alterations of the trade: it moves on each piece of a garment what
// is moved for a body that is built so, by the amount, and leaves what is left. Seams keep
// the difference of their sides, to 1e-3 mm; what moves comes to lie within 0.1 mm and a
// fiftieth of the amount of where it is to be, or the act refuses. What moves and what
// stays is listed by Alterations. A piece that follows a block or a fit follows on, with
// the alteration as a change made by hand.
var Alter = register(Info{
	Name: "alter", Title: "Alter for the body", Group: groupPieces,
	Says: "Changes a garment for a body that is built otherwise in one place, such as a fuller bust or a sloping shoulder, as it is done by hand: it moves what has to move, and seams stay true.",
}, alter)

var errAlterNothing = errors.New("by 0 nothing changes; give an amount above 0 for more, below 0 for less")

func alter(p *Project, args AlterArgs) (Outcome, error) {
	if args.By == 0 {
		return Outcome{}, errAlterNothing
	}
	a, err := p.alteringOf(NewSlots().Anatomy(p), args.What, args.Pieces)
	if err != nil {
		return Outcome{}, err
	}
	a.by = float64(args.By)
	if err := a.plan(); err != nil {
		return Outcome{}, err
	}
	next, err := a.solve()
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Project: next, unit: p.Unit, Says: a.says}
	out.subject = strings.ToLower(a.info.Title) + ", " + a.info.Reads(a.by, p.Unit)
	var names []string
	for _, t := range a.pieces {
		names = append(names, t.Piece.label())
	}
	out.say("%s: %s.", a.info.Reads(a.by, p.Unit), strings.Join(names, ", "))
	p.sayMoved(&out)
	return out, nil
}

// plan says what moves and what stays.
func (a *altering) plan() error {
	switch a.info.What {
	case AlterBust:
		return a.bust()
	case AlterBelly:
		return a.belly()
	case AlterSwayBack:
		return a.swayBack()
	case AlterTorso:
		return a.torso()
	case AlterShoulderWidth:
		return a.shoulderWidth()
	case AlterShoulderSlope:
		return a.shoulderSlope()
	case AlterForwardNeck:
		return a.forwardNeck()
	case AlterArm:
		return a.arm()
	case AlterTail:
		return a.tail()
	case AlterFoot:
		return a.foot()
	}
	return fmt.Errorf("alteration %s is not known", a.info.What)
}

// alteringOf begins an alteration of the garment to which pieces belong.
func (p *Project) alteringOf(anatomy *Anatomy, what Alteration, refs []PieceRef) (*altering, error) {
	a := &altering{p: p, info: what.Info(), m: newMatching(p), mouths: make(map[*Dart]float64), points: make(map[*Dart]alteredShift)}
	in, err := p.garmentOf(anatomy, refs)
	if err != nil {
		return nil, err
	}
	for _, t := range anatomy.Pieces {
		if in(t.Piece) {
			a.all = append(a.all, t)
		}
	}
	return a, nil
}

// garmentOf returns which pieces belong to the garment of some, or to the only one. Pieces
// that follow another piece change with that.
func (p *Project) garmentOf(anatomy *Anatomy, refs []PieceRef) (func(*Piece) bool, error) {
	garments := make(map[string]bool)
	for _, ref := range refs {
		piece := p.Piece(ID(ref))
		if piece == nil {
			return nil, fmt.Errorf("piece %s %w", ref, errGone)
		}
		garments[piece.Garment] = true
	}
	if len(refs) == 0 {
		for _, t := range anatomy.Pieces {
			garments[t.Piece.Garment] = true
		}
		if len(garments) > 1 {
			return nil, fmt.Errorf("there are several garments: %s; name a piece of the one that is meant", strings.Join(garmentNames(garments), ", "))
		}
	}
	return func(piece *Piece) bool { return garments[piece.Garment] && !p.followsPiece(piece) }, nil
}

// Alterable lists the alterations for which a garment has what it needs, whatever the
// amount. Of several garments it is enough that one has.
func (s *Slots) Alterable(p *Project) []Alteration {
	p = s.patternOf(p)
	return slotOf(s, "alterable", "", slotInputs{p}, func() []Alteration {
		anatomy := s.Anatomy(p)
		var list []Alteration
		for _, info := range alterations {
			if p.canAlter(anatomy, info.What) {
				list = append(list, info.What)
			}
		}
		return list
	})
}

// canAlter reports whether one of the garments has what an alteration needs.
func (p *Project) canAlter(anatomy *Anatomy, what Alteration) bool {
	tried := make(map[string]bool)
	for _, t := range anatomy.Pieces {
		if tried[t.Piece.Garment] {
			continue
		}
		tried[t.Piece.Garment] = true
		a, err := p.alteringOf(anatomy, what, []PieceRef{PieceRef(t.Piece.ID)})
		if err == nil && a.plan() == nil {
			return true
		}
	}
	return false
}

// garmentNames lists garments by name.
func garmentNames(garments map[string]bool) []string {
	var names []string
	for name := range garments {
		names = append(names, cmp.Or(name, "pieces of none"))
	}
	slices.Sort(names)
	return names
}

// followsPiece reports whether a piece is made of another one, with which it changes.
func (p *Project) followsPiece(piece *Piece) bool {
	if piece.Derived == nil {
		return false
	}
	d := p.Derivation(piece.Derived.Derivation)
	return d != nil && d.Kind == pieceKind
}
