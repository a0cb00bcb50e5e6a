package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// JoinPicturesArgs are the arguments of JoinPictures.
type JoinPicturesArgs struct {
	Picture PictureRef `arg:"picture" says:"the picture that is laid against the other"`
	To      PictureRef `arg:"to" says:"the picture that stays where it is"`
	Marks   []MarkPair `arg:"marks" says:"two or more marks that both show: the place in the first and in the other, in pixels, such as 120,88=2300,91"`
}

// scaleSlack is by what share two pictures that are joined may differ in size before it
// is told: 1 mm on half a metre.
const scaleSlack = 0.002

// JoinPictures lays a picture against another by marks that both show, turned and moved
// and never scaled: both are made true to size first. What was joined to it before comes
// along.
var JoinPictures = register(Info{
	Name: "join-pictures", Title: "Join pictures", Group: groupPictures,
	Says: "Lays a picture against another by two or more marks that both show.",
}, func(p *Project, a JoinPicturesArgs) (Outcome, error) {
	pic, to := p.Picture(ID(a.Picture)), p.Picture(ID(a.To))
	switch {
	case pic == nil:
		return Outcome{}, fmt.Errorf("picture %s %w", a.Picture, errGone)
	case to == nil:
		return Outcome{}, fmt.Errorf("picture %s %w", a.To, errGone)
	case pic == to:
		return Outcome{}, errors.New("a picture is joined to another one")
	case p.joinsUp(to, pic.ID):
		return Outcome{}, fmt.Errorf("%s is joined to %s already, the other way round", to.label(), pic.label())
	}
	var from, onto []geom.Point
	for _, m := range a.Marks {
		from, onto = append(from, pic.Place.Apply(m.In)), append(onto, to.Place.Apply(m.Other))
	}
	join, err := scan.JoinMarks(from, onto)
	if err != nil {
		return Outcome{}, err
	}
	out, err := eachPicture(p, p.withJoined(a.Picture), func(q *Picture) error {
		q.Place = q.Place.Then(join.Map)
		if q.ID == pic.ID {
			q.Joined = &Joint{To: to.ID, Error: toGrid(join.RMS)}
		}
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.subject = subjectOf([]string{pic.label(), to.label()}, "pictures")
	if off := join.Scale - 1; math.Abs(off) > scaleSlack {
		out.say("By the marks %s would have to be %.1f %% larger to fit %s; check how both were made true to size.", pic.label(), 100*off, to.label())
	}
	return out, nil
})

// joinsUp reports whether the picture, or one that it is joined to, is joined to the one
// with the id.
func (p *Project) joinsUp(pic *Picture, id ID) bool {
	for range p.Pictures {
		if pic == nil || pic.Joined == nil {
			return false
		}
		if pic.Joined.To == id {
			return true
		}
		pic = p.Picture(pic.Joined.To)
	}
	return false
}

// joinedInRings returns the pictures from which joints lead into a ring, which no act makes.
func (p *Project) joinedInRings() map[ID]bool {
	to := make(map[ID]ID)
	for _, pic := range p.Pictures {
		if pic.Joined != nil {
			to[pic.ID] = pic.Joined.To
		}
	}
	in := make(map[ID]bool)
	seen := make(map[ID]int) // in which walk
	for i, pic := range p.Pictures {
		walk, at := i+1, pic.ID
		for at != "" && seen[at] == 0 {
			seen[at] = walk
			at = to[at]
		}
		if at == "" || seen[at] != walk && !in[at] {
			continue
		}
		for id := pic.ID; !in[id]; id = to[id] {
			in[id] = true
		}
	}
	return in
}

// withJoined returns the pictures and all that are joined to them, directly or through
// others.
func (p *Project) withJoined(refs ...PictureRef) []PictureRef {
	all := append([]PictureRef(nil), refs...)
	in := make(map[ID]bool, len(refs))
	for _, r := range refs {
		in[ID(r)] = true
	}
	for _, pic := range p.Pictures {
		if in[pic.ID] {
			continue
		}
		for id := range in {
			if p.joinsUp(pic, id) {
				all, in[pic.ID] = append(all, PictureRef(pic.ID)), true
				break
			}
		}
	}
	return all
}

// joinedGroups returns the pictures and all that move with them: those that they are
// joined to, and those joined to these.
func (p *Project) joinedGroups(refs []PictureRef) []PictureRef {
	roots := make([]PictureRef, 0, len(refs))
	for _, r := range refs {
		pic := p.Picture(ID(r))
		for range p.Pictures {
			if pic == nil || pic.Joined == nil {
				break
			}
			pic = p.Picture(pic.Joined.To)
		}
		if pic != nil {
			r = PictureRef(pic.ID)
		}
		roots = append(roots, r)
	}
	return p.withJoined(roots...)
}

// JoinedWith returns the pictures that move with the one: it, those that it is joined to,
// and those joined to these, in the order of the document.
func (p *Project) JoinedWith(pic *Picture) []*Picture {
	refs := p.joinedGroups([]PictureRef{PictureRef(pic.ID)})
	var group []*Picture
	for _, other := range p.Pictures {
		if slices.Contains(refs, PictureRef(other.ID)) {
			group = append(group, other)
		}
	}
	return group
}

// joinedMiddle returns the middle of a picture on the bench and of all that are joined
// with it.
func (p *Project) joinedMiddle(pic *Picture) geom.Point {
	group := p.JoinedWith(pic)
	if len(group) == 1 {
		return pic.Middle()
	}
	box := geom.EmptyRect()
	for _, q := range group {
		for _, c := range q.Corners() {
			box = box.Include(c)
		}
	}
	return box.Center()
}
