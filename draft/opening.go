package draft

import (
	"fmt"
	"math"
	"slices"
)

// Opening is a place of a made-up garment through which a body must pass: an edge of the
// cloth that runs all round, such as a neck, a hem or a wrist, or a seam that does. All
// lengths are in mm.
type Opening struct {
	// Key is the same from one check to the next as long as the opening is there.
	Key string
	// Name is what people call it: "neck of Front and Back".
	Name    string
	Garment string
	Place   OpenPlace
	// Uses are the edges round it, in order; along a seam, those of the side that is not
	// fuller.
	Uses []EdgeUse
	// Seams are the seams that run round it, empty at an edge of the cloth; Line is the
	// cut-out whose edge it is, else empty.
	Seams []ID
	Line  ID
	// Times is 2 for an opening that is there on both sides of the body.
	Times int
	// Length is how far round it is when all that opens is open, slits counted on both
	// sides, gathers and casings at their flat length. Closed is the same with everything
	// closed and what lies over taken off.
	Length, Closed float64
	// Full says that opened it is one with another opening, as the neck and the hem of a
	// coat are.
	Full bool
	// Closures are the seams that open and end here.
	Closures []ID
	// Passes says what has to pass: the name of a measure or of a part of the wearer, or
	// "nothing"; empty where nothing tells. What is the same in plain words.
	Passes, What string
	// Needs is how much that is, NeedsFrom where the figure is from ("head_girth,
	// estimated"); Known is false where nothing is known of it, and then Wanted names
	// the measure to take.
	Needs     float64
	NeedsFrom string
	Known     bool
	Estimated bool
	Wanted    string
	// Ease is Length less Needs, Wants how much of it there should be at the least, and
	// Holds says that it passes with that, or that nothing has to. Barely says that it
	// passes with less.
	Ease, Wants   float64
	Holds, Barely bool
	// Wearer is whose body it is.
	Wearer ID
}

// passSlack is how much, in mm, an opening may be smaller than what must pass it: the
// width of a pencil line at both ends of a half, and less than any cloth gives.
const passSlack = 0.5

// What passes an opening rubs along its edge, and no hand draws it through a ring of its own
// girth: the ease that it wants is a fiftieth of the girth and at least 2 mm, below a girth
// of 40 mm a twentieth of it. (Common practice, no source.)
const (
	passEase      = 1. / 50
	passEaseLeast = 2. // mm
	passEaseSmall = 1. / 20
)

// passingEase returns how much larger than a girth in mm an opening should be for it.
func passingEase(girth float64) float64 {
	return max(passEase*girth, min(passEaseLeast, passEaseSmall*girth))
}

// Openings returns the openings of a garment: the lines along which its cloth ends that go
// round a body, and the seams that close to a ring. A piece that is sewn to nothing has none,
// nor has what is only a flat piece made of several, such as a cloak.
func (s *Slots) Openings(p *Project, garment string) []Opening {
	var out []Opening
	for _, o := range s.AllOpenings(p) {
		if o.Garment == garment {
			out = append(out, o)
		}
	}
	return out
}

// AllOpenings returns the openings of every garment of the project, in the order of the
// pieces.
func (s *Slots) AllOpenings(p *Project) []Opening {
	p = s.patternOf(p)
	return slotOf(s, "openings", "", slotInputs{p}, func() []Opening {
		var out []Opening
		for _, garment := range p.garments() {
			w := s.garmentOf(p, garment)
			out = append(out, w.openings()...)
		}
		return out
	})
}

// garments returns the names of the garments in the order of their first pieces, the
// pieces that belong to none as "".
func (p *Project) garments() []string {
	var out []string
	for _, piece := range p.Pieces {
		if !slices.Contains(out, piece.Garment) {
			out = append(out, piece.Garment)
		}
	}
	return out
}

func (g *sewnGarment) openings() []Opening {
	var out []Opening
	opened := g.openedLoops()
	for _, l := range g.passages() {
		o := g.opening(l, opened)
		if k := slices.IndexFunc(out, func(other Opening) bool { return g.mirrors(o, other) }); k >= 0 {
			out[k].Times++
			continue
		}
		out = append(out, o)
	}
	return out
}

