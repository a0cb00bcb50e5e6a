package draft

import (
	"errors"
	"fmt"
	"strings"
)

// VersionRef names a version by its name or id.
type VersionRef ID

func (r *VersionRef) readArg(p *Project, text string) error {
	id, err := p.FindVersion(text)
	*r = VersionRef(id)
	return err
}

func (*VersionRef) argKind() string { return "version" }

// FindVersion returns the version that text names.
func (p *Project) FindVersion(text string) (ID, error) {
	list := make([]candidate, len(p.Versions))
	for i, v := range p.Versions {
		list[i] = candidate{v.ID, v.Name, shownAs(v.Name, v.ID), i}
	}
	c, err := pick("version", text, list)
	return c.id, err
}

// KeepVersionArgs are the arguments of KeepVersion.
type KeepVersionArgs struct {
	Name    string     `arg:"name,optional" says:"what the version is called; without it, Version with a number"`
	Follows VersionRef `arg:"follows,optional" says:"the version of which most pages are still used, where only those were printed anew that had changed since"`
}

// KeepVersion keeps the pattern as it is, so that later ones can be compared with it and only
// what has changed is printed again.
var KeepVersion = register(Info{
	Name: "keep-version", Title: "Keep this version", Group: groupProject,
	Says: "Keeps the pattern as it is now, as it was printed for a toile, so that what changes later can be seen beside it and only changed pages are printed again.",
}, keepVersion)

func keepVersion(p *Project, a KeepVersionArgs) (Outcome, error) {
	if len(p.Versions) >= MaxVersions {
		return Outcome{}, fmt.Errorf("%d versions are kept, and no more fit; delete one first", MaxVersions)
	}
	pattern := p.Pattern()
	if len(pattern.Pieces) == 0 {
		return Outcome{}, errors.New("there is no piece to keep")
	}
	name, err := p.versionName(a.Name, "")
	if err != nil {
		return Outcome{}, err
	}
	if a.Follows != "" && p.Version(ID(a.Follows)) == nil {
		return Outcome{}, fmt.Errorf("version %s %w", a.Follows, errGone)
	}
	nodes := pattern.nodeCount()
	for _, v := range p.Versions {
		nodes += (&Project{Pieces: v.Pieces}).nodeCount()
	}
	if nodes > MaxNodes {
		return Outcome{}, fmt.Errorf("the versions would have %d points together; at most %d fit: delete one first", nodes, MaxNodes)
	}
	ids := p.newIDs()
	v := &Version{ID: ids.make(kindVersion), Name: name, Follows: ID(a.Follows), Seams: pattern.Seams}
	for _, piece := range pattern.Pieces {
		v.Pieces = append(v.Pieces, piece.asSource())
	}
	next := p.shallow()
	next.NextID = ids.next
	next.Versions = append(p.Versions[:len(p.Versions):len(p.Versions)], v)
	out := Outcome{Project: next, Made: v.ID, subject: name}
	out.say("The pattern is kept as “%s”; what you change from now on can be held against it and printed alone.", name)
	return out, nil
}

// versionName returns the name of a version as it is kept, another one than those of the
// others; without any, Version with a number.
func (p *Project) versionName(name string, own ID) (string, error) {
	name, err := cleanName(name)
	if err != nil {
		return "", err
	}
	taken := func(name string) bool {
		for _, v := range p.Versions {
			if v.ID != own && strings.EqualFold(v.Name, name) {
				return true
			}
		}
		return false
	}
	if name != "" && taken(name) {
		return "", fmt.Errorf("there is a version called %s already", name)
	}
	for n := 1; name == ""; n++ {
		if first := fmt.Sprintf("Version %d", n); !taken(first) {
			name = first
		}
	}
	return name, nil
}

// RenameVersionArgs are the arguments of RenameVersion.
type RenameVersionArgs struct {
	Version VersionRef `arg:"version" says:"the version"`
	Name    string     `arg:"name" says:"what it is called"`
}

// RenameVersion gives a version another name.
var RenameVersion = register(Info{
	Name: "rename-version", Title: "Rename a version", Group: groupProject,
	Says: "Gives a version that was kept another name.",
}, func(p *Project, a RenameVersionArgs) (Outcome, error) {
	v := p.Version(ID(a.Version))
	if v == nil {
		return Outcome{}, fmt.Errorf("version %s %w", a.Version, errGone)
	}
	if _, err := neededName(a.Name); err != nil {
		return Outcome{}, err
	}
	name, err := p.versionName(a.Name, v.ID)
	if err != nil {
		return Outcome{}, err
	}
	renamed := *v
	renamed.Name = name
	next := p.shallow()
	next.Versions = append([]*Version(nil), p.Versions...)
	for i, x := range next.Versions {
		if x == v {
			next.Versions[i] = &renamed
		}
	}
	return Outcome{Project: next, Made: v.ID, subject: name}, nil
})

// DeleteVersionArgs are the arguments of DeleteVersion.
type DeleteVersionArgs struct {
	Version VersionRef `arg:"version" says:"the version"`
}

// DeleteVersion keeps a version no longer.
var DeleteVersion = register(Info{
	Name: "delete-version", Title: "Delete a version", Group: groupProject,
	Says: "Keeps a version no longer. The pattern stays as it is.",
}, func(p *Project, a DeleteVersionArgs) (Outcome, error) {
	v := p.Version(ID(a.Version))
	if v == nil {
		return Outcome{}, fmt.Errorf("version %s %w", a.Version, errGone)
	}
	next := p.shallow()
	next.Versions = nil
	for _, x := range p.Versions {
		if x.Follows == v.ID {
			return Outcome{}, fmt.Errorf("pages of %s are used with those of %s; delete %s first", v.Name, x.Name, x.Name)
		}
		if x != v {
			next.Versions = append(next.Versions, x)
		}
	}
	return Outcome{Project: next, subject: v.Name}, nil
})
