package block

import (
	"fmt"

	"hemlet/draft/formula"
)

// seams works out the seams. Edges that have no length for this body are left out
// of their runs; where nothing is left of a run, the seam is not there.
func (d *drafter) seams() error {
	d.sheet.Seams = make([]Seam, 0, len(d.b.seams))
	for i := range d.b.seams {
		s := &d.b.seams[i]
		out := Seam{Name: s.name, A: d.run(s.a), B: d.run(s.b), Fuller: s.fuller, Fullness: s.fullness, BothSides: s.bothSides, Opens: s.opens}
		var err error
		if out.Ratio, err = d.number(s.ratio, 1, 1e-3, maxRatio); err != nil {
			return err
		}
		if out.From, err = d.number(s.from, 0, 0, 1); err != nil {
			return err
		}
		if out.To, err = d.number(s.to, 1, 0, 1); err != nil {
			return err
		}
		switch {
		case out.From >= out.To:
			return d.bad(s.place, fmt.Sprintf("the fullness of this seam starts at %s and ends at %s of it; it must end after it starts", formula.Figure(out.From, 4), formula.Figure(out.To, 4)))
		case len(out.A) == 0 && len(out.B) == 0:
			continue
		case len(out.A) == 0 || len(out.B) == 0:
			d.tell(s.name, "The seam %s has nothing left on one side for this body, and is left out.", s.name)
			continue
		}
		d.direction(s, &out)
		d.sheet.Seams = append(d.sheet.Seams, out)
	}
	return nil
}

// run returns a run without the edges that are not there. What was listed clockwise
// was turned round, and so its edges run the other way.
func (d *drafter) run(uses []use) []Use {
	var run []Use
	for _, u := range uses {
		if d.gone[[2]int{u.piece, u.edge}] {
			continue
		}
		c := &d.b.pieces[u.piece]
		run = append(run, Use{
			Piece: c.role, Edge: c.edges[u.edge].name, Number: u.number,
			Mirrored: u.mirrored, Far: u.far, Reversed: u.reversed != c.clockwise,
		})
	}
	return run
}
