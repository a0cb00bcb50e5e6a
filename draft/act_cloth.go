package draft

import (
	"fmt"
	"strings"
)

// SetClothArgs are the arguments of SetCloth.
type SetClothArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	Cloth  ClothRef   `arg:"cloth,optional" says:"the cloth; none without it"`
}

// SetCloth says from which cloth pieces are cut.
var SetCloth = register(Info{
	Name: "set-cloth", Title: "Set cloth", Group: groupPieces,
	Says: "Says from which cloth pieces are cut.",
}, func(p *Project, a SetClothArgs) (Outcome, error) {
	if a.Cloth != "" && p.Cloth(ID(a.Cloth)) == nil {
		return Outcome{}, fmt.Errorf("cloth %s %w", a.Cloth, errGone)
	}
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Cloth = ID(a.Cloth)
		return nil
	})
})

// AddClothArgs are the arguments of AddCloth.
type AddClothArgs struct {
	Name      string `arg:"name" says:"its name"`
	Thickness Length `arg:"thickness,optional" says:"how thick it is"`
	Width     Length `arg:"width,optional" says:"how wide the bolt is"`
	Nap       bool   `arg:"nap" says:"whether every copy has to lie the same way up" default:"no"`
	Printed   bool   `arg:"printed" says:"whether it has a right side" default:"no"`
	Colour    string `arg:"colour,optional" says:"its colour, as #2c6e8f"`
}

// AddCloth adds a cloth off the bolt.
var AddCloth = register(Info{
	Name: "add-cloth", Title: "Add a cloth", Group: groupProject,
	Says: "Adds a cloth that pieces can be cut from.",
}, func(p *Project, a AddClothArgs) (Outcome, error) {
	name, err := neededName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	for _, c := range p.Cloths {
		if c.Name == name {
			return Outcome{}, fmt.Errorf("another cloth is called %s already", name)
		}
	}
	for _, mm := range []Length{a.Thickness, a.Width} {
		if !(mm >= 0 && mm <= MaxCoordinate) {
			return Outcome{}, fmt.Errorf("a cloth cannot measure %s", p.Unit.Format(float64(mm)))
		}
	}
	colour := strings.ToLower(strings.TrimSpace(a.Colour))
	if colour != "" && !colourForm.MatchString(colour) {
		return Outcome{}, fmt.Errorf("the colour %q is not of the form #2c6e8f", a.Colour)
	}
	ids := p.newIDs()
	cloth := &Cloth{
		ID: ids.make(kindCloth), Name: name, Thickness: float64(a.Thickness), Width: float64(a.Width),
		Nap: a.Nap, Printed: a.Printed, Colour: colour,
	}
	next := p.shallow()
	next.NextID = ids.next
	next.Cloths = append(append([]*Cloth(nil), p.Cloths...), cloth)
	return Outcome{Project: next, Made: cloth.ID, subject: name}, nil
})
