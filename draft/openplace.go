package draft

import (
	"slices"
	"strings"
)

// OpenPlace is the part of the body at which an opening of a garment lies.
type OpenPlace int

const (
	OpenElsewhere OpenPlace = iota // nothing tells
	OpenNeck
	OpenHead // of a hat, a cap, a hood
	OpenArm
	OpenWrist
	OpenWaist
	OpenAnkle
	OpenHem
	OpenTail
	OpenEar
)

var openPlaceNames = names[OpenPlace]{"elsewhere", "neck", "head", "armhole", "wrist", "waist", "ankle", "hem", "tail", "ear"}

func (o OpenPlace) String() string               { return openPlaceNames.text(o) }
func (o OpenPlace) MarshalText() ([]byte, error) { return openPlaceNames.marshal(o) }

// UnmarshalText reads the name of a place.
func (o *OpenPlace) UnmarshalText(b []byte) error {
	return openPlaceNames.unmarshal(o, b, "place of an opening")
}

// The words by which the edges and pieces of a pattern tell where they are worn. (Trade
// words; common practice, no source.)
var (
	edgePlaceWords = []wordsOfPlace{
		{OpenTail, []string{"tail"}},
		{OpenEar, []string{"ear", "ears"}},
		{OpenNeck, []string{"neck", "neckline", "neckhole", "collar", "neckband"}},
		{OpenArm, []string{"armhole", "armscye", "scye"}},
		{OpenWrist, []string{"wrist", "cuff", "hand"}},
		{OpenAnkle, []string{"ankle", "foot"}},
		{OpenWaist, []string{"waist", "waistband", "waistline"}},
	}
	// Words of pieces tell of their hems, casings and whatever else is open.
	piecePlaceWords = []wordsOfPlace{
		{OpenWrist, []string{"sleeve", "sleeves", "cuff", "mitten", "glove", "gauntlet"}},
		{OpenAnkle, []string{"leg", "legs", "trouser", "trousers", "breeches", "leggings", "sock", "stocking", "boot", "gaiter"}},
		{OpenHead, []string{"hat", "cap", "hood", "bonnet", "brim", "crown", "helmet"}},
	}
	bandPlaceWords = []wordsOfPlace{
		{OpenNeck, []string{"collar", "neckband", "neck"}},
		{OpenWrist, []string{"cuff", "wristband"}},
		{OpenWaist, []string{"waistband", "waist"}},
	}
)

type wordsOfPlace struct {
	place OpenPlace
	words []string
}

// placeIn returns the place that one of the words of a name tells.
func placeIn(name string, table []wordsOfPlace) OpenPlace {
	words := wordsIn(name)
	for _, t := range table {
		for _, w := range t.words {
			if slices.Contains(words, w) {
				return t.place
			}
		}
	}
	return OpenElsewhere
}

// placeOfPiece returns where what hangs on a piece ends, by its name and those of its edges:
// at the hem for what covers the trunk or hangs from the waist.
func placeOfPiece(piece *Piece) OpenPlace {
	for _, table := range [...][]wordsOfPlace{piecePlaceWords, bandPlaceWords} {
		if at := placeIn(piece.Name, table); at != OpenElsewhere && at != OpenWaist {
			return at
		}
	}
	for i := range piece.Edges {
		switch placeIn(piece.Edges[i].Name, edgePlaceWords) {
		case OpenNeck, OpenArm, OpenWaist:
			return OpenHem
		}
	}
	return OpenElsewhere
}

// placeOfEdge returns where an open edge of a piece is worn, by its name and its kind and
// by the name of the piece.
func placeOfEdge(piece *Piece, e *Edge) OpenPlace {
	if isSlitName(e.Name) {
		return OpenElsewhere
	}
	if at := placeIn(e.Name, edgePlaceWords); at != OpenElsewhere {
		return at
	}
	if at := placeIn(piece.Name, piecePlaceWords); at != OpenElsewhere && (e.Kind != SeamEdge || at == OpenHead) {
		return at
	}
	if at := placeIn(piece.Name, bandPlaceWords); at != OpenElsewhere && isBand(piece.Name) {
		return at
	}
	if e.Kind == HemEdge || placeIn(e.Name, []wordsOfPlace{{OpenHem, []string{"hem"}}}) == OpenHem {
		return OpenHem
	}
	return placeIn(piece.Name, bandPlaceWords)
}

// isBand reports whether a piece is called a band or a collar: its hemmed edge lies where
// the band is worn, and is no hem of the garment.
func isBand(name string) bool {
	return slices.ContainsFunc(wordsIn(name), func(w string) bool { return strings.HasSuffix(w, "band") || w == "collar" })
}
