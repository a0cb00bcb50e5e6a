package draft

import (
	"fmt"
	"strings"
)

// leaving says which pieces an act takes out of what they followed, and what that means for
// fitted ones: before the act is done, and once it is.
func (p *Project) leaving(ids []ID) (before, after string) {
	fits := make(map[*Derivation][]string)
	var order []*Derivation // nil for what follows no fit
	for _, id := range ids {
		piece := p.Piece(id)
		if piece == nil {
			continue // the act has made it
		}
		d := p.FitOf(piece)
		if len(fits[d]) == 0 {
			order = append(order, d)
		}
		fits[d] = append(fits[d], piece.label())
	}
	var says, said []string
	for _, d := range order {
		x := leavers{fits[d]}
		if d == nil {
			said = append(said, fmt.Sprintf("%s no longer %s what %s made from.", x.names(), x.of("follows", "follow"), x.of("it was", "they were")))
			says = append(says, fmt.Sprintf("This takes %s out of what %s made from: %s will not follow that any more.", x.names(), x.of("it was", "they were"), x.of("it", "they")))
			continue
		}
		of := "a wearer"
		if w := p.WearerOf(d); w != nil {
			of = labelOf(w.Name, w.ID)
		}
		passes := fmt.Sprintf("a changed measure of %s passes %s by", of, x.of("it", "them"))
		said = append(said, fmt.Sprintf("%s no longer %s: %s. Undo it to keep the fit, or do it to the pattern as it came and fit that.", x.names(), x.of("follows its fit", "follow their fit"), passes))
		says = append(says, fmt.Sprintf("This takes %s out of %s fit: from then on %s. To keep the fit, do it to the pattern as it came and fit that.", x.names(), x.of("its", "their"), passes))
	}
	return strings.Join(says, " "), strings.Join(said, " ")
}

// leavers are the labels of pieces that leave the same.
type leavers struct{ labels []string }

// mostLeavers is how many of them are named; of more it is said how many they are.
const mostLeavers = 4

func (l leavers) names() string {
	n := len(l.labels)
	switch {
	case n == 1:
		return l.labels[0]
	case n > mostLeavers:
		return fmt.Sprintf("%d pieces", n)
	}
	return strings.Join(l.labels[:n-1], ", ") + " and " + l.labels[n-1]
}

// of returns the word for one or for several.
func (l leavers) of(one, several string) string {
	if len(l.labels) == 1 {
		return one
	}
	return several
}
