package draft

import (
	"fmt"
	"strings"
)

// Outcome is what an act made: the next project, and for each edge that is no
// longer itself what became of it.
type Outcome struct {
	Project *Project
	Lineage Lineage
	// Made names the thing that the act made, where it made one, so that the
	// window can select it.
	Made ID
	// Step is the name of the history's entry: the act's title and what it was
	// done to, "Move points · Front".
	Step string
	// Says tells, in whole sentences, what else the act did that its name does
	// not promise.
	Says []string
	// Besides says in a few words each what else has changed where an act mends a seam: other
	// edges and lengths that stand for a measure. Says tells it as well.
	Besides []string
	// Leaves says before the act is done which pieces it takes out of what they followed, such
	// as a fit, and what that means; empty where it takes none. Left says the same once it is
	// done, and is one of Says.
	Leaves, Left string
	// easesSaid are the spans of fitted pieces for which an ease was given together with what
	// they stand for.
	easesSaid []fitPart
	// uses, where set, says what each use of an edge is now before the lineage is
	// followed, such as the far half of an unfolded piece that is drawn now.
	uses func(EdgeUse) EdgeUse
	// followed is a lineage along which every reference has moved already.
	followed Lineage
	// generated says that something was generated from a block.
	generated bool
	// unit is what lengths are told in.
	unit Unit
	// freed are pieces that were taken out of what they followed; see keepFollowing.
	freed []ID
	// subject is what the act was done to.
	subject string
}

// say adds a sentence to what the act tells.
func (o *Outcome) say(format string, args ...any) {
	o.Says = append(o.Says, fmt.Sprintf(format, args...))
}

// Act is one thing that a pattern maker does to a project. A is a struct whose
// fields are the arguments; see args.go for how they are read from text.
type Act[A any] struct {
	info   Info
	do     func(*Project, A) (Outcome, error)
	params []argField
}

// Info describes an act to people.
type Info struct {
	// Name is what scripts call it, Title what the history and menus call it.
	Name, Title string
	// Group is the heading under which it is listed: Drawing, Points, Edges, Pieces,
	// Seams, Wearers, Blocks or Project.
	Group string
	// Says is one sentence about what it does.
	Says string
}

// The headings under which acts are listed.
const (
	groupDrawing  = "Drawing"
	groupPoints   = "Points"
	groupEdges    = "Edges"
	groupPieces   = "Pieces"
	groupMarks    = "Marks"
	groupSeams    = "Seams"
	groupWearers  = "Wearers"
	groupBlocks   = "Blocks"
	groupProject  = "Project"
	groupPictures = "Pictures"
	groupLayout   = "Bench"
)

// Info returns the act's description.
func (a *Act[A]) Info() Info { return a.info }

// Do returns the project after the act. The given project is unchanged; pieces
// that the act left alone are the same pointers. On error the project is nil.
func (a *Act[A]) Do(p *Project, args A) (Outcome, error) {
	out, err := a.do(p, args)
	if err == nil {
		out, err = commit(p, out)
	}
	if err == nil && (len(out.freed) > 0 || repeatable[a.info.Name]) {
		out = a.keepFollowing(p, args, out)
	}
	if err != nil {
		return Outcome{}, a.wrap(err)
	}
	if len(out.followed) > 0 {
		out.Lineage = out.followed
	}
	out.Step = a.info.Title
	if out.subject != "" {
		out.Step += " · " + out.subject
	}
	return out, nil
}

// wrap says in plain words what could not be done.
func (a *Act[A]) wrap(err error) error {
	return fmt.Errorf("%s: %w", strings.ToLower(a.info.Title), err)
}
