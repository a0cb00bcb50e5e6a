package draft

import (
	"errors"
	"fmt"
	"slices"
)

// NotchSeamArgs are the arguments of NotchSeam.
type NotchSeamArgs struct {
	Seam SeamRef     `arg:"seam" says:"the seam"`
	At   []EdgePlace `arg:"at,optional" says:"places along side a, from where that begins; without them and without a number, as the rules of the trade have it"`
	Even *int        `arg:"even" says:"in place of places, how many, evenly spaced"`
	// Keep leaves the marks that are there.
	Keep   bool       `arg:"keep" says:"whether the matching notches that the seam has stay" default:"no"`
	Shape  NotchShape `arg:"shape" says:"how they are marked" default:"slit"`
	Double *bool      `arg:"double" says:"two ticks, as the back of a garment has; without it, as the names of edges and pieces tell"`
}

// NotchSeam notches both sides of a seam: at places that are given, evenly, or by rule.
// Notches that were set by hand at those places become matching ones.
var NotchSeam = register(Info{
	Name: "notch-seam", Title: "Notch a seam", Group: groupSeams,
	Says: "Notches both sides of a seam at matching places: by the rules of the trade, evenly, or where told.",
}, func(p *Project, a NotchSeamArgs) (Outcome, error) {
	m, err := p.markable(ID(a.Seam))
	if err != nil {
		return Outcome{}, err
	}
	places, err := a.places(p, m)
	if err != nil {
		return Outcome{}, err
	}
	ids := p.newIDs()
	next := p
	if !a.Keep {
		gone := make(map[ID]bool)
		for _, mark := range m.seam.Marks {
			gone[mark.ID] = true
		}
		next = p.withoutMarks(gone)
	}
	s := *next.Seam(m.seam.ID)
	m.seam = &s
	s.Marks = slices.Clone(s.Marks)
	for k := 0; k < len(places); k++ {
		at := places[k]
		if m.taken(at, "") {
			continue
		}
		if len(s.Marks) >= mostMarks {
			return Outcome{}, fmt.Errorf("a seam has at most %d notches", mostMarks)
		}
		mark := SeamMark{ID: ids.make(kindMark), At: m.share(at), Shape: a.Shape, Double: m.behind(at)}
		put(&mark.Double, a.Double)
		s.Marks = append(s.Marks, mark)
		if twin, ok := m.twin(at); ok {
			places = append(places, twin)
		}
	}
	out := Outcome{Project: next.withSeamMarks(&s, s.Marks), subject: s.label(), Made: s.ID}
	out.Project.NextID = ids.next
	out.sayMarks(&s, a.Even == nil && len(places) == 0)
	return out, nil
})

// sayMarks tells how many notches the seam has; needless says that the rule wants none.
func (o *Outcome) sayMarks(s *Seam, needless bool) {
	switch n := len(s.Marks); {
	case needless:
		o.say("Seam %s is short and plain: it needs no notches.", s.label())
	case n == 0:
		o.say("Seam %s has no matching notches now.", s.label())
	case n == 1:
		o.say("Seam %s has one notch on both sides.", s.label())
	default:
		o.say("Seam %s has %d notches on both sides.", s.label(), n)
	}
}

// places returns the wished places in mm along side A.
func (a NotchSeamArgs) places(p *Project, m *seamMatch) ([]float64, error) {
	length := m.rows[SideA].length()
	switch {
	case len(a.At) > 0 && a.Even != nil:
		return nil, errors.New("say either places or a number of notches, not both")
	case a.Even != nil && (*a.Even < 0 || *a.Even > mostMarks):
		return nil, fmt.Errorf("a seam has at most %d notches, not %d", mostMarks, *a.Even)
	case a.Even != nil:
		var list []float64
		for k := 1; k <= *a.Even; k++ {
			list = append(list, length*float64(k)/float64(*a.Even+1))
		}
		return list, nil
	case len(a.At) > 0:
		var list []float64
		for _, at := range a.At {
			d, err := m.rows[SideA].place(at, p.Unit)
			if err != nil {
				return nil, err
			}
			list = append(list, d)
		}
		return list, nil
	}
	return m.placesByRule(p.handFor(m.seam)), nil
}
