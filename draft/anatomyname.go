package draft

import (
	"slices"
	"strings"
)

// partWords are the words of the trade for the edges of garments; the first that a name
// holds counts. (Common practice, no source.)
var partWords = []struct {
	words string
	part  EdgePart
}{
	{"centre back", AtCentreBack}, {"center back", AtCentreBack}, {"back centre", AtCentreBack}, {"back center", AtCentreBack},
	{"centre front", AtCentreFront}, {"center front", AtCentreFront}, {"front centre", AtCentreFront}, {"front center", AtCentreFront},
	{"inside leg", AtInsideLeg}, {"inseam", AtInsideLeg}, {"inner leg", AtInsideLeg},
	{"outside leg", AtSide}, {"outer leg", AtSide}, {"outseam", AtSide},
	{"sleeve seam", AtUnderarm}, {"underarm", AtUnderarm}, {"under arm", AtUnderarm},
	{"sleeve head", AtCap}, {"cap", AtCap}, {"armhole", AtArmhole}, {"armscye", AtArmhole}, {"scye", AtArmhole},
	{"shoulder", AtShoulder}, {"crotch", AtCrotch}, {"neck", AtNeck}, {"neckline", AtNeck}, {"neckhole", AtNeck}, {"collar", AtNeck},
	{"waist", AtWaist}, {"waistline", AtWaist}, {"wrist", AtWrist}, {"cuff", AtWrist}, {"ankle", AtAnkle},
	{"centre", AtCentre}, {"center", AtCentre}, {"middle", AtCentre}, {"side", AtSide}, {"hem", AtHem},
}

// partOfName returns what an edge of this name is.
func partOfName(name string) EdgePart {
	text := " " + strings.Join(wordsIn(name), " ") + " "
	for _, w := range partWords {
		if strings.Contains(text, " "+w.words+" ") {
			return w.part
		}
	}
	return EdgeUnknown
}

// pieceWords are the words of the trade for pieces. (Common practice, no source.)
var pieceWords = []struct {
	part  PiecePart
	words []string
}{
	{PartNeckBand, []string{"collar", "neckband"}},
	{PartCuff, []string{"cuff", "cuffs", "wristband"}},
	{PartWaistBand, []string{"waistband"}},
	{PartSleeve, []string{"sleeve", "sleeves", "arm"}},
	{PartLeg, []string{"leg", "legs", "trouser", "trousers", "breeches", "leggings", "pants", "knickers", "shorts"}},
	{PartSkirt, []string{"skirt", "gore", "petticoat", "underskirt"}},
	{PartTrunk, []string{"bodice", "shirt", "smock", "coat", "jacket", "waistcoat", "vest", "tunic", "dress", "gown", "blouse", "chemise", "jerkin", "doublet", "corset"}},
}

// pieceOfName returns what a piece of this name covers.
func pieceOfName(name string) PiecePart {
	words := wordsIn(name)
	has := func(w string) bool { return slices.Contains(words, w) }
	if has("band") {
		switch {
		case has("neck"):
			return PartNeckBand
		case has("wrist") || has("sleeve"):
			return PartCuff
		case has("waist"):
			return PartWaistBand
		}
	}
	for _, t := range pieceWords {
		for _, w := range t.words {
			if has(w) {
				return t.part
			}
		}
	}
	return PartUnknown
}

// stripWords are the words that name a strip by where it is sewn on; of any other piece they
// may name a place, as in a neck facing. (Common practice, no source.)
var stripWords = map[string]PiecePart{"neck": PartNeckBand, "neckline": PartNeckBand, "wrist": PartCuff, "waist": PartWaistBand}

// partByName returns what the piece covers by its name, and by its being a strip. A strip
// that bears no more than the name of a garment of the trunk, as the pieces of a scan do that
// are numbered after it, is no front or back by that.
func (look *pieceLook) partByName() PiecePart {
	part := pieceOfName(look.piece.Name)
	if part == PartTrunk && look.band && aspectOfName(look.piece.Name) == AspectUnknown {
		part = PartUnknown
	}
	if part != PartUnknown || !look.band {
		return part
	}
	for _, w := range wordsIn(look.piece.Name) {
		if strip := stripWords[w]; strip != PartUnknown {
			return strip
		}
	}
	return PartUnknown
}

// aspectOfName returns from which side a piece of this name covers the body.
func aspectOfName(name string) Aspect {
	front, back := false, false
	for _, w := range wordsIn(name) {
		front = front || w == "front" || w == "fore"
		back = back || w == "back"
	}
	return aspectOf(front, back)
}

// trimmings are the words for pieces that are sewn onto or into others and follow no
// measure of the body. (Common practice, no source.)
var trimmings = []string{
	"facing", "interfacing", "interlining", "pocket", "flap", "binding", "tie", "ties", "strap", "belt", "patch", "godet", "gusset",
	"frill", "ruffle", "flounce", "button", "loop", "tab", "appliqué", "stiffener",
}

// isTrimming reports whether a piece is called one of those.
func isTrimming(name string) bool {
	return slices.ContainsFunc(wordsIn(name), func(w string) bool { return slices.Contains(trimmings, w) })
}
