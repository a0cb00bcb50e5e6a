package draft

import "fmt"

// Outcome is what an act made: the next project, and for each edge that is no
// longer itself what became of it.
type Outcome struct {
	Project *Project
	Lineage Lineage
	// Made names the thing that the act made, where it made one, so that the
	// window can select it.
	Made ID
}

// Act is one thing that a pattern maker does to a project. A is a struct whose
// fields are the arguments; see args.go for how they are read from text.
type Act[A any] struct {
	info Info
	do   func(*Project, A) (Outcome, error)
}

// Info describes an act to people.
type Info struct {
	// Name is what scripts call it, Title what the history and menus call it.
	Name, Title string
	// Says is one sentence about what it does.
	Says string
}

// Info returns the act's description.
func (a *Act[A]) Info() Info { return a.info }

// Do returns the project after the act. The given project is unchanged; pieces
// that the act left alone are the same pointers. On error the project is nil.
func (a *Act[A]) Do(p *Project, args A) (Outcome, error) {
	out, err := a.do(p, args)
	if err != nil {
		return Outcome{}, fmt.Errorf("%s: %w", a.info.Name, err)
	}
	return commit(p, out)
}
