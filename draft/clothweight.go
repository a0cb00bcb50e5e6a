package draft

import "strings"

// ClothWeight is how a cloth takes gathers, from what lies in soft folds to what stands.
type ClothWeight int

const (
	Sheer  ClothWeight = iota // chiffon, organza, tulle, voile
	Light                     // lawn, batiste, thin silk
	Medium                    // quilting cotton, linen, poplin
	Heavy                     // felt, fleece, velvet, coating, leather
)

var clothWeightNames = names[ClothWeight]{"sheer", "light", "medium", "heavy"}

func (w ClothWeight) String() string { return clothWeightNames.text(w) }

// KnownBy says what the weight of a cloth was told by.
type KnownBy int

const (
	ByName KnownBy = iota
	ByThickness
	ByNothing // it is assumed
)

// weightWords are words in the names of cloths, the more telling groups first: "silk
// velvet" is a velvet. (Common practice, no source.)
var weightWords = []struct {
	weight ClothWeight
	words  string
}{
	{Heavy, "felt fleece velvet velveteen corduroy denim canvas duck coating tweed melton loden leather suede fur plush brocade upholstery neoprene foam boucle blanket vinyl"},
	{Sheer, "chiffon georgette organza organdie organdy tulle net netting voile gauze marquisette gossamer mull"},
	{Light, "lawn batiste muslin cambric taffeta habotai pongee satin crepe lining viscose rayon tricot"},
	{Medium, "quilting calico poplin chambray gingham broadcloth flannel twill shirting percale oxford"},
	{Light, "silk"},
	{Medium, "cotton linen wool woollen hemp jersey"},
}

// The thicknesses in mm, as a gauge shows them between two fingers, up to which a
// cloth of which only that is known is taken for sheer, light and medium; heavyFrom is
// the one from which any cloth stands, whatever it is called. (Common practice, no
// source.)
const (
	sheerTo   = 0.12
	lightTo   = 0.22
	mediumTo  = 0.8
	heavyFrom = 1.0
)

// WeightOf returns the weight of a cloth and what tells it: its thickness where that
// is that of a heavy cloth, else a word in its name, else its thickness. Of a cloth
// that says neither, or of none, it assumes the weight of quilting cotton.
func WeightOf(c *Cloth) (ClothWeight, KnownBy) {
	if c == nil {
		return Medium, ByNothing
	}
	if c.Thickness >= heavyFrom {
		return Heavy, ByThickness
	}
	words := strings.FieldsFunc(strings.ToLower(c.Name), func(r rune) bool { return r < 'a' || r > 'z' })
	for _, group := range weightWords {
		for _, known := range strings.Fields(group.words) {
			for _, w := range words {
				if w == known {
					return group.weight, ByName
				}
			}
		}
	}
	switch t := c.Thickness; {
	case t <= 0:
		return Medium, ByNothing
	case t <= sheerTo:
		return Sheer, ByThickness
	case t <= lightTo:
		return Light, ByThickness
	case t <= mediumTo:
		return Medium, ByThickness
	default:
		return Heavy, ByThickness
	}
}

// Gathering returns the ratios from least to most at which cloth of the weight
// gathers well; heavy cloth has none, least and most are 1. (Quilting cotton up to
// 1.5, lawn 1.5 to 2, sheers 2 to 3: common practice; limp sheers 3 and crisp silk 2:
// Butterick Publishing, The New Dressmaker, 1921, chapter 28.)
func (w ClothWeight) Gathering() (least, most float64) {
	switch w {
	case Sheer:
		return 2, 3
	case Light:
		return 1.5, 2
	case Medium:
		return gathersFrom, 1.5
	default:
		return 1, 1
	}
}
