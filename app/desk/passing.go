package desk

import (
	"slices"
	"strings"

	"hemlet/draft"
	"hemlet/draft/body"
)

// Passer is something that can have to go through an opening.
type Passer struct {
	// Name is what acts call it, Words what people do.
	Name, Words string
	// Girth is how much it is round, in mm, 0 where that is not known.
	Girth float64
}

// dressingGirths are the girths of a body that openings are drawn over.
var dressingGirths = []string{"head_girth", "hand_girth", "heel_girth", "hip_girth", "bust_girth", "waist_girth", "tail_girth", "ear_girth"}

// Passers returns what can have to go through an opening of a garment of the wearers: the
// parts that they were noted to have, then girths, then nothing. What was noted as a part
// is not listed again as a girth.
func (d *Desk) Passers(wearers ...*draft.Wearer) []Passer {
	var out []Passer
	add := func(x Passer) {
		same := func(y Passer) bool { return y.Name == x.Name || strings.EqualFold(y.Words, x.Words) }
		if !slices.ContainsFunc(out, same) {
			out = append(out, x)
		}
	}
	for _, w := range wearers {
		for _, part := range w.Parts {
			if !part.ComesOff {
				add(Passer{part.Name, part.Name, part.Girth})
			}
		}
	}
	for _, w := range wearers {
		known := d.slots.Body(w)
		names := slices.Clone(dressingGirths)
		for _, m := range w.Measures {
			if strings.HasSuffix(m.Name, "_girth") && !slices.Contains(names, m.Name) {
				names = append(names, m.Name)
			}
		}
		for _, name := range names {
			if k, ok := known.Get(name); ok && k.Value > 0 {
				add(Passer{name, BodyOf(name), k.Value})
			}
		}
	}
	return append(out, Passer{Name: draft.PassesNothing, Words: "nothing"})
}

// BodyOf returns what of a body a girth goes round: "head" for "round the head".
func BodyOf(girth string) string {
	words := body.Words(girth)
	rest, ok := strings.CutPrefix(words, "round the ")
	if !ok {
		return words
	}
	return rest
}
