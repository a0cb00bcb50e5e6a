package draft

import (
	"slices"
	"strings"

	"hemlet/draft/body"
)

// fitted is the body that a garment is made for.
type fitted struct {
	*Wearer
	get func(string) (body.Known, bool)
}

// fittedOf returns the body for whom pieces are made, nil where there is none. The first
// piece that a block drafted counts, else the project's first wearer.
func (s *Slots) fittedOf(p *Project, pieces []*Piece) *fitted {
	var of *Piece
	for _, piece := range pieces {
		if of == nil || piece.Derived != nil && of.Derived == nil {
			of = piece
		}
	}
	if of == nil {
		return nil
	}
	id, get := s.measuresFor(p, of)
	w := p.Wearer(id)
	if w == nil {
		return nil
	}
	return &fitted{w, get}
}

// The words of parts of a body that have to pass an opening which lies elsewhere than
// their name says. (Common practice, no source.)
var partPlaceWords = []wordsOfPlace{
	{OpenNeck, []string{"head", "ear", "ears", "horn", "horns", "antler", "antlers", "muzzle", "snout", "beak", "comb", "crest", "mane", "hair", "hat"}},
	{OpenWrist, []string{"hand", "hands", "paw", "paws", "claw", "claws", "fist", "glove"}},
	{OpenAnkle, []string{"foot", "feet", "heel", "hoof", "hooves", "shoe", "shoes", "boot", "boots"}},
	{OpenTail, []string{"tail"}},
	{OpenHem, []string{"spine", "spines", "wing", "wings", "shell", "hump", "back", "belly", "chest", "shoulders"}},
}

// isWord reports whether the name holds the word.
func isWord(name, word string) bool {
	return slices.Contains(wordsIn(name), word)
}

// need is what has to pass an opening.
type need struct {
	// passes is the name of a measure or of a part, what the same in plain words.
	passes, what string
	mm           float64
	from         string
	known        bool
	estimated    bool
	wanted       string
	// worn says that the opening lies at it when it is worn, and need not pass it.
	worn bool
}

// passes fills in what has to pass an opening and whether it does.
func (g *sewnGarment) passes(o *Opening) {
	o.Holds = true
	if g.wearer == nil {
		return
	}
	o.Wearer = g.wearer.ID
	var n need
	switch said := g.passesSaid(o); said {
	case "":
		n = g.passesByPlace(o.Place)
	case PassesNothing:
		n = need{passes: PassesNothing, what: "nothing"}
	default:
		n = g.needNamed(said)
	}
	o.Passes, o.What, o.Known, o.Estimated = n.passes, n.what, n.known, n.estimated
	o.Wanted, o.Needs, o.NeedsFrom = n.wanted, n.mm, n.from
	if !n.known {
		return
	}
	o.Ease = o.Length - n.mm
	if !n.worn {
		o.Wants = passingEase(n.mm)
	}
	o.Holds = o.Ease >= o.Wants-passSlack
	o.Barely = !o.Holds && o.Ease >= -passSlack
}

// passesSaid returns what the edges round an opening say that passes it.
func (g *sewnGarment) passesSaid(o *Opening) string {
	for _, u := range o.Uses {
		if piece, i, err := g.lookup.edge(u); err == nil && piece.Edges[i].Passes != "" {
			return piece.Edges[i].Passes
		}
	}
	// A seam goes by what either of its sides says.
	for _, id := range o.Seams {
		for _, u := range g.usesOf(g.Seam(id)) {
			if piece, i, err := g.lookup.edge(u); err == nil && piece.Edges[i].Passes != "" {
				return piece.Edges[i].Passes
			}
		}
	}
	return ""
}

