package draft

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Advice is one thing that no longer makes sense once a pattern has been fitted to a body
// of another size: cloth, thread and hands do not scale with the wearer.
type Advice struct {
	// Finding says what, by how much, where, and offers what puts it right.
	Finding
	// Was and Now name the figure before the fit and the one that is proposed, as text;
	// both are empty where the advice is no matter of one figure.
	Was, Now string
	// Why names the rule that the advice goes by, Whom whom it is given for where Says begins
	// a sentence with that: "a wearer of 360 mm, 1:4.7 of a person".
	Why, Whom string
	// Adjust names the argument of the mends that holds the proposed figure, empty where
	// there is none to adjust; Amount is that figure, in mm unless Ratio says that it is a
	// ratio.
	Adjust string
	Amount float64
	Ratio  bool
	// retitle changes a mend to another figure than the proposed one, beyond the argument
	// itself: what it is called, and what hangs on the figure. It may be nil.
	retitle func(m *Mend, amount float64)
}

// With returns the mends of the advice with another figure than the proposed one, each of
// them called by what it does then.
func (a Advice) With(amount float64) []Mend {
	if a.Adjust == "" {
		return a.Mends
	}
	text := mmText(toGrid(amount))
	if a.Ratio {
		text = strconv.FormatFloat(amount, 'f', 4, 64)
	}
	var out []Mend
	for _, m := range a.Mends {
		if _, set := m.Args[a.Adjust]; set {
			args := make(map[string]string, len(m.Args))
			for name, value := range m.Args {
				args[name] = value
			}
			args[a.Adjust] = text
			m.Args = args
			if amount != a.Amount && a.retitle != nil {
				a.retitle(&m, amount)
			}
		}
		out = append(out, m)
	}
	return out
}

// ScaleAdvice returns what the rules of scale propose for the pieces of a fit: allowances,
// hems and edges that are gathered, darts and gussets that have become too small, panels
// that are too narrow, gathers for the cloth, fastenings, curves and tubes that a machine
// does not sew. Nothing is proposed where the wearer is about as large as the body for
// which the pattern was made. What the maker has decided to live with has Waived set.
func (s *Slots) ScaleAdvice(p *Project, fit ID) []Advice {
	d := p.Derivation(fit)
	if d == nil || d.Kind != fitKind || d.Source == nil {
		return nil
	}
	list := slotOf(s, "scale", fit, slotInputs{p}, func() []Advice { return s.scaleAdvice(p, d) })
	out := make([]Advice, len(list))
	copy(out, list)
	for i := range out {
		for _, w := range p.Waivers {
			if w.Finding == out[i].Key {
				out[i].Waived = w.Reason
			}
		}
	}
	return out
}

// sameScale is how many times as large or as small as before a pattern may become before
// the rules of scale are asked: allowances are chosen no closer than this. (Common
// practice, no source.)
const sameScale = 1.3

// scaling is a pattern that a fit has brought to another scale.
type scaling struct {
	*Project
	slots  *Slots
	fit    *Derivation
	wearer *Wearer
	// stature is that of the wearer in mm, by how many times as large the pattern became.
	stature, by float64
	rule        scaleRule
	pieces      []*Piece
	advice      []Advice
}

func (s *Slots) scaleAdvice(p *Project, d *Derivation) []Advice {
	c := &scaling{Project: s.patternOf(p), slots: s, fit: d, wearer: p.WearerOf(d)}
	for _, piece := range c.PiecesOf(d) {
		if c.before(piece) != nil {
			c.pieces = append(c.pieces, piece)
		}
	}
	if c.by = c.factor(); c.by == 0 || math.Abs(math.Log(c.by)) < math.Log(sameScale) {
		return nil
	}
	if c.wearer != nil {
		if known, ok := s.Body(c.wearer).Get("stature"); ok {
			c.stature = known.Value
		}
	}
	if c.stature == 0 {
		return nil
	}
	c.rule = scaleRuleOf(c.stature)
	c.allowances()
	c.darts()
	c.gussets()
	c.panels()
	c.rows()
	c.cloths()
	c.fullness()
	c.curves()
	c.tubes()
	return c.advice
}

// before returns a piece as it was before the fit, or nil.
func (c *scaling) before(piece *Piece) *Piece {
	for _, was := range c.fit.Source.Pieces {
		if was.ID == piece.ID {
			return was
		}
	}
	return nil
}

// factor returns by how many times as long the outlines of the pieces have become, the mean
// of all weighed by their length; 0 where there are none.
func (c *scaling) factor() float64 {
	var was, now float64
	for _, piece := range c.pieces {
		was += c.before(piece).DrawnPath().Length()
		now += piece.DrawnPath().Length()
	}
	if was <= 0 {
		return 0
	}
	return now / was
}

// add appends an advice. What tells one from another of the same fit.
func (c *scaling) add(what, why, says string, args ...any) *Advice {
	c.advice = append(c.advice, Advice{
		Finding: Finding{
			Key: "fit/" + string(c.fit.ID) + "/scale/" + what, Level: Remark, Derivation: c.fit.ID,
			About: c.about(), Says: fmt.Sprintf(says, args...),
		},
		Why: why, Whom: c.size(),
	})
	return &c.advice[len(c.advice)-1]
}

// taken appends what the checks say anyway.
func (c *scaling) taken(f Finding, why string) {
	c.advice = append(c.advice, Advice{Finding: f, Why: why})
}

func (c *scaling) about() string {
	if c.wearer == nil {
		return "the scale"
	}
	return "the scale for " + labelOf(c.wearer.Name, c.wearer.ID)
}

// size says how large the wearer is beside a person.
func (c *scaling) size() string {
	share := c.stature / personStature
	if share > asPerson {
		return "a person"
	}
	return fmt.Sprintf("a wearer of %s, %s of a person", c.Unit.Format(c.stature), shareWords(share))
}

// shareWords says a share below 1 as scales are said: 0.5 is 1:2.
func shareWords(share float64) string {
	return "1:" + strings.TrimSuffix(strconv.FormatFloat(1/share, 'f', 1, 64), ".0")
}

// has reports whether a piece with the id is one of the fit.
func (c *scaling) has(id ID) bool {
	for _, piece := range c.pieces {
		if piece.ID == id {
			return true
		}
	}
	return false
}