// opening measures one passage.
func (g *sewnGarment) opening(l openLoop, opened map[int]*openLoop) Opening {
	o := g.named(l)
	if l.line != nil {
		return g.cutoutOpening(o, l)
	}
	o.Closed -= g.slitSides(l)
	g.openUp(&o, l, opened)
	o.Place = l.place
	g.passes(&o)
	return o
}

// named returns a passage with its edges, its name and its key.
func (g *sewnGarment) named(l openLoop) Opening {
	o := Opening{Garment: g.name, Times: 1, Length: l.length, Closed: l.length}
	for _, s := range l.seams {
		if !slices.Contains(o.Seams, s.ID) {
			o.Seams = append(o.Seams, s.ID)
		}
	}
	for _, u := range l.uses {
		use := g.closed.uses[u.use]
		use.Reversed = u.reversed
		o.Uses = append(o.Uses, use)
	}
	if l.line == nil {
		o.Name, o.Key = g.openingName(o), g.openingKey(o)
	}
	return o
}

// cutoutOpening names what has to pass a hole in a piece.
func (g *sewnGarment) cutoutOpening(o Opening, l openLoop) Opening {
	o.Line, o.Times = l.line.ID, l.piece.Cut.Copies()
	o.Place = placeIn(l.line.Name, edgePlaceWords)
	o.Name = l.line.label() + " of " + l.piece.label()
	o.Key = "opening/" + string(l.piece.ID) + "/" + string(l.line.ID)
	g.passes(&o)
	return o
}

// openUp works out how large the passage is opened and closed.
func (g *sewnGarment) openUp(o *Opening, l openLoop, opened map[int]*openLoop) {
	if g.opened == g.closed {
		return
	}
	// Where it is cut by a seam that opens, one passes by the open line there.
	var largest *openLoop
	for _, e := range g.openEnds(l) {
		if open := opened[e]; open != nil && (largest == nil || open.length > largest.length) {
			largest = open
		}
	}
	if largest == nil {
		return
	}
	for _, u := range largest.uses {
		if seam := g.openSeamAt(u.use); seam != nil && !slices.Contains(o.Closures, seam.ID) && g.endsAt(seam, l) {
			o.Closures = append(o.Closures, seam.ID)
		}
	}
	o.Closed = max(o.Closed-g.lapsOn(l), 0)
	if len(l.seams) > 0 {
		o.Length += g.gaps(l)
		return
	}
	o.Length = max(largest.length, l.length)
	own := 0
	for _, u := range largest.uses {
		if !g.closed.isSewn(u.use) {
			own++
		}
	}
	o.Full = own > len(l.uses)
}

// openingKey makes a key of the first edge in the order of ids, so that it is the same
// wherever the row is begun.
func (g *sewnGarment) openingKey(o Opening) string {
	if len(o.Seams) > 0 {
		return "opening/seam/" + string(slices.Min(o.Seams))
	}
	least := o.Uses[0]
	for _, u := range o.Uses[1:] {
		if u.Piece < least.Piece || u.Piece == least.Piece && u.Edge < least.Edge {
			least = u
		}
	}
	return fmt.Sprintf("opening/%s/%s", least.Piece, least.Edge)
}

// mirrors reports whether two openings are the same on two sides of the body.
func (g *sewnGarment) mirrors(o, other Opening) bool {
	if o.Key != other.Key || len(o.Uses) != len(other.Uses) || math.Abs(o.Length-other.Length) > Grid {
		return false
	}
	edges := make(map[edgeKey]int)
	for k := range o.Uses {
		edges[edgeKey{o.Uses[k].Piece, o.Uses[k].Edge}]++
		edges[edgeKey{other.Uses[k].Piece, other.Uses[k].Edge}]--
	}
	for _, n := range edges {
		if n != 0 {
			return false
		}
	}
	return true
}