// passesByPlace returns what has to pass an opening by where it is worn. A head passes the
// neck, with whatever stands off it, unless it comes off; a hand the wrist and the armhole, a heel the ankle;
// a waist passes the hips or the bust, whichever is smaller, since one steps into a skirt
// or draws it over the head; the hem of what has a neck goes over the body.
func (g *sewnGarment) passesByPlace(at OpenPlace) need {
	switch at {
	case OpenNeck:
		if g.comesOff("head") {
			neck := g.measured("neck_base_girth")
			neck.worn = true
			return neck
		}
		return g.largest(g.measured("head_girth"), OpenNeck, "head")
	case OpenHead:
		return g.largest(g.measured("head_girth"), OpenElsewhere, "head")
	case OpenWrist, OpenArm: // the arm itself gives
		return g.largest(g.measured("hand_girth"), OpenWrist, "hand")
	case OpenAnkle:
		return g.largest(g.measured("heel_girth"), OpenAnkle, "foot")
	case OpenWaist:
		hip, bust := g.measured("hip_girth"), g.measured("bust_girth")
		if !hip.known || bust.known && bust.mm < hip.mm && !g.hasLegs() {
			hip = bust
		}
		return hip
	case OpenTail:
		return g.largest(g.measured("tail_girth"), OpenTail, "tail")
	case OpenEar:
		return g.measured("ear_girth")
	case OpenHem:
		if g.coversTrunk() {
			return g.largest(g.measured("bust_girth"), OpenHem, "")
		}
	}
	return need{}
}

// hasLegs reports whether the garment has legs, so that it is not drawn over the head.
func (g *sewnGarment) hasLegs() bool {
	return slices.ContainsFunc(g.pieces, func(q *Piece) bool { return placeIn(q.Name, piecePlaceWords) == OpenAnkle })
}

// coversTrunk reports whether the garment has a neck or armholes.
func (g *sewnGarment) coversTrunk() bool {
	return slices.ContainsFunc(g.pieces, func(q *Piece) bool {
		return slices.ContainsFunc(q.Edges, func(e Edge) bool {
			at := placeIn(e.Name, edgePlaceWords)
			return at == OpenNeck || at == OpenArm
		})
	})
}

// comesOff reports whether a part of the wearer comes off for dressing.
func (g *sewnGarment) comesOff(part string) bool {
	return slices.ContainsFunc(g.wearer.Parts, func(b BodyPart) bool { return b.ComesOff && isWord(b.Name, part) })
}

// largest returns the largest of a measure and of the parts that have to pass the same
// opening and do not come off. The figure of the part that is named main takes the place
// of the measure: it was noted for this.
func (g *sewnGarment) largest(n need, at OpenPlace, main string) need {
	found := false
	for pass := range 2 {
		for _, b := range g.wearer.Parts {
			isMain := main != "" && isWord(b.Name, main)
			if b.ComesOff || b.Girth <= 0 || isMain != (pass == 0) || !isMain && placeIn(b.Name, partPlaceWords) != at {
				continue
			}
			part := g.part(b)
			if isMain && !found || !n.known || part.mm > n.mm {
				n = part
			}
			found = found || isMain
		}
	}
	return n
}

func (g *sewnGarment) part(b BodyPart) need {
	return need{passes: b.Name, what: "the " + strings.TrimPrefix(b.Name, "the "), mm: b.Girth, from: b.Name + ", noted for dressing", known: true}
}

// needNamed returns what has to pass by the name of a measure or of a part.
func (g *sewnGarment) needNamed(name string) need {
	for _, b := range g.wearer.Parts {
		if b.Name != name {
			continue
		}
		if b.ComesOff || b.Girth <= 0 {
			return need{passes: PassesNothing, what: "nothing"}
		}
		return g.part(b)
	}
	return g.measured(name)
}

// measured returns a measure as what has to pass.
func (g *sewnGarment) measured(name string) need {
	n := need{passes: name, what: bodyOf(name), wanted: name}
	k, ok := g.wearer.get(name)
	if !ok || !(k.Value > 0) {
		return n
	}
	n.mm, n.known, n.wanted, n.from = k.Value, true, "", name
	if n.estimated = !k.Taken(); n.estimated {
		n.from += ", estimated"
	}
	return n
}

// bodyOf returns what of the body a girth goes round: "the head" for "round the head".
func bodyOf(measure string) string {
	words := body.Words(measure)
	if rest, ok := strings.CutPrefix(words, "round "); ok {
		return rest
	}
	return words
}
