package draft

import (
	"fmt"
	"math"

	"hemlet/draft/body"
	"hemlet/geom"
)

// ProofKind says what is proven on the wearer.
type ProofKind int

const (
	ProofOpening ProofKind = iota // that what must pass does
	ProofGirth                    // that it closes round the body
	ProofLength                   // that it ends where it should
	ProofTube                     // that it can be turned and sewn
	ProofCurve                    // that its allowances turn
	ProofSlit                     // that its slits hold
)

var proofKindNames = names[ProofKind]{"opening", "girth", "length", "tube", "curve", "slit end"}

func (k ProofKind) String() string               { return proofKindNames.text(k) }
func (k ProofKind) MarshalText() ([]byte, error) { return proofKindNames.marshal(k) }

// UnmarshalText reads the name of a kind of proof.
func (k *ProofKind) UnmarshalText(b []byte) error {
	return proofKindNames.unmarshal(k, b, "kind of proof")
}

// Proof is one thing about a made-up garment that was held against its wearer, or
// against the hand and the machine that sew it. All lengths are in mm.
type Proof struct {
	// Key is the same from one check to the next as long as the same is proven.
	Key     string
	Kind    ProofKind
	Garment string
	// Name is what it is about ("neck of Front and Back"), Says a whole sentence with the
	// figures, Why says why it matters and by which rule.
	Name, Says, Why string
	// Have is what the garment measures, Need what it should at least, and Diff the one
	// less the other, not below 0 where it holds. All are 0 where the proof is no matter of
	// size, Need and Diff where nothing is needed. Radii says that they are radii.
	Have, Need, Diff float64
	Radii            bool
	Holds            bool
	// Known is false where a measure is wanted to tell; Estimated says that the figure of
	// the wearer was worked out from others.
	Known, Estimated bool
	// Level is how much it matters where it does not hold.
	Level Gravity
	// Measures are the measures of the wearer that it goes by, or that are wanted.
	Measures []string
	Wearer   ID
	// Piece, Edge and Seam say where, as far as they apply; At is the place in the
	// piece's own mm, nil where it is no single place; Uses are the edges round an
	// opening.
	Piece, Edge, Seam ID
	At                *geom.Point
	Uses              []EdgeUse
	Mends             []Mend
	// alone says that no finding is made of it that does not hold: another one says so.
	alone bool
}

// Proofs returns what was proven about the made-up garments of a project: their openings
// against what must pass, closed girths, lengths, tubes, curves and the ends of slits.
func (s *Slots) Proofs(p *Project) []Proof {
	p = s.patternOf(p)
	return slotOf(s, "proofs", "", slotInputs{p}, func() []Proof {
		var out []Proof
		states := s.SpanStates(p)
		girths := girthsOf(p, states)
		for _, name := range p.garments() {
			g := s.garmentOf(p, name)
			var openings []Opening
			for _, o := range s.AllOpenings(p) {
				if o.Garment == name {
					openings = append(openings, o)
				}
			}
			if g.wearer != nil {
				out = append(out, g.proveOpenings(openings)...)
				out = append(out, g.proveGirths(openings, girths, states)...)
				out = append(out, g.proveLengths()...)
				out = append(out, g.proveTail(openings)...)
			}
			out = append(out, g.proveTubes(openings)...)
		}
		for _, piece := range p.Pieces {
			out = append(out, s.provePiece(p, piece)...)
		}
		for k := range out {
			out[k].settle()
		}
		return out
	})
}

// settle says of a proof that holds that nothing is missing: cloth gives by what it may be
// short.
func (pr *Proof) settle() {
	if pr.Known && pr.Holds {
		pr.Diff = max(pr.Diff, 0)
	}
}

// proveOpenings tells of each opening whether what must pass it does.
func (g *sewnGarment) proveOpenings(openings []Opening) []Proof {
	var out []Proof
	tightest := make(map[OpenPlace]int)
	for _, o := range openings {
		if o.Passes == "" || o.Passes == PassesNothing {
			continue
		}
		pr := g.proveOpening(o)
		out = append(out, pr)
		if o.Holds || !o.Known || o.Place == OpenElsewhere {
			continue
		}
		// A neck band, its seam and the neck are one thing to mend: the tightest is told.
		i := len(out) - 1
		if k, told := tightest[o.Place]; told {
			if out[k].Have <= pr.Have {
				out[i].alone = true
				continue
			}
			out[k].alone = true
		}
		tightest[o.Place] = i
	}
	return out
}

func (g *sewnGarment) proveOpening(o Opening) Proof {
	u := g.Unit
	pr := Proof{
		Key: o.Key, Kind: ProofOpening, Garment: g.name, Name: o.Name, Wearer: o.Wearer, Uses: o.Uses,
		Have: o.Length, Need: o.Needs + o.Wants, Diff: o.Ease - o.Wants, Holds: o.Holds, Known: o.Known, Estimated: o.Estimated,
	}
	if len(o.Uses) > 0 {
		pr.Piece, pr.Edge = o.Uses[0].Piece, o.Uses[0].Edge
	}
	if len(o.Seams) > 0 {
		pr.Seam = o.Seams[0]
	}
	if o.Wanted != "" {
		pr.Measures = []string{o.Wanted}
		pr.Says = fmt.Sprintf("It opens to %s. Whether %s passes is not known: measure %s.", u.Format(o.Length), o.What, body.Words(o.Wanted))
		return pr
	}
	if m, ok := g.wearer.get(o.Passes); ok && m.Value > 0 {
		pr.Measures = []string{o.Passes}
	}
	figure := u.Format(o.Needs)
	if o.Estimated {
		figure += " (estimated)"
	}
	pr.Why = "What has to pass must go through with its largest girth; a slit counts twice, once for each side."
	if o.Wants > 0 {
		pr.Why += " Needed is the girth and " + u.FormatSmall(o.Wants) + " of ease."
	}
	switch {
	case o.Holds && o.Full:
		pr.Says = fmt.Sprintf("It opens all the way: %s passes.", o.What)
	case o.Holds:
		pr.Says = fmt.Sprintf("It opens to %s and lets %s of %s pass.", u.Format(o.Length), o.What, figure)
	case o.Barely:
		pr.Level = LookAgain
		pr.Says = fmt.Sprintf("It opens to %s, and %s of %s passes only just: %s of ease is usual. Open it %s further, or make it wider.",
			u.Format(o.Length), o.What, figure, u.FormatSmall(o.Wants), u.FormatSmall(o.MissingSlit()))
		pr.Mends = g.openingMends(o)
	default:
		pr.Level = Problem
		if o.Estimated {
			pr.Level = LookAgain
		}
		pr.Says = fmt.Sprintf("It opens to %s, and %s of %s will not pass. Open a seam there or cut a slit, %s deep, or make it wider.",
			u.Format(o.Length), o.What, figure, u.Format(o.MissingSlit()))
		pr.Mends = g.openingMends(o)
	}
	return pr
}

// MissingSlit returns how long a slit, in mm, would let what must pass do so with its ease; 0
// where it passes. A slit opens by its length on both sides: it is half of what the opening
// is short of (placket >= (head - neck) / 2, as handbooks for schools have it).
func (o Opening) MissingSlit() float64 {
	if o.Holds || !o.Known {
		return 0
	}
	return math.Max(0, (o.Wants-o.Ease)/2)
}
