package draft

import (
	"errors"
	"fmt"
)

// NotchSeamsArgs are the arguments of NotchSeams.
type NotchSeamsArgs struct {
	Seams []SeamRef `arg:"seams,optional" says:"the seams; without it, all"`
}

// NotchSeams notches both sides of all seams that have no matching notches yet, each as
// NotchSeam does by the rules of the trade. A seam that needs none, or cannot be notched,
// goes without.
var NotchSeams = register(Info{
	Name: "notch-seams", Title: "Notch seams", Group: groupSeams,
	Says: "Notches both sides of all seams that have no matching notches yet, by the rules of the trade.",
}, func(p *Project, a NotchSeamsArgs) (Outcome, error) {
	seams, err := p.bareSeams(a.Seams)
	if err != nil {
		return Outcome{}, err
	}
	next, notches := p, 0
	var labels []string
	var why error
	for _, s := range seams {
		out, err := NotchSeam.do(next, NotchSeamArgs{Seam: SeamRef(s.ID)})
		if err != nil {
			why = err
			continue
		}
		if n := len(out.Project.Seam(s.ID).Marks); n > 0 {
			next, notches, labels = out.Project, notches+n, append(labels, s.label())
		}
	}
	switch {
	case len(labels) > 0:
	case why != nil && len(seams) == 1:
		return Outcome{}, why
	default:
		return Outcome{}, errors.New("all seams have their notches, or need none")
	}
	out := Outcome{Project: next, subject: subjectOf(labels, "seams")}
	if len(labels) > 1 {
		out.say("%d seams have got %d pairs of notches.", len(labels), notches)
	} else {
		out.sayMarks(next.Seam(seams[0].ID), false)
	}
	return out, nil
})

// bareSeams returns those of the seams, or of all, that have no matching notches.
func (p *Project) bareSeams(refs []SeamRef) ([]*Seam, error) {
	list := p.Seams
	if len(refs) > 0 {
		list = nil
		for _, r := range refs {
			s := p.Seam(ID(r))
			if s == nil {
				return nil, fmt.Errorf("seam %s %w", r, errGone)
			}
			list = append(list, s)
		}
	}
	var bare []*Seam
	for _, s := range list {
		if len(s.Marks) == 0 {
			bare = append(bare, s)
		}
	}
	return bare, nil
}

// UnnotchedSeams lists the seams without matching notches of which the rules of the trade
// want some.
func (p *Project) UnnotchedSeams() []ID {
	var list []ID
	for _, s := range p.Seams {
		if len(s.Marks) > 0 {
			continue
		}
		if m, err := p.markable(s.ID); err == nil && len(m.placesByRule(p.handFor(s))) > 0 {
			list = append(list, s.ID)
		}
	}
	return list
}
